//! From places with noise to few smooth curves: places are first evened out, then cubics are laid through what is even.

use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv, Point, Vec2};

use crate::sides::Straight;

/// How far to either side places are evened out over, mm: a curve of radius 20 mm keeps its shape to 0.01 mm.
const REACH_MM: f64 = 6.0;
/// As many places at least are evened out over.
const LEAST_PLACES: usize = 9;
/// How near the cubics come to what is even, mm.
const NEAR_MM: f64 = 0.04;
/// The most cubics between two corners.
const MOST_CUBICS: usize = 24;

/// A place along the line: how far along it is, about, and where, both mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Along {
    pub(crate) far: f64,
    pub(crate) at: Point,
}

/// A smooth place: where, and which way the line runs.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Even {
    pub(crate) at: Point,
    pub(crate) run: Vec2,
}

/// The line evened out at one place along it: a cubic in how far along, weighed by nearness, by least squares (Savitzky and
/// Golay, 1964; Cleveland, 1979). At an end, where places stand on one side alone, a parabola over half as far again.
pub(crate) fn even(places: &[Along], far: f64) -> Option<Even> {
    let (first, last) = (places.first()?.far, places.last()?.far);
    let one_sided = far - first < REACH_MM / 2.0 || last - far < REACH_MM / 2.0;
    let mut reach = if one_sided { 1.5 * REACH_MM } else { REACH_MM };
    let within = |reach: f64| places.iter().filter(move |one| (one.far - far).abs() < reach);
    while within(reach).count() < LEAST_PLACES.min(places.len()) {
        reach *= 1.3;
    }
    let order = if one_sided { 3 } else { 4 };
    let mut sums = [[0.0; 6]; 4];
    for one in within(reach) {
        let t = (one.far - far) / reach;
        let weight = (1.0 - t.abs().powi(3)).powi(3);
        let powers = [1.0, t, t * t, t * t * t];
        for (row, power) in sums.iter_mut().zip(&powers).take(order) {
            for (sum, other) in row.iter_mut().zip(&powers).take(order) {
                *sum += weight * power * other;
            }
            row[4] += weight * power * one.at.x;
            row[5] += weight * power * one.at.y;
        }
    }
    let (value, slope) = solved(sums, order)?;
    let run = slope / slope.hypot();
    (value.is_finite() && run.is_finite()).then_some(Even { at: value.to_point(), run })
}

/// The first two unknowns, each a point, of up to four equations.
fn solved(mut rows: [[f64; 6]; 4], order: usize) -> Option<(Vec2, Vec2)> {
    for column in 0..order {
        let pivot = rows[column];
        // Sums of squares: positive, and their own best pivots.
        if pivot[column] <= 1e-12 {
            return None;
        }
        for (index, row) in rows.iter_mut().enumerate().take(order) {
            if index != column {
                let times = row[column] / pivot[column];
                for (value, above) in row.iter_mut().zip(&pivot) {
                    *value -= times * above;
                }
            }
        }
    }
    let unknown = |index: usize| Vec2::new(rows[index][4], rows[index][5]) / rows[index][index];
    Some((unknown(0), unknown(1)))
}

/// A turn of at least this much is a corner, radians: 35 degrees.
const CORNER: f64 = 0.61;
/// Beside a corner its places are blurred, mm and px.
const BLURRED_MM: f64 = 1.5;
const BLURRED_PX: f64 = 5.0;
/// How far the two sides of a corner are looked along, as multiples of what is blurred; and again nearer, where a round would
/// have turned less.
const SIDES: [f64; 2] = [4.6, 2.7];
/// A corner has turned so much of its turn nearby.
const SHARP: f64 = 0.78;

/// How far places are blurred beside a corner, mm.
pub(crate) fn blurred_mm(mm_per_px: f64) -> f64 {
    BLURRED_MM.max(BLURRED_PX * mm_per_px)
}

/// The line's corners, in order: how far along each is, and where its two sides cross. Beside them places are `blurred`, mm.
pub(crate) fn corners(places: &[Along], blurred: f64) -> Vec<Along> {
    let [wide_mm, near_mm] = SIDES.map(|times| times * blurred);
    let Some((first, last)) = places.first().zip(places.last()) else { return Vec::new() };
    let sides = |far: f64, reach: f64| {
        let part = |from: f64, to: f64| -> Vec<Point> {
            places.iter().filter(|one| (from..=to).contains(&one.far)).map(|one| one.at).collect()
        };
        let (before, after) = (part(far - reach, far - blurred), part(far + blurred, far + reach));
        if before.len() < 4 || after.len() < 4 {
            return None;
        }
        let toward = |points: &[Point]| {
            let line = Straight::through(points)?;
            let onward = points[points.len() - 1] - points[0];
            let along = if line.along.dot(onward) < 0.0 { -line.along } else { line.along };
            Some(Straight { along, ..line })
        };
        Some((toward(&before)?, toward(&after)?))
    };
    let turn = |far: f64, reach: f64| {
        let (before, after) = sides(far, reach)?;
        Some(before.along.cross(after.along).atan2(before.along.dot(after.along)).abs())
    };
    let mut out: Vec<Along> = Vec::new();
    let mut best: Option<(f64, f64)> = None;
    let mut close = |best: &mut Option<(f64, f64)>| {
        if let Some((_, far)) = best.take()
            && let Some((before, after)) = sides(far, near_mm)
            && let Some(at) = before.crossing(&after)
        {
            out.push(Along { far, at });
        }
    };
    for one in places {
        if one.far - first.far < near_mm || last.far - one.far < near_mm {
            continue;
        }
        let (wide, near) = (turn(one.far, wide_mm).unwrap_or(0.0), turn(one.far, near_mm).unwrap_or(0.0));
        let sharp = wide >= CORNER && near >= SHARP * wide;
        if best.is_some_and(|(_, far)| one.far - far > wide_mm) {
            close(&mut best);
        }
        if sharp && best.is_none_or(|(most, _)| near > most) {
            best = Some((near, one.far));
        }
    }
    close(&mut best);
    out
}

