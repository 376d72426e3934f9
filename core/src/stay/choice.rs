//! Which parts of the neckline are stayed, and which are given up so that the head passes.

use serde::Serialize;

use super::zone::{Part, StayReason};
use crate::girth::{Reach, Rings, Run};
use crate::given::Given;
use crate::knit::{Cloth, RecoveryVerdict};
use crate::ring::{Ring, STEPS};

/// A part that would gain by staying but was given up so that the head passes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct GivenUp {
    /// Which.
    pub part: Part,
    /// The knit's mean stretch in the seam's own direction. Percent.
    pub stretch_percent: f64,
    /// Length left live, both sides. mm.
    pub length_mm: f64,
    /// What giving it up adds to the greatest girth of the seam line. mm.
    pub gains_mm: f64,
}

/// Stretch along the seam under which an edge is stable by itself, fraction: our judgement.
pub(crate) const STABLE: f64 = 0.08;

/// Stretch along the seam from which the sides and the lowest part of a faced neckline without a point are stayed
/// too, fraction: a lively knit is drawn out while it is turned. Our judgement.
const LIVELY: f64 = 0.25;

/// Length stayed each side of a point, mm: our judgement.
const POINT_MM: f64 = 25.0;

/// A part that would gain by staying.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Candidate {
    pub part: Part,
    pub reason: StayReason,
    /// Its ends along the half seam line, mm from centre back.
    pub from: f64,
    pub to: f64,
    /// Mean stretch in the seam's own direction.
    pub stretch: MeanStretch,
}

/// The parts of the neckline that would gain by staying, those that are given up, and how far the rings reach.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Chosen {
    pub kept: Vec<Candidate>,
    pub given_up: Vec<GivenUp>,
    pub reach: Reach,
}

/// The runs along the half seam line that would gain by staying.
pub(crate) fn wanted(given: &Given<'_>, ring: &Ring) -> Vec<Run> {
    runs(&candidates(given, ring))
}

/// What is stayed along the half seam line.
pub(crate) fn runs(candidates: &[Candidate]) -> Vec<Run> {
    candidates.iter().map(|one| (one.from, one.to)).collect()
}

/// Of the parts that would gain by staying, those that do the most good and let a ring of `needed` mm pass: a point
/// before all else, then the greatest benefit in all. Where the head passes with none of them, nothing is gained by
/// leaving any off, and all are kept. Our judgement, after common practice: a point is the last that a maker gives up.
pub(crate) fn choose(given: &Given<'_>, ring: &Ring, rings: &Rings, needed: f64) -> Chosen {
    let share = given.brief.rules.pull_share;
    let all = most_useful_first(candidates(given, ring));
    let reach = |kept: &[Candidate]| rings.reach(share, &runs(kept));
    let whole = reach(&all);
    if whole.smallest() >= needed || reach(&[]).smallest() < needed {
        return Chosen { kept: all, given_up: Vec::new(), reach: whole };
    }
    // At most three parts: every choice is looked at.
    let choices = (0..1_u32 << all.len()).map(|bits| picked(&all, bits));
    let passing = choices.filter(|kept| reach(kept).smallest() >= needed);
    let kept = passing.max_by(|a, b| worth(a).partial_cmp(&worth(b)).unwrap_or(core::cmp::Ordering::Equal));
    let kept = kept.unwrap_or_default();
    let (mut left, mut before, mut given_up) = (all.clone(), whole.seam.mm(), Vec::new());
    for gone in all.iter().rev().filter(|one| !kept.contains(one)) {
        left.retain(|one| one != gone);
        let girth = reach(&left).seam.mm();
        given_up.push(GivenUp {
            part: gone.part,
            stretch_percent: 100.0 * gone.stretch.mean,
            length_mm: 2.0 * (gone.to - gone.from),
            gains_mm: girth - before,
        });
        before = girth;
    }
    let reach = reach(&kept);
    Chosen { kept, given_up, reach }
}

