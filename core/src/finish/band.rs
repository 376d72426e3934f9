//! A stretched band that stands toward the neck.

use serde::{Deserialize, Serialize};

use super::shared::{Layers, default_join_allowance_mm};

/// A stretched band.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Band {
    /// Finished width, from seam line to free edge. mm, 3 to 150.
    pub width_mm: f64,
    /// Folded along its free edge, or one layer.
    #[serde(default)]
    pub layers: Layers,
    /// How the ends meet at a point.
    #[serde(default)]
    pub point: PointFinish,
    /// Allowance of the join of the strip's ends. mm, 0 to 60.
    #[serde(default = "default_join_allowance_mm")]
    pub join_allowance_mm: f64,
    /// The maker's own ratio of strip to seam line, in place of the rule. Percent, 30 to 120.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ratio_percent: Option<f64>,
}

/// How a band's ends meet at the point of a V.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum PointFinish {
    /// A seam on the line that halves the point.
    #[default]
    Mitre,
    /// One end over the other, caught in the neckline seam.
    Lap,
}
