//! A piece as lines and labels in real millimetres, whatever it is shown on.

use lieflat::plan::{ClipKind, ClipLine};

use crate::geometry::{add, bounds, clipped, turned};
use crate::ink::Point;
use crate::text::Type;

/// What a line means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Cut here.
    Cut,
    /// Sew here.
    Sew,
    /// Another row of stitching, seen or not.
    Stitch,
    /// Fold here, or lay this edge on a fold.
    Fold,
    /// A mark, a notch, an arrow.
    Mark,
    /// A clip: cut in, but not along.
    Clip,
    /// The same into a point or a corner.
    CornerClip,
    /// Trim an allowance to here once it is sewn.
    Trim,
    /// A line that only shows a place: a test square, a tile on its map.
    Outline,
}

/// The groups a drawing program shows as layers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Layer {
    Cut,
    Sew,
    Marks,
}

impl Kind {
    pub(crate) const fn layer(self) -> Layer {
        match self {
            Self::Cut => Layer::Cut,
            Self::Sew | Self::Stitch => Layer::Sew,
            Self::Fold | Self::Mark | Self::Clip | Self::CornerClip | Self::Trim | Self::Outline => Layer::Marks,
        }
    }
}

/// A run of straight lines.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    pub kind: Kind,
    pub points: Vec<Point>,
    pub closed: bool,
}

/// Which end of a label stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// Words on a drawing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Label {
    pub at: Point,
    /// The way its base line runs: a unit vector.
    pub along: Point,
    pub anchor: Anchor,
    pub letters: Type,
    pub text: String,
}

impl Label {
    /// The left end of the base line and the width, mm.
    pub(crate) fn start_and_width(&self) -> (Point, f64) {
        let width = self.letters.width(&self.text);
        let back = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5 * width,
            Anchor::End => width,
        };
        let [cos, sin] = self.along;
        ([self.at[0] - back * cos, self.at[1] - back * sin], width)
    }
}

/// Base lines: level, and upward for text that is read from the right.
pub(crate) const LEVEL: Point = [1.0, 0.0];
pub(crate) const UPWARD: Point = [0.0, -1.0];

/// One piece.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Drawing {
    /// Its name in file names and identifiers.
    pub name: &'static str,
    /// Its name in words.
    pub title: String,
    pub lines: Vec<Line>,
    /// Shaded areas, such as where stay tape lies.
    pub areas: Vec<Vec<Point>>,
    pub labels: Vec<Label>,
}

impl Drawing {
    pub(crate) const fn new(name: &'static str, title: String) -> Self {
        Self { name, title, lines: Vec::new(), areas: Vec::new(), labels: Vec::new() }
    }

    pub(crate) fn line(&mut self, kind: Kind, points: Vec<Point>) {
        if points.len() > 1 {
            self.lines.push(Line { kind, points, closed: false });
        }
    }

    pub(crate) fn closed(&mut self, kind: Kind, points: Vec<Point>) {
        if points.len() > 2 {
            self.lines.push(Line { kind, points, closed: true });
        }
    }

    /// Clips, those into points and corners heavier.
    pub(crate) fn clips<'a>(&mut self, clips: impl IntoIterator<Item = &'a ClipLine>) {
        for clip in clips {
            let kind = match clip.kind {
                ClipKind::Point | ClipKind::Corner => Kind::CornerClip,
                ClipKind::Curve => Kind::Clip,
            };
            self.line(kind, vec![clip.from, clip.to]);
        }
    }

    pub(crate) fn area(&mut self, points: Vec<Point>) {
        if points.len() > 2 {
            self.areas.push(points);
        }
    }

    pub(crate) fn label(&mut self, at: Point, anchor: Anchor, letters: Type, text: String) {
        self.labels.push(Label { at, along: LEVEL, anchor, letters, text });
    }

    pub(crate) fn turned_label(&mut self, at: Point, along: Point, anchor: Anchor, letters: Type, text: String) {
        self.labels.push(Label { at, along, anchor, letters, text });
    }

    /// An arrow with a head at each end: the way a knit stretches.
    pub(crate) fn double_arrow(&mut self, from: Point, to: Point) {
        self.line(Kind::Mark, vec![from, to]);
        self.head(to, from);
        self.head(from, to);
    }

    /// An arrow from an inner place onto an edge.
    pub(crate) fn arrow(&mut self, from: Point, to: Point) {
        self.line(Kind::Mark, vec![from, to]);
        self.head(from, to);
    }

    fn head(&mut self, from: Point, to: Point) {
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        let long = dx.hypot(dy).max(1e-9);
        let (dx, dy) = (3.0 * dx / long, 3.0 * dy / long);
        let wing = |side: f64| [to[0] - dx - side * 0.4 * dy, to[1] - dy + side * 0.4 * dx];
        self.line(Kind::Mark, vec![wing(1.0), to, wing(-1.0)]);
    }

    /// The least rectangle round everything drawn: two corners, mm.
    pub(crate) fn bounds(&self) -> [Point; 2] {
        self.bounds_turned(LEVEL)
    }

    /// The same of the drawing turned about its origin, its x axis along a unit vector.
    pub(crate) fn bounds_turned(&self, along: Point) -> [Point; 2] {
        let drawn = self.lines.iter().flat_map(|line| &line.points).chain(self.areas.iter().flatten()).copied();
        let labels = self.labels.iter().flat_map(label_corners);
        bounds(drawn.chain(labels).map(|point| turned(point, along))).unwrap_or_default()
    }

    /// The least rectangle round what is drawn within a window; none where that is nothing.
    pub(crate) fn bounds_within(&self, window: [Point; 2]) -> Option<[Point; 2]> {
        let lines = self.lines.iter().map(|line| (&line.points, line.closed));
        let runs = lines.chain(self.areas.iter().map(|area| (area, true)));
        let lines = runs.flat_map(|(points, closed)| {
            let back = points.last().zip(points.first()).filter(|_| closed);
            points.iter().zip(points.iter().skip(1)).chain(back)
        });
        let lines = lines.filter_map(|(a, b)| clipped(*a, *b, window)).flatten();
        let labels = self.labels.iter().filter_map(|label| {
            let [low, high] = label_bounds(label);
            let shared = [0, 1].map(|axis| (low[axis].max(window[0][axis]), high[axis].min(window[1][axis])));
            shared.iter().all(|(low, high)| low < high).then(|| [shared.map(|side| side.0), shared.map(|side| side.1)])
        });
        bounds(lines.chain(labels.flatten()))
    }
}

/// The least rectangle round a label.
pub(crate) fn label_bounds(label: &Label) -> [Point; 2] {
    bounds(label_corners(label).into_iter()).unwrap_or_default()
}

fn label_corners(label: &Label) -> [Point; 4] {
    let (start, width) = label.start_and_width();
    let (up, down) = (-0.8 * label.letters.size, 0.25 * label.letters.size);
    let place = |x: f64, y: f64| add(start, turned([x, y], label.along), 1.0);
    [place(0.0, up), place(width, up), place(0.0, down), place(width, down)]
}
