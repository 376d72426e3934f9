//! A drawing as parts that each fit a page: whole where it can be, turned if need be, else overlapping tiles with lines to join
//! them on.

use crate::drawing::{Anchor, Drawing, Kind, LEVEL, Layer, UPWARD, label_bounds};
use crate::geometry::{add, around, length};
use crate::ink::{Page, Pen, Point};
use crate::text::Type;
use crate::words::Words;

/// What two neighbouring tiles both show, mm; the line they are joined on runs down its middle.
const OVERLAP_MM: f64 = 20.0;

/// Half the height and width of a joining mark, and the shortest line that carries two, mm.
const DIAMOND_MM: f64 = 4.0;
const SHORTEST_JOIN_MM: f64 = 24.0;

/// From this length on a join says between its diamonds which tiles it is of, mm.
const WORDED_JOIN_MM: f64 = 50.0;

/// A tile's name, and the room for it, mm.
const NAME: Type = Type::bold(2.8);
const NAME_MM: f64 = 5.0;

/// Turns tried where a drawing fits neither upright nor lying: every few degrees.
const SLANT_DEG: f64 = 3.0;

/// How large a tiled drawing's map may be, and how wide its words, mm.
const MAP_MM: Point = [60.0, 40.0];

/// A drawing, or a tile of one, to be laid on a page in one piece.
pub(crate) struct Part {
    /// Which drawing, by its place in the set.
    pub drawing: usize,
    /// How the drawing is turned to fit: where its x axis runs.
    pub along: Point,
    /// What is shown, in the drawing once turned: two corners. mm.
    pub window: [Point; 2],
    /// For one of several.
    pub tile: Option<Tile>,
}

impl Part {
    pub(crate) fn size(&self) -> Point {
        let [low, high] = self.window;
        add(high, low, -1.0)
    }
}

/// One of several parts of a drawing.
pub(crate) struct Tile {
    pub name: String,
    joins: Vec<Join>,
}

impl Tile {
    fn title(&self, drawing: &Drawing) -> String {
        format!("{} {}", drawing.title, self.name)
    }
}

/// A line that two tiles are joined on.
#[derive(Clone)]
struct Join {
    letter: String,
    names: [String; 2],
    from: Point,
    to: Point,
    /// Where its two diamonds stand.
    diamonds: [Point; 2],
}

/// Where the diamonds of a joining line stand: a quarter and three quarters along it, or as near to that as they hide no words.
fn diamonds(drawing: &Drawing, from: Point, to: Point) -> [Point; 2] {
    let at = |share: f64| [0, 1].map(|axis| from[axis] + share * (to[axis] - from[axis]));
    let hides = |at: Point| drawing.labels.iter().any(|label| overlap(label_bounds(label), diamond_bounds(at)));
    [0.25, 0.75].map(|wanted| {
        let steps = (1..=8).flat_map(|step| [0.02, -0.02].map(|by| wanted + by * f64::from(step)));
        core::iter::once(wanted).chain(steps).map(at).find(|at| !hides(*at)).unwrap_or_else(|| at(wanted))
    })
}

/// The least rectangle round a diamond.
fn diamond_bounds(at: Point) -> [Point; 2] {
    [add(at, [DIAMOND_MM; 2], -1.0), add(at, [DIAMOND_MM; 2], 1.0)]
}

fn overlap([low, high]: [Point; 2], [other_low, other_high]: [Point; 2]) -> bool {
    (0..2).all(|axis| low[axis] < other_high[axis] && other_low[axis] < high[axis])
}

/// How a set's drawings may be cut up and turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Cutting {
    /// Tiles are cut for a page that lies, not for one held upright.
    pub lying: bool,
    /// What fits a page only on the slant is laid so: it is one part, but has the page for itself.
    pub slanting: bool,
}

/// The parts of a drawing that fit a page's `room`. `joined` counts the joins of the set, so that no two have the same letter.
pub(crate) fn parts(number: usize, drawing: &Drawing, room: Point, how: Cutting, joined: &mut usize) -> Vec<Part> {
    let fits = |along: &Point| {
        let [low, high] = drawing.bounds_turned(*along);
        let size = add(high, low, -1.0);
        (size[0] <= room[0] && size[1] <= room[1]) || (size[1] <= room[0] && size[0] <= room[1])
    };
    let slants = (1..).map(|i| f64::from(i) * SLANT_DEG).take_while(|deg| how.slanting && *deg < 90.0);
    let slants = slants.map(|deg| deg.to_radians().sin_cos()).map(|(sin, cos)| [cos, -sin]);
    let whole = |along: Point| Part { drawing: number, along, window: drawing.bounds_turned(along), tile: None };
    match core::iter::once(LEVEL).chain(slants).find(fits) {
        Some(along) => vec![whole(along)],
        None => tiles(number, drawing, if how.lying { [room[1], room[0]] } else { room }, joined),
    }
}

