//! The known rectangle as it lies in the photo: its sides, the plane they give, and what is wrong with it.

use kurbo::Point;

use crate::find::area;
use crate::grey::Grey;
use crate::messages::{Doubt, Rectangle, Refused, Set};
use crate::plane::{Lens, Plane, Pose};
use crate::sides::{Side, bend, crossings, sides};
use crate::{place, point};

/// The sides that a rectangle may have, mm.
pub const SIDES_MM: [f64; 2] = [20.0, 2000.0];
/// The shortest side that is gone by, px, and the one from which nothing is said. Our judgement.
const SHORTEST_PX: [f64; 2] = [60.0, 150.0];
/// The most tilt, and that from which it is told of, degrees: to 30 it was tried by the score. Our judgement.
pub const MOST_TILT_DEG: f64 = 50.0;
const TOLD_TILT_DEG: f64 = 30.0;
/// How far proportions may be off, and from where it is told of. Our judgement.
const MOST_OFF: f64 = 0.08;
const TOLD_OFF: f64 = 0.02;
/// The largest pixel, mm. Our judgement.
pub const COARSEST_MM: f64 = 1.2;
/// A bend from which it is told of: 12 px at the corners of 2048.
const TOLD_BEND: f64 = 0.01;
/// A printed line's width as a standard deviation, mm: half a millimetre wide.
const LINE_MM: f64 = 0.2;
/// How straight a sheet's or card's side is, and a photo of it, one standard deviation. Our judgement.
const STRAIGHT_MM: f64 = 0.08;
const STRAIGHT_PX: f64 = 0.15;
/// A card's sides, mm, and how thick it is (ISO/IEC 7810, ID-1; from memory).
const CARD_MM: [f64; 2] = [53.98, 85.6];
const CARD_THICK_MM: f64 = 0.76;

/// The known rectangle in the photo.
#[derive(Debug, Clone)]
pub(crate) struct Sheet {
    sides: [Side; 4],
    size_mm: [f64; 2],
    /// How true each side is cut, one standard deviation, mm.
    pub(crate) cut_mm: f64,
    /// What the lens bends, one standard deviation.
    pub(crate) bend_spread: f64,
    pub(crate) plane: Plane,
    pub(crate) pose: Pose,
    /// How much it stands above what lies on the ground, mm.
    pub(crate) thick_mm: f64,
    pub(crate) doubts: Vec<Doubt>,
    corners: [Point; 4],
}

impl Sheet {
    /// Looks at the four sides near the corners given.
    ///
    /// # Errors
    /// Why it cannot be gone by.
    pub(crate) fn new(grey: &Grey, asked: &Rectangle) -> Result<Self, Refused> {
        let size_mm = [checked_side(asked.width_mm)?, checked_side(asked.height_mm)?];
        let given = asked.corners.map(point);
        if !given.iter().all(|p| grey.holds(*p)) {
            return Err(Refused::PlaceOutside { what: "corners" });
        }
        let shortest = four_cornered(&given)?;
        let longest_px = grey.width.max(grey.height) as f64;
        let lens = Lens {
            middle: Point::new(grey.width as f64 / 2.0 - 0.5, grey.height as f64 / 2.0 - 0.5),
            half_diagonal: (grey.width as f64).hypot(grey.height as f64) / 2.0,
            bend: 0.0,
        };
        let mm_per_px = (size_mm[0] * size_mm[1] / area(&given)).sqrt();
        let line_px = LINE_MM / mm_per_px;
        let (rough, _) = sides(grey, given, (0.03 * shortest).clamp(8.0, 14.0), line_px);
        let (corners, sides) = sides(grey, rough, 5.0, line_px);
        four_cornered(&corners)?;
        let (bend, bend_spread) = bend(&sides, &lens, (STRAIGHT_MM / mm_per_px).hypot(STRAIGHT_PX));
        let lens = Lens { bend, ..lens };
        let mut sheet = Self::laid(&sides, lens, longest_px, size_mm)?;
        sheet.bend_spread = bend_spread;
        sheet.check(shortest, mm_per_px)?;
        Ok(sheet)
    }

    /// The plane that the sides give, with whichever of the two sides lies first that a camera could see so.
    fn laid(sides: &[Side; 4], lens: Lens, longest_px: f64, size_mm: [f64; 2]) -> Result<Self, Refused> {
        let corners = crossings(&sides.each_ref().map(|side| side.line(&lens))).ok_or(Refused::NotFourCornered)?;
        four_cornered(&corners)?;
        let lies = |[width, height]: [f64; 2]| {
            let plane = Plane::of(lens, corners, width, height, 1.0)?;
            Some((plane.pose(longest_px, width, height), [width, height]))
        };
        let (one, other) = (lies(size_mm), lies([size_mm[1], size_mm[0]]));
        let better = [one, other].into_iter().flatten().min_by(|a, b| a.0.off.total_cmp(&b.0.off));
        let (pose, size_mm) = better.ok_or(Refused::NotFourCornered)?;
        let is_card = CARD_MM.iter().all(|mm| size_mm.iter().any(|side| (side - mm).abs() < 0.2));
        let thick_mm = if is_card { CARD_THICK_MM } else { 0.0 };
        // What stands nearer looks larger: a millimetre on it is more on the ground.
        let scale = 1.0 + thick_mm / pose.distance_mm.max(100.0);
        let plane = Plane::of(lens, corners, size_mm[0], size_mm[1], scale).ok_or(Refused::NotFourCornered)?;
        Ok(Self {
            sides: sides.clone(),
            size_mm,
            // A card is cut to 0.1 mm (ISO/IEC 7810, from memory); paper to a quarter of a millimetre, our judgement: ISO 216 lets it
            // be off by 2 mm, and no machine does.
            cut_mm: if is_card { 0.05 } else { 0.2 },
            bend_spread: 0.0,
            plane,
            pose,
            thick_mm,
            doubts: Vec::new(),
            corners: corners.map(|p| lens.bent(p)),
        })
    }

