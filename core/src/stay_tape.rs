//! A stay tape as it is laid: where it lies, how wide it may be, how it passes the centre, where it must be snipped.
//!
//! On a seam the tape lies on the allowance and reaches past the seam line by the catch, so that the stitching holds it:
//! common practice, no published source. A bound edge is trimmed to the seam line before it is stayed, and the tape
//! lies along the new edge within the binding, the stitching just outside it: our judgement, as the binding covers and
//! holds both of its sides there, and whatever lies in the allowance is cut away.

use kurbo::{Point, Vec2};
use serde::Serialize;

use crate::brief::{Centre, HalfName, Stays};
use crate::curve::garment_side;
use crate::given::Given;
use crate::seam_line::Line;

/// The edge that a tape's place is measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum MeasuredFrom {
    /// The piece's edge as it is cut.
    RawEdge,
    /// The edge that is left once a bound neckline is trimmed to its seam line, which is done before it is stayed.
    TrimmedEdge,
}

/// Whether the brief's stay tape fits where it is laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum TapeFit {
    /// It does.
    Fits,
    /// It is wider than fits. On a seam it lies at the raw edge and reaches further past the seam line than it should;
    /// on a bound edge one as wide as fits is taken in its place.
    TooWide,
    /// The binding covers less than the narrowest tape (3 mm: from memory): a row of straight stitching within it stays the
    /// edge instead. Staystitching a neckline from shoulder to centre is published (an N.C. extension leaflet on
    /// tailoring); in place of tape, our judgement.
    NoneFits,
}

/// How a tape lies at the centre. No published source: our judgement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum TapeAtCentre {
    /// One piece runs on through a fold.
    RunsThrough,
    /// One piece, folded into a mitre at the point of a V on the fold: a point is pulled open from both sides, and two
    /// ends that meet there would hold it least where it is pulled most.
    Mitred,
    /// Two pieces, each ending at the line of a centre seam: the pieces are stayed flat, before that seam is sewn.
    EndsAtSeam,
}

/// How far a bound edge's stitching runs outside the tape, mm: clear of it though it wanders a little. Our judgement.
const CLEAR_OF_STITCHING_MM: f64 = 1.0;
/// The narrowest stay tape, mm: about 1/8 in, from memory. Below it a row of stitching serves.
const NARROWEST_TAPE_MM: f64 = 3.0;
/// A width that is under another by less than this is no narrower, mm.
const SAME_WIDTH_MM: f64 = 1e-9;
/// k times tape width from which a straight tape no longer lies along the curve: our judgement.
const TAPE_BEND: f64 = 0.12;
/// Length over which a tape shares a bend, as a multiple of its width: as a strip does, see `ring.rs`.
const SHARING_WIDTHS: f64 = 3.0;
/// Places of a piece at which its bend is looked at.
const PLACES: u32 = 64;

/// Where a tape lies across its seam. mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Place {
    pub measured_from: MeasuredFrom,
    /// From that edge to the stitching.
    pub stitching: f64,
    /// How far past the stitching the tape should reach; negative where the stitching should run outside it.
    pub reach: f64,
    /// The width of the tape that the person has.
    pub own_width: f64,
}

impl Place {
    /// On a seam of this allowance, before anything is trimmed.
    pub(crate) fn on_seam(allowance: f64, stays: &Stays) -> Self {
        Self {
            measured_from: MeasuredFrom::RawEdge,
            stitching: allowance,
            reach: stays.catch_mm,
            own_width: stays.tape_width_mm,
        }
    }

    /// On the neckline: a bound edge's allowance is trimmed away first.
    pub(crate) fn on_neckline(given: &Given<'_>) -> Self {
        let stays = &given.brief.stays;
        if !given.form.goes_round_edge() {
            return Self::on_seam(given.allowance, stays);
        }
        Self {
            measured_from: MeasuredFrom::TrimmedEdge,
            stitching: given.form.width,
            reach: -CLEAR_OF_STITCHING_MM,
            own_width: stays.tape_width_mm,
        }
    }

    /// The widest tape that lies between the edge and where it should reach to.
    pub(crate) fn widest(&self) -> f64 {
        (self.stitching + self.reach).max(0.0)
    }

    pub(crate) fn fit(&self) -> TapeFit {
        let none_so_narrow = self.measured_from == MeasuredFrom::TrimmedEdge && self.widest() < NARROWEST_TAPE_MM;
        if self.own_width <= self.widest() + SAME_WIDTH_MM {
            TapeFit::Fits
        } else if none_so_narrow {
            TapeFit::NoneFits
        } else {
            TapeFit::TooWide
        }
    }

    /// The width reckoned with. A seam takes the person's own, however far it reaches; a binding covers no more than fits.
    pub(crate) fn width(&self) -> f64 {
        match self.measured_from {
            MeasuredFrom::RawEdge => self.own_width,
            MeasuredFrom::TrimmedEdge => self.own_width.min(self.widest()),
        }
    }

    /// From the edge to the tape's nearer side. Never under 0.
    pub(crate) fn near_side(&self) -> f64 {
        match self.measured_from {
            MeasuredFrom::RawEdge => (self.stitching + self.reach - self.own_width).max(0.0),
            MeasuredFrom::TrimmedEdge => 0.0,
        }
    }

    /// How far the tape reaches past the stitching onto the garment; negative where the stitching runs outside it.
    pub(crate) fn past_stitching(&self) -> f64 {
        self.near_side() + self.width() - self.stitching
    }

    /// The tape's two sides, toward the opening and toward the garment, as distances from the seam line to the garment.
    fn sides(&self) -> [f64; 2] {
        let seam_line = match self.measured_from {
            MeasuredFrom::RawEdge => self.stitching,
            MeasuredFrom::TrimmedEdge => 0.0,
        };
        [self.near_side(), self.near_side() + self.width()].map(|side| side - seam_line)
    }

