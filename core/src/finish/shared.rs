//! What several finishes have alike.

use serde::{Deserialize, Serialize};

use crate::check::Check;
use crate::error::Unit;
use crate::field::joined;
use crate::limits::Limits;

/// How many layers a band has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Layers {
    /// Folded along the free edge, both raw edges in the seam.
    #[default]
    Folded,
    /// One layer with a finished edge.
    Single,
}

/// A quarter of an inch, the general narrow seam of knits: common practice, no published source.
#[must_use]
pub const fn default_join_allowance_mm() -> f64 {
    6.0
}

/// What may be turned under. mm.
pub(crate) const TURNED_UNDER_MM: Limits = [0.0, 30.0];
/// A join's allowance. mm.
pub(crate) const JOIN_MM: Limits = [0.0, 60.0];
/// A maker's own ratio. Percent.
pub(crate) const RATIO_PERCENT: Limits = [30.0, 120.0];

/// A length of a finish is within its limits.
pub(crate) fn check_mm(check: &mut Check, finish: &str, field: &str, mm: f64, limits: Limits) {
    check.number(joined(&["finish", finish, field]), mm, limits, Unit::Mm);
}

/// A join's allowance and a maker's own ratio are within their limits.
pub(crate) fn check_strip(check: &mut Check, finish: &str, join: f64, ratio: Option<f64>) {
    check_mm(check, finish, "join_allowance_mm", join, JOIN_MM);
    check.maybe(joined(&["finish", finish, "ratio_percent"]), ratio, RATIO_PERCENT, Unit::Percent);
}
