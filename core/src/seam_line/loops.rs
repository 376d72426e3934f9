//! Runs of points that cross themselves: their loops cut out, the corners that these leave rounded.

use kurbo::{ParamCurve, Point};

use super::node::Node;
use crate::curve::turn_between;

/// Places of a moved line that are nearer each other than this are one, mm: more than [`SMOOTH`] times any distance.
pub(crate) const SAME_PLACE_MM: f64 = 1e-3;

/// Turn from which a place where a loop was cut out is rounded. Radians: our judgement.
pub(crate) const KINK: f64 = 0.1;

pub(crate) fn place(point: &[f64; 2]) -> Point {
    Point::new(point[0], point[1])
}

/// The length along a run of points, mm.
pub(crate) fn chords(points: &[[f64; 2]]) -> f64 {
    points.iter().zip(points.iter().skip(1)).map(|(a, b)| place(a).distance(place(b))).sum()
}

/// Cuts the loops out of a run of points: where it crosses itself, it goes straight on. An edge behind a known
/// seam line has such loops where the allowance is larger than the line's radius; the cut edge has a corner there.
pub(crate) fn without_loops(points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    let mut kept: Vec<[f64; 2]> = Vec::with_capacity(points.len());
    for next in points {
        if let Some(&last) = kept.last() {
            let (p, q) = (place(&last), place(&next));
            // All but the side that ends where this one begins.
            let sides = kept.iter().zip(kept.iter().skip(1)).map(|(a, b)| (place(a), place(b)));
            let before = sides.enumerate().take(kept.len().saturating_sub(2));
            if let Some((i, (a, b))) = before.into_iter().find(|(_, (a, b))| reach_across(*a, *b, p, q)) {
                let met = meeting(a, b, p, q);
                kept.truncate(i + 1);
                kept.push([met.x, met.y]);
            }
        }
        kept.push(next);
    }
    kept
}

/// A run of points with its corners rounded: each by the parabola between the places `reach` before and after it, or less
/// where there is no room.
pub(crate) fn rounded(run: &[[f64; 2]], reach: f64) -> Vec<Point> {
    const PARTS: u32 = 8;
    let mut at: Vec<Point> = run.iter().map(place).collect();
    at.dedup_by(|next, kept| next.distance(*kept) < SAME_PLACE_MM);
    let turn = |i: usize| match at.get(i.wrapping_sub(1)..).and_then(|from| from.get(..3)) {
        Some(&[a, b, c]) => turn_between(b - a, c - b).abs(),
        _ => 0.0,
    };
    let along: Vec<f64> = core::iter::once(0.0)
        .chain(at.iter().zip(at.iter().skip(1)).scan(0.0, |sum, (a, b)| {
            *sum += a.distance(*b);
            Some(*sum)
        }))
        .collect();
    let on = |s: f64| {
        let i = along.partition_point(|place| *place < s).clamp(1, at.len().saturating_sub(1).max(1));
        let ends = along.get(i - 1).zip(along.get(i)).zip(at.get(i - 1).zip(at.get(i)));
        ends.map(|((a, b), (p, q))| p.lerp(*q, ((s - a) / (b - a).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)))
    };
    let kinks: Vec<usize> = (1..at.len().saturating_sub(1)).filter(|i| turn(*i) > KINK).collect();
    let whole = along.last().copied().unwrap_or(0.0);
    let mut smooth = Vec::with_capacity(at.len() + kinks.len() * 8);
    let mut done = 0.0;
    for (n, &i) in kinks.iter().enumerate() {
        let Some((&s, &corner)) = along.get(i).zip(at.get(i)) else { continue };
        let next = kinks.get(n + 1).and_then(|i| along.get(*i)).map_or(whole, |next| 0.5 * (s + next));
        let r = reach.min(s - done).min(next - s);
        smooth.extend(at.iter().zip(&along).filter(|(_, at)| (done..s - r).contains(*at)).map(|(p, _)| *p));
        let Some((from, to)) = on(s - r).zip(on(s + r)) else { continue };
        let parabola = kurbo::QuadBez::new(from, corner, to);
        smooth.extend((0..PARTS).map(|i| parabola.eval(f64::from(i) / f64::from(PARTS))));
        done = s + r;
    }
    smooth.extend(on(done));
    smooth.extend(at.iter().zip(&along).filter(|(_, at)| **at > done).map(|(p, _)| *p));
    smooth.dedup_by(|next, kept| next.distance(*kept) < SAME_PLACE_MM);
    smooth
}

/// A run of points, each apart from the next, as a line's nodes: straight from each to the next.
pub(crate) fn through(run: &[Point]) -> Vec<Node> {
    let mut nodes: Vec<Node> = Vec::with_capacity(run.len() * 2);
    for (a, b) in run.iter().zip(run.iter().skip(1)) {
        let direction = (*b - *a) / a.distance(*b);
        let (s, theta) =
            nodes.last().map_or((0.0, 0.0), |last| (last.s, last.theta + turn_between(last.direction, direction)));
        nodes.push(Node { s, theta, k: 0.0, at: *a, direction });
        nodes.push(Node { s: s + a.distance(*b), theta, k: 0.0, at: *b, direction });
    }
    nodes
}

/// Where two segments that cross do so; of two that lie along one line, which rounding may take for a crossing, where the
/// first begins.
pub(crate) fn meeting(a: Point, b: Point, p: Point, q: Point) -> Point {
    let turn = (b - a).cross(q - p);
    let share = if turn == 0.0 { 0.0 } else { (p - a).cross(q - p) / turn };
    a.lerp(b, share.clamp(0.0, 1.0))
}

/// Whether two segments cross, or one of them ends on the other.
pub(crate) fn reach_across(a: Point, b: Point, p: Point, q: Point) -> bool {
    let left = |o: Point, u: Point, v: Point| (u - o).cross(v - o) > 0.0;
    left(a, b, p) != left(a, b, q) && left(p, q, a) != left(p, q, b)
}

pub(crate) fn cross(a: Point, b: Point, p: Point, q: Point) -> bool {
    let side = |o: Point, u: Point, v: Point| (u - o).cross(v - o);
    side(a, b, p) * side(a, b, q) < 0.0 && side(p, q, a) * side(p, q, b) < 0.0
}
