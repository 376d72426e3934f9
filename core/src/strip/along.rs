//! A strip along a half round: its relaxed length from place to place.

use super::rule::{Place, StripGiven};
use crate::ring::{Ring, STEPS};

/// The strip along a half round, on the ring's grid from centre back.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strip {
    pub given: StripGiven,
    /// Curvature that the strip meets at each place of the grid, 1/mm.
    pub k: Vec<f64>,
    /// Relaxed strip over line there.
    pub r: Vec<f64>,
    /// What each step of the grid asks.
    steps: Vec<Asked>,
    /// Relaxed length from centre back, mm.
    along: Vec<f64>,
}

/// What a piece of the line asks of the strip.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Asked {
    /// Turning that the strip meets, radians.
    theta: f64,
    /// How much of the free edge's place counts as straight, mm.
    straight: f64,
    /// Relaxed length by the rule, and with its limits, mm.
    ruled: f64,
    relaxed: f64,
}

impl Asked {
    /// Between two places `over` apart, mm, with the shared curvature of the one and the other: by the trapezium.
    fn between(ring: &Ring, given: &StripGiven, k: [f64; 2], over: f64) -> Self {
        let places = k.map(|k| Place::on(ring, k));
        let mean = |of: &dyn Fn(Place) -> f64| 0.5 * over * places.map(of).iter().sum::<f64>();
        Self {
            theta: mean(&|place| place.k),
            straight: mean(&|place| given.straight(place) * given.free(place.k)),
            ruled: mean(&|place| given.ruled(place)),
            relaxed: mean(&|place| given.ratio(place)),
        }
    }

    fn add(&mut self, other: Self, share: f64) {
        self.theta += share * other.theta;
        self.straight += share * other.straight;
        self.ruled += share * other.ruled;
        self.relaxed += share * other.relaxed;
    }
}

/// What each step of the grid asks: by one trapezium, and where the shared curvature jumps within it, by one on each side
/// of the jump. What a line turns without its corners goes evenly over a step, so that turning in all is kept exactly.
fn asked(ring: &Ring, given: &StripGiven) -> Vec<Asked> {
    let jumps = ring.jumps(given.width);
    let mut jumps = jumps.iter().copied().peekable();
    let smooth = ring.shared_smooth(given.width);
    let step = |(i, (k, l)): (usize, (&f64, &f64))| {
        let (start, end) = (i as f64 * ring.step(), (i + 1) as f64 * ring.step());
        let smooth_at = |s: f64| k + (l - k) * (s - start) / ring.step();
        let (mut sum, mut from) = (Asked::default(), start);
        while from < end {
            let to = jumps.next_if(|jump| *jump < end).unwrap_or(end);
            let corners = ring.shared_corners(0.5 * (from + to), given.width);
            let ends = [from, to].map(|s| smooth_at(s) + corners);
            sum.add(Asked::between(ring, given, ends, to - from), 1.0);
            from = to;
        }
        sum
    };
    smooth.iter().zip(smooth.iter().skip(1)).enumerate().map(step).collect()
}

/// What a run of the line asks of the strip: turning that the strip meets, radians, and what the limits add, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Run {
    pub length: f64,
    pub theta: f64,
    /// How much of the free edge's place counts as straight, mm.
    pub straight: f64,
    pub limits: f64,
}

impl Strip {
    pub(crate) fn new(ring: &Ring, given: StripGiven) -> Self {
        let k = ring.shared_curvature(given.width);
        let r: Vec<f64> = k.iter().map(|k| given.ratio(Place::on(ring, *k))).collect();
        let steps = asked(ring, &given);
        let mut total = 0.0;
        let ends = steps.iter().map(|step| {
            total += step.relaxed;
            total
        });
        let along = core::iter::once(0.0).chain(ends).collect();
        Self { given, k, r, steps, along }
    }

    /// What the line asks between two of its places, mm from centre back: by the same trapezia as the length.
    pub(crate) fn run(&self, ring: &Ring, from: f64, to: f64) -> Run {
        let step = ring.step();
        let mut sum = Asked::default();
        for (i, asked) in self.steps.iter().enumerate() {
            let start = i as f64 * step;
            let share = ((to.min(start + step) - from.max(start)) / step).max(0.0);
            sum.add(*asked, share);
        }
        Run { length: to - from, theta: sum.theta, straight: sum.straight, limits: sum.relaxed - sum.ruled }
    }

    /// Relaxed length of the half round, mm.
    pub(crate) fn half_length(&self) -> f64 {
        self.along.last().copied().unwrap_or(0.0)
    }

    /// Relaxed length from centre back to a place along the seam line, mm.
    pub(crate) fn relaxed_at(&self, ring: &Ring, s: f64) -> f64 {
        let place = (s / ring.step()).clamp(0.0, STEPS as f64);
        // Clamped to the grid just above; at its end nothing is added to the last place.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let i = place as usize;
        let at = |i: usize| self.along.get(i).copied().unwrap_or(0.0);
        at(i) + (place - i as f64) * (at(i + 1) - at(i))
    }

    /// Where an even spread over the whole half is off most: by the even spread and by the strip, mm.
    pub(crate) fn worst_even(&self) -> (f64, f64) {
        let end = self.half_length();
        let even = |i: usize| end * i as f64 / STEPS as f64;
        let off = |(i, at): &(usize, &f64)| (even(*i) - **at).abs();
        let worst = self.along.iter().enumerate().max_by(|a, b| off(a).total_cmp(&off(b)));
        worst.map_or((0.0, 0.0), |(i, at)| (even(i), *at))
    }
}
