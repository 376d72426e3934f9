//! The least-cost way between two places, over cells of some pixels: cheap along what is followed, dear elsewhere.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use kurbo::Point;

use crate::grey::{Cells, Grey, whole};
use crate::messages::Line;

/// A cell's side is about this long, mm: wider than half a printed line.
const CELL_MM: f64 = 0.8;
/// The least that a step costs, of what it costs where nothing is seen: so much longer a way along an edge may be.
const LEAST_COST: f32 = 0.03;
/// How far beyond the box about all places the way may go, of the box's diagonal.
const BEYOND: f64 = 0.35;

/// The way through places one after the other, as middles of cells, px.
pub(crate) fn way(grey: &Grey, through: &[Point], line: Line, mm_per_px: f64) -> Vec<Point> {
    let side = whole((CELL_MM / mm_per_px).round()).clamp(2, 5);
    let cells = grey.cells(usize::try_from(side).unwrap_or(2));
    if cells.width < 3 || cells.height < 3 {
        return Vec::new();
    }
    let strength = strengths(&cells, line);
    let ground = Ground::new(&cells, &strength, through);
    let mut out: Vec<Point> = Vec::new();
    for pair in through.windows(2) {
        let leg = ground.leg(cells.cell(pair[0]), cells.cell(pair[1]));
        let skip = usize::from(!out.is_empty());
        out.extend(leg.into_iter().skip(skip).map(|(column, row)| cells.middle(column, row)));
    }
    out
}

/// How plainly each cell lies on what is followed, grey levels.
fn strengths(cells: &Cells, line: Line) -> Vec<f32> {
    let filled = cells.without_dark_lines(1);
    match line {
        Line::Line => filled.iter().zip(&cells.levels).map(|(filled, level)| filled - level).collect(),
        Line::Cut => slopes(cells, &cells.without_bright_lines(&filled, 1)),
    }
}

/// How steep brightness is at each cell, levels between its two neighbours.
fn slopes(cells: &Cells, levels: &[f32]) -> Vec<f32> {
    let (width, height) = (cells.width, cells.height);
    let at = |column: usize, row: usize| levels[row.min(height - 1) * width + column.min(width - 1)];
    let mut out = Vec::with_capacity(levels.len());
    for row in 0..height {
        let (above, below) = (row.saturating_sub(1), row + 1);
        for column in 0..width {
            let (left, right) = (column.saturating_sub(1), column + 1);
            let across = at(right, above) - at(left, above) + 2.0 * (at(right, row) - at(left, row)) + at(right, below)
                - at(left, below);
            let along =
                at(left, below) - at(left, above) + 2.0 * (at(column, below) - at(column, above)) + at(right, below)
                    - at(right, above);
            out.push(across.hypot(along) / 4.0);
        }
    }
    out
}

/// The cells a way may go over, and what each costs.
struct Ground {
    left: usize,
    top: usize,
    width: usize,
    height: usize,
    costs: Vec<f32>,
}

/// A cell that is to be gone on from: the least costly first.
#[derive(PartialEq)]
struct Waiting {
    cost: f32,
    at: usize,
}

impl Eq for Waiting {}

impl PartialOrd for Waiting {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Waiting {
    fn cmp(&self, other: &Self) -> Ordering {
        other.cost.total_cmp(&self.cost).then(other.at.cmp(&self.at))
    }
}

impl Ground {
    /// About the places, with some room. What is strong is told by what stands at the places themselves, which lie on the line.
    fn new(cells: &Cells, strength: &[f32], through: &[Point]) -> Self {
        let (mut least, mut most) = (through[0], through[0]);
        for p in through {
            least = Point::new(least.x.min(p.x), least.y.min(p.y));
            most = Point::new(most.x.max(p.x), most.y.max(p.y));
        }
        let room = BEYOND * least.distance(most) + 10.0 * cells.side as f64;
        let (left, top) = cells.cell(Point::new(least.x - room, least.y - room));
        let (right, bottom) = cells.cell(Point::new(most.x + room, most.y + room));
        let strong = 0.35 * at_places(cells, strength, through).max(8.0);
        let mut costs = Vec::with_capacity((right + 1 - left) * (bottom + 1 - top));
        for row in top..=bottom {
            costs.extend(strength[row * cells.width + left..=row * cells.width + right].iter().map(|strength| {
                let share = strength / strong;
                LEAST_COST + (1.0 - LEAST_COST) / (1.0 + share * share * share)
            }));
        }
        Self { left, top, width: right + 1 - left, height: bottom + 1 - top, costs }
    }

    /// The cheapest way from cell to cell, both among its cells (Dijkstra, 1959).
    fn leg(&self, from: (usize, usize), to: (usize, usize)) -> Vec<(usize, usize)> {
        let index = |(column, row): (usize, usize)| (row - self.top) * self.width + column - self.left;
        let (start, end) = (index(from), index(to));
        let mut least = vec![f32::INFINITY; self.costs.len()];
        let mut before = vec![usize::MAX; self.costs.len()];
        let mut waiting = BinaryHeap::from([Waiting { cost: 0.0, at: start }]);
        least[start] = 0.0;
        while let Some(Waiting { cost, at }) = waiting.pop() {
            if at == end {
                break;
            }
            if cost > least[at] {
                continue;
            }
            let (column, row) = (at % self.width, at / self.width);
            for next_row in row.saturating_sub(1)..(row + 2).min(self.height) {
                for next_column in column.saturating_sub(1)..(column + 2).min(self.width) {
                    let next = next_row * self.width + next_column;
                    let far = if next_row != row && next_column != column { core::f32::consts::SQRT_2 } else { 1.0 };
                    let there = cost + far * (self.costs[at] + self.costs[next]) / 2.0;
                    if there < least[next] {
                        least[next] = there;
                        before[next] = at;
                        waiting.push(Waiting { cost: there, at: next });
                    }
                }
            }
        }
        let mut out = Vec::new();
        let mut at = end;
        while at != usize::MAX {
            out.push((self.left + at % self.width, self.top + at / self.width));
            at = if at == start { usize::MAX } else { before[at] };
        }
        out.reverse();
        out
    }
}

/// The least of what stands near the places, each at its strongest within two cells.
fn at_places(cells: &Cells, strength: &[f32], through: &[Point]) -> f32 {
    let near = |p: &Point| {
        let (column, row) = cells.cell(*p);
        let mut most = 0.0_f32;
        for row in row.saturating_sub(2)..(row + 3).min(cells.height) {
            for column in column.saturating_sub(2)..(column + 3).min(cells.width) {
                most = most.max(strength[row * cells.width + column]);
            }
        }
        most
    };
    through.iter().map(near).fold(f32::INFINITY, f32::min)
}
