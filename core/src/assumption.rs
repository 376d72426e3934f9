//! What a plan takes for granted.

use serde::Serialize;

use crate::brief::{Direction, Outline};
use crate::given::Given;
use crate::learned::holds;
use crate::lines::Lines;
use crate::strip::rule::StripGiven;

/// Something taken for granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Assumption {
    /// What.
    pub code: AssumptionCode,
}

/// What can be taken for granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum AssumptionCode {
    /// Lengths have no shape: the chosen shape was fitted to them, and the range holds what that may cost.
    Shape,
    /// The finish is cut from the garment's own knit.
    SameKnit,
    /// The recovery of the knit of the finish was not read: 90 percent is taken.
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

/// All that a plan of this brief takes for granted.
pub(crate) fn assumptions(given: &Given<'_>, lines: &Lines) -> Vec<Assumption> {
    // Readings a tape may be off by do not make two halves that cannot be sewn together.
    let apart = (lines.front.1.half_width() - lines.back.1.half_width()).abs();
    let do_not_meet = apart > 10.0_f64.max(2.0 * given.brief.tolerances.reading_mm);
    let brief = given.brief;
    let strip = brief.strip_knit.as_ref().unwrap_or(&brief.garment_knit);
    let outlines = [&brief.neckline.front.outline, &brief.neckline.back.outline];
    let measured = outlines.iter().any(|outline| matches!(outline, Outline::Measured(_)));
    let own_ratio = StripGiven::new(given).is_some_and(|rule| rule.own_ratio.is_some());
    let rows = [
        (measured, AssumptionCode::Shape),
        (brief.strip_knit.is_none(), AssumptionCode::SameKnit),
        (given.strip.recovery.is_none(), AssumptionCode::Recovery),
        (brief.garment_knit.lengthwise.is_none(), AssumptionCode::Lengthwise),
        (strip.thickness_mm.is_none(), AssumptionCode::Thickness),
        (!runs_the_stretchy_way(given), AssumptionCode::StripDirection),
        (do_not_meet, AssumptionCode::Widths),
        (own_ratio, AssumptionCode::OwnRatio),
        (!own_ratio && !holds(given).is_empty(), AssumptionCode::LearnedHold),
        (true, AssumptionCode::Flat),
    ];
    rows.into_iter().filter(|row| row.0).map(|(_, code)| Assumption { code }).collect()
}

/// Whether the strip's length runs where its knit stretches most; said as an assumption where it does not.
fn runs_the_stretchy_way(given: &Given<'_>) -> bool {
    let direction = given.brief.strip_direction;
    direction == Direction::Crosswise || given.strip.one_way(direction) >= given.strip.crosswise
}
