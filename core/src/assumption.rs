//! What a plan takes for granted.

use serde::Serialize;

/// Something taken for granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Assumption {
    /// What.
    pub code: AssumptionCode,
}

/// What can be taken for granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum AssumptionCode {
    /// Lengths have no shape: the chosen shape was fitted to them, and the range holds what that may cost.
    Shape,
    /// The strip is cut from the garment's own knit.
    SameKnit,
    /// The strip's recovery was not read: 90 percent is taken.
    Recovery,
    /// The garment's lengthwise stretch was not read: half the crosswise is taken.
    Lengthwise,
    /// The knit's thickness was not read: 0.8 mm is taken.
    Thickness,
    /// The strip does not run where its knit stretches most.
    StripDirection,
    /// At the seam line front and back end too far apart to meet at the neck point.
    Widths,
    /// The maker's own ratio was used in place of the rule.
    OwnRatio,
    /// The hold comes from records of how this knit came out in this finish.
    LearnedHold,
    /// Pieces are reckoned flat: cloth bends without changing its curves.
    Flat,
}
