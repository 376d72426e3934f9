//! A bound edge: a strip wrapped round the raw edge.

use serde::{Deserialize, Serialize};

use super::shared::{Layers, default_join_allowance_mm};

/// A bound edge: the garment is first trimmed to the pattern's seam line, which becomes the finished edge; the
/// strip is sewn a finished width below it, wrapped round the raw edge and caught on the inside.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Bound {
    /// Finished width on each side of the edge. mm, 3 to 40.
    pub width_mm: f64,
    /// One layer, or folded along its length before it is sewn.
    #[serde(default = "default_bound_layers")]
    pub layers: Layers,
    /// One layer only: turned under on the inside. mm, 0 to 30; 0 for a raw or overlocked edge.
    #[serde(default)]
    pub turn_under_mm: f64,
    /// Allowance of the join of the strip's ends. mm, 0 to 60.
    #[serde(default = "default_join_allowance_mm")]
    pub join_allowance_mm: f64,
    /// The maker's own ratio of strip to the line it is sewn on, in place of the rule. Percent, 30 to 120.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ratio_percent: Option<f64>,
}

/// Knits do not fray, so one layer is usual: common practice, no published source.
#[must_use]
pub const fn default_bound_layers() -> Layers {
    Layers::Single
}
