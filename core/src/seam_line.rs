//! From the known line to the seam line: moved to the garment side, trimmed at shoulder and centre.

use kurbo::{CubicBez, ParamCurve, Point, Vec2};

use crate::curve::{Arc, crossing, garment_side, straight, turn_between};
use crate::error::Problem;

/// Panels per arc; each panel's length is a quadrature, its turning is exact.
const PANELS: u32 = 8;
/// How near a trim comes to its line, mm.
const TRIM_ACCURACY: f64 = 1e-10;
/// Turning below which two arcs are taken to meet smoothly. Radians.
const SMOOTH: f64 = 1e-6;
/// Half-turn at the centre from which the line has a point there. Radians, 12 degrees: our judgement.
const POINT: f64 = 0.21;

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

/// One half's line, from the centre to the neck point.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    pub nodes: Vec<Node>,
    /// Unit vector from the neck point along the shoulder.
    pub shoulder: Vec2,
}

/// What is taken off a known line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct TakeOff {
    /// To the garment side, mm.
    pub neckline: f64,
    pub centre: f64,
    pub shoulder: f64,
    /// Shoulder slope, radians.
    pub slope: f64,
}

/// Why a line cannot be moved: the problem, and the largest distance that works where it is known.
pub(crate) type MoveError = (Problem, Option<f64>);

/// A part of the moved line: an arc between two parameters, at a distance.
#[derive(Debug, Clone, Copy)]
struct Piece {
    arc: Arc,
    d: f64,
    from: f64,
    to: f64,
}

impl Piece {
    fn straight(from: Point, to: Point) -> Self {
        Self { arc: Arc::new(straight(from, to)), d: 0.0, from: 0.0, to: 1.0 }
    }

    fn at(&self, t: f64) -> Point {
        self.arc.offset_point(t, self.d)
    }
}

impl Line {
    /// Moves a known line by what is taken off.
    pub(crate) fn moved(arcs: &[Arc], off: TakeOff) -> Result<Self, MoveError> {
        let neck = arcs.last().map(|a| a.point(1.0)).ok_or((Problem::NothingLeft, None))?;
        let shoulder = Vec2::new(off.slope.cos(), off.slope.sin());
        let sharpest = check_cusps(arcs, off.neckline)?;
        let mut pieces = join_corners(arcs, off.neckline)?;
        trim_start(&mut pieces, off.centre)?;
        trim_end(&mut pieces, neck, garment_side(shoulder), off.shoulder)?;
        let line = Self { nodes: sample(&pieces), shoulder };
        // A line that bends away nowhere, moved outward, cannot cross itself.
        if sharpest < -1e-9 || arcs.len() > 3 {
            line.check_crossing()?;
        }
        Ok(line)
    }

    /// The cut edge behind a known seam line: moved to the opening side without trims, for the drawing.
    pub(crate) fn cut_edge(arcs: &[Arc], allowance: f64, slope: f64) -> Self {
        let pieces: Vec<Piece> =
            arcs.iter().map(|arc| Piece { arc: *arc, d: -allowance, from: 0.0, to: 1.0 }).collect();
        Self { nodes: sample(&pieces), shoulder: Vec2::new(slope.cos(), slope.sin()) }
    }

    pub(crate) fn length(&self) -> f64 {
        self.nodes.last().map_or(0.0, |n| n.s)
    }

