//! A drawing over as many pages as it takes: overlapping tiles, with lines to join them on.

use crate::book::{Book, FOOT_MM, Foot, MARGIN_MM};
use crate::drawing::{Drawing, Kind, Layer};
use crate::ink::{Page, Pen, Point};
use crate::options::Paper;
use crate::text::Type;

/// What two neighbouring pages both show, mm; the line they are joined on runs down its middle.
pub(crate) const OVERLAP_MM: f64 = 20.0;

/// Left free round a drawing, mm.
const PADDING_MM: f64 = 3.0;

/// Half the height and width of a joining mark, mm.
const DIAMOND_MM: f64 = 4.0;

/// How a drawing is spread over pages.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Tiling {
    /// The page, as it is held.
    pub page: Point,
    /// What one page shows, mm.
    pub window: Point,
    pub columns: usize,
    pub rows: usize,
    /// The upper left corner of the first window, in the drawing.
    pub corner: Point,
}

impl Tiling {
    /// The way of holding the paper that takes fewer pages.
    pub(crate) fn new(drawing: &Drawing, paper: Paper) -> Self {
        let [width, height] = paper.size_mm();
        let (upright, lying) = (Self::on(drawing, [width, height]), Self::on(drawing, [height, width]));
        if lying.pages() < upright.pages() { lying } else { upright }
    }

    fn on(drawing: &Drawing, page: Point) -> Self {
        let (low, high) = drawing.bounds();
        let size = [high[0] - low[0] + 2.0 * PADDING_MM, high[1] - low[1] + 2.0 * PADDING_MM];
        let window = [page[0] - 2.0 * MARGIN_MM, page[1] - 2.0 * MARGIN_MM - FOOT_MM];
        let (columns, rows) = (windows(size[0], window[0]), windows(size[1], window[1]));
        let spread = |n: usize, window: f64| n as f64 * (window - OVERLAP_MM) + OVERLAP_MM;
        let corner = [
            0.5 * (low[0] + high[0]) - 0.5 * spread(columns, window[0]),
            0.5 * (low[1] + high[1]) - 0.5 * spread(rows, window[1]),
        ];
        Self { page, window, columns, rows, corner }
    }

    pub(crate) const fn pages(&self) -> usize {
        self.columns * self.rows
    }

    /// A tile's name: a letter for its row and a number for its column.
    pub(crate) fn name(row: usize, column: usize) -> String {
        format!("{}{}", letter(row).to_ascii_uppercase(), column + 1)
    }

    /// The upper left corner of a tile's window, in the drawing.
    fn window_corner(&self, row: usize, column: usize) -> Point {
        [
            self.corner[0] + column as f64 * (self.window[0] - OVERLAP_MM),
            self.corner[1] + row as f64 * (self.window[1] - OVERLAP_MM),
        ]
    }

    /// The joins a tile has: with which tile, along which line, in the drawing.
    fn joins(&self, row: usize, column: usize) -> Vec<Join> {
        let across = self.rows * self.columns.saturating_sub(1);
        let corner = self.window_corner(row, column);
        let mut joins = Vec::new();
        let mut beside = |left: usize, x: f64| {
            joins.push(Join {
                number: row * (self.columns - 1) + left,
                names: [Self::name(row, left), Self::name(row, left + 1)],
                from: [x, corner[1]],
                to: [x, corner[1] + self.window[1]],
            });
        };
        if column > 0 {
            beside(column - 1, corner[0] + 0.5 * OVERLAP_MM);
        }
        if column + 1 < self.columns {
            beside(column, corner[0] + self.window[0] - 0.5 * OVERLAP_MM);
        }
        let mut below = |upper: usize, y: f64| {
            joins.push(Join {
                number: across + upper * self.columns + column,
                names: [Self::name(upper, column), Self::name(upper + 1, column)],
                from: [corner[0], y],
                to: [corner[0] + self.window[0], y],
            });
        };
        if row > 0 {
            below(row - 1, corner[1] + 0.5 * OVERLAP_MM);
        }
        if row + 1 < self.rows {
            below(row, corner[1] + self.window[1] - 0.5 * OVERLAP_MM);
        }
        joins
    }
}

