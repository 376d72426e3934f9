//! Clips in an allowance that is turned to the inside.
//!
//! Turned over, the raw edge goes from 1 - k a to 1 + k a of the seam line, so it must open by 2 k a ds: in
//! all 2 a theta. The knit gives part of it; each clip opens by g. None is needed where the knit gives enough.

use kurbo::{ParamCurve, ParamCurveNearest, Point};

use crate::curve::garment_side;
use crate::plan::{ClipLine, ClipPlan, Cut, HalfName};
use crate::ring::{Ring, STEPS};
use crate::seam_line::Line;

/// How far a clip stops short of the stitching, mm: common practice, no published source.
const SHORT_OF_SEAM_MM: f64 = 1.5;

/// Places clips so that each opens by at most `opening`; `comfort` is the strain the knit gives. Also the whole
/// round's turning where it curves round the opening, radians.
pub(crate) fn clips(ring: &Ring, allowance: f64, comfort: f64, opening: f64) -> (ClipPlan, f64) {
    let (mut turning, mut gives, mut owed) = (0.0, 0.0, 0.0);
    let (mut places, mut count) = (Vec::new(), 0);
    for (i, k) in ring.shared_curvature(allowance).iter().enumerate() {
        let step = ring.stands_for(i, 0.0, ring.length);
        let needs = 2.0 * allowance * k.max(0.0) * step;
        let gives_here = (comfort * (1.0 - k * allowance).max(0.0) * step).min(needs);
        turning += k.max(0.0) * step;
        gives += gives_here;
        owed += needs - gives_here;
        // The clip stands in the middle of what it opens for.
        if owed >= 0.5 * opening {
            places.push(i as f64 * ring.step());
            // One at a centre is both halves'.
            count += if i == 0 || i == STEPS { 1 } else { 2 };
            owed -= opening;
        }
    }
    let opens_mm = 2.0 * allowance * 2.0 * turning;
    (ClipPlan { opens_mm, knit_gives_mm: 2.0 * gives, places_mm: places, count, lines: Vec::new() }, 2.0 * turning)
}

/// A clip at a place of a seam line: from the raw edge to just short of the stitching; none where the allowance is
/// too narrow to clip. Square to the seam line, save beside a corner and in a point, where that is no place of the raw
/// edge: there it starts from the raw edge's nearest place.
pub(crate) fn cut_at(line: &Line, raw: &[[f64; 2]], s: f64, allowance: f64) -> Option<Cut> {
    if allowance <= SHORT_OF_SEAM_MM {
        return None;
    }
    let (at, direction) = line.place(s)?;
    let out = garment_side(direction);
    let square = at - allowance * out;
    let reach = |from: Point| (at - from).dot(out);
    let from = nearest(raw, square).filter(|from| reach(*from) > SHORT_OF_SEAM_MM).unwrap_or(square);
    let to = at - SHORT_OF_SEAM_MM / reach(from) * (at - from);
    Some(Cut { from: [from.x, from.y], to: [to.x, to.y] })
}

/// The place of a run of points nearest to a point.
pub(crate) fn nearest(run: &[[f64; 2]], to: Point) -> Option<Point> {
    let at = |p: &[f64; 2]| Point::new(p[0], p[1]);
    let chords = run.iter().zip(run.iter().skip(1)).map(|(a, b)| kurbo::Line::new(at(a), at(b)));
    let places = chords.map(|chord| chord.eval(chord.nearest(to, 1e-9).t));
    places.min_by(|a, b| a.distance_squared(to).total_cmp(&b.distance_squared(to)))
}

/// A half's seam line and its raw edge.
pub(crate) type Edge<'a> = (&'a Line, &'a [[f64; 2]]);

/// The clips of one half round as lines in the halves' own frames.
pub(crate) fn lines(places: &[f64], ring: &Ring, front: Edge<'_>, back: Edge<'_>, allowance: f64) -> Vec<ClipLine> {
    let at = |s: f64| {
        let (half, (line, raw), own) =
            if s <= ring.back_length { (HalfName::Back, back, s) } else { (HalfName::Front, front, ring.length - s) };
        let cut = cut_at(line, raw, own, allowance)?;
        Some(ClipLine { half, from: cut.from, to: cut.to })
    };
    places.iter().filter_map(|s| at(*s)).collect()
}
