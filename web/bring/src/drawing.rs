//! What a reader makes of a file: lines, and what they have in common.

use kurbo::{Affine, BezPath, ParamCurve, PathEl, PathSeg, Point, Rect};

/// Ends nearer to each other than this are one place, in the drawing's units: a file's rounding.
pub(crate) const ONE_PLACE: f64 = 1e-6;

/// Widths and dashes are told to 1/10 000 of the drawing's unit.
const STYLE_STEPS: f64 = 1e4;
/// Most kinds of line that are told apart: a drawing of more tells nothing by them.
const MOST_STYLES: usize = 1000;

/// A line: one run without a break, in the drawing's units, y down.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its curve, which begins with the only move in it.
    pub path: BezPath,
    /// Its layer's place among the drawing's.
    pub layer: Option<usize>,
    /// Its style's place among the drawing's.
    pub style: usize,
    /// Its group's place among the drawing's.
    pub group: Option<usize>,
    /// Its page's place among the drawing's.
    pub page: usize,
}

impl Line {
    /// Where it begins and where it ends.
    #[must_use]
    pub fn ends(&self) -> Option<[Point; 2]> {
        let first = self.path.elements().first().and_then(PathEl::end_point)?;
        let last = self.path.elements().iter().rev().find_map(PathEl::end_point)?;
        Some([first, if self.is_closed() { first } else { last }])
    }

    /// Whether it comes back to where it begins.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        let elements = self.path.elements();
        if matches!(elements.last(), Some(PathEl::ClosePath)) {
            return true;
        }
        let (Some(first), Some(last)) =
            (elements.first().and_then(PathEl::end_point), elements.last().and_then(PathEl::end_point))
        else {
            return false;
        };
        elements.len() > 2 && first.distance(last) <= ONE_PLACE
    }
}

/// A layer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layer {
    /// Its name in the file.
    pub name: String,
    /// Whether the file shows it.
    pub on: bool,
}

/// A kind of line.
#[derive(Debug, Clone, PartialEq)]
pub struct Style {
    /// Red, green, blue.
    pub colour: [u8; 3],
    /// Its width in the drawing's units.
    pub width: f64,
    /// Dashes and gaps in turn, in the drawing's units.
    pub dash: Vec<f64>,
}

/// A page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Page {
    /// Where it lies in the drawing.
    pub place: Rect,
    /// Where it lies in the file's own coordinates, in the drawing's units, y down.
    pub own: Rect,
}

/// All lines of a file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// Its lines.
    pub lines: Vec<Line>,
    /// Its layers.
    pub layers: Vec<Layer>,
    /// Its kinds of line.
    pub styles: Vec<Style>,
    /// Groups of lines, by name.
    pub groups: Vec<String>,
    /// Its pages: at least one.
    pub pages: Vec<Page>,
    /// Millimetres to a unit, where the file tells.
    pub mm_per_unit: Option<f64>,
}

impl Drawing {
    /// The place of a layer by its name, put in where it is new.
    pub fn layer(&mut self, name: &str, on: bool) -> usize {
        if let Some(found) = self.layers.iter().position(|layer| layer.name == name) {
            return found;
        }
        self.layers.push(Layer { name: name.to_owned(), on });
        self.layers.len() - 1
    }

    /// The place of a style, put in where it is new.
    pub fn style(&mut self, style: &Style) -> usize {
        // Transforms that come out alike but for the last digits make no new style.
        let plain = |v: f64| if v.is_finite() { (v * STYLE_STEPS).round() / STYLE_STEPS } else { 0.0 };
        let dash = style.dash.iter().map(|v| plain(*v)).collect();
        let style = Style { colour: style.colour, width: plain(style.width), dash };
        // What was drawn last is what is drawn next, nearly always.
        if let Some(found) = self.styles.iter().rposition(|one| *one == style) {
            return found;
        }
        if self.styles.len() >= MOST_STYLES {
            return 0;
        }
        self.styles.push(style);
        self.styles.len() - 1
    }

    /// Adds each run of a path as a line of its own; what is nothing but a place, or not finite, is left out.
    /// Says how many segments were added.
    pub fn add(&mut self, path: &BezPath, like: &LineOf) -> usize {
        let mut segments = 0;
        for run in runs(path) {
            segments += run.elements().len() - 1;
            let LineOf { layer, style, group, page } = *like;
            self.lines.push(Line { path: run, layer, style, group, page });
        }
        segments
    }

    /// What is drawn, and the pages, as one rectangle.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let lines = self.lines.iter().map(|line| line.path.control_box());
        let pages = self.pages.iter().map(|page| page.place).filter(|place| place.area() > 0.0);
        lines.chain(pages).reduce(|all, one| all.union(one)).unwrap_or(Rect::ZERO)
    }

    /// Moves, turns or sizes all lines.
    pub fn transform(&mut self, by: Affine) {
        for line in &mut self.lines {
            line.path.apply_affine(by);
        }
    }
}

/// What a new line has in common with others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LineOf {
    /// Its layer.
    pub layer: Option<usize>,
    /// Its style.
    pub style: usize,
    /// Its group.
    pub group: Option<usize>,
    /// Its page.
    pub page: usize,
}

/// A path that is filled and not drawn along: filling closes each of its runs.
#[must_use]
pub fn filled(path: &BezPath) -> BezPath {
    let mut closed = BezPath::new();
    for mut run in runs(path) {
        if run.elements().len() > 2 && !matches!(run.elements().last(), Some(PathEl::ClosePath)) {
            run.close_path();
        }
        closed.extend(run);
    }
    closed
}

/// The runs of a path, each with one move; a run that goes nowhere is left out. A run that is closed begins the next where it began.
#[must_use]
pub fn runs(path: &BezPath) -> Vec<BezPath> {
    let mut found = Vec::new();
    let mut run = BezPath::new();
    let mut began = None;
    let mut keep = |run: &mut BezPath| {
        let one = core::mem::take(run);
        let goes = one.segments().any(|s| s.start() != s.end() || !matches!(s, PathSeg::Line(_)));
        if goes && one.is_finite() {
            found.push(one);
        }
    };
    for element in path.elements() {
        if let PathEl::MoveTo(to) = element {
            keep(&mut run);
            began = Some(*to);
            run.move_to(*to);
            continue;
        }
        let Some(start) = began else { continue };
        if run.elements().is_empty() {
            run.move_to(start);
        }
        run.push(*element);
        if matches!(element, PathEl::ClosePath) {
            keep(&mut run);
        }
    }
    keep(&mut run);
    found
}
