//! The order of work, for every finish with and without a point, a centre seam, stays and folds: what must come before what.
//!
//! Published: shoulders taped first and necklines before they are handled (a photo handbook's chapter 'Stretch seams', an
//! N.C. extension leaflet on tailoring); an allowance is trimmed before it is clipped (NMSU C-210; Goodheart-Willcox 2012,
//! p. 452). The rest is common practice, no published source.

use lieflat::brief::{
    Band, Bound, Centre, ChildGroup, Facing, Finish, HeadGirth, Layers, PointFinish, ShapeKind, Tape,
};
use lieflat::order::{Caution, MarkField, SewingStep, StepCode, StepFigure};
use lieflat::plan::MarkPlace;
use lieflat::{Brief, Plan, Source};
use lieflat_tests::{drafted, plain};
use serde_json::Value;

/// Every finish, by what its makers tell apart.
fn finishes() -> Vec<(&'static str, Finish)> {
    let band = |layers, point| {
        Finish::Band(Band { width_mm: 15.0, layers, point, join_allowance_mm: 6.0, ratio_percent: None })
    };
    let tape = |turn_under_mm| {
        Finish::Tape(Tape { width_mm: 12.0, turn_under_mm, join_allowance_mm: 6.0, ratio_percent: None })
    };
    let bound = |layers, turn_under_mm| {
        Finish::Bound(Bound { width_mm: 8.0, layers, turn_under_mm, join_allowance_mm: 6.0, ratio_percent: None })
    };
    let facing = |edge_allowance_mm, topstitch_mm| {
        Finish::Facing(Facing { width_mm: 50.0, understitch_mm: 1.6, edge_allowance_mm, topstitch_mm })
    };
    vec![
        ("folded band, mitred", band(Layers::Folded, PointFinish::Mitre)),
        ("folded band, lapped", band(Layers::Folded, PointFinish::Lap)),
        ("single band", band(Layers::Single, PointFinish::Mitre)),
        ("raw tape", tape(0.0)),
        ("tape turned under", tape(6.0)),
        ("single bound edge", bound(Layers::Single, 0.0)),
        ("bound edge turned under", bound(Layers::Single, 6.0)),
        ("folded bound edge", bound(Layers::Folded, 0.0)),
        ("facing", facing(0.0, None)),
        ("facing turned under and topstitched", facing(6.0, Some(25.0))),
    ]
}

/// Each finish on each neckline, with its centre on the fold or a seam, with and without stays.
fn cases() -> Vec<(String, Brief, Plan)> {
    let mut cases = Vec::new();
    for (name, finish) in finishes() {
        for (shape, point) in [(ShapeKind::Round, false), (ShapeKind::V, true)] {
            for seam in [false, true] {
                for stays in [false, true] {
                    let mut brief = lieflat::example::brief();
                    brief.finish = finish.clone();
                    brief.neckline.front = drafted(88.0, if point { 180.0 } else { 110.0 }, plain(shape));
                    brief.neckline.back = drafted(88.0, 30.0, plain(ShapeKind::Round));
                    for half in [&mut brief.neckline.front, &mut brief.neckline.back] {
                        half.shoulder_allowance_mm = 10.0;
                        half.shoulder_slope_deg = 20.0;
                    }
                    if seam {
                        brief.neckline.front.centre = Centre::Seam { allowance_mm: 10.0 };
                    }
                    brief.stays.shoulders = stays;
                    brief.neckline.neckline_allowance_mm = if stays { 16.0 } else { 8.0 };
                    brief.head.girth = HeadGirth::Child { group: ChildGroup::Girls, age_months: 50.0 };
                    let plan = lieflat::plan(&brief).unwrap_or_else(|e| panic!("{name}: {e}"));
                    cases.push((format!("{name}, {shape:?}, seam {seam}, stays {stays}"), brief, plan));
                }
            }
        }
    }
    cases
}

fn codes(plan: &Plan) -> Vec<StepCode> {
    plan.order.iter().map(|step| step.step).collect()
}

