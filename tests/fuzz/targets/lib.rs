//! What holds of every brief, whatever stands in it.

mod bring;

pub use bring::bring;

use lieflat::plan::OpeningPlan;
use lieflat::{Brief, Plan};
use serde_json::Value;

/// Plans a brief in every way there is and checks what must hold of the answers.
///
/// # Panics
/// Where something that must hold does not.
pub fn check(brief: &Brief) {
    let whole = lieflat::plan(brief);
    let quick = lieflat::plan_without_ranges(brief);
    match (&whole, &quick) {
        (Ok(whole), Ok(quick)) => {
            check_plan(whole);
            check_alike(whole, quick);
        }
        (Err(whole), Err(quick)) => {
            assert_eq!(whole, quick, "a brief is refused for the same reasons with and without ranges");
            assert!(!whole.errors.is_empty(), "a refusal names at least one problem");
            for error in &whole.errors {
                assert!(!error.field.is_empty(), "a refusal names its field: {error:?}");
                assert!(!error.describe(lieflat::length::LengthUnit::Inch).is_empty(), "a refusal has words");
            }
        }
        _ => panic!("a brief plans with ranges and without, or neither: {whole:?} {quick:?}"),
    }
    let _ = lieflat::told(brief);
    check_round_trip(brief);
}

fn check_plan(plan: &Plan) {
    let json = serde_json::to_value(plan).expect("a plan becomes JSON");
    check_finite(&json, &mut String::new());
    if let Some(strip) = &plan.strip {
        check_range(&strip.cut_length);
        check_range(&strip.cut_width);
    }
}

fn check_range(figure: &lieflat::plan::Figure) {
    let (low, exact, high) = (figure.low_mm, figure.exact_mm, figure.high_mm);
    assert!(low <= exact && exact <= high, "a figure stands within its own range: {figure:?}");
}

/// JSON has no way to write what is not a finite number: it stands there as null, and a plan has no null.
fn check_finite(value: &Value, path: &mut String) {
    let length = path.len();
    match value {
        Value::Null => panic!("{path} is not a finite number"),
        Value::Array(values) => {
            for (i, value) in values.iter().enumerate() {
                *path += &format!("[{i}]");
                check_finite(value, path);
                path.truncate(length);
            }
        }
        Value::Object(fields) => {
            for (name, value) in fields {
                *path += &format!(".{name}");
                check_finite(value, path);
                path.truncate(length);
            }
        }
        _ => {}
    }
}

fn check_alike(whole: &Plan, quick: &Plan) {
    assert_eq!(whole.seam_line, quick.seam_line, "ranges do not touch the seam line");
    let tried = OpeningPlan { remedies: Vec::new(), ..whole.opening.clone() };
    assert_eq!(tried, quick.opening, "ranges do not touch the opening but for its remedies, which are tried one by one");
    assert_eq!(whole.stays, quick.stays, "ranges do not touch the stays");
    // A range may turn the rounding of a cut figure to its other side, never the figure itself.
    let exact = |plan: &Plan| plan.strip.as_ref().map(|s| (s.cut_length.exact_mm, s.cut_width.exact_mm, s.outcome));
    assert_eq!(exact(whole), exact(quick), "what is worked out is the same without ranges");
}

/// What is kept and shared is the brief's JSON: it comes back as it was.
fn check_round_trip(brief: &Brief) {
    let Ok(text) = serde_json::to_string(brief) else { return };
    // Numbers that are not finite are refused above; JSON cannot carry them.
    if let Ok(back) = Brief::from_json(&text) {
        assert_eq!(serde_json::to_string(&back).ok().as_ref(), Some(&text), "a brief comes back as it was written");
    }
}
