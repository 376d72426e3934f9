//! Briefs as files: those that plan, and those that are refused with every problem named.

use std::fs;
use std::path::{Path, PathBuf};

use lieflat::{Brief, BriefErrors};

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .expect("the folder of briefs is there")
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|e| e == "json"))
        .collect();
    files.sort();
    assert!(!files.is_empty(), "there are briefs to try");
    files
}

fn try_text(text: &str) -> Result<lieflat::Plan, BriefErrors> {
    Brief::from_json(text).and_then(|brief| lieflat::plan(&brief))
}

#[test]
fn worked_briefs_plan_and_round_trip() {
    for path in files("briefs") {
        let text = fs::read_to_string(&path).expect("the brief reads");
        let plan = try_text(&text).unwrap_or_else(|e| panic!("{} is refused: {e}", path.display()));
        assert!(plan.strip.is_some() != plan.facing.is_some(), "{}: a strip or a facing", path.display());
        assert!(plan.working.iter().all(|step| step.result.is_finite()), "{}: the working is finite", path.display());
        let brief = Brief::from_json(&text).expect("it reads");
        let again = serde_json::to_string(&brief).expect("it writes");
        assert_eq!(Brief::from_json(&again).expect("it reads again"), brief, "{}", path.display());
        assert!(brief.title.is_some_and(|t| t.starts_with("Invented")), "{}: marked as invented", path.display());
    }
}

/// A refused brief is a file with the change to the example and the fields that must be named.
#[test]
fn refused_briefs_name_every_field_and_what_is_accepted() {
    let example = serde_json::to_value(lieflat::example::brief()).expect("the example writes");
    for path in files("briefs/refused") {
        let case: serde_json::Value =
            serde_json::from_str(&fs::read_to_string(&path).expect("the case reads")).expect("the case is JSON");
        let mut brief = example.clone();
        for (pointer, value) in case["set"].as_object().expect("changes") {
            let (parent, name) = pointer.rsplit_once('/').expect("a pointer");
            let parent = brief.pointer_mut(parent).unwrap_or_else(|| panic!("{pointer} has a parent"));
            parent.as_object_mut().expect("an object").insert(name.to_owned(), value.clone());
        }
        let errors = try_text(&brief.to_string()).expect_err(&format!("{} is refused", path.display()));
        let fields: Vec<&str> = errors.errors.iter().map(|e| e.field.as_str()).collect();
        let expected: Vec<&str> =
            case["fields"].as_array().expect("fields").iter().filter_map(serde_json::Value::as_str).collect();
        assert_eq!(fields, expected, "{}: {errors}", path.display());
        for error in &errors.errors {
            assert!(
                !error.describe(lieflat::length::LengthUnit::Millimetre).is_empty(),
                "{}: it says something",
                path.display()
            );
            assert!(
                error.accepted != lieflat::error::Accepted::default(),
                "{}: it says what is accepted",
                path.display()
            );
        }
    }
}

#[test]
fn numbers_that_json_cannot_hold_are_refused_by_field() {
    for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1.0] {
        let mut brief = lieflat::example::brief();
        brief.neckline.neckline_allowance_mm = value;
        let errors = lieflat::plan(&brief).expect_err("no such allowance");
        let fields: Vec<&str> = errors.errors.iter().map(|e| e.field.as_str()).collect();
        assert_eq!(fields, ["neckline.neckline_allowance_mm"], "{value}");
    }
}

/// Found by fuzzing: a quicker reader of numbers gives the neighbour of some of those that were written.
#[test]
fn a_number_comes_back_from_json_to_the_last_bit() {
    let mut brief = lieflat::example::brief();
    for number in [1.550_796_326_794_896_3, 1.550_796_326_794_896_5, 0.1 + 0.2, 1.0 / 3.0] {
        brief.rules.turn_per_thickness = number;
        let text = serde_json::to_string(&brief).expect("it writes");
        let back = Brief::from_json(&text).expect("it reads");
        assert_eq!(back.rules.turn_per_thickness.to_bits(), number.to_bits(), "{number} comes back");
    }
}

#[test]
fn refusals_speak_the_persons_unit() {
    use lieflat::length::LengthUnit;
    // To the nearest sixteenth, by 25.4 mm to the inch: 3 mm is 1.89 and 150 mm 94.49 of them.
    let mut brief = lieflat::example::brief();
    brief.finish = lieflat_tests::band(0.0);
    let error = lieflat::plan(&brief).expect_err("no width").errors.remove(0);
    for (unit, range) in [
        (LengthUnit::Millimetre, "3 mm to 150 mm"),
        (LengthUnit::Centimetre, "0.3 cm to 15 cm"),
        // 3 mm are 0.118 in and 150 mm are 5.906 in: no sixteenths.
        (LengthUnit::Inch, "about 1/8 in to about 5 7/8 in"),
    ] {
        assert!(error.describe(unit).contains(range), "{range} is said: {}", error.describe(unit));
    }
    // The ranges of core/REFERENCE.md, each in its own unit.
    let mut brief = lieflat::example::brief();
    brief.neckline.back.shoulder_slope_deg = 50.0;
    brief.garment_knit.elastane_percent = Some(60.0);
    let child = lieflat::brief::HeadGirth::Child { group: lieflat::brief::ChildGroup::Girls, age_months: 61.0 };
    brief.head.girth = child;
    let said = lieflat::plan(&brief).expect_err("three are out of range").to_string();
    for range in ["0° to 45°", "0 % to 50 %", "0 months to 60 months"] {
        assert!(said.contains(range), "{range} is said: {said}");
    }
}

