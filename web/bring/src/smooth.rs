//! From a line that was sampled, noise and all, to the smooth curve it was sampled from.
//!
//! Points are joined by a cubic spline with even spans (B-spline of degree 3, its ends held) that is nearest to them by least
//! squares; it is given more spans until no point is further off than the noise that the points themselves show.

use kurbo::{CubicBez, ParamCurve, ParamCurveArclen, PathSeg, Point, Vec2};

use crate::corner::corners;
use crate::order::sorted;
use crate::run::Run;

/// From how many lines in a row a curve was sampled. Our judgement.
const LEAST_LINES: usize = 8;
/// The longest of these lines, mm, and the longest as a share of all: longer ones were drawn as lines.
const LONGEST_LINE: [f64; 2] = [15.0, 0.25];
/// How near the curve comes where points show no noise, mm.
const NEAR_MM: f64 = 0.02;
/// How many times their usual noise points may be off.
const NOISE_TIMES: f64 = 3.5;
/// Most spans of one stretch.
const MOST_SPANS: usize = 48;
/// Most points that are looked at of one stretch.
const MOST_POINTS: usize = 4000;
/// Most segments that go on as they are, as a drawn outline takes 200.
const MOST_SEGMENTS: usize = 190;

/// An edge, with its sampled stretches made curves.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Smoothed {
    pub(crate) segments: Vec<PathSeg>,
    /// Whether any stretch was sampled.
    pub(crate) any: bool,
}

/// Makes curves of an edge's sampled stretches; what is drawn as curves and long lines stays as it is.
pub(crate) fn smoothed(edge: Vec<PathSeg>) -> Smoothed {
    let too_many = edge.len() > MOST_SEGMENTS;
    let Some(run) = Run::new(edge.clone(), false) else { return Smoothed { segments: edge, any: false } };
    let stops: Vec<f64> = corners(&run).iter().map(|corner| corner.at).collect();
    let mut all = Smoothed { segments: Vec::new(), any: false };
    for pair in stops.windows(2) {
        let stretch = run.part(pair[0], pair[1]);
        if stretch.is_empty() {
            continue;
        }
        if let Some(points) = sampled(&stretch, run.length(), too_many) {
            all.any = true;
            all.segments.extend(spline(&points).into_iter().map(PathSeg::Cubic));
        } else {
            all.segments.extend(stretch);
        }
    }
    all
}

/// The points of a stretch that was sampled, or of any where there are too many segments.
fn sampled(stretch: &[PathSeg], whole: f64, too_many: bool) -> Option<Vec<Point>> {
    let [longest, share] = LONGEST_LINE;
    let short = |s: &&PathSeg| matches!(s, PathSeg::Line(_)) && s.arclen(0.1) <= longest.min(share * whole);
    let lines = stretch.iter().filter(short).count();
    if !(too_many || (lines >= LEAST_LINES && lines * 10 >= stretch.len() * 9)) {
        return None;
    }
    let usual = median(&stretch.iter().map(|s| s.arclen(1e-3)).collect::<Vec<_>>());
    let mut points = vec![stretch.first()?.start()];
    for segment in stretch {
        // What is longer than its neighbours holds the curve along its whole length.
        let count = (segment.arclen(1e-3) / (2.0 * usual)).ceil().clamp(1.0, 64.0);
        let mut i = 1.0;
        while i <= count {
            points.push(segment.eval(i / count));
            i += 1.0;
        }
    }
    let every = points.len() / MOST_POINTS + 1;
    let last = points.len() - 1;
    Some(points.into_iter().enumerate().filter(|(i, _)| i % every == 0 || *i == last).map(|(_, p)| p).collect())
}

fn median(values: &[f64]) -> f64 {
    let values = sorted(values);
    values.get(values.len() / 2).copied().unwrap_or(1.0)
}

/// The usual distance of points from a smooth curve through them, mm: by fourth differences, which a smooth curve has next to none
/// of. Of independent noise of deviation 1 they have sqrt(4.375) as taken here.
fn noise(points: &[Point]) -> f64 {
    let bends: Vec<Vec2> = points.windows(3).map(|p| p[1] - p[0].midpoint(p[2])).collect();
    let rest: Vec<f64> = bends.windows(3).map(|b| (b[1] - (b[0] + b[2]) / 2.0).hypot2()).collect();
    if rest.is_empty() { 0.0 } else { (median(&rest) / 4.375).sqrt() }
}

/// The spline with the fewest spans that is near enough to points.
fn spline(points: &[Point]) -> Vec<CubicBez> {
    let near = NEAR_MM.max(NOISE_TIMES * noise(points));
    let most = MOST_SPANS.min(points.len() / 3).max(1);
    let mut spans = 1;
    loop {
        let (curve, off) = fitted(points, spans);
        if off <= near || spans >= most {
            return curve;
        }
        spans = (spans * 2).min(most);
    }
}

/// The spline with so many spans that is nearest to points, and how far the furthest point is off.
fn fitted(points: &[Point], spans: usize) -> (Vec<CubicBez>, f64) {
    let mut places = by_chord(points);
    let mut controls = least_squares(points, &places, spans);
    for _ in 0..4 {
        // Each point is held against the place of the curve that it is nearest to.
        for (place, point) in places.iter_mut().zip(points).skip(1) {
            let (at, way) = (value(&controls, spans, *place), slope(&controls, spans, *place));
            if way.hypot2() > 0.0 {
                *place = (*place + (*point - at).dot(way) / way.hypot2()).clamp(0.0, 1.0);
            }
        }
        if let Some(last) = places.last_mut() {
            *last = 1.0;
        }
        controls = least_squares(points, &places, spans);
    }
    let off = places.iter().zip(points).map(|(u, p)| value(&controls, spans, *u).distance(*p)).fold(0.0, f64::max);
    (beziers(&controls, spans), off)
}

