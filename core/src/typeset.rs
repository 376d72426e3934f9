//! Characters as they are typeset and pasted, read as the plain ones that mean the same.
//!
//! Word processors, phones and other people's pages set thin spaces, dashes for minus signs, digits of other
//! scripts and marks that show as nothing. What has no plain meaning here stays as it is, for the reader of the
//! text to refuse.

/// The plain character that a typeset one means; none for a mark that shows as nothing and parts nothing.
///
/// Spaces of any width become one space: the zero-width space too, which Unicode (chapter 6.2) names for setting
/// a fraction apart from the whole number before it. Dashes that are pasted for a minus become a hyphen-minus;
/// the em dash does not, as it parts words and is no sign. Full-width forms and the two sets of Arabic-Indic
/// digits become ASCII. Marks that only set a direction or forbid a break are passed over, but not the
/// overrides U+202D and U+202E, under which digits show in another order than they stand.
///
/// Source: Unicode Character Database 16.0 (`PropList` White_Space, `DerivedNumericType`, `BidiControl`).
pub(crate) fn plain(c: char) -> Option<char> {
    match c {
        ' '..='~' => Some(c),
        '\u{200c}'..='\u{200f}'
        | '\u{61c}'
        | '\u{202a}'..='\u{202c}'
        | '\u{2060}'
        | '\u{2066}'..='\u{2069}'
        | '\u{feff}' => None,
        '\u{200b}' => Some(' '),
        '\u{2010}'..='\u{2013}' | '\u{2212}' | '\u{fe63}' => Some('-'),
        '\u{2044}' | '\u{2215}' => Some('/'),
        '\u{660}'..='\u{669}' => ascii(c, '\u{660}', b'0'),
        '\u{6f0}'..='\u{6f9}' => ascii(c, '\u{6f0}', b'0'),
        '\u{66b}' => Some('.'),
        '\u{60c}' => Some(','),
        '\u{ff01}'..='\u{ff5e}' => ascii(c, '\u{ff01}', b'!'),
        _ if c.is_whitespace() => Some(' '),
        _ => Some(c),
    }
}

/// The ASCII character as far after `to` as `c` is after `from`.
fn ascii(c: char, from: char, to: u8) -> Option<char> {
    char::from_u32(u32::from(to) + (u32::from(c) - u32::from(from)))
}

/// Text in plain characters; a typeset "one over" becomes its two.
pub(crate) fn plain_text(text: &str) -> String {
    text.replace('⅟', "¹/").chars().filter_map(plain).collect()
}

/// The value of a superscript digit, as in the upper number of a typeset fraction.
pub(crate) fn raised_digit(c: char) -> Option<char> {
    match c {
        '²' => Some('2'),
        '³' => Some('3'),
        '¹' => Some('1'),
        '\u{2070}' | '\u{2074}'..='\u{2079}' => ascii(c, '\u{2070}', b'0'),
        _ => None,
    }
}

/// The value of a subscript digit, as in the lower number of a typeset fraction.
pub(crate) fn lowered_digit(c: char) -> Option<char> {
    match c {
        '\u{2080}'..='\u{2089}' => ascii(c, '\u{2080}', b'0'),
        _ => None,
    }
}
