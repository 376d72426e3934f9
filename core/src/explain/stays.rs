//! The stays' working.

use crate::brief::StayEdge;
use crate::error::Unit::{Count, Mm, Percent, Ratio};
use crate::field::{count, joined};
use crate::given::Given;
use crate::lines::Lines;
use crate::rule::Rule;
use crate::source::Source;
use crate::stay::choice::{Candidate, MeanStretch};
use crate::stay::laying::named_zone;
use crate::stay::zone::{Part, StayZone};
use crate::stay::{StayPlan, taped};
use crate::stay_tape::{MeasuredFrom, Place};
use crate::working::Working;

/// Every figure of the stays: the shoulders' zone, then the neckline's, then those of named edges.
pub(crate) fn explain(given: &Given<'_>, lines: &Lines, kept: &[Candidate], plan: &StayPlan, working: &mut Working) {
    let of_shoulders = |zone: &StayZone| zone.name.is_none() && zone.part == Part::Shoulders;
    let mut zones = plan.zones.iter().enumerate();
    if plan.zones.first().is_some_and(of_shoulders)
        && let Some((i, zone)) = zones.next()
    {
        explain_shoulders(given, zone, i, working);
    }
    for (candidate, (i, zone)) in kept.iter().zip(zones.by_ref()) {
        explain_candidate(candidate, given, lines, zone, i, working);
    }
    let named = given.brief.stays.edges.iter().filter(|edge| named_zone(given, edge).is_some());
    for (edge, (i, zone)) in named.zip(zones) {
        explain_named(given, edge, zone, i, working);
    }
    let each: Vec<_> = taped(&plan.zones).map(|mm| ("tape", mm, Mm)).collect();
    working.mm("stays.total_tape_mm", Rule::StayTotal, &each, plan.total_tape_mm, Source::Geometry);
}

fn explain_shoulders(given: &Given<'_>, zone: &StayZone, i: usize, working: &mut Working) {
    let c2 = given.back.slope.cos().powi(2);
    let s2 = 1.0 - c2;
    let means = MeanStretch { mean: 0.01 * zone.stretch_percent, m4: c2 * c2, n4: s2 * s2, mn: s2 * c2 };
    explain_stretch(given, &means, i, working);
    let allowance = given.front.shoulder_allowance.max(given.back.shoulder_allowance);
    explain_place(&Place::on_seam(allowance, &given.brief.stays), zone, i, working);
    if let Some(each) = zone.tape_each_mm {
        explain_tape(1.0, 0.0, each, zone, i, working);
    }
}

fn explain_candidate(
    one: &Candidate,
    given: &Given<'_>,
    lines: &Lines,
    zone: &StayZone,
    i: usize,
    working: &mut Working,
) {
    let (place, run) = (Place::on_neckline(given), one.run(given, &lines.ring, &lines.front.1, &lines.back.1));
    explain_stretch(given, &one.stretch, i, working);
    explain_place(&place, zone, i, working);
    match (run.mitre, zone.tape_each_mm) {
        (Some(alpha), Some(each)) => {
            let q = ("q", place.past_seam_line(), Mm);
            let inputs = [("from", one.from, Mm), ("to", one.to, Mm), q, ("alpha", alpha, Ratio)];
            working.mm(
                joined(&["stays.zones", &count(i), "tape_each_mm"]),
                Rule::StayMitre,
                &inputs,
                each,
                Source::Judgement,
            );
        }
        _ => explain_tape(run.sides().0, one.from, one.to, zone, i, working),
    }
    if zone.snips > 0 {
        let inputs =
            [("b", place.width(), Mm), ("theta", run.turning(), Ratio), ("g", given.brief.rules.clip_opening_mm, Mm)];
        let result = (f64::from(zone.snips), Count);
        working.add(joined(&["stays.zones", &count(i), "snips"]), Rule::StaySnips, &inputs, result, Source::Judgement);
    }
}

fn explain_stretch(given: &Given<'_>, means: &MeanStretch, i: usize, working: &mut Working) {
    let cloth = &given.garment;
    let inputs = [
        ("Sx", 100.0 * cloth.crosswise, Percent),
        ("Sy", 100.0 * cloth.lengthwise, Percent),
        ("S45", 100.0 * cloth.diagonal, Percent),
        ("m4", means.m4, Ratio),
        ("n4", means.n4, Ratio),
        ("mn", means.mn, Ratio),
    ];
    let figure = joined(&["stays.zones", &count(i), "stretch_percent"]);
    working.add(figure, Rule::StayStretch, &inputs, (100.0 * means.mean, Percent), Source::Orthotropic);
}

fn explain_place(place: &Place, zone: &StayZone, i: usize, working: &mut Working) {
    let figure = |name: &str| joined(&["stays.zones", &count(i), name]);
    let (b, d) = (("b", place.own_width, Mm), ("d", place.stitching, Mm));
    let widest = [d, ("reach", place.reach, Mm)];
    let taken = |x: f64| [("x", x, Mm)];
    let source = match place.measured_from {
        MeasuredFrom::RawEdge => {
            let inputs = [("a", place.stitching, Mm), ("catch", place.reach, Mm), b];
            let source = Source::CommonPractice;
            working.mm(figure("from_edge_mm"), Rule::StayPlace, &inputs, zone.from_edge_mm, source);
            working.mm(figure("tape_width_mm"), Rule::Taken, &taken(place.own_width), zone.tape_width_mm, source);
            source
        }
        MeasuredFrom::TrimmedEdge => {
            let (inputs, source) = ([b, ("widest", zone.widest_tape_mm, Mm)], Source::Judgement);
            working.mm(figure("from_edge_mm"), Rule::Taken, &taken(zone.from_edge_mm), zone.from_edge_mm, source);
            working.mm(figure("tape_width_mm"), Rule::StayWithin, &inputs, zone.tape_width_mm, source);
            source
        }
    };
    working.mm(figure("widest_tape_mm"), Rule::StayWidest, &widest, zone.widest_tape_mm, source);
    let inputs = [("p", zone.from_edge_mm, Mm), ("b", zone.tape_width_mm, Mm), d];
    working.mm(figure("past_stitching_mm"), Rule::StayPast, &inputs, zone.past_stitching_mm, Source::Geometry);
}

fn explain_tape(sides: f64, from: f64, to: f64, zone: &StayZone, i: usize, working: &mut Working) {
    let Some(each) = zone.tape_each_mm else { return };
    let inputs = [("sides", sides, Count), ("from", from, Mm), ("to", to, Mm)];
    working.mm(
        joined(&["stays.zones", &count(i), "tape_each_mm"]),
        Rule::StayTape,
        &inputs,
        each,
        Source::CommonPractice,
    );
}

fn explain_named(given: &Given<'_>, edge: &StayEdge, zone: &StayZone, i: usize, working: &mut Working) {
    let stretch = (zone.stretch_percent, Percent);
    let figure = joined(&["stays.zones", &count(i), "stretch_percent"]);
    working.add(figure, Rule::Taken, &[("x", zone.stretch_percent, Percent)], stretch, Source::Elongation);
    explain_place(&Place::on_seam(edge.allowance_mm, &given.brief.stays), zone, i, working);
    explain_tape(1.0, 0.0, edge.length_mm, zone, i, working);
    if let (Some(before), Some(ratio)) = (edge.gathered_from_mm, zone.gathering_ratio) {
        let inputs = [("before", before, Mm), ("after", edge.length_mm, Mm)];
        let figure = joined(&["stays.zones", &count(i), "gathering_ratio"]);
        working.add(figure, Rule::GatheringRatio, &inputs, (ratio, Ratio), Source::Geometry);
    }
}