/// Each point's share of the way along all of them.
fn by_chord(points: &[Point]) -> Vec<f64> {
    let mut sum = 0.0;
    let mut places = vec![0.0];
    for pair in points.windows(2) {
        sum += pair[0].distance(pair[1]);
        places.push(sum);
    }
    places.iter().map(|place| if sum > 0.0 { place / sum } else { 0.0 }).collect()
}

/// Knot `i` of a spline with so many even spans whose ends are held.
fn knot(i: usize, spans: usize) -> f64 {
    (i.saturating_sub(3).min(spans)) as f64 / spans as f64
}

/// The span that a place is in, and the four weights of its control points (de Boor's recursion).
fn weights(spans: usize, u: f64) -> (usize, [f64; 4]) {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "it is held between 0 and the number of spans"
    )]
    let span = ((u * spans as f64).floor().max(0.0) as usize).min(spans - 1);
    let k = span + 3;
    let mut n = [1.0, 0.0, 0.0, 0.0];
    for degree in 1..=3 {
        let mut saved = 0.0;
        for (r, weight) in n.iter_mut().enumerate().take(degree) {
            let (right, left) = (knot(k + r + 1, spans) - u, u - knot(k + 1 + r - degree, spans));
            let share = if right + left > 0.0 { *weight / (right + left) } else { 0.0 };
            *weight = saved + right * share;
            saved = left * share;
        }
        n[degree] = saved;
    }
    (span, n)
}

fn value(controls: &[Point], spans: usize, u: f64) -> Point {
    let (span, n) = weights(spans, u);
    let sum = controls.iter().skip(span).zip(n).fold(Vec2::ZERO, |sum, (c, n)| sum + c.to_vec2() * n);
    sum.to_point()
}

fn slope(controls: &[Point], spans: usize, u: f64) -> Vec2 {
    let step = 1e-5;
    let (a, b) = ((u - step).max(0.0), (u + step).min(1.0));
    (value(controls, spans, b) - value(controls, spans, a)) / (b - a)
}

/// The control points whose spline is nearest to points at these places; the first and the last are the first and last point.
fn least_squares(points: &[Point], places: &[f64], spans: usize) -> Vec<Point> {
    let count = spans + 3;
    let inner = count - 2;
    let (Some(first), Some(last)) = (points.first(), points.last()) else { return Vec::new() };
    let mut matrix = vec![vec![0.0; inner]; inner];
    let mut right = vec![Vec2::ZERO; inner];
    for (point, u) in points.iter().zip(places) {
        let (span, n) = weights(spans, *u);
        let mut rest = point.to_vec2();
        for (i, n) in n.iter().enumerate() {
            match span + i {
                0 => rest -= first.to_vec2() * *n,
                k if k == count - 1 => rest -= last.to_vec2() * *n,
                _ => {}
            }
        }
        for (i, a) in n.iter().enumerate().filter(|(i, _)| (1..count - 1).contains(&(span + i))) {
            let row = span + i - 1;
            right[row] += rest * *a;
            for (j, b) in n.iter().enumerate().filter(|(j, _)| (1..count - 1).contains(&(span + j))) {
                matrix[row][span + j - 1] += a * b;
            }
        }
    }
    // A span that holds no point is kept to its neighbours: least bent.
    for (i, row) in matrix.iter_mut().enumerate() {
        row[i] += 1e-9;
    }
    let solved = solve(matrix, right);
    let inner = solved.into_iter().map(Vec2::to_point);
    core::iter::once(*first).chain(inner).chain([*last]).collect()
}

/// Solves a symmetric positive system whose entries lie within three of the diagonal, by elimination.
fn solve(mut matrix: Vec<Vec<f64>>, mut right: Vec<Vec2>) -> Vec<Vec2> {
    let n = right.len();
    for i in 0..n {
        let own = matrix[i].clone();
        for row in i + 1..(i + 4).min(n) {
            let share = matrix[row][i] / own[i];
            for (value, above) in matrix[row].iter_mut().zip(&own).take(i + 4).skip(i) {
                *value -= share * above;
            }
            let above = right[i];
            right[row] -= above * share;
        }
    }
    for i in (0..n).rev() {
        let mut sum = right[i];
        for column in i + 1..(i + 4).min(n) {
            sum -= right[column] * matrix[i][column];
        }
        right[i] = sum / matrix[i][i];
    }
    right
}

/// Each span as a Bezier curve: by its ends and its slopes there.
fn beziers(controls: &[Point], spans: usize) -> Vec<CubicBez> {
    let width = 1.0 / spans as f64;
    let curve = |i: usize| {
        let (from, to) = (width * i as f64, width * (i + 1) as f64);
        // Four places tell a cubic exactly: its ends, and a third and two thirds of the way.
        let at = |share: f64| value(controls, spans, from + (to - from) * share).to_vec2();
        let (p0, q1, q2, p3) = (at(0.0), at(1.0 / 3.0), at(2.0 / 3.0), value(controls, spans, to).to_vec2());
        let p1 = (p0 * -5.0 + q1 * 18.0 - q2 * 9.0 + p3 * 2.0) / 6.0;
        let p2 = (p0 * 2.0 - q1 * 9.0 + q2 * 18.0 - p3 * 5.0) / 6.0;
        CubicBez::new(p0.to_point(), p1.to_point(), p2.to_point(), p3.to_point())
    };
    (0..spans).map(curve).collect()
}
