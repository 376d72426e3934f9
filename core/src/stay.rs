//! Where to stay the neckline and other edges, and with how much tape.
//!
//! A tape or a facing wants a stable edge, a band or a bound edge a live one. Common practice, no published source:
//! stay the legs and the point of a V and the back neckline of a taped or faced finish, and an edge that receives
//! gathers. Published: shoulders first (an N.C. extension leaflet on tailoring, and a photo handbook's chapter on
//! stretch seams), and necklines from shoulder to centre before they are handled (the same leaflet).

pub(crate) mod zone;

use serde::Serialize;

use crate::brief::{EdgePart, Finish, StayEdge};
use crate::girth::{Reach, Rings, Run};
use crate::given::{Given, Which};
use crate::knit::{Cloth, RecoveryVerdict};
use crate::ring::{Ring, STEPS};
use crate::rule::Rule;
use crate::seam_line::{Line, points};
use crate::source::Source;
use crate::stay::zone::{Part, StayReason, StayZone};
use crate::stay_tape::{Laid, MeasuredFrom, Place, TapeFit};
use crate::working::Working;

/// What to stay.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StayPlan {
    /// Parts to stay.
    pub zones: Vec<StayZone>,
    /// Parts that would gain by staying but were given up so that the head passes, first given up first.
    pub given_up: Vec<GivenUp>,
    /// Named edges that are stable by themselves and want no stay.
    pub stable: Vec<StableEdge>,
    /// Stay tape in all, of every zone whose length is known and where a stay tape fits. mm.
    pub total_tape_mm: f64,
}

/// A part that would gain by staying but was given up so that the head passes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

/// A named edge that is stable by itself.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StableEdge {
    /// The person's name for it.
    pub name: String,
    /// The knit's stretch along it. Percent.
    pub stretch_percent: f64,
}

/// Stretch along the seam under which an edge is stable by itself, fraction: our judgement.
const STABLE: f64 = 0.08;
/// Stretch along the seam from which the sides and the lowest part of a faced neckline without a point are stayed
/// too, fraction: a lively knit is drawn out while it is turned. Our judgement.
const LIVELY: f64 = 0.25;
/// Length stayed each side of a point, mm: our judgement.
const POINT_MM: f64 = 25.0;

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
        candidate.explain(given, ring, front, back, &zone, zones.len(), working);
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
    let taped = zones.iter().filter(|zone| zone.fit != TapeFit::NoneFits);
    let each: Vec<f64> = taped.filter_map(|z| Some(z.tape_each_mm? * f64::from(z.pieces))).collect();
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
    let place = Place::on_seam(allowance, stays);
    let zone = (stays.shoulders && !own).then(|| StayZone {
        part: Part::Shoulders,
        name: None,
        reason: StayReason::CarriesTheGarment,
        stretch_percent: 100.0 * given.garment.along(c2),
        from_mm: None,
        to_mm: None,
        tape_each_mm: stays.shoulder_length_mm,
        pieces: 2,
        ..straight(&place)
    })?;
    let s2 = 1.0 - c2;
    let means = MeanStretch { mean: 0.01 * zone.stretch_percent, m4: c2 * c2, n4: s2 * s2, mn: s2 * c2 };
    explain_stretch(given, &means, 0, working);
    explain_place(&place, &zone, 0, working);
    if let Some(each) = zone.tape_each_mm {
        explain_tape(1.0, 0.0, each, &zone, 0, working);
    }
    Some(zone)
}

/// A named edge's zone; none where the knit hardly stretches along it and nothing is gathered on it.
fn named_zone(given: &Given<'_>, edge: &StayEdge) -> Option<StayZone> {
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
        gathering_ratio: edge.gathered_from_mm.map(|before| before / edge.length_mm),
        ..straight(&Place::on_seam(edge.allowance_mm, &given.brief.stays))
    })
}

/// A tape's place on a straight seam: what every zone starts from.
fn straight(place: &Place) -> StayZone {
    StayZone {
        part: Part::Other,
        name: None,
        reason: StayReason::StableEdge,
        stretch_percent: 0.0,
        from_mm: None,
        to_mm: None,
        tape_each_mm: None,
        pieces: 1,
        measured_from: place.measured_from,
        from_edge_mm: place.near_side(),
        tape_width_mm: place.width(),
        past_stitching_mm: place.past_stitching(),
        widest_tape_mm: place.widest(),
        fit: place.fit(),
        at_centre: None,
        snip_or_bias: false,
        snips: 0,
        gathering_ratio: None,
        line: Vec::new(),
        outline: Vec::new(),
    }
}

impl Candidate {
    /// Whether it holds a point, and what it holds back: stretch times length. A point is pulled open from both sides,
    /// so that it comes before every other part.
    fn worth(&self) -> (u32, f64) {
        (u32::from(self.reason == StayReason::Point), self.stretch.mean * (self.to - self.from))
    }

