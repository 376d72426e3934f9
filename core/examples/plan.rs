//! Prints the plan of a brief as JSON: `plan BRIEF.json`, or `plan -` for standard input.
//! Errors go to standard error as JSON, with exit code 2: a brief that is refused, a file that cannot be read, an
//! output that cannot be written. A byte-order mark is read over; a reader that has had enough of the plan is no error.

mod output;

use std::io::Read;
use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(errors) => output::refuse(&errors),
    }
}

fn run() -> Result<(), String> {
    let text = read().map_err(|message| alone(&message))?;
    let plan = lieflat::Brief::from_json(&text).and_then(|brief| lieflat::plan(&brief));
    let plan = plan.map_err(|errors| in_json(&worded(&errors)))?;
    output::say(&in_json(&plan)).map_err(|message| alone(&message))
}

/// An error that is no brief's.
fn alone(message: &str) -> String {
    in_json(&serde_json::json!({ "errors": [{ "message": message }] }))
}

/// The errors with a message in English, lengths in millimetres, beside each.
fn worded(errors: &lieflat::BriefErrors) -> serde_json::Value {
    let each = errors.errors.iter().map(|error| {
        let mut value = serde_json::json!(error);
        let message = error.describe(lieflat::length::LengthUnit::Millimetre);
        if let Some(fields) = value.as_object_mut() {
            fields.insert("message".to_owned(), message.into());
        }
        value
    });
    serde_json::json!({ "errors": each.collect::<Vec<_>>() })
}

fn read() -> Result<String, String> {
    // A file's name need not be UTF-8.
    let names: Vec<_> = std::env::args_os().skip(1).collect();
    let [name] = names.as_slice() else { return Err("usage: plan BRIEF.json, or - for standard input".to_owned()) };
    let mut text = String::new();
    if name == "-" {
        std::io::stdin().read_to_string(&mut text).map_err(|e| format!("standard input: {e}"))?;
    } else {
        text = std::fs::read_to_string(name).map_err(|e| format!("{}: {e}", Path::new(name).display()))?;
    }
    Ok(text)
}

fn in_json(value: &impl serde::Serialize) -> String {
    serde_json::to_string_pretty(value).unwrap_or_else(|e| format!("{{\"errors\":[{{\"message\":\"{e}\"}}]}}"))
}
