//! Lengths as people write them: millimetres, centimetres, inches with fractions.
//!
//! The core reckons in millimetres. This file is the only place that turns text into millimetres, so that every field and
//! every message agrees; how millimetres are shown is in the module `shown`.

use core::fmt;

use serde::{Deserialize, Serialize};

use crate::decimal;
use crate::typeset::{lowered_digit, plain_text, raised_digit};

/// Millimetres in one inch, exact by the international yard and pound agreement of 1959.
pub const MM_PER_INCH: f64 = 25.4;

/// The unit a person reads and writes lengths in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Centimetres.
    Centimetre,
    /// Inches of 25.4 mm.
    Inch,
}

impl LengthUnit {
    /// Millimetres in one of this unit.
    #[must_use]
    pub const fn in_mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Inch => MM_PER_INCH,
        }
    }

    /// The unit's symbol as written after a number.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Inch => "in",
        }
    }
}

/// Why a text is not a length.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LengthError {
    /// Nothing was written.
    Empty,
    /// The text is no number, fraction or whole number with a fraction.
    NotANumber,
    /// A fraction's lower number is zero.
    ZeroDenominator,
    /// The number is too large to be a length.
    TooLarge,
    /// A fraction's upper number is the larger one, and may be a whole number and a fraction run together: `61/4` for
    /// `6 1/4`. Both values it may have, in what is read: mm of a length.
    Either {
        /// As a whole number and a fraction.
        apart: f64,
        /// As one fraction.
        together: f64,
    },
}

impl LengthError {
    /// The same of a number so many times as large.
    fn times(self, by: f64) -> Self {
        match self {
            Self::Either { apart, together } => Self::Either { apart: by * apart, together: by * together },
            other => other,
        }
    }
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Empty => "nothing is written here",
            Self::NotANumber => "this is not a number such as 15.5, 15,5 or 15 3/8",
            Self::ZeroDenominator => "the lower number of the fraction is zero",
            Self::TooLarge => "this number is too large",
            Self::Either { apart, together } => return write!(f, "this may be {apart} or {together}"),
        })
    }
}

impl core::error::Error for LengthError {}

/// Reads a plain number as people write it: `15.5`, `15,5`, `15 3/8`, `15-3/8`, `15⅜`, `15³⁄₈`, `3/8`, `-2`.
///
/// A comma is a decimal comma; grouping marks are not accepted, since `1,234` would be ambiguous. Typeset text is read
/// as what it means: spaces of any width, the dashes U+2010 to U+2013 and U+2212 as a minus sign, the fraction and
/// division slash, full-width forms, Arabic-Indic digits with their decimal separator; marks that only set a direction
/// are passed over. What is not read to its end is refused. A fraction of one and more is refused where it may be a whole
/// number and a fraction run together (`61/4`); the fraction slash of Unicode joins all digits before it (chapter 6.2).
///
/// # Errors
/// A [`LengthError`] that says why the text is not a number.
pub fn parse_number(text: &str) -> Result<f64, LengthError> {
    joined(text, read_number(&plain_text(text)))
}

/// What was read of a text, where the fraction slash of Unicode says that all digits before it are one number.
fn joined(text: &str, read: Result<f64, LengthError>) -> Result<f64, LengthError> {
    match read {
        Err(LengthError::Either { together, .. }) if text.chars().any(|c| c == '\u{2044}') => Ok(together),
        read => read,
    }
}

/// Reads a number in plain characters.
fn read_number(text: &str) -> Result<f64, LengthError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(LengthError::Empty);
    }
    let (sign, text) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let (whole, fraction) = split_fraction(text).map_err(|error| error.times(sign))?;
    let whole = if whole.is_empty() && fraction.is_some() { 0.0 } else { parse_decimal(whole)? };
    let value = sign * (whole + fraction.unwrap_or(0.0));
    // Hundreds of digits are infinite, and two such numbers make a fraction of no value.
    if value.is_nan() || value.abs() > MOST {
        return Err(LengthError::TooLarge);
    }
    Ok(value)
}

