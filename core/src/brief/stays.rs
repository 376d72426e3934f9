//! What may be stayed, and with what.

use serde::{Deserialize, Serialize};

use super::knit::Direction;

/// What may be stayed, and with what.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Stays {
    /// Width of the stay tape. mm, 3 to 40.
    pub tape_width_mm: f64,
    /// How far the stay tape reaches past the seam line, so that the stitching catches it. mm, 0 to 10.
    pub catch_mm: f64,
    /// Whether the shoulder seams may be stayed; where one of the edges is a shoulder and is stayed, it takes their place.
    pub shoulders: bool,
    /// The shoulder seam's length. mm, 20 to 400; no length of stay tape is given for it where it is absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shoulder_length_mm: Option<f64>,
    /// Other edges that the person names. At most 12.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub edges: Vec<StayEdge>,
}

/// An edge that the person names, to be stayed where its stretch wants it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct StayEdge {
    /// Its name, shown and never interpreted.
    pub name: String,
    /// What kind of edge it is.
    pub part: EdgePart,
    /// Length of its seam line; for a gathered section the length between the notches it is drawn up to. mm, 10 to 2000.
    pub length_mm: f64,
    /// Gathered sections: length along the seam line before gathering. mm, from `length_mm` to 8 times that.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gathered_from_mm: Option<f64>,
    /// Which way the edge runs in the garment's knit.
    pub direction: Direction,
    /// Its seam allowance. mm, 0 to 60.
    pub allowance_mm: f64,
    /// How many such edges the garment has. 1 to 8.
    #[serde(default = "default_pieces")]
    pub pieces: u32,
}

/// One edge of the kind.
#[must_use]
pub const fn default_pieces() -> u32 {
    1
}

/// What kind of edge a person names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum EdgePart {
    /// A seam at centre front.
    CentreFrontSeam,
    /// A seam at centre back.
    CentreBackSeam,
    /// A shoulder seam.
    Shoulder,
    /// A section from notch to notch that receives or is drawn up into gathers.
    Gathered,
    /// Any other.
    Other,
}

impl Default for Stays {
    /// Narrow stay tape, 3/8 in wide, caught by 1 mm: common practice, no published source.
    fn default() -> Self {
        Self { tape_width_mm: 9.5, catch_mm: 1.0, shoulders: true, shoulder_length_mm: None, edges: Vec::new() }
    }
}
