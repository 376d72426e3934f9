//! Numbers, lists of them, and transforms, as SVG 2 writes them; in a style, as CSS Transforms does.

use kurbo::{Affine, Point};
use lieflat::decimal;

/// The largest number that is taken: beyond it nothing is drawn.
const LARGEST: f64 = 1e9;

/// A text as it is read on.
#[derive(Debug, Clone)]
pub(crate) struct Scan<'a> {
    text: &'a [u8],
    at: usize,
}

impl<'a> Scan<'a> {
    pub(crate) fn new(text: &'a str) -> Self {
        Self { text: text.as_bytes(), at: 0 }
    }

    fn peek(&self) -> Option<u8> {
        self.text.get(self.at).copied()
    }

    fn take_while(&mut self, wanted: fn(u8) -> bool) -> &'a [u8] {
        let rest = self.text.get(self.at..).unwrap_or_default();
        let length = rest.iter().position(|b| !wanted(*b)).unwrap_or(rest.len());
        self.at += length;
        rest.get(..length).unwrap_or_default()
    }

    fn take(&mut self, wanted: impl Fn(u8) -> bool) -> Option<u8> {
        let byte = self.peek().filter(|b| wanted(*b))?;
        self.at += 1;
        Some(byte)
    }

    /// Passes spaces, and one comma among them.
    pub(crate) fn pass(&mut self) {
        self.take_while(|b| b.is_ascii_whitespace());
        if self.take(|b| b == b',').is_some() {
            self.take_while(|b| b.is_ascii_whitespace());
        }
    }

    /// The next number, where one stands.
    pub(crate) fn number(&mut self) -> Option<f64> {
        self.pass();
        let start = self.at;
        self.take(|b| matches!(b, b'+' | b'-'));
        let mut digits = self.take_while(|b| b.is_ascii_digit()).len();
        if self.take(|b| b == b'.').is_some() {
            digits += self.take_while(|b| b.is_ascii_digit()).len();
        }
        if digits == 0 {
            self.at = start;
            return None;
        }
        let mantissa = self.at;
        if self.take(|b| matches!(b, b'e' | b'E')).is_some() {
            self.take(|b| matches!(b, b'+' | b'-'));
            if self.take_while(|b| b.is_ascii_digit()).is_empty() {
                // An `e` that no digits follow begins a unit, `em`.
                self.at = mantissa;
            }
        }
        let text = core::str::from_utf8(self.text.get(start..self.at)?).ok()?;
        decimal::read(text).filter(|v| v.abs() <= LARGEST)
    }

    /// A word of letters.
    pub(crate) fn word(&mut self) -> &'a str {
        self.pass();
        core::str::from_utf8(self.take_while(|b| b.is_ascii_alphabetic() || b == b'%')).unwrap_or_default()
    }

    /// Passes one byte where it is this one.
    pub(crate) fn mark(&mut self, wanted: u8) -> bool {
        self.take_while(|b| b.is_ascii_whitespace());
        self.take(|b| b == wanted).is_some()
    }

    /// All numbers up to what is none.
    pub(crate) fn numbers(&mut self) -> Vec<f64> {
        core::iter::from_fn(|| self.number()).collect()
    }

    /// Whether nothing stands any more.
    pub(crate) fn is_over(&mut self) -> bool {
        self.pass();
        self.peek().is_none()
    }
}

/// A number with its unit, where nothing else stands.
pub(crate) fn with_unit(text: &str) -> Option<(f64, String)> {
    let mut scan = Scan::new(text);
    let value = scan.number()?;
    let unit = scan.word().to_ascii_lowercase();
    scan.is_over().then_some((value, unit))
}

/// A number of a transform: in a style with the unit that it is counted in without one.
fn in_transform(scan: &mut Scan<'_>) -> Option<f64> {
    let value = scan.number()?;
    matches!(scan.word(), "" | "px" | "deg").then_some(value)
}

/// What a `transform` says; none where any of it cannot be read.
pub(crate) fn transform(text: &str) -> Option<Affine> {
    let mut scan = Scan::new(text);
    let mut all = Affine::IDENTITY;
    while !scan.is_over() {
        let name = scan.word();
        if !scan.mark(b'(') {
            return if name == "none" && scan.is_over() { Some(Affine::IDENTITY) } else { None };
        }
        let n: Vec<f64> = core::iter::from_fn(|| in_transform(&mut scan)).collect();
        if !scan.mark(b')') {
            return None;
        }
        all *= match (name, n.as_slice()) {
            ("matrix", [a, b, c, d, e, f]) => Affine::new([*a, *b, *c, *d, *e, *f]),
            ("translate" | "translateX", [x]) => Affine::translate((*x, 0.0)),
            ("translateY", [y]) => Affine::translate((0.0, *y)),
            ("translate", [x, y]) => Affine::translate((*x, *y)),
            ("scale", [both]) => Affine::scale(*both),
            ("scale", [x, y]) => Affine::scale_non_uniform(*x, *y),
            ("rotate", [turn]) => Affine::rotate(turn.to_radians()),
            ("rotate", [turn, x, y]) => Affine::rotate_about(turn.to_radians(), Point::new(*x, *y)),
            ("skewX", [turn]) => Affine::skew(turn.to_radians().tan(), 0.0),
            ("skewY", [turn]) => Affine::skew(0.0, turn.to_radians().tan()),
            _ => return None,
        };
    }
    Some(all)
}