/// Reads a length as people write it and returns millimetres.
///
/// The text may carry its own unit (`mm`, `cm`, `in`, `inch`, `inches`, `"`, `″`, `㎜`, `㎝`), which wins over `unit`
/// and may end in a point. The number is read as [`parse_number`] reads it.
///
/// ```
/// use lieflat::length::{parse_length_mm, LengthUnit};
/// assert_eq!(parse_length_mm("15 3/8", LengthUnit::Inch), Ok(15.375 * 25.4));
/// assert_eq!(parse_length_mm("39,5 cm", LengthUnit::Inch), Ok(395.0));
/// assert!(parse_length_mm("about ten", LengthUnit::Inch).is_err());
/// ```
///
/// # Errors
/// A [`LengthError`] that says why the text is not a length.
pub fn parse_length_mm(text: &str, unit: LengthUnit) -> Result<f64, LengthError> {
    const SUFFIXES: [(&str, LengthUnit); 10] = [
        ("mm", LengthUnit::Millimetre),
        ("㎜", LengthUnit::Millimetre),
        ("cm", LengthUnit::Centimetre),
        ("㎝", LengthUnit::Centimetre),
        ("inches", LengthUnit::Inch),
        ("inch", LengthUnit::Inch),
        ("in", LengthUnit::Inch),
        ("\"", LengthUnit::Inch),
        ("″", LengthUnit::Inch),
        ("”", LengthUnit::Inch),
    ];
    let lower = plain_text(text).to_ascii_lowercase();
    let lower = lower.trim();
    let lower = lower.strip_suffix('.').filter(|rest| !rest.is_empty() && !rest.ends_with('.')).unwrap_or(lower);
    for (suffix, own) in SUFFIXES {
        if let Some(number) = lower.strip_suffix(suffix) {
            // A unit alone is something written, though no number.
            let number =
                read_number(number).map_err(|e| if e == LengthError::Empty { LengthError::NotANumber } else { e });
            return joined(text, in_mm(number, own));
        }
    }
    joined(text, in_mm(read_number(lower), unit))
}

/// What was read in a unit, in millimetres.
fn in_mm(read: Result<f64, LengthError>, unit: LengthUnit) -> Result<f64, LengthError> {
    let by = unit.in_mm();
    read.map(|number| by * number).map_err(|error| error.times(by))
}

/// Splits `15 3/8`, `15-3/8`, `15⅜`, `15³/₈` or `3/8` into its whole part's text and its fraction's value.
fn split_fraction(text: &str) -> Result<(&str, Option<f64>), LengthError> {
    let (whole, fraction) = if let Some(glyph) = text.chars().next_back().filter(|c| fraction_glyph(*c).is_some()) {
        (text.strip_suffix(glyph).unwrap_or_default().trim_end_matches(PARTS), fraction_glyph(glyph))
    } else if let Some((before, denominator)) = text.split_once('/') {
        let (whole, digits) = split_numerator(before.trim_end());
        let numerator = parse_digits(digits, raised_digit)?;
        let denominator = parse_digits(denominator.trim(), lowered_digit)?;
        if denominator == 0.0 {
            return Err(LengthError::ZeroDenominator);
        }
        let together = numerator / denominator;
        // One under 1 is a fraction like any other: `11/16`.
        let may_be_two = whole.is_empty() && together > 1.0;
        if let (true, Some(apart)) = (may_be_two, run_together(digits, denominator)) {
            return Err(LengthError::Either { apart, together });
        }
        (whole, Some(together))
    } else {
        return Ok((text, None));
    };
    if !whole.bytes().all(|b| b.is_ascii_digit()) {
        return Err(LengthError::NotANumber);
    }
    Ok((whole, fraction))
}

/// The value of a whole number and a fraction that are run together in these digits, with the longest upper number that
/// is under the lower one; none where no part of the digits is one.
fn run_together(digits: &str, denominator: f64) -> Option<f64> {
    (1..digits.len().min(MOST_DIGITS)).find_map(|cut| {
        let (whole, upper) = digits.split_at_checked(cut)?;
        let (whole, over) = (decimal::read(whole)?, decimal::read(upper)?);
        (!upper.starts_with('0') && over < denominator && whole > 0.0).then(|| whole + over / denominator)
    })
}

/// A whole number of so many digits is far past any length.
const MOST_DIGITS: usize = 8;

/// The greatest number that is read.
const MOST: f64 = 1e9;

/// What may stand between a whole number and its fraction.
const PARTS: [char; 2] = [' ', '-'];

/// Splits what stands before a fraction's slash: the small digits at its end, or what follows a space or hyphen.
fn split_numerator(before: &str) -> (&str, &str) {
    let whole = before.trim_end_matches(|c| raised_digit(c).is_some());
    if let Some(raised) = before.strip_prefix(whole).filter(|raised| !raised.is_empty()) {
        return (whole.trim_end_matches(PARTS), raised);
    }
    match before.rsplit_once(PARTS) {
        Some((whole, numerator)) => (whole.trim_end(), numerator),
        None => ("", before),
    }
}

