//! What would cure a strip that does not lie flat.

use serde::Serialize;

use crate::brief::knit::Direction;

/// What would cure a strip that does not lie flat.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Cure {
    /// A narrower strip: at most this finished width. mm.
    Narrower(f64),
    /// A stretchier strip: at least this stretch in its length. Percent.
    Stretchier(f64),
    /// The rule instead of the maker's ratio.
    UseTheRule,
    /// The strip cut with its length another way in its knit.
    OtherDirection(Direction),
    /// A shaped facing.
    Facing,
}
