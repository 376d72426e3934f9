//! Gathers every problem of a brief.

use crate::error::{Accepted, BriefError, Problem, Unit};
use crate::limits::Limits;

/// Gathers every problem of a brief.
#[derive(Debug, Default)]
pub(crate) struct Check {
    pub errors: Vec<BriefError>,
}

impl Check {
    pub(crate) fn add(
        &mut self,
        field: impl Into<String>,
        value: Option<String>,
        problem: Problem,
        accepted: Accepted,
    ) {
        self.errors.push(BriefError::new(field, value, problem, accepted));
    }

    /// A number that will not do.
    pub(crate) fn wrong(&mut self, field: impl Into<String>, value: f64, problem: Problem, accepted: Accepted) {
        self.errors.push(BriefError::of_number(field, value, problem, accepted));
    }

    pub(crate) fn number(&mut self, field: impl Into<String>, value: f64, [min, max]: Limits, unit: Unit) -> bool {
        let problem = if !value.is_finite() {
            Problem::NotFinite
        } else if value < min || value > max {
            Problem::OutOfRange
        } else {
            return true;
        };
        self.wrong(field, value, problem, Accepted::range(min, max, unit));
        false
    }

    pub(crate) fn maybe(&mut self, field: impl Into<String>, value: Option<f64>, limits: Limits, unit: Unit) {
        if let Some(value) = value {
            self.number(field, value, limits, unit);
        }
    }
}
