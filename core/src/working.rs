//! The working: for each figure its rule, the numbers put in, the result and the source, as data.

use crate::error::Unit;
use crate::plan::{Input, Step};

/// Gathers the steps of a plan.
#[derive(Debug, Default)]
pub(crate) struct Working {
    pub steps: Vec<Step>,
}

/// What the design of this project rests on where no published source has the rule.
pub(crate) const OWN_RULE: &str = "our rule, from the geometry of a strip along a curve; no published source";
/// A rule of the trade.
pub(crate) const COMMON: &str = "common practice, no published source";
/// Steiner's formula.
pub(crate) const STEINER: &str = "Steiner's formula for parallel curves";

impl Working {
    /// Adds one figure.
    pub(crate) fn add(
        &mut self,
        figure: &'static str,
        rule: &'static str,
        inputs: &[(&'static str, f64, Unit)],
        result: f64,
        unit: Unit,
        source: &'static str,
    ) {
        let inputs = inputs.iter().map(|&(symbol, value, unit)| Input { symbol, value, unit }).collect();
        self.steps.push(Step { figure, rule, inputs, result, unit, source });
    }
}
