//! What looks like a sheet or a card: a patch of one brightness, by itself, with four corners.

use kurbo::{Point, Vec2};

use crate::grey::{Cells, Grey, at_share, whole};
use crate::sides::sides;

/// The photo is looked over in cells so large that its longest side has at most so many.
const MOST_CELLS: usize = 400;
/// Brightnesses at which patches are told from their ground.
const LEVELS: u32 = 9;
/// The least share of the photo, and the most, that a rectangle takes up.
const SHARES: [f64; 2] = [0.006, 0.7];
/// How much of its four-cornered hull a patch fills.
const LEAST_FILLED: f64 = 0.94;

/// The four corners of what looks most like a rectangle, clockwise from the one nearest the top left, px.
pub(crate) fn rectangle(grey: &Grey) -> Option<[Point; 4]> {
    let cells = grey.cells(grey.width.max(grey.height).div_ceil(MOST_CELLS));
    let mut best: Option<(f64, [Point; 4])> = None;
    for level in thresholds(&cells.levels) {
        for bright in [true, false] {
            for patch in patches(&cells, level, bright) {
                let Some((score, corners)) = four_cornered(&cells, &patch) else { continue };
                if best.as_ref().is_some_and(|(most, _)| score <= *most) {
                    continue;
                }
                let (corners, sides) = sides(grey, corners, 1.5 * cells.side as f64 + 4.0, 1.2);
                if sides.iter().all(|side| side.seen) {
                    best = Some((score, corners));
                }
            }
        }
    }
    best.map(|(_, corners)| from_top_left(corners))
}

/// Brightnesses spread over those that the photo has.
fn thresholds(levels: &[f32]) -> impl Iterator<Item = f64> {
    let some: Vec<f64> = levels.iter().step_by(7).map(|level| f64::from(*level)).collect();
    let (least, most) = (at_share(some.clone(), 0.02), at_share(some, 0.98));
    (1..=LEVELS).map(move |index| least + (most - least) * f64::from(index) / f64::from(LEVELS + 1))
}

/// A patch of cells: how many, and the first and last column of each of its rows.
#[derive(Debug)]
struct Patch {
    count: usize,
    rows: Vec<(usize, usize, usize)>,
}

/// The patches brighter than a level, or darker, that do not touch the photo's edge and take up a rectangle's share of it.
fn patches(cells: &Cells, level: f64, bright: bool) -> Vec<Patch> {
    let mut open: Vec<bool> = cells.levels.iter().map(|v| (f64::from(*v) > level) == bright).collect();
    let all = open.len() as f64;
    let mut out = Vec::new();
    let mut patch = Vec::new();
    for start in 0..open.len() {
        if !open[start] {
            continue;
        }
        gather(cells, &mut open, start, &mut patch);
        let share = patch.len() as f64 / all;
        if (SHARES[0]..=SHARES[1]).contains(&share) {
            out.extend(by_rows(cells, &patch));
        }
    }
    out
}

/// All cells that hang together with one, which are open no more then.
fn gather(cells: &Cells, open: &mut [bool], start: usize, patch: &mut Vec<usize>) {
    let width = cells.width;
    patch.clear();
    patch.push(start);
    open[start] = false;
    let mut done = 0;
    while let Some(at) = patch.get(done).copied() {
        done += 1;
        for next in [at.wrapping_sub(1), at + 1, at.wrapping_sub(width), at + width] {
            let beside = next < open.len() && (next / width == at / width || next % width == at % width);
            if beside && open[next] {
                open[next] = false;
                patch.push(next);
            }
        }
    }
}

/// A patch by its rows; nothing where it touches the photo's edge.
fn by_rows(cells: &Cells, patch: &[usize]) -> Option<Patch> {
    let mut rows = vec![(usize::MAX, 0); cells.height];
    for at in patch {
        let (row, column) = (at / cells.width, at % cells.width);
        if row == 0 || column == 0 || row + 1 == cells.height || column + 1 == cells.width {
            return None;
        }
        rows[row] = (rows[row].0.min(column), rows[row].1.max(column));
    }
    let filled = rows.iter().enumerate().filter(|(_, (from, _))| *from != usize::MAX);
    Some(Patch { count: patch.len(), rows: filled.map(|(row, (from, to))| (row, *from, *to)).collect() })
}