fn find(plan: &Plan, code: StepCode) -> Option<&SewingStep> {
    plan.order.iter().find(|step| step.step == code)
}

/// The first step may come only before the second, where both are there.
const BEFORE: [(StepCode, StepCode); 32] = {
    use StepCode as S;
    [
        // What shrinks after cutting, or is tried after cutting, is too late.
        (S::Wash, S::Sample),
        (S::Sample, S::CutStrip),
        (S::Sample, S::CutFacing),
        // Fusing is done to flat pieces.
        (S::InterfaceFacing, S::FacingShoulders),
        // Tape laid along an edge that is trimmed afterwards is cut off with it.
        (S::TrimEdge, S::Stay),
        // Published: stays before the edge is handled, shoulders before they are sewn.
        (S::Stay, S::Shoulders),
        (S::Stay, S::CentreSeam),
        (S::TrimEdge, S::MarkNeckline),
        (S::FacingShoulders, S::FacingEdgeFlat),
        (S::FacingEdgeUnder, S::SewFacing),
        (S::FacingEdgeFlat, S::SewFacing),
        // A ring and a mitre are sewn through the opened strip, so before it is folded.
        (S::Ring, S::Fold),
        (S::Mitre, S::Fold),
        (S::Ring, S::SewBand),
        (S::Mitre, S::SewBand),
        (S::Fold, S::MarkStrip),
        (S::MarkStrip, S::SewTape),
        // A strip cannot be laid straight along an edge that is not open yet.
        (S::TrimEdge, S::ClipCorners),
        (S::ClipCorners, S::SewBand),
        (S::ClipCorners, S::SewBound),
        // Published: trimmed, then clipped.
        (S::TrimAllowance, S::Clip),
        (S::MarkStops, S::UnderstitchFacing),
        (S::MarkStops, S::UnderstitchStrip),
        (S::SewTape, S::Clip),
        (S::SewFacing, S::Clip),
        // Clipped so that it can be laid to one side, understitched while it can be reached, then turned.
        (S::Clip, S::UnderstitchStrip),
        (S::UnderstitchStrip, S::TurnStrip),
        (S::UnderstitchFacing, S::TurnFacing),
        // A turned strip's open ends lie across the centre seam: it is sewn after, and topstitching holds all of it.
        (S::TurnStrip, S::CatchEnds),
        (S::CatchEnds, S::TopstitchStrip),
        (S::CrossEnds, S::TopstitchStrip),
        (S::Wrap, S::TopstitchBound),
    ]
};

#[test]
fn what_must_come_first_comes_first_for_every_finish() {
    let mut tried = [false; BEFORE.len()];
    for (name, _, plan) in cases() {
        let codes = codes(&plan);
        let at = |code| codes.iter().position(|other| *other == code);
        for ((first, then), tried) in BEFORE.into_iter().zip(&mut tried) {
            if let (Some(a), Some(b)) = (at(first), at(then)) {
                assert!(a < b, "{name}: {first:?} comes before {then:?}");
                *tried = true;
            }
        }
        assert_eq!(at(StepCode::Wash), Some(0), "{name}: washed first of all");
        assert_eq!(at(StepCode::Press), Some(codes.len() - 1), "{name}: pressed last of all");
        for code in &codes {
            let times = codes.iter().filter(|other| *other == code).count();
            assert_eq!(times, 1, "{name}: {code:?} once, with one point and one centre seam");
        }
    }
    let never: Vec<_> = BEFORE.iter().zip(tried).filter(|(_, tried)| !tried).collect();
    assert!(never.is_empty(), "no case tries {never:?}");
}

