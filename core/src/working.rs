//! The working: for each figure its rule, the numbers put in, the result and the source, as data.

use std::borrow::Cow;

use serde::Serialize;

use crate::brief::Rounding;
use crate::error::Unit;
use crate::field::under;
use crate::figure::{Changes, Figure};
use crate::rounding::{Way, rounded};
use crate::rule::Rule;
use crate::source::Source;

/// One number put into a rule.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Input {
    /// The symbol in the rule; in a range, the reading's field in the brief.
    pub symbol: Cow<'static, str>,
    /// Its value.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
}

/// One line of the working.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Step {
    /// Which figure, as its path in the plan.
    pub figure: String,
    /// The rule; [`Rule::formula`] writes it with its symbols.
    pub rule: Rule,
    /// The numbers put in.
    pub inputs: Vec<Input>,
    /// What comes out.
    pub result: f64,
    /// The result's unit.
    pub unit: Unit,
    /// What the rule rests on.
    pub source: Source,
}

/// Gathers the steps of a plan.
#[derive(Debug, Default)]
pub(crate) struct Working {
    pub steps: Vec<Step>,
}

impl Working {
    /// Adds one figure.
    pub(crate) fn add(
        &mut self,
        figure: impl Into<String>,
        rule: Rule,
        inputs: &[(&'static str, f64, Unit)],
        result: (f64, Unit),
        source: Source,
    ) {
        let inputs = inputs.iter().map(|&(symbol, value, unit)| Input { symbol: symbol.into(), value, unit });
        self.push(figure.into(), rule, inputs.collect(), result, source);
    }

    fn push(&mut self, figure: String, rule: Rule, inputs: Vec<Input>, (result, unit): (f64, Unit), source: Source) {
        self.steps.push(Step { figure, rule, inputs, result, unit, source });
    }

    /// Adds a length, mm.
    pub(crate) fn mm(
        &mut self,
        figure: impl Into<String>,
        rule: Rule,
        inputs: &[(&'static str, f64, Unit)],
        result: f64,
        source: Source,
    ) {
        self.add(figure, rule, inputs, (result, Unit::Mm), source);
    }

    /// Adds how a cut figure is rounded and how its range comes about: what each reading changes, low and high.
    pub(crate) fn cut_figure(&mut self, figure: &str, of: &Figure, changes: &Changes, rounding: Rounding) {
        let exact = ("exact", of.exact_mm, Unit::Mm);
        let to = rounded(rounding, of.exact_mm, of.low_mm, of.high_mm);
        let rule = match to.way {
            Way::Nearest => Rule::Rounded,
            Way::Down => Rule::RoundedDown,
            Way::Up => Rule::RoundedUp,
        };
        let inputs = [exact, ("step", to.step, Unit::Mm)];
        self.mm(under(figure, "cut_mm"), rule, &inputs, of.cut_mm, Source::Geometry);
        for (end, rule, changes, result) in [
            ("low_mm", Rule::RangeLow, &changes.below, of.low_mm),
            ("high_mm", Rule::RangeHigh, &changes.above, of.high_mm),
        ] {
            let of_reading =
                |(field, by): &(String, f64)| Input { symbol: field.clone().into(), value: *by, unit: Unit::Mm };
            let start = Input { symbol: exact.0.into(), value: exact.1, unit: exact.2 };
            let inputs = core::iter::once(start).chain(changes.iter().map(of_reading)).collect();
            self.push(under(figure, end), rule, inputs, (result, Unit::Mm), Source::SumOfSquares);
        }
    }
}
