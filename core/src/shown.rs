//! A length as it is shown: in the precision one cuts by, and marked where that is not the length itself.
//!
//! What a person told stands in its field to the last digit (the page's fields); this is for figures in sentences, tables
//! and drawings. A metric figure is shown to the step that a tape is marked in, and its last decimal says how far it goes. A
//! fraction of an inch says nothing of the kind, so that one which is not the length is marked as about. What would be shown
//! as nothing, and is something, is shown as under the finest step.

use core::fmt;

use crate::decimal;
use crate::length::{LengthUnit, MM_PER_INCH};

/// A step that lengths are shown in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// The least length that is shown so. mm.
    pub from_mm: f64,
    /// Parts of the unit: 10 are tenths, 16 sixteenths.
    pub parts: u32,
}

/// The finest parts of an inch that are shown where a length is exactly so many of them; rulers have 64ths.
pub const EXACT_INCH_PARTS: u32 = 64;
/// A fraction of an inch that is this near is the length: within a hundredth of a millimetre, as no one cuts. mm. Our judgement.
pub const CLOSE_MM: f64 = 0.005;
/// What is less than this is nothing: lines are reckoned no finer. mm.
pub const NOTHING_MM: f64 = 0.001;
/// Two lengths this near are one: the last digits of an inch's 25.4 are rounding. mm.
pub const SAME_MM: f64 = 1e-6;

/// The steps that lengths are shown in, finest first. What a tape or a ruler is marked in: millimetres, sixteenths of an
/// inch (from memory). Single millimetres, and what is under an eighth of an inch, are told finer. Our judgement.
#[must_use]
pub const fn steps(unit: LengthUnit) -> &'static [Step] {
    match unit {
        LengthUnit::Millimetre => &[Step { from_mm: 0.0, parts: 10 }],
        LengthUnit::Centimetre => &[Step { from_mm: 0.0, parts: 100 }, Step { from_mm: 10.0, parts: 10 }],
        LengthUnit::Inch => &[Step { from_mm: 0.0, parts: 32 }, Step { from_mm: MM_PER_INCH / 8.0, parts: 16 }],
    }
}

/// How what is shown stands to the length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nearness {
    /// It is the length, as far as its last decimal goes.
    Exact,
    /// The nearest fraction, and not the length.
    About,
    /// The finest step, and the length is less.
    Under,
}

/// A length as it is shown in a unit, the unit left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shown {
    /// The number, with a decimal point or a fraction: `15.5`, `15 3/8`.
    pub text: String,
    /// How it stands to the length.
    pub nearness: Nearness,
}

/// In English, as in an error's words: `about 15 3/8`.
impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.nearness {
            Nearness::Exact => f.write_str(&self.text),
            Nearness::About => write!(f, "about {}", self.text),
            Nearness::Under => write!(f, "under {}", self.text),
        }
    }
}

/// Shows a length, mm, in a unit.
///
/// ```
/// use lieflat::{length::LengthUnit, shown::shown};
/// assert_eq!(shown(9.525, LengthUnit::Inch).to_string(), "3/8");
/// assert_eq!(shown(10.0, LengthUnit::Inch).to_string(), "about 3/8");
/// assert_eq!(shown(532.9, LengthUnit::Centimetre).to_string(), "53.3");
/// ```
#[must_use]
pub fn shown(mm: f64, unit: LengthUnit) -> Shown {
    if !mm.is_finite() {
        return Shown { text: "—".to_owned(), nearness: Nearness::Exact };
    }
    let parts = parts_for(mm, unit);
    let count = counted(mm, parts, unit);
    if count == 0.0 && mm.abs() >= NOTHING_MM {
        return Shown { text: written(1.0, parts, unit), nearness: Nearness::Under };
    }
    let is_far = unit == LengthUnit::Inch && !is_whole(mm, parts, unit, CLOSE_MM);
    Shown { text: written(count, parts, unit), nearness: if is_far { Nearness::About } else { Nearness::Exact } }
}

/// The parts that a length is counted in.
fn parts_for(mm: f64, unit: LengthUnit) -> u32 {
    if unit == LengthUnit::Inch && is_whole(mm, EXACT_INCH_PARTS, unit, SAME_MM) {
        return EXACT_INCH_PARTS;
    }
    let step = steps(unit).iter().rev().find(|step| step.from_mm <= mm.abs());
    step.map_or(1, |step| step.parts)
}

