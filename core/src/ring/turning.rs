//! How a half round turns along itself, without its corners: turning at any place, and its running total.

use crate::seam_line::Node;

/// Steps of the even grid along a half round: about 4 mm each on a garment. Turning in all is exact at any number.
pub(crate) const STEPS: usize = 64;

/// Turning in a step by which two curvatures at one place differ where the curvature jumps there, radians.
const JUMP: f64 = 1e-3;

/// Places that are the same, in steps.
const NEXT_TO: f64 = 1e-6;

/// A place of a line: where, in steps of the grid; the turning from centre back without corners, radians; and the turning in a
/// step at the curvature before and after it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    place: f64,
    theta: f64,
    before: f64,
    after: f64,
}

/// From one knot to the next: the turning by the cubic with both turnings and both curvatures, and its integral.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Piece {
    /// Where it begins and how long it is, in steps.
    place: f64,
    over: f64,
    /// One over its length.
    steep: f64,
    /// Turning where it begins, radians, and its running total over steps up to there.
    theta: f64,
    total: f64,
    /// The cubic: what it rises, and what its slope at either end is over that.
    rise: f64,
    from: f64,
    to: f64,
}

impl Piece {
    fn new(from: &Knot, to: &Knot, total: f64) -> Self {
        let (over, rise) = (to.place - from.place, to.theta - from.theta);
        let slopes = [from.after * over - rise, to.before * over - rise];
        let [place, theta, steep] = [from.place, from.theta, over.recip()];
        Self { place, over, steep, theta, total, rise, from: slopes[0], to: slopes[1] }
    }

    /// Turning at a place of it, and its running total up to there.
    fn at(&self, place: f64) -> [f64; 2] {
        let u = (place - self.place) * self.steep;
        let theta = self.theta + u * (self.rise + (1.0 - u) * ((1.0 - u) * self.from - u * self.to));
        let bends = self.from * (0.5 - u * (2.0 / 3.0 - 0.25 * u)) - self.to * u * (1.0 / 3.0 - 0.25 * u);
        [theta, self.total + self.over * u * (self.theta + u * (0.5 * self.rise + bends))]
    }
}

/// How a half round turns, from one of its line's nodes to the next.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Turning {
    pieces: Vec<Piece>,
    /// Turning in all, radians.
    whole: f64,
    /// Where the curvature jumps, in steps.
    jumps: Vec<f64>,
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
                _ => knots.push(Knot { place, theta: node.theta, before: slope, after: slope }),
            }
        }
        Self::through(&knots)
    }

    fn through(knots: &[Knot]) -> Self {
        let mut total = 0.0;
        let piece = |(from, to): (&Knot, &Knot)| {
            let piece = Piece::new(from, to, total);
            total = piece.at(to.place)[1];
            piece
        };
        let pieces: Vec<Piece> = knots.iter().zip(knots.iter().skip(1)).map(piece).collect();
        let jump = |knot: &&Knot| (knot.after - knot.before).abs() > JUMP;
        let jumps = knots.iter().filter(jump).map(|knot| knot.place).collect();
        let whole = knots.last().map_or(0.0, |knot| knot.theta);
        Self { pieces, whole, jumps }
    }

    /// Turning evenly in each step, from its value at each of the grid's places.
    #[cfg(test)]
    pub(crate) fn even(theta: &[f64]) -> Self {
        let rise = |i: usize| theta.get(i + 1).zip(theta.get(i)).map_or(0.0, |(next, here)| next - here);
        let knot = |(i, theta): (usize, &f64)| Knot {
            place: i as f64,
            theta: *theta,
            before: i.checked_sub(1).map_or(0.0, rise),
            after: rise(i),
        };
        Self::through(&theta.iter().enumerate().map(knot).collect::<Vec<_>>())
    }

    /// Looks at places of it one after the other.
    pub(crate) fn walk(&self) -> Walk<'_> {
        Walk { turning: self, near: 0 }
    }

    /// Where the curvature jumps, in steps.
    pub(crate) fn jumps(&self) -> impl Iterator<Item = f64> {
        self.jumps.iter().copied()
    }
}

/// A look at places of a half round that mostly lie near each other.
#[derive(Debug, Clone)]
pub(crate) struct Walk<'a> {
    turning: &'a Turning,
    /// The piece looked at last.
    near: usize,
}

impl Walk<'_> {
    /// Turning at a place in steps and its running total, mirrored beyond the ends.
    pub(crate) fn at(&mut self, place: f64) -> [f64; 2] {
        let end = STEPS as f64;
        if place < 0.0 {
            let [theta, total] = self.within(-place);
            return [-theta, total];
        }
        if place <= end {
            return self.within(place);
        }
        let last = self.turning.whole;
        let [theta, total] = self.within(2.0 * end - place);
        [2.0 * last - theta, 2.0 * last * (place - end) + total]
    }

    /// Turning and its running total between the ends. A window is at most as long as the half round, so a mirrored place is
    /// within it.
    fn within(&mut self, place: f64) -> [f64; 2] {
        let pieces = &self.turning.pieces;
        let starts_by = |i: usize| pieces.get(i).is_some_and(|piece| piece.place <= place);
        let mut near = self.near;
        while near > 0 && !starts_by(near) {
            near -= 1;
        }
        while starts_by(near + 1) {
            near += 1;
        }
        self.near = near;
        pieces.get(near).map_or([0.0; 2], |piece| piece.at(place))
    }
}
