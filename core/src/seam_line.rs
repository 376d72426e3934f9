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
/// Turning up to which two arcs that overlap once moved run all but one way: the overlap, a thousandth of the
/// distance, leaves them apart by under [`SAME_PLACE_MM`]. Radians.
const SLIGHT: f64 = 1e-3;
/// Places of a moved line that are nearer each other than this are one, mm: more than [`SMOOTH`] times any distance.
const SAME_PLACE_MM: f64 = 1e-3;
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
    /// Whether it was moved toward the opening further than some of its radii, or past a corner.
    may_loop: bool,
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
        let line = Self { nodes: sample(&pieces), shoulder, may_loop: false };
        // A line that bends away nowhere, moved outward, cannot cross itself.
        if sharpest < -1e-9 || arcs.len() > 3 {
            line.check_crossing()?;
        }
        Ok(line)
    }

    /// Moves a known line toward the opening or the garment without asking whether it folds back on itself: for an
    /// edge that is drawn, whose loops [`without_loops`] cuts out.
    pub(crate) fn moved_with_loops(arcs: &[Arc], off: TakeOff) -> Result<Self, MoveError> {
        let neck = arcs.last().map(|a| a.point(1.0)).ok_or((Problem::NothingLeft, None))?;
        let shoulder = Vec2::new(off.slope.cos(), off.slope.sin());
        let apart = || arcs.iter().map(|arc| Piece { arc: *arc, d: off.neckline, from: 0.0, to: 1.0 }).collect();
        let mut pieces = join_corners(arcs, off.neckline).unwrap_or_else(|_| apart());
        trim_start(&mut pieces, off.centre)?;
        trim_end(&mut pieces, neck, garment_side(shoulder), off.shoulder)?;
        let d = off.neckline;
        let bends_too_much = |arc: &Arc| (0..=16).any(|i| 1.0 + d * arc.curvature(f64::from(i) / 16.0) < 0.1);
        let may_loop = arcs.len() > 1 || arcs.iter().any(bends_too_much);
        Ok(Self { nodes: sample(&pieces), shoulder, may_loop: d < 0.0 && may_loop })
    }

    /// The known line itself.
    pub(crate) fn as_known(arcs: &[Arc], slope: f64) -> Self {
        let pieces: Vec<Piece> = arcs.iter().map(|arc| Piece { arc: *arc, d: 0.0, from: 0.0, to: 1.0 }).collect();
        Self { nodes: sample(&pieces), shoulder: Vec2::new(slope.cos(), slope.sin()), may_loop: false }
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

    /// The points without the loops that an edge moved toward the opening can have.
    pub(crate) fn points_without_loops(&self) -> Vec<[f64; 2]> {
        self.without_loops().0
    }

    /// The points without the loops that an edge moved toward the opening can have, and the length along them, mm.
    pub(crate) fn without_loops(&self) -> (Vec<[f64; 2]>, f64) {
        let mut spots = spots(&self.nodes);
        let mut length = self.length();
        if self.may_loop {
            spots = without_loops(spots);
            length = spots.last().map_or(0.0, |spot| spot.s);
        }
        (spots.into_iter().map(|spot| spot.at).collect(), length)
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

    fn check_crossing(&self) -> Result<(), MoveError> {
        // Arcs that meet all but smoothly end a hair apart or past each other once moved: one place, no crossing.
        let mut at: Vec<Point> = self.nodes.iter().map(|n| n.at).collect();
        at.dedup_by(|next, kept| next.distance(*kept) < SAME_PLACE_MM);
        let segments: Vec<(Point, Point)> = at.iter().copied().zip(at.iter().copied().skip(1)).collect();
        for (i, &(a, b)) in segments.iter().enumerate() {
            if let Some(&(p, q)) = segments.iter().skip(i + 2).find(|&&(p, q)| cross(a, b, p, q)) {
                let at = meeting(a, b, p, q);
                return Err((Problem::CrossesAt { x_mm: at.x, y_mm: at.y }, None));
            }
        }
        Ok(())
    }
}

/// A point to draw, and the length along its line, mm.
#[derive(Debug, Clone, Copy)]
struct Spot {
    at: [f64; 2],
    s: f64,
}

impl Spot {
    fn point(&self) -> Point {
        Point::new(self.at[0], self.at[1])
    }
}

/// A line's nodes as points to draw, with more of them where it bends, so that no chord stands off by 0.1 mm.
pub(crate) fn points(nodes: &[Node]) -> Vec<[f64; 2]> {
    spots(nodes).into_iter().map(|spot| spot.at).collect()
}

fn spots(nodes: &[Node]) -> Vec<Spot> {
    /// Turn between nodes from which points are set in between, radians; and how many parts that makes.
    const BEND: f64 = 0.02;
    const PARTS: u32 = 4;
    let mut spots = Vec::with_capacity(nodes.len() * 4);
    let spot = |p: Point, s: f64| Spot { at: [p.x, p.y], s };
    spots.extend(nodes.first().map(|n| spot(n.at, n.s)));
    for (a, b) in nodes.iter().zip(nodes.iter().skip(1)) {
        let (h, bends) = (b.s - a.s, (b.theta - a.theta).abs() > BEND);
        if h > 0.0 && bends {
            let curve = between(a, b);
            let shares = (1..PARTS).map(|i| f64::from(i) / f64::from(PARTS));
            spots.extend(shares.map(|u| spot(curve.eval(u), a.s + u * h)));
        }
        spots.push(spot(b.at, b.s));
    }
    spots
}

/// The cubic between two nodes with the nodes' own directions.
fn between(a: &Node, b: &Node) -> CubicBez {
    let third = (b.s - a.s) / 3.0;
    CubicBez::new(a.at, a.at + third * a.direction, b.at - third * b.direction, b.at)
}

/// The largest distance to the garment side that works, up to the one that was asked, with the rest of what is
/// taken off unchanged; to 0.1 mm, rounded down. None where none does.
pub(crate) fn largest(arcs: &[Arc], off: TakeOff) -> Option<f64> {
    let works = |neckline: f64| Line::moved(arcs, TakeOff { neckline, ..off }).is_ok();
    if !works(0.0) {
        return None;
    }
    let (mut lo, mut hi) = (0.0, off.neckline);
    while hi - lo > 0.02 {
        let mid = 0.5 * (lo + hi);
        if works(mid) { lo = mid } else { hi = mid }
    }
    Some((lo * 10.0).floor() / 10.0)
}

/// Where a known line crosses itself, if it does.
pub(crate) fn self_crossing(arcs: &[Arc]) -> Option<(f64, f64)> {
    match Line::as_known(arcs, 0.0).check_crossing() {
        Err((Problem::CrossesAt { x_mm, y_mm }, _)) => Some((x_mm, y_mm)),
        _ => None,
    }
}

/// Cuts the loops out of a run of points: where it crosses itself, it goes straight on. An edge behind a known
/// seam line has such loops where the allowance is larger than the line's radius; the cut edge has a corner there.
/// The length along the run is told anew: that of a loop, where the moved line runs backward, counts backward and so
/// leaves the rest as it is.
fn without_loops(spots: Vec<Spot>) -> Vec<Spot> {
    let mut kept: Vec<Spot> = Vec::with_capacity(spots.len());
    let mut removed = 0.0;
    for mut spot in spots {
        spot.s -= removed;
        if let Some(&last) = kept.last() {
            let (p, q) = (last.point(), spot.point());
            let crossed = kept.iter().zip(kept.iter().skip(1)).position(|(a, b)| cross(a.point(), b.point(), p, q));
            if let Some(i) = crossed.filter(|i| i + 2 < kept.len())
                && let (Some(&a), Some(&b)) = (kept.get(i), kept.get(i + 1))
            {
                let met = meeting(a.point(), b.point(), p, q);
                let along = |from: Spot, to: Spot| {
                    let share = (met - from.point()).hypot() / (to.point() - from.point()).hypot();
                    from.s + share * (to.s - from.s)
                };
                let (first, again) = (along(a, b), along(last, spot));
                kept.truncate(i + 1);
                kept.push(Spot { at: [met.x, met.y], s: first });
                removed += again - first;
                spot.s -= again - first;
            }
        }
        kept.push(spot);
    }
    kept
}

/// Where two segments that cross do so.
fn meeting(a: Point, b: Point, p: Point, q: Point) -> Point {
    let share = (p - a).cross(q - p) / (b - a).cross(q - p);
    a + share * (b - a)
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
            if turn.abs() > SMOOTH && d != 0.0 {
                let reach = d.abs() * (0.5 * turn.abs()).tan();
                if turn * d > 0.0 {
                    let (a, b) = (last.at(1.0), next.at(0.0));
                    let tip = a + reach * before;
                    pieces.push(Piece::straight(a, tip));
                    pieces.push(Piece::straight(tip, b));
                } else {
                    let (t, u) = match meet(last, &next, reach) {
                        Err(_) if turn.abs() < SLIGHT => cut_back(last, &next, reach)?,
                        met => met?,
                    };
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

/// Where two moved arcs that run all but one way overlap, each is cut back by its share of the overlap: they may pass
/// beside each other by far less than can be seen, and so have no crossing to trim them to.
fn cut_back(a: &Piece, b: &Piece, reach: f64) -> Result<(f64, f64), MoveError> {
    let pace = |piece: &Piece, t: f64| piece.arc.speed(t) * (1.0 + piece.d * piece.arc.curvature(t));
    let (t, u) = (1.0 - reach / pace(a, 1.0).max(1e-9), reach / pace(b, 0.0).max(1e-9));
    if t >= a.from && u < 1.0 {
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
