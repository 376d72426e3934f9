//! The corner, or else the edge, that is meant by a place near it, to a fraction of a pixel.

use kurbo::{Point, Vec2};

use crate::grey::{Grey, whole};

/// How far a corner is looked for, as a share of the photo's longest side, and in px: about what a fingertip hides under a loupe.
const REACH_SHARE: f64 = 0.006;
const REACH_PX: [f64; 2] = [6.0, 12.0];
/// How far about a place its slopes are gathered, px.
const WINDOW: i32 = 5;
/// A corner has slopes in two directions; an edge has them in one: the weaker is under this share of the stronger.
const CORNER_SHARE: f64 = 0.1;
/// Slopes under this are grain, levels per px.
const LEAST_SLOPE: f64 = 3.0;

/// The corner or edge near a place; the place itself where nothing is near it.
pub(crate) fn snap(grey: &Grey, at: Point) -> Point {
    let longest = grey.width.max(grey.height) as f64;
    let reach = (longest * REACH_SHARE).clamp(REACH_PX[0], REACH_PX[1]);
    let slopes = Slopes::about(grey, at, whole(reach) + WINDOW + 4);
    let corner = strongest(&slopes, at, reach);
    let start = corner.unwrap_or(at);
    let found = settled(&slopes, start, corner.is_some());
    if found.distance(at) <= 1.5 * reach && grey.holds(found) { found } else { start }
}

/// The slopes of the photo in a square.
struct Slopes {
    left: i32,
    top: i32,
    side: i32,
    slopes: Vec<Vec2>,
}

impl Slopes {
    fn about(grey: &Grey, at: Point, reach: i32) -> Self {
        let (left, top) = (whole(at.x.round()) - reach, whole(at.y.round()) - reach);
        let side = 2 * reach + 1;
        let slope = |index: i32| grey.slope(left + index % side, top + index / side);
        Self { left, top, side, slopes: (0..side * side).map(slope).collect() }
    }

    /// The slope at a pixel of the square; none outside it.
    fn at(&self, column: i32, row: i32) -> Vec2 {
        let (across, down) = (column - self.left, row - self.top);
        let inside = (0..self.side).contains(&across) && (0..self.side).contains(&down);
        let index = usize::try_from(down * self.side + across).ok().filter(|_| inside);
        index.and_then(|at| self.slopes.get(at)).copied().unwrap_or(Vec2::ZERO)
    }

    /// What the slopes about a place come to: their products, and those with where they stand, each weighed by its nearness.
    fn gathered(&self, at: Point, spread: f64) -> Gathered {
        let (column, row) = (whole(at.x.round()), whole(at.y.round()));
        let reach = whole((2.5 * spread).ceil());
        let mut out = Gathered::default();
        for down in -reach..=reach {
            for across in -reach..=reach {
                let p = Point::new(f64::from(column + across), f64::from(row + down));
                let slope = self.at(column + across, row + down);
                let weight = (-(p - at).hypot2() / (2.0 * spread * spread)).exp();
                out.add(slope, p - at, weight);
            }
        }
        out
    }
}

/// Sums over slopes: what a corner is found by (Förstner and Gülch, 1987).
#[derive(Debug, Clone, Copy, Default)]
struct Gathered {
    xx: f64,
    xy: f64,
    yy: f64,
    x: f64,
    y: f64,
    weight: f64,
}

impl Gathered {
    fn add(&mut self, slope: Vec2, from: Vec2, weight: f64) {
        let along = slope.dot(from);
        self.xx += weight * slope.x * slope.x;
        self.xy += weight * slope.x * slope.y;
        self.yy += weight * slope.y * slope.y;
        self.x += weight * slope.x * along;
        self.y += weight * slope.y * along;
        self.weight += weight;
    }

    /// How strong the slopes are in their weaker and their stronger direction, levels per px squared.
    fn strengths(&self) -> (f64, f64) {
        let half = (self.xx + self.yy) / 2.0;
        let apart = ((self.xx - self.yy) / 2.0).hypot(self.xy);
        ((half - apart) / self.weight, (half + apart) / self.weight)
    }

    /// Where the edges cross from here; `held` keeps it from running along an edge that crosses none.
    fn crossing(&self, held: f64) -> Vec2 {
        let (xx, yy) = (self.xx + held, self.yy + held);
        let det = xx * yy - self.xy * self.xy;
        if det <= 0.0 {
            return Vec2::ZERO;
        }
        Vec2::new((yy * self.x - self.xy * self.y) / det, (xx * self.y - self.xy * self.x) / det)
    }
}

/// The pixel about which edges cross most plainly, the nearer the better.
fn strongest(slopes: &Slopes, at: Point, reach: f64) -> Option<Point> {
    let whole_reach = whole(reach);
    let mut best = (0.0, None);
    for down in -whole_reach..=whole_reach {
        for across in -whole_reach..=whole_reach {
            let p = Point::new(at.x.round() + f64::from(across), at.y.round() + f64::from(down));
            let away = p.distance(at) / reach;
            if away > 1.0 {
                continue;
            }
            let (weaker, stronger) = slopes.gathered(p, f64::from(WINDOW) / 2.5).strengths();
            if weaker < CORNER_SHARE * stronger || stronger < LEAST_SLOPE * LEAST_SLOPE {
                continue;
            }
            let score = weaker * (1.0 - 0.7 * away * away);
            if score > best.0 {
                best = (score, Some(p));
            }
        }
    }
    best.1
}

/// Moves to where the edges about a place cross, or onto the one edge that is there.
fn settled(slopes: &Slopes, start: Point, corner: bool) -> Point {
    let mut at = start;
    for step in 0..6 {
        // Wide first; then near, where edges that bend are straight.
        let spread = if step < 2 { 3.5 } else { 2.5 };
        let gathered = slopes.gathered(at, spread);
        let (_, stronger) = gathered.strengths();
        if stronger < LEAST_SLOPE {
            return start;
        }
        let held = if corner { 1e-6 } else { 0.05 } * stronger * gathered.weight;
        let moved = gathered.crossing(held);
        at += moved / (moved.hypot() / 2.0).max(1.0);
    }
    if at.distance(start) <= 6.0 { at } else { start }
}
