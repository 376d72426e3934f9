//! A figure that is cut: exact, rounded and with its range.

use serde::Serialize;

/// A cut figure: exact, rounded to what can be cut, with its range.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Figure {
    /// As worked out. mm.
    pub exact_mm: f64,
    /// Rounded to what can be cut, within the range: to the nearest step of the brief's rounding; where that lies outside
    /// the range, to the next step on the other side; where that does too, to half steps (1/2 mm, 1/16 or 1/32 in) in the same
    /// way. A range that no half step lies in is surer than anyone cuts: then this is the nearest half step, outside the
    /// range by less than a quarter of a step. Without ranges it is the nearest step. mm.
    pub cut_mm: f64,
    /// Low end of the range that the readings leave. mm.
    pub low_mm: f64,
    /// High end. mm.
    pub high_mm: f64,
    /// The reading that matters most: its field in the brief.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_from: Option<String>,
}

/// What moving each reading by its tolerance changes in a figure: the reading's field and the change, mm.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Changes {
    pub below: Vec<(String, f64)>,
    pub above: Vec<(String, f64)>,
}
