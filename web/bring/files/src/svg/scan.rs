//! Numbers, lists of them, and path data, as SVG 2 writes them.

use kurbo::{Affine, Arc, BezPath, Point, SvgArc, Vec2};

use crate::decimal;
use crate::round::add_arc;

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

    /// A flag of an arc, which may stand without a space before what follows.
    fn flag(&mut self) -> Option<bool> {
        self.pass();
        self.take(|b| matches!(b, b'0' | b'1')).map(|b| b == b'1')
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

    fn command(&mut self) -> Option<u8> {
        self.take_while(|b| b.is_ascii_whitespace() || b == b',');
        self.take(|b| b"MmLlHhVvCcSsQqTtAaZz".contains(&b))
    }
}

/// A number with its unit.
pub(crate) fn with_unit(text: &str) -> Option<(f64, String)> {
    let mut scan = Scan::new(text);
    let value = scan.number()?;
    Some((value, scan.word().to_ascii_lowercase()))
}

/// What a `transform` says.
pub(crate) fn transform(text: &str) -> Affine {
    let mut scan = Scan::new(text);
    let mut all = Affine::IDENTITY;
    loop {
        let name = scan.word();
        if name.is_empty() || !scan.mark(b'(') {
            return all;
        }
        let n = scan.numbers();
        scan.mark(b')');
        let of = |i: usize, missing: f64| n.get(i).copied().unwrap_or(missing);
        all *= match name {
            "matrix" if n.len() == 6 => {
                Affine::new([of(0, 1.0), of(1, 0.0), of(2, 0.0), of(3, 1.0), of(4, 0.0), of(5, 0.0)])
            }
            "translate" => Affine::translate((of(0, 0.0), of(1, 0.0))),
            "scale" => Affine::scale_non_uniform(of(0, 1.0), of(1, of(0, 1.0))),
            "rotate" => Affine::rotate_about(of(0, 0.0).to_radians(), Point::new(of(1, 0.0), of(2, 0.0))),
            "skewX" => Affine::skew(of(0, 0.0).to_radians().tan(), 0.0),
            "skewY" => Affine::skew(0.0, of(0, 0.0).to_radians().tan()),
            _ => Affine::IDENTITY,
        };
    }
}

/// The curve of path data, up to where it can be read: as SVG has it, what stands before a mistake is drawn.
pub(crate) fn path(text: &str) -> BezPath {
    let mut scan = Scan::new(text);
    let mut pen = Pen::default();
    let mut before = None;
    loop {
        let said = scan.command();
        let command = match (said, before) {
            (Some(command), _) => command,
            (None, Some(b'M')) => b'L',
            (None, Some(b'm')) => b'l',
            (None, Some(same)) if !matches!(same, b'Z' | b'z') => same,
            _ => return pen.path,
        };
        if before.is_none() && !matches!(command, b'M' | b'm') {
            return pen.path;
        }
        let Some(numbers) = arguments(&mut scan, command) else { return pen.path };
        pen.draw(command, numbers);
        before = Some(command);
    }
}

/// As many numbers as a command takes; the rest are zero.
fn arguments(scan: &mut Scan<'_>, command: u8) -> Option<[f64; 7]> {
    let command = command.to_ascii_uppercase();
    let count = match command {
        b'Z' => 0,
        b'H' | b'V' => 1,
        b'S' | b'Q' => 4,
        b'C' => 6,
        b'A' => 7,
        _ => 2,
    };
    let mut numbers = [0.0; 7];
    for (i, number) in numbers.iter_mut().enumerate().take(count) {
        *number =
            if command == b'A' && (i == 3 || i == 4) { f64::from(u8::from(scan.flag()?)) } else { scan.number()? };
    }
    Some(numbers)
}

/// The curve as far as it is drawn.
#[derive(Default)]
struct Pen {
    path: BezPath,
    at: Point,
    /// Where the run began, to which a closed one goes back.
    began: Point,
    is_closed: bool,
    /// The handle of the curve before, and the command that mirrors it.
    mirrors: Option<(Point, u8)>,
}

impl Pen {
    fn draw(&mut self, command: u8, [a, b, c, d, e, f, g]: [f64; 7]) {
        let here = self.at;
        let origin = if command.is_ascii_lowercase() { here } else { Point::ZERO };
        let point = |x, y| origin + Vec2::new(x, y);
        let command = command.to_ascii_uppercase();
        if self.is_closed && !matches!(command, b'M' | b'Z') {
            self.path.move_to(here);
            self.is_closed = false;
        }
        let mut mirrors = None;
        match command {
            b'M' => {
                self.at = point(a, b);
                (self.began, self.is_closed) = (self.at, false);
                self.path.move_to(self.at);
            }
            b'L' => self.line_to(point(a, b)),
            b'H' => self.line_to(Point::new(origin.x + a, here.y)),
            b'V' => self.line_to(Point::new(here.x, origin.y + a)),
            b'C' => mirrors = Some(self.cubic_to(point(a, b), point(c, d), point(e, f))),
            b'S' => mirrors = Some(self.cubic_to(self.mirrored(b'S'), point(a, b), point(c, d))),
            b'Q' => mirrors = Some(self.quad_to(point(a, b), point(c, d))),
            b'T' => mirrors = Some(self.quad_to(self.mirrored(b'Q'), point(a, b))),
            b'A' => self.arc_to(Vec2::new(a, b), c.to_radians(), [d > 0.0, e > 0.0], point(f, g)),
            _ if !self.is_closed => {
                self.path.close_path();
                (self.at, self.is_closed) = (self.began, true);
            }
            _ => {}
        }
        self.mirrors = mirrors;
    }

    fn mirrored(&self, by: u8) -> Point {
        let handle = self.mirrors.filter(|(_, command)| *command == by).map_or(self.at, |(handle, _)| handle);
        self.at + (self.at - handle)
    }

    fn line_to(&mut self, to: Point) {
        self.path.line_to(to);
        self.at = to;
    }

    fn cubic_to(&mut self, a: Point, b: Point, to: Point) -> (Point, u8) {
        self.path.curve_to(a, b, to);
        self.at = to;
        (b, b'S')
    }

    fn quad_to(&mut self, handle: Point, to: Point) -> (Point, u8) {
        self.path.quad_to(handle, to);
        self.at = to;
        (handle, b'Q')
    }

    fn arc_to(&mut self, radii: Vec2, x_rotation: f64, [large_arc, sweep]: [bool; 2], to: Point) {
        let arc = SvgArc { from: self.at, to, radii, x_rotation, large_arc, sweep };
        let round = if self.at == to { None } else { Arc::from_svg_arc(&arc) };
        let Some(round) = round else { return self.line_to(to) };
        add_arc(&mut self.path, &round);
        // The arc ends where it was said to, to the last digit.
        let last = self.path.pop();
        if let Some(kurbo::PathEl::CurveTo(a, b, _)) = last {
            self.path.curve_to(a, b, to);
        }
        self.at = to;
    }
}
