//! Front and back laid flat and joined at the shoulders: one half round, from centre back to centre front.
//!
//! Flat pieces suffice: curvature within the cloth does not change when cloth is bent. A corner at the neck
//! point turns by (angle of the front + angle of the back) - pi, angles measured in the garment between
//! neckline and shoulder; it is nothing where both ends run square to the shoulder.

use core::f64::consts::PI;

use crate::seam_line::{Line, Node};

/// Steps of the even grid along a half round: about 4 mm each on a garment. Turning in all is exact at any number.
pub(crate) const STEPS: usize = 64;

/// Length over which a strip shares strain, as a multiple of its width: one and a half widths each way.
/// Our judgement, after Saint-Venant's principle (a disturbance fades over about a width); no published source.
const SHARING_WIDTHS: f64 = 3.0;

/// A half round on an even grid.
#[derive(Debug, Clone, PartialEq)]
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
    /// Turning from centre back at each of the grid's places, radians.
    theta: Vec<f64>,
    /// Squared cosine of the line's direction to the courses at each place.
    pub c2: Vec<f64>,
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
        let nodes: Vec<Node> = from_back.chain(from_front).collect();
        let (theta, c2) = on_grid(&nodes, length);
        let turning = middle + front.turning() + smooth(front);
        let (front_point, back_point) = (front.point_half_angle(), back.point_half_angle());
        Self { length, back_length, turning, neck_turn, front_point, back_point, theta, c2 }
    }

    /// Length between the grid's places, mm.
    pub(crate) fn step(&self) -> f64 {
        self.length / STEPS as f64
    }

    /// Curvature shared over a window three times as long as the strip is wide, at each of the grid's places, 1/mm.
    ///
    /// A strip shares strain along itself over something more than its width each way, so what meets the strip is the turning of a window
    /// divided by its length, not the curvature of a point; corners become finite and the turning in all
    /// is kept exactly. The line goes on mirrored beyond both centres. Our modelling choice.
    pub(crate) fn shared_curvature(&self, width: f64) -> Vec<f64> {
        let half = (0.5 * SHARING_WIDTHS * width).max(0.5 * self.step()).min(0.5 * self.length);
        let reach = half / self.step();
        (0..=STEPS)
            .map(|i| (self.theta_at(i as f64 + reach) - self.theta_at(i as f64 - reach)) / (2.0 * half))
            .collect()
    }

    /// The half round moved by `distance` to the garment side: each place s goes to s + d theta(s) (Steiner's formula
    /// place by place), turning unchanged. A corner's mitre is rounded off, which its few degrees at a neck point
    /// make too little to see.
    pub(crate) fn moved_out(&self, distance: f64) -> Self {
        let step = self.step();
        let moved = |i: usize| i as f64 * step + distance * self.theta.get(i).copied().unwrap_or(0.0);
        let (start, length) = (moved(0), moved(STEPS) - moved(0));
        let at = |i: usize| self.theta.get(i).copied().unwrap_or(0.0);
        let mut i = 0;
        let theta = (0..=STEPS)
            .map(|j| {
                let s = start + length * j as f64 / STEPS as f64;
                while i + 1 < STEPS && moved(i + 1) < s {
                    i += 1;
                }
                let h = moved(i + 1) - moved(i);
                let u = if h > 0.0 { ((s - moved(i)) / h).clamp(0.0, 1.0) } else { 1.0 };
                at(i) + u * (at(i + 1) - at(i))
            })
            .collect();
        let neck = self.back_length / step;
        let back_length = self.back_length + distance * self.within(neck) - start;
        Self { length, back_length, theta, ..self.clone() }
    }

    /// Turning at a place in steps, mirrored beyond the ends, linear between the grid's places.
    fn theta_at(&self, place: f64) -> f64 {
        let end = STEPS as f64;
        if place < 0.0 {
            return -self.within(-place);
        }
        if place > end {
            return 2.0 * self.turning - self.within(2.0 * end - place);
        }
        self.within(place)
    }

    /// Turning from centre back to a place along the half round in mm, radians.
    pub(crate) fn theta_along(&self, s: f64) -> f64 {
        self.within((s / self.step()).clamp(0.0, STEPS as f64))
    }

    /// Turning at a place between the ends, in steps. A window is at most as long as the half round, so a
    /// mirrored place is within it.
    fn within(&self, place: f64) -> f64 {
        // `as` saturates, and STEPS is small.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let i = (place as usize).min(STEPS - 1);
        let at = |i: usize| self.theta.get(i).copied().unwrap_or(0.0);
        at(i) + (place - i as f64) * (at(i + 1) - at(i))
    }
}

/// Turning and direction at even places, by cubic Hermite interpolation of turning (its slope is the curvature).
fn on_grid(nodes: &[Node], length: f64) -> (Vec<f64>, Vec<f64>) {
    let (mut theta, mut c2) = (Vec::with_capacity(STEPS + 1), Vec::with_capacity(STEPS + 1));
    let mut pairs = nodes.iter().zip(nodes.iter().skip(1)).peekable();
    for i in 0..=STEPS {
        let s = length * i as f64 / STEPS as f64;
        while let Some((_, b)) = pairs.peek() {
            if b.s >= s || is_last(b, nodes) {
                break;
            }
            pairs.next();
        }
        let Some((a, b)) = pairs.peek() else { continue };
        let h = b.s - a.s;
        let u = if h > 0.0 { ((s - a.s) / h).clamp(0.0, 1.0) } else { 1.0 };
        let rise = b.theta - a.theta;
        // Hermite: the straight share and the bend that the end slopes ask for.
        let bend = u * (1.0 - u) * ((1.0 - u) * (a.k * h - rise) - u * (b.k * h - rise));
        theta.push(a.theta + u * rise + bend);
        c2.push((1.0 - u) * a.direction.x.powi(2) + u * b.direction.x.powi(2));
    }
    (theta, c2)
}

fn is_last(node: &Node, nodes: &[Node]) -> bool {
    nodes.last().is_some_and(|last| core::ptr::eq(last, node))
}