/// The value of a single-character fraction: every one Unicode has (the blocks Latin-1 Supplement and Number Forms).
fn fraction_glyph(glyph: char) -> Option<f64> {
    let (n, d) = match glyph {
        '½' => (1.0, 2.0),
        '⅓' => (1.0, 3.0),
        '⅔' => (2.0, 3.0),
        '¼' => (1.0, 4.0),
        '¾' => (3.0, 4.0),
        '⅕' => (1.0, 5.0),
        '⅖' => (2.0, 5.0),
        '⅗' => (3.0, 5.0),
        '⅘' => (4.0, 5.0),
        '⅙' => (1.0, 6.0),
        '⅚' => (5.0, 6.0),
        '⅐' => (1.0, 7.0),
        '⅛' => (1.0, 8.0),
        '⅜' => (3.0, 8.0),
        '⅝' => (5.0, 8.0),
        '⅞' => (7.0, 8.0),
        '⅑' => (1.0, 9.0),
        '⅒' => (1.0, 10.0),
        '↉' => (0.0, 3.0),
        _ => return None,
    };
    Some(n / d)
}

/// The value of a text of digits, all plain or all small ones.
fn parse_digits(text: &str, small: fn(char) -> Option<char>) -> Result<f64, LengthError> {
    let as_plain: Option<String> = text.chars().map(small).collect();
    let text = as_plain.as_deref().unwrap_or(text);
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(LengthError::NotANumber);
    }
    decimal::read(text).ok_or(LengthError::NotANumber)
}

fn parse_decimal(text: &str) -> Result<f64, LengthError> {
    let digits_and_marks = text.bytes().all(|b| b.is_ascii_digit() || b == b'.' || b == b',');
    let marks = text.bytes().filter(|b| matches!(b, b'.' | b',')).count();
    if !digits_and_marks || marks > 1 {
        return Err(LengthError::NotANumber);
    }
    decimal::read(&text.replace(',', ".")).ok_or(LengthError::NotANumber)
}

/// Writes a value to so many decimals at most, ends of nothing but zeros left out.
pub(crate) fn written(value: f64, decimals: i32) -> String {
    let parts = 10_f64.powi(decimals);
    decimal::write((value * parts).round() / parts)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_to_write_fifteen_and_three_eighths_inches_is_the_same_length() {
        let expected = 15.375 * MM_PER_INCH;
        for text in ["15 3/8", "15-3/8", "15⅜", "15 ⅜", "15.375", "15,375", "15 3/8\"", "15 3/8 in", "15 3/8 in."] {
            assert_eq!(parse_length_mm(text, LengthUnit::Inch), Ok(expected), "{text} is 15 3/8 in");
        }
        assert_eq!(parse_length_mm("3/8", LengthUnit::Inch), Ok(0.375 * MM_PER_INCH), "a bare fraction is read");
    }

    #[test]
    fn less_than_nothing_is_read_with_its_sign() {
        for text in ["-15 3/8", "−15.375", "- 15,375", "-15⅜"] {
            assert_eq!(parse_number(text), Ok(-15.375), "{text}");
        }
        assert_eq!(parse_number("1000000000"), Ok(1e9), "a thousand kilometres of millimetres is the most");
    }

    #[test]
    fn each_reason_has_words_of_its_own() {
        let reasons =
            [LengthError::Empty, LengthError::NotANumber, LengthError::ZeroDenominator, LengthError::TooLarge];
        let words: std::collections::BTreeSet<String> = reasons.iter().map(ToString::to_string).collect();
        assert!(words.len() == 4 && words.iter().all(|words| words.len() > 12), "four sentences: {words:?}");
    }

    #[test]
    fn what_is_not_a_length_is_refused_with_its_reason() {
        for (text, why) in [
            ("", LengthError::Empty),
            ("  ", LengthError::Empty),
            ("ten", LengthError::NotANumber),
            ("1,234.5", LengthError::NotANumber),
            ("1/0", LengthError::ZeroDenominator),
            ("1.5 3/8", LengthError::NotANumber),
            ("3/8/2", LengthError::NotANumber),
            ("NaN", LengthError::NotANumber),
            ("inf", LengthError::NotANumber),
            ("1e5", LengthError::NotANumber),
            ("99999999999999", LengthError::TooLarge),
        ] {
            assert_eq!(parse_length_mm(text, LengthUnit::Millimetre), Err(why), "{text:?}");
        }
    }

    /// Found by fuzzing: both numbers of the fraction are infinite, and their quotient is no number.
    #[test]
    fn a_fraction_of_endless_numbers_is_too_large() {
        let endless = "9".repeat(400);
        for text in [format!("{endless}/{endless}"), format!("{endless}/2"), endless.clone()] {
            assert_eq!(parse_number(&text), Err(LengthError::TooLarge), "{text}");
        }
        assert_eq!(parse_number(&format!("2/{endless}")), Ok(0.0), "the other way round it is next to nothing");
    }
}
