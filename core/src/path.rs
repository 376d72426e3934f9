//! The text of a drawn path, in SVG's syntax, to a curve: read whole, or refused with the place where it stops.

use core::str::Chars;

use kurbo::{Arc, BezPath, PathEl, Point, SvgArc, Vec2};

use crate::decimal;
use crate::length::written;
use crate::typeset::plain;

/// How near an arc's cubics come to it, as a share of its larger radius: under 0.0001 mm in any neckline, whatever unit a text is in.
const ARC_SHARE: f64 = 1e-7;
/// Ends of an arc that are nearer than this are one place, and SVG leaves such an arc out, mm.
const ONE_PLACE_MM: f64 = 1e-9;
/// The largest number that is reckoned with, mm; what may be drawn ends far below.
const LARGEST: f64 = 1e9;
/// Most elements that are read: a hostile text holds millions, and an outline of which most is nothing far fewer.
const MOST_ELEMENTS: usize = 10_000;
/// Most characters that are told of what stands at a place.
const MOST_TOLD: usize = 12;

/// Coordinates are written to 1/1000 mm, far under what anyone can draw.
const DECIMALS: i32 = 3;

/// The text of a path.
pub(crate) fn path_text(path: &BezPath) -> String {
    let texts: Vec<String> = path.elements().iter().map(|element| element_text(*element)).collect();
    texts.join(" ")
}

fn element_text(element: PathEl) -> String {
    let (command, points) = match element {
        PathEl::MoveTo(p) => ("M", [None, None, Some(p)]),
        PathEl::LineTo(p) => ("L", [None, None, Some(p)]),
        PathEl::QuadTo(a, p) => ("Q", [None, Some(a), Some(p)]),
        PathEl::CurveTo(a, b, p) => ("C", [Some(a), Some(b), Some(p)]),
        PathEl::ClosePath => ("Z", [None; 3]),
    };
    let points: Vec<String> = points.into_iter().flatten().map(point_text).collect();
    command.to_owned() + &points.join(" ")
}

/// A point of a path, as text.
pub(crate) fn point_text(p: Point) -> String {
    written(p.x, DECIMALS) + "," + &written(p.y, DECIMALS)
}

/// Where and why the text of a path could not be read on. Places are counted in characters from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PathStop {
    /// What stands here is no part of a path, or does not go on from what stands before it.
    Stray {
        /// Where it begins.
        place: usize,
        /// What stands there, as it can be shown: up to 12 plain characters, or another one with its code.
        found: String,
    },
    /// The text ends where a number is still missing.
    Ends {
        /// The place after the last character.
        place: usize,
    },
    /// The text goes on beyond 10 000 elements, or as many as were to be read.
    TooLong {
        /// The place up to which it was read.
        place: usize,
    },
    /// A number over 1 000 000 000 (a thousand kilometres).
    TooLarge {
        /// Where it begins.
        place: usize,
        /// The first 12 characters of it at most.
        found: String,
    },
}

/// Reads the text of a path by the grammar of SVG 2, chapter 9 (Paths): all of it, or nothing.
///
/// More is read than that grammar has where nothing can be mistaken: a number may have an exponent or end in its
/// point, as in SVG 1.1; one comma may follow any number; spaces of any width, dashes and minus signs, digits and
/// letters as they are typeset are read as the plain ones. An arc becomes cubics within a ten-millionth of its larger radius. A text
/// of nothing but spaces is a path without elements, as in SVG.
///
/// ```
/// use lieflat::path::{PathStop, read_path};
///
/// assert_eq!(read_path("M0 95 60–.5.5.25")?.to_svg(), "M0,95 L60,-0.5 L0.5,0.25");
/// let stray = PathStop::Stray { place: 12, found: "(neck)".to_owned() };
/// assert_eq!(read_path("M0 95 60 1 (neck) 88 0"), Err(stray));
/// # Ok::<(), PathStop>(())
/// ```
///
/// # Errors
/// A [`PathStop`] with the place from which on the text is no path.
pub fn read_path(text: &str) -> Result<BezPath, PathStop> {
    read_path_of(text, MOST_ELEMENTS)
}

/// Reads the text of a path as [`read_path`] does, of as many elements as a file may hold in one path.
///
/// # Errors
/// A [`PathStop`] with the place from which on the text is no path, or is one of more elements.
pub fn read_path_of(text: &str, most_elements: usize) -> Result<BezPath, PathStop> {
    let mut reader = Reader { rest: text.chars(), passed: 0 };
    let mut pen = Pen::default();
    let mut before = None;
    while let Some(command) = reader.command(before)? {
        pen.draw(command, reader.numbers(command)?);
        if pen.path.elements().len() > most_elements {
            return Err(PathStop::TooLong { place: reader.passed });
        }
        before = Some(command);
    }
    Ok(pen.path)
}

/// The text that is still to be read.
#[derive(Clone)]
struct Reader<'a> {
    rest: Chars<'a>,
    /// How many characters have been read.
    passed: usize,
}

