//! A sampled line's nodes: where each is, which way the line goes there and how it bends; and its points to draw.

use kurbo::{CubicBez, ParamCurve, Point, Vec2};

/// A node of a sampled line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Node {
    /// Length from the centre, mm.
    pub s: f64,
    /// Turning from the centre, radians.
    pub theta: f64,
    /// Signed curvature, 1/mm.
    pub k: f64,
    pub at: Point,
    pub direction: Vec2,
}

impl Node {
    /// Turning at a length between this node and the next, radians, by cubic Hermite interpolation: the slope of
    /// turning is the curvature.
    pub(crate) fn turning_toward(&self, next: &Self, s: f64) -> f64 {
        let h = next.s - self.s;
        let u = if h > 0.0 { ((s - self.s) / h).clamp(0.0, 1.0) } else { 1.0 };
        let rise = next.theta - self.theta;
        // The straight share and the bend that the end slopes ask for.
        let bend = u * (1.0 - u) * ((1.0 - u) * (self.k * h - rise) - u * (next.k * h - rise));
        self.theta + u * rise + bend
    }
}

/// How a part of a line bends: evenly over its length, or at once, in a corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bend {
    /// Where it begins, mm.
    pub s: f64,
    /// mm; 0 for a corner.
    pub length: f64,
    /// Turning, radians.
    pub theta: f64,
    /// Whether it is a corner on the centre line.
    pub at_centre: bool,
}

/// A line's nodes as points to draw, with more of them where it bends, so that no chord stands off by 0.1 mm.
pub(crate) fn points(nodes: &[Node]) -> Vec<[f64; 2]> {
    /// Turn between nodes from which points are set in between, radians; and how many parts that makes.
    const BEND: f64 = 0.02;
    const PARTS: u32 = 4;
    let mut points = Vec::with_capacity(nodes.len() * 4);
    let point = |p: Point| [p.x, p.y];
    points.extend(nodes.first().map(|n| point(n.at)));
    for (a, b) in nodes.iter().zip(nodes.iter().skip(1)) {
        if b.s > a.s && (b.theta - a.theta).abs() > BEND {
            let curve = between(a, b);
            points.extend((1..PARTS).map(|i| point(curve.eval(f64::from(i) / f64::from(PARTS)))));
        }
        points.push(point(b.at));
    }
    points
}

/// The cubic between two nodes with the nodes' own directions.
pub(crate) fn between(a: &Node, b: &Node) -> CubicBez {
    let third = (b.s - a.s) / 3.0;
    CubicBez::new(a.at, a.at + third * a.direction, b.at - third * b.direction, b.at)
}
