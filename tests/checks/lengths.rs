//! Measures as people type, paste and typeset them: read whole, as what they mean, or refused.
//!
//! Values of digits and what counts as a space or a mark of direction: the Unicode Character Database (`DerivedNumericType`
//! for general category Nd, `PropList` for White_Space and Bidi_Control). Fractions: the Unicode Standard, chapter 6.2.

use lieflat::length::{LengthError, LengthUnit, parse_length_mm, parse_number};

const WHITE_SPACE: &str = "\t\n\u{b}\u{c}\r \u{85}\u{a0}\u{1680}\u{2000}\u{2001}\u{2002}\u{2003}\u{2004}\u{2005}\u{2006}\u{2007}\
    \u{2008}\u{2009}\u{200a}\u{2028}\u{2029}\u{202f}\u{205f}\u{3000}";

/// Bidi_Control without the two overrides, the joiners, and the byte-order mark.
const PASSED_OVER: &str =
    "\u{61c}\u{200e}\u{200f}\u{202a}\u{202b}\u{202c}\u{2066}\u{2067}\u{2068}\u{2069}\u{200c}\u{200d}\u{2060}\u{feff}";

#[test]
fn spaces_of_any_width_part_a_whole_number_from_its_fraction_and_unit() {
    // The zero-width space is no White_Space; chapter 6.2 names it for setting a fraction apart: "1 + U+200B + 3/4".
    for space in WHITE_SPACE.chars().chain(['\u{200b}']) {
        for text in
            [format!("15{space}3/8"), format!("15{space}⅜"), format!("{space}15{space}3{space}/{space}8{space}")]
        {
            assert_eq!(parse_number(&text), Ok(15.375), "{text:?}");
        }
        assert_eq!(
            parse_length_mm(&format!("15.5{space}cm{space}"), LengthUnit::Inch),
            Ok(155.0),
            "{space:?} before a unit"
        );
        assert_eq!(parse_number(&format!("-{space}2")), Ok(-2.0), "{space:?} after a sign");
        assert_eq!(parse_number(&format!("1{space}5")), Err(LengthError::NotANumber), "{space:?} within a number");
        assert_eq!(parse_number(&space.to_string()), Err(LengthError::Empty), "{space:?} alone is nothing");
    }
}

#[test]
fn marks_that_show_as_nothing_are_passed_over_wherever_they_stand() {
    for mark in PASSED_OVER.chars() {
        let among = |text: &str| text.chars().flat_map(|c| [mark, c]).chain([mark]).collect::<String>();
        assert_eq!(parse_number(&among("-15 3/8")), Ok(-15.375), "{mark:?}");
        assert_eq!(parse_length_mm(&among("39,5 cm"), LengthUnit::Inch), Ok(395.0), "{mark:?}");
        assert_eq!(parse_number(&mark.to_string()), Err(LengthError::Empty), "{mark:?} alone is nothing");
    }
    // Under an override 51 is shown where 15 stands: what is seen is not what is written.
    for mark in ['\u{202d}', '\u{202e}'] {
        assert_eq!(parse_number(&format!("{mark}15")), Err(LengthError::NotANumber), "{mark:?}");
    }
}

