//! What may be stayed, and with what.

use serde::{Deserialize, Serialize};

use super::knit::Direction;
use crate::limits::Limits;

/// Width of stay tape: none is sold narrower than 3 mm (from memory). mm.
pub(crate) const TAPE_WIDTH_MM: Limits = [3.0, 40.0];
/// How far stay tape reaches past the seam line. mm.
pub(crate) const CATCH_MM: Limits = [0.0, 10.0];
/// A shoulder seam's length. mm.
pub(crate) const SHOULDER_LENGTH_MM: Limits = [20.0, 400.0];
/// Most edges that a person may name.
pub(crate) const MOST_EDGES: usize = 12;
/// Length of a named edge. mm.
pub(crate) const EDGE_LENGTH_MM: Limits = [10.0, 2000.0];
/// How far a gathered edge may be drawn up: its length before over its length after.
pub(crate) const MOST_GATHERED: f64 = 8.0;
/// How many such edges a garment may have.
pub(crate) const PIECES: Limits = [1.0, 8.0];

/// What may be stayed, and with what.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Stays {
    /// Width of the stay tape. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(TAPE_WIDTH_MM)))]
    pub tape_width_mm: f64,
    /// How far the stay tape reaches past the seam line, so that the stitching catches it. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(CATCH_MM)))]
    pub catch_mm: f64,
    /// Whether the shoulder seams may be stayed; where one of the edges is a shoulder and is stayed, it takes their place.
    pub shoulders: bool,
    /// The shoulder seam's length. mm; no length of stay tape is given for it where it is absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(SHOULDER_LENGTH_MM)))]
    pub shoulder_length_mm: Option<f64>,
    /// Other edges that the person names.
    #[cfg_attr(feature = "schema", schemars(length(max = MOST_EDGES)))]
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
    /// Length of its seam line; for a gathered section the length between the notches it is drawn up to. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(EDGE_LENGTH_MM)))]
    pub length_mm: f64,
    /// Gathered sections: length along the seam line before gathering. mm, from `length_mm` to 8 times that.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gathered_from_mm: Option<f64>,
    /// Which way the edge runs in the garment's knit.
    pub direction: Direction,
    /// Its seam allowance. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(super::neckline::ALLOWANCE_MM)))]
    pub allowance_mm: f64,
    /// How many such edges the garment has.
    #[serde(default = "default_pieces")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(PIECES)))]
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
