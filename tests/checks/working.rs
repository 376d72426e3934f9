//! The working: each figure recomputed from the numbers its rule says were put in.
#![allow(missing_docs, reason = "a test binary has no public items")]

use lieflat::plan::Step;

/// What a rule gives, by the rule's own words.
fn recompute(step: &Step) -> f64 {
    let n = |symbol: &str| {
        let input = step.inputs.iter().find(|i| i.symbol == symbol);
        input.unwrap_or_else(|| panic!("{} lacks {symbol}", step.figure)).value
    };
    match step.rule {
        "L + a theta - trims" => n("L") + n("a") * n("theta") - n("trims"),
        "2 (front + back)" => 2.0 * (n("front") + n("back")),
        "(L - w theta) / (1 + hold) + limits" => (n("L") - n("w") * n("theta")) / (1.0 + n("hold")) + n("limits"),
        "(L - t theta) / (1 + hold) + limits" => (n("L") - n("t") * n("theta")) / (1.0 + n("hold")) + n("limits"),
        "L ratio" => n("L") * n("ratio"),
        "100 h S / R" => 100.0 * n("h") * n("S") / n("R"),
        "relaxed + 2 end" => n("relaxed") + 2.0 * n("end"),
        "2 (w + a) + turn" => 2.0 * (n("w") + n("a")) + n("turn"),
        "w + a + turned under" => n("w") + n("a") + n("turned under"),
        "w + a" => n("w") + n("a"),
        "2 a theta, where the seam line turns round the opening" => 2.0 * n("a") * n("theta"),
        "smallest ring - (head + margin)" => n("ring") - (n("head") + n("margin")),
        "100 (B - A) / A" => 100.0 * (n("B") - n("A")) / n("A"),
        "100 (B - C) / (B - A)" => 100.0 * (n("B") - n("C")) / (n("B") - n("A")),
        "100 (C - A) / A" => 100.0 * (n("C") - n("A")) / n("A"),
        other => panic!("{}: no such rule: {other}", step.figure),
    }
}

#[test]
fn every_figure_follows_from_its_working() {
    for text in [
        include_str!("../briefs/band-round.json"),
        include_str!("../briefs/tape-v.json"),
        include_str!("../briefs/facing-scoop.json"),
    ] {
        let plan = lieflat::plan(&lieflat::Brief::from_json(text).expect("it reads")).expect("it plans");
        let json = serde_json::to_value(&plan).expect("the plan writes");
        assert!(!plan.working.is_empty(), "there is a working");
        for step in &plan.working {
            let again = recompute(step);
            assert!((again - step.result).abs() < 1e-6, "{}: {again} is not {}", step.figure, step.result);
            let pointer = format!("/{}", step.figure.replace('.', "/"));
            let shown = json.pointer(&pointer).and_then(serde_json::Value::as_f64);
            assert_eq!(shown, Some(step.result), "{} stands in the plan as its working says", step.figure);
            assert!(!step.source.is_empty(), "{} names its source", step.figure);
        }
    }
}

#[test]
fn a_band_that_no_limit_touches_has_exactly_the_length_of_its_rule() {
    // r = (1 - k w) / (1 + hold) integrates to (L - w theta) / (1 + hold): the limits' share is nothing.
    let mut brief = lieflat::example::brief();
    brief.finish = lieflat_tests::band(8.0);
    let plan = lieflat::plan(&brief).expect("it plans");
    let step = plan.working.iter().find(|s| s.figure == "strip.relaxed_length_mm").expect("its working");
    let limits = step.inputs.iter().find(|i| i.symbol == "limits").expect("the limits' share").value;
    assert!(limits.abs() < 1e-6, "limits took {limits} mm");
}