/// The four corners of a patch and how well it is a rectangle's picture; nothing where it is none.
fn four_cornered(cells: &Cells, patch: &Patch) -> Option<(f64, [Point; 4])> {
    let half = cells.side as f64 / 2.0;
    // Each row's lower edge just above the next row's upper one: from top to bottom, then left to right.
    let (upper, lower) = (-half, 0.99 * half);
    let mut points = Vec::with_capacity(patch.rows.len() * 4);
    for (row, from, to) in &patch.rows {
        let (left, right) = (cells.middle(*from, *row), cells.middle(*to, *row));
        for down in [upper, lower] {
            points.push(left + Vec2::new(-half, down));
            points.push(right + Vec2::new(half, down));
        }
    }
    let corners = largest_four(&hull(&points))?;
    let area = area(&corners);
    let filled = patch.count as f64 * (cells.side * cells.side) as f64 / area;
    let lengths: Vec<f64> = (0..4).map(|i| corners[i].distance(corners[(i + 1) % 4])).collect();
    let alike = |a: f64, b: f64| a.min(b) / a.max(b);
    let opposite = alike(lengths[0], lengths[2]).min(alike(lengths[1], lengths[3]));
    let slender = alike(lengths[0] + lengths[2], lengths[1] + lengths[3]);
    if !(LEAST_FILLED..=1.06).contains(&filled) || opposite < 0.55 || slender < 0.3 {
        return None;
    }
    let share = area / (cells.width * cells.height * cells.side * cells.side) as f64;
    Some((0.3 * share.sqrt() - 4.0 * (1.0 - filled).abs() + 0.3 * opposite, corners))
}

/// The area within corners, positive whichever way round they are told.
pub(crate) fn area(corners: &[Point; 4]) -> f64 {
    let twice: f64 = (0..4).map(|i| corners[i].to_vec2().cross(corners[(i + 1) % 4].to_vec2())).sum();
    twice.abs() / 2.0
}

/// The convex hull of points that stand in order from top to bottom, round in one sense (Andrew, 1979).
fn hull(points: &[Point]) -> Vec<Point> {
    let mut out: Vec<Point> = Vec::new();
    let mut lay = |points: &mut dyn Iterator<Item = &Point>| {
        let start = out.len();
        for p in points {
            while out.len() >= start + 2
                && (out[out.len() - 1] - out[out.len() - 2]).cross(*p - out[out.len() - 2]) >= 0.0
            {
                out.pop();
            }
            out.push(*p);
        }
        out.pop();
    };
    lay(&mut points.iter());
    lay(&mut points.iter().rev());
    out
}

/// The four points of a hull that enclose most: from the two furthest apart on, each put where it encloses most until none moves.
fn largest_four(hull: &[Point]) -> Option<[Point; 4]> {
    let count = hull.len();
    if count < 4 {
        return None;
    }
    let mut four = [0, count / 4, count / 2, 3 * count / 4];
    for _ in 0..20 {
        let before = four;
        for index in 0..4 {
            let (last, next) = (four[(index + 3) % 4], four[(index + 1) % 4]);
            let chord = hull[next] - hull[last];
            // Round from the corner before to the one after.
            let between = (1..count).map(|step| (last + step) % count).take_while(|at| *at != next);
            let furthest = between.max_by(|a, b| {
                let out = |at: usize| chord.cross(hull[at] - hull[last]).abs();
                out(*a).total_cmp(&out(*b))
            });
            four[index] = furthest.unwrap_or(four[index]);
        }
        if four == before {
            break;
        }
    }
    Some(four.map(|at| hull[at]))
}

/// Clockwise on the screen, beginning at the corner nearest the top left.
fn from_top_left(mut corners: [Point; 4]) -> [Point; 4] {
    let turn = (corners[1] - corners[0]).cross(corners[2] - corners[1]);
    if turn < 0.0 {
        corners.reverse();
    }
    let first = (0..4).min_by_key(|i| whole(corners[*i].x + corners[*i].y)).unwrap_or(0);
    corners.rotate_left(first);
    corners
}
