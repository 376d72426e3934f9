//! Front and back laid flat and joined at the shoulders: one half round, from centre back to centre front.
//!
//! Flat pieces suffice: curvature within the cloth does not change when cloth is bent. A corner at the neck
//! point turns by (angle of the front + angle of the back) - pi, angles measured in the garment between
//! neckline and shoulder; it is nothing where both ends run square to the shoulder.

mod turning;

use core::cell::OnceCell;
use core::f64::consts::PI;

use crate::in_order::in_order;
use crate::seam_line::{Line, Node};
pub(crate) use turning::STEPS;
use turning::Turning;

/// Length over which a strip shares strain, as a multiple of its width: one and a half widths each way.
/// Our judgement, after Saint-Venant's principle (a disturbance fades over about a width); no published source.
const SHARING_WIDTHS: f64 = 3.0;

/// Turning at once from which a line has a corner, radians; less is the rounding of two curves' common tangent.
const CORNER: f64 = 1e-6;

/// A half round on an even grid.
#[derive(Debug, PartialEq)]
pub(crate) struct Ring {
    /// Length of the half round, mm.
    pub length: f64,
    /// Length of its back part, mm: where the neck point stands.
    pub back_length: f64,
    /// Turning of the half round without points that a mitre or open ends take up, radians.
    pub turning: f64,
    /// Turning at the neck point, radians.
    pub neck_turn: f64,
    /// Half angle of the point at centre front, radians.
    pub front_point: Option<f64>,
    /// Half angle of the point at centre back, radians.
    pub back_point: Option<f64>,
    /// How it turns along itself, without corners.
    turns: Turning,
    /// Corners in order: where, mm from centre back, and how much the line has turned at corners up to
    /// there and this one, radians.
    corners: Vec<(f64, f64)>,
    /// The line's nodes from centre back, their turning without corners.
    nodes: Vec<Node>,
    /// Squared cosine of the line's direction to the courses at each place, once somebody has asked.
    courses: OnceCell<Vec<f64>>,
}

impl Ring {
    pub(crate) fn new(front: &Line, back: &Line) -> Self {
        let neck_turn = front.angle_at_neck() + back.angle_at_neck() - PI;
        let (back_length, length) = (back.length(), back.length() + front.length());
        let smooth = |line: &Line| if line.point_half_angle().is_some() { 0.0 } else { line.half_turn_at_centre() };
        let start = smooth(back);
        let middle = start + back.turning() + neck_turn;
        let from_back = back.nodes.iter().map(|n| Node { theta: start + n.theta, ..*n });
        let from_front =
            front.nodes.iter().rev().map(|n| Node { s: length - n.s, theta: middle + front.turning() - n.theta, ..*n });
        let mut nodes: Vec<Node> = from_back.chain(from_front).collect();
        let turning = middle + front.turning() + smooth(front);
        let corners = take_corners(&mut nodes, turning);
        let turns = Turning::new(&nodes, length);
        let (front_point, back_point) = (front.point_half_angle(), back.point_half_angle());
        Self {
            length,
            back_length,
            turning,
            neck_turn,
            front_point,
            back_point,
            turns,
            corners,
            nodes,
            courses: OnceCell::new(),
        }
    }

    /// Where a place of another half round of the same neckline lies along this one, mm from centre back: at the same
    /// share of the back or of the front.
    pub(crate) fn place_of(&self, other: &Self, s: f64) -> f64 {
        let (own_front, front) = (self.length - self.back_length, other.length - other.back_length);
        if s <= other.back_length {
            s * self.back_length / other.back_length
        } else {
            self.back_length + (s - other.back_length) * own_front / front
        }
    }

    /// Length between the grid's places, mm.
    pub(crate) fn step(&self) -> f64 {
        self.length / STEPS as f64
    }

    /// The curvature of a circle as long as the whole line, 1/mm.
    pub(crate) fn circles_curvature(&self) -> f64 {
        PI / self.length
    }

    /// How much of the line between two places, mm from centre back, the grid's place `i` stands for: half a step each way
    /// of it, as far as that lies between them; 0 or less where none of it does. mm
    pub(crate) fn stands_for(&self, i: usize, from: f64, to: f64) -> f64 {
        let (start, end) = ((i as f64 - 0.5) * self.step(), (i as f64 + 0.5) * self.step());
        end.min(to) - start.max(from)
    }

