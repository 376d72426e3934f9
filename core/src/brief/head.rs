//! The head that must pass the opening.

use serde::{Deserialize, Serialize};

/// The head that must pass the opening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// Whose head.
    pub girth: HeadGirth,
    /// Ease over the head's girth: hair, ears, a hand. mm, 0 to 200.
    #[serde(default = "default_head_margin_mm")]
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
    /// The person's own. mm, 250 to 800.
    OwnMm(f64),
    /// A large head of a group of adults (the 95th percentile).
    Adult(AdultGroup),
    /// A large head of children of an age (median plus two standard deviations).
    Child {
        /// Growth chart.
        group: ChildGroup,
        /// Age. Months, 0 to 60.
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
