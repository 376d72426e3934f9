//! What a new brief begins with, in metric and in inches.

use lieflat::brief::{Outline, Rounding};
use lieflat::example::{brief, brief_in};
use lieflat::habits::{HABITS, System, rounding};
use lieflat::length::{LengthUnit, parse_length_mm};
use lieflat::shown::{Nearness, shown};
use serde_json::Value;

fn in_inches(of: &str, field: &str) -> f64 {
    let habit = HABITS.iter().find(|habit| habit.of == of && habit.field == field);
    habit.unwrap_or_else(|| panic!("{of} begins with a {field}")).mm(System::Inch)
}

/// Common practice, no published source: what patterns in inches ask for. The lengths in mm are the fractions times 25.4.
#[test]
fn in_inches_a_new_brief_begins_with_fractions_of_an_inch() {
    for (of, field, inches, mm) in [
        ("Neckline", "neckline_allowance_mm", "3/8", 9.525),
        ("Half", "shoulder_allowance_mm", "3/8", 9.525),
        ("CentreSeam", "allowance_mm", "3/8", 9.525),
        ("StretchReadings", "rest_mm", "4", 101.6),
        ("Band", "width_mm", "5/8", 15.875),
        ("Band", "join_allowance_mm", "1/4", 6.35),
        ("Bound", "width_mm", "3/8", 9.525),
        ("Tape", "width_mm", "1/2", 12.7),
        ("Facing", "width_mm", "2 1/4", 57.15),
        ("Facing", "understitch_mm", "1/16", 1.5875),
        ("Head", "margin_mm", "3/4", 19.05),
        ("Stays", "tape_width_mm", "3/8", 9.525),
    ] {
        assert!((in_inches(of, field) - mm).abs() < 1e-9, "{of} {field}: {}", in_inches(of, field));
        assert_eq!(shown(mm, LengthUnit::Inch).to_string(), inches, "{of} {field}");
    }
}

#[test]
fn whatever_a_new_brief_begins_with_can_be_shown_exactly_in_its_own_units() {
    for habit in HABITS {
        for (system, units) in [
            (System::Metric, &[LengthUnit::Millimetre, LengthUnit::Centimetre][..]),
            (System::Inch, &[LengthUnit::Inch][..]),
        ] {
            let mm = habit.mm(system);
            for unit in units {
                let seen = shown(mm, *unit);
                let read = parse_length_mm(&seen.text, *unit).expect("what is shown is read");
                let name = (habit.of, habit.field, unit.symbol());
                assert_eq!(seen.nearness, Nearness::Exact, "{name:?}: {seen}");
                assert!((read - mm).abs() < 1e-9, "{name:?}: {mm} mm is shown as {seen}");
            }
        }
    }
}

/// Where a brief says nothing the core takes what a metric brief begins with: a link without it opens as it always has.
#[test]
fn metric_habits_are_what_is_taken_where_nothing_is_said() {
    let schema = lieflat::schema::brief().to_value();
    let mut compared = 0;
    for habit in HABITS {
        // A bound edge is turned under in a new brief and raw in one that does not say so: both older than these habits.
        if (habit.of, habit.field) == ("Bound", "turn_under_mm") {
            continue;
        }
        let taken = schema["$defs"][habit.of]["properties"][habit.field]["default"].as_f64();
        if let Some(taken) = taken {
            compared += 1;
            assert_eq!(taken, habit.metric_mm, "{} {}", habit.of, habit.field);
        }
    }
    assert!(compared >= 7, "only {compared} were compared");
}

#[test]
fn cut_figures_are_rounded_to_what_the_tools_of_each_system_show() {
    assert_eq!(rounding(System::Metric), Rounding::Millimetre, "a metric ruler");
    assert_eq!(rounding(System::Inch), Rounding::EighthInch, "an inch ruler for cutting");
    for (rounding, step) in [(Rounding::EighthInch, 3.175), (Rounding::SixteenthInch, 1.5875)] {
        assert!((rounding.step_mm() - step).abs() < 1e-9, "25.4 mm in so many parts");
        let mut by_eighths = brief_in(System::Inch);
        by_eighths.rounding = rounding;
        let plan = lieflat::plan(&by_eighths).expect("the example is planned");
        let strip = plan.strip.expect("a band");
        for figure in [strip.cut_length, strip.cut_width] {
            let steps = figure.cut_mm / (0.5 * step);
            assert!((steps - steps.round()).abs() < 1e-9, "{} mm is so many half steps of {step} mm", figure.cut_mm);
            assert!((figure.cut_mm - figure.exact_mm).abs() <= step, "{figure:?} is within a step");
        }
    }
}

/// Every length of the example in inches is what an inch tape shows, and in metric whole tenths of a millimetre.
#[test]
fn the_example_is_in_the_measures_of_whoever_looks_at_it() {
    let mut seen = 0;
    for (system, unit) in [(System::Metric, LengthUnit::Millimetre), (System::Inch, LengthUnit::Inch)] {
        let example = brief_in(system);
        assert!(lieflat::plan(&example).is_ok(), "{system:?} is planned");
        let text = serde_json::to_value(&example).expect("a brief is JSON");
        each_length(&text, "", &mut |path, mm| {
            // A change of unit bends no tolerance and no rule.
            if path.starts_with("tolerances") || path.starts_with("rules") {
                return;
            }
            seen += 1;
            let read = parse_length_mm(&shown(mm, unit).text, unit).expect("what is shown is read");
            assert!((read - mm).abs() < 1e-9, "{path}: {mm} mm");
        });
    }
    assert!(seen > 25, "{seen} lengths");
    assert_eq!(brief_in(System::Metric), brief(), "the metric one is the documentation's");
    let Outline::Measured(front) = brief_in(System::Inch).neckline.front.outline else { panic!("measured") };
    assert!((front.half_length_mm - 152.4).abs() < 1e-9, "six inches");
}

fn each_length(value: &Value, path: &str, act: &mut dyn FnMut(&str, f64)) {
    let Value::Object(fields) = value else { return };
    for (name, inner) in fields {
        let at = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
        match inner.as_f64() {
            Some(mm) if name.ends_with("_mm") => act(&at, mm),
            _ => each_length(inner, &at, act),
        }
    }
}