    /// Curvature shared over a window three times as long as the strip is wide, without corners, and what the strip turns by it from
    /// centre back: at a place, mm from centre back. 1/mm and radians.
    ///
    /// A strip shares strain along itself over something more than its width each way, so what meets the strip is the turning of a window
    /// divided by its length, not the curvature of a point; corners become finite and the turning in all
    /// is kept exactly. The line goes on mirrored beyond both centres. Our modelling choice.
    pub(crate) fn shared_smooth(&self, width: f64) -> impl FnMut(f64) -> [f64; 2] {
        let (half, step) = (self.sharing(width), self.step());
        let (per_step, per_window) = (step.recip(), (2.0 * half).recip());
        let [mut ahead, mut behind] = [self.turns.walk(), self.turns.walk()];
        move |s| {
            let (there, here) = (ahead.at((s + half) * per_step), behind.at((s - half) * per_step));
            [(there[0] - here[0]) * per_window, step * (there[1] - here[1]) * per_window]
        }
    }

    /// The corners' part of it at a place, mm from centre back: even between two neighbouring [`Self::breaks`].
    pub(crate) fn shared_corners(&self, s: f64, width: f64) -> f64 {
        if self.corners.is_empty() {
            return 0.0;
        }
        let half = self.sharing(width);
        (self.corners_to(s + half) - self.corners_to(s - half)) / (2.0 * half)
    }

    /// What the line turns in each step of the grid, without corners, radians.
    pub(crate) fn turned_in_steps(&self) -> Vec<f64> {
        let mut walk = self.turns.walk();
        let mut before = 0.0;
        let turned = |i: usize| {
            let [here, _] = walk.at(i as f64);
            let turned = here - before;
            before = here;
            turned
        };
        (0..=STEPS).map(turned).skip(1).collect()
    }

    /// The squared cosine of the line's direction to the courses at each of the grid's places.
    pub(crate) fn courses(&self) -> &[f64] {
        self.courses.get_or_init(|| courses(&self.nodes, self.length))
    }

    /// The corners in order: where, mm from centre back, and what the line turns there, radians. Of a corner on the centre
    /// line, half.
    pub(crate) fn corners(&self) -> impl Iterator<Item = (f64, f64)> {
        let before = core::iter::once(0.0).chain(self.corners.iter().map(|corner| corner.1));
        self.corners.iter().zip(before).map(|((at, turned), before)| (*at, turned - before))
    }

    /// The mean curvature about a place, mm from centre back, over this much each way, corners with it; at most over the
    /// whole round. 1/mm
    pub(crate) fn mean_curvature(&self, half: f64) -> impl FnMut(f64) -> f64 {
        let half = half.min(0.5 * self.length);
        let (per_step, per_window) = (self.step().recip(), (2.0 * half).recip());
        let [mut ahead, mut behind] = [self.turns.walk(), self.turns.walk()];
        move |s| {
            let smooth = ahead.at((s + half) * per_step)[0] - behind.at((s - half) * per_step)[0];
            (smooth + self.corners_to(s + half) - self.corners_to(s - half)) * per_window
        }
    }

    /// Half the window, mm.
    fn sharing(&self, width: f64) -> f64 {
        (0.5 * SHARING_WIDTHS * width).max(self.step()).min(0.5 * self.length)
    }

    /// Between which places the shared curvature is smooth: where a corner or a jump of the curvature comes into the window or leaves
    /// it. mm from centre back, in order, within the half round.
    pub(crate) fn breaks(&self, width: f64) -> Vec<f64> {
        let half = self.sharing(width);
        let whole = 2.0 * self.length;
        let corners = self.corners.iter().map(|(at, _)| *at);
        let jumps = self.turns.jumps().map(|place| place * self.step());
        let all = corners.chain(jumps).flat_map(|at| [at - half, at + half, half - at, whole - at - half]);
        in_order(all.filter(|s| *s > 0.0 && *s < self.length))
    }

