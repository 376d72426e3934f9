//! The finishes, one file each, over one normal form.
//!
//! The rest of the core reads [`form::Form`] and asks no further which finish it is. A finish's own file holds what a person
//! tells of it, its limits, its width to cut and the order of its work.

pub(crate) mod band;
pub(crate) mod bound;
pub(crate) mod facing;
pub(crate) mod form;
pub(crate) mod one;
pub(crate) mod shared;
pub(crate) mod tape;

use serde::{Deserialize, Serialize};

use one::OneFinish;

pub use band::{Band, PointFinish};
pub use bound::{Bound, default_bound_layers};
pub use facing::{Facing, default_understitch_mm};
pub use shared::{Layers, default_join_allowance_mm};
pub use tape::Tape;

/// The finishes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Finish {
    /// A stretched band that stands toward the neck.
    Band(Band),
    /// A strip wrapped round the raw edge.
    Bound(Bound),
    /// A strip turned inside onto the garment.
    Tape(Tape),
    /// Shaped pieces turned inside and understitched.
    Facing(Facing),
}

impl Finish {
    /// The one place where the finishes part.
    pub(crate) fn one(&self) -> &dyn OneFinish {
        match self {
            Self::Band(band) => band,
            Self::Bound(bound) => bound,
            Self::Tape(tape) => tape,
            Self::Facing(facing) => facing,
        }
    }
}
