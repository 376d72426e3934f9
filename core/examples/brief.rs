//! Prints the invented example's brief as JSON. What cannot be written is said on standard error as JSON, with exit code 2.

mod output;

use std::process::ExitCode;

fn main() -> ExitCode {
    let brief = serde_json::to_string_pretty(&lieflat::example::brief()).map_err(|error| error.to_string());
    match brief.and_then(|brief| output::say(&brief)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => output::refuse(&serde_json::json!({ "errors": [{ "message": message }] }).to_string()),
    }
}
