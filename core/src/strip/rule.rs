//! How long a strip is cut for each piece of the line it is sewn on.

use crate::brief::Direction;
use crate::finish::form::{Form, Side};
use crate::given::Given;
use crate::learned::Learned;
use crate::ring::Ring;

/// Strain over the comfortable share that is rounding and not a pull. Fraction.
pub(crate) const UNSEEN: f64 = 1e-3;

/// The hold of a band on a straight run, where it is less than that on a curve. Fraction.
///
/// A stretched edge presses inward by its pull times its curvature (as a belt on a drum; any text on mechanics). Where
/// the line is straight it presses nothing flat: it only draws the seam up. So makers cut a V's legs nearly one to one
/// and the back neck shorter (common practice, no published source): a hair shorter, as a tape is, so that feeding and
/// handling do not make the leg long. The figure is our judgement.
pub(crate) const STRAIGHT_HOLD: f64 = 0.02;

/// Where a band has its whole hold: where its line bends at least by this share of what a circle as long as the whole
/// line does. Toward a straight line the hold then falls evenly.
///
/// Measured against a circle, and not against the width, it is the same for a narrow edge and a wide one, for a child and
/// a man. Ordinary round necks bend more nearly all along; the sides of a deep scoop and the middle of a flat back bend
/// less. Our judgement, no published source.
const WHOLE_HOLD_BEND: f64 = 1.0 / 3.0;

/// What the strip's rule needs. A strip that stands toward the neck and one that goes round the edge lie alike from the line
/// they are sewn on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct StripGiven {
    pub side: Side,
    pub width: f64,
    /// Strain of the free edge (band) or of the seam edge (facing strip) that the rule aims at.
    pub hold: f64,
    /// The most an edge may stay stretched: phi S.
    pub comfort: f64,
    /// Turn of cloth, mm (facing strip).
    pub turn: f64,
    pub own_ratio: Option<f64>,
    /// Where the hold comes from records and not from the rule alone.
    pub learned: Option<Learned>,
}

impl StripGiven {
    /// The strip of a brief; none for a facing.
    pub(crate) fn new(given: &Given<'_>) -> Option<Self> {
        Self::running(given, given.brief.strip_direction)
    }

    /// The same with its length running another way in its knit.
    pub(crate) fn running(given: &Given<'_>, direction: Direction) -> Option<Self> {
        let rules = &given.brief.rules;
        let stretch = given.strip.one_way(direction);
        let comfort = rules.comfort_share * stretch;
        let Form { side, shaped, width, ratio: own_ratio, .. } = given.form;
        if shaped {
            return None;
        }
        let (usual, turn) = match side {
            Side::TowardNeck | Side::AroundEdge => (rules.hold_share * stretch / given.strip.recovery_or_usual(), 0.0),
            Side::Inside => (rules.tape_hold.min(comfort), given.garment.turn_mm),
        };
        let learned = if own_ratio.is_some() { None } else { Learned::new(given, usual) };
        let hold = learned.map_or(usual, |learned| (learned.hold + given.learned_off * learned.deviation).max(0.0));
        Some(Self { side, width: given.sewn_width(width), hold, comfort, turn, own_ratio, learned })
    }

    /// f: the free edge's element over the seam line's, where the curvature is k.
    pub(crate) fn free(&self, k: f64) -> f64 {
        match self.side {
            Side::TowardNeck | Side::AroundEdge => 1.0 - k * self.width,
            Side::Inside => 1.0 + k * self.width,
        }
    }

    /// How far inside the line it is sewn on the strip's held edge lies: a band's free edge, a facing strip's seam edge. mm
    pub(crate) fn reach(&self) -> f64 {
        match self.side {
            Side::TowardNeck | Side::AroundEdge => self.width,
            Side::Inside => self.turn,
        }
    }

    /// The hold on a straight run. A tape's is the same everywhere: it is small, and is there for the roll of the seam.
    pub(crate) fn straight_hold(&self) -> f64 {
        match self.side {
            Side::TowardNeck | Side::AroundEdge => self.hold.min(STRAIGHT_HOLD),
            Side::Inside => self.hold,
        }
    }

    /// How much of a place counts as straight, 0 to 1; one that bends away from the opening does wholly.
    pub(crate) fn straight(&self, place: Place) -> f64 {
        match self.side {
            Side::TowardNeck | Side::AroundEdge => 1.0 - (place.k / (WHOLE_HOLD_BEND * place.circle)).clamp(0.0, 1.0),
            Side::Inside => 0.0,
        }
    }

    /// The r that the rule asks for at a place, before any limit.
    pub(crate) fn ruled(&self, place: Place) -> f64 {
        match (self.own_ratio, self.side) {
            (Some(own), _) => own,
            (None, Side::TowardNeck | Side::AroundEdge) => {
                let straight = self.straight(place);
                self.free(place.k) * ((1.0 - straight) / (1.0 + self.hold) + straight / (1.0 + self.straight_hold()))
            }
            (None, Side::Inside) => (1.0 - place.k * self.turn) / (1.0 + self.hold),
        }
    }

    /// r: relaxed strip over seam line at a place.
    ///
    /// The rule's r is held between what stretches neither edge past its comfort, max(1, f)/(1 + phi S), and
    /// what leaves neither edge slack, min(1, f). Where both cannot be had, a free edge on the inside of the
    /// curve stands away at the stretch limit, one on the outside pulls in at r = 1. A maker's own ratio stands.
    pub(crate) fn ratio(&self, place: Place) -> f64 {
        let ruled = self.ruled(place);
        if self.own_ratio.is_some() {
            return ruled;
        }
        let f = self.free(place.k);
        let (least, most) = (f.max(1.0) / (1.0 + self.comfort), f.clamp(0.0, 1.0));
        if least <= most {
            ruled.max(least).min(most)
        } else if f < 1.0 {
            least
        } else {
            1.0
        }
    }
}

/// How a line bends at a place, and how a circle as long as the whole line does. 1/mm
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Place {
    pub k: f64,
    pub circle: f64,
}

impl Place {
    pub(crate) fn on(ring: &Ring, k: f64) -> Self {
        Self { k, circle: ring.circles_curvature() }
    }
}
