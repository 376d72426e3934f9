//! A decimal number's value from its text, to the nearest double, and the shortest text of a number.
//!
//! The standard library's reader and writer bring twenty kilobytes into the page's download; the ones used here are as exact,
//! in less room.

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

/// A number's text: the shortest decimal that reads back as the same double, a whole number without a point, nothing without
/// a sign.
#[must_use]
pub fn write(value: f64) -> String {
    let mut text = String::new();
    write_to(&mut text, value);
    text
}

/// Adds a number's text to a text, as [`write()`] writes it.
pub fn write_to(to: &mut String, value: f64) {
    let mut buffer = ryu::Buffer::new();
    // Nothing below zero and nothing are one sum.
    let text = buffer.format(value + 0.0);
    let text = text.strip_suffix(".0").unwrap_or(text);
    // Few numbers have an exponent, and looking for one letter is quick.
    if text.bytes().any(|letter| letter == b'e') {
        to.push_str(&without_exponent(text));
    } else {
        to.push_str(text);
    }
}

/// The text of a small number with its zeros in place of an exponent, as people write it; any other as it is.
fn without_exponent(text: &str) -> String {
    let (number, sign) = text.strip_prefix('-').map_or((text, ""), |number| (number, "-"));
    let Some((digits, places)) = number.split_once("e-") else { return text.to_owned() };
    let zeros = places.parse::<usize>().unwrap_or(1).saturating_sub(1);
    [sign, "0.", &"0".repeat(zeros), &digits.replace('.', "")].concat()
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

    /// The standard library's writer is the reference again.
    #[test]
    fn what_is_written_is_the_shortest_text_of_the_number() {
        let mut chance = Chance(12);
        for _ in 0..100_000 {
            let value = chance.next(1 << 31) as f64 / chance.next(1 << 20).max(1) as f64;
            assert_eq!(write(value).parse(), Ok(value), "{value} comes back");
            assert_eq!(write(value), value.to_string(), "as the standard library writes it");
            if value > 0.0 {
                assert_eq!(write(-value), (-value).to_string(), "and below zero");
            }
        }
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (-2.5e-7, "-0.00000025"),
            (1e-300, &format!("0.{}1", "0".repeat(299))),
            (0.5, "0.5"),
            (12.0, "12"),
            (123_456.7, "123456.7"),
            (f64::NAN, "NaN"),
        ] {
            assert_eq!(write(value), text, "worked by hand: {value}");
        }
    }
}
