//! The knits: how they stretch and how strips cut from them came out.

use serde::{Deserialize, Serialize};

use crate::limits::Limits;

/// Thickness taken where none was read: a single jersey, our judgement. mm.
pub const USUAL_THICKNESS_MM: f64 = 0.8;
/// Recovery taken where none was read: our judgement. Fraction.
pub const USUAL_RECOVERY: f64 = 0.9;
/// Thickness of a layer. mm.
pub(crate) const THICKNESS_MM: Limits = [0.0, 10.0];
/// A share of elastane. Percent.
pub(crate) const ELASTANE_PERCENT: Limits = [0.0, 50.0];
/// Marks on the cloth at rest. mm.
pub(crate) const REST_MM: Limits = [20.0, 1000.0];
/// The same marks, stretched: up to [`MOST_TIMES_REST`] times as far apart. mm.
pub(crate) const STRETCHED_MM: Limits = [REST_MM[0], MOST_TIMES_REST * REST_MM[1]];
/// How far a knit may be stretched, over its length at rest.
pub(crate) const MOST_TIMES_REST: f64 = 5.0;
/// A stretch. Percent.
pub(crate) const STRETCH_PERCENT: Limits = [0.0, 400.0];
/// A recovery. Percent.
pub(crate) const RECOVERY_PERCENT: Limits = [1.0, 100.0];
/// Poisson's ratio.
pub(crate) const POISSON_RATIO: Limits = [0.0, 1.0];
/// A swatch's width at rest. mm.
pub(crate) const SWATCH_WIDTH_MM: Limits = [5.0, 1000.0];
/// A stretched swatch's width over that at rest, at the least.
pub(crate) const SWATCH_KEEPS: f64 = 1.0 / 3.0;
/// A strip's finished width in a record. mm.
pub(crate) const RECORD_WIDTH_MM: Limits = [2.0, 200.0];
/// A strip's mean stretch once sewn, in a record of its width. Percent.
pub(crate) const RECORD_STRETCH_PERCENT: Limits = [1.0, 200.0];
/// The line that a strip's held edge takes up. mm.
pub(crate) const HELD_LINE_MM: Limits = [100.0, 4000.0];
/// The least that can be pinched out of a strip, or that it can be told to lack. mm.
pub(crate) const LEAST_BY_MM: f64 = 0.5;

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
    /// Which kind of knit it is; a plain jersey is taken where it is not told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<KnitKind>,
    /// Poisson's ratio, where somebody worked it out; before a swatch's width.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub poisson_ratio: Option<PoissonRatio>,
    /// How wide the swatch of the stretch test was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub swatch_width: Option<SwatchWidths>,
    /// Thickness of one layer. mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(THICKNESS_MM)))]
    #[cfg_attr(feature = "schema", schemars(extend("default" = USUAL_THICKNESS_MM)))]
    pub thickness_mm: Option<f64>,
    /// Elastane in the yarn, for the notes alone. Percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(ELASTANE_PERCENT)))]
    pub elastane_percent: Option<f64>,
    /// How strips cut from this knit came out.
    #[cfg_attr(feature = "schema", schemars(length(max = MOST_RECORDS)))]
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub learned: Vec<SewnRecord>,
}

/// Kinds of knit, as far as they narrow alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum KnitKind {
    /// A single jersey and the like: narrows about as much as most cloth.
    Jersey,
    /// A rib: hardly narrows when it is stretched crosswise.
    Rib,
    /// An interlock or another double jersey.
    Interlock,
}

/// How much a knit narrows when it is stretched: the strain across over the strain along.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PoissonRatio {
    /// Stretched crosswise. A ratio.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(POISSON_RATIO)))]
    pub crosswise: Option<f64>,
    /// Stretched lengthwise. A ratio.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(POISSON_RATIO)))]
    pub lengthwise: Option<f64>,
}

