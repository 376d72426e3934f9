//! A strip along a half round: its relaxed length from place to place.

use super::rule::{RuleOn, RuledAt, StripGiven};
use crate::narrowing::SewnPart;
use crate::ring::{Ring, STEPS};

/// The strip along a half round, on the ring's grid from centre back.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strip {
    pub given: StripGiven,
    /// What each step of the grid asks.
    steps: Vec<Asked>,
    /// What the whole of it asks.
    whole: Asked,
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

/// A piece of the line along which the curvature that the strip meets is smooth: by the parabola through both its ends whose mean is
/// the piece's own, 1/mm. So the turning in all is kept exactly.
struct Piece<'a> {
    rule: &'a RuleOn,
    /// mm.
    length: f64,
    k: [f64; 3],
}

impl<'a> Piece<'a> {
    /// From the curvature at both ends and the turning in between.
    fn new(rule: &'a RuleOn, length: f64, ends: [f64; 2], turned: f64) -> Self {
        let [k, l] = ends;
        // Simpson's rule has the mean as (k + 4 middle + l) / 6.
        let middle = 0.25 * (6.0 * turned / length.max(f64::MIN_POSITIVE) - k - l);
        Self { rule, length, k: [k, 4.0 * middle - 3.0 * k - l, 2.0 * (k + l) - 4.0 * middle] }
    }

    /// At a share of the piece, with what corners add there.
    fn at(&self, u: f64, corners: f64) -> At {
        let [k, slope, bend] = self.k;
        let k = k + u * (slope + u * bend) + corners;
        At { u, asks: self.rule.at(k) }
    }

    /// What it asks between two places of itself. Where the rule changes its way between them (a limit begins, a straight run
    /// ends) each side is taken apart: along one way r is smooth.
    fn asks(&self, from: At, to: At, corners: f64, sum: &mut Asked) {
        if from.asks.way == to.asks.way {
            self.add_one_way(from, to, corners, sum);
        } else {
            self.add_many_ways(from, to, corners, sum);
        }
    }

    fn add_many_ways(&self, mut from: At, to: At, corners: f64, sum: &mut Asked) {
        for _ in 0..WAYS {
            if from.asks.way == to.asks.way {
                break;
            }
            let (mut lo, mut hi) = (from, to);
            for _ in 0..HALVINGS {
                let mid = self.at(0.5 * (lo.u + hi.u), corners);
                if mid.asks.way == from.asks.way { lo = mid } else { hi = mid }
            }
            self.add_one_way(from, lo, corners, sum);
            // Between the two lies a micrometre: the way changes there.
            self.add_ends(lo, hi, sum);
            from = hi;
        }
        self.add_one_way(from, to, corners, sum);
    }

    /// Adds the part between two places along which the rule goes one way: by Simpson's rule, which is exact where r is linear in
    /// the curvature.
    fn add_one_way(&self, from: At, to: At, corners: f64, sum: &mut Asked) {
        let over = (to.u - from.u) * self.length / 6.0;
        let middle = self.at(0.5 * (from.u + to.u), corners);
        sum.add(from, over);
        sum.add(middle, 4.0 * over);
        sum.add(to, over);
    }

    fn add_ends(&self, from: At, to: At, sum: &mut Asked) {
        let over = 0.5 * (to.u - from.u) * self.length;
        sum.add(from, over);
        sum.add(to, over);
    }
}

/// A place of a piece: which share of it, and what the rule asks there.
#[derive(Clone, Copy)]
struct At {
    u: f64,
    asks: RuledAt,
}

impl Asked {
    /// Adds a place that stands for a length of line, mm.
    fn add(&mut self, at: At, over: f64) {
        self.straight += over * at.asks.straight;
        self.ruled += over * at.asks.ruled;
        self.relaxed += over * at.asks.ratio;
    }

    /// Its strip, over this much line, mm, as far as its width goes.
    fn part(&self, line: f64, given: StripGiven) -> SewnPart {
        SewnPart { line, strip: self.relaxed, shorter: 1.0 - given.free(self.theta) }
    }