#[test]
fn digits_of_other_scripts_have_their_values() {
    for zero in ['0', '\u{660}', '\u{6f0}', '\u{ff10}'] {
        let digit = |value: u32| char::from_u32(u32::from(zero) + value).expect("ten digits follow each other");
        for value in 0..10 {
            let text = format!("{}{}", digit(1), digit(value));
            assert_eq!(parse_number(&text), Ok(f64::from(10 + value)), "{text}");
        }
        let fraction = format!("{}{} {}/{}", digit(1), digit(5), digit(3), digit(8));
        assert_eq!(parse_number(&fraction), Ok(15.375), "{fraction}");
    }
    // Decimal separators: U+066B of Arabic, the full-width stop and comma, and a comma as it is typed in Arabic.
    for text in ["١٥٫٥", "۱۵٫۵", "１５．５", "１５，５", "١٥،٥", "١٥,٥", "۱۵.۵"] {
        assert_eq!(parse_number(text), Ok(15.5), "{text}");
    }
    // As CLDR writes them: a minus behind a mark of direction.
    for text in ["\u{61c}-١٥٫٥", "\u{200e}−۱۵٫۵", "－１５．５"] {
        assert_eq!(parse_number(text), Ok(-15.5), "{text:?}");
    }
    assert_eq!(parse_length_mm("１５．５ｃｍ", LengthUnit::Inch), Ok(155.0), "a unit in full width");
    assert_eq!(parse_length_mm("１５　３／８＂", LengthUnit::Millimetre), Ok(15.375 * 25.4), "and its mark");
    assert_eq!(parse_length_mm("15.5㎝", LengthUnit::Inch), Ok(155.0), "a unit set as one character");
    // Grouping stays refused, in every script.
    for text in ["١٬٢٣٤", "1,234.5", "１，２３４．５", "1’234", "१५", "¹5", "①"] {
        assert_eq!(parse_number(text), Err(LengthError::NotANumber), "{text}");
    }
}

#[test]
fn fractions_are_read_however_they_are_set() {
    for text in [
        "15 3⁄8",
        "15\u{200b}3⁄8",
        "15\u{2009}3∕8",
        "15³⁄₈",
        "15³/₈",
        "15 ³⁄₈",
        "15-³⁄8",
        "15–3/8",
        "15‑⅜",
        "15⅜",
        "15\u{202f}⅜",
        "15\u{200b}⅜",
        "15 3／8",
    ] {
        assert_eq!(parse_number(text), Ok(15.375), "{text:?}");
    }
    assert_eq!(parse_number("15⅟₁₆"), Ok(15.0625), "one over what follows");
    assert_eq!(parse_number("123⁄8"), Ok(15.375), "digits up to the slash are one numerator (chapter 6.2)");
    // Unicode's own numeric values of its fractions.
    for (text, value) in [
        ("¼", 0.25),
        ("½", 0.5),
        ("¾", 0.75),
        ("⅐", 1.0 / 7.0),
        ("⅑", 1.0 / 9.0),
        ("⅒", 0.1),
        ("⅓", 1.0 / 3.0),
        ("⅔", 2.0 / 3.0),
        ("⅕", 0.2),
        ("⅖", 0.4),
        ("⅗", 0.6),
        ("⅘", 0.8),
        ("⅙", 1.0 / 6.0),
        ("⅚", 5.0 / 6.0),
        ("⅛", 0.125),
        ("⅜", 0.375),
        ("⅝", 0.625),
        ("⅞", 0.875),
        ("↉", 0.0),
    ] {
        assert_eq!(parse_number(text), Ok(value), "{text}");
        assert_eq!(parse_number(&format!("-2 {text}")), Ok(-2.0 - value), "{text} after a whole number");
    }
    for text in
        ["1.5⅜", "1,5 3/8", "³", "15³", "³⁄", "₃⁄₈", "3⁄⁸", "⅜⅜", "1⅜2", "⅜ 2", "15 3/8/2", "1 2 3/8", "/", "⁄8", "3⁄"]
    {
        assert_eq!(parse_number(text), Err(LengthError::NotANumber), "{text}");
    }
}