/// At most three parts are put in order one by one: a library's sort of them would weigh two kilobytes of download.
fn most_useful_first(candidates: Vec<Candidate>) -> Vec<Candidate> {
    let mut ordered: Vec<Candidate> = Vec::new();
    for one in candidates {
        let place = ordered.iter().position(|other| other.worth() < one.worth()).unwrap_or(ordered.len());
        ordered.insert(place, one);
    }
    ordered
}

fn picked(all: &[Candidate], bits: u32) -> Vec<Candidate> {
    all.iter().enumerate().filter(|(i, _)| bits >> i & 1 == 1).map(|(_, one)| *one).collect()
}

/// What a set of stays is worth: points held, then benefit in all.
fn worth(kept: &[Candidate]) -> (u32, f64) {
    kept.iter().map(Candidate::worth).fold((0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1))
}

fn candidates(given: &Given<'_>, ring: &Ring) -> Vec<Candidate> {
    let poor = given.garment.verdict() == RecoveryVerdict::Poor;
    let stable_edge = given.form.turns_inside();
    let faced = stable_edge && given.form.shaped;
    let reason = if poor { StayReason::PoorRecovery } else { StayReason::StableEdge };
    let (neck, end) = (ring.back_length, ring.length);
    // A part, why, its ends along the half round, and the least stretch from which it is stayed.
    let mut parts = Vec::new();
    if stable_edge || poor {
        parts.push((Part::BackNeckline, reason, 0.0, neck, STABLE));
    }
    if ring.front_point.is_some() {
        let point = (end - POINT_MM).max(neck + 0.5 * (end - neck));
        parts.push((Part::FrontCentre, StayReason::Point, point, end, STABLE));
        if stable_edge || poor {
            parts.push((Part::FrontSides, reason, neck, point, STABLE));
        }
    } else if poor || faced {
        let least = if poor { STABLE } else { LIVELY };
        // Where the line turns from running lengthwise to running crosswise: 45 degrees.
        let floor = (0..=STEPS)
            .map(|i| (i as f64 * ring.step(), ring.courses().get(i).copied().unwrap_or(0.0)))
            .find(|(s, c2)| *s > neck && *c2 > 0.5)
            .map_or(end, |(s, _)| s);
        parts.push((Part::FrontCentre, reason, floor, end, least));
        parts.push((Part::FrontSides, reason, neck, floor, least));
    }
    let candidate = |(part, reason, from, to, least): (Part, StayReason, f64, f64, f64)| {
        let stretch = mean_stretch(&given.garment, ring, from, to);
        (stretch.mean >= least).then_some(Candidate { part, reason, from, to, stretch })
    };
    parts.into_iter().filter(|(_, _, from, to, _)| to > from).filter_map(candidate).collect()
}

/// Mean stretch along a run, and the means of c^4, s^4 and s^2 c^2 that it comes from.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct MeanStretch {
    pub mean: f64,
    pub m4: f64,
    pub n4: f64,
    pub mn: f64,
}

fn mean_stretch(cloth: &Cloth, ring: &Ring, from: f64, to: f64) -> MeanStretch {
    let mut sum = MeanStretch::default();
    for (i, c2) in ring.courses().iter().enumerate() {
        let share = (ring.stands_for(i, from, to) / (to - from)).max(0.0);
        let s2 = 1.0 - c2;
        sum.m4 += share * c2 * c2;
        sum.n4 += share * s2 * s2;
        sum.mn += share * s2 * c2;
    }
    sum.mean = cloth.by_means(sum.m4, sum.n4, sum.mn);
    sum
}

impl Candidate {
    /// Whether it holds a point, and what it holds back: stretch times length. A point is pulled open from both sides,
    /// so that it comes before every other part.
    fn worth(&self) -> (u32, f64) {
        (u32::from(self.reason == StayReason::Point), self.stretch.mean * (self.to - self.from))
    }
}