/// How wide the swatch of a stretch test was, each way that it was stretched.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SwatchWidths {
    /// Stretched crosswise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crosswise: Option<SwatchWidth>,
    /// Stretched lengthwise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lengthwise: Option<SwatchWidth>,
}

/// A swatch's width in its middle, at rest and stretched as far as in the stretch test.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SwatchWidth {
    /// At rest. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(SWATCH_WIDTH_MM)))]
    pub rest_mm: f64,
    /// Stretched: a third of that to the whole of it. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::at_least(1.0)))]
    pub stretched_mm: f64,
}

/// Stretch in one direction, by readings or as percentages.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Stretch {
    /// Marks on the cloth, read with a ruler.
    Readings {
        /// Between the marks at rest. mm.
        #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(REST_MM)))]
        rest_mm: f64,
        /// Between the marks, pulled to where the knit resists comfortably. mm, from the rest length to 5 times that.
        #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(STRETCHED_MM)))]
        stretched_mm: f64,
        /// Between the marks after letting go.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        released_mm: Option<f64>,
    },
    /// Percentages somebody else worked out.
    Percent {
        /// Stretch. Percent.
        #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(STRETCH_PERCENT)))]
        stretch_percent: f64,
        /// Share of the stretch given back. Percent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(RECOVERY_PERCENT)))]
        #[cfg_attr(feature = "schema", schemars(extend("default" = 100.0 * USUAL_RECOVERY)))]
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
#[cfg_attr(feature = "schema", schemars(transform = by_unless_flat))]
#[serde(deny_unknown_fields)]
pub struct SewnRecord {
    /// Which finish it was.
    pub finish: SewnFinish,
    /// The plan's `strip.held_line_mm`: the length that the strip's held edge took up, all round. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(HELD_LINE_MM)))]
    pub held_line_mm: f64,
    /// The strip as sewn, relaxed, all round, without joins and ends. mm, 0.6 to 1.3 times the held line.
    pub strip_mm: f64,
    /// What was seen.
    pub outcome: SewnOutcome,
    /// Stood away: what could be pinched out of the strip, all round; pulled in: what it lacked. mm, up to a quarter of the
    /// strip. Needed with both, and absent where it lay flat.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::at_least(LEAST_BY_MM)))]
    pub by_mm: Option<f64>,
    /// How wide it came out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Option<SewnWidth>,
    /// When, shown and never interpreted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recorded: Option<String>,
}

/// How wide a sewn strip came out, beside what its plan reckoned with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SewnWidth {
    /// As sewn, from the seam to the free edge: the mean of a few places. mm, a third to one and a tenth of the next.
    pub sewn_mm: f64,
    /// The plan's `strip.narrowing.width_unnarrowed_mm`. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(RECORD_WIDTH_MM)))]
    pub unnarrowed_mm: f64,
    /// The plan's `strip.narrowing.stretch_percent`. Percent.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(RECORD_STRETCH_PERCENT)))]
    pub stretch_percent: f64,
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
    /// Crosswise. Percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(STRETCH_PERCENT)))]
    pub crosswise_percent: Option<f64>,
    /// Lengthwise. Percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(STRETCH_PERCENT)))]
    pub lengthwise_percent: Option<f64>,
}

#[cfg(feature = "schema")]
use in_schema::by_unless_flat;

/// What the JSON Schema asks of a record besides its fields.
#[cfg(feature = "schema")]
mod in_schema {
    use schemars::Schema;
    use serde_json::json;

    use crate::brief::knit::SewnOutcome;
    use crate::limits::{has_none, has_number};

    /// A record says by how much unless the strip lay flat.
    pub(crate) fn by_unless_flat(schema: &mut Schema) {
        let flat = json!({ "properties": { "outcome": { "const": SewnOutcome::LayFlat } } });
        schema.insert("if".to_owned(), flat);
        schema.insert("then".to_owned(), has_none("by_mm"));
        schema.insert("else".to_owned(), has_number("by_mm"));
    }
}
