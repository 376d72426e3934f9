//! Where to stay the neckline, and with how much tape.
//!
//! A tape or a facing wants a stable edge, a band a live one. Common practice, no published source: stay the
//! legs and the point of a V and the back neckline of a taped or faced finish. Published: shoulders first
//! (an N.C. extension leaflet on tailoring, and a photo handbook's chapter on stretch seams).

use crate::brief::Finish;
use crate::given::Given;
use crate::knit::Cloth;
use crate::opening::{head_girth, stitch_extension};
use crate::plan::{Part, RecoveryVerdict, StayPlan, StayReason, StayZone};
use crate::ring::{Ring, STEPS};
use crate::seam_line::{Line, points};

/// Stretch along the seam under which an edge is stable by itself, fraction: our judgement.
const STABLE: f64 = 0.08;
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
    /// Mean stretch in the seam's own direction, fraction.
    stretch: f64,
}

/// The zones, and the seam line's greatest girth with them, mm.
pub(crate) fn stays(given: &Given<'_>, ring: &Ring, front: &Line, back: &Line) -> (StayPlan, f64) {
    let brief = given.brief;
    let (head, _) = head_girth(brief.head.girth);
    let needed = head + brief.head.margin_mm;
    let mut kept = candidates(given, ring);
    let mut given_up = Vec::new();
    // Least benefit first: stretch held back times length.
    kept.sort_by(|a, b| b.benefit().total_cmp(&a.benefit()));
    let mut girth = seam_girth(given, ring, &kept);
    while girth < needed
        && let Some(least) = kept.pop()
    {
        given_up.push(least.part);
        girth = seam_girth(given, ring, &kept);
    }
    let mut zones = shoulder_zone(given).into_iter().collect::<Vec<_>>();
    zones.extend(kept.iter().map(|c| c.zone(given, ring, front, back)));
    let total_tape_mm =
        zones.iter().filter_map(|z| Some(z.tape_each_mm? * f64::from(z.pieces))).fold(0.0, |sum, tape| sum + tape);
    (StayPlan { zones, given_up, total_tape_mm }, girth)
}

/// The greatest girth of the seam line, mm: stayed parts as they are, the rest stretched by the lesser of the
/// knit's pull share in the seam's direction and the stitch's extension.
fn seam_girth(given: &Given<'_>, ring: &Ring, stayed: &[Candidate]) -> f64 {
    let (stitch, _) = stitch_extension(given.brief.stitch);
    let share = given.brief.rules.pull_share;
    let half: f64 = (0..STEPS)
        .filter_map(|i| {
            let s = (i as f64 + 0.5) * ring.step();
            let c2 = 0.5 * (ring.c2.get(i)? + ring.c2.get(i + 1)?);
            let held = stayed.iter().any(|zone| zone.from <= s && s <= zone.to);
            let extension = if held { 0.0 } else { (share * given.garment.along(c2)).min(stitch) };
            Some(ring.step() * (1.0 + extension))
        })
        .sum();
    2.0 * half
}

fn candidates(given: &Given<'_>, ring: &Ring) -> Vec<Candidate> {
    let poor = given.garment.verdict() == RecoveryVerdict::Poor;
    let stable_edge = !matches!(given.brief.finish, Finish::Band(_));
    let reason = if poor { StayReason::PoorRecovery } else { StayReason::StableEdge };
    let (neck, end) = (ring.back_length, ring.length);
    let mut parts = Vec::new();
    if stable_edge || poor {
        parts.push((Part::BackNeckline, reason, 0.0, neck));
    }
    if ring.front_point.is_some() {
        let point = (end - POINT_MM).max(neck + 0.5 * (end - neck));
        parts.push((Part::FrontCentre, StayReason::Point, point, end));
        if stable_edge || poor {
            parts.push((Part::FrontSides, reason, neck, point));
        }
    } else if poor {
        // Where the line turns from running lengthwise to running crosswise: 45 degrees.
        let floor = (0..=STEPS)
            .map(|i| (i as f64 * ring.step(), ring.c2.get(i).copied().unwrap_or(0.0)))
            .find(|(s, c2)| *s > neck && *c2 > 0.5)
            .map_or(end, |(s, _)| s);
        parts.push((Part::FrontCentre, reason, floor, end));
        parts.push((Part::FrontSides, reason, neck, floor));
    }
    parts
        .into_iter()
        .filter(|(_, _, from, to)| to > from)
        .map(|(part, reason, from, to)| {
            let stretch = mean_stretch(&given.garment, ring, from, to);
            Candidate { part, reason, from, to, stretch }
        })
        .filter(|c| c.stretch >= STABLE)
        .collect()
}

fn mean_stretch(cloth: &Cloth, ring: &Ring, from: f64, to: f64) -> f64 {
    let inside = |i: &usize| (from..=to).contains(&(*i as f64 * ring.step()));
    let (sum, n) = (0..=STEPS)
        .filter(inside)
        .filter_map(|i| ring.c2.get(i))
        .fold((0.0, 0.0), |(sum, n), c2| (sum + cloth.along(*c2), n + 1.0));
    if n > 0.0 { sum / n } else { 0.0 }
}

fn shoulder_zone(given: &Given<'_>) -> Option<StayZone> {
    let stays = &given.brief.stays;
    let allowance = given.front.shoulder_allowance.max(given.back.shoulder_allowance);
    stays.shoulders.then(|| StayZone {
        part: Part::Shoulders,
        reason: StayReason::CarriesTheGarment,
        stretch_percent: 100.0 * given.garment.along(given.back.slope.cos().powi(2)),
        from_mm: None,
        to_mm: None,
        tape_each_mm: stays.shoulder_length_mm,
        pieces: 2,
        from_raw_edge_mm: from_raw_edge(allowance, stays.catch_mm, stays.tape_width_mm),
        snip_or_bias: false,
        line: Vec::new(),
    })
}

/// From the raw edge to the tape: its inner edge lies past the seam line by the catch. Never under 0.
fn from_raw_edge(allowance: f64, catch: f64, width: f64) -> f64 {
    (allowance + catch - width).max(0.0)
}

impl Candidate {
    fn benefit(&self) -> f64 {
        // A point is pulled open from both sides: it counts twice (our judgement).
        let weight = if self.reason == StayReason::Point { 2.0 } else { 1.0 };
        weight * self.stretch * (self.to - self.from)
    }

    fn zone(&self, given: &Given<'_>, ring: &Ring, front: &Line, back: &Line) -> StayZone {
        let stays = &given.brief.stays;
        let through_centre = self.from <= 0.0 || self.to >= ring.length;
        let half = self.to - self.from;
        let (tape_each_mm, pieces) = if through_centre { (2.0 * half, 1) } else { (half, 2) };
        let tightest = ring
            .shared_curvature(stays.tape_width_mm)
            .iter()
            .enumerate()
            .filter(|(i, _)| (self.from..=self.to).contains(&(*i as f64 * ring.step())))
            .map(|(_, k)| k.abs())
            .fold(0.0, f64::max);
        StayZone {
            part: self.part,
            reason: self.reason,
            stretch_percent: 100.0 * self.stretch,
            from_mm: Some(self.from),
            to_mm: Some(self.to),
            tape_each_mm: Some(tape_each_mm),
            pieces,
            from_raw_edge_mm: from_raw_edge(given.allowance, stays.catch_mm, stays.tape_width_mm),
            snip_or_bias: tightest * stays.tape_width_mm > TAPE_BEND,
            line: self.points(ring, front, back),
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
