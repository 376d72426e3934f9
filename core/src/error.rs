//! What can be wrong with a brief, as values: the field, what was found there, what is accepted.

use core::fmt;

use serde::Serialize;

use crate::decimal;
use crate::length::LengthUnit;
use crate::shown::shown;

/// What a number in a brief counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    /// The value does not belong with the shape that was chosen.
    NotWithThisShape,
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
    /// A drawn path crosses itself near this place.
    PathCrossesAt {
        /// Where, outward from the centre line.
        x_mm: f64,
        /// Where, down from the neck point.
        y_mm: f64,
    },
    /// A drawn path folds back on itself at this place: no allowance can be set off along it.
    PathFoldsAt {
        /// Where, outward from the centre line.
        x_mm: f64,
        /// Where, down from the neck point.
        y_mm: f64,
    },
    /// The text of a drawn path has something in it that is no part of a path there.
    PathStrayAt {
        /// Where, in characters of the text from 1.
        place: usize,
        /// What stands there: up to 12 characters, or another character with its code.
        found: String,
    },
    /// The text of a drawn path ends where a number is still missing.
    PathEndsAt {
        /// The place after its last character, counted from 1.
        place: usize,
    },
    /// A number in the text of a drawn path is too large to be reckoned with.
    PathTooLargeAt {
        /// Where, in characters of the text from 1.
        place: usize,
        /// The number, up to 12 characters of it.
        found: String,
    },
}

/// What is accepted where a range does not say it: a key for whoever words it in another language.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum AcceptedCode {
    /// Any value: one is needed.
    AValue,
    /// This schema's name or version.
    ThisSchema,
    /// What the reader of the text expected; the words say it.
    OtherText,
    /// The half width, the depth, or both.
    WidthDepthOrBoth,
    /// Only with a round, a scoop or a boat neck.
    OnlyRoundScoopBoat,
    /// Only with a square neck.
    OnlySquare,
    /// Only with a V.
    OnlyV,
    /// A path in SVG's syntax.
    PathSyntax,
    /// One open run of at least `min` and at most `max` segments.
    OneOpenRun,
    /// Coordinates near the neck point.
    CoordinatesNear,
    /// A path from the centre line out to the neck point, which lies above it.
    CentreToNeck,
    /// A path that stays on its own side of the centre line.
    OneSide,
    /// A path that does not cross itself.
    NoCrossing,
    /// A path that does not fold back on itself.
    NoFold,
    /// Smaller allowances, or a larger or gentler outline.
    SmallerAllowances,
    /// A narrower facing, or another finish.
    NarrowerFacing,
    /// A narrower bound edge, or another finish.
    NarrowerBound,
}

impl AcceptedCode {
    /// In English, `{min}` and `{max}` for the ends of the range.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::AValue => "a value",
            Self::ThisSchema => "this schema's name and version",
            Self::OtherText => "other text",
            Self::WidthDepthOrBoth => "the half width, the depth, or both",
            Self::OnlyRoundScoopBoat => "only with round, scoop and boat",
            Self::OnlySquare => "only with square",
            Self::OnlyV => "only with v",
            Self::PathSyntax => "a path in SVG's syntax, such as M 0 95 C 50 95 88 60 88 0",
            Self::OneOpenRun => "one open run of {min} to {max} segments",
            Self::CoordinatesNear => "coordinates within {max} of the neck point",
            Self::CentreToNeck => "a path from x = 0 (the centre line) out to the neck point, which lies above it",
            Self::OneSide => "a path that stays on its own side of the centre line",
            Self::NoCrossing => "a path that does not cross itself",
            Self::NoFold => "a path that does not fold back on itself",
            Self::SmallerAllowances => "smaller allowances, or a larger or gentler outline",
            Self::NarrowerFacing => "a narrower facing, or another finish",
            Self::NarrowerBound => "a narrower bound edge, or another finish",
        }
    }
}

/// What would be accepted instead.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    /// What, where a range does not say it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub code: Option<AcceptedCode>,
    /// The reader's own English words, with [`AcceptedCode::OtherText`] and [`AcceptedCode::ThisSchema`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub words: Option<String>,
}

