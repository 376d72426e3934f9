//! Paths of a brief's fields and of a plan's figures, as `strip.spans.0.width_mm`.
//!
//! Joined and not formatted: what formats numbers and texts in general would be four kilobytes of the page's download.

use crate::decimal::write;

/// The path of a field within another.
#[inline(never)]
pub(crate) fn under(field: &str, name: &str) -> String {
    joined(&[field, name])
}

/// The path through all of these.
#[inline(never)]
pub(crate) fn joined(names: &[&str]) -> String {
    names.join(".")
}

/// A place in a list, or how many there are.
pub(crate) fn count(n: usize) -> String {
    write(n as f64)
}
