//! The plan: everything worked out from a brief. Lengths are millimetres, strains and ratios fractions.

use serde::Serialize;

#[cfg(feature = "read-plan")]
mod read;

pub use crate::assumption::{Assumption, AssumptionCode};
pub use crate::brief::neckline::HalfName;
pub use crate::clip::{ClipKind, ClipLine, ClipPlan, Cut};
pub use crate::ends::Ends;
pub use crate::facing::{FacingPiece, FacingPlan, Interfacing, Notch};
pub use crate::figure::Figure;
pub use crate::finish::form::{FinishKind, FinishPlan, Side};
pub use crate::knit::{FibreNote, KnitClass, KnitReport, RecoveryVerdict, Suitability};
pub use crate::learned::LearnedHold;
pub use crate::lines::{HalfLine, SeamLine};
pub use crate::narrowing::{Narrowing, NarrowingFrom};
pub use crate::opening::{OpeningPlan, Remedy, StitchAdvice};
use crate::order::step::SewingStep;
pub use crate::rule::Rule;
pub use crate::stay::zone::{Part, StayReason, StayZone};
pub use crate::stay::{GivenUp, StableEdge, StayPlan};
pub use crate::stay_tape::{MeasuredFrom, TapeAtCentre, TapeFit};
pub use crate::strip::cures::Cure;
pub use crate::strip::marks::{Mark, MarkPlace};
pub use crate::strip::parts::{PartLies, StripPart};
pub use crate::strip::spans::{Outcome, Quartered, Span};
pub use crate::strip::{StitchLine, StripPlan, StripRows};
pub use crate::working::{Input, Step};

/// The schema name a plan's JSON carries.
pub const SCHEMA: &str = "lieflat.plan";
/// The schema version a plan's JSON carries.
pub const VERSION: u32 = 1;

/// A schema's name: one of a few, each known when this is compiled. (Written out as a reference it could only be read from text
/// that is never let go.)
pub type SchemaName = &'static str;

/// Everything worked out from a brief.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Plan {
    /// Always this name.
    #[cfg_attr(feature = "schema", schemars(extend("const" = SCHEMA)))]
    #[cfg_attr(feature = "read-plan", serde(deserialize_with = "read::schema"))]
    pub schema: SchemaName,
    /// Always this version.
    #[cfg_attr(feature = "schema", schemars(extend("const" = VERSION)))]
    #[cfg_attr(feature = "read-plan", serde(deserialize_with = "read::version"))]
    pub version: u32,
    /// The brief's title, as given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// The seam line, by halves and whole.
    pub seam_line: SeamLine,
    /// The garment's knit.
    pub garment_knit: KnitReport,
    /// The knit of the strip or facing.
    pub strip_knit: KnitReport,
    /// How the knit suits what the pattern asks; empty where it asks nothing.
    pub suitability: Vec<Suitability>,
    /// What the fibre content tells, as common practice and never as a measurement.
    pub fibre_notes: Vec<FibreNote>,
    /// What the finish is.
    pub finish: FinishPlan,
    /// The strip, for a band, a facing strip or a bound edge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strip: Option<StripPlan>,
    /// The facing, where that is the finish.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub facing: Option<FacingPlan>,
    /// Where to clip the allowance, for a finish that is turned inside.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clips: Option<ClipPlan>,
    /// What to stay.
    pub stays: StayPlan,
    /// Whether the head passes.
    pub opening: OpeningPlan,
    /// The order of work, from washing to the last pressing.
    pub order: Vec<SewingStep>,
    /// What was taken for granted because the brief does not say it.
    pub assumptions: Vec<Assumption>,
    /// For each figure: the rule, the numbers put in, the result, the source.
    #[cfg_attr(feature = "read-plan", serde(default, deserialize_with = "read::passed_over"))]
    pub working: Vec<Step>,
}
