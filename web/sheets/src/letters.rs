//! Text as the sheets can print it: WinAnsi codes, and which letters are not among them.

/// Stands in encoded text for a letter that cannot be printed; drawn as a boxed question mark. WinAnsi has no
/// letter at this code.
pub(crate) const REPLACED: u8 = 0x7f;

/// A space at which no line is broken.
pub(crate) const NO_BREAK: u8 = 0xa0;

/// The letters of codes 0x80 to 0x9f; a space where WinAnsi has none.
const HIGH: [char; 32] = [
    '€', ' ', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', ' ', 'Ž', ' ', ' ', '‘', '’', '“', '”', '•', '–',
    '—', '˜', '™', 'š', '›', 'œ', ' ', 'ž', 'Ÿ',
];

/// Encodes a text. Every letter outside the encoding becomes [`REPLACED`].
pub(crate) fn encode(text: &str) -> Vec<u8> {
    text.chars().filter_map(code).collect()
}

/// The letters of texts that cannot be printed: each once, in order.
pub(crate) fn replaced<'a>(texts: impl Iterator<Item = &'a str>) -> Vec<char> {
    let mut found = Vec::new();
    for letter in texts.flat_map(str::chars).filter(|letter| code(*letter) == Some(REPLACED)) {
        let place = found.partition_point(|other| *other < letter);
        if found.get(place) != Some(&letter) {
            found.insert(place, letter);
        }
    }
    found
}

/// A letter's code point as people quote it, since the letter itself cannot be printed: `U+1F600`.
pub(crate) fn quoted(letter: char) -> String {
    format!("U+{:04X}", u32::from(letter))
}

/// A letter's code; none for a soft hyphen, which is not meant to be seen.
pub(crate) fn code(letter: char) -> Option<u8> {
    match letter {
        '\u{ad}' => None,
        '\t' | '\n' | '\r' | '\u{2000}'..='\u{200a}' | '\u{205f}' | '\u{3000}' => Some(b' '),
        '\u{a0}' | '\u{202f}' => Some(NO_BREAK),
        '\u{2010}' | '\u{2011}' => Some(b'-'),
        // The minus sign is not there; the en dash is as long.
        '\u{2212}' => Some(0x96),
        ' '..='~' | '\u{a1}'..='\u{ff}' => u8::try_from(u32::from(letter)).ok(),
        _ => Some(high(letter).unwrap_or(REPLACED)),
    }
}

fn high(letter: char) -> Option<u8> {
    let i = HIGH.iter().position(|high| *high == letter)?;
    u8::try_from(0x80 + i).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spanish_is_printed_whole() {
        let text = "¿Línea de costura? ¡Señal: piquete, muñeca, güe, ½ €, “×”!";
        assert!(replaced([text].into_iter()).is_empty(), "nothing is replaced");
        assert_eq!(encode("ñ€×"), [0xf1, 0x80, 0xd7], "WinAnsi's codes");
    }

    #[test]
    fn what_cannot_be_printed_is_replaced_and_said() {
        let text = "a\u{202e}b\u{0}ж😀";
        assert_eq!(encode(text), [b'a', REPLACED, b'b', REPLACED, REPLACED, REPLACED], "each is marked");
        let said: Vec<String> = replaced([text, text].into_iter()).into_iter().map(quoted).collect();
        assert_eq!(said, ["U+0000", "U+0436", "U+202E", "U+1F600"], "each is said");
        assert_eq!(encode("soft\u{ad}ly"), b"softly", "a soft hyphen is no letter");
    }

    #[test]
    fn codes_that_no_letter_has_come_from_no_letter() {
        for letter in ['\u{7f}', '\u{81}', '\u{8d}', '\u{90}', '\u{9f}'] {
            assert_eq!(encode(&letter.to_string()), [REPLACED], "{letter:?} is a control character");
        }
    }
}
