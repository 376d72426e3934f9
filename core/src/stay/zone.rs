//! One part to stay.

use serde::Serialize;

use crate::stay_tape::{MeasuredFrom, TapeAtCentre, TapeFit};

/// The parts that can be stayed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Both shoulder seams.
    Shoulders,
    /// The back neckline.
    BackNeckline,
    /// The legs of a V, or the sides of another front neckline.
    FrontSides,
    /// The lowest part of the front neckline, where it runs crosswise, or the point of a V.
    FrontCentre,
    /// A seam at centre front.
    CentreFrontSeam,
    /// A seam at centre back.
    CentreBackSeam,
    /// A gathered section.
    Gathered,
    /// Another edge that the person names.
    Other,
}

/// Why a part is stayed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum StayReason {
    /// Shoulders carry the garment.
    CarriesTheGarment,
    /// The finish wants a stable edge and the knit stretches along the seam there.
    StableEdge,
    /// A point is pulled open from both sides.
    Point,
    /// The knit recovers poorly, and an edge left live would grow.
    PoorRecovery,
    /// The edge receives gathers, whose weight would draw it out.
    Gathers,
}

/// One part to stay.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct StayZone {
    /// Which part; its twin on the other side is included in the stay tape's length.
    pub part: Part,
    /// The person's own name for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Why.
    pub reason: StayReason,
    /// The knit's mean stretch in the seam's own direction. Percent.
    pub stretch_percent: f64,
    /// Start along the half seam line from centre back; none for shoulders. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_mm: Option<f64>,
    /// End along the half seam line from centre back; none for shoulders. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to_mm: Option<f64>,
    /// Length of each piece of stay tape, along the seam line and with what a mitre takes up (of each row of stitching where no
    /// stay tape fits); none where the seam's length is not known. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tape_each_mm: Option<f64>,
    /// How many such pieces.
    pub pieces: u32,
    /// Which edge the stay tape's place is measured from.
    pub measured_from: MeasuredFrom,
    /// From that edge to the stay tape's nearer side. mm.
    pub from_edge_mm: f64,
    /// Width of the stay tape that is laid: the brief's, on a bound edge no wider than lies within the binding. mm.
    pub tape_width_mm: f64,
    /// How far the stay tape reaches past the line of stitching, toward the garment; negative where the stitching runs
    /// outside the stay tape. mm.
    pub past_stitching_mm: f64,
    /// The widest stay tape that fits: on a seam it lies on the allowance and reaches past the seam line by the catch, on a
    /// bound edge it lies within the stitching. mm.
    pub widest_tape_mm: f64,
    /// Whether the brief's stay tape fits.
    pub fit: TapeFit,
    /// How the stay tape lies at the centre; none where it does not come there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_centre: Option<TapeAtCentre>,
    /// Whether the curve is so tight that the stay tape needs snips or must be cut on the bias.
    pub snip_or_bias: bool,
    /// Snips in each piece of a straight stay tape that let it lie along the curve, made only where the line is curved; 0 where
    /// it lies by itself.
    pub snips: u32,
    /// Gathered sections: length before over length after.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gathering_ratio: Option<f64>,
    /// The zone along the seam line, in the half's own frame. mm.
    pub line: Vec<[f64; 2]>,
    /// The tape as it is laid, closed, in the half's own frame; at the centre it is cut or folded on the centre line.
    /// None for shoulders and named edges. mm.
    pub outline: Vec<[f64; 2]>,
}
