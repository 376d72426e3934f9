//! A curve told by points that lie on it, told by more of them: what is cut on a machine is smoother than what is drawn.
//!
//! Between two neighbouring points the curve is taken for an arc of a circle, and the arcs run on into one another without a
//! corner. That leaves one choice open for a whole run of points; taken is the one whose curvature changes least from arc to arc.
//! Our judgement: on a circle and on a straight line that runs on into one this gives back just those.

use crate::geometry::{add, direction, length, to_opening};
use crate::ink::Point;

/// How far a chord may stand off its arc, mm: with what the arc itself is off, under a hundredth.
const OFF_MM: f64 = 0.006;

/// The farthest that a chord of the plan's lines stands off their curve, mm: what would stand off farther is a corner, and drawn as one.
const MOST_OFF_MM: f64 = 0.1;

/// A turn from which on a point is a corner, radians: the plan's points are closer together than that on any curve.
const CORNER: f64 = 0.1;

/// Runs of fewer chords are taken as they are.
const FEWEST: usize = 4;

/// The line with points set in between, where its curve asks for them.
pub(crate) fn finer(line: &[Point]) -> Vec<Point> {
    let chords: Vec<Chord> = line.windows(2).filter_map(Chord::between).collect();
    let mut points: Vec<Point> = line.first().copied().into_iter().collect();
    for run in chords.chunk_by(|a, b| !a.has_corner_before(b)) {
        for (chord, turn) in run.iter().zip(turns(run)) {
            chord.arc(turn, &mut points);
        }
    }
    points
}

struct Chord {
    from: Point,
    to: Point,
    long: f64,
    way: Point,
}

impl Chord {
    fn between(pair: &[Point]) -> Option<Self> {
        let (from, to) = (*pair.first()?, *pair.last()?);
        let long = length(&[from, to]);
        (long > 1e-9).then(|| Self { from, to, long, way: direction(from, to) })
    }

    /// From this chord to the next, radians: positive toward the opening's side.
    fn turn_to(&self, next: &Self) -> f64 {
        let ([ax, ay], [bx, by]) = (self.way, next.way);
        (ay * bx - ax * by).atan2(ax * bx + ay * by)
    }

    fn has_corner_before(&self, next: &Self) -> bool {
        let turn = self.turn_to(next).abs();
        turn > CORNER || turn * self.long.min(next.long) > 8.0 * MOST_OFF_MM
    }

    /// Adds the arc that turns by `turn` over this chord: its points after the first.
    fn arc(&self, turn: f64, points: &mut Vec<Point>) {
        // The arc's rise over its chord.
        let rise = 0.125 * turn * self.long;
        if rise.abs() > OFF_MM && rise.abs() < MOST_OFF_MM {
            let parts = (rise.abs() / OFF_MM).sqrt().ceil();
            // A tenth of a millimetre makes four.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let parts = parts as u32;
            for i in 1..parts {
                let share = f64::from(i) / f64::from(parts);
                // A flat arc is a parabola; away from the side it turns to.
                let aside = -4.0 * rise * share * (1.0 - share);
                points.push(add(add(self.from, self.way, share * self.long), to_opening(self.way), aside));
            }
        }
        points.push(self.to);
    }
}

/// By how much the arc over each chord of a run turns, radians. At each point two halves meet, of the arc before and the arc after,
/// and make up the turn there: from the first arc follow all others, each in turn.
fn turns(run: &[Chord]) -> Vec<f64> {
    if run.len() < FEWEST {
        return vec![0.0; run.len()];
    }
    let mut found = vec![0.0];
    for (a, b) in run.iter().zip(run.iter().skip(1)) {
        found.push(2.0 * a.turn_to(b) - found.last().copied().unwrap_or_default());
    }
    // Had the first arc turned by t, the others would turn by t more and less by turns: the t at which the squares of what the
    // curvature changes by are least.
    let (mut slope, mut square, mut sign) = (0.0, 0.0, 1.0);
    let bends = found.iter().zip(run);
    let changes =
        bends.clone().zip(bends.skip(1)).map(|((t, a), (u, b))| (u / b.long - t / a.long, 1.0 / a.long + 1.0 / b.long));
    for (change, by_t) in changes {
        slope += sign * change * by_t;
        square += by_t * by_t;
        sign = -sign;
    }
    let first = slope / square;
    found.iter().enumerate().map(|(i, turn)| if i % 2 == 0 { turn + first } else { turn - first }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const RADIUS: f64 = 100.0;

    /// Points of a circle about the origin, every few radians.
    fn circle(steps: usize, step: f64) -> Vec<Point> {
        (0..=steps).map(|i| (i as f64 * step).sin_cos()).map(|(sin, cos)| [RADIUS * sin, RADIUS * cos]).collect()
    }

    /// The farthest that chords' middles stand off the circle. mm.
    fn off(line: &[Point]) -> f64 {
        let middles = line.windows(2).map(|pair| add(add(pair[0], pair[0], -0.5), pair[1], 0.5));
        middles.map(|[x, y]| (x.hypot(y) - RADIUS).abs()).fold(0.0, f64::max)
    }

    #[test]
    fn a_circle_comes_back_as_one() {
        let coarse = circle(30, 0.05);
        assert!(off(&coarse) > 0.03, "its own chords stand off: {}", off(&coarse));
        let fine = finer(&coarse);
        assert!(off(&fine) < 0.01, "{}", off(&fine));
        assert!(coarse.iter().all(|p| fine.contains(p)), "its own points stay");
    }

    #[test]
    fn a_straight_line_that_runs_on_into_a_circle_stays_straight() {
        let mut line: Vec<Point> = vec![[-60.0, RADIUS], [-30.0, RADIUS]];
        line.extend(circle(30, 0.05));
        let fine = finer(&line);
        let straight: Vec<f64> = fine.iter().filter(|p| p[0] < 0.0).map(|p| (p[1] - RADIUS).abs()).collect();
        assert!(straight.iter().all(|off| *off < 0.002), "{straight:?}");
        let bent: Vec<Point> = fine.into_iter().filter(|p| p[0] >= 0.0).collect();
        assert!(off(&bent) < 0.01, "{}", off(&bent));
    }

    #[test]
    fn corners_and_straight_lines_get_no_points() {
        let square = [[0.0, 0.0], [50.0, 0.0], [50.0, 50.0], [0.0, 50.0], [0.0, 0.0]];
        assert_eq!(finer(&square), square, "a square");
        let kinked: Vec<Point> =
            (0..8).map(|i| [20.0 * f64::from(i), if i < 4 { 0.0 } else { f64::from(i - 3) }]).collect();
        assert_eq!(finer(&kinked), kinked, "a kink of three degrees between long lines");
        assert_eq!(finer(&[]), Vec::<Point>::new(), "nothing");
    }
}