    /// How far the tape's side on the garment lies past the seam line.
    pub(crate) fn past_seam_line(&self) -> f64 {
        self.sides()[1]
    }
}

/// Half angle of the narrowest point that a tape is folded to, radians, ten degrees: a narrower one is a slit, at which a
/// fold would have no end. Our judgement.
const LEAST_MITRE: f64 = core::f64::consts::PI / 18.0;

/// A tape laid along a part of one half's seam line.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Laid<'a> {
    line: &'a Line,
    /// Places along the half's seam line from its centre, mm, the lesser first.
    from: f64,
    to: f64,
    /// How the tape lies at the centre; none where it does not come there.
    pub at_centre: Option<TapeAtCentre>,
    /// Half the angle of a point there, radians, where the tape turns in it.
    pub mitre: Option<f64>,
}

impl<'a> Laid<'a> {
    pub(crate) fn new(given: &Given<'_>, which: HalfName, line: &'a Line, (a, b): (f64, f64)) -> Self {
        let (from, to) = (a.min(b).max(0.0), a.max(b).min(line.length()));
        let point = line.point_half_angle();
        let at_centre = (from <= SAME_WIDTH_MM).then(|| match which.of(&given.brief.neckline).centre {
            // The neckline is stayed while its pieces are still flat, before any seam.
            Centre::Seam { .. } => TapeAtCentre::EndsAtSeam,
            Centre::Fold if point.is_some() => TapeAtCentre::Mitred,
            Centre::Fold => TapeAtCentre::RunsThrough,
        });
        let mitre = point.filter(|_| at_centre == Some(TapeAtCentre::Mitred)).map(|alpha| alpha.max(LEAST_MITRE));
        Self { line, from, to, at_centre, mitre }
    }

    /// How many sides one piece of tape covers, and how many pieces there are: none crosses a seam.
    pub(crate) fn sides(&self) -> (f64, u32) {
        match self.at_centre {
            Some(TapeAtCentre::RunsThrough | TapeAtCentre::Mitred) => (2.0, 1),
            Some(TapeAtCentre::EndsAtSeam) | None => (1.0, 2),
        }
    }

    /// Turning of one piece, radians: what a mitre takes up is none of it.
    pub(crate) fn turning(&self) -> f64 {
        let through = self.at_centre == Some(TapeAtCentre::RunsThrough);
        let at_centre = if through { 2.0 * self.line.half_turn_at_centre() } else { 0.0 };
        (self.sides().0 * self.turned(self.from, self.to) + at_centre).abs()
    }

    /// Turning by curves alone: at a corner a tape is folded, and no snip helps it.
    fn turned(&self, from: f64, to: f64) -> f64 {
        let within = self.line.corners().filter(|(s, _)| from <= *s && *s <= to).map(|(_, turn)| turn);
        self.line.turning_at(to) - self.line.turning_at(from) - within.sum::<f64>()
    }

    /// Whether the curve is so tight that a straight tape of this width does not lie along it.
    pub(crate) fn bends_too_much(&self, width: f64) -> bool {
        let half = 0.5 * SHARING_WIDTHS * width;
        let bend = |i: u32| {
            let at = self.from + f64::from(i) / f64::from(PLACES) * (self.to - self.from);
            let (from, to) = ((at - half).max(self.from), (at + half).min(self.to));
            self.turned(from, to).abs() / (to - from)
        };
        self.to > self.from && (0..=PLACES).any(|i| bend(i) * width > TAPE_BEND)
    }

    /// The tape on this half, closed: its side toward the opening from the centre's end outward, and back along the other.
    pub(crate) fn outline(&self, place: &Place) -> Vec<[f64; 2]> {
        let places = self.places();
        let [near, far] = place.sides().map(|side| self.beside(&places, side));
        near.into_iter().chain(far.into_iter().rev()).map(|p| [p.x, p.y]).collect()
    }

    /// Points of the seam line along the run with the ways it goes before and after each of them.
    fn places(&self) -> Vec<(Point, Vec2, Vec2)> {
        let mut places: Vec<(Point, Vec2, Vec2)> = Vec::new();
        let inside = self.line.nodes.iter().filter(|node| self.from < node.s && node.s < self.to);
        let ends = [self.from, self.to].map(|s| self.line.place(s));
        let [first, last] = ends;
        let between = inside.map(|node| (node.at, node.direction));
        for (at, way) in first.into_iter().chain(between).chain(last) {
            match places.last_mut() {
                Some(before) if before.0.distance(at) < 1e-6 => before.2 = way,
                _ => places.push((at, way, way)),
            }
        }
        places
    }

    /// The run moved to the garment side. Where it comes to the centre it is cut or folded on the centre line.
    fn beside(&self, places: &[(Point, Vec2, Vec2)], side: f64) -> Vec<Point> {
        let mut points: Vec<Point> = places
            .iter()
            .map(|(at, before, after)| {
                let (m, n) = (garment_side(*before), garment_side(*after));
                // The bisector, long enough to keep the distance to both neighbours.
                *at + (m + n) * (side / (1.0 + m.dot(n)).max(0.25))
            })
            .collect();
        if let (true, Some(first), Some((centre, _, way))) = (self.at_centre.is_some(), points.first(), places.first())
        {
            // Along the line to the centre line: back from a side that opens there, on from one that is past it.
            let along = ((centre.x - first.x) / way.x.max(LEAST_MITRE.sin())).min(self.to - self.from);
            let start = *first + along * *way;
            points.retain(|p| p.x > start.x + SAME_WIDTH_MM);
            points.insert(0, start);
        }
        points
    }
}
