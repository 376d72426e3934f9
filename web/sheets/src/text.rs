//! Lines of text: their widths, and long ones broken.

use crate::letters::{NO_BREAK, REPLACED, code};
use crate::metrics::Face;

/// How wide the box of a replaced letter is, in sizes.
pub(crate) const BOX_WIDTH: f64 = 0.72;

/// The size of a point in mm.
pub(crate) const POINT_MM: f64 = 25.4 / 72.0;

/// A text's face and size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Type {
    pub face: Face,
    /// mm; a capital letter is 0.72 of it high.
    pub size: f64,
}

impl Type {
    pub(crate) const fn plain(size: f64) -> Self {
        Self { face: Face::Plain, size }
    }

    pub(crate) const fn bold(size: f64) -> Self {
        Self { face: Face::Bold, size }
    }

    /// From one line to the next. mm.
    pub(crate) fn leading(self) -> f64 {
        1.25 * self.size
    }

    /// Width of a text. mm.
    pub(crate) fn width(self, text: &str) -> f64 {
        self.widths(text.chars().filter_map(code))
    }

    /// Width of encoded text. mm.
    pub(crate) fn codes_width(self, codes: &[u8]) -> f64 {
        self.widths(codes.iter().copied())
    }

    fn widths(self, codes: impl Iterator<Item = u8>) -> f64 {
        let widths = codes.map(|code| match code {
            REPLACED => BOX_WIDTH,
            NO_BREAK => self.face.width(b' '),
            code => self.face.width(code),
        });
        self.size * widths.sum::<f64>()
    }

    fn letter_width(self, letter: char) -> f64 {
        self.widths(code(letter).into_iter())
    }

    /// Breaks a text into lines no wider than `width`: at spaces, and within a word that is wider by itself.
    pub(crate) fn wrap(self, text: &str, width: f64) -> Vec<String> {
        let mut lines = Vec::new();
        let (mut line, mut long) = (String::new(), 0.0);
        let space = self.width(" ");
        for word in text.split([' ', '\t', '\n', '\r']).filter(|word| !word.is_empty()) {
            if !line.is_empty() {
                if long + space + self.width(word) > width {
                    lines.push(core::mem::take(&mut line));
                    long = 0.0;
                } else {
                    line.push(' ');
                    long += space;
                }
            }
            for letter in word.chars() {
                let wide = self.letter_width(letter);
                if !line.is_empty() && long + wide > width {
                    lines.push(core::mem::take(&mut line));
                    long = 0.0;
                }
                line.push(letter);
                long += wide;
            }
        }
        if !line.is_empty() {
            lines.push(line);
        }
        lines
    }

    /// Like [`Self::wrap`], with at most `most` lines; the last one ends in three dots where text is left over.
    pub(crate) fn wrap_at_most(self, text: &str, width: f64, most: usize) -> Vec<String> {
        // Far more text than fits is not broken in vain.
        let short: String = text.chars().take(400 * most).collect();
        let mut lines = self.wrap(&short, width);
        if lines.len() > most {
            lines.truncate(most);
            if let Some(last) = lines.last_mut() {
                while !last.is_empty() && self.width(last) + self.width("...") > width {
                    last.pop();
                }
                last.push_str("...");
            }
        }
        lines
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_asked() {
        let plain = Type::plain(4.0);
        for text in [
            "seam line and cut edge of the neckline",
            "https://example.org/#aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa",
            "😀😀😀😀😀😀😀😀😀",
        ] {
            for line in plain.wrap(text, 20.0) {
                assert!(plain.width(&line) <= 20.0, "{text}");
            }
        }
    }

    #[test]
    fn a_broken_word_loses_no_letter_and_a_no_break_space_holds() {
        let plain = Type::plain(4.0);
        let broken = plain.wrap("abcdefghijklmnopqrstuvwxyz", 10.0).concat();
        assert_eq!(broken, "abcdefghijklmnopqrstuvwxyz", "every letter is there");
        let lines = plain.wrap("aaaa 15\u{a0}3/8\u{a0}in", 16.0);
        assert_eq!(lines.first().map(String::as_str), Some("aaaa"), "the figure moves as a whole");
    }

    #[test]
    fn what_is_left_out_is_shown_by_dots() {
        let lines = Type::plain(4.0).wrap_at_most("one two three four five six", 20.0, 1);
        assert_eq!(lines.len(), 1, "one line");
        assert!(lines.concat().ends_with("..."), "and dots");
    }
}