    fn add_part(&mut self, other: &Self, share: f64) {
        self.theta += share * other.theta;
        self.straight += share * other.straight;
        self.ruled += share * other.ruled;
        self.relaxed += share * other.relaxed;
    }
}

/// How often the place where the rule changes its way is looked for in half of what is left: to a micrometre or so.
const HALVINGS: usize = 12;

/// The most changes of way that are looked for in a piece: each limit and each end of a straight run comes up once.
const WAYS: usize = 4;

/// Tells what each step of the grid asks, one after the other, by what the line bends without its corners, and what corners add:
/// even but where one comes into the window or leaves it.
fn walk(ring: &Ring, given: StripGiven, mut tell: impl FnMut(Asked)) {
    let rule = RuleOn::new(given, ring);
    let mut met = ring.shared_smooth(given.width);
    let breaks = ring.breaks(given.width);
    let mut breaks = breaks.iter().copied().peekable();
    let mut from = 0.0;
    let mut here = met(from);
    // From break to break what corners add is even, and the end of a piece is the start of the next.
    let mut corners = 0.0;
    let mut start: Option<At> = None;
    let step = ring.step();
    for i in 0..STEPS {
        let end = (i + 1) as f64 * step;
        let mut sum = Asked::default();
        while from < end {
            let at = breaks.next_if(|at| *at < end);
            let to = at.unwrap_or(end);
            if start.is_none() {
                let next = at.or_else(|| breaks.peek().copied()).unwrap_or(ring.length);
                corners = ring.shared_corners(0.5 * (from + next), given.width);
            }
            let there = met(to);
            let piece = Piece::new(&rule, to - from, [here[0], there[0]], there[1] - here[1]);
            let begin = start.map_or_else(|| piece.at(0.0, corners), |end| At { u: 0.0, ..end });
            let last = piece.at(1.0, corners);
            piece.asks(begin, last, corners, &mut sum);
            sum.theta += there[1] - here[1] + corners * (to - from);
            start = if at.is_none() { Some(last) } else { None };
            (from, here) = (to, there);
        }
        tell(sum);
    }
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
        let (mut steps, mut along) = (Vec::with_capacity(STEPS), Vec::with_capacity(STEPS + 1));
        let mut whole = Asked::default();
        along.push(0.0);
        walk(ring, given, |step| {
            whole.add_part(&step, 1.0);
            along.push(whole.relaxed);
            steps.push(step);
        });
        Self { given, steps, whole, along }
    }

    /// What the line asks between two of its places, mm from centre back: by the same steps as the length.
    pub(crate) fn run(&self, ring: &Ring, from: f64, to: f64) -> Run {
        let step = ring.step();
        let mut sum = Asked::default();
        // `as` saturates: places before and past the line have no steps.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let (first, last) = ((from / step) as usize, (to / step).ceil() as usize);
        for (i, asked) in self.steps.iter().enumerate().take(last).skip(first) {
            let start = i as f64 * step;
            let share = ((to.min(start + step) - from.max(start)) / step).max(0.0);
            sum.add_part(asked, share);
        }
        Run { length: to - from, theta: sum.theta, straight: sum.straight, limits: sum.relaxed - sum.ruled }
    }

    /// The strip between two places of the line, mm from centre back, as far as its width goes.
    pub(crate) fn part(&self, ring: &Ring, from: f64, to: f64) -> SewnPart {
        let run = self.run(ring, from, to);
        let strip = self.relaxed_at(ring, to) - self.relaxed_at(ring, from);
        SewnPart { line: run.length, strip, shorter: 1.0 - self.given.free(run.theta) }
    }

    /// The whole of it, as far as its width goes.
    pub(crate) fn whole(&self, ring: &Ring) -> SewnPart {
        self.whole.part(ring.length, self.given)
    }

    /// Relaxed length of the half round, mm.
    pub(crate) fn half_length(&self) -> f64 {
        self.whole.relaxed
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
