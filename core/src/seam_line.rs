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
/// Turning up to which two arcs that overlap once moved run all but one way: cut back by the overlap, a thousandth of
/// the distance, they are apart by under [`SAME_PLACE_MM`]. Radians.
const SLIGHT: f64 = 1e-3;
/// Places of a moved line that are nearer each other than this are one, mm: more than [`SMOOTH`] times any distance.
const SAME_PLACE_MM: f64 = 1e-3;
/// Half-turn at the centre from which the line has a point there. Radians, 12 degrees: our judgement.
const POINT: f64 = 0.21;
/// Length within which a turn of [`POINT`] is a corner, mm: our judgement.
const CORNER_MM: f64 = 0.1;
/// Turn from which a line has a corner: a point's. Radians.
pub(crate) const CORNER: f64 = 2.0 * POINT;

/// A seam line that meets the shoulder within this of a right angle needs no truing. Radians.
const SQUARE: f64 = 1e-4;
/// Over how many widths a line beside a seam line is drawn in at the shoulder: our judgement.
const TRUED_WIDTHS: f64 = 1.5;
/// Turn from which a place where a loop was cut out is rounded. Radians: our judgement.
const KINK: f64 = 0.1;

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

/// One half's line, from the centre to the neck point.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    pub nodes: Vec<Node>,
    /// Unit vector from the neck point along the shoulder.
    pub shoulder: Vec2,
    /// Whether it was moved toward the opening, perhaps further than some of its radii or past a corner.
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

/// How far past a line beside a seam line a raw edge lies, mm: further out, and past the centre and the shoulder's seam.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Outside {
    pub more: f64,
    pub centre: f64,
    pub shoulder: f64,
}

