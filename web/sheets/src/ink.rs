//! A page of paper and the pens for it: millimetres from the upper left corner, y down, as in the drawings.

use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Name, Settings, Str};

use crate::geometry::{add, turned};
use crate::letters::{NO_BREAK, REPLACED, encode};
use crate::metrics::Face;
use crate::text::{BOX_WIDTH, POINT_MM, Type};

/// A point or a vector, mm.
pub(crate) type Point = [f64; 2];

/// The names the fonts go by in every page's resources.
pub(crate) const PLAIN_FONT: Name<'static> = Name(b"P");
pub(crate) const BOLD_FONT: Name<'static> = Name(b"B");

/// The file is for printers, not for reading.
pub(crate) const TERSE: Settings = Settings { pretty: false };

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pen {
    /// mm.
    pub width: f64,
    /// Dashes and gaps, mm; empty for a whole line.
    pub dashes: &'static [f64],
    /// 0 black to 1 white.
    pub grey: f64,
}

impl Pen {
    pub(crate) const fn whole(width: f64) -> Self {
        Self { width, dashes: &[], grey: 0.0 }
    }

    pub(crate) const fn grey(width: f64, grey: f64) -> Self {
        Self { width, dashes: &[], grey }
    }
}

/// One page being drawn.
pub(crate) struct Page {
    content: Content,
    /// Width and height. mm.
    size: Point,
    /// Where a drawing's own origin lies on the page, mm, and the way its x axis runs there: a unit vector.
    origin: Point,
    along: Point,
}

impl Page {
    pub(crate) fn new(size: Point) -> Self {
        let mut content = Content::with_settings(TERSE);
        content.set_line_cap(LineCapStyle::ButtCap).set_line_join(LineJoinStyle::MiterJoin);
        Self { content, size, origin: [0.0, 0.0], along: [1.0, 0.0] }
    }

    pub(crate) const fn size(&self) -> Point {
        self.size
    }

    pub(crate) fn finish(self) -> Vec<u8> {
        self.content.finish().to_vec()
    }

    /// Draws within a window of the page only, the drawing's origin moved to a place of the page and its x axis turned.
    pub(crate) fn within(&mut self, window: [Point; 2], origin: Point, along: Point, draw: impl FnOnce(&mut Self)) {
        let [corner, size] = window;
        self.content.save_state();
        self.rect_path(corner, size);
        self.content.clip_nonzero().end_path();
        let before = (self.origin, self.along);
        (self.origin, self.along) = (origin, along);
        draw(self);
        (self.origin, self.along) = before;
        self.content.restore_state();
    }

    pub(crate) fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.polyline(&[from, to], false, pen);
    }

    pub(crate) fn polyline(&mut self, points: &[Point], closed: bool, pen: Pen) {
        self.set_pen(pen);
        self.path(points);
        if closed {
            self.content.close_and_stroke();
        } else {
            self.content.stroke();
        }
    }

    pub(crate) fn area(&mut self, points: &[Point], grey: f64) {
        self.content.set_fill_gray(thousandths(grey));
        self.path(points);
        self.content.fill_nonzero();
    }

    /// A rectangle's outline, the corner and size being of the line's middle.
    pub(crate) fn frame(&mut self, corner: Point, size: Point, pen: Pen) {
        self.set_pen(pen);
        self.rect_path(corner, size);
        self.content.stroke();
    }

    /// Many black rectangles of one fill: the squares of a code.
    pub(crate) fn blocks(&mut self, rects: impl Iterator<Item = (Point, Point)>) {
        self.content.set_fill_gray(0.0);
        for (corner, size) in rects {
            self.rect_path(corner, size);
        }
        self.content.fill_nonzero();
    }

    /// Text from the left end of its base line.
    pub(crate) fn text(&mut self, at: Point, text: &str, letters: Type) {
        self.turned_text(at, [1.0, 0.0], text, letters);
    }

    /// Text along a base line that runs along a unit vector.
    pub(crate) fn turned_text(&mut self, at: Point, along: Point, text: &str, letters: Type) {
        let codes = encode(text);
        let [cos, sin] = along;
        let mut far = 0.0;
        for run in codes.chunk_by(|a, b| (*a == REPLACED) == (*b == REPLACED)) {
            let at = [at[0] + far * cos, at[1] + far * sin];
            if run.first() == Some(&REPLACED) {
                for i in 0..run.len() {
                    let step = i as f64 * BOX_WIDTH * letters.size;
                    self.boxed_question([at[0] + step * cos, at[1] + step * sin], along, letters);
                }
            } else {
                self.run(at, along, run, letters);
            }
            far += letters.codes_width(run);
        }
    }

    fn run(&mut self, at: Point, [cos, sin]: Point, codes: &[u8], letters: Type) {
        let [x, y] = self.paper(at);
        let [cos, sin] = turned([cos, sin], self.along).map(thousandths);
        let font = match letters.face {
            Face::Plain => PLAIN_FONT,
            Face::Bold => BOLD_FONT,
        };
        let printed: Vec<u8> = codes.iter().map(|code| if *code == NO_BREAK { b' ' } else { *code }).collect();
        self.content.set_fill_gray(0.0);
        self.content.begin_text().set_font(font, thousandths(letters.size / POINT_MM));
        self.content.set_text_matrix([cos, -sin, sin, cos, x, y]);
        self.content.show(Str(&printed)).end_text();
    }

    fn boxed_question(&mut self, at: Point, along: Point, letters: Type) {
        let size = letters.size;
        let [cos, sin] = along;
        let place = |x: f64, y: f64| [at[0] + x * cos - y * sin, at[1] + x * sin + y * cos];
        let (left, right, top, foot) = (0.04 * size, (BOX_WIDTH - 0.04) * size, -0.8 * size, 0.12 * size);
        let corners = [place(left, top), place(right, top), place(right, foot), place(left, foot)];
        self.polyline(&corners, true, Pen::whole(0.05 * size));
        let inset = 0.5 * (BOX_WIDTH - letters.face.width(b'?')) * size;
        self.run(place(inset, 0.0), along, b"?", letters);
    }

    fn set_pen(&mut self, pen: Pen) {
        self.content.set_line_width(points(pen.width.max(0.0)));
        self.content.set_dash_pattern(pen.dashes.iter().map(|mm| points(*mm)), 0.0);
        self.content.set_stroke_gray(thousandths(pen.grey));
    }

    fn path(&mut self, line: &[Point]) {
        for (i, point) in line.iter().enumerate() {
            let [x, y] = self.paper(*point);
            if i == 0 {
                self.content.move_to(x, y);
            } else {
                self.content.line_to(x, y);
            }
        }
    }

    /// Only where nothing is turned.
    fn rect_path(&mut self, corner: Point, size: Point) {
        let [x, y] = self.paper([corner[0], corner[1] + size[1]]);
        self.content.rect(x, y, points(size[0]), points(size[1]));
    }

    /// From mm, y down, to the file's points, y up.
    fn paper(&self, at: Point) -> [f32; 2] {
        let [x, y] = add(self.origin, turned(at, self.along), 1.0);
        [points(x), points(self.size[1] - y)]
    }
}

/// mm to the file's points.
fn points(mm: f64) -> f32 {
    thousandths(mm / POINT_MM)
}

/// To a thousandth, 0.4 micrometres for a point: short in the file, and no coarser than the file's numbers are.
#[allow(clippy::cast_possible_truncation)]
fn thousandths(value: f64) -> f32 {
    ((value * 1000.0).round() / 1000.0) as f32
}
