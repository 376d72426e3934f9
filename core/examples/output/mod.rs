//! What the examples write, and how they end: shared by them, no example itself.

use std::io::{self, ErrorKind, Write};
use std::process::ExitCode;

/// How a run that could not do what was asked ends.
pub(crate) const REFUSED: u8 = 2;

/// Writes a line to standard output. A reader that has closed its end has had enough, which is no error.
pub(crate) fn say(text: &str) -> Result<(), String> {
    let mut out = io::stdout().lock();
    match writeln!(out, "{text}").and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(format!("standard output: {error}")),
        _ => Ok(()),
    }
}

/// Ends a run whose errors are these. Where they cannot be written either, the exit code says it alone.
pub(crate) fn refuse(errors: &str) -> ExitCode {
    let _ = writeln!(io::stderr(), "{errors}");
    ExitCode::from(REFUSED)
}
