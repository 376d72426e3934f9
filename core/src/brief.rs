//! The brief: everything a person tells us, as they know it and before any check.
//!
//! Field names carry their units. Unknown fields are refused. What a number may be stands beside its field as its limits, for
//! the check (the module `given`, which turns a brief into checked values) and for the schema alike; nothing here reckons.

pub(crate) mod head;
#[cfg(feature = "json")]
mod json;
pub(crate) mod knit;
pub(crate) mod neckline;
pub(crate) mod rules;
pub(crate) mod stays;

use serde::{Deserialize, Serialize};

pub use crate::finish::{
    Band, Bound, Facing, Finish, Layers, PointFinish, Tape, default_bound_layers, default_join_allowance_mm,
    default_understitch_mm,
};
use crate::limits::Limits;
pub use head::{AdultGroup, ChildGroup, Head, HeadGirth, default_head_margin_mm};
pub use knit::{
    Direction, Knit, KnitKind, PatternAsks, PoissonRatio, SewnFinish, SewnOutcome, SewnRecord, SewnWidth, Stretch,
    SwatchWidth, SwatchWidths,
};
pub use neckline::{
    Centre, Drafted, Drawn, Half, HalfName, Measured, Neckline, Outline, ReadingsAt, Shape, ShapeKind,
    default_shoulder_slope_deg,
};
pub use rules::{Rounding, Rules, Tolerances};
pub use stays::{EdgePart, StayEdge, Stays, default_pieces};

/// A zigzag's swing from side to side. mm.
pub(crate) const ZIGZAG_WIDTH_MM: Limits = [0.1, 10.0];
/// A zigzag's advance in one swing. mm.
pub(crate) const ZIGZAG_ADVANCE_MM: Limits = [0.2, 10.0];

/// The schema name a brief's JSON carries.
pub const SCHEMA: &str = "lieflat.brief";
/// The schema version a brief's JSON carries.
pub const VERSION: u32 = 1;

/// Everything the person tells us.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Brief {
    /// Always this name.
    #[cfg_attr(feature = "schema", schemars(extend("const" = SCHEMA)))]
    pub schema: String,
    /// Always this version.
    #[cfg_attr(feature = "schema", schemars(extend("const" = VERSION)))]
    pub version: u32,
    /// A name for the brief, shown and never interpreted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// The neckline's outline and allowances.
    pub neckline: Neckline,
    /// The knit the garment is cut from.
    pub garment_knit: Knit,
    /// The knit the strip or facing is cut from; the garment's own where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strip_knit: Option<Knit>,
    /// Which way the strip's length runs in its knit.
    #[serde(default)]
    pub strip_direction: Direction,
    /// How the neckline is finished.
    pub finish: Finish,
    /// The stitch of the neckline seam.
    #[serde(default)]
    pub stitch: Stitch,
    /// The head that must pass.
    pub head: Head,
    /// Which parts may be stayed.
    #[serde(default)]
    pub stays: Stays,
    /// The stretch the pattern asks of the garment's knit, where it says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pattern_asks: Option<PatternAsks>,
    /// What cut figures are rounded to.
    #[serde(default)]
    pub rounding: Rounding,
    /// How far each reading may be off.
    #[serde(default)]
    pub tolerances: Tolerances,
    /// The constants of the rules, the person's to change.
    #[serde(default)]
    pub rules: Rules,
}

/// The neckline seam's stitch.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Stitch {
    /// Lockstitch, ISO 4915 stitch type 301.
    Straight,
    /// Zigzag lockstitch, ISO 4915 stitch type 304.
    Zigzag {
        /// Swing from side to side. mm.
        #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(ZIGZAG_WIDTH_MM)))]
        width_mm: f64,
        /// Advance along the seam in one swing. mm.
        #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(ZIGZAG_ADVANCE_MM)))]
        advance_mm: f64,
    },
    /// Overedge, ISO 4915 stitch types 504 and 514.
    #[default]
    Overlock,
}