#[test]
fn every_finish_has_the_steps_a_maker_takes() {
    use StepCode as S;
    let wanted = |name: &str, point: bool, seam: bool| {
        let mut steps = vec![S::Wash, S::Sample, S::Shoulders, S::Press];
        let open = point && name.contains("tape");
        steps.extend((seam && !open).then_some(S::CentreSeam));
        if name.contains("facing") {
            steps.extend([S::CutFacing, S::InterfaceFacing, S::FacingShoulders, S::MatchFacing, S::SewFacing]);
            steps.extend([S::UnderstitchFacing, S::TurnFacing, S::TackFacing]);
            steps.extend(seam.then_some(S::FacingCentre));
            steps.push(if name.contains("under") { S::FacingEdgeUnder } else { S::FacingEdgeFlat });
            steps.extend(name.contains("topstitched").then_some(S::TopstitchFacing));
            return steps;
        }
        steps.extend([S::CutStrip, S::MarkStrip, S::MarkNeckline]);
        steps.push(match (name.contains("folded"), name.contains("under")) {
            (true, _) => S::Fold,
            (false, true) => S::FreeEdgeUnder,
            (false, false) => S::FreeEdge,
        });
        let lapped = point && name.contains("lapped");
        if open {
            steps.extend(if seam { vec![S::LeaveCentreOpen, S::CatchEnds] } else { vec![S::CrossEnds] });
        } else if !lapped {
            steps.push(if point { S::Mitre } else { S::Ring });
        }
        steps.extend(match name {
            name if name.contains("band") && lapped => vec![S::SewLapped, S::Lap, S::PressBand, S::TopstitchBand],
            name if name.contains("band") => vec![S::SewBand, S::PressBand, S::TopstitchBand],
            name if name.contains("tape") => vec![S::SewTape, S::UnderstitchStrip, S::TurnStrip, S::TopstitchStrip],
            _ => vec![S::TrimEdge, S::SewBound, S::Wrap, S::TopstitchBound],
        });
        steps
    };
    for (name, brief, plan) in cases() {
        let seam = brief.neckline.front.centre != Centre::Fold;
        let mut wanted = wanted(&name, name.contains("V,"), seam);
        let clipped = plan.clips.as_ref().is_some_and(|clips| clips.count > 0);
        let turned = matches!(brief.finish, Finish::Tape(_) | Finish::Facing(_));
        wanted.extend(clipped.then_some(if turned { S::Clip } else { S::ClipCorners }));
        // Understitching cannot reach into a point.
        wanted.extend((turned && name.contains("V,")).then_some(S::MarkStops));
        let wide = plan.clips.as_ref().is_some_and(|clips| clips.trim_to_mm.is_some());
        wanted.extend(wide.then_some(S::TrimAllowance));
        wanted.extend((!plan.stays.zones.is_empty()).then_some(S::Stay));
        let mut found = codes(&plan);
        wanted.sort();
        found.sort();
        assert_eq!(found, wanted, "{name}");
    }
}

#[test]
fn a_step_tells_the_plans_own_figures() {
    for (name, brief, plan) in cases() {
        let step = |code| find(&plan, code);
        if let Some(strip) = &plan.strip {
            let cut = step(StepCode::CutStrip).expect("it is cut");
            assert_eq!(cut.figure(StepFigure::Length), Some(strip.cut_length.cut_mm), "{name}: as long as it is cut");
            assert_eq!(cut.figure(StepFigure::Width), Some(strip.cut_width.cut_mm), "{name}: as wide");
            let places = |code| step(code).expect("it is marked").places;
            assert_eq!(places(StepCode::MarkStrip), Some(MarkField::OnStrip), "{name}: along the strip");
            assert_eq!(places(StepCode::MarkNeckline), Some(MarkField::OnSeamLine), "{name}: along its line");
            let topstitch = step(StepCode::TopstitchStrip).map(|step| step.figure(StepFigure::Distance));
            assert_eq!(topstitch, strip.topstitch_mm.map(Some), "{name}: the plan's own distance, not about it");
        }
        let sewn: Vec<Option<f64>> = plan
            .order
            .iter()
            .filter(|step| (StepCode::SewBand..=StepCode::SewFacing).contains(&step.step) && step.step != StepCode::Lap)
            .map(|step| step.figure(StepFigure::Allowance))
            .collect();
        let wanted = match &brief.finish {
            Finish::Bound(bound) => bound.width_mm,
            _ => brief.neckline.neckline_allowance_mm,
        };
        assert_eq!(sewn, [Some(wanted)], "{name}: one seam, its distance from the edge");
        if let Some(stay) = step(StepCode::Stay) {
            assert_eq!(stay.zones, (0..plan.stays.zones.len()).collect::<Vec<_>>(), "{name}: each stay");
            assert_eq!(stay.source, Source::StaysFirst, "{name}: the one with a published source");
        }
        for code in [StepCode::CatchEnds, StepCode::CrossEnds, StepCode::LeaveCentreOpen, StepCode::Mitre] {
            let at = step(code).map(|step| step.at);
            assert!(at.is_none_or(|at| at == Some(MarkPlace::CentreFront)), "{name}: {code:?} at the point");
        }
    }
}