impl Reader<'_> {
    /// The next character, in its plain form.
    fn peek(&self) -> Option<char> {
        self.rest.clone().find_map(plain)
    }

    /// Reads the next character where it is one of these.
    fn take(&mut self, wanted: fn(char) -> bool) -> Option<char> {
        let c = self.peek().filter(|c| wanted(*c))?;
        self.passed = self.place();
        self.rest.find_map(plain)?;
        Some(c)
    }

    /// Reads characters as long as they are some of these; says how many.
    fn take_all(&mut self, wanted: fn(char) -> bool, text: &mut String) -> usize {
        let before = text.len();
        while let Some(c) = self.take(wanted) {
            text.push(c);
        }
        text.len() - before
    }

    /// The next command's letter, said or understood from the one before; none at the end of the text.
    fn command(&mut self, before: Option<char>) -> Result<Option<char>, PathStop> {
        self.spaces();
        let Some(next) = self.peek() else { return Ok(None) };
        let begins = if before.is_none() { is_move } else { is_command };
        if let Some(said) = self.take(begins) {
            return Ok(Some(said));
        }
        match before {
            Some('Z' | 'z') | None => Err(self.stop()),
            _ if !(is_digit(next) || is_sign(next) || is_point(next)) => Err(self.stop()),
            Some('M') => Ok(Some('L')),
            Some('m') => Ok(Some('l')),
            same => Ok(same),
        }
    }

    /// As many numbers as a command takes; the rest are zero.
    fn numbers(&mut self, command: char) -> Result<[f64; 7], PathStop> {
        let command = command.to_ascii_uppercase();
        let count = match command {
            'Z' => 0,
            'H' | 'V' => 1,
            'Q' | 'S' => 4,
            'C' => 6,
            'A' => 7,
            _ => 2,
        };
        let mut numbers = [0.0; 7];
        for (i, number) in numbers.iter_mut().enumerate().take(count) {
            self.spaces();
            *number = if command == 'A' && (i == 3 || i == 4) { self.flag()? } else { self.number()? };
            // One comma may follow.
            self.spaces();
            self.take(|c| c == ',');
        }
        Ok(numbers)
    }

    fn number(&mut self) -> Result<f64, PathStop> {
        let start = self.clone();
        let mut text = String::new();
        text.extend(self.take(is_sign));
        let mut digits = self.take_all(is_digit, &mut text);
        text.extend(self.take(is_point));
        digits += self.take_all(is_digit, &mut text);
        if digits > 0 {
            self.exponent(&mut text);
        }
        let value = decimal::read(&text).ok_or_else(|| start.stop())?;
        if value.abs() > LARGEST {
            let found = text.chars().take(MOST_TOLD).collect();
            return Err(PathStop::TooLarge { place: start.place(), found });
        }
        Ok(value)
    }

    /// Reads an exponent where one stands: an `e` that no digits follow belongs to no number.
    fn exponent(&mut self, text: &mut String) {
        let mut ahead = self.clone();
        let mut exponent = String::new();
        exponent.extend(ahead.take(|c| matches!(c, 'e' | 'E')));
        if exponent.is_empty() {
            return;
        }
        exponent.extend(ahead.take(is_sign));
        if ahead.take_all(is_digit, &mut exponent) > 0 {
            text.push_str(&exponent);
            *self = ahead;
        }
    }

    /// One of an arc's two flags, 0 or 1, which may stand without a space before what follows.
    fn flag(&mut self) -> Result<f64, PathStop> {
        let flag = self.take(|c| matches!(c, '0' | '1')).ok_or_else(|| self.stop())?;
        Ok(f64::from(u8::from(flag == '1')))
    }

    fn spaces(&mut self) {
        while self.take(char::is_whitespace).is_some() {}
    }

    /// Where the next character that is not passed over stands.
    fn place(&self) -> usize {
        self.passed + self.rest.clone().take_while(|c| plain(*c).is_none()).count() + 1
    }

    /// Says that what stands next cannot be read.
    fn stop(&self) -> PathStop {
        let place = self.place();
        let mut rest = self.rest.clone();
        while rest.clone().next().is_some_and(|c| plain(c).is_none()) {
            rest.next();
        }
        let found: String = rest.clone().take_while(char::is_ascii_graphic).take(MOST_TOLD).collect();
        match rest.next() {
            None => PathStop::Ends { place },
            Some(c) => PathStop::Stray { place, found: if found.is_empty() { named(c) } else { found } },
        }
    }
}

fn is_move(c: char) -> bool {
    matches!(c, 'M' | 'm')
}

fn is_command(c: char) -> bool {
    matches!(c.to_ascii_uppercase(), 'M' | 'L' | 'H' | 'V' | 'C' | 'S' | 'Q' | 'T' | 'A' | 'Z')
}

fn is_sign(c: char) -> bool {
    matches!(c, '+' | '-')
}