    fn zone(&self, given: &Given<'_>, ring: &Ring, front: &Line, back: &Line) -> StayZone {
        let place = Place::on_neckline(given);
        let run = self.run(given, ring, front, back);
        let taped = place.fit() != TapeFit::NoneFits;
        let snip_or_bias = taped && run.bends_too_much(place.width());
        let (sides, pieces) = run.sides();
        StayZone {
            part: self.part,
            reason: self.reason,
            stretch_percent: 100.0 * self.stretch.mean,
            from_mm: Some(self.from),
            to_mm: Some(self.to),
            tape_each_mm: Some(sides * (self.to - self.from) + mitre_takes(&run, &place)),
            pieces,
            at_centre: run.at_centre,
            snip_or_bias,
            snips: if snip_or_bias { snips(given, &run, &place) } else { 0 },
            line: self.points(ring, front, back),
            outline: run.outline(&place),
            ..straight(&place)
        }
    }

    /// The zone on its own half of the seam line: front and back are stayed apart, so that no tape turns at the neck point.
    fn run<'a>(&self, given: &Given<'_>, ring: &Ring, front: &'a Line, back: &'a Line) -> Laid<'a> {
        match self.part {
            Part::BackNeckline => Laid::new(given, Which::Back, back, (self.from, self.to)),
            _ => Laid::new(given, Which::Front, front, (ring.length - self.to, ring.length - self.from)),
        }
    }

    #[allow(clippy::too_many_arguments, reason = "what was reckoned, side by side")]
    fn explain(
        &self,
        given: &Given<'_>,
        ring: &Ring,
        front: &Line,
        back: &Line,
        zone: &StayZone,
        i: usize,
        working: &mut Working,
    ) {
        if working.is_off() {
            return;
        }
        use crate::error::Unit::{Count, Mm, Ratio};
        let (place, run) = (Place::on_neckline(given), self.run(given, ring, front, back));
        explain_stretch(given, &self.stretch, i, working);
        explain_place(&place, zone, i, working);
        match (run.mitre, zone.tape_each_mm) {
            (Some(alpha), Some(each)) => {
                let q = ("q", place.past_seam_line(), Mm);
                let inputs = [("from", self.from, Mm), ("to", self.to, Mm), q, ("alpha", alpha, Ratio)];
                working.mm(format!("stays.zones.{i}.tape_each_mm"), Rule::StayMitre, &inputs, each, Source::Judgement);
            }
            _ => explain_tape(run.sides().0, self.from, self.to, zone, i, working),
        }
        if zone.snips > 0 {
            let inputs = [
                ("b", place.width(), Mm),
                ("theta", run.turning(), Ratio),
                ("g", given.brief.rules.clip_opening_mm, Mm),
            ];
            let result = (f64::from(zone.snips), Count);
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

/// What a mitre at the centre takes up: the tape's side on the garment is its longest there, q cot(alpha) past the line's
/// own point on each leg.
fn mitre_takes(run: &Laid<'_>, place: &Place) -> f64 {
    run.mitre.map_or(0.0, |alpha| 2.0 * place.past_seam_line() / alpha.tan())
}

/// A straight tape's far edge must open or close by its width times the turning; each snip takes up as much as a clip does.
fn snips(given: &Given<'_>, run: &Laid<'_>, place: &Place) -> u32 {
    let opens = place.width() * run.turning();
    // At most a whole round's turning times 40 mm over 1 mm.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let snips = (opens / given.brief.rules.clip_opening_mm - 1e-9).ceil() as u32;
    snips
}

fn explain_place(place: &Place, zone: &StayZone, i: usize, working: &mut Working) {
    if working.is_off() {
        return;
    }
    use crate::error::Unit::Mm;
    let figure = |name: &str| format!("stays.zones.{i}.{name}_mm");
    let (b, d) = (("b", place.own_width, Mm), ("d", place.stitching, Mm));
    let widest = [d, ("reach", place.reach, Mm)];
    let taken = |x: f64| [("x", x, Mm)];
    let source = match place.measured_from {
        MeasuredFrom::RawEdge => {
            let inputs = [("a", place.stitching, Mm), ("catch", place.reach, Mm), b];
            let source = Source::CommonPractice;
            working.mm(figure("from_edge"), Rule::StayPlace, &inputs, zone.from_edge_mm, source);
            working.mm(figure("tape_width"), Rule::Taken, &taken(place.own_width), zone.tape_width_mm, source);
            source
        }
        MeasuredFrom::TrimmedEdge => {
            let (inputs, source) = ([b, ("widest", zone.widest_tape_mm, Mm)], Source::Judgement);
            working.mm(figure("from_edge"), Rule::Taken, &taken(zone.from_edge_mm), zone.from_edge_mm, source);
            working.mm(figure("tape_width"), Rule::StayWithin, &inputs, zone.tape_width_mm, source);
            source
        }
    };
    working.mm(figure("widest_tape"), Rule::StayWidest, &widest, zone.widest_tape_mm, source);
    let inputs = [("p", zone.from_edge_mm, Mm), ("b", zone.tape_width_mm, Mm), d];
    working.mm(figure("past_stitching"), Rule::StayPast, &inputs, zone.past_stitching_mm, Source::Geometry);
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
    explain_place(&Place::on_seam(edge.allowance_mm, &given.brief.stays), zone, i, working);
    explain_tape(1.0, 0.0, edge.length_mm, zone, i, working);
    if let (Some(before), Some(ratio)) = (edge.gathered_from_mm, zone.gathering_ratio) {
        let inputs = [("before", before, Mm), ("after", edge.length_mm, Mm)];
        let figure = format!("stays.zones.{i}.gathering_ratio");
        working.add(figure, Rule::GatheringRatio, &inputs, (ratio, Ratio), Source::Geometry);
    }
}