    /// What the line has turned at corners from centre back to a place, mm, mirrored beyond the ends.
    fn corners_to(&self, s: f64) -> f64 {
        let Some((_, all)) = self.corners.last().copied() else { return 0.0 };
        if s < 0.0 {
            return -self.corners_to(-s);
        }
        if s > self.length {
            return 2.0 * all - self.corners_to(2.0 * self.length - s);
        }
        let passed = self.corners.partition_point(|corner| corner.0 < s);
        passed.checked_sub(1).and_then(|last| self.corners.get(last)).map_or(0.0, |corner| corner.1)
    }
}

/// Takes the corners out of a line's turning: places where it turns at once, and centres that it does not cross level,
/// half of whose turning is in each half round.
fn take_corners(nodes: &mut [Node], turning: f64) -> Vec<(f64, f64)> {
    let (mut corners, mut turned) = (Vec::new(), 0.0);
    let mut before = (0.0, 0.0);
    // Front and back meet at the neck point but for the rounding of their lengths.
    let same = 1e-9 * nodes.last().map_or(0.0, |node| node.s);
    for node in &mut *nodes {
        if node.s - before.0 <= same && (node.theta - before.1).abs() > CORNER {
            turned += node.theta - before.1;
            corners.push((before.0, turned));
        }
        before = (node.s, node.theta);
        node.theta -= turned;
    }
    if (turning - before.1).abs() > CORNER {
        corners.push((before.0, turned + turning - before.1));
    }
    corners
}

/// The squared cosine of the line's direction to the courses at even places.
fn courses(nodes: &[Node], length: f64) -> Vec<f64> {
    let mut ahead = nodes;
    let at = |i: usize| {
        let s = length * i as f64 / STEPS as f64;
        // The last node stands at the whole length, which is the last place: dividing by a power of two is exact.
        while let [_, rest @ ..] = ahead
            && rest.first().is_some_and(|b| b.s < s)
        {
            ahead = rest;
        }
        let [a, b, ..] = ahead else { return 0.0 };
        let (h, rise) = (b.s - a.s, b.theta - a.theta);
        let u = if h > 0.0 { ((s - a.s) / h).clamp(0.0, 1.0) } else { 1.0 };
        // The direction turns with theta, from the one node's to the other's.
        let turned = if rise == 0.0 { u } else { (a.turning_toward(b, s) - a.theta) / rise };
        let direction = a.direction.lerp(b.direction, turned);
        direction.x.powi(2) / direction.hypot2().max(f64::MIN_POSITIVE)
    };
    (0..=STEPS).map(at).collect()
}

#[cfg(test)]
mod tests {
    use super::turning::Turning;
    use super::{OnceCell, PI, Ring, STEPS};
    use crate::curve::Arc;
    use crate::seam_line::Line;

    /// A ring of 640 mm, so that a step is 10 mm, with this turning at each place in steps.
    fn ring(theta: impl Fn(f64) -> f64) -> Ring {
        let theta: Vec<f64> = (0..=STEPS).map(|i| theta(i as f64)).collect();
        let (turns, turning) = (Turning::even(&theta), theta[STEPS]);
        let (front_point, back_point) = (None, None);
        Ring {
            length: 640.0,
            back_length: 200.0,
            turning,
            neck_turn: 0.0,
            front_point,
            back_point,
            turns,
            corners: Vec::new(),
            nodes: Vec::new(),
            courses: OnceCell::new(),
        }
    }

    fn close(got: f64, expected: f64, within: f64, what: &str) {
        assert!((got - expected).abs() <= within, "{what}: {got} is not {expected}");
    }

    /// At each of the grid's places.
    fn shared_at_all(ring: &Ring, width: f64) -> Vec<f64> {
        let mut shared = ring.shared_smooth(width);
        (0..=STEPS).map(|i| shared(i as f64 * ring.step())[0]).collect()
    }

    /// A corner of 0.6 between the places 32 and 33: the grid spreads it over that step.
    fn corner() -> Ring {
        ring(|i| if i < 32.5 { 0.0 } else { 0.6 })
    }