fn windows(size: f64, window: f64) -> usize {
    let more = ((size - window) / (window - OVERLAP_MM)).ceil().max(0.0);
    // A drawing is some metres at most.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let more = more as usize;
    more + 1
}

/// a, b, … z, then aa, ab, …
fn letter(number: usize) -> String {
    let last = char::from(b'a' + u8::try_from(number % 26).unwrap_or(0));
    if number < 26 { last.to_string() } else { format!("{}{last}", letter(number / 26 - 1)) }
}

/// A line that two pages are joined on.
struct Join {
    number: usize,
    names: [String; 2],
    from: Point,
    to: Point,
}

/// Puts a drawing into the book, a page for each tile.
pub(crate) fn tile(book: &mut Book<'_>, drawing: &Drawing, paper: Paper) {
    let tiling = Tiling::new(drawing, paper);
    let map = book.map(drawing, &tiling);
    for row in 0..tiling.rows {
        for column in 0..tiling.columns {
            let mut page = Page::new(tiling.page);
            let corner = tiling.window_corner(row, column);
            let origin = [MARGIN_MM - corner[0], MARGIN_MM - corner[1]];
            page.within([MARGIN_MM; 2], tiling.window, origin, |page| {
                draw(page, drawing);
                for join in tiling.joins(row, column) {
                    draw_join(page, &join);
                }
            });
            page.frame([MARGIN_MM; 2], tiling.window, Pen::grey(0.1, 0.7));
            let tile = (tiling.pages() > 1).then_some((map, row, column));
            book.add(page, Foot { title: drawing.title.clone(), tile });
        }
    }
}

/// How each kind of line is drawn on paper.
pub(crate) const fn pen(kind: Kind) -> Pen {
    match kind {
        Kind::Cut => Pen::whole(0.5),
        Kind::Sew => Pen { width: 0.35, dashes: &[3.0, 1.5], grey: 0.0 },
        Kind::Stitch => Pen { width: 0.25, dashes: &[1.2, 1.2], grey: 0.0 },
        Kind::Fold => Pen { width: 0.3, dashes: &[7.0, 1.5, 1.0, 1.5], grey: 0.0 },
        Kind::Mark => Pen::whole(0.3),
        Kind::Clip => Pen::whole(0.25),
        Kind::CornerClip => Pen::whole(0.5),
        Kind::Trim => Pen { width: 0.25, dashes: &[0.5, 1.5], grey: 0.0 },
    }
}

fn draw(page: &mut Page, drawing: &Drawing) {
    for area in &drawing.areas {
        page.area(area, 0.85);
    }
    // What is sewn and cut lies over the marks.
    for layer in [Layer::Marks, Layer::Sew, Layer::Cut] {
        for line in drawing.lines.iter().filter(|line| line.kind.layer() == layer) {
            page.polyline(&line.points, line.closed, pen(line.kind));
        }
    }
    for label in &drawing.labels {
        let (start, _) = label.start_and_width();
        page.turned_text(start, label.along, &label.text, label.letters);
    }
}

/// The line, and on it two diamonds that are whole once the pages lie right.
fn draw_join(page: &mut Page, join: &Join) {
    let (from, to) = (join.from, join.to);
    page.line(from, to, Pen { width: 0.2, dashes: &[1.0, 1.0], grey: 0.35 });
    let at = |share: f64| [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
    let name = letter(join.number);
    for (i, share) in [0.3, 0.7].into_iter().enumerate() {
        let [x, y] = at(share);
        let d = DIAMOND_MM;
        page.polyline(&[[x, y - d], [x + d, y], [x, y + d], [x - d, y]], true, Pen::whole(0.25));
        let letters = Type::bold(3.0);
        let label = format!("{name}{}", i + 1);
        page.text([x - 0.5 * letters.width(&label), y + 1.05], &label, letters);
    }
    // Which pages meet here, beside the line and clear of the diamonds.
    let letters = Type::plain(2.4);
    let words = format!("{} | {}", join.names[0], join.names[1]);
    let upright = from[0] == to[0];
    for share in [0.08, 0.5, 0.86] {
        let [x, y] = at(share);
        if upright {
            page.turned_text([x + 0.9, y], [0.0, 1.0], &words, letters);
        } else {
            page.text([x, y - 0.9], &words, letters);
        }
    }
}
