//! One half's line and what can be asked of it.

use kurbo::{ParamCurve, Point, Vec2};

use super::loops::{chords, without_loops};
use super::node::{Bend, Node, between, points};
use crate::curve::turn_between;

/// Half-turn at the centre from which the line has a point there. Radians, 12 degrees: our judgement.
const POINT: f64 = 0.21;

/// Length within which a turn of [`POINT`] is a corner, mm: our judgement.
const CORNER_MM: f64 = 0.1;

/// Turn from which a line has a corner: a point's. Radians.
pub(crate) const CORNER: f64 = 2.0 * POINT;

/// Turning below which two arcs are taken to meet smoothly. Radians.
pub(crate) const SMOOTH: f64 = 1e-6;

/// One half's line, from the centre to the neck point.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    pub nodes: Vec<Node>,
    /// Unit vector from the neck point along the shoulder.
    pub shoulder: Vec2,
    /// Whether it was moved toward the opening, perhaps further than some of its radii or past a corner.
    pub may_loop: bool,
}

impl Line {
    pub(crate) fn length(&self) -> f64 {
        self.nodes.last().map_or(0.0, |n| n.s)
    }

    pub(crate) fn turning(&self) -> f64 {
        self.nodes.last().map_or(0.0, |n| n.theta)
    }

    /// How it bends from the centre to the neck point, node by node.
    pub(crate) fn bends(&self) -> impl Iterator<Item = Bend> {
        self.nodes.iter().zip(self.nodes.iter().skip(1)).map(|(a, b)| {
            let length = if b.s - a.s < SMOOTH { 0.0 } else { b.s - a.s };
            Bend { s: a.s, length, theta: b.theta - a.theta, at_centre: false }
        })
    }

    pub(crate) fn half_width(&self) -> f64 {
        self.ends().map_or(0.0, |(centre, neck)| neck.at.x - centre.at.x)
    }

    pub(crate) fn depth(&self) -> f64 {
        self.ends().map_or(0.0, |(centre, neck)| centre.at.y - neck.at.y)
    }

    fn ends(&self) -> Option<(&Node, &Node)> {
        Some((self.nodes.first()?, self.nodes.last()?))
    }

    /// The tightest radius round the opening, mm.
    pub(crate) fn tightest_radius(&self) -> Option<f64> {
        let k = self.nodes.iter().map(|n| n.k).fold(0.0, f64::max);
        (k > 1e-9).then(|| 1.0 / k)
    }

    /// Half the turn at the centre, radians: from the level to the line's first direction.
    pub(crate) fn half_turn_at_centre(&self) -> f64 {
        self.nodes.first().map_or(0.0, |n| turn_between(Vec2::new(1.0, 0.0), n.direction))
    }

    /// Half the angle of the point at the centre, radians; none where the line crosses smoothly.
    pub(crate) fn point_half_angle(&self) -> Option<f64> {
        let turn = self.half_turn_at_centre();
        (turn > POINT).then_some(core::f64::consts::FRAC_PI_2 - turn)
    }

    /// The garment's angle between neckline and shoulder at the neck point, radians.
    pub(crate) fn angle_at_neck(&self) -> f64 {
        self.nodes.last().map_or(0.0, |n| (-n.direction).dot(self.shoulder).clamp(-1.0, 1.0).acos())
    }

    pub(crate) fn points(&self) -> Vec<[f64; 2]> {
        points(&self.nodes)
    }

    /// The points without the loops that an edge moved toward the opening can have.
    pub(crate) fn points_without_loops(&self) -> Vec<[f64; 2]> {
        self.without_loops().0
    }

    /// The points without the loops that an edge moved toward the opening can have, and the length along them, mm: that of
    /// the line where there are none, else along what is drawn.
    pub(crate) fn without_loops(&self) -> (Vec<[f64; 2]>, f64) {
        let all = self.points();
        if !self.may_loop {
            return (all, self.length());
        }
        let before = all.len();
        let kept = without_loops(all);
        let (reckoned, drawn) = (self.length(), chords(&kept));
        // Past its radius a line runs backward and counts so, whether or not it comes to cross itself.
        let plain = kept.len() == before && (reckoned - drawn).abs() < 1e-3 * drawn;
        (kept, if plain { reckoned } else { drawn })
    }

    /// The sharp corners along the line: the length from the centre and the turn, radians.
    pub(crate) fn corners(&self) -> impl Iterator<Item = (f64, f64)> {
        let pairs = self.nodes.iter().zip(self.nodes.iter().skip(1));
        pairs.map(|(a, b)| (a, b, b.theta - a.theta)).filter_map(|(a, b, turn)| {
            let sharp = b.s - a.s < CORNER_MM && turn.abs() > POINT;
            sharp.then_some((b.s, turn))
        })
    }

    /// Turning from the centre up to a length from it, radians.
    pub(crate) fn turning_at(&self, s: f64) -> f64 {
        let pair = self.nodes.iter().zip(self.nodes.iter().skip(1)).find(|(_, b)| b.s >= s);
        pair.map_or_else(|| self.turning(), |(a, b)| a.turning_toward(b, s))
    }

    /// Where the line is at a length from the centre, and its direction there.
    pub(crate) fn place(&self, s: f64) -> Option<(Point, Vec2)> {
        let pair = self.nodes.iter().zip(self.nodes.iter().skip(1)).find(|(_, b)| b.s >= s);
        let Some((a, b)) = pair else { return self.nodes.last().map(|n| (n.at, n.direction)) };
        let h = b.s - a.s;
        if h <= 0.0 {
            return Some((b.at, b.direction));
        }
        let u = ((s - a.s) / h).clamp(0.0, 1.0);
        let direction = a.direction.lerp(b.direction, u);
        let length = direction.hypot();
        let direction = if length > 0.0 { direction / length } else { b.direction };
        Some((between(a, b).eval(u), direction))
    }

    /// The points between two lengths from the centre.
    pub(crate) fn part(&self, from: f64, to: f64) -> Vec<[f64; 2]> {
        let end = |s: f64| {
            let (at, direction) = self.place(s)?;
            let before = self.nodes.iter().rev().find(|n| n.s <= s)?;
            Some(Node { s, at, direction, theta: before.theta + turn_between(before.direction, direction), ..*before })
        };
        let between = self.nodes.iter().filter(|n| from < n.s && n.s < to).copied();
        let nodes: Vec<Node> = end(from).into_iter().chain(between).chain(end(to)).collect();
        points(&nodes)
    }
}
