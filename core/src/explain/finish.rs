//! The finish's own figures: all as the brief has them.

use crate::error::Unit::Mm;
use crate::field::joined;
use crate::finish::form::FinishPlan;
use crate::rule::Rule;
use crate::source::Source;
use crate::working::Working;

/// Every figure of the finish.
pub(crate) fn explain(plan: &FinishPlan, working: &mut Working) {
    let mut given = |field: &str, mm: f64| {
        working.mm(joined(&["finish", field]), Rule::AsGiven, &[("x", mm, Mm)], mm, Source::OwnMeasure);
    };
    given("width_mm", plan.width_mm);
    given("turned_under_mm", plan.turned_under_mm);
    if let Some(join) = plan.join_allowance_mm {
        given("join_allowance_mm", join);
    }
}
