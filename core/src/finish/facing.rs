//! A shaped facing: pieces turned inside and understitched.

use serde::{Deserialize, Serialize};

/// An understitched facing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Facing {
    /// Finished width, from seam line to outer edge. mm, 20 to 200.
    pub width_mm: f64,
    /// From the facing's own seam edge to the understitching. mm, 0.5 to 6.
    #[serde(default = "default_understitch_mm")]
    pub understitch_mm: f64,
    /// Turned under at the outer edge. mm, 0 to 30; 0 for an overlocked edge.
    #[serde(default)]
    pub edge_allowance_mm: f64,
    /// From the garment's seam line to a topstitching through garment and facing; none where it is absent. mm, 1 to
    /// 100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub topstitch_mm: Option<f64>,
}

/// 1/16 in, the nearer of the usual 1/16 to 1/8 in: common practice, no published source.
#[must_use]
pub const fn default_understitch_mm() -> f64 {
    1.6
}
