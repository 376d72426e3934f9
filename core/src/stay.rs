//! Where to stay the neckline and other edges, and with how much tape.
//!
//! A tape or a facing wants a stable edge, a band or a bound edge a live one. Common practice, no published source:
//! stay the legs and the point of a V and the back neckline of a taped or faced finish, and an edge that receives
//! gathers. Published: shoulders first (an N.C. extension leaflet on tailoring, and a photo handbook's chapter on
//! stretch seams), and necklines from shoulder to centre before they are handled (the same leaflet).

use crate::brief::{EdgePart, Finish, StayEdge};
use crate::girth::{Reach, Rings, Run};
use crate::given::Given;
use crate::knit::Cloth;
use crate::plan::{GivenUp, Part, RecoveryVerdict, StableEdge, StayPlan, StayReason, StayZone};
use crate::ring::{Ring, STEPS};
use crate::seam_line::{Line, points};
use crate::source::Source;
use crate::working::{Rule, Working};

/// Stretch along the seam under which an edge is stable by itself, fraction: our judgement.
const STABLE: f64 = 0.08;
/// Stretch along the seam from which the sides and the lowest part of a faced neckline without a point are stayed
/// too, fraction: a lively knit is drawn out while it is turned. Our judgement.
const LIVELY: f64 = 0.25;
/// Length stayed each side of a point, mm: our judgement.
const POINT_MM: f64 = 25.0;
/// k times tape width from which a straight tape no longer lies along the curve: our judgement.
const TAPE_BEND: f64 = 0.12;

/// A part that would gain by staying.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Candidate {
    part: Part,
    reason: StayReason,
    from: f64,
    to: f64,
    /// Mean stretch in the seam's own direction.
    stretch: MeanStretch,
}

/// The parts of the neckline that would gain by staying, those that are given up, and how far the rings reach.
pub(crate) struct Chosen {
    kept: Vec<Candidate>,
    given_up: Vec<GivenUp>,
    pub reach: Reach,
}

impl Chosen {
    /// What is stayed along the half seam line.
    pub(crate) fn runs(&self) -> Vec<Run> {
        runs(&self.kept)
    }
}

/// The runs along the half seam line that would gain by staying.
pub(crate) fn wanted(given: &Given<'_>, ring: &Ring) -> Vec<Run> {
    runs(&candidates(given, ring))
}

fn runs(candidates: &[Candidate]) -> Vec<Run> {
    candidates.iter().map(|one| (one.from, one.to)).collect()
}

