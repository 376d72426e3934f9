//! The head that must pass the opening.

use serde::{Deserialize, Serialize};

use crate::limits::Limits;

/// Ease over a head. mm.
pub(crate) const MARGIN_MM: Limits = [0.0, 200.0];
/// A head's girth. mm.
pub(crate) const GIRTH_MM: Limits = [250.0, 800.0];
/// A child's age: as far as the growth charts reach. Months.
pub(crate) const AGE_MONTHS: Limits = [0.0, 60.0];

/// The head that must pass the opening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// Whose head.
    pub girth: HeadGirth,
    /// Ease over the head's girth: hair, ears, a hand. mm.
    #[serde(default = "default_head_margin_mm")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(MARGIN_MM)))]
    pub margin_mm: f64,
}

/// A small ease over the head: our judgement, no published source.
#[must_use]
pub const fn default_head_margin_mm() -> f64 {
    20.0
}

/// A head girth, measured or from reference data.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum HeadGirth {
    /// The person's own. mm.
    OwnMm(#[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(GIRTH_MM)))] f64),
    /// A large head of a group of adults (the 95th percentile).
    Adult(AdultGroup),
    /// A large head of children of an age (median plus two standard deviations).
    Child {
        /// Growth chart.
        group: ChildGroup,
        /// Age. Months.
        #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(AGE_MONTHS)))]
        age_months: f64,
    },
}

/// Adults with reference data.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum AdultGroup {
    /// Women.
    Women,
    /// Men.
    Men,
}

/// Children with reference data.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum ChildGroup {
    /// Girls.
    Girls,
    /// Boys.
    Boys,
}
