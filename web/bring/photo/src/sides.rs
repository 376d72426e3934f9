//! The four sides of the known rectangle, each a line through what is seen along it to a fraction of a pixel.

use kurbo::{Point, Vec2};

use crate::grey::{Grey, Profile, Shape, at_share, summit};
use crate::plane::Lens;

/// Sides are looked at between these shares of their length: the round corners of a card take up 6 percent of its short side.
const FROM: f64 = 0.08;
const TO: f64 = 0.92;
/// Of the places along a side, as many must agree. Our judgement.
const LEAST_AGREEING: f64 = 0.5;
/// How far a place may be off the line and still agree, px.
const AGREES_PX: f64 = 1.2;
/// The least step or line that counts, grey levels: a few times a photo's grain.
const LEAST_LEVELS: f64 = 10.0;

/// A line, by a point and a direction of length one.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Straight {
    pub(crate) at: Point,
    pub(crate) along: Vec2,
}

impl Straight {
    /// The least squares line through points.
    pub(crate) fn through(points: &[Point]) -> Option<Self> {
        if points.len() < 2 {
            return None;
        }
        let count = points.len() as f64;
        let middle = (points.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2()) / count).to_point();
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for p in points {
            let d = *p - middle;
            xx += d.x * d.x;
            xy += d.x * d.y;
            yy += d.y * d.y;
        }
        // The direction of most spread: half the angle of (xx - yy, 2 xy).
        let (across, up) = (xx - yy, 2.0 * xy);
        let spread = across.hypot(up);
        let along = if across > 0.0 {
            Vec2::new(spread + across, up)
        } else {
            Vec2::new(up.abs(), (spread - across).copysign(up))
        };
        let along = along / along.hypot();
        along.is_finite().then_some(Self { at: middle, along })
    }

    /// How far a point lies beside it; to its left where it is positive.
    pub(crate) fn beside(&self, p: Point) -> f64 {
        self.along.cross(p - self.at)
    }

    /// Where it crosses another; nothing where they run nearly alike.
    pub(crate) fn crossing(&self, other: &Self) -> Option<Point> {
        let turn = self.along.cross(other.along);
        if turn.abs() < 0.05 {
            return None;
        }
        Some(self.at + self.along * ((other.at - self.at).cross(other.along) / turn))
    }
}

/// A side as it was seen.
#[derive(Debug, Clone)]
pub(crate) struct Side {
    /// Places on it in the photo, to a fraction of a pixel. Two alone, the corners given, where it was not seen.
    pub(crate) points: Vec<Point>,
    /// Whether it was seen.
    pub(crate) seen: bool,
    /// How far off its line may be, one standard deviation, px.
    pub(crate) spread_px: f64,
}

impl Side {
    /// Its line without the lens's error.
    pub(crate) fn line(&self, lens: &Lens) -> Option<Straight> {
        let points: Vec<Point> = self.points.iter().map(|p| lens.straight(*p)).collect();
        Straight::through(&points)
    }
}

/// A side near the line between two corners, looked for up to `reach_px` beside it, and the places of edge or line on it.
/// `line_px` is how wide a printed line may be, as a standard deviation.
pub(crate) fn side(grey: &Grey, from: Point, to: Point, reach_px: f64, line_px: f64) -> Side {
    let unseen = Side { points: vec![from, to], seen: false, spread_px: 2.0 };
    let length = from.distance(to);
    let along = (to - from) / length;
    let normal = Vec2::new(-along.y, along.x);
    let count = crate::grey::whole(length / 3.0).clamp(24, 160);
    let places: Vec<Point> = (0..=count)
        .map(|index| from.lerp(to, FROM + (TO - FROM) * f64::from(index) / f64::from(count)))
        .filter(|p| grey.holds(*p))
        .collect();
    let profiles: Vec<Profile> = places.iter().map(|p| Profile::across(grey, *p, normal, reach_px, 1.0)).collect();
    let shapes = [Shape::Step(1.0), Shape::Step(-1.0), Shape::Ridge(1.0, line_px), Shape::Ridge(-1.0, line_px)];
    let mut best: Option<(f64, Vec<Point>)> = None;
    for shape in shapes {
        let seen = tops(&places, &profiles, normal, shape);
        let Some((agreeing, levels)) = agreeing(&seen, from, along, reach_px) else { continue };
        if (agreeing.len() as f64) < LEAST_AGREEING * f64::from(count) {
            continue;
        }
        // A step's flank answers to a line's weights too, at half its height: a line must be plainly a line.
        let weight = if matches!(shape, Shape::Step(_)) { 1.0 } else { 0.7 };
        let score = weight * levels * agreeing.len() as f64;
        if best.as_ref().is_none_or(|(most, _)| score > *most) {
            best = Some((score, agreeing));
        }
    }
    let Some((_, points)) = best else { return unseen };
    let Some(line) = Straight::through(&points) else { return unseen };
    let squares: f64 = points.iter().map(|p| line.beside(*p).powi(2)).sum();
    // Neighbours err alike: a quarter of the places count as told apart.
    let apart = (points.len() as f64 / 4.0).max(2.0);
    let spread_px = (squares / points.len() as f64 / apart).sqrt().max(0.03);
    Side { points, seen: true, spread_px }
}

