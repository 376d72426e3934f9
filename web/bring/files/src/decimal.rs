//! Decimal numbers read and written.
//!
//! The language's own ways come with tables that weigh more than the rest of a reader; a coordinate needs neither the last bit of
//! what is read nor the shortest text for what is written.

/// Digits that are read exactly: what a whole number of 64 bits holds; further ones change a coordinate by nothing.
const MOST_DIGITS: u32 = 18;
/// The largest power of ten that a number holds exactly.
const EXACT: i32 = 22;
/// Beyond this exponent a number is none that is drawn.
const MOST_EXPONENT: i32 = 400;

/// A decimal number with sign, point and exponent as they stand in SVG and DXF, to within a few units of its last bit. None where the
/// text is anything else, or larger than can be held.
pub(crate) fn read(text: &str) -> Option<f64> {
    let bytes = text.as_bytes();
    let (negative, mut rest) = match bytes {
        [b'-', rest @ ..] => (true, rest),
        [b'+', rest @ ..] | rest => (false, rest),
    };
    let (mut mantissa, mut exponent, mut digits, mut seen) = (0u64, 0i32, 0u32, false);
    let mut after_point = false;
    while let [byte, next @ ..] = rest {
        match byte {
            b'0'..=b'9' => {
                seen = true;
                if digits < MOST_DIGITS {
                    mantissa = mantissa * 10 + u64::from(byte - b'0');
                    digits += u32::from(mantissa > 0);
                    exponent -= i32::from(after_point);
                } else {
                    exponent = exponent.saturating_add(i32::from(!after_point));
                }
            }
            b'.' if !after_point => after_point = true,
            _ => break,
        }
        rest = next;
    }
    if !seen {
        return None;
    }
    let told = match rest {
        [] => 0,
        [b'e' | b'E', told @ ..] => whole(told)?,
        _ => return None,
    };
    let value = mantissa as f64;
    let value = scaled(value, exponent.saturating_add(told));
    Some(if negative { -value } else { value }).filter(|v| v.is_finite())
}

/// A whole number with its sign, held within what an exponent may be.
fn whole(text: &[u8]) -> Option<i32> {
    let (negative, digits) = match text {
        [b'-', rest @ ..] => (true, rest),
        [b'+', rest @ ..] | rest => (false, rest),
    };
    if digits.is_empty() || !digits.iter().all(u8::is_ascii_digit) {
        return None;
    }
    let add = |sum: i32, digit: &u8| (sum * 10 + i32::from(digit - b'0')).min(MOST_EXPONENT);
    let value = digits.iter().fold(0, add);
    Some(if negative { -value } else { value })
}

/// A number times a power of ten, by steps that are exact.
fn scaled(mut value: f64, exponent: i32) -> f64 {
    let mut rest = exponent.clamp(-2 * MOST_EXPONENT, 2 * MOST_EXPONENT);
    while rest != 0 {
        let step = rest.abs().min(EXACT);
        let by = power(step);
        if rest > 0 {
            value *= by;
        } else {
            value /= by;
        }
        rest -= step * rest.signum();
    }
    value
}

/// A power of ten, exactly up to the 22nd.
fn power(exponent: i32) -> f64 {
    (0..exponent).fold(1.0, |power, _| power * 10.0)
}

/// Writes a number with so many decimals at most, 9 at most, without zeros at the end.
pub(crate) fn write(text: &mut String, value: f64, decimals: u32) {
    let steps = power(i32::try_from(decimals.min(9)).unwrap_or(9));
    // A drawing's coordinates are far from what 64 bits hold; beyond it they stay at its end.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a number held within what it is made")]
    let whole = (value.abs() * steps).round() as u64;
    if value < 0.0 && whole > 0 {
        text.push('-');
    }
    let mut digits = [0u8; 20];
    let (mut rest, mut count) = (whole, 0);
    for digit in digits.iter_mut().rev() {
        let last = (rest % 10) as u8;
        *digit = b'0' + last;
        rest /= 10;
        count += 1;
        if rest == 0 && count > decimals.min(9) {
            break;
        }
    }
    let (before, after) = digits.split_at(digits.len() - decimals.min(9) as usize);
    let skipped = digits.len() - count as usize;
    text.extend(before.iter().skip(skipped).map(|d| char::from(*d)));
    let kept = after.iter().rposition(|d| *d != b'0').map_or(0, |last| last + 1);
    if kept > 0 {
        text.push('.');
        text.extend(after.iter().take(kept).map(|d| char::from(*d)));
    }
}

#[cfg(test)]
mod tests {
    use super::{read, write};

    #[test]
    fn reads_as_the_language_does() {
        for text in [
            "0",
            "-0.0",
            "1",
            "+12.5",
            ".5",
            "5.",
            "-1e3",
            "1E-3",
            "123456789.123456789",
            "0.1",
            "72.27",
            "1e22",
            "3.14159265358979",
            "0.000000000000000000001234",
            "123456789012345678901234",
            "1.0E+002",
            "9007199254740993",
        ] {
            let wanted: f64 = text.parse().expect("a number");
            let found = read(text).expect("it is read");
            assert!((found - wanted).abs() <= wanted.abs() * 4.0 * f64::EPSILON, "{text}: {found} is to be {wanted}");
        }
        for text in ["", "-", ".", "e5", "1e", "1e+", "1x", "1.2.3", "nan", "inf", "1e999", "1.#QNAN", " 1"] {
            assert_eq!(read(text), None, "{text:?} is no number");
        }
        assert_eq!(read("1e-999"), Some(0.0), "too small is nothing");
    }

    #[test]
    fn writes_so_that_it_is_read_again() {
        let cases = [
            (0.0, "0"),
            (-0.0, "0"),
            (1.0, "1"),
            (-2.5, "-2.5"),
            (0.0625, "0.0625"),
            (123.456_78, "123.4568"),
            (-0.000_01, "0"),
        ];
        for (value, wanted) in
            cases.into_iter().chain([(10.0, "10"), (0.05, "0.05"), (99.999_99, "100"), (1e30, "1844674407370955.1615")])
        {
            let mut text = String::new();
            write(&mut text, value, 4);
            assert_eq!(text, wanted, "{value}");
        }
        let mut text = String::new();
        write(&mut text, 1234.5, 0);
        assert_eq!(text, "1235", "without decimals");
    }
}
