//! A decimal number's value from its text, to the nearest double; and a number's text, to fifteen digits.
//!
//! The standard library's reader and writer bring twenty kilobytes into the page's download; the reader used here rounds as
//! exactly, in less room, and the writer writes as many digits as any decimal number keeps in a double.

/// The value of plain text: a sign or none, ASCII digits with one point at most among them, and an exponent or none, as
/// `-12.5e-3`. What is too large for a double is infinite. None where the text is anything else.
#[must_use]
pub fn read(text: &str) -> Option<f64> {
    let (negative, rest) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (digits, exponent) = match rest.split_once(['e', 'E']) {
        Some((digits, exponent)) => (digits, whole(exponent)?),
        None => (rest, 0),
    };
    let (integer, fraction) = digits.split_once('.').unwrap_or((digits, ""));
    let all_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if (integer.is_empty() && fraction.is_empty()) || !all_digits(integer) || !all_digits(fraction) {
        return None;
    }
    // The reader wants no zeros that change nothing.
    let (integer, fraction) = (integer.trim_start_matches('0'), fraction.trim_end_matches('0'));
    let value =
        minimal_lexical::parse_float::<f64, _, _>(integer.as_bytes().iter(), fraction.as_bytes().iter(), exponent);
    Some(if negative { -value } else { value })
}

/// A whole exponent; one that is too large to matter is held at where it no longer does.
fn whole(text: &str) -> Option<i32> {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let size = digits.bytes().fold(0_i32, |sum, byte| (sum * 10 + i32::from(byte - b'0')).min(MOST_EXPONENT));
    Some(if text.starts_with('-') { -size } else { size })
}

/// Far past any exponent of a double, and of any text that is read, with room for its digits.
const MOST_EXPONENT: i32 = 100_000_000;

/// A number's text: at most fifteen digits, twelve of them decimals, and none that say nothing. So any decimal of as many
/// digits comes back as it was written, and in mm the last one is far below an atom. Past 18 digits before its point a
/// number has an exponent.
#[must_use]
pub fn write(value: f64) -> String {
    let mut text = String::new();
    push(&mut text, value);
    text
}

/// Puts the text that [`write`] gives at the end of another.
pub fn push(text: &mut String, value: f64) {
    if !value.is_finite() {
        text.push_str(if value.is_nan() {
            "NaN"
        } else if value > 0.0 {
            "inf"
        } else {
            "-inf"
        });
        return;
    }
    let (mut size, mut tens) = (value.abs(), 0_u64);
    while size >= 1e18 {
        size /= 10.0;
        tens += 1;
    }
    let (mut decimals, mut parts, mut full) = (12, 1e12, 1e3);
    while decimals > 0 && size >= full {
        full *= 10.0;
        parts /= 10.0;
        decimals -= 1;
    }
    // Both below 10^18, which a u64 holds.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let (mut whole, mut rest, parts) = (size as u64, (size.fract() * parts + 0.5) as u64, parts as u64);
    if rest == parts {
        (whole, rest) = (whole + 1, 0);
    }
    if value < 0.0 && whole + rest > 0 {
        text.push('-');
    }
    push_digits(text, whole, 1);
    if rest > 0 {
        text.push('.');
        push_digits(text, rest, decimals);
        text.truncate(text.trim_end_matches('0').len());
    }
    if tens > 0 {
        text.push('e');
        push_digits(text, tens, 1);
    }
}

/// A whole number's digits, with zeros before them where there are fewer.
fn push_digits(text: &mut String, number: u64, least: usize) {
    let mut digits = ['0'; 20];
    let (mut rest, mut count) = (number, 0);
    for digit in digits.iter_mut().rev() {
        if rest == 0 && count >= least {
            break;
        }
        *digit = char::from(b'0' + (rest % 10) as u8);
        rest /= 10;
        count += 1;
    }
    text.extend(digits.iter().skip(20 - count));
}

#[cfg(test)]
mod tests {
    use super::{read, write};

    /// Numbers the same each time: a linear congruence with the constants of Knuth's MMIX.
    struct Chance(u64);

