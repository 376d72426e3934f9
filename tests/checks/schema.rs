//! The published schemas against a general validator of JSON Schema, ajv: of some thousand briefs, good and bad, it takes
//! those that the core takes and refuses those that it refuses, but for what [`BEYOND_SCHEMA`] and [`BEYOND_CORE`] list.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use lieflat::error::Problem;
use lieflat::schema::{BEYOND_CORE, BEYOND_SCHEMA};
use lieflat::{Brief, BriefError, BriefErrors};
use lieflat_tests::brief_cases::texts;
use lieflat_tests::generated::model::Model;
use serde::Serialize;

/// What the general validator says of texts, in their order.
fn valid(schema: &str, texts: &[String]) -> Vec<bool> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut node = Command::new("node")
        .args(["tests/generated/validate.mjs", schema])
        .current_dir(root)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("node runs");
    let lines: String = texts.iter().map(|text| serde_json::json!(text).to_string() + "\n").collect();
    let mut input = node.stdin.take().expect("it listens");
    // In a thread of its own: it answers while it is still being asked.
    let asking = std::thread::spawn(move || input.write_all(lines.as_bytes()));
    let output = node.wait_with_output().expect("it answers");
    asking.join().expect("no panic").expect("it is asked everything");
    assert!(output.status.success(), "the validator works; `bash tests/setup.sh` installs it");
    let said = String::from_utf8(output.stdout).expect("text");
    let said: Vec<bool> = said.lines().map(|line| line == "1").collect();
    assert_eq!(said.len(), texts.len(), "an answer each");
    said
}

/// Which of what a schema cannot say an error is about.
fn beyond(error: &BriefError) -> Option<&'static str> {
    let at = |end: &str| error.field.ends_with(end);
    let out = error.problem == Problem::OutOfRange;
    Some(match &error.problem {
        _ if at(".drawn.path_mm") => "path",
        Problem::NoSuchShape => "no_such_shape",
        Problem::CuspAt { .. } | Problem::CrossesAt { .. } | Problem::NothingLeft => "moved_line",
        // The range that is accepted comes of the line, or no width would do.
        _ if out && at(".facing.width_mm") => "moved_line",
        Problem::StretchedNotLonger => "stretched",
        Problem::RecoveryOverWhole => "released",
        _ if out && at(".shape.corner_radius_mm") => "corner",
        _ if out && at(".readings.stretched_mm") => "stretched",
        _ if out && error.field.contains(".swatch_width.") => "swatch",
        _ if out && at(".width.sewn_mm") => "record",
        _ if out && at(".facing.topstitch_mm") => "topstitch",
        _ if out && at(".gathered_from_mm") => "gathered",
        _ if out && (at(".strip_mm") || at(".by_mm")) => "record",
        Problem::Unreadable => "written",
        _ => return None,
    })
}

/// Which other way of writing a text has, that the core takes and the schema does not.
fn otherwise_written(text: &str) -> Option<&'static str> {
    // The core's own fields hold lists nowhere but in these two.
    let lists = ["\"edges\":[", "\"learned\":["].map(|list| text.matches(list).count()).iter().sum::<usize>();
    if text.matches('[').count() > lists {
        Some("row")
    } else if text.contains("\":null}") {
        Some("null_choice")
    } else {
        None
    }
}

#[test]
fn the_schema_takes_what_the_core_takes_but_for_what_is_listed() {
    let texts = texts(6000, 13);
    let plan = |text: &String| -> Result<_, BriefErrors> {
        Brief::from_json(text).and_then(|brief| lieflat::plan_without_ranges(&brief))
    };
    let mut reasons: BTreeMap<&str, usize> = BTreeMap::new();
    let mut count = |reason| *reasons.entry(reason).or_default() += 1;
    for (text, valid) in texts.iter().zip(valid("www/schema/brief-1.json", &texts)) {
        match (valid, plan(text)) {
            (true, Ok(_)) => count("both take it"),
            (false, Err(_)) => count("both refuse it"),
            (true, Err(errors)) => {
                for error in &errors.errors {
                    count(beyond(error).unwrap_or_else(|| panic!("the schema refuses it too: {errors}\n{text}")));
                }
            }
            (false, Ok(_)) => {
                count(otherwise_written(text).unwrap_or_else(|| panic!("the schema takes it too: {text}")));
            }
        }
    }
    println!("{reasons:?}");
    for (reason, least) in [("both take it", 1000), ("both refuse it", 1000)] {
        assert!(reasons.remove(reason) >= Some(least), "{reason}: at least {least} of {} texts", texts.len());
    }
    let mut listed: Vec<&str> = BEYOND_SCHEMA.iter().chain(&BEYOND_CORE).map(|beyond| beyond.name).collect();
    listed.sort_unstable();
    assert_eq!(reasons.keys().copied().collect::<Vec<_>>(), listed, "each of what is listed occurs, and nothing else");
}

/// JSON texts of values, each of them with no field but those that the schema names.
fn written(values: &[impl Serialize], schema: &lieflat::schema::Schema) -> Vec<String> {
    let model = Model::read(schema.as_value());
    let write = |value| {
        let value = serde_json::to_value(value).expect("it writes");
        assert_eq!(model.strays(&value), [""; 0], "the schema names every field");
        value.to_string()
    };
    values.iter().map(write).collect()
}

#[test]
fn plans_and_errors_are_as_their_schemas_say() {
    let texts = texts(800, 14);
    let (mut plans, mut errors) = (Vec::new(), Vec::new());
    for text in &texts {
        match Brief::from_json(text).and_then(|brief| lieflat::plan(&brief)) {
            Ok(plan) => plans.push(plan),
            Err(error) => errors.push(error),
        }
    }
    assert!(plans.len() > 200 && errors.len() > 200, "{} plans, {} refusals", plans.len(), errors.len());
    for (file, texts) in [
        ("www/schema/plan-1.json", written(&plans, &lieflat::schema::plan())),
        ("www/schema/errors-1.json", written(&errors, &lieflat::schema::errors())),
    ] {
        for (text, valid) in texts.iter().zip(valid(file, &texts)) {
            assert!(valid, "{file}: {text}");
        }
    }
}
