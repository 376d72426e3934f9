//! The marks of a strip and of the line it is sewn on.

use serde::Serialize;

/// The places marks stand at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum MarkPlace {
    /// Centre back.
    CentreBack,
    /// Neck point.
    NeckPoint,
    /// Centre front.
    CentreFront,
    /// In between, where an even spread would be off.
    Between,
}

/// A mark on the strip and its twin on the seam line.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Mark {
    /// Where.
    pub place: MarkPlace,
    /// Which of those in between it is, counted from centre back from 1 on; none where its place has a name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<usize>,
    /// Along the relaxed strip from centre back. mm.
    pub on_strip_mm: f64,
    /// Along the line it is sewn on from centre back: the seam line, or a bound edge's stitch line. mm.
    pub on_seam_line_mm: f64,
}