/// Equal windows over a drawing, in rows and columns.
struct Grid {
    corner: Point,
    window: Point,
    columns: usize,
    rows: usize,
}

impl Grid {
    fn new([low, high]: [Point; 2], room: Point) -> Self {
        let size = add(high, low, -1.0);
        let [columns, rows] = [0, 1].map(|axis| windows(size[axis], room[axis]));
        let share = |size: f64, n: usize| (size + (n - 1) as f64 * OVERLAP_MM) / n as f64;
        Self { corner: low, window: [share(size[0], columns), share(size[1], rows)], columns, rows }
    }

    fn window(&self, row: usize, column: usize) -> [Point; 2] {
        let low = [
            self.corner[0] + column as f64 * (self.window[0] - OVERLAP_MM),
            self.corner[1] + row as f64 * (self.window[1] - OVERLAP_MM),
        ];
        [low, add(low, self.window, 1.0)]
    }
}

fn windows(size: f64, room: f64) -> usize {
    let more = ((size - room) / (room - OVERLAP_MM)).ceil().max(0.0);
    // A drawing is some metres at most.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let more = more as usize;
    more + 1
}

fn tiles(number: usize, drawing: &Drawing, room: Point, joined: &mut usize) -> Vec<Part> {
    let grid = Grid::new(drawing.bounds(), [room[0], room[1] - NAME_MM]);
    let name = |row: usize, column: usize| format!("{}{}", letter(row).to_ascii_uppercase(), column + 1);
    let mut found: Vec<(usize, usize, Part)> = Vec::new();
    for row in 0..grid.rows {
        for column in 0..grid.columns {
            // Where nothing is drawn no paper is needed.
            if let Some(window) = drawing.bounds_within(grid.window(row, column)) {
                let tile = Some(Tile { name: name(row, column), joins: Vec::new() });
                found.push((row, column, Part { drawing: number, along: LEVEL, window, tile }));
            }
        }
    }
    for (row, column) in (0..grid.rows).flat_map(|row| (0..grid.columns).map(move |column| (row, column))) {
        for (axis, next) in [(0, (row, column + 1)), (1, (row + 1, column))] {
            if next.0 >= grid.rows || next.1 >= grid.columns {
                continue;
            }
            let names = [name(row, column), name(next.0, next.1)];
            let Some(mut join) = join(drawing, axis, grid.window(row, column), grid.window(next.0, next.1), names)
            else {
                continue;
            };
            join.letter = letter(*joined);
            *joined += 1;
            for (at_row, at_column, part) in &mut found {
                if (*at_row, *at_column) == (row, column) || (*at_row, *at_column) == next {
                    part.window = around(part.window, [join.from, join.to]);
                    if let Some(tile) = &mut part.tile {
                        tile.joins.push(join.clone());
                    }
                }
            }
        }
    }
    // The name stands in the upper left corner, over what is shown where something is drawn there or a join's diamonds lie.
    let named = |(_, _, mut part): (usize, usize, Part)| {
        let low = part.window[0];
        if let Some(tile) = &part.tile {
            let room = [low, add(low, [NAME.width(&tile.title(drawing)) + 2.0, NAME_MM], 1.0)];
            let marked = tile.joins.iter().flat_map(|join| join.diamonds).any(|at| overlap(room, diamond_bounds(at)));
            if marked || drawing.bounds_within(room).is_some() {
                part.window[0][1] -= NAME_MM;
            }
        }
        part
    };
    found.into_iter().map(named).collect()
}

/// Down the middle of what two windows share, as far as there is anything to join.
fn join(drawing: &Drawing, axis: usize, before: [Point; 2], after: [Point; 2], names: [String; 2]) -> Option<Join> {
    let [low, high] = drawing.bounds_within([after[0], before[1]])?;
    let other = 1 - axis;
    let lacks = (0.5 * (SHORTEST_JOIN_MM - (high[other] - low[other]))).max(0.0);
    let middle = 0.5 * (after[0][axis] + before[1][axis]);
    let (mut from, mut to) = ([middle; 2], [middle; 2]);
    (from[other], to[other]) = (low[other] - lacks, high[other] + lacks);
    Some(Join { letter: String::new(), names, from, to, diamonds: diamonds(drawing, from, to) })
}

/// a, b, … z, then aa, ab, …
fn letter(number: usize) -> String {
    let last = char::from(b'a' + u8::try_from(number % 26).unwrap_or(0));
    if number < 26 { last.to_string() } else { format!("{}{last}", letter(number / 26 - 1)) }
}

