//! What a strip does between two neighbouring marks.

use serde::Serialize;

use super::marks::MarkPlace;

/// What an edge does along a span.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// The free edge is in hold and nothing is over-stretched.
    LiesFlat,
    /// The free edge is slack.
    StandsAway,
    /// An edge is stretched past its comfortable share.
    PullsIn,
}

/// The stretch of seam line between two neighbouring marks.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Span {
    /// Its end nearer centre back.
    pub from: MarkPlace,
    /// Its end nearer centre front.
    pub to: MarkPlace,
    /// Length of seam line. mm.
    pub seam_line_mm: f64,
    /// Relaxed length of strip. mm.
    pub strip_mm: f64,
    /// Relaxed strip over seam line. Percent.
    pub ratio_percent: f64,
    /// Least strain of the free edge in the span. Percent; under 0 is slack.
    pub free_edge_least_percent: f64,
    /// Greatest strain of the free edge in the span. Percent.
    pub free_edge_most_percent: f64,
    /// Greatest strain of the seam edge in the span. Percent.
    pub seam_edge_most_percent: f64,
    /// What the strip does there.
    pub outcome: Outcome,
    /// How high the free edge stands off the flat at its worst place. mm.
    pub stands_off_mm: f64,
    /// Slack length in the free edge over the span. mm.
    pub slack_mm: f64,
}
