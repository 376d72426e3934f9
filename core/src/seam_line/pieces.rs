//! The arcs of a line, moved and joined at their corners, trimmed at centre and shoulder, sampled.

use kurbo::{Point, Vec2};

use super::line::SMOOTH;
use super::node::Node;
use crate::curve::{Arc, crossing, garment_side, straight, tangent, turn_between};
use crate::error::Problem;

/// Panels per arc; each panel's length is a quadrature, its turning is exact.
const PANELS: u32 = 8;

/// How near a trim comes to its line, mm.
const TRIM_ACCURACY: f64 = 1e-10;

/// Turning up to which two arcs that overlap once moved run all but one way: cut back by the overlap, a thousandth of
/// the distance, they are apart by under [`SAME_PLACE_MM`]. Radians.
const SLIGHT: f64 = 1e-3;

/// Why a line cannot be moved: the problem, and the largest distance that works where it is known.
pub(crate) type MoveError = (Problem, Option<f64>);

/// A part of the moved line: an arc between two parameters, at a distance.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Piece {
    pub arc: Arc,
    pub d: f64,
    pub from: f64,
    pub to: f64,
}

impl Piece {
    pub(crate) fn straight(from: Point, to: Point) -> Self {
        Self { arc: Arc::new(straight(from, to)), d: 0.0, from: 0.0, to: 1.0 }
    }

    pub(crate) fn at(&self, t: f64) -> Point {
        self.arc.offset_point(t, self.d)
    }
}

/// Joins the moved arcs: mitred where a gap opens, trimmed to their crossing where they overlap.
pub(crate) fn join_corners(arcs: &[Arc], d: f64) -> Result<Vec<Piece>, MoveError> {
    let mut pieces: Vec<Piece> = Vec::with_capacity(arcs.len() + 2);
    for &arc in arcs {
        let next = join(&mut pieces, Piece { arc, d, from: 0.0, to: 1.0 })?;
        pieces.push(next);
    }
    Ok(pieces)
}

/// The same where loops are cut out afterwards: arcs that overlap without a crossing are left as they are.
pub(crate) fn join_loosely(arcs: &[Arc], d: f64) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::with_capacity(arcs.len() + 2);
    for &arc in arcs {
        let whole = Piece { arc, d, from: 0.0, to: 1.0 };
        let next = join(&mut pieces, whole).unwrap_or(whole);
        pieces.push(next);
    }
    pieces
}

/// Joins a moved arc to those before it, which it may trim.
pub(crate) fn join(pieces: &mut Vec<Piece>, mut next: Piece) -> Result<Piece, MoveError> {
    let Some(last) = pieces.last_mut() else { return Ok(next) };
    let d = next.d;
    let (before, after) = (last.arc.direction(1.0), next.arc.direction(0.0));
    let turn = turn_between(before, after);
    if turn.abs() > SMOOTH {
        let reach = d.abs() * tangent(0.5 * turn.abs());
        if turn * d > 0.0 {
            let (a, b) = (last.at(1.0), next.at(0.0));
            let tip = a + reach * before;
            pieces.push(Piece::straight(a, tip));
            pieces.push(Piece::straight(tip, b));
        } else {
            let trimmed = if turn.abs() < SLIGHT { cut_back } else { meet };
            (last.to, next.from) = trimmed(last, &next, reach)?;
        }
    }
    Ok(next)
}

/// Where two overlapping moved arcs meet near their shared corner, by Newton's method.
pub(crate) fn meet(a: &Piece, b: &Piece, reach: f64) -> Result<(f64, f64), MoveError> {
    // From where the overlap would begin, were each to bend no more: the pace of a moved arc that bends away changes too much.
    let pace = |piece: &Piece, t: f64| piece.arc.speed(t) * (1.0 + (piece.d * piece.arc.curvature(t)).max(0.0));
    let mut t = 1.0 - reach / pace(a, 1.0).max(1e-9);
    let mut u = reach / pace(b, 0.0).max(1e-9);
    for _ in 0..24 {
        let gap = b.at(u) - a.at(t);
        let va = a.arc.direction(t) * a.arc.speed(t) * (1.0 + a.d * a.arc.curvature(t));
        let vb = b.arc.direction(u) * b.arc.speed(u) * (1.0 + b.d * b.arc.curvature(u));
        let det = va.cross(vb);
        if gap.hypot() < 1e-10 || det == 0.0 {
            break;
        }
        t += gap.cross(vb) / det;
        u += gap.cross(va) / det;
    }
    let met = (b.at(u) - a.at(t)).hypot() < 1e-6;
    if met && (a.from..=1.0).contains(&t) && (0.0..1.0).contains(&u) {
        return Ok((t, u));
    }
    let at = a.at(1.0);
    Err((Problem::CrossesAt { x_mm: at.x, y_mm: at.y }, None))
}

