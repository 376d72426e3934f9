//! How long a strip is cut for each piece of the line it is sewn on.

use super::lie::Passing;
use crate::brief::Direction;
use crate::finish::form::{Form, Side};
use crate::given::Given;
use crate::learned::Learned;
use crate::ring::Ring;

/// A layer is taken as no thinner for how it ripples, mm.
const THINNEST_MM: f64 = 0.05;

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
    /// Thickness of a layer, mm.
    pub thickness: f64,
    /// What passes where it does not lie flat.
    pub passing: Passing,
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
        Self::stretching(given, given.strip.one_way(direction))
    }

    /// The same with this stretch in its length, a fraction.
    pub(crate) fn stretching(given: &Given<'_>, stretch: f64) -> Option<Self> {
        let rules = &given.brief.rules;
        let comfort = rules.comfort_share * stretch;
        let Form { side, shaped, width, ratio: own_ratio, .. } = given.form;
        if shaped {
            return None;
        }
        let (usual, turn) = match side {
            Side::TowardNeck | Side::AroundEdge => (rules.hold_share * stretch / given.strip.recovery_or_usual(), 0.0),
            Side::Inside => (rules.tape_hold.min(comfort), given.garment.turn_mm),
        };
        let (thickness, passing) = (given.strip.thickness_mm.max(THINNEST_MM), Passing::new(rules));
        let learned = if own_ratio.is_some() { None } else { Learned::new(given, usual) };
        let hold = learned.map_or(usual, |learned| (learned.hold + given.learned_off * learned.deviation).max(0.0));
        Some(Self { side, width: given.sewn_width(width), hold, comfort, turn, thickness, passing, own_ratio, learned })
    }

    /// A band of one hold, of layers 0.8 mm thick, for unit checks.
    #[cfg(test)]
    pub(crate) fn band(width: f64, comfort: f64, own_ratio: Option<f64>) -> Self {
        let passing = Passing { rise: 2.0, lean: 1.0 };
        let (side, hold, turn, thickness) = (Side::TowardNeck, 0.1, 0.0, 0.8);
        Self { side, width, hold, comfort, turn, thickness, passing, own_ratio, learned: None }
    }

    /// A layer's thickness over the finished width.
    pub(crate) fn thin(&self) -> f64 {
        self.thickness / self.width
    }

    /// The curvature toward the free edge, 1/mm: where it is over 0 the free edge is the shorter one.
    pub(crate) fn bend(&self, k: f64) -> f64 {
        (1.0 - self.free(k)) / self.width
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
}

/// The rule of a strip along one line.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RuleOn {
    own_ratio: Option<f64>,
    /// How much longer the free edge is for each 1/mm that the line bends, and how far inside it the held edge lies. mm
    longer: f64,
    reach: f64,
    /// Shares of the relaxed strip at the hold, at that on a straight run and at the comfort: 1/(1 + each).
    held: f64,
    held_straight: f64,
    stretched: f64,
    /// How much of the whole hold a straight place has, and how much more for each 1/mm that it bends, mm.
    hold_on_straight: f64,
    hold_by_bend: f64,
}

impl RuleOn {
    pub(crate) fn new(given: StripGiven, ring: &Ring) -> Self {
        let (longer, hold_on_straight, hold_by_bend) = match given.side {
            Side::TowardNeck | Side::AroundEdge => {
                (-given.width, 0.0, (WHOLE_HOLD_BEND * ring.circles_curvature()).recip())
            }
            Side::Inside => (given.width, 1.0, 0.0),
        };
        Self {
            own_ratio: given.own_ratio,
            longer,
            reach: given.reach(),
            held: (1.0 + given.hold).recip(),
            held_straight: (1.0 + given.straight_hold()).recip(),
            stretched: (1.0 + given.comfort).recip(),
            hold_on_straight,
            hold_by_bend,
        }
    }

    /// What the rule asks of the strip where the line's curvature is `k`, 1/mm.
    ///
    /// The rule's r is held between what stretches neither edge past its comfort, max(1, f)/(1 + phi S), and
    /// what leaves neither edge slack, min(1, f). Where both cannot be had, a free edge on the inside of the
    /// curve stands away at the stretch limit, one on the outside pulls in at r = 1. A maker's own ratio stands.
    pub(crate) fn at(&self, k: f64) -> RuledAt {
        let free = 1.0 + k * self.longer;
        // How much of the place counts as straight, 0 to 1; one that bends away from the opening does wholly.
        let straight = 1.0 - (self.hold_on_straight + k * self.hold_by_bend).clamp(0.0, 1.0);
        let held = (1.0 - straight) * self.held + straight * self.held_straight;
        let ruled = self.own_ratio.unwrap_or((1.0 - k * self.reach) * held);
        let (least, most) = (free.max(1.0) * self.stretched, free.clamp(0.0, 1.0));
        let (limit, ratio) = if self.own_ratio.is_some() {
            (Limit::None, ruled)
        } else if least > most {
            if free < 1.0 { (Limit::Least, least) } else { (Limit::Relaxed, 1.0) }
        } else if ruled < least {
            (Limit::Least, least)
        } else if ruled > most {
            (Limit::Most, most)
        } else {
            (Limit::None, ruled)
        };
        RuledAt { straight: straight * free, ruled, ratio, way: Way::new(limit, straight, k) }
    }
}

/// What the rule asks of the strip at a place, for each mm of line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct RuledAt {
    /// How much of the free edge's place counts as straight.
    pub straight: f64,
    /// The r that the rule asks for before any limit, and the strip's.
    pub ruled: f64,
    pub ratio: f64,
    pub way: Way,
}

/// Which way the rule goes: along one, r is a smooth function of the curvature. By the limit that holds r, by whether the place bends
/// enough for the whole hold, in part or not, and by whether the line bends about the opening: which edge is the longer changes with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Way(u8);

impl Way {
    fn new(limit: Limit, straight: f64, k: f64) -> Self {
        Self(8 * limit as u8 + 4 * u8::from(k > 0.0) + 2 * u8::from(straight < 1.0) + u8::from(straight > 0.0))
    }
}

/// Which limit holds r.
#[derive(Clone, Copy)]
enum Limit {
    None,
    Least,
    Most,
    /// Neither can be had: the strip is left as long as the line.
    Relaxed,
}