/// The end of a line beside a seam line: where and in which direction the line is left, and the curve from there to the
/// shoulder.
#[derive(Debug, Clone, Copy)]
struct TruedEnd {
    from: Point,
    direction: Vec2,
    arc: Arc,
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
        Ok(Self { nodes: sample(&pieces), shoulder, may_loop: off.neckline < 0.0 })
    }

    /// A line beside a seam line, a width toward the garment, that its other half's meets: it ends on the shoulder's seam
    /// line that width from the neck point, square to it. `outside` moves it further out once it is trued and leaves more at
    /// centre and shoulder, for a raw edge.
    ///
    /// Where the seam line meets the shoulder at more than a right angle, the line goes round the neck point, always a width
    /// from the seam line; where at less, it is drawn in over one and a half widths. Where it would cross itself or fold
    /// back, it is smoothed.
    pub(crate) fn beside(
        arcs: &[Arc],
        seam: &Self,
        off: TakeOff,
        width: f64,
        outside: Outside,
    ) -> Result<Self, MoveError> {
        let neck = arcs.last().map(|a| a.point(1.0)).ok_or((Problem::NothingLeft, None))?;
        let distance = off.neckline + width + outside.more;
        let strict = check_cusps(arcs, distance).and_then(|k| Ok((k, join_corners(arcs, distance)?)));
        let (sharpest, mut pieces) = strict.unwrap_or_else(|_| (f64::NEG_INFINITY, join_loosely(arcs, distance)));
        let inward = garment_side(seam.shoulder);
        if let Some(end) = seam.trued_end(arcs, off, neck, width)? {
            trim_end(&mut pieces, end.from, -end.direction, 0.0)?;
            pieces.push(Piece { arc: end.arc, d: outside.more, from: 0.0, to: 1.0 });
            if outside.shoulder > 0.0 {
                trim_end(&mut pieces, neck, inward, off.shoulder - outside.shoulder)?;
            }
        } else {
            trim_end(&mut pieces, neck, inward, off.shoulder - outside.shoulder)?;
        }
        trim_start(&mut pieces, off.centre - outside.centre)?;
        let line = Self { nodes: sample(&pieces), shoulder: seam.shoulder, may_loop: false };
        // A line that bends away nowhere, moved outward, cannot cross itself.
        let plain = sharpest >= -1e-9 && arcs.len() <= 3;
        Ok(if plain || (sharpest.is_finite() && line.check_crossing().is_ok()) { line } else { line.smoothed(width) })
    }

    /// How a line beside this seam line ends where it has to be trued; none where it meets the shoulder square.
    fn trued_end(&self, arcs: &[Arc], off: TakeOff, neck: Point, width: f64) -> Result<Option<TruedEnd>, MoveError> {
        let Some(last) = self.nodes.last() else { return Ok(None) };
        let past_square = self.angle_at_neck() - core::f64::consts::FRAC_PI_2;
        let to = last.at + width * self.shoulder;
        let end = -garment_side(self.shoulder);
        if past_square.abs() < SQUARE {
            return Ok(None);
        }
        if past_square > 0.0 {
            let from = last.at + width * garment_side(last.direction);
            let reach = 4.0 / 3.0 * (0.25 * past_square).tan() * width;
            let arc = Arc::new(CubicBez::new(from, from + reach * last.direction, to - reach * end, to));
            return Ok(Some(TruedEnd { from, direction: last.direction, arc }));
        }
        let distance = off.neckline + width;
        let mut pieces = join_loosely(arcs, distance);
        trim_end(&mut pieces, neck, garment_side(self.shoulder), off.shoulder)?;
        trim_start(&mut pieces, off.centre)?;
        let line = Self { nodes: sample(&pieces), ..self.clone() };
        let corner = line.bends().filter(|bend| bend.length == 0.0 && bend.theta.abs() > SMOOTH).map(|bend| bend.s);
        let start = corner.fold(line.length() - (TRUED_WIDTHS * width).min(0.5 * line.length()), f64::max);
        let Some((near, direction)) = line.place(start.min(line.length() - SAME_PLACE_MM)) else { return Ok(None) };
        trim_end(&mut pieces, near, -direction, 0.0)?;
        Ok(pieces.last().map(|piece| {
            let (from, direction) = (piece.at(piece.to), piece.arc.direction(piece.to));
            let third = from.distance(to) / 3.0;
            let arc = Arc::new(CubicBez::new(from, from + third * direction, to - third * end, to));
            TruedEnd { from, direction, arc }
        }))
    }

    /// The line without its loops, each corner that they leave rounded over half a width each way.
    fn smoothed(&self, width: f64) -> Self {
        let kept = without_loops(self.points());
        Self { nodes: through(&rounded(&kept, 0.5 * width)), shoulder: self.shoulder, may_loop: false }
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

fn place(point: &[f64; 2]) -> Point {
    Point::new(point[0], point[1])
}

/// The length along a run of points, mm.
fn chords(points: &[[f64; 2]]) -> f64 {
    points.iter().zip(points.iter().skip(1)).map(|(a, b)| place(a).distance(place(b))).sum()
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
fn without_loops(points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    let mut kept: Vec<[f64; 2]> = Vec::with_capacity(points.len());
    for next in points {
        if let Some(&last) = kept.last() {
            let (p, q) = (place(&last), place(&next));
            // All but the side that ends where this one begins.
            let sides = kept.iter().zip(kept.iter().skip(1)).map(|(a, b)| (place(a), place(b)));
            let before = sides.enumerate().take(kept.len().saturating_sub(2));
            if let Some((i, (a, b))) = before.into_iter().find(|(_, (a, b))| reach_across(*a, *b, p, q)) {
                let met = meeting(a, b, p, q);
                kept.truncate(i + 1);
                kept.push([met.x, met.y]);
            }
        }
        kept.push(next);
    }
    kept
}

/// A run of points with its corners rounded: each by the parabola between the places `reach` before and after it, or less
/// where there is no room.
fn rounded(run: &[[f64; 2]], reach: f64) -> Vec<Point> {
    const PARTS: u32 = 8;
    let mut at: Vec<Point> = run.iter().map(place).collect();
    at.dedup_by(|next, kept| next.distance(*kept) < SAME_PLACE_MM);
    let turn = |i: usize| match at.get(i.wrapping_sub(1)..).and_then(|from| from.get(..3)) {
        Some(&[a, b, c]) => turn_between(b - a, c - b).abs(),
        _ => 0.0,
    };
    let along: Vec<f64> = core::iter::once(0.0)
        .chain(at.iter().zip(at.iter().skip(1)).scan(0.0, |sum, (a, b)| {
            *sum += a.distance(*b);
            Some(*sum)
        }))
        .collect();
    let on = |s: f64| {
        let i = along.partition_point(|place| *place < s).clamp(1, at.len().saturating_sub(1).max(1));
        let ends = along.get(i - 1).zip(along.get(i)).zip(at.get(i - 1).zip(at.get(i)));
        ends.map(|((a, b), (p, q))| p.lerp(*q, ((s - a) / (b - a).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)))
    };
    let kinks: Vec<usize> = (1..at.len().saturating_sub(1)).filter(|i| turn(*i) > KINK).collect();
    let whole = along.last().copied().unwrap_or(0.0);
    let mut smooth = Vec::with_capacity(at.len() + kinks.len() * 8);
    let mut done = 0.0;
    for (n, &i) in kinks.iter().enumerate() {
        let Some((&s, &corner)) = along.get(i).zip(at.get(i)) else { continue };
        let next = kinks.get(n + 1).and_then(|i| along.get(*i)).map_or(whole, |next| 0.5 * (s + next));
        let r = reach.min(s - done).min(next - s);
        smooth.extend(at.iter().zip(&along).filter(|(_, at)| (done..s - r).contains(*at)).map(|(p, _)| *p));
        let Some((from, to)) = on(s - r).zip(on(s + r)) else { continue };
        let parabola = kurbo::QuadBez::new(from, corner, to);
        smooth.extend((0..PARTS).map(|i| parabola.eval(f64::from(i) / f64::from(PARTS))));
        done = s + r;
    }
    smooth.extend(on(done));
    smooth.extend(at.iter().zip(&along).filter(|(_, at)| **at > done).map(|(p, _)| *p));
    smooth.dedup_by(|next, kept| next.distance(*kept) < SAME_PLACE_MM);
    smooth
}

/// A run of points, each apart from the next, as a line's nodes: straight from each to the next.
fn through(run: &[Point]) -> Vec<Node> {
    let mut nodes: Vec<Node> = Vec::with_capacity(run.len() * 2);
    for (a, b) in run.iter().zip(run.iter().skip(1)) {
        let direction = (*b - *a) / a.distance(*b);
        let (s, theta) =
            nodes.last().map_or((0.0, 0.0), |last| (last.s, last.theta + turn_between(last.direction, direction)));
        nodes.push(Node { s, theta, k: 0.0, at: *a, direction });
        nodes.push(Node { s: s + a.distance(*b), theta, k: 0.0, at: *b, direction });
    }
    nodes
}

/// Where two segments that cross do so; of two that lie along one line, which rounding may take for a crossing, where the
/// first begins.
fn meeting(a: Point, b: Point, p: Point, q: Point) -> Point {
    let turn = (b - a).cross(q - p);
    let share = if turn == 0.0 { 0.0 } else { (p - a).cross(q - p) / turn };
    a.lerp(b, share.clamp(0.0, 1.0))
}

/// Whether two segments cross, or one of them ends on the other.
fn reach_across(a: Point, b: Point, p: Point, q: Point) -> bool {
    let left = |o: Point, u: Point, v: Point| (u - o).cross(v - o) > 0.0;
    left(a, b, p) != left(a, b, q) && left(p, q, a) != left(p, q, b)
}

fn cross(a: Point, b: Point, p: Point, q: Point) -> bool {
    let side = |o: Point, u: Point, v: Point| (u - o).cross(v - o);
    side(a, b, p) * side(a, b, q) < 0.0 && side(p, q, a) * side(p, q, b) < 0.0
}

/// A cusp stands where the moved line's speed would vanish: 1 + d k = 0. Gives the least curvature, 1/mm.
fn check_cusps(arcs: &[Arc], d: f64) -> Result<f64, MoveError> {
    // Most necklines bend one way only, which few samples tell; those that do not are looked at closely, and once more
    // between the places beside the sharpest: a tight bend can lie there.
    let sharpest = match sharpest(arcs, 8) {
        Some((k, ..)) if k < -1e-9 => sharpest(arcs, 64).map(|(k, arc, t)| {
            let beside = (0..=64).map(|i| (t + (f64::from(i) / 32.0 - 1.0) / 64.0).clamp(0.0, 1.0));
            let nearer = beside.map(|t| (arc.curvature(t), arc, t)).min_by(|a, b| a.0.total_cmp(&b.0));
            nearer.unwrap_or((k, arc, t))
        }),
        other => other,
    };
    match sharpest {
        Some((k, arc, t)) if 1.0 + d * k <= 0.0 => {
            let at = arc.point(t);
            Err((Problem::CuspAt { x_mm: at.x, y_mm: at.y }, Some((-1.0 / k * 10.0).floor() / 10.0)))
        }
        Some((k, ..)) => Ok(k),
        None => Ok(0.0),
    }
}

/// The least curvature at even places of each arc, 1/mm, and where it is.
fn sharpest(arcs: &[Arc], parts: u32) -> Option<(f64, &Arc, f64)> {
    arcs.iter()
        .flat_map(|arc| (0..=parts).map(move |i| (arc, f64::from(i) / f64::from(parts))))
        .map(|(arc, t)| (arc.curvature(t), arc, t))
        .min_by(|a, b| a.0.total_cmp(&b.0))
}

/// Joins the moved arcs: mitred where a gap opens, trimmed to their crossing where they overlap.
fn join_corners(arcs: &[Arc], d: f64) -> Result<Vec<Piece>, MoveError> {
    let mut pieces: Vec<Piece> = Vec::with_capacity(arcs.len() + 2);
    for &arc in arcs {
        let next = join(&mut pieces, Piece { arc, d, from: 0.0, to: 1.0 })?;
        pieces.push(next);
    }
    Ok(pieces)
}

/// The same where loops are cut out afterwards: arcs that overlap without a crossing are left as they are.
fn join_loosely(arcs: &[Arc], d: f64) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::with_capacity(arcs.len() + 2);
    for &arc in arcs {
        let whole = Piece { arc, d, from: 0.0, to: 1.0 };
        let next = join(&mut pieces, whole).unwrap_or(whole);
        pieces.push(next);
    }
    pieces
}

/// Joins a moved arc to those before it, which it may trim.
fn join(pieces: &mut Vec<Piece>, mut next: Piece) -> Result<Piece, MoveError> {
    let Some(last) = pieces.last_mut() else { return Ok(next) };
    let d = next.d;
    let (before, after) = (last.arc.direction(1.0), next.arc.direction(0.0));
    let turn = turn_between(before, after);
    if turn.abs() > SMOOTH {
        let reach = d.abs() * (0.5 * turn.abs()).tan();
        if turn * d > 0.0 {
            let (a, b) = (last.at(1.0), next.at(0.0));
            let tip = a + reach * before;
            pieces.push(Piece::straight(a, tip));
            pieces.push(Piece::straight(tip, b));
        } else {
            let trimmed = if turn.abs() < SLIGHT { cut_back } else { meet };
            (last.to, next.from) = trimmed(last, &next, reach)?;
        }
    }
    Ok(next)
}

/// Where two overlapping moved arcs meet near their shared corner, by Newton's method.
fn meet(a: &Piece, b: &Piece, reach: f64) -> Result<(f64, f64), MoveError> {
    // From where the overlap would begin, were each to bend no more: the pace of a moved arc that bends away changes too much.
    let pace = |piece: &Piece, t: f64| piece.arc.speed(t) * (1.0 + (piece.d * piece.arc.curvature(t)).max(0.0));
    let mut t = 1.0 - reach / pace(a, 1.0).max(1e-9);
    let mut u = reach / pace(b, 0.0).max(1e-9);
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
        if start > TRIM_ACCURACY {
            let direction = first.arc.direction(first.from);
            let from = first.at(first.from);
            if direction.x < 1e-6 {
                return Err((Problem::NothingLeft, None));
            }
            pieces.insert(0, Piece::straight(from - (start / direction.x) * direction, from));
            return Ok(());
        }
        if past(first.at(first.to)) > TRIM_ACCURACY {
            let piece = *first;
            first.from = crossing(piece.from, piece.to, TRIM_ACCURACY, |t| past(piece.at(t)));
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
        if end > TRIM_ACCURACY {
            let (direction, from) = (last.arc.direction(last.to), last.at(last.to));
            let rate = -direction.dot(inward);
            if rate < 1e-6 {
                return Err((Problem::NothingLeft, None));
            }
            pieces.push(Piece::straight(from, from + (end / rate) * direction));
            return Ok(());
        }
        if below(last.at(last.from)) > TRIM_ACCURACY {
            let piece = *last;
            last.to = crossing(piece.from, piece.to, TRIM_ACCURACY, |t| below(piece.at(t)));
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

#[cfg(test)]
mod tests {
    use core::f64::consts::FRAC_PI_2;

    use super::{Line, TakeOff, largest, self_crossing};
    use crate::curve::{Arc, straight};
    use crate::error::Problem;
    use kurbo::{CubicBez, Point};

    const K: f64 = 0.552_284_749_830_793_5;

    fn quarter(radius: f64) -> Arc {
        let (r, k) = (radius, K * radius);
        Arc::new(CubicBez::new((0.0, r), (k, r), (r, k), (r, 0.0)))
    }

    fn through(points: &[(f64, f64)]) -> Vec<Arc> {
        let ends = points.iter().zip(points.iter().skip(1));
        ends.map(|(a, b)| Arc::new(straight(Point::new(a.0, a.1), Point::new(b.0, b.1)))).collect()
    }

    fn by(neckline: f64) -> TakeOff {
        TakeOff { neckline, centre: 0.0, shoulder: 0.0, slope: 0.0 }
    }

    fn close(got: f64, expected: f64, within: f64, what: &str) {
        assert!((got - expected).abs() <= within, "{what}: {got} is not {expected}");
    }

    /// The length along points, and whether their chords cross each other.
    fn along(points: &[[f64; 2]]) -> (f64, bool) {
        let chords: Vec<[[f64; 2]; 2]> = points.windows(2).map(|pair| [pair[0], pair[1]]).collect();
        let length = chords.iter().map(|[a, b]| (b[0] - a[0]).hypot(b[1] - a[1])).sum();
        let side = |[a, b]: [[f64; 2]; 2], p: [f64; 2]| (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
        let apart = |one: [[f64; 2]; 2], other: [[f64; 2]; 2]| side(one, other[0]) * side(one, other[1]) < 0.0;
        let crosses = |i: usize, one: &[[f64; 2]; 2]| {
            chords.iter().skip(i + 2).any(|other| apart(*one, *other) && apart(*other, *one))
        };
        (length, chords.iter().enumerate().any(|(i, one)| crosses(i, one)))
    }

    #[test]
    fn places_between_nodes_lie_on_the_curve_and_run_along_it() {
        let line = Line::as_known(&[quarter(100.0)], 0.0);
        for i in 0..=50 {
            let s = line.length() * f64::from(i) / 50.0;
            let (at, direction) = line.place(s).expect("a place");
            close(at.to_vec2().hypot(), 100.0, 0.05, "on the circle");
            close(direction.hypot(), 1.0, 1e-12, "a direction has a length of one");
            close(at.x.atan2(at.y), s / 100.0, 1e-3, "as far along as was asked");
            close(-direction.y.atan2(direction.x), s / 100.0, 2e-3, "and turned as far");
        }
        let (end, _) = line.place(1000.0).expect("a place");
        close((end - Point::new(100.0, 0.0)).hypot(), 0.0, 1e-9, "the end lies at the end");
    }

    #[test]
    fn points_to_draw_stand_off_by_less_than_a_tenth() {
        let line = Line::moved(&[quarter(100.0)], by(20.0)).expect("it moves");
        for pair in line.points().windows(2) {
            let middle = [0.5 * (pair[0][0] + pair[1][0]), 0.5 * (pair[0][1] + pair[1][1])];
            close(middle[0].hypot(middle[1]), 120.0, 0.1, "a chord's middle");
        }
        // A straight line wants no points in between: its nodes alone.
        let straight = Line::as_known(&through(&[(0.0, 100.0), (90.0, 100.0)]), 0.0);
        assert_eq!(straight.points().len(), straight.nodes.len(), "a straight line has its nodes' points");
        // Nor where a bend came before it, whose every step of 11 degrees wants three.
        let after = Arc::new(CubicBez::new((100.0, 0.0), (100.0, -30.0), (100.0, -60.0), (100.0, -90.0)));
        let both = Line::as_known(&[quarter(100.0), after], 0.0);
        assert_eq!(both.points().len(), both.nodes.len() + 3 * 8, "more points in the bend alone");
    }

    #[test]
    fn a_single_curve_set_back_past_its_radius_has_its_loop_cut_out() {
        // Its handles meet in the corner: by hand the radius in the middle is 25 mm, far under the 45 it is moved.
        let arc = Arc::new(CubicBez::new((0.0, 100.0), (88.0, 100.0), (88.0, 100.0), (88.0, 0.0)));
        let line = Line::moved_with_loops(&[arc], by(-45.0)).expect("it moves");
        assert!(along(&line.points()).1, "the moved line crosses itself");
        let (points, length) = line.without_loops();
        let (drawn, crosses) = along(&points);
        assert!(!crosses, "and is drawn without its loop");
        close(length, drawn, 0.1, "as long as it is drawn");
        // What lies before and after the loop stays: where it is left is on the chord that followed.
        let all = line.points();
        let i = points.iter().zip(&all).position(|(kept, was)| kept != was).expect("a loop is gone");
        let [a, met, b] = [all[i - 1], points[i], all[i]];
        let aside = (b[0] - a[0]) * (met[1] - a[1]) - (b[1] - a[1]) * (met[0] - a[0]);
        close(aside / (b[0] - a[0]).hypot(b[1] - a[1]), 0.0, 1e-9, "on its chord");
        assert!(all.ends_with(&points[i + 1..]), "and the rest as it was");
        // Within its radius nothing is cut out.
        let line = Line::moved_with_loops(&[arc], by(-10.0)).expect("it moves");
        let (points, length) = line.without_loops();
        assert_eq!(points, line.points(), "all of it");
        close(length, line.length(), 1e-12, "and its whole length");
    }

    #[test]
    fn an_edge_in_a_corner_is_set_back_to_where_its_sides_meet() {
        // A corner that points into the garment, its sides moved 30 mm toward the opening: they meet 30 mm in.
        let corner = through(&[(0.0, 100.0), (90.0, 100.0), (90.0, 0.0)]);
        let line = Line::moved_with_loops(&corner, by(-30.0)).expect("it moves");
        close(line.without_loops().1, 60.0 + 70.0, 1e-9, "what is left of 90 and 100");
    }

    #[test]
    fn corners_are_mitred_on_the_one_side_and_trimmed_on_the_other() {
        // Down a step of 20 mm on the way out: one corner opens, the other closes. Each takes or gives d tan(45).
        let step = through(&[(0.0, 100.0), (40.0, 100.0), (40.0, 120.0), (90.0, 120.0), (90.0, 0.0)]);
        let line = Line::moved(&step, by(5.0)).expect("it moves");
        let lengths = (40.0 - 5.0) + 20.0 + (50.0 + 5.0 + 5.0) + (120.0 + 5.0);
        close(line.length(), lengths, 1e-9, "its sides moved by 5 mm");
        close(line.turning(), FRAC_PI_2, 1e-9, "the turns of a step cancel");
        // A corner all but straight, moved past what can be seen, is cut back by its share.
        let slight = through(&[(0.0, 100.0), (50.0, 100.0), (100.0, 100.02), (100.0, 0.0)]);
        let line = Line::moved(&slight, by(10.0)).expect("it moves");
        close(line.length(), 100.0 + 10.0 + 100.0 + 10.0, 0.05, "as if it were straight");
    }

    #[test]
    fn a_slight_corner_beside_a_tight_bend_is_cut_back_by_its_share() {
        // A bend away of 12 mm moved by 10 ends on 2 mm; past a corner of half a thousandth the two moved lines pass beside
        // each other without meeting. By Steiner's formula the length changes by the distance times the turning.
        let tau = 5e-4_f64;
        let (bend, k) = (12.0, K * 12.0);
        let arc = Arc::new(CubicBez::new((0.0, 50.0), (k, 50.0), (bend, 62.0 - k), (bend, 62.0)));
        let end = Point::new(bend - 80.0 * tau.sin(), 62.0 + 80.0 * tau.cos());
        let arcs = [arc, Arc::new(straight(Point::new(bend, 62.0), end))];
        let known = Line::as_known(&arcs, 0.0);
        close(known.turning(), -FRAC_PI_2 - tau, 1e-9, "it bends away");
        // The shoulder lies square to the end.
        let off = TakeOff { slope: core::f64::consts::PI + tau, ..by(10.0) };
        let line = Line::moved(&arcs, off).expect("it moves");
        close(line.length(), known.length() + 10.0 * known.turning(), 1e-5, "Steiner's formula");
        let [front, back] = [arcs[0], arcs[1]].map(|arc| arc.length(0.0, 1.0, 16));
        close(front + back, known.length(), 1e-6, "the known line by quadrature");
        // An arc shorter than what a slight corner takes off it leaves no place to meet, on either side of the corner.
        for points in
            [[(0.0, 100.0), (50.0, 100.0), (50.02, 100.0 + 1.8e-5)], [(0.0, 100.0), (0.02, 100.0), (90.0, 100.08)]]
        {
            let failed = Line::moved(&through(&points), by(60.0)).expect_err("shorter than the overlap").0;
            assert!(matches!(failed, Problem::CrossesAt { .. }), "{failed:?}");
        }
    }

    #[test]
    fn a_side_shorter_than_its_corner_takes_crosses() {
        // A corner of a right angle that closes takes the distance off each of its sides: here one has 3 of the 5 mm.
        for side in [
            [(0.0, 100.0), (40.0, 100.0), (40.0, 103.0), (90.0, 103.0), (90.0, 0.0)],
            [(0.0, 100.0), (3.0, 100.0), (3.0, 140.0), (90.0, 140.0), (90.0, 0.0)],
        ] {
            let failed = Line::moved(&through(&side), by(5.0)).expect_err("nothing of the side is left").0;
            let Problem::CrossesAt { x_mm, y_mm } = failed else { panic!("{failed:?}") };
            close((x_mm - side[1].0).hypot(y_mm - side[1].1), 5.0, 1e-9, "named beside the corner");
        }
    }

    #[test]
    fn a_tight_bend_and_a_side_are_trimmed_to_where_they_cross_once_moved() {
        // A quarter circle of 10 mm before a corner of a right angle, and its mirror image after one. Moved by 40 it has a
        // radius of 50, and the level side lies 40 mm below its centre: they cross 30 mm beside it, after asin(0.6).
        let (r, k) = (10.0, K * 10.0);
        let before = Arc::new(CubicBez::new((0.0, 40.0), (k, 40.0), (r, 30.0 + k), (r, 30.0)));
        let after = Arc::new(CubicBez::new((90.0, 30.0), (90.0, 30.0 + k), (100.0 - k, 40.0), (100.0, 40.0)));
        let side = |from: f64, to: f64| Arc::new(straight(Point::new(from, 30.0), Point::new(to, 30.0)));
        for arcs in [[before, side(10.0, 100.0)], [side(0.0, 90.0), after]] {
            // The shoulder lies square to the end, which runs level.
            let off = TakeOff { slope: FRAC_PI_2, ..by(40.0) };
            let line = Line::moved(&arcs, off).expect("it moves");
            close(line.length(), 50.0 * 0.6_f64.asin() + 70.0, 0.02, "an arc and a side");
        }
    }

    #[test]
    fn a_line_moved_by_nothing_is_the_known_line() {
        for arcs in [through(&[(0.0, 100.0), (50.0, 100.0), (90.0, 60.0), (90.0, 0.0)]), vec![quarter(80.0)]] {
            let line = Line::moved(&arcs, by(0.0)).expect("it moves");
            assert_eq!(line.nodes, Line::as_known(&arcs, 0.0).nodes, "node by node");
        }
    }

    #[test]
    fn two_loops_are_cut_out_one_after_the_other() {
        // A square whose corner is cut off by less than what the move takes: its sides, moved 30 mm toward the opening, lie
        // at y = 70 and x = 34. Trimmed at y = 68, 34 mm of the one and 2 of the other are left.
        let corner = through(&[(0.0, 100.0), (60.0, 100.0), (64.0, 96.0), (64.0, 0.0)]);
        let off = TakeOff { neckline: -30.0, centre: 0.0, shoulder: 68.0, slope: 0.0 };
        let (points, length) = Line::moved_with_loops(&corner, off).expect("it moves").without_loops();
        close(length, 34.0 + 2.0, 1e-9, "what is left");
        close(along(&points).0, 36.0, 1e-9, "as it is drawn");
        assert!(!along(&points).1, "without a loop");
        let corner = points[points.len() - 2];
        close((corner[0] - 34.0).hypot(corner[1] - 70.0), 0.0, 1e-9, "its corner");
    }

    #[test]
    fn a_line_that_touches_itself_does_not_cross() {
        // A corner that lies on the middle of another side, in all the ways that a side can lie.
        let touching = [(0.0, 64.0), (64.0, 64.0), (64.0, 128.0), (36.0, 64.0), (20.0, 128.0), (0.0, 128.0)];
        let crossing = [(0.0, 64.0), (64.0, 64.0), (64.0, 128.0), (36.0, 60.0), (20.0, 128.0), (0.0, 128.0)];
        for mirror in [1.0, -1.0] {
            let shape = |points: &[(f64, f64)]| points.iter().map(|(x, y)| (mirror * x, *y)).collect::<Vec<_>>();
            let (mut touches, mut crosses) = (shape(&touching), shape(&crossing));
            for way in ["there", "back"] {
                assert_eq!(self_crossing(&through(&touches)), None, "{mirror}, {way}: it touches");
                assert!(self_crossing(&through(&crosses)).is_some(), "{mirror}, {way}: it crosses");
                touches.reverse();
                crosses.reverse();
            }
        }
    }

    #[test]
    fn a_tongue_narrower_at_its_root_crosses_itself_however_it_is_drawn() {
        // A dovetail of straight lines: 16 mm wide at its root, 70 at its end.
        let root =
            [(0.0, 150.0), (47.0, 150.0), (20.0, 60.0), (90.0, 60.0), (63.0, 150.0), (110.0, 150.0), (110.0, 0.0)];
        // The same as one curve, its tip's radius 18 mm by hand.
        let [before, after] = [through(&root[..2]), through(&root[5..])];
        let curve = Arc::new(CubicBez::new((47.0, 150.0), (-10.0, 40.0), (120.0, 40.0), (63.0, 150.0)));
        let out = Arc::new(straight(Point::new(63.0, 150.0), Point::new(190.0, 0.0)));
        assert_eq!((before.len(), after.len()), (1, 1), "lines before and after");
        for (what, arcs) in [("straight", through(&root)), ("curved", vec![before[0], curve, out])] {
            assert_eq!(self_crossing(&arcs), None, "{what}: as it is drawn it does not");
            let failed = Line::moved(&arcs, by(12.0)).expect_err("its sides cross").0;
            let Problem::CrossesAt { x_mm, y_mm } = failed else { panic!("{what}: {failed:?}") };
            assert!((40.0..70.0).contains(&x_mm) && y_mm > 110.0, "{what}: at its root, {x_mm}, {y_mm}");
            let most = largest(&arcs, by(12.0)).expect("a smaller distance");
            assert!((2.0..9.0).contains(&most), "{what}: {most}");
            assert!(Line::moved(&arcs, by(most)).is_ok(), "{what}: the largest that works does");
            assert!(Line::moved(&arcs, by(most + 0.15)).is_err(), "{what}: and no larger one");
        }
    }

    /// Found beside an independent reckoning: the radius is under the distance between two of the places looked at.
    #[test]
    fn a_tight_bend_between_the_samples_is_a_cusp() {
        let arcs = [
            ((0.0, 87.1263), (10.4069, 87.1263), (29.3195, 86.7498), (34.5176, 77.7341)),
            ((34.5176, 77.7341), (43.3898, 62.3464), (36.5234, 39.6131), (37.6165, 21.8845)),
            ((37.6165, 21.8845), (37.7602, 19.5533), (36.2085, 16.8638), (38.3310, 15.8890)),
            ((38.3310, 15.8890), (53.6393, 8.8584), (69.3114, 5.4015), (85.2675, 0.0)),
        ];
        let arcs = arcs.map(|(a, b, c, d)| Arc::new(CubicBez::new(a, b, c, d)));
        // Looked at in a hundred thousand places.
        let places = (0..=100_000).map(|i| f64::from(i) / 1e5);
        let least = arcs.iter().flat_map(|arc| places.clone().map(|t| arc.curvature(t))).fold(0.0, f64::min);
        let radius = -1.0 / least;
        assert!((1.0..1.622_615).contains(&radius), "a bend away of {radius} mm");
        let failed = Line::moved(&arcs, by(1.622_615)).expect_err("further than the radius");
        assert!(matches!(failed.0, Problem::CuspAt { .. }), "a cusp, not {:?}", failed.0);
        assert_eq!(failed.1, Some((radius * 10.0).floor() / 10.0), "and the largest distance by that radius");
    }

    #[test]
    fn trims_take_whole_pieces_where_they_must() {
        // The first 20 mm and the last 30 are pieces of their own, and are gone.
        let arcs = through(&[(0.0, 100.0), (20.0, 100.0), (90.0, 100.0), (90.0, 30.0), (90.0, 0.0)]);
        let off = TakeOff { neckline: 0.0, centre: 25.0, shoulder: 40.0, slope: 0.0 };
        let line = Line::moved(&arcs, off).expect("it moves");
        close(line.length(), 65.0 + 60.0, 1e-9, "what is left of 70 and 70");
        close(line.half_width(), 65.0, 1e-9, "from the centre's seam");
        close(line.depth(), 60.0, 1e-9, "from the shoulder's seam");
        // Exactly at a joint: the piece goes, no more.
        let off = TakeOff { neckline: 0.0, centre: 20.0, shoulder: 30.0, slope: 0.0 };
        close(Line::moved(&arcs, off).expect("it moves").length(), 70.0 + 70.0, 1e-6, "to the joints");
        // A line that does not run toward a seam it falls short of has no extension to it: level with it, or away from it.
        for start in [(10.0, 20.0), (5.0, 20.0)] {
            let aside = through(&[(10.0, 100.0), start, (90.0, 0.0)]);
            assert_eq!(Line::moved(&aside, by(0.0)).expect_err("no way there").0, Problem::NothingLeft, "{start:?}");
        }
        for end in [(90.0, 50.0), (90.0, 55.0)] {
            let off = TakeOff { shoulder: -5.0, ..by(0.0) };
            let failed = Line::moved(&through(&[(0.0, 100.0), (30.0, 50.0), end]), off).expect_err("no way there").0;
            assert_eq!(failed, Problem::NothingLeft, "{end:?}");
        }
        for (centre, shoulder) in [(95.0, 0.0), (0.0, 110.0)] {
            let off = TakeOff { neckline: 0.0, centre, shoulder, slope: 0.0 };
            assert_eq!(Line::moved(&arcs, off).expect_err("it is gone").0, Problem::NothingLeft, "all of it");
        }
        // Past its ends a line goes on along its direction.
        let off = TakeOff { neckline: 0.0, centre: -7.0, shoulder: -9.0, slope: 0.0 };
        close(Line::moved(&arcs, off).expect("it moves").length(), 190.0 + 16.0, 1e-9, "longer by both");
        // At a slant to its end the shoulder takes more than its width: a V at 45 degrees, a level shoulder.
        let off = TakeOff { neckline: 0.0, centre: 10.0, shoulder: 10.0, slope: 0.0 };
        let leg = Line::moved(&through(&[(0.0, 80.0), (80.0, 0.0)]), off).expect("it moves");
        close(leg.length(), 60.0 * 2.0_f64.sqrt(), 1e-9, "the square root of 2 of it at each end");
    }
}
