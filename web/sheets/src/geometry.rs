//! Small geometry of drawn lines: places along them, portions, lines laid beside them.

use crate::ink::Point;

pub(crate) fn add(a: Point, b: Point, times: f64) -> Point {
    [a[0] + times * b[0], a[1] + times * b[1]]
}

/// A point turned about the origin, so that what ran along x runs along a unit vector.
pub(crate) fn turned(p: Point, along: Point) -> Point {
    let [cos, sin] = along;
    [p[0] * cos - p[1] * sin, p[0] * sin + p[1] * cos]
}

/// The least rectangle round points: two corners; none without points.
pub(crate) fn bounds(points: impl Iterator<Item = Point>) -> Option<[Point; 2]> {
    points.map(|p| [p, p]).reduce(around)
}

/// The least rectangle round two.
pub(crate) fn around([low, high]: [Point; 2], [other_low, other_high]: [Point; 2]) -> [Point; 2] {
    let pick = |pick: fn(f64, f64) -> f64, a: Point, b: Point| [pick(a[0], b[0]), pick(a[1], b[1])];
    [pick(f64::min, low, other_low), pick(f64::max, high, other_high)]
}

/// The part of a line from `a` to `b` that lies within a rectangle (Liang and Barsky's way: the share of the line at which it
/// enters and leaves each side); none where it misses it.
pub(crate) fn clipped(a: Point, b: Point, [low, high]: [Point; 2]) -> Option<[Point; 2]> {
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        let run = b[axis] - a[axis];
        let shares = [low[axis], high[axis]].map(|side| (side - a[axis]) / run);
        if run.abs() < 1e-12 {
            if a[axis] < low[axis] || a[axis] > high[axis] {
                return None;
            }
            continue;
        }
        enters = enters.max(shares[0].min(shares[1]));
        leaves = leaves.min(shares[0].max(shares[1]));
    }
    (enters <= leaves).then(|| [between(a, b, enters), between(a, b, leaves)])
}

fn between(a: Point, b: Point, share: f64) -> Point {
    [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
}

fn distance(a: Point, b: Point) -> f64 {
    (b[0] - a[0]).hypot(b[1] - a[1])
}

/// A line's length. mm.
pub(crate) fn length(line: &[Point]) -> f64 {
    line.iter().zip(line.iter().skip(1)).map(|(a, b)| distance(*a, *b)).sum()
}

/// The unit vector from one point to another; along x where they are the same.
pub(crate) fn direction(a: Point, b: Point) -> Point {
    let long = distance(a, b);
    if long > 1e-9 { [(b[0] - a[0]) / long, (b[1] - a[1]) / long] } else { [1.0, 0.0] }
}

/// To the left of a direction as seen, y down: the opening's side of a line that runs from the centre to the neck point.
pub(crate) fn to_opening(direction: Point) -> Point {
    [direction[1], -direction[0]]
}

/// The place at a length along a line, and the line's direction there.
pub(crate) fn at(line: &[Point], length: f64) -> Option<(Point, Point)> {
    let mut left = length.max(0.0);
    let last = line.len().checked_sub(2)?;
    for (i, (a, b)) in line.iter().zip(line.iter().skip(1)).enumerate() {
        let long = distance(*a, *b);
        if left <= long || i == last {
            let share = if long > 0.0 { (left / long).min(1.0) } else { 0.0 };
            return Some((between(*a, *b, share), direction(*a, *b)));
        }
        left -= long;
    }
    None
}

/// The part of a line between two lengths along it.
pub(crate) fn portion(line: &[Point], from: f64, to: f64) -> Vec<Point> {
    let (Some((first, _)), Some((last, _))) = (at(line, from), at(line, to)) else { return Vec::new() };
    let mut points = vec![first];
    let mut along = 0.0;
    for (a, b) in line.iter().zip(line.iter().skip(1)) {
        along += distance(*a, *b);
        if along > from + 1e-6 && along < to - 1e-6 {
            points.push(*b);
        }
    }
    points.push(last);
    points
}

/// Values in rising order. A handful at most, so that the library's sorting need not be downloaded.
pub(crate) fn sorted<T: PartialOrd>(values: impl Iterator<Item = T>) -> Vec<T> {
    let mut sorted: Vec<T> = Vec::new();
    for value in values {
        let place = sorted.iter().position(|other| *other > value).unwrap_or(sorted.len());
        sorted.insert(place, value);
    }
    sorted
}

/// Where the line through `a` along `u` meets the line through `b` along `v`.
pub(crate) fn meet(a: Point, u: Point, b: Point, v: Point) -> Option<Point> {
    let cross = u[0] * v[1] - u[1] * v[0];
    if cross.abs() < 1e-6 {
        return None;
    }
    let t = ((b[0] - a[0]) * v[1] - (b[1] - a[1]) * v[0]) / cross;
    Some(add(a, u, t))
}

#[cfg(test)]
mod tests {
    use super::*;

    const CORNER: [Point; 3] = [[0.0, 0.0], [30.0, 0.0], [30.0, -40.0]];

    #[test]
    fn places_and_portions_are_measured_along_the_line() {
        assert_eq!(at(&CORNER, 40.0).map(|(place, _)| place), Some([30.0, -10.0]), "past the corner");
        assert_eq!(at(&CORNER, 99.0).map(|(place, _)| place), Some([30.0, -40.0]), "no farther than the end");
        assert_eq!(portion(&CORNER, 10.0, 40.0), [[10.0, 0.0], [30.0, 0.0], [30.0, -10.0]], "with the corner");
        assert!(at(&[[0.0, 0.0]], 1.0).is_none(), "a point is no line");
    }

    #[test]
    fn a_line_is_clipped_to_a_rectangle() {
        let square = [[0.0, 0.0], [10.0, 10.0]];
        assert_eq!(clipped([-5.0, 5.0], [15.0, 5.0], square), Some([[0.0, 5.0], [10.0, 5.0]]), "across");
        assert_eq!(clipped([5.0, 5.0], [5.0, 20.0], square), Some([[5.0, 5.0], [5.0, 10.0]]), "from within");
        assert_eq!(clipped([-5.0, 0.0], [5.0, -10.0], square), None, "past the corner");
        assert_eq!(clipped([11.0, 0.0], [11.0, 10.0], square), None, "beside it");
    }

    #[test]
    fn lines_meet_unless_they_run_alike() {
        assert_eq!(meet([0.0, 0.0], [1.0, 0.0], [5.0, 9.0], [0.0, 1.0]), Some([5.0, 0.0]), "square");
        assert_eq!(meet([0.0, 0.0], [1.0, 0.0], [5.0, 9.0], [2.0, 0.0]), None, "parallel");
    }
}
