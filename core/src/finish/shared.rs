//! What several finishes have alike.

use serde::{Deserialize, Serialize};

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