    impl Chance {
        fn next(&mut self, below: u64) -> u64 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (self.0 >> 33) % below
        }
    }

    /// The standard library's reader is the reference: IEEE 754's nearest double, ties to even.
    fn as_the_standard_library(text: &str) {
        let expected: f64 = text.parse().unwrap_or_else(|_| panic!("{text} is a number"));
        let got = read(text).unwrap_or_else(|| panic!("{text} is read"));
        assert_eq!(got.to_bits(), expected.to_bits(), "{text}: {got} is not {expected}");
    }

    #[test]
    fn numbers_are_read_to_the_last_bit() {
        let mut chance = Chance(5);
        for _ in 0..200_000 {
            let digits = |chance: &mut Chance, most: u64| -> String {
                let count = chance.next(most);
                (0..count).map(|_| char::from(b'0' + u8::try_from(chance.next(10)).expect("a digit"))).collect()
            };
            let (integer, fraction) = (digits(&mut chance, 22), digits(&mut chance, 25));
            let sign = ["", "-", "+"][usize::try_from(chance.next(3)).expect("small")];
            let exponent = match chance.next(3) {
                0 => format!("e{}", i64::try_from(chance.next(700)).expect("small") - 350),
                _ => String::new(),
            };
            as_the_standard_library(&format!("{sign}{integer}0.{fraction}{exponent}"));
        }
        // Doubles as they are written, and halfway between two: the hard cases.
        for _ in 0..50_000 {
            let bits = (chance.next(1 << 31) << 33) | (chance.next(1 << 31) << 2) | chance.next(4);
            let value = f64::from_bits(bits & !(1 << 63));
            if value.is_finite() {
                as_the_standard_library(&format!("{value}"));
                as_the_standard_library(&format!("{value:e}"));
            }
        }
        for text in [
            "9007199254740993",
            "9007199254740993.0000000000000000000000000001",
            "1e23",
            "8.5e22",
            "5e-324",
            "2.5e-324",
            "2.4703282292062327208e-324",
            "1.7976931348623158e308",
            "1.7976931348623159e308",
            "1e400",
            "1e-400",
            "0",
            "-0",
            "00012.500",
            ".5",
            "5.",
            "1e99999999999",
            "0e99999999999",
            "1e-99999999999",
        ] {
            as_the_standard_library(text);
        }
    }

    #[test]
    fn what_is_no_number_is_not_read() {
        for text in [
            "", "-", ".", "+.", "e5", "1e", "1e+", "1.2.3", "1 ", " 1", "0x1", "inf", "nan", "1_0", "--1", "1e1.5", "١",
        ] {
            assert_eq!(read(text), None, "{text:?}");
        }
    }
    #[test]
    fn a_decimal_of_fifteen_digits_is_written_as_it_was_read() {
        let mut chance = Chance(11);
        for _ in 0..100_000 {
            let digits = u32::try_from(chance.next(10)).expect("small");
            let whole = chance.next(10_u64.pow(digits));
            let decimals = (15 - whole.to_string().len()).min(12);
            let fraction: String =
                (0..decimals).map(|_| char::from(b'0' + u8::try_from(chance.next(10)).expect("a digit"))).collect();
            let text = format!("{whole}.{fraction}");
            let text = text.trim_end_matches('0').trim_end_matches('.');
            let value: f64 = text.parse().expect("a number");
            assert_eq!(write(value), text, "as the standard library reads it");
            let negative = if value == 0.0 { text.to_owned() } else { format!("-{text}") };
            assert_eq!(write(-value), negative, "and below zero");
        }
    }

    /// The standard library's reader is the reference again.
    #[test]
    fn what_is_written_is_the_number_to_fifteen_digits_or_twelve_decimals() {
        let mut chance = Chance(12);
        let mut tried = 0;
        for _ in 0..100_000 {
            let bits = (chance.next(1 << 31) << 33) | (chance.next(1 << 31) << 2) | chance.next(4);
            let value = f64::from_bits(bits);
            if !value.is_finite() {
                continue;
            }
            tried += 1;
            let read: f64 = write(value).parse().unwrap_or_else(|_| panic!("{value} is written as a number"));
            let off = (read - value).abs();
            // Past 18 digits the number was divided by ten up to 290 times, each to the nearest double.
            let near = if value.abs() < 1e18 { 5.001e-15 } else { 1e-13 };
            assert!(off <= (near * value.abs()).max(0.5001e-12), "{value} is written as {}", write(value));
        }
        assert!(tried > 90_000, "most are finite: {tried}");
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (-1e-13, "0"),
            (0.5, "0.5"),
            (12.0, "12"),
            (1.0 / 3.0, "0.333333333333"),
            (-2.0 / 3.0, "-0.666666666667"),
            (0.999_999_999_999_9, "1"),
            (999.999_999_999_99, "999.99999999999"),
            (123_456.7, "123456.7"),
            (1e17, "100000000000000000"),
            (1e21, "100000000000000000e4"),
            (f64::NAN, "NaN"),
            (f64::INFINITY, "inf"),
            (f64::NEG_INFINITY, "-inf"),
        ] {
            assert_eq!(write(value), text, "worked by hand: {value}");
        }
    }
}