    #[test]
    fn a_corner_is_shared_over_three_widths() {
        let shared = |width: f64, expected: &[(usize, f64)]| {
            let curvature = shared_at_all(&corner(), width);
            assert_eq!(curvature.len(), STEPS + 1, "at each place");
            for (i, k) in curvature.into_iter().enumerate() {
                let expected = expected.iter().find(|(at, _)| *at == i).map_or(0.0, |(_, k)| *k);
                close(k, expected, 1e-12, &format!("{width} mm wide, place {i}"));
            }
        };
        // 15 mm each way: all of it within a step and a half, half of it a step further; 0.6 over 30 mm.
        shared(10.0, &[(31, 0.01), (32, 0.02), (33, 0.02), (34, 0.01)]);
        // No narrower than a step each way, between which turning is even: half of the corner over 10 mm.
        shared(1.0, &[(32, 0.03), (33, 0.03)]);
        // No wider than the half round: mirrored beyond the end, the corner is met twice over its whole length.
        let widest = shared_at_all(&corner(), 1000.0);
        close(widest[0], 0.0, 1e-12, "at centre back it is met on neither side");
        close(widest[STEPS], 1.2 / 640.0, 1e-12, "at centre front on both");
        close(widest[40], 0.6 / 640.0, 1e-12, "between them once");
    }

    #[test]
    fn places_stand_for_the_whole_line_between_two_of_its_places() {
        let even = ring(|_| 0.0);
        for (from, to) in [(0.0, 640.0), (0.0, 203.0), (197.0, 640.0), (12.5, 13.0), (4.0, 16.0)] {
            let parts: Vec<f64> =
                (0..=STEPS).map(|i| even.stands_for(i, from, to)).filter(|part| *part > 0.0).collect();
            close(parts.iter().sum::<f64>(), to - from, 1e-9, "all of it");
            assert!(parts.iter().all(|part| *part <= 10.0), "a step at most: {parts:?}");
        }
        close(even.stands_for(0, 0.0, 640.0), 5.0, 1e-12, "half a step at the end");
        close(even.stands_for(1, 0.0, 640.0), 10.0, 1e-12, "a step within");
        close(even.stands_for(1, 7.0, 11.0), 4.0, 1e-12, "no more than is asked");
    }

    #[test]
    fn a_circle_bends_alike_up_to_its_ends() {
        let circle = ring(|i| 10.0 * i / 200.0);
        for width in [1.0, 30.0, 400.0] {
            for k in shared_at_all(&circle, width) {
                close(k, 1.0 / 200.0, 1e-12, "one over its radius");
            }
        }
    }

    #[test]
    fn places_of_a_grid_lie_where_the_curve_turns() {
        // Front and back of unlike ellipses, looked at through very many chords.
        let k = 0.552_284_749_830_793_5;
        let quarter = |a: f64, b: f64| Arc::new(kurbo::CubicBez::new((0.0, b), (k * a, b), (a, k * b), (a, 0.0)));
        let (front, back) = (quarter(100.0, 160.0), quarter(100.0, 40.0));
        let line = |arc: Arc| Line::as_known(&[arc], 0.0);
        let ring = Ring::new(&line(front), &line(back));
        close(ring.turning, PI, 1e-9, "half a turn in all");
        close(ring.neck_turn, 0.0, 1e-9, "smooth at the neck point");
        // Length, turning and squared cosine from centre back to centre front.
        let mut dense = vec![(0.0, 0.0, 1.0)];
        let parts = 20_000;
        for (arc, backward) in [(back, false), (front, true)] {
            for i in 0..parts {
                let at = |i: i32| f64::from(if backward { parts - i } else { i }) / f64::from(parts);
                let (from, to) = (at(i), at(i + 1));
                let (s, theta, _) = dense[dense.len() - 1];
                let turned = crate::curve::turn_between(arc.direction(from), arc.direction(to)).abs();
                let chord = (arc.point(to) - arc.point(from)).hypot();
                dense.push((s + chord, theta + turned, arc.direction(to).x.powi(2)));
            }
        }
        let whole = dense[dense.len() - 1].0;
        close(ring.length, whole, 1e-3, "its length");
        close(ring.back_length, dense[20_000].0, 1e-3, "its back's");
        for i in 0..=STEPS {
            let s = whole * i as f64 / STEPS as f64;
            let place = dense.iter().find(|place| place.0 >= s - 1e-9).unwrap_or(&dense[dense.len() - 1]);
            close(ring.turns.walk().at(i as f64)[0], place.1, 2e-3, "turning");
            close(ring.courses()[i], place.2, 1e-3, "squared cosine");
        }
    }
}