/// The strongest place of each profile, and how strong it is.
fn tops(places: &[Point], profiles: &[Profile], normal: Vec2, shape: Shape) -> Vec<(Point, f64)> {
    let mut out = Vec::new();
    for (p, profile) in places.iter().zip(profiles) {
        let responses = profile.responses(shape);
        let Some(top) = (0..responses.len()).max_by(|a, b| responses[*a].total_cmp(&responses[*b])) else { continue };
        if responses[top] >= LEAST_LEVELS {
            out.push((*p + normal * profile.offset(summit(&responses, top)), responses[top]));
        }
    }
    out
}

/// The places that agree with the line that most agree with, and how strong they are in their middle.
fn agreeing(seen: &[(Point, f64)], from: Point, along: Vec2, reach_px: f64) -> Option<(Vec<Point>, f64)> {
    let thin = seen.len() / 50 + 1;
    let few: Vec<Point> = seen.iter().step_by(thin).map(|(p, _)| *p).collect();
    let mut best = (0, None);
    for (index, a) in few.iter().enumerate() {
        for b in few.iter().skip(index + few.len() / 4 + 1) {
            let d = *b - *a;
            let line = Straight { at: *a, along: d / d.hypot() };
            // A bowed side agrees too.
            let count = few.iter().filter(|p| line.beside(**p).abs() <= AGREES_PX).count();
            if count > best.0 {
                best = (count, Some(line));
            }
        }
    }
    let mut line = best.1?;
    let mut kept: Vec<(Point, f64)> = Vec::new();
    for _ in 0..3 {
        kept = seen.iter().copied().filter(|(p, _)| line.beside(*p).abs() <= AGREES_PX).collect();
        let points: Vec<Point> = kept.iter().map(|(p, _)| *p).collect();
        line = Straight::through(&points)?;
    }
    // Within reach at both corners, or it is another line that runs across.
    let strays = line.along.cross(along).abs() > 0.2 || line.beside(from).abs() > 1.5 * reach_px + 2.0;
    if strays {
        return None;
    }
    let middle = at_share(kept.iter().map(|(_, level)| *level).collect(), 0.5);
    Some((kept.into_iter().map(|(p, _)| p).collect(), middle))
}

/// The four sides near four corners, and the corners where they cross: those given where they do not.
pub(crate) fn sides(grey: &Grey, corners: [Point; 4], reach_px: f64, line_px: f64) -> ([Point; 4], [Side; 4]) {
    let sides: [Side; 4] = core::array::from_fn(|i| side(grey, corners[i], corners[(i + 1) % 4], reach_px, line_px));
    let lines = sides.each_ref().map(|side| Straight::through(&side.points));
    let near = |found: &[Point; 4]| found.iter().zip(&corners).all(|(p, q)| p.distance(*q) < 3.0 * reach_px);
    (crossings(&lines).filter(near).unwrap_or(corners), sides)
}

/// The corners between each side and the one before it.
pub(crate) fn crossings(lines: &[Option<Straight>; 4]) -> Option<[Point; 4]> {
    let mut out = [Point::ORIGIN; 4];
    for (index, corner) in out.iter_mut().enumerate() {
        *corner = lines[(index + 3) % 4]?.crossing(&lines[index]?)?;
    }
    Some(out)
}

/// How strongly phones' lenses bend after the phone has straightened their photos, one standard deviation, in the lens's own
/// unit. From memory; an error of 0.01 at the photo's corners is 12 px of 2048.
const USUAL_BEND: f64 = 0.006;

/// How the lens bends, as the bow of the four sides tells it, with its standard deviation. A side is itself straight to
/// `bow_px`, one standard deviation.
pub(crate) fn bend(sides: &[Side; 4], lens: &Lens, bow_px: f64) -> (f64, f64) {
    let cost = |bend: f64| {
        let lens = Lens { bend, ..*lens };
        let squares = |side: &Side| {
            let points: Vec<Point> = side.points.iter().map(|p| lens.straight(*p)).collect();
            let Some(line) = Straight::through(&points) else { return 0.0 };
            points.iter().map(|p| line.beside(*p).powi(2)).sum::<f64>() / points.len() as f64
        };
        // The mean square of a bow with middle height h is 4/45 h^2.
        let told: f64 = sides.iter().filter(|side| side.seen).map(squares).sum();
        told / (4.0 / 45.0 * bow_px * bow_px) + (bend / USUAL_BEND).powi(2)
    };
    let step = USUAL_BEND;
    let (less, none, more) = (cost(-step), cost(0.0), cost(step));
    let curve = (less - 2.0 * none + more) / (step * step);
    if !curve.is_finite() || curve <= 0.0 {
        return (0.0, USUAL_BEND);
    }
    let slope = (more - less) / (2.0 * step);
    ((-slope / curve).clamp(-0.05, 0.05), (2.0 / curve).sqrt().min(USUAL_BEND))
}
