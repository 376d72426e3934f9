//! What worked: from how sewn strips came out to the hold that a knit wants in a finish.
//!
//! Each record says how long the line was that the strip's held edge takes up, how long the strip was, and what was
//! seen. A strip that stood away was too long by what could be pinched out of it, one that pulled in too short by what
//! it lacked; so each record tells the hold that would have lain flat: line / (strip - or + by) - 1. These holds are
//! averaged with the rule's own, which weighs as much as [`PRIOR_RECORDS`] of them: with few records the plan stays
//! near the rule, with many it follows what was sewn. It is the mean of a normal distribution with a normal prior (any
//! text on statistics); the two weights are our judgement, no published source.

use serde::Serialize;

use crate::brief::{Brief, Knit};
pub use crate::brief::{SewnFinish, SewnOutcome, SewnRecord, SewnWidth};
use crate::given::Given;
use crate::in_order::in_order;
use crate::narrowing::{LearnedPoisson, NarrowingFrom, Poisson, poisson_ratio};

/// A hold learned from how strips of this knit came out in this finish.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct LearnedHold {
    /// How many records were used.
    pub records: usize,
    /// The mean of the holds they tell. Percent.
    pub mean_percent: f64,
    /// What the rule alone says. Percent.
    pub usual_percent: f64,
    /// The low end of the learned hold's range: two standard deviations. Percent.
    pub low_percent: f64,
    /// The high end. Percent.
    pub high_percent: f64,
}

/// The rule's hold weighs as much as this many records: our judgement.
pub const PRIOR_RECORDS: f64 = 2.0;
/// Standard deviation of the hold that one record tells, a fraction: a strip's length and what is pinched out of it
/// are read to a few mm in some hundred. Our judgement.
pub const RECORD_DEVIATION: f64 = 0.015;
/// A range reaches so many standard deviations either way: about 19 of 20.
pub const RANGE_DEVIATIONS: f64 = 2.0;

impl SewnRecord {
    /// The hold that would have lain flat, by this record. Fraction.
    #[must_use]
    pub fn hold(&self) -> f64 {
        let by = self.by_mm.unwrap_or(0.0);
        let flat_mm = match self.outcome {
            SewnOutcome::LayFlat => self.strip_mm,
            SewnOutcome::StoodAway => self.strip_mm - by,
            SewnOutcome::PulledIn => self.strip_mm + by,
        };
        self.held_line_mm / flat_mm - 1.0
    }
}

impl SewnWidth {
    /// Poisson's ratio by this record: what the strip lost of its width over what it gained in length. 0 to 1.
    #[must_use]
    pub fn poisson_ratio(&self) -> f64 {
        poisson_ratio(self.sewn_mm / self.unnarrowed_mm, 1.0 + self.stretch_percent / 100.0)
    }
}

/// The ratios that a knit's records of widths tell, least first as the holds are.
fn poisson_ratios(knit: &Knit) -> Vec<f64> {
    in_order(knit.learned.iter().filter_map(|record| record.width).map(|width| width.poisson_ratio()))
}

/// How a brief's strip narrows, off by as much as a range wants: as given, read or taken, and where records tell widths as sewn, the mean of theirs and of that,
/// which weighs as much as [`PRIOR_RECORDS`] of them.
pub(crate) fn poisson(given: &Given<'_>) -> Poisson {
    let poisson = told_poisson(given.brief);
    Poisson { ratio: (poisson.ratio + given.poisson_off).clamp(0.0, 1.0), ..poisson }
}

fn told_poisson(brief: &Brief) -> Poisson {
    let knit = strip_knit(brief);
    let usual = Poisson::of(knit, brief.strip_direction);
    let ratios = poisson_ratios(knit);
    if ratios.is_empty() {
        return usual;
    }
    let n = ratios.len() as f64;
    let mean = ratios.iter().sum::<f64>() / n;
    let ratio = (PRIOR_RECORDS * usual.ratio + n * mean) / (PRIOR_RECORDS + n);
    let learned = Some(LearnedPoisson { records: ratios.len(), mean, usual: usual.ratio });
    Poisson { ratio, from: NarrowingFrom::Learned, read: None, learned }
}

/// The knit that a brief's strip is cut from.
pub(crate) fn strip_knit(brief: &Brief) -> &Knit {
    brief.strip_knit.as_ref().unwrap_or(&brief.garment_knit)
}

/// The holds that a brief's records tell for its finish, least first: rounding depends on the order of a sum, and what
/// is learned must not depend on the order of the records. Fractions.
pub(crate) fn holds(given: &Given<'_>) -> Vec<f64> {
    let Some(finish) = given.form.records else { return Vec::new() };
    let records = strip_knit(given.brief).learned.iter().filter(|record| record.finish == finish);
    in_order(records.map(SewnRecord::hold))
}

/// A hold learned from records. Fractions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Learned {
    /// How many records of this knit in this finish.
    pub records: usize,
    /// Mean of the holds they tell.
    pub mean: f64,
    /// What the rule alone says.
    pub usual: f64,
    /// What both say together; no strip is asked to be slack.
    pub hold: f64,
    /// Standard deviation of that.
    pub deviation: f64,
}

impl Learned {
    /// From the records of a brief's strip knit in the brief's finish; none where there are none.
    pub(crate) fn new(given: &Given<'_>, usual: f64) -> Option<Self> {
        let holds = holds(given);
        if holds.is_empty() {
            return None;
        }
        let n = holds.len() as f64;
        let mean = holds.iter().sum::<f64>() / n;
        let weight = PRIOR_RECORDS + n;
        let hold = ((PRIOR_RECORDS * usual + n * mean) / weight).max(0.0);
        Some(Self { records: holds.len(), mean, usual, hold, deviation: RECORD_DEVIATION / weight.sqrt() })
    }

    /// What a plan says of it.
    pub(crate) fn report(&self) -> LearnedHold {
        let (low, high) = self.range();
        LearnedHold {
            records: self.records,
            mean_percent: 100.0 * self.mean,
            usual_percent: 100.0 * self.usual,
            low_percent: 100.0 * low,
            high_percent: 100.0 * high,
        }
    }

    /// The ends of the range.
    pub(crate) fn range(&self) -> (f64, f64) {
        let off = RANGE_DEVIATIONS * self.deviation;
        ((self.hold - off).max(0.0), self.hold + off)
    }
}
