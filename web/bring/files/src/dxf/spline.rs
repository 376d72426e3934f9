//! Splines: by control points with knots and weights, or by the points that they go through.

use kurbo::{BezPath, Point, Vec2};

use super::pairs::Record;
use crate::messages::{MOST_SEGMENTS, Refused};
use crate::round::{add_curve, around};

/// Most control points or points to go through.
const MOST_POINTS: usize = 20_000;
/// The highest degree.
const MOST_DEGREE: usize = 11;
/// How near cubics come to a spline that is none, as a share of its size.
const NEAR_SHARE: f64 = 1e-7;

/// A spline's path; none where it goes nowhere.
///
/// # Errors
/// Of more points than are read, or with knots or weights that are not those of its points.
pub(crate) fn path(record: &Record<'_>) -> Result<Option<BezPath>, Refused> {
    let points =
        |code: i32| -> Vec<Point> { record.numbers(code).zip(record.numbers(code + 10)).map(Point::from).collect() };
    let (controls, through) = (points(10), points(11));
    if controls.len().max(through.len()) > MOST_POINTS {
        return Err(Refused::TooMuch { most: MOST_SEGMENTS });
    }
    if controls.len() >= 2 {
        return by_controls(record, &controls).map(Some);
    }
    let tangent =
        |code: i32| Some(Vec2::new(record.number(code)?, record.number(code + 10)?)).filter(|v| v.hypot() > 0.0);
    Ok(through_points(&through, tangent(12), tangent(13)))
}

/// Control points in homogeneous coordinates: the point times its weight, and the weight.
type Weighted = (Vec2, f64);

fn by_controls(record: &Record<'_>, controls: &[Point]) -> Result<BezPath, Refused> {
    let degree = usize::try_from(record.integer(71).unwrap_or(3)).map_err(|_| record.broken())?;
    let n = controls.len();
    let mut knots: Vec<f64> = record.numbers(40).collect();
    if knots.is_empty() {
        knots = even_knots(n, degree);
    }
    let fits = (1..=MOST_DEGREE.min(n - 1)).contains(&degree) && knots.len() == n + degree + 1;
    if !fits || knots.windows(2).any(|pair| pair[1] < pair[0]) {
        return Err(record.broken());
    }
    let mut weights: Vec<f64> = record.numbers(41).collect();
    if weights.is_empty() {
        weights = vec![1.0; n];
    }
    if weights.len() != n || weights.iter().any(|w| *w <= 0.0) {
        return Err(record.broken());
    }
    let weighted: Vec<Weighted> =
        controls.iter().zip(weights).map(|(p, weight)| (p.to_vec2() * weight, weight)).collect();
    let size = around(controls);
    let near = NEAR_SHARE * size.width().max(size.height());
    let mut path = BezPath::new();
    path.move_to(de_boor(&weighted, &knots, degree, degree, knots[degree]));
    for span in degree..n {
        let (from, to) = (knots[span], knots[span + 1]);
        if to > from {
            let place = |t: f64| de_boor(&weighted, &knots, degree, span, from + (to - from) * t);
            add_curve(&mut path, &place, near);
        }
    }
    Ok(path)
}

/// Knots of a spline whose ends are held, with even spans.
fn even_knots(n: usize, degree: usize) -> Vec<f64> {
    (0..=n + degree).map(|i| i.saturating_sub(degree).min(n.saturating_sub(degree)) as f64).collect()
}

/// The place of a spline at `u`, by the polynomial of one span (de Boor).
fn de_boor(controls: &[Weighted], knots: &[f64], degree: usize, span: usize, u: f64) -> Point {
    let mut d: Vec<Weighted> = controls[span - degree..=span].to_vec();
    for r in 1..=degree {
        for j in (r..=degree).rev() {
            let (low, high) = (knots[j + span - degree], knots[j + 1 + span - r]);
            let share = if high > low { (u - low) / (high - low) } else { 0.0 };
            let (before, own) = (d[j - 1], d[j]);
            d[j] = (before.0 * (1.0 - share) + own.0 * share, before.1 * (1.0 - share) + own.1 * share);
        }
    }
    let (at, weight) = d[degree];
    (at / weight).to_point()
}

/// The cubic spline through points whose bend is steady, its parameter the way along the chords. Where no direction is given at an
/// end it does not bend there.
fn through_points(points: &[Point], start: Option<Vec2>, end: Option<Vec2>) -> Option<BezPath> {
    let mut points = points.to_vec();
    points.dedup();
    let n = points.len();
    let (first, last) = (points.first()?, points.last()?);
    let mut path = BezPath::new();
    path.move_to(*first);
    if n < 2 {
        return None;
    }
    if n == 2 && start.is_none() && end.is_none() {
        path.line_to(*last);
        return Some(path);
    }
    let chords: Vec<f64> = points.windows(2).map(|pair| pair[0].distance(pair[1])).collect();
    let slopes = slopes(&points, &chords, start.map(unit), end.map(unit));
    for (i, h) in chords.iter().enumerate() {
        path.curve_to(points[i] + slopes[i] * (h / 3.0), points[i + 1] - slopes[i + 1] * (h / 3.0), points[i + 1]);
    }
    Some(path)
}

fn unit(v: Vec2) -> Vec2 {
    v / v.hypot()
}

/// The slopes at the points, of the second derivative running on over each: a system of three diagonals.
fn slopes(points: &[Point], chords: &[f64], start: Option<Vec2>, end: Option<Vec2>) -> Vec<Vec2> {
    let n = points.len();
    let (mut below, mut middle, mut above) = (vec![0.0; n], vec![1.0; n], vec![0.0; n]);
    let mut right = vec![Vec2::ZERO; n];
    let rise = |i: usize| (points[i + 1] - points[i]) / chords[i];
    for i in 1..n - 1 {
        let (h, k) = (chords[i - 1], chords[i]);
        (below[i], middle[i], above[i]) = (k, 2.0 * (h + k), h);
        right[i] = (rise(i - 1) * k + rise(i) * h) * 3.0;
    }
    match start {
        Some(way) => right[0] = way,
        None => (middle[0], above[0], right[0]) = (2.0, 1.0, rise(0) * 3.0),
    }
    match end {
        Some(way) => right[n - 1] = way,
        None => (below[n - 1], middle[n - 1], right[n - 1]) = (1.0, 2.0, rise(n - 2) * 3.0),
    }
    for i in 1..n {
        let share = below[i] / middle[i - 1];
        middle[i] -= share * above[i - 1];
        let before = right[i - 1];
        right[i] -= before * share;
    }
    for i in (0..n).rev() {
        let after = if i + 1 < n { right[i + 1] * above[i] } else { Vec2::ZERO };
        right[i] = (right[i] - after) / middle[i];
    }
    right
}
