//! Prints the plan of a brief as JSON: `plan BRIEF.json`, or `plan -` for standard input.
//! Errors go to standard error as JSON, with exit code 2.

use std::io::Read;
use std::process::ExitCode;

fn main() -> ExitCode {
    match run() {
        Ok(plan) => {
            println!("{plan}");
            ExitCode::SUCCESS
        }
        Err(errors) => {
            eprintln!("{errors}");
            ExitCode::from(2)
        }
    }
}

fn run() -> Result<String, String> {
    let text = read().map_err(|message| in_json(&serde_json::json!({ "errors": [{ "message": message }] })))?;
    let plan = lieflat::Brief::from_json(&text).and_then(|brief| lieflat::plan(&brief));
    plan.map(|plan| in_json(&plan)).map_err(|errors| in_json(&worded(&errors)))
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
    let name = std::env::args().nth(1).ok_or("usage: plan BRIEF.json, or - for standard input")?;
    let mut text = String::new();
    if name == "-" {
        std::io::stdin().read_to_string(&mut text).map_err(|e| e.to_string())?;
    } else {
        text = std::fs::read_to_string(&name).map_err(|e| format!("{name}: {e}"))?;
    }
    Ok(text)
}

fn in_json(value: &impl serde::Serialize) -> String {
    serde_json::to_string_pretty(value).unwrap_or_else(|e| format!("{{\"errors\":[{{\"message\":\"{e}\"}}]}}"))
}
