//! The knits: how they stretch and how strips cut from them came out.

use serde::{Deserialize, Serialize};

/// A knit: how it stretches and how thick it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Knit {
    /// A name, shown and never interpreted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Stretch across the wales, along the courses: usually the stretchier way.
    pub crosswise: Stretch,
    /// Stretch along the wales; half the crosswise stretch is taken where it was not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lengthwise: Option<Stretch>,
    /// Stretch at 45 degrees; the mean of the other two is taken where it was not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diagonal: Option<Stretch>,
    /// Thickness of one layer. mm, 0 to 10; 0.8 is taken where it was not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness_mm: Option<f64>,
    /// Elastane in the yarn, for the notes alone. Percent, 0 to 50.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elastane_percent: Option<f64>,
    /// How strips cut from this knit came out. At most 200.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub learned: Vec<SewnRecord>,
}

/// Stretch in one direction, by readings or as percentages.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Stretch {
    /// Marks on the cloth, read with a ruler.
    Readings {
        /// Between the marks at rest. mm, 20 to 1000.
        rest_mm: f64,
        /// Between the marks, pulled to where the knit resists comfortably. mm, at least the rest length.
        stretched_mm: f64,
        /// Between the marks after letting go.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        released_mm: Option<f64>,
    },
    /// Percentages somebody else worked out.
    Percent {
        /// Stretch. Percent, 0 to 400.
        stretch_percent: f64,
        /// Share of the stretch given back. Percent, 1 to 100; 90 is taken where it is not known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        recovery_percent: Option<f64>,
    },
}

/// Which way in the knit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// Across the wales.
    #[default]
    Crosswise,
    /// Along the wales.
    Lengthwise,
    /// At 45 degrees to both.
    Diagonal,
}

/// Most records one knit may carry.
pub(crate) const MOST_RECORDS: usize = 200;

/// How one sewn strip came out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SewnRecord {
    /// Which finish it was.
    pub finish: SewnFinish,
    /// The plan's `strip.held_line_mm`: the length that the strip's held edge took up, all round. mm, 100 to 4000.
    pub held_line_mm: f64,
    /// The strip as sewn, relaxed, all round, without joins and ends. mm, 0.6 to 1.3 times the held line.
    pub strip_mm: f64,
    /// What was seen.
    pub outcome: SewnOutcome,
    /// Stood away: what could be pinched out of the strip, all round; pulled in: what it lacked. mm, above 0, up to a
    /// quarter of the strip. Needed with both, and with neither of them absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_mm: Option<f64>,
    /// When, shown and never interpreted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recorded: Option<String>,
}

/// The finishes that have a strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum SewnFinish {
    /// A stretched band.
    Band,
    /// A facing strip, turned inside.
    Tape,
    /// A bound edge.
    Bound,
}

/// How a sewn strip lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum SewnOutcome {
    /// It lay flat.
    LayFlat,
    /// It was too long.
    StoodAway,
    /// It was too short.
    PulledIn,
}

/// The stretch a pattern asks of its knit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PatternAsks {
    /// Crosswise. Percent, 0 to 400.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crosswise_percent: Option<f64>,
    /// Lengthwise. Percent, 0 to 400.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lengthwise_percent: Option<f64>,
}