    /// Refuses what cannot be gone by, and notes what is doubtful.
    fn check(&mut self, shortest: f64, mm_per_px: f64) -> Result<(), Refused> {
        let [tiny, small] = SHORTEST_PX;
        if shortest < tiny {
            return Err(Refused::RectangleTiny { shortest_px: shortest, least_px: tiny });
        }
        let off = self.pose.off;
        if off > MOST_OFF || !off.is_finite() {
            let off_percent = if off.is_finite() { off * 100.0 } else { 100.0 };
            return Err(Refused::OtherProportions { off_percent, most_percent: MOST_OFF * 100.0 });
        }
        let tilt_deg = self.pose.tilt.to_degrees();
        if tilt_deg > MOST_TILT_DEG {
            return Err(Refused::TooTilted { tilt_deg, most_deg: MOST_TILT_DEG });
        }
        if mm_per_px > COARSEST_MM {
            return Err(Refused::TooCoarse { mm_per_px, most_mm: COARSEST_MM });
        }
        let told = [
            (tilt_deg > TOLD_TILT_DEG, Doubt::Tilted),
            (shortest < small, Doubt::RectangleSmall),
            (self.sides.iter().any(|side| !side.seen), Doubt::SidesUnseen),
            (off > TOLD_OFF, Doubt::Proportions),
            (self.plane.lens.bend.abs() > TOLD_BEND, Doubt::Bowed),
        ];
        self.doubts = told.into_iter().filter(|(is, _)| *is).map(|(_, doubt)| doubt).collect();
        Ok(())
    }

    /// What the page is told.
    pub(crate) fn told(&self) -> Set {
        let middle = self.corners.iter().fold(kurbo::Vec2::ZERO, |sum, p| sum + p.to_vec2()) / 4.0;
        Set {
            tilt_deg: self.pose.tilt.to_degrees(),
            mm_per_px: self.plane.mm_per_px(middle.to_point()),
            corners: self.corners.map(place),
            doubts: self.doubts.clone(),
        }
    }

    /// Whether a place is on this side of the plane's horizon, and not so near it that a pixel is centimetres.
    pub(crate) fn sees(&self, p: Point) -> bool {
        let mm_per_px = self.plane.mm_per_px(p);
        mm_per_px.is_finite() && mm_per_px <= 4.0 * COARSEST_MM && self.plane.px(self.plane.mm(p)).distance(p) < 1.0
    }

    /// Whether places reach further from the rectangle than twice its longer side.
    pub(crate) fn is_far(&self, places: &[Point]) -> bool {
        let corners = self.corners.map(|p| self.plane.mm(p));
        let most = 2.0 * self.size_mm[0].max(self.size_mm[1]);
        let near = |p: &Point| corners.iter().any(|corner| corner.distance(self.plane.mm(*p)) <= most);
        !places.iter().all(near)
    }

    /// The plane as it would be with another bend of the lens.
    pub(crate) fn with_bend(&self, more: f64) -> Option<Plane> {
        let lens = Lens { bend: self.plane.lens.bend + more, ..self.plane.lens };
        let corners = crossings(&self.sides.each_ref().map(|side| side.line(&lens)))?;
        self.with(lens, corners, self.size_mm)
    }

    /// The planes as they would be with each side a standard deviation off, and each dimension.
    pub(crate) fn others(&self) -> Vec<Plane> {
        let lens = self.plane.lens;
        let lines = self.sides.each_ref().map(|side| side.line(&lens));
        let mut out = Vec::new();
        for index in 0..4 {
            let mut moved = lines;
            if let Some(line) = &mut moved[index] {
                line.at += kurbo::Vec2::new(-line.along.y, line.along.x) * self.sides[index].spread_px;
            }
            out.extend(crossings(&moved).and_then(|corners| self.with(lens, corners, self.size_mm)));
        }
        let Some(corners) = crossings(&lines) else { return out };
        for index in 0..2 {
            let mut size = self.size_mm;
            size[index] += self.cut_mm;
            out.extend(self.with(lens, corners, size));
        }
        out
    }

    fn with(&self, lens: Lens, corners: [Point; 4], size_mm: [f64; 2]) -> Option<Plane> {
        let scale = 1.0 + self.thick_mm / self.pose.distance_mm.max(100.0);
        Plane::of(lens, corners, size_mm[0], size_mm[1], scale)
    }
}

/// A side in range.
fn checked_side(mm: f64) -> Result<f64, Refused> {
    let [least_mm, most_mm] = SIDES_MM;
    if (least_mm..=most_mm).contains(&mm) {
        return Ok(mm);
    }
    Err(Refused::RectangleSize { found_mm: mm.is_finite().then_some(mm), least_mm, most_mm })
}

/// The shortest side of four corners that can be a rectangle's picture: they turn one way all round, and no two sides run on.
fn four_cornered(corners: &[Point; 4]) -> Result<f64, Refused> {
    let side = |i: usize| corners[(i + 1) % 4] - corners[i % 4];
    let mut shortest = f64::INFINITY;
    let mut sense = 0.0;
    for i in 0..4 {
        let (before, after) = (side(i), side(i + 1));
        let turn = before.cross(after) / (before.hypot() * after.hypot());
        // Corners between 12 and 168 degrees.
        if !turn.is_finite() || turn.abs() < 0.2 || turn * sense < 0.0 {
            return Err(Refused::NotFourCornered);
        }
        sense = turn;
        shortest = shortest.min(before.hypot());
    }
    Ok(shortest)
}