fn numbers(value: &Value, found: &mut Vec<f64>) {
    match value {
        Value::Number(number) => found.extend(number.as_f64()),
        Value::Object(fields) => fields.values().for_each(|value| numbers(value, found)),
        Value::Array(items) => items.iter().for_each(|value| numbers(value, found)),
        _ => {}
    }
}

#[test]
fn no_step_has_a_length_of_its_own() {
    for (name, brief, plan) in cases() {
        let mut steps = serde_json::to_value(&plan.order).expect("it writes");
        let mut rest = plan.clone();
        rest.order.clear();
        let mut known = Vec::new();
        numbers(&serde_json::to_value(&rest).expect("it writes"), &mut known);
        numbers(&serde_json::to_value(&brief).expect("it writes"), &mut known);
        // Indexes and counts are no lengths.
        for step in steps.as_array_mut().into_iter().flatten() {
            let fields = step.as_object_mut().expect("a step");
            fields.retain(|key, _| key.ends_with("_mm") || key.ends_with("_deg"));
        }
        let mut told = Vec::new();
        numbers(&steps, &mut told);
        let new: Vec<f64> = told.into_iter().filter(|mm| mm.fract() != 0.0 && !known.contains(mm)).collect();
        assert!(new.is_empty(), "{name}: {new:?} stand nowhere else in the plan or its brief");
    }
}

#[test]
fn a_caution_stands_once_where_it_first_comes_up() {
    for (name, _, plan) in cases() {
        let told: Vec<(StepCode, Caution)> =
            plan.order.iter().flat_map(|step| step.cautions.iter().map(|caution| (step.step, *caution))).collect();
        for caution in [Caution::Blade, Caution::Iron, Caution::Child] {
            assert_eq!(told.iter().filter(|(_, other)| *other == caution).count(), 1, "{name}: {caution:?} once");
        }
        let ends = told.iter().any(|(_, other)| *other == Caution::Ends);
        assert_eq!(ends, !plan.stays.zones.is_empty(), "{name}: loose ends, where there is tape");
    }
}

#[test]
fn two_points_are_joined_each_for_itself() {
    let mut brief = lieflat::example::brief();
    brief.neckline.front = drafted(88.0, 180.0, plain(ShapeKind::V));
    brief.neckline.back = drafted(88.0, 90.0, plain(ShapeKind::V));
    let at = |brief: &Brief, code: StepCode| {
        let plan = lieflat::plan(brief).expect("it plans");
        let steps = plan.order.iter().filter(|step| step.step == code);
        steps.map(|step| step.at.expect("a centre")).collect::<Vec<_>>()
    };
    let both = [MarkPlace::CentreBack, MarkPlace::CentreFront];
    assert_eq!(at(&brief, StepCode::Mitre), both, "a mitre at each point");
    brief.finish =
        Finish::Tape(Tape { width_mm: 12.0, turn_under_mm: 0.0, join_allowance_mm: 6.0, ratio_percent: None });
    brief.neckline.front.centre = Centre::Seam { allowance_mm: 10.0 };
    assert_eq!(at(&brief, StepCode::LeaveCentreOpen), [MarkPlace::CentreFront], "the front has a seam");
    assert_eq!(at(&brief, StepCode::CatchEnds), [MarkPlace::CentreFront], "which takes the ends in");
    assert_eq!(at(&brief, StepCode::CrossEnds), [MarkPlace::CentreBack], "the back is on the fold");
}