/// Of the parts that would gain by staying, those that do the most good and let a ring of `needed` mm pass: a point
/// before all else, then the greatest benefit in all. Where the head passes with none of them, nothing is gained by
/// leaving any off, and all are kept. Our judgement, after common practice: a point is the last that a maker gives up.
pub(crate) fn choose(given: &Given<'_>, ring: &Ring, rings: &Rings, needed: f64) -> Chosen {
    let share = given.brief.rules.pull_share;
    let mut all = candidates(given, ring);
    all.sort_unstable_by(|a, b| a.worth().partial_cmp(&b.worth()).unwrap_or(core::cmp::Ordering::Equal).reverse());
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

fn picked(all: &[Candidate], bits: u32) -> Vec<Candidate> {
    all.iter().enumerate().filter(|(i, _)| bits >> i & 1 == 1).map(|(_, one)| *one).collect()
}

/// What a set of stays is worth: points held, then benefit in all.
fn worth(kept: &[Candidate]) -> (u32, f64) {
    kept.iter().map(Candidate::worth).fold((0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1))
}

/// The zones: the chosen parts of the neckline, the shoulders and the edges that the person names.
pub(crate) fn stays(
    given: &Given<'_>,
    ring: &Ring,
    chosen: Chosen,
    front: &Line,
    back: &Line,
    working: &mut Working,
) -> StayPlan {
    let brief = given.brief;
    let Chosen { kept, given_up, .. } = chosen;
    let mut zones: Vec<StayZone> = shoulder_zone(given, working).into_iter().collect();
    for candidate in &kept {
        let zone = candidate.zone(given, ring, front, back);
        candidate.explain(given, ring, &zone, zones.len(), working);
        zones.push(zone);
    }
    let mut stable = Vec::new();
    for edge in &brief.stays.edges {
        match named_zone(given, edge) {
            Some(zone) => {
                explain_named(given, edge, &zone, zones.len(), working);
                zones.push(zone);
            }
            None => stable.push(StableEdge {
                name: edge.name.clone(),
                stretch_percent: 100.0 * given.garment.one_way(edge.direction),
            }),
        }
    }
    let total_tape_mm = total(&zones, working);
    StayPlan { zones, given_up, stable, total_tape_mm }
}

fn total(zones: &[StayZone], working: &mut Working) -> f64 {
    let each: Vec<f64> = zones.iter().filter_map(|z| Some(z.tape_each_mm? * f64::from(z.pieces))).collect();
    let total = each.iter().fold(0.0, |sum, mm| sum + mm);
    let inputs: Vec<_> = each.iter().map(|mm| ("tape", *mm, crate::error::Unit::Mm)).collect();
    working.mm("stays.total_tape_mm", Rule::StayTotal, &inputs, total, Source::Geometry);
    total
}

fn candidates(given: &Given<'_>, ring: &Ring) -> Vec<Candidate> {
    let poor = given.garment.verdict() == RecoveryVerdict::Poor;
    let stable_edge = given.brief.finish.turns_inside();
    let faced = matches!(given.brief.finish, Finish::Facing(_));
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
            .map(|i| (i as f64 * ring.step(), ring.c2.get(i).copied().unwrap_or(0.0)))
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
struct MeanStretch {
    mean: f64,
    m4: f64,
    n4: f64,
    mn: f64,
}

fn mean_stretch(cloth: &Cloth, ring: &Ring, from: f64, to: f64) -> MeanStretch {
    let mut sum = MeanStretch::default();
    for (i, c2) in ring.c2.iter().enumerate() {
        let share = (ring.stands_for(i, from, to) / (to - from)).max(0.0);
        let s2 = 1.0 - c2;
        sum.m4 += share * c2 * c2;
        sum.n4 += share * s2 * s2;
        sum.mn += share * s2 * c2;
    }
    sum.mean = cloth.by_means(sum.m4, sum.n4, sum.mn);
    sum
}

fn shoulder_zone(given: &Given<'_>, working: &mut Working) -> Option<StayZone> {
    let stays = &given.brief.stays;
    let allowance = given.front.shoulder_allowance.max(given.back.shoulder_allowance);
    let c2 = given.back.slope.cos().powi(2);
    // A shoulder that the person tells of is not taped twice.
    let own = stays.edges.iter().any(|edge| edge.part == EdgePart::Shoulder && named_zone(given, edge).is_some());
    let zone = (stays.shoulders && !own).then(|| StayZone {
        part: Part::Shoulders,
        name: None,
        reason: StayReason::CarriesTheGarment,
        stretch_percent: 100.0 * given.garment.along(c2),
        from_mm: None,
        to_mm: None,
        tape_each_mm: stays.shoulder_length_mm,
        pieces: 2,
        from_raw_edge_mm: from_raw_edge(allowance, stays.catch_mm, stays.tape_width_mm),
        snip_or_bias: false,
        snips: 0,
        gathering_ratio: None,
        line: Vec::new(),
    })?;
    let s2 = 1.0 - c2;
    let means = MeanStretch { mean: 0.01 * zone.stretch_percent, m4: c2 * c2, n4: s2 * s2, mn: s2 * c2 };
    explain_stretch(given, &means, 0, working);
    explain_place(given, allowance, &zone, 0, working);
    if let Some(each) = zone.tape_each_mm {
        explain_tape(1.0, 0.0, each, &zone, 0, working);
    }
    Some(zone)
}

/// A named edge's zone; none where the knit hardly stretches along it and nothing is gathered on it.
fn named_zone(given: &Given<'_>, edge: &StayEdge) -> Option<StayZone> {
    let stays = &given.brief.stays;
    let stretch = given.garment.one_way(edge.direction);
    let gathers = edge.gathered_from_mm.is_some() || edge.part == EdgePart::Gathered;
    let poor = given.garment.verdict() == RecoveryVerdict::Poor;
    let (part, reason) = match edge.part {
        EdgePart::CentreFrontSeam => (Part::CentreFrontSeam, StayReason::StableEdge),
        EdgePart::CentreBackSeam => (Part::CentreBackSeam, StayReason::StableEdge),
        EdgePart::Shoulder => (Part::Shoulders, StayReason::CarriesTheGarment),
        EdgePart::Gathered => (Part::Gathered, StayReason::Gathers),
        EdgePart::Other => (Part::Other, StayReason::StableEdge),
    };
    let reason = match reason {
        _ if gathers => StayReason::Gathers,
        StayReason::StableEdge if poor => StayReason::PoorRecovery,
        other => other,
    };
    (gathers || stretch >= STABLE).then(|| StayZone {
        part,
        name: Some(edge.name.clone()),
        reason,
        stretch_percent: 100.0 * stretch,
        from_mm: None,
        to_mm: None,
        tape_each_mm: Some(edge.length_mm),
        pieces: edge.pieces,
        from_raw_edge_mm: from_raw_edge(edge.allowance_mm, stays.catch_mm, stays.tape_width_mm),
        snip_or_bias: false,
        snips: 0,
        gathering_ratio: edge.gathered_from_mm.map(|before| before / edge.length_mm),
        line: Vec::new(),
    })
}

/// From the raw edge to the tape: its inner edge lies past the seam line by the catch. Never under 0.
fn from_raw_edge(allowance: f64, catch: f64, width: f64) -> f64 {
    (allowance + catch - width).max(0.0)
}

impl Candidate {
    /// Whether it holds a point, and what it holds back: stretch times length. A point is pulled open from both sides,
    /// so that it comes before every other part.
    fn worth(&self) -> (u32, f64) {
        (u32::from(self.reason == StayReason::Point), self.stretch.mean * (self.to - self.from))
    }

    fn zone(&self, given: &Given<'_>, ring: &Ring, front: &Line, back: &Line) -> StayZone {
        let stays = &given.brief.stays;
        let tightest = ring
            .shared_curvature(stays.tape_width_mm)
            .iter()
            .enumerate()
            .filter(|(i, _)| (self.from..=self.to).contains(&(*i as f64 * ring.step())))
            .map(|(_, k)| k.abs())
            .fold(0.0, f64::max);
        let snip_or_bias = tightest * stays.tape_width_mm > TAPE_BEND;
        let (sides, pieces) = self.sides(ring);
        StayZone {
            part: self.part,
            name: None,
            reason: self.reason,
            stretch_percent: 100.0 * self.stretch.mean,
            from_mm: Some(self.from),
            to_mm: Some(self.to),
            tape_each_mm: Some(sides * (self.to - self.from)),
            pieces,
            from_raw_edge_mm: from_raw_edge(given.allowance, stays.catch_mm, stays.tape_width_mm),
            snip_or_bias,
            snips: if snip_or_bias { self.snips(given, ring) } else { 0 },
            gathering_ratio: None,
            line: self.points(ring, front, back),
        }
    }

    /// How many sides one piece of tape covers, and how many pieces there are: a zone through a centre is one.
    fn sides(&self, ring: &Ring) -> (f64, u32) {
        let through_centre = self.from <= 0.0 || self.to >= ring.length;
        if through_centre { (2.0, 1) } else { (1.0, 2) }
    }

    /// Turning of one piece's run, radians.
    fn turning(&self, ring: &Ring) -> f64 {
        self.sides(ring).0 * (ring.theta_along(self.to) - ring.theta_along(self.from)).abs()
    }

    /// A straight tape's far edge must open or close by its width times the turning; each snip takes up as much
    /// as a clip does.
    fn snips(&self, given: &Given<'_>, ring: &Ring) -> u32 {
        let opens = given.brief.stays.tape_width_mm * self.turning(ring);
        // At most a whole round's turning times 40 mm over 1 mm.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let snips = (opens / given.brief.rules.clip_opening_mm - 1e-9).ceil() as u32;
        snips
    }

    fn explain(&self, given: &Given<'_>, ring: &Ring, zone: &StayZone, i: usize, working: &mut Working) {
        if working.is_off() {
            return;
        }
        use crate::error::Unit::{Mm, Ratio};
        explain_stretch(given, &self.stretch, i, working);
        explain_place(given, given.allowance, zone, i, working);
        explain_tape(self.sides(ring).0, self.from, self.to, zone, i, working);
        if zone.snips > 0 {
            let inputs = [
                ("b", given.brief.stays.tape_width_mm, Mm),
                ("theta", self.turning(ring), Ratio),
                ("g", given.brief.rules.clip_opening_mm, Mm),
            ];
            let result = (f64::from(zone.snips), crate::error::Unit::Count);
            working.add(format!("stays.zones.{i}.snips"), Rule::StaySnips, &inputs, result, Source::Judgement);
        }
    }

    fn points(&self, ring: &Ring, front: &Line, back: &Line) -> Vec<[f64; 2]> {
        let on_back = self.part == Part::BackNeckline;
        let line = if on_back { back } else { front };
        let place = |s: f64| if on_back { s } else { ring.length - s };
        let inside = |s: f64| (self.from - 1e-6..=self.to + 1e-6).contains(&place(s));
        let nodes: Vec<_> = line.nodes.iter().filter(|n| inside(n.s)).copied().collect();
        points(&nodes)
    }
}

fn explain_stretch(given: &Given<'_>, means: &MeanStretch, i: usize, working: &mut Working) {
    if working.is_off() {
        return;
    }
    use crate::error::Unit::{Percent, Ratio};
    let cloth = &given.garment;
    let inputs = [
        ("Sx", 100.0 * cloth.crosswise, Percent),
        ("Sy", 100.0 * cloth.lengthwise, Percent),
        ("S45", 100.0 * cloth.diagonal, Percent),
        ("m4", means.m4, Ratio),
        ("n4", means.n4, Ratio),
        ("mn", means.mn, Ratio),
    ];
    let figure = format!("stays.zones.{i}.stretch_percent");
    working.add(figure, Rule::StayStretch, &inputs, (100.0 * means.mean, Percent), Source::Orthotropic);
}

fn explain_place(given: &Given<'_>, allowance: f64, zone: &StayZone, i: usize, working: &mut Working) {
    if working.is_off() {
        return;
    }
    use crate::error::Unit::Mm;
    let stays = &given.brief.stays;
    let inputs = [("a", allowance, Mm), ("catch", stays.catch_mm, Mm), ("b", stays.tape_width_mm, Mm)];
    let figure = format!("stays.zones.{i}.from_raw_edge_mm");
    working.mm(figure, Rule::StayPlace, &inputs, zone.from_raw_edge_mm, Source::CommonPractice);
}

fn explain_tape(sides: f64, from: f64, to: f64, zone: &StayZone, i: usize, working: &mut Working) {
    if working.is_off() {
        return;
    }
    use crate::error::Unit::{Count, Mm};
    let Some(each) = zone.tape_each_mm else { return };
    let inputs = [("sides", sides, Count), ("from", from, Mm), ("to", to, Mm)];
    working.mm(format!("stays.zones.{i}.tape_each_mm"), Rule::StayTape, &inputs, each, Source::CommonPractice);
}

fn explain_named(given: &Given<'_>, edge: &StayEdge, zone: &StayZone, i: usize, working: &mut Working) {
    if working.is_off() {
        return;
    }
    use crate::error::Unit::{Mm, Percent, Ratio};
    let stretch = (zone.stretch_percent, Percent);
    let figure = format!("stays.zones.{i}.stretch_percent");
    working.add(figure, Rule::Taken, &[("x", zone.stretch_percent, Percent)], stretch, Source::Elongation);
    explain_place(given, edge.allowance_mm, zone, i, working);
    explain_tape(1.0, 0.0, edge.length_mm, zone, i, working);
    if let (Some(before), Some(ratio)) = (edge.gathered_from_mm, zone.gathering_ratio) {
        let inputs = [("before", before, Mm), ("after", edge.length_mm, Mm)];
        let figure = format!("stays.zones.{i}.gathering_ratio");
        working.add(figure, Rule::GatheringRatio, &inputs, (ratio, Ratio), Source::Geometry);
    }
}
