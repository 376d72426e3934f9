//! A facing strip: a narrow strip turned inside onto the garment.

use serde::{Deserialize, Serialize};

use super::shared::default_join_allowance_mm;

/// A facing strip: turned inside, as narrow and straight as a tape, whose name it has in the brief.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Tape {
    /// Finished width, from seam line to free edge. mm, 3 to 80.
    pub width_mm: f64,
    /// Turned under at the free edge. mm, 0 to 30; 0 for a raw or overlocked edge.
    #[serde(default)]
    pub turn_under_mm: f64,
    /// Allowance of the join of the strip's ends. mm, 0 to 60.
    #[serde(default = "default_join_allowance_mm")]
    pub join_allowance_mm: f64,
    /// The maker's own ratio of strip to seam line, in place of the rule. Percent, 30 to 120.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ratio_percent: Option<f64>,
}