/// Where two moved arcs that run all but one way overlap, each is cut back by its share of the overlap: they may pass
/// beside each other by far less than can be seen, and so have no crossing to trim them to.
pub(crate) fn cut_back(a: &Piece, b: &Piece, reach: f64) -> Result<(f64, f64), MoveError> {
    let pace = |piece: &Piece, t: f64| piece.arc.speed(t) * (1.0 + piece.d * piece.arc.curvature(t));
    let (t, u) = (1.0 - reach / pace(a, 1.0).max(1e-9), reach / pace(b, 0.0).max(1e-9));
    if t >= a.from && u < 1.0 {
        return Ok((t, u));
    }
    let at = a.at(1.0);
    Err((Problem::CrossesAt { x_mm: at.x, y_mm: at.y }, None))
}

/// Trims the start to the centre seam line x = `centre`, or extends it there along its tangent.
pub(crate) fn trim_start(pieces: &mut Vec<Piece>, centre: f64) -> Result<(), MoveError> {
    let past = |p: Point| p.x - centre;
    while let Some(first) = pieces.first_mut() {
        let start = past(first.at(first.from));
        if start > TRIM_ACCURACY {
            let direction = first.arc.direction(first.from);
            let from = first.at(first.from);
            if direction.x < 1e-6 {
                return Err((Problem::NothingLeft, None));
            }
            pieces.insert(0, Piece::straight(from - (start / direction.x) * direction, from));
            return Ok(());
        }
        let end = past(first.at(first.to));
        if end > TRIM_ACCURACY {
            let ends = ((first.from, start), (first.to, end));
            first.from = crossing(ends.0, ends.1, TRIM_ACCURACY, |t| past(first.at(t)));
            return Ok(());
        }
        pieces.remove(0);
    }
    Err((Problem::NothingLeft, None))
}

/// Trims the end to the shoulder seam line, or extends it there along its tangent.
pub(crate) fn trim_end(pieces: &mut Vec<Piece>, neck: Point, inward: Vec2, shoulder: f64) -> Result<(), MoveError> {
    let below = |p: Point| (p - neck).dot(inward) - shoulder;
    while let Some(last) = pieces.last_mut() {
        let end = below(last.at(last.to));
        if end > TRIM_ACCURACY {
            let (direction, from) = (last.arc.direction(last.to), last.at(last.to));
            let rate = -direction.dot(inward);
            if rate < 1e-6 {
                return Err((Problem::NothingLeft, None));
            }
            pieces.push(Piece::straight(from, from + (end / rate) * direction));
            return Ok(());
        }
        let start = below(last.at(last.from));
        if start > TRIM_ACCURACY {
            let ends = ((last.from, start), (last.to, end));
            last.to = crossing(ends.0, ends.1, TRIM_ACCURACY, |t| below(last.at(t)));
            return Ok(());
        }
        pieces.pop();
    }
    Err((Problem::NothingLeft, None))
}

pub(crate) fn sample(pieces: &[Piece]) -> Vec<Node> {
    let mut nodes: Vec<Node> = Vec::with_capacity(pieces.len() * (PANELS as usize + 1));
    let (mut s, mut theta) = (0.0, 0.0);
    for Piece { arc, d, from, to } in pieces {
        let step = (to - from) / f64::from(PANELS);
        for i in 0..=PANELS {
            let t = from + f64::from(i) * step;
            let here = arc.place(t);
            let turned = nodes.last().map_or(0.0, |last| turn_between(last.direction, here.direction));
            theta += turned;
            if i > 0 {
                s += arc.length(t - step, t, 1) + d * turned;
            }
            let (at, k) = (here.point + *d * garment_side(here.direction), here.k / (1.0 + d * here.k));
            nodes.push(Node { s, theta, k, at, direction: here.direction });
        }
    }
    nodes
}