/// The nearest count of a unit's parts.
fn counted(mm: f64, parts: u32, unit: LengthUnit) -> f64 {
    (mm * f64::from(parts) / unit.in_mm()).round()
}

/// Whether that is the length, or so near it.
fn is_whole(mm: f64, parts: u32, unit: LengthUnit, near: f64) -> bool {
    (counted(mm, parts, unit) * unit.in_mm() / f64::from(parts) - mm).abs() <= near
}

/// Writes so many parts of a unit.
fn written(count: f64, parts: u32, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Inch => fraction(count, parts),
        // Without a sign before nothing.
        _ => decimal::write(count / f64::from(parts) + 0.0),
    }
}

/// Writes a count of an inch's parts, reduced: `15 3/8`.
fn fraction(count: f64, parts: u32) -> String {
    // Lengths of a brief are bounded far below; what is more saturates.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let all = count.abs() as u64;
    let sign = if count < 0.0 { "-" } else { "" };
    let (whole, mut n, mut d) = (all / u64::from(parts), all % u64::from(parts), parts);
    if n == 0 {
        return format!("{sign}{whole}");
    }
    while n.is_multiple_of(2) {
        n /= 2;
        d /= 2;
    }
    if whole == 0 { format!("{sign}{n}/{d}") } else { format!("{sign}{whole} {n}/{d}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::parse_length_mm;

    const IN: LengthUnit = LengthUnit::Inch;
    const CM: LengthUnit = LengthUnit::Centimetre;
    const MM: LengthUnit = LengthUnit::Millimetre;

    #[test]
    fn lengths_are_shown_as_a_tape_measure_is_marked() {
        for (mm, unit, text) in [
            (390.525, IN, "15 3/8"),
            (9.525, IN, "3/8"),
            (10.0, IN, "about 3/8"),
            (15.0, IN, "about 9/16"),
            (100.0, IN, "about 3 15/16"),
            // 15 19/32 in are exactly so many 32nds; half a millimetre less is the nearest sixteenth.
            (396.08125, IN, "15 19/32"),
            (395.58, IN, "about 15 9/16"),
            (-9.525, IN, "-3/8"),
            (-390.525, IN, "-15 3/8"),
            (395.0, CM, "39.5"),
            (532.9, CM, "53.3"),
            (1.6, CM, "0.16"),
            (9.96, CM, "1"),
            (-12.5, MM, "-12.5"),
            (-3.0, MM, "-3"),
            (100.0, MM, "100"),
            (f64::NAN, IN, "—"),
        ] {
            assert_eq!(shown(mm, unit).to_string(), text, "{mm} mm");
        }
    }

    #[test]
    fn what_is_not_nothing_is_never_shown_as_nothing() {
        for (mm, unit, text) in [
            (0.0, IN, "0"),
            (0.3, IN, "under 1/32"),
            (-0.3, IN, "under 1/32"),
            (0.8, IN, "about 1/32"),
            (0.04, MM, "under 0.1"),
            (0.04, CM, "under 0.01"),
            // Less than lines are reckoned to.
            (-0.0004, MM, "0"),
            (0.0004, IN, "0"),
        ] {
            assert_eq!(shown(mm, unit).to_string(), text, "{mm} mm");
        }
    }

    /// Read back, what is not marked is the length: to a hundredth of a millimetre in inches, to half the last decimal else.
    #[test]
    fn what_is_shown_is_the_length_or_is_marked() {
        for unit in [MM, CM, IN] {
            for i in 0..40_000 {
                let mm = f64::from(i) * 0.0173;
                let seen = shown(mm, unit);
                let read = parse_length_mm(&seen.text, unit).expect("what is written is read");
                let off = (read - mm).abs();
                let (near, far) = match unit {
                    LengthUnit::Inch => (0.005, MM_PER_INCH / 32.0),
                    LengthUnit::Centimetre if mm >= 10.0 => (0.5, 0.5),
                    _ => (0.05, 0.05),
                };
                let most = match seen.nearness {
                    Nearness::Exact => near,
                    Nearness::About => far,
                    Nearness::Under => MM_PER_INCH / 32.0,
                };
                assert!(off <= most + 1e-9, "{mm} mm is shown as {seen} {}", unit.symbol());
            }
        }
    }
}