fn is_point(c: char) -> bool {
    c == '.'
}

fn is_digit(c: char) -> bool {
    c.is_ascii_digit()
}

/// A character with its code, as `С U+0421`, which tells it from one that looks the same; one that shows as nothing
/// or turns the text around it by its code alone.
fn named(c: char) -> String {
    let code = code_of(c);
    let is_hidden = c.is_control() || c.is_whitespace() || matches!(c, '\u{ad}' | '\u{200b}'..='\u{206f}');
    if is_hidden { code } else { [c.encode_utf8(&mut [0; 4]), " ", &code].concat() }
}

/// A character's code as Unicode writes it: four hexadecimal digits and more.
fn code_of(c: char) -> String {
    let digits = (0..8).rev().map(|place| (u32::from(c) >> (4 * place)) & 15);
    let written = digits.enumerate().skip_while(|(i, digit)| *i < 4 && *digit == 0);
    let hexadecimal = |(_, digit)| char::from_digit(digit, 16).map(|digit| digit.to_ascii_uppercase());
    core::iter::once('U').chain(['+']).chain(written.filter_map(hexadecimal)).collect()
}

/// The curve as far as it is drawn.
#[derive(Default)]
struct Pen {
    path: BezPath,
    at: Point,
    /// Where the run began, to which a closed one goes back.
    began: Point,
    /// Whether the run is closed: what is drawn next begins another.
    is_closed: bool,
    /// The handle of the curve before, and the command that mirrors it.
    mirrors: Option<(Point, char)>,
}

impl Pen {
    /// Draws one command with its numbers.
    fn draw(&mut self, command: char, [a, b, c, d, e, f, g]: [f64; 7]) {
        let here = self.at;
        let origin = if command.is_ascii_lowercase() { here } else { Point::ZERO };
        let point = |x, y| origin + Vec2::new(x, y);
        let command = command.to_ascii_uppercase();
        match command {
            'M' => self.move_to(point(a, b)),
            'L' => self.line_to(point(a, b)),
            'H' => self.line_to(Point::new(origin.x + a, here.y)),
            'V' => self.line_to(Point::new(here.x, origin.y + a)),
            'C' => self.cubic_to(point(a, b), point(c, d), point(e, f)),
            'S' => self.cubic_to(self.mirrored(command), point(a, b), point(c, d)),
            'Q' => self.quad_to(point(a, b), point(c, d)),
            'T' => self.quad_to(self.mirrored(command), point(a, b)),
            'A' => self.arc_to(&SvgArc {
                from: here,
                to: point(f, g),
                radii: Vec2::new(a, b),
                x_rotation: c.to_radians(),
                large_arc: d > 0.0,
                sweep: e > 0.0,
            }),
            _ => self.close(),
        }
    }

    /// The handle of the curve before on the other side of this place; the place itself where that was another kind
    /// of curve, or none.
    fn mirrored(&self, command: char) -> Point {
        let handle = self.mirrors.filter(|(_, by)| *by == command).map_or(self.at, |(handle, _)| handle);
        self.at + (self.at - handle)
    }

    fn move_to(&mut self, to: Point) {
        self.path.move_to(to);
        (self.at, self.began, self.is_closed, self.mirrors) = (to, to, false, None);
    }

    /// Goes on from a closed run, whose beginning is where the pen is.
    fn open(&mut self) {
        if self.is_closed {
            self.move_to(self.at);
        }
    }

    fn line_to(&mut self, to: Point) {
        self.open();
        self.path.line_to(to);
        (self.at, self.mirrors) = (to, None);
    }

    fn cubic_to(&mut self, a: Point, b: Point, to: Point) {
        self.open();
        self.path.curve_to(a, b, to);
        (self.at, self.mirrors) = (to, Some((b, 'S')));
    }

    fn quad_to(&mut self, handle: Point, to: Point) {
        self.open();
        self.path.quad_to(handle, to);
        (self.at, self.mirrors) = (to, Some((handle, 'T')));
    }

    fn arc_to(&mut self, arc: &SvgArc) {
        let is_nothing = arc.from.distance(arc.to) <= ONE_PLACE_MM;
        let round = if is_nothing { None } else { Arc::from_svg_arc(arc) };
        let mut curves = Vec::new();
        if let Some(round) = round {
            let near = ARC_SHARE * round.radii.x.max(round.radii.y);
            round.to_cubic_beziers(near, |a, b, to| curves.push((a, b, to)));
        }
        // The arc ends where it was said to, to the last digit.
        let Some((a, b, _)) = curves.pop() else { return self.line_to(arc.to) };
        for (a, b, to) in curves {
            self.cubic_to(a, b, to);
        }
        self.cubic_to(a, b, arc.to);
        self.mirrors = None;
    }

    fn close(&mut self) {
        self.open();
        self.path.close_path();
        (self.at, self.is_closed, self.mirrors) = (self.began, true, None);
    }
}
