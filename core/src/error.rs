//! What can be wrong with a brief, as values: the field, what was found there, what is accepted.

use core::fmt;

use serde::Serialize;

use crate::length::{LengthUnit, format_length};

/// What a number in a brief counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Percent.
    Percent,
    /// Degrees.
    Deg,
    /// A plain fraction or ratio.
    Ratio,
    /// Months of age.
    Months,
    /// A count.
    Count,
}

/// What was wrong at a field.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Problem {
    /// A value is needed and there is none.
    Missing,
    /// The field is not one of this schema's fields.
    UnknownField,
    /// The text is not readable as a brief or as this field's kind of value.
    Unreadable,
    /// The number is not a finite number.
    NotFinite,
    /// The number is outside what is accepted.
    OutOfRange,
    /// The schema's name or version is another one.
    OtherSchema,
    /// The value does not belong with another field, which is named.
    NotWith(String),
    /// The stretched length is not longer than the length at rest.
    StretchedNotLonger,
    /// The length after release is under the length at rest: a recovery over 100 percent.
    RecoveryOverWhole,
    /// No neckline of this shape has these lengths together.
    NoSuchShape,
    /// The curve turns away too tightly for the allowance or width: the offset makes a cusp there.
    CuspAt {
        /// Where, outward from the centre line.
        x_mm: f64,
        /// Where, down from the neck point.
        y_mm: f64,
    },
    /// The offset line crosses itself near this place.
    CrossesAt {
        /// Where, outward from the centre line.
        x_mm: f64,
        /// Where, down from the neck point.
        y_mm: f64,
    },
    /// The allowances leave nothing of this edge.
    NothingLeft,
    /// A drawn path does not start on the centre line or end at the neck point.
    NotCentreToNeck,
}

/// What would be accepted instead.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Accepted {
    /// Least accepted value, in `unit`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min: Option<f64>,
    /// Greatest accepted value, in `unit`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max: Option<f64>,
    /// The unit of `min` and `max`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<Unit>,
    /// In words, where a range does not say it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub words: Option<String>,
}

impl Accepted {
    /// A range, ends included.
    #[must_use]
    pub fn range(min: f64, max: f64, unit: Unit) -> Self {
        Self { min: Some(min), max: Some(max), unit: Some(unit), words: None }
    }

    /// Something that only words can say.
    #[must_use]
    pub fn words(words: impl Into<String>) -> Self {
        Self { words: Some(words.into()), ..Self::default() }
    }

    /// What is accepted, in the person's length unit.
    #[must_use]
    pub fn describe(&self, lengths: LengthUnit) -> String {
        let show = |value| format_value(value, self.unit.unwrap_or(Unit::Ratio), lengths);
        match (&self.words, self.min, self.max) {
            (Some(words), _, _) => words.clone(),
            (None, Some(min), Some(max)) => format!("{} to {}", show(min), show(max)),
            (None, Some(min), None) => format!("{} or more", show(min)),
            (None, None, Some(max)) => format!("at most {}", show(max)),
            (None, None, None) => String::new(),
        }
    }
}

/// One thing wrong with a brief.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BriefError {
    /// The field's path in the brief's JSON, such as `neckline.front.outline.measured.half_length_mm`.
    pub field: String,
    /// What stood there, as text; none where nothing did.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<String>,
    /// What was wrong with it.
    pub problem: Problem,
    /// What is accepted.
    pub accepted: Accepted,
    /// The whole in English, lengths in millimetres.
    pub message: String,
}

impl BriefError {
    /// Puts an error together and words it in millimetres.
    #[must_use]
    pub fn new(field: impl Into<String>, value: Option<String>, problem: Problem, accepted: Accepted) -> Self {
        let mut error = Self { field: field.into(), value, problem, accepted, message: String::new() };
        error.message = error.describe(LengthUnit::Millimetre);
        error
    }

    /// The error in words, lengths in the person's unit: what was wrong, and what is accepted.
    #[must_use]
    pub fn describe(&self, lengths: LengthUnit) -> String {
        let wrong = self.problem.describe(lengths);
        let accepted = self.accepted.describe(lengths);
        if accepted.is_empty() { format!("{wrong}.") } else { format!("{wrong}. Accepted: {accepted}.") }
    }
}

impl Problem {
    fn describe(&self, lengths: LengthUnit) -> String {
        let place = |x, y| {
            format!(
                "{} out from the centre line, {} down from the neck point",
                format_value(x, Unit::Mm, lengths),
                format_value(y, Unit::Mm, lengths)
            )
        };
        match self {
            Self::Missing => "A value is needed here".to_owned(),
            Self::UnknownField => "This field is not part of a brief".to_owned(),
            Self::Unreadable => "This cannot be read".to_owned(),
            Self::NotFinite => "This is not a number".to_owned(),
            Self::OutOfRange => "This is outside what makes sense here".to_owned(),
            Self::OtherSchema => "This is not a brief of this version".to_owned(),
            Self::NotWith(other) => format!("This does not go with {other}"),
            Self::StretchedNotLonger => "The stretched length is shorter than the length at rest".to_owned(),
            Self::RecoveryOverWhole => {
                "The length after release is outside the lengths at rest and stretched: recovery would be over 100 or under 0 percent".to_owned()
            }
            Self::NoSuchShape => "No neckline of this shape has these lengths together".to_owned(),
            Self::CuspAt { x_mm, y_mm } => {
                format!("The line moved by this much folds back on itself {}", place(*x_mm, *y_mm))
            }
            Self::CrossesAt { x_mm, y_mm } => {
                format!("The line moved by this much crosses itself {}", place(*x_mm, *y_mm))
            }
            Self::NothingLeft => "The allowances leave nothing of this edge".to_owned(),
            Self::NotCentreToNeck => "The path does not run between the centre line and the neck point".to_owned(),
        }
    }
}

fn format_value(value: f64, unit: Unit, lengths: LengthUnit) -> String {
    let plain = || format!("{}", (value * 1000.0).round() / 1000.0);
    match unit {
        Unit::Mm => format!("{} {}", format_length(value, lengths), lengths.symbol()),
        Unit::Percent => format!("{} %", plain()),
        Unit::Deg => format!("{}°", plain()),
        Unit::Months => format!("{} months", plain()),
        Unit::Ratio | Unit::Count => plain(),
    }
}

/// Everything wrong with a brief, together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BriefErrors {
    /// The problems, in the order of the brief's fields; never empty.
    pub errors: Vec<BriefError>,
}

impl fmt::Display for BriefErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, error) in self.errors.iter().enumerate() {
            let end = if i + 1 < self.errors.len() { "\n" } else { "" };
            write!(f, "{}: {}{end}", error.field, error.message)?;
        }
        Ok(())
    }
}

impl core::error::Error for BriefErrors {}

impl From<BriefError> for BriefErrors {
    fn from(error: BriefError) -> Self {
        Self { errors: vec![error] }
    }
}
