//! Neckline and edge-finish arithmetic: from a few readings, a draft or a drawing to what to cut.
//!
//! [`plan()`] turns a [`Brief`], what a person knows, into a [`Plan`], what they can cut and sew. Lengths are
//! millimetres, strains and ratios fractions or percent as their names say. A half neckline runs from the centre
//! line (x = 0) to the neck point, x outward and y down.
//!
//! ```
//! let plan = lieflat::plan(&lieflat::example::brief())?;
//! // Laid flat and joined at 20 degree shoulders, a round neck turns by about 280 degrees, not 360.
//! assert!((plan.seam_line.whole_turning_deg - 280.0).abs() < 1.0, "two halves of 70 + 70 degrees");
//! # Ok::<(), lieflat::BriefErrors>(())
//! ```
#![forbid(unsafe_code)]

mod assumption;
pub mod brief;
mod check;
mod clip;
mod curve;
pub mod decimal;
mod ends;
pub mod error;
pub mod example;
mod explain;
mod facing;
mod field;
mod figure;
mod finish;
mod girth;
mod given;
pub mod habits;
mod in_order;
pub mod knit;
pub mod learned;
pub mod length;
mod limits;
mod lines;
pub mod narrowing;
pub mod opening;
pub mod order;
mod outline;
pub mod path;
pub mod plan;
mod range;
mod reckon;
mod remedy;
mod ring;
mod rounding;
mod rule;
#[cfg(feature = "schema")]
pub mod schema;
mod seam_line;
pub mod shown;
pub mod sizes;
pub mod source;
mod stay;
mod stay_tape;
mod strip;
mod told;
mod typeset;
mod working;

pub use brief::Brief;
pub use error::{BriefError, BriefErrors};
pub use plan::Plan;
pub use reckon::{plan, plan_without_ranges, plan_without_working};
pub use source::Source;
pub use told::{Told, ToldHalf, told};