impl Accepted {
    /// A range, ends included.
    #[must_use]
    pub fn range(min: f64, max: f64, unit: Unit) -> Self {
        Self { min: Some(min), max: Some(max), unit: Some(unit), code: None, words: None }
    }

    /// Something that only words can say.
    #[must_use]
    pub fn code(code: AcceptedCode) -> Self {
        Self { code: Some(code), ..Self::default() }
    }

    /// A range that its words say.
    #[must_use]
    pub fn range_of(code: AcceptedCode, [min, max]: [f64; 2], unit: Unit) -> Self {
        Self { code: Some(code), ..Self::range(min, max, unit) }
    }

    /// Something only known as text.
    #[must_use]
    pub fn words(code: AcceptedCode, words: impl Into<String>) -> Self {
        Self { words: Some(words.into()), ..Self::code(code) }
    }

    /// What is accepted, in the person's length unit.
    #[must_use]
    pub fn describe(&self, lengths: LengthUnit) -> String {
        let show = |value| format_value(value, self.unit.unwrap_or(Unit::Ratio), lengths);
        if let Some(words) = &self.words {
            return words.clone();
        }
        match (self.code, self.min, self.max) {
            (Some(code), min, max) => {
                let said = |end: Option<f64>| end.map(show).unwrap_or_default();
                code.text().replace("{min}", &said(min)).replace("{max}", &said(max))
            }
            (None, Some(min), Some(max)) => format!("{} to {}", show(min), show(max)),
            (None, Some(min), None) => format!("{} or more", show(min)),
            (None, None, Some(max)) => format!("at most {}", show(max)),
            (None, None, None) => String::new(),
        }
    }
}

/// One thing wrong with a brief.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
}

impl BriefError {
    /// Puts an error together.
    #[must_use]
    pub fn new(field: impl Into<String>, value: Option<String>, problem: Problem, accepted: Accepted) -> Self {
        Self { field: field.into(), value, problem, accepted }
    }

    /// The same of a number that will not do.
    pub(crate) fn of_number(field: impl Into<String>, value: f64, problem: Problem, accepted: Accepted) -> Self {
        Self::new(field, Some(decimal::write(value)), problem, accepted)
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
            Self::NotWithThisShape => "This does not go with this shape".to_owned(),
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
            Self::PathCrossesAt { x_mm, y_mm } => format!("The path crosses itself {}", place(*x_mm, *y_mm)),
            Self::PathFoldsAt { x_mm, y_mm } => format!("The path folds back on itself {}", place(*x_mm, *y_mm)),
            Self::PathStrayAt { place, found } => {
                format!("At character {place} of the path stands \"{found}\", which is no part of a path")
            }
            Self::PathEndsAt { place } => format!("The path ends before character {place}, where a number is missing"),
            Self::PathTooLargeAt { place, found } => {
                format!("The number \"{found}\" at character {place} of the path is too large")
            }
            Self::NothingLeft => "The allowances leave nothing of this edge".to_owned(),
            Self::NotCentreToNeck => "The path does not run between the centre line and the neck point".to_owned(),
        }
    }
}

fn format_value(value: f64, unit: Unit, lengths: LengthUnit) -> String {
    let plain = || format!("{}", (value * 1000.0).round() / 1000.0);
    match unit {
        Unit::Mm => format!("{} {}", shown(value, lengths), lengths.symbol()),
        Unit::Percent => format!("{} %", plain()),
        Unit::Deg => format!("{}°", plain()),
        Unit::Months => format!("{} months", plain()),
        Unit::Ratio | Unit::Count => plain(),
    }
}

/// Everything wrong with a brief, together.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BriefErrors {
    /// The problems, in the order of the brief's fields; never empty.
    pub errors: Vec<BriefError>,
}

impl fmt::Display for BriefErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, error) in self.errors.iter().enumerate() {
            let end = if i + 1 < self.errors.len() { "\n" } else { "" };
            write!(f, "{}: {}{end}", error.field, error.describe(LengthUnit::Millimetre))?;
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
