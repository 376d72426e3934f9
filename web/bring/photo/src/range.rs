//! How far a length may be off: each cause by itself, as one standard deviation.

use kurbo::Point;

use crate::messages::Parts;
use crate::plane::Plane;
use crate::sheet::Sheet;

/// How far an end may be off along the line, mm and px: a corner of cut paper, seen under a loupe. Our judgement.
const END_MM: f64 = 0.12;
const END_PX: f64 = 0.4;
/// How far paper lies above or below the rectangle's plane, mm. Our judgement.
const UNEVEN_MM: f64 = 0.4;
/// How far beside its true place a whole edge may be seen, mm and px: shadow on one side, light through the other. Our judgement.
const SHADOW_MM: f64 = 0.06;
const SHADOW_PX: f64 = 0.2;
/// What holds the truth in 19 of 20 where errors are spread as a bell: 1.96 deviations.
const NINETEEN_OF_TWENTY: f64 = 1.96;

/// What is known of an edge that was seen.
#[derive(Debug)]
pub(crate) struct Seen<'a> {
    /// The line over the photo, px.
    pub(crate) over: &'a [Point],
    /// How much it turns in all, radians.
    pub(crate) turn: f64,
    /// How far its two sides are apart, grey levels.
    pub(crate) contrast: f64,
    pub(crate) length_mm: f64,
    pub(crate) mm_per_px: f64,
    /// The longest stretch that is not seen, mm.
    pub(crate) gap_mm: f64,
}

/// What the length's range is made of.
pub(crate) fn parts(sheet: &Sheet, seen: &Seen) -> Parts {
    let length = |plane: &Plane| -> f64 {
        let points: Vec<Point> = seen.over.iter().map(|p| plane.mm(*p)).collect();
        points.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
    };
    let as_is = length(&sheet.plane);
    let off = |plane: &Plane| length(plane) - as_is;
    let squares: f64 = sheet.others().iter().map(|plane| off(plane).powi(2)).sum();
    let bent = [1.0, -1.0].map(|sign| sheet.with_bend(sign * sheet.bend_spread).map_or(0.0, |plane| off(&plane).abs()));
    let away = sheet.pose.distance_mm.max(100.0);
    let slant = sheet.pose.slant;
    // A third of what is unseen, had it bulged by a tenth of its length.
    let guessed = 0.01 * seen.gap_mm;
    let one_end = END_MM.hypot(END_PX * seen.mm_per_px);
    let thick = sheet.thick_mm / 2.0;
    let shadow = SHADOW_MM.hypot(SHADOW_PX * seen.mm_per_px) * (60.0 / seen.contrast.clamp(30.0, 120.0)).sqrt();
    Parts {
        ends_mm: one_end * core::f64::consts::SQRT_2,
        scale_mm: squares.sqrt(),
        lens_mm: bent[0].max(bent[1]),
        flat_mm: (seen.length_mm * UNEVEN_MM.hypot(thick) / away).hypot(0.5 * UNEVEN_MM * slant),
        edge_mm: (shadow * seen.turn.max(0.5)).hypot(guessed),
    }
}

impl Parts {
    /// Half of the range that holds the truth in 19 of 20.
    pub(crate) fn both_sides_mm(&self) -> f64 {
        let all = [self.ends_mm, self.scale_mm, self.lens_mm, self.flat_mm, self.edge_mm];
        NINETEEN_OF_TWENTY * all.iter().map(|part| part * part).sum::<f64>().sqrt()
    }
}