#[test]
fn each_source_has_words_of_its_own_and_admits_memory() {
    let words: std::collections::BTreeSet<&str> = lieflat::Source::ALL.iter().map(|source| source.text()).collect();
    assert_eq!(words.len(), lieflat::Source::ALL.len(), "no two sources say the same");
    // What is not published says so: the habit of DEVELOPERS.md.
    let weak = [lieflat::Source::Judgement, lieflat::Source::CommonPractice, lieflat::Source::OwnRule];
    assert!(weak.iter().all(|source| source.text().contains("no published source")), "as judgement and practice do");
}

#[test]
fn fractions_of_one_sign_are_the_same_as_written_out() {
    use lieflat::length::{LengthUnit, parse_length_mm};
    // By definition an inch is 25.4 mm.
    for (sign, share) in [
        ("½", 1.0 / 2.0),
        ("⅓", 1.0 / 3.0),
        ("⅔", 2.0 / 3.0),
        ("¼", 1.0 / 4.0),
        ("¾", 3.0 / 4.0),
        ("⅛", 1.0 / 8.0),
        ("⅜", 3.0 / 8.0),
        ("⅝", 5.0 / 8.0),
        ("⅞", 7.0 / 8.0),
    ] {
        let read = parse_length_mm(&format!("15 {sign}"), LengthUnit::Inch).expect("it reads");
        assert!((read - 25.4 * (15.0 + share)).abs() < 1e-9, "15 {sign} is {read} mm");
    }
    // A fraction is of whole numbers, written in digits alone.
    for text in ["1/+2", "1/2e1", "1.5/2", "/2", "1/", "nan/2", "1/inf"] {
        assert!(parse_length_mm(text, LengthUnit::Inch).is_err(), "{text} is no fraction");
    }
}

#[test]
fn problems_and_what_is_accepted_have_words_of_their_own() {
    use lieflat::error::{Accepted, AcceptedCode, Problem};
    use lieflat::length::LengthUnit;
    let codes = [
        AcceptedCode::AValue,
        AcceptedCode::ThisSchema,
        AcceptedCode::OtherText,
        AcceptedCode::WidthDepthOrBoth,
        AcceptedCode::OnlyRoundScoopBoat,
        AcceptedCode::OnlySquare,
        AcceptedCode::OnlyV,
        AcceptedCode::PathSyntax,
        AcceptedCode::OneOpenRun,
        AcceptedCode::CoordinatesNear,
        AcceptedCode::CentreToNeck,
        AcceptedCode::OneSide,
        AcceptedCode::NoCrossing,
        AcceptedCode::NoFold,
        AcceptedCode::SmallerAllowances,
        AcceptedCode::NarrowerFacing,
        AcceptedCode::NarrowerBound,
    ];
    let (x_mm, y_mm) = (12.5, 60.0);
    let problems = [
        Problem::Missing,
        Problem::UnknownField,
        Problem::Unreadable,
        Problem::NotFinite,
        Problem::OutOfRange,
        Problem::OtherSchema,
        Problem::NotWithThisShape,
        Problem::StretchedNotLonger,
        Problem::RecoveryOverWhole,
        Problem::NoSuchShape,
        Problem::CuspAt { x_mm, y_mm },
        Problem::CrossesAt { x_mm, y_mm },
        Problem::PathCrossesAt { x_mm, y_mm },
        Problem::PathFoldsAt { x_mm, y_mm },
        Problem::NothingLeft,
        Problem::NotCentreToNeck,
        Problem::PathStrayAt { place: 12, found: "(neck)".to_owned() },
        Problem::PathEndsAt { place: 12 },
        Problem::PathTooLargeAt { place: 12, found: "1e999".to_owned() },
    ];
    let said = |problem: &Problem, accepted| {
        lieflat::BriefError::new("field", None, problem.clone(), accepted).describe(LengthUnit::Centimetre)
    };
    let different = |words: Vec<String>| {
        let count = words.len();
        assert_eq!(words.into_iter().collect::<std::collections::BTreeSet<_>>().len(), count, "no two say the same");
    };
    different(codes.iter().map(|code| said(&Problem::Missing, Accepted::code(*code))).collect());
    different(problems.iter().map(|problem| said(problem, Accepted::default())).collect());
    assert!(problems.iter().all(|p| said(p, Accepted::default()).len() > 12), "a sentence each");
    assert!(codes.iter().all(|code| code.text().len() > 5), "some words each");
    for problem in &problems[10..14] {
        let words = said(problem, Accepted::default());
        assert!(
            words.contains("1.3 cm") && words.contains("6 cm"),
            "the place in the person's unit, to a millimetre: {words}"
        );
    }
    let words = said(&Problem::OtherSchema, Accepted::words(AcceptedCode::ThisSchema, "version 1"));
    assert!(words.ends_with("Accepted: version 1."), "the reader's own words: {words}");
}

#[test]
fn problems_are_told_a_line_each() {
    let mut brief = lieflat::example::brief();
    brief.neckline.neckline_allowance_mm = -1.0;
    brief.head.margin_mm = -1.0;
    brief.rules.hold_share = 2.0;
    let errors = lieflat::plan(&brief).expect_err("three are out of range");
    let told = errors.to_string();
    let lines: Vec<&str> = told.split('\n').collect();
    assert_eq!(lines.len(), 3, "no line is empty, none holds two: {told:?}");
    for (line, error) in lines.iter().zip(&errors.errors) {
        assert!(line.starts_with(&format!("{}: ", error.field)), "the field first: {line}");
    }
}
