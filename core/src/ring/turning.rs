//! How a half round turns along itself, without its corners: turning at any place, and its running total.

use crate::seam_line::Node;

/// Steps of the even grid along a half round: about 4 mm each on a garment. Turning in all is exact at any number.
pub(crate) const STEPS: usize = 64;

/// Turning in a step by which two curvatures at one place differ where the curvature jumps there, radians.
const JUMP: f64 = 1e-3;

/// Places that are the same, in steps.
const NEXT_TO: f64 = 1e-6;

/// A place of a line: where, in steps of the grid; the turning from centre back without corners, radians, and its running
/// total over steps; and the turning in a step at the curvature before and after it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Knot {
    pub place: f64,
    pub theta: f64,
    pub total: f64,
    pub before: f64,
    pub after: f64,
}

impl Knot {
    /// Turning at a place between this knot and the next, and its running total up to there: by the cubic with both
    /// turnings and both curvatures, and its integral.
    fn toward(&self, next: &Self, place: f64) -> [f64; 2] {
        let over = next.place - self.place;
        let u = (place - self.place) / over;
        let rise = next.theta - self.theta;
        let (from, to) = (self.after * over - rise, next.before * over - rise);
        let theta = self.theta + u * (rise + (1.0 - u) * ((1.0 - u) * from - u * to));
        let bends = from * (0.5 - u * (2.0 / 3.0 - 0.25 * u)) - to * u * (1.0 / 3.0 - 0.25 * u);
        [theta, self.total + over * u * (self.theta + u * (0.5 * rise + bends))]
    }
}

/// How a half round turns, from one of its line's nodes to the next.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Turning {
    knots: Vec<Knot>,
    /// Turning at each of the grid's places.
    at_steps: Vec<f64>,
}

impl Turning {
    /// From a line's nodes, corners taken out.
    pub(crate) fn new(nodes: &[Node], length: f64) -> Self {
        let step = length / STEPS as f64;
        let mut knots: Vec<Knot> = Vec::with_capacity(nodes.len());
        for node in nodes {
            let (place, slope) = (node.s / step, step * node.k);
            match knots.last_mut() {
                // Where two arcs meet the curvature may jump.
                Some(last) if place - last.place < NEXT_TO => last.after = slope,
                _ => knots.push(Knot { place, theta: node.theta, total: 0.0, before: slope, after: slope }),
            }
        }
        Self::through(knots)
    }

    fn through(mut knots: Vec<Knot>) -> Self {
        let mut last: Option<Knot> = None;
        for knot in &mut knots {
            knot.total = last.map_or(0.0, |last| last.toward(knot, knot.place)[1]);
            last = Some(*knot);
        }
        let mut turning = Self { knots, at_steps: Vec::new() };
        turning.at_steps = (0..=STEPS).map(|i| turning.within(i as f64)[0]).collect();
        turning
    }

    /// Turning evenly in each step, from its value at each of the grid's places.
    #[cfg(test)]
    pub(crate) fn even(theta: &[f64]) -> Self {
        let rise = |i: usize| theta.get(i + 1).zip(theta.get(i)).map_or(0.0, |(next, here)| next - here);
        let knot = |(i, theta): (usize, &f64)| Knot {
            place: i as f64,
            theta: *theta,
            total: 0.0,
            before: i.checked_sub(1).map_or(0.0, rise),
            after: rise(i),
        };
        Self::through(theta.iter().enumerate().map(knot).collect())
    }

    /// Turning at a place in steps and its running total, mirrored beyond the ends.
    pub(crate) fn at(&self, place: f64) -> [f64; 2] {
        let end = STEPS as f64;
        if place < 0.0 {
            let [theta, total] = self.within(-place);
            return [-theta, total];
        }
        if place <= end {
            return self.within(place);
        }
        let last = self.knots.last().map_or(0.0, |knot| knot.theta);
        let [theta, total] = self.within(2.0 * end - place);
        [2.0 * last - theta, 2.0 * last * (place - end) + total]
    }

    /// Where the curvature jumps, in steps.
    pub(crate) fn jumps(&self) -> impl Iterator<Item = f64> {
        self.knots.iter().filter(|knot| (knot.after - knot.before).abs() > JUMP).map(|knot| knot.place)
    }

    /// Turning at one of the grid's own places.
    pub(crate) fn at_step(&self, i: usize) -> f64 {
        self.at_steps.get(i).copied().unwrap_or(0.0)
    }

    /// Turning and its running total between the ends. A window is at most as long as the half round, so a mirrored place is
    /// within it.
    fn within(&self, place: f64) -> [f64; 2] {
        let next = self.knots.partition_point(|knot| knot.place <= place).clamp(1, self.knots.len().max(2) - 1);
        match (self.knots.get(next - 1), self.knots.get(next)) {
            (Some(from), Some(to)) => from.toward(to, place),
            _ => [0.0; 2],
        }
    }
}
