//! The finishes, one file each.

pub(crate) mod band;
pub(crate) mod bound;
pub(crate) mod facing;
pub(crate) mod shared;
pub(crate) mod tape;

use serde::{Deserialize, Serialize};

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
    /// A strip turned inside onto the garment.
    Tape(Tape),
    /// Shaped pieces turned inside and understitched.
    Facing(Facing),
    /// A strip wrapped round the raw edge.
    Bound(Bound),
}

impl Finish {
    /// Whether the allowance is turned to the inside, which clips must open for and which wants a stable edge.
    #[must_use]
    pub const fn turns_inside(&self) -> bool {
        matches!(self, Self::Tape(_) | Self::Facing(_))
    }
}