/// The tiles of a drawing small, its outline over them, and how they are joined.
pub(crate) fn map(drawing: &Drawing, parts: &[Part], words: &Words<'_>) -> Drawing {
    let mut map = Drawing::new("map", drawing.title.clone());
    let [low, high] = drawing.bounds();
    let scale = (MAP_MM[0] / (high[0] - low[0])).min(MAP_MM[1] / (high[1] - low[1]));
    let place = |p: &Point| [(p[0] - low[0]) * scale, (p[1] - low[1]) * scale];
    for line in drawing.lines.iter().filter(|line| matches!(line.kind, Kind::Cut | Kind::Fold)) {
        map.line(Kind::Outline, line.points.iter().map(place).collect());
    }
    for (part, tile) in parts.iter().filter_map(|part| Some((part, part.tile.as_ref()?))) {
        let [a, b] = part.window.each_ref().map(place);
        map.closed(Kind::Outline, vec![a, [b[0], a[1]], b, [a[0], b[1]]]);
        map.label([0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1]) + 1.0], Anchor::Middle, Type::bold(2.8), tile.name.clone());
    }
    let mut y = (high[1] - low[1]) * scale + 1.0;
    for (letters, text) in [(Type::bold(2.8), &drawing.title), (Type::plain(2.4), &words.t("join"))] {
        for line in letters.wrap(text, MAP_MM[0]) {
            y += letters.leading();
            map.label([0.0, y], Anchor::Start, letters, line);
        }
    }
    map
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
        Kind::Outline => Pen::whole(0.2),
    }
}

/// Draws a whole drawing, the upper left corner of all it shows at a place of the page.
pub(crate) fn draw_at(page: &mut Page, drawing: &Drawing, corner: Point) {
    let part = Part { drawing: 0, along: LEVEL, window: drawing.bounds(), tile: None };
    draw_part(page, drawing, &part, corner, false);
}

/// Draws a part, its window's corner at a place of the page, turned by a quarter if asked.
pub(crate) fn draw_part(page: &mut Page, drawing: &Drawing, part: &Part, corner: Point, quarter: bool) {
    let [low, high] = part.window;
    let size = part.size();
    let (along, size, origin) = if quarter {
        // What ran along x runs up, so the window's right end comes to the top.
        let [cos, sin] = part.along;
        ([sin, -cos], [size[1], size[0]], [corner[0] - low[1], corner[1] + high[0]])
    } else {
        (part.along, size, [corner[0] - low[0], corner[1] - low[1]])
    };
    // Half a line's width lies outside the outermost points.
    let rim = if part.tile.is_some() { 0.0 } else { 0.5 };
    let window = [add(corner, [rim; 2], -1.0), add(size, [rim; 2], 2.0)];
    page.within(window, origin, along, |page| {
        draw(page, drawing);
        if let Some(tile) = &part.tile {
            page.text([low[0] + 1.0, low[1] + 3.6], &tile.title(drawing), NAME);
            for join in &tile.joins {
                draw_join(page, join);
            }
        }
    });
    if part.tile.is_some() {
        page.frame(corner, size, Pen::grey(0.1, 0.6));
    }
}

/// A drawing's areas, lines and words.
pub(crate) fn draw(page: &mut Page, drawing: &Drawing) {
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

/// The line, and on it two diamonds that are whole once the tiles lie right.
fn draw_join(page: &mut Page, join: &Join) {
    let (from, to) = (join.from, join.to);
    page.line(from, to, Pen { width: 0.2, dashes: &[1.0, 1.0], grey: 0.35 });
    for (i, [x, y]) in join.diamonds.into_iter().enumerate() {
        let d = DIAMOND_MM;
        page.polyline(&[[x, y - d], [x + d, y], [x, y + d], [x - d, y]], true, Pen::whole(0.25));
        let letters = Type::bold(3.0);
        let label = format!("{}{}", join.letter, i + 1);
        page.text([x - 0.5 * letters.width(&label), y + 1.05], &label, letters);
    }
    // Which tiles meet here, beside the line's middle where that is clear of the diamonds.
    if length(&[from, to]) < WORDED_JOIN_MM {
        return;
    }
    let letters = Type::plain(2.4);
    let words = format!("{} | {}", join.names[0], join.names[1]);
    let [x, y] = [0.5 * (from[0] + to[0]), 0.5 * (from[1] + to[1])];
    let half = 0.5 * letters.width(&words);
    if from[0] == to[0] {
        page.turned_text([x - 0.9, y + half], UPWARD, &words, letters);
    } else {
        page.text([x - half, y - 0.9], &words, letters);
    }
}