/// What a keyboard leaves of `6 1/4` where the space was missed; each value worked by hand.
#[test]
fn a_whole_number_and_a_fraction_run_together_are_asked_back() {
    for (text, apart, together) in [
        ("61/4", 6.25, 15.25),
        ("123/8", 12.375, 15.375),
        ("101/8", 10.125, 12.625),
        ("15/8", 1.625, 1.875),
        ("12/8", 1.25, 1.5),
        ("1511/16", 15.6875, 94.4375),
        ("-61/4", -6.25, -15.25),
        (" 61 / 4 ", 6.25, 15.25),
    ] {
        assert_eq!(parse_number(text), Err(LengthError::Either { apart, together }), "{text:?}");
        let (apart, together) = (25.4 * apart, 25.4 * together);
        assert_eq!(
            parse_length_mm(&format!("{text}\""), LengthUnit::Millimetre),
            Err(LengthError::Either { apart, together }),
            "{text:?} in inches"
        );
    }
    // Under one it is a fraction like any other, as each sixteenth of a tape is.
    for (text, value) in
        [("11/16", 0.6875), ("13/16", 0.8125), ("15/16", 0.9375), ("11/32", 0.343_75), ("31/32", 0.968_75)]
    {
        assert_eq!(parse_number(text), Ok(value), "{text:?}");
    }
    // None of these can be parted into a whole number and a fraction under one.
    for (text, value) in
        [("3/2", 1.5), ("5/4", 1.25), ("10/4", 2.5), ("100/8", 12.5), ("44/4", 11.0), ("6 1/4", 6.25), ("06/8", 0.75)]
    {
        assert_eq!(parse_number(text), Ok(value), "{text:?}");
    }
    let endless = "9".repeat(400);
    assert_eq!(
        parse_number(&format!("{endless}/4")),
        Err(LengthError::TooLarge),
        "and no more is asked of what is too large"
    );
}

#[test]
fn one_sign_is_a_sign_and_two_are_none() {
    for text in ["-2", "−2", "–2", "‐2", "‑2", "‒2", "－2", "\u{fe63}2", "- 2"] {
        assert_eq!(parse_number(text), Ok(-2.0), "{text:?}");
    }
    for text in ["+2", "＋2"] {
        assert_eq!(parse_number(text), Ok(2.0), "{text:?}");
    }
    for text in ["--2", "−−2", "+-2", "-+2", "++2", "+ -2", "2-", "—2", "-", "+", "±2", "10–20", "10-20"] {
        assert_eq!(parse_number(text), Err(LengthError::NotANumber), "{text:?}");
    }
}

#[test]
fn what_is_written_beside_a_length_is_never_passed_over() {
    for text in [
        "15..", "15 mm mm", "15 mm cm", "15 mm 3", "mm", "in", "\"", ".", "15 in..", "15 mmm", "15;", "15\0", "15 °",
        "15%", "🧵15", "15 (cut)",
    ] {
        assert_eq!(parse_length_mm(text, LengthUnit::Millimetre), Err(LengthError::NotANumber), "{text:?}");
    }
    for text in ["15.", "15 mm.", "15. mm", "15 MM", "15㎜."] {
        assert_eq!(
            parse_length_mm(text, LengthUnit::Inch).map(|mm| mm / if text == "15." { 25.4 } else { 1.0 }),
            Ok(15.0),
            "{text:?}"
        );
    }
}

/// Between two digits stands a third, a decimal mark or nothing that shows, of all characters of planes 0 and 1 and the
/// tags of plane 14: the rest are ideographs and private.
#[test]
fn of_all_characters_only_those_with_a_meaning_are_taken() {
    let marks = ".．٫,，،";
    for c in ('\0'..='\u{1ffff}').chain('\u{e0000}'..='\u{e01ff}') {
        let zero = ['0', '\u{660}', '\u{6f0}', '\u{ff10}']
            .into_iter()
            .find(|zero| (*zero..=char::from_u32(u32::from(*zero) + 9).unwrap_or(*zero)).contains(&c));
        let expected = match zero {
            Some(zero) => Some(f64::from(105 + 10 * (u32::from(c) - u32::from(zero)))),
            None if marks.contains(c) => Some(1.5),
            None if "/⁄∕／".contains(c) => Some(0.2),
            None if c == '⅟' => Some(1.2),
            None if PASSED_OVER.contains(c) => Some(15.0),
            None => None,
        };
        assert_eq!(parse_number(&format!("1{c}5")).ok(), expected, "U+{:04X}", u32::from(c));
    }
}