/// The places between two places along the line that are not blurred by a corner there.
pub(crate) fn between(places: &[Along], from: f64, to: f64) -> Vec<Along> {
    places.iter().copied().filter(|one| (from..=to).contains(&one.far)).collect()
}

/// Cubics through smooth places, the first and last of them met, with one direction where two join.
pub(crate) fn cubics(evens: &[Even]) -> Vec<CubicBez> {
    let mut out = Vec::new();
    lay(evens, MOST_CUBICS, &mut out);
    out
}

/// One cubic where it comes near enough; else two, each the same way, parted where it is furthest off.
fn lay(evens: &[Even], most: usize, out: &mut Vec<CubicBez>) {
    let Some((first, last)) = evens.first().zip(evens.last()) else { return };
    let (cubic, worst, off) = best_cubic(evens, first, last);
    if off <= NEAR_MM || evens.len() < 7 || most < 2 {
        out.push(cubic);
        return;
    }
    let middle = worst.clamp(3, evens.len() - 4);
    lay(&evens[..=middle], most / 2, out);
    lay(&evens[middle..], most / 2, out);
}

/// The cubic of least squares with the ends' places and directions (Schneider, 1990), which place it is furthest from, and how far.
fn best_cubic(evens: &[Even], first: &Even, last: &Even) -> (CubicBez, usize, f64) {
    let chord = first.at.distance(last.at);
    let mut at = chord_shares(evens);
    let mut cubic = with_arms(first, last, chord / 3.0, chord / 3.0);
    for _ in 0..8 {
        let (start, end) = arms(evens, &at, first, last, chord);
        cubic = with_arms(first, last, start, end);
        for (share, even) in at.iter_mut().zip(evens) {
            *share = nearer(&cubic, even.at, *share);
        }
    }
    let mut worst = (evens.len() / 2, 0.0);
    for (index, (share, even)) in at.iter().zip(evens).enumerate() {
        let off = cubic.eval(*share).distance(even.at);
        if off > worst.1 {
            worst = (index, off);
        }
    }
    (cubic, worst.0, worst.1)
}

fn with_arms(first: &Even, last: &Even, start: f64, end: f64) -> CubicBez {
    CubicBez::new(first.at, first.at + first.run * start, last.at - last.run * end, last.at)
}

/// How far along each place is, of the whole, as the chords have it.
fn chord_shares(evens: &[Even]) -> Vec<f64> {
    let mut far = 0.0;
    let mut out = vec![0.0];
    for pair in evens.windows(2) {
        far += pair[0].at.distance(pair[1].at);
        out.push(far);
    }
    out.iter().map(|one| if far > 0.0 { one / far } else { 0.0 }).collect()
}

/// The lengths of the cubic's two arms that bring it nearest.
fn arms(evens: &[Even], at: &[f64], first: &Even, last: &Even, chord: f64) -> (f64, f64) {
    let (mut aa, mut ab, mut bb, mut a, mut b) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (t, even) in at.iter().zip(evens) {
        let u = 1.0 - t;
        let weights = [u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t];
        let fixed = first.at.to_vec2() * (weights[0] + weights[1]) + last.at.to_vec2() * (weights[2] + weights[3]);
        let off = even.at.to_vec2() - fixed;
        let (start, end) = (first.run * weights[1], -last.run * weights[2]);
        aa += start.hypot2();
        ab += start.dot(end);
        bb += end.hypot2();
        a += start.dot(off);
        b += end.dot(off);
    }
    let det = aa * bb - ab * ab;
    let sensible = 0.05 * chord..=2.0 * chord;
    let (start, end) = ((a * bb - b * ab) / det, (b * aa - a * ab) / det);
    let usual = chord / 3.0;
    if sensible.contains(&start) && sensible.contains(&end) { (start, end) } else { (usual, usual) }
}

/// A step toward where the cubic is nearest to a place (Newton).
fn nearer(cubic: &CubicBez, p: Point, t: f64) -> f64 {
    let first = cubic.deriv();
    let (off, speed) = (cubic.eval(t) - p, first.eval(t).to_vec2());
    let bend = first.deriv().eval(t).to_vec2();
    let slope = speed.hypot2() + off.dot(bend);
    if slope <= 1e-12 { t } else { (t - off.dot(speed) / slope).clamp(0.0, 1.0) }
}
