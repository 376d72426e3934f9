//! What a print is measured by: two squares once a set, and a scale along the foot of every page.

use crate::drawing::{Anchor, Drawing, Kind};
use crate::ink::{Page, Pen, Point};
use crate::text::Type;
use crate::words::Words;

/// Sides of the test squares, and between them, mm.
const TWO_INCHES_MM: f64 = 50.8;
const FIFTY_MM: f64 = 50.0;
const BETWEEN_MM: f64 = 5.0;

/// An inch, and how many of them and of centimetres the scale has.
const INCH_MM: f64 = 25.4;
const INCHES: u32 = 4;
const CENTIMETRES: u32 = 10;

/// How long the scale is, and how far its longest ticks reach to each side of its line, mm.
pub(crate) const SCALE_MM: f64 = INCHES as f64 * INCH_MM;
pub(crate) const TICK_MM: f64 = 4.0;

/// Squares of two inches and of fifty millimetres, measured between the middles of their lines.
pub(crate) fn squares(words: &Words<'_>) -> Drawing {
    let mut d = Drawing::new("squares", String::new());
    square(&mut d, 0.0, TWO_INCHES_MM, "2\u{a0}in", words);
    square(&mut d, TWO_INCHES_MM + BETWEEN_MM, FIFTY_MM, "50\u{a0}mm", words);
    d
}

/// Standing on one line with the others.
fn square(d: &mut Drawing, x: f64, side: f64, name: &str, words: &Words<'_>) {
    let (top, foot) = (TWO_INCHES_MM - side, TWO_INCHES_MM);
    d.closed(Kind::Outline, vec![[x, top], [x + side, top], [x + side, foot], [x, foot]]);
    let mut y = 0.5 * (top + foot) - 6.0;
    let said = words.fill("test_square", &[("side", name)]);
    for (letters, text) in [(Type::bold(5.0), name), (Type::plain(2.6), &said)] {
        for line in letters.wrap_at_most(text, side - 8.0, 4) {
            y += letters.leading();
            d.label([x + 0.5 * side, y], Anchor::Middle, letters, line);
        }
    }
}

/// Centimetres and millimetres over a line, inches and eighths under it; `start` is its left end.
pub(crate) fn scale(page: &mut Page, start: Point) {
    page.line(start, [start[0] + SCALE_MM, start[1]], Pen::whole(0.2));
    let mut tick = |mm: f64, reach: f64, name: String| {
        let x = start[0] + mm;
        page.line([x, start[1]], [x, start[1] + reach], Pen::whole(0.15));
        let letters = Type::plain(2.2);
        let y = start[1] + reach - if reach < 0.0 { -0.72 * letters.size } else { 0.0 };
        page.text([x + 0.6, y], &name, letters);
    };
    for mm in 0..=10 * CENTIMETRES {
        let reach = if mm % 10 == 0 {
            1.0
        } else if mm % 5 == 0 {
            0.5
        } else {
            0.3
        };
        // Beyond the last centimetre its name would stand over nothing.
        let name = if mm % 10 > 0 {
            String::new()
        } else if mm == 10 * CENTIMETRES {
            "mm".to_owned()
        } else {
            mm.to_string()
        };
        tick(f64::from(mm), -reach * TICK_MM, name);
    }
    for eighth in 0..=8 * INCHES {
        let reach = if eighth % 8 == 0 {
            1.0
        } else if eighth % 4 == 0 {
            0.5
        } else {
            0.3
        };
        let name = if eighth % 8 > 0 || eighth == 8 * INCHES {
            String::new()
        } else if eighth == 0 {
            "in".to_owned()
        } else {
            (eighth / 8).to_string()
        };
        tick(f64::from(eighth) * INCH_MM / 8.0, reach * TICK_MM, name);
    }
}