    pub(crate) fn turning(&self) -> f64 {
        self.nodes.last().map_or(0.0, |n| n.theta)
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

    fn check_crossing(&self) -> Result<(), MoveError> {
        let at: Vec<Point> = self.nodes.iter().map(|n| n.at).collect();
        let segments: Vec<(Point, Point)> = at.iter().copied().zip(at.iter().copied().skip(1)).collect();
        for (i, &(a, b)) in segments.iter().enumerate() {
            if let Some(&(p, _)) = segments.iter().skip(i + 2).find(|&&(p, q)| cross(a, b, p, q)) {
                return Err((Problem::CrossesAt { x_mm: p.x, y_mm: p.y }, None));
            }
        }
        Ok(())
    }
}

/// A line's nodes as points to draw, with more of them where it bends, so that no chord stands off by 0.1 mm.
pub(crate) fn points(nodes: &[Node]) -> Vec<[f64; 2]> {
    /// Turn between nodes from which points are set in between, radians; and how many parts that makes.
    const BEND: f64 = 0.02;
    const PARTS: u32 = 4;
    let mut points = Vec::with_capacity(nodes.len() * 4);
    points.extend(nodes.first().map(|n| [n.at.x, n.at.y]));
    for (a, b) in nodes.iter().zip(nodes.iter().skip(1)) {
        let (h, bends) = (b.s - a.s, (b.theta - a.theta).abs() > BEND);
        if h > 0.0 && bends {
            // The cubic with the nodes' own directions.
            let between = CubicBez::new(a.at, a.at + h / 3.0 * a.direction, b.at - h / 3.0 * b.direction, b.at);
            points.extend((1..PARTS).map(|i| between.eval(f64::from(i) / f64::from(PARTS))).map(|p| [p.x, p.y]));
        }
        points.push([b.at.x, b.at.y]);
    }
    points
}

fn cross(a: Point, b: Point, p: Point, q: Point) -> bool {
    let side = |o: Point, u: Point, v: Point| (u - o).cross(v - o);
    side(a, b, p) * side(a, b, q) < 0.0 && side(p, q, a) * side(p, q, b) < 0.0
}

/// A cusp stands where the moved line's speed would vanish: 1 + d k = 0. Gives the least curvature, 1/mm.
fn check_cusps(arcs: &[Arc], d: f64) -> Result<f64, MoveError> {
    let least = |samples: u32| {
        arcs.iter()
            .flat_map(|arc| (0..=samples).map(move |i| (arc, f64::from(i) / f64::from(samples))))
            .map(|(arc, t)| (arc.curvature(t), arc.point(t)))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    };
    // Most necklines bend one way only, which few samples tell; those that do not are looked at closely.
    let sharpest = match least(8) {
        Some((k, _)) if k < -1e-9 => least(64),
        other => other,
    };
    match sharpest {
        Some((k, at)) if 1.0 + d * k <= 0.0 => {
            Err((Problem::CuspAt { x_mm: at.x, y_mm: at.y }, Some((-1.0 / k * 10.0).floor() / 10.0)))
        }
        Some((k, _)) => Ok(k),
        None => Ok(0.0),
    }
}

/// Joins the moved arcs: mitred where a gap opens, trimmed to their crossing where they overlap.
fn join_corners(arcs: &[Arc], d: f64) -> Result<Vec<Piece>, MoveError> {
    let mut pieces: Vec<Piece> = Vec::with_capacity(arcs.len() + 2);
    for &arc in arcs {
        let mut next = Piece { arc, d, from: 0.0, to: 1.0 };
        if let Some(last) = pieces.last_mut() {
            let (before, after) = (last.arc.direction(1.0), arc.direction(0.0));
            let turn = turn_between(before, after);
            if turn.abs() > SMOOTH && d > 0.0 {
                let reach = d * (0.5 * turn.abs()).tan();
                if turn > 0.0 {
                    let (a, b) = (last.at(1.0), next.at(0.0));
                    let tip = a + reach * before;
                    pieces.push(Piece::straight(a, tip));
                    pieces.push(Piece::straight(tip, b));
                } else {
                    let (t, u) = meet(last, &next, reach)?;
                    last.to = t;
                    next.from = u;
                }
            }
        }
        pieces.push(next);
    }
    Ok(pieces)
}

/// Where two overlapping moved arcs meet near their shared corner, by Newton's method.
fn meet(a: &Piece, b: &Piece, reach: f64) -> Result<(f64, f64), MoveError> {
    let mut t = 1.0 - reach / a.arc.speed(1.0).max(1e-9);
    let mut u = reach / b.arc.speed(0.0).max(1e-9);
    for _ in 0..24 {
        let gap = b.at(u) - a.at(t);
        let va = a.arc.direction(t) * a.arc.speed(t) * (1.0 + a.d * a.arc.curvature(t));
        let vb = b.arc.direction(u) * b.arc.speed(u) * (1.0 + b.d * b.arc.curvature(u));
        let det = va.cross(vb);
        if gap.hypot() < 1e-10 || det == 0.0 {
            break;
        }
        t += gap.cross(vb) / det;
        u += gap.cross(va) / det;
    }
    let met = (b.at(u) - a.at(t)).hypot() < 1e-6;
    if met && (a.from..=1.0).contains(&t) && (0.0..1.0).contains(&u) {
        return Ok((t, u));
    }
    let at = a.at(1.0);
    Err((Problem::CrossesAt { x_mm: at.x, y_mm: at.y }, None))
}

/// Trims the start to the centre seam line x = `centre`, or extends it there along its tangent.
fn trim_start(pieces: &mut Vec<Piece>, centre: f64) -> Result<(), MoveError> {
    let past = |p: Point| p.x - centre;
    while let Some(first) = pieces.first_mut() {
        let start = past(first.at(first.from));
        if start > 1e-9 {
            let direction = first.arc.direction(first.from);
            let from = first.at(first.from);
            if direction.x < 1e-6 {
                return Err((Problem::NothingLeft, None));
            }
            pieces.insert(0, Piece::straight(from - (start / direction.x) * direction, from));
            return Ok(());
        }
        if past(first.at(first.to)) > 1e-9 {
            let piece = *first;
            first.from = if start < -1e-9 {
                crossing(piece.from, piece.to, TRIM_ACCURACY, |t| past(piece.at(t)))
            } else {
                piece.from
            };
            return Ok(());
        }
        pieces.remove(0);
    }
    Err((Problem::NothingLeft, None))
}

/// Trims the end to the shoulder seam line, or extends it there along its tangent.
fn trim_end(pieces: &mut Vec<Piece>, neck: Point, inward: Vec2, shoulder: f64) -> Result<(), MoveError> {
    let below = |p: Point| (p - neck).dot(inward) - shoulder;
    while let Some(last) = pieces.last_mut() {
        let end = below(last.at(last.to));
        if end > 1e-9 {
            let (direction, from) = (last.arc.direction(last.to), last.at(last.to));
            let rate = -direction.dot(inward);
            if rate < 1e-6 {
                return Err((Problem::NothingLeft, None));
            }
            pieces.push(Piece::straight(from, from + (end / rate) * direction));
            return Ok(());
        }
        if below(last.at(last.from)) > 1e-9 {
            let piece = *last;
            last.to = if end < -1e-9 {
                crossing(piece.from, piece.to, TRIM_ACCURACY, |t| below(piece.at(t)))
            } else {
                piece.to
            };
            return Ok(());
        }
        pieces.pop();
    }
    Err((Problem::NothingLeft, None))
}

fn sample(pieces: &[Piece]) -> Vec<Node> {
    let mut nodes: Vec<Node> = Vec::with_capacity(pieces.len() * 9);
    let (mut s, mut theta) = (0.0, 0.0);
    for piece in pieces {
        let step = (piece.to - piece.from) / f64::from(PANELS);
        let mut direction = piece.arc.direction(piece.from);
        if let Some(last) = nodes.last() {
            theta += turn_between(last.direction, direction);
        }
        for i in 0..=PANELS {
            let t = piece.from + f64::from(i) * step;
            if i > 0 {
                let turned = turn_between(direction, piece.arc.direction(t));
                direction = piece.arc.direction(t);
                s += piece.arc.length(t - step, t, 1) + piece.d * turned;
                theta += turned;
            }
            let k = piece.arc.curvature(t);
            nodes.push(Node { s, theta, k: k / (1.0 + piece.d * k), at: piece.at(t), direction });
        }
    }
    nodes
}
