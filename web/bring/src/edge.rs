//! The edge between two ends, as the drawn half neckline that a brief takes.
//!
//! In a brief x goes out from the centre line and y down from the neck point, so what has to be known beside the edge is where the
//! centre line runs: down the fold, which the outline itself runs along, or where the person points, or, of a whole neckline, where
//! it is its own mirror.

use kurbo::{BezPath, ParamCurve, ParamCurveArclen, PathSeg, Point, Vec2};

use crate::outline::{Outline, path_of};
use crate::run::{ACCURACY_MM, Run, turn_deg, unit};
use crate::smooth::{Smoothed, smoothed};

/// How far an end may be from the outline, mm.
const OFF_LINE_MM: f64 = 10.0;
/// The shortest edge, mm.
const SHORTEST_MM: f64 = 5.0;
/// The longest edge, mm, and its most segments: what a brief takes.
const LONGEST_MM: f64 = 2000.0;
const MOST_SEGMENTS: usize = 200;
/// The least across from the centre to the neck point, and the least down, mm: what a brief takes.
const LEAST_MM: [f64; 2] = [10.0, 1.0];
/// How far an edge may reach over the centre line, mm: what a brief takes.
const OVER_MM: f64 = 0.5;
/// How far down the outline must run straight to be taken for the centre line, mm. Our judgement.
const STRAIGHT_MM: [f64; 2] = [30.0, 400.0];
/// How straight, mm off at most.
const STRAIGHT_OFF_MM: f64 = 0.3;
/// The two sides of a neckline drawn whole are each other's mirror within this, mm; the outline around it within the second.
const MIRROR_MM: [f64; 2] = [1.0, 3.0];
/// How far the centre line may be from square to an edge that runs on over it, degrees.
const SQUARE_DEG: f64 = 15.0;
/// How exactly a file's curves are what was drawn: its coordinates' rounding, mm.
const FILE_MM: f64 = 0.02;
/// How exactly a sampled line tells the curve it was sampled from, a share of its length.
const SAMPLED_SHARE: f64 = 1e-3;

/// A notch this near to an edge lies along it, mm.
const CLOSE_MM: f64 = 1.5;

/// What was pointed at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chosen {
    /// The neck point, then the centre; of a whole neckline both neck points. mm.
    pub ends: [Point; 2],
    /// A place on the edge between them, mm.
    pub via: Option<Point>,
    /// The way down the centre line.
    pub down: Option<Down>,
    /// Whether it is whole.
    pub whole: Option<bool>,
    /// How sure the scale is: how far it may be off to either side, as a share.
    pub scale_off: f64,
}

/// The way down the centre line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Down {
    /// Through a place, mm.
    To(Point),
    /// In a direction.
    Along(Vec2),
}

/// What the centre line was taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CentreFrom {
    /// The outline runs straight down it.
    Outline,
    /// The person pointed down it.
    Pointed,
    /// The neckline is its own mirror about it.
    Mirror,
}

/// An edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// The half from the centre to the neck point: x out from the centre line, y down from the neck point, mm.
    pub half: BezPath,
    /// Its length, mm.
    pub length_mm: f64,
    /// Across from the centre line to the neck point, mm.
    pub width_mm: f64,
    /// Down from the neck point to the centre, mm.
    pub depth_mm: f64,
    /// How far the length may be off to either side, mm.
    pub uncertainty_mm: f64,
    /// The edge where it lies, whole or half, from its first end to its second, mm.
    pub over: Vec<PathSeg>,
    /// Whether it is whole.
    pub whole: bool,
    /// Of a whole one how far its sides are from each other's mirror at most, mm.
    pub mirror_off_mm: Option<f64>,
    /// What the centre line was taken from.
    pub centre_from: CentreFrom,
    /// The way down the centre line, of length 1.
    pub down: Vec2,
    /// Whether points along it were smoothed.
    pub smoothed: bool,
    /// How many notches along it were passed over.
    pub notches: usize,
}

/// Why an edge cannot be taken. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoEdge {
    /// The ends are one place.
    EndsTogether,
    /// An end is not on the outline, by so much.
    OffLine(f64),
    /// Nothing tells where the centre line runs.
    NoCentreLine,
    /// Nothing tells whether it is half or whole.
    HalfOrWhole,
    /// Said to be whole, its sides are off each other's mirror by so much.
    NotMirrored(f64),
    /// It reaches over the centre line by so much.
    OverCentre(f64),
    /// So far across and so far down from neck point to centre.
    NotCentreToNeck([f64; 2]),
    /// Of this length or of too many parts.
    NoNeckline(f64),
}

/// Takes the edge of an outline between two ends.
///
/// # Errors
/// A [`NoEdge`].
pub fn edge(outline: &Outline, pointed: &Chosen) -> Result<Edge, NoEdge> {
    let run = &outline.run;
    let places = pointed.ends.map(|end| outline.pointed(end));
    if let Some((_, off)) = places.iter().find(|(_, off)| *off > OFF_LINE_MM) {
        return Err(NoEdge::OffLine(*off));
    }
    let [from, to] = places.map(|(at, _)| at);
    let way = Way::between(run, from, to, pointed.via);
    let part = way.part(run);
    if part.is_empty() {
        return Err(NoEdge::EndsTogether);
    }
    let Smoothed { segments, any: smoothed } = smoothed(part);
    let line = Run::new(segments, false).ok_or(NoEdge::EndsTogether)?;
    if line.length() < SHORTEST_MM {
        return Err(NoEdge::EndsTogether);
    }
    if line.length() > 2.0 * LONGEST_MM {
        return Err(NoEdge::NoNeckline(line.length()));
    }
    let notches = outline.notches.iter().filter(|notch| line.nearest(**notch).1 <= CLOSE_MM).count();
    let found = Found { line, smoothed, notches, scale_off: pointed.scale_off };
    let whole = match pointed.whole {
        Some(whole) => whole,
        None => is_whole(outline, &found.line, &way, pointed)?,
    };
    if whole { found.whole(pointed.whole.is_some()) } else { found.half(outline, &way, pointed) }
}

/// An edge that begins this near to an open outline's end begins there, mm.
const END_MM: f64 = 1.0;

/// Which way round the outline an edge runs.
#[derive(Debug, Clone, Copy)]
struct Way {
    from: f64,
    to: f64,
    /// Against the outline's own sense.
    back: bool,
}

impl Way {
    fn between(run: &Run, from: f64, to: f64, via: Option<Point>) -> Self {
        if !run.is_closed() {
            return Self { from, to, back: to < from };
        }
        let on = (to - from).rem_euclid(run.length());
        let back = match via.map(|via| run.nearest(via).0) {
            Some(at) => (at - from).rem_euclid(run.length()) > on,
            None => on > run.length() / 2.0,
        };
        Self { from, to, back }
    }

    /// The edge's segments, from its first end to its second.
    fn part(&self, run: &Run) -> Vec<PathSeg> {
        if self.back {
            return run.part(self.to, self.from).iter().rev().map(PathSeg::reverse).collect();
        }
        run.part(self.from, self.to)
    }

    /// The way down the centre line, where the outline runs straight down it. The fold is the longest edge of a half: where one runs
    /// further beyond the first end than beyond the second, the ends stand in the other order.
    fn down(&self, outline: &Outline, line: &Run) -> Result<Vec2, NoEdge> {
        if self.begins_at_an_end(&outline.run) {
            return Err(NoEdge::NoCentreLine);
        }
        let other = Self { from: self.to, to: self.from, back: !self.back };
        let (down, far) = self.straight_on(outline).ok_or(NoEdge::NoCentreLine)?;
        let further = other.straight_on(outline).filter(|(_, other)| *other > far);
        let Some((down, _)) = further else { return Ok(down) };
        let across = line.point(0.0) - line.point(line.length());
        Err(NoEdge::NotCentreToNeck([across.cross(down).abs(), across.dot(down)]))
    }

    /// Whether it begins where an open outline does: the fold may be what is missing there, drawn in a line of another kind, and what
    /// runs straight on beyond the second end is a shoulder then.
    fn begins_at_an_end(&self, run: &Run) -> bool {
        !run.is_closed() && self.from.min(run.length() - self.from) <= END_MM
    }

    /// How far the outline runs straight on beyond the second end, and where to; none where it does not.
    fn straight_on(&self, outline: &Outline) -> Option<(Vec2, f64)> {
        let run = &outline.run;
        let sense = if self.back { -1.0 } else { 1.0 };
        let ahead = |at: f64| {
            let far = sense * (at - self.to);
            if run.is_closed() { far.rem_euclid(run.length()) } else { far }
        };
        // The outline's own beginning is no corner where it is closed; ends of an open one are among the corners.
        let corners = outline.corners.iter().map(|corner| ahead(corner.at)).filter(|far| *far > 1.0);
        // Where no corner is ahead the outline ends here.
        let far = corners.reduce(f64::min)?.min(STRAIGHT_MM[1]);
        if far < STRAIGHT_MM[0] {
            return None;
        }
        let start = run.point(self.to);
        // Up to shortly before the next corner, which may be rounded.
        let far = far - 1.0;
        let end = run.point(self.to + sense * far);
        let down = unit(end - start);
        let off = (1..20).map(|i| (run.point(self.to + sense * far * f64::from(i) / 20.0) - start).cross(down).abs());
        (off.fold(0.0, f64::max) <= STRAIGHT_OFF_MM).then_some((down, far))
    }
}

/// Whether an edge is a whole neckline, by its mirror and that of the outline around it.
fn is_whole(outline: &Outline, line: &Run, way: &Way, pointed: &Chosen) -> Result<bool, NoEdge> {
    let Some(mirror) = Mirror::of(line) else { return Ok(false) };
    if mirror.off(line) > MIRROR_MM[0] {
        return Ok(false);
    }
    if outline.run.is_closed() {
        return Ok(mirror.off_outline(&outline.run) <= MIRROR_MM[1]);
    }
    // A quarter circle is its own mirror too. Half is what meets a centre line squarely.
    let square = |down: Vec2| (turn_deg(line.direction(line.length()), down) - 90.0).abs() <= SQUARE_DEG;
    match (pointed.down, way.straight_on(outline)) {
        (Some(_), _) => Ok(false),
        (None, _) if way.begins_at_an_end(&outline.run) => Err(NoEdge::HalfOrWhole),
        (None, Some((down, _))) => Ok(!square(down)),
        (None, None) => Err(NoEdge::HalfOrWhole),
    }
}

/// The line about which an edge would be its own mirror: through the middle between its ends, square to the way between them.
struct Mirror {
    middle: Point,
    /// From the first end to the second.
    across: Vec2,
}

impl Mirror {
    fn of(line: &Run) -> Option<Self> {
        let (from, to) = (line.point(0.0), line.point(line.length()));
        (from.distance(to) > SHORTEST_MM).then(|| Self { middle: from.midpoint(to), across: unit(to - from) })
    }

    fn mirrored(&self, p: Point) -> Point {
        p - self.across * (2.0 * (p - self.middle).dot(self.across))
    }

    /// How far an edge is from its own mirror at most, mm.
    fn off(&self, line: &Run) -> f64 {
        let places = (1..32).map(|i| line.length() * f64::from(i) / 64.0);
        places.map(|at| line.nearest(self.mirrored(line.point(at))).1).fold(0.0, f64::max)
    }

    /// How far an outline is from its own mirror at most, mm.
    fn off_outline(&self, run: &Run) -> f64 {
        let places = (0..60).map(|i| run.length() * f64::from(i) / 60.0);
        places.map(|at| run.nearest(self.mirrored(run.point(at))).1).fold(0.0, f64::max)
    }

    /// How far along an edge it crosses the centre line.
    fn crossing(&self, line: &Run) -> f64 {
        let side = |at: f64| (line.point(at) - self.middle).dot(self.across);
        let (mut low, mut high) = (0.0, line.length());
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if side(middle) < 0.0 { low = middle } else { high = middle }
        }
        (low + high) / 2.0
    }
}

/// An edge before it is known how it hangs.
struct Found {
    line: Run,
    smoothed: bool,
    notches: usize,
    scale_off: f64,
}

impl Found {
    fn whole(self, said: bool) -> Result<Edge, NoEdge> {
        let mirror = Mirror::of(&self.line).ok_or(NoEdge::EndsTogether)?;
        let off = mirror.off(&self.line);
        if off > 10.0 * MIRROR_MM[0] || (!said && off > MIRROR_MM[0]) {
            return Err(NoEdge::NotMirrored(off));
        }
        let at = mirror.crossing(&self.line);
        let first = self.line.part(0.0, at);
        let centre = self.line.point(at);
        let aside = Vec2::new(-mirror.across.y, mirror.across.x);
        let down = if (centre - mirror.middle).dot(aside) >= 0.0 { aside } else { -aside };
        let unlike = (self.line.length() - 2.0 * at).abs() / 2.0;
        let edge = self.hung(&first, down, CentreFrom::Mirror, unlike)?;
        Ok(Edge { whole: true, mirror_off_mm: Some(off), ..edge })
    }

    fn half(self, outline: &Outline, way: &Way, pointed: &Chosen) -> Result<Edge, NoEdge> {
        let centre = self.line.point(self.line.length());
        let (down, from) = match pointed.down {
            Some(Down::To(to)) if to.distance(centre) > SHORTEST_MM => (unit(to - centre), CentreFrom::Pointed),
            Some(Down::Along(down)) => (down, CentreFrom::Pointed),
            _ => (way.down(outline, &self.line)?, CentreFrom::Outline),
        };
        let part = self.line.segments().to_vec();
        self.hung(&part, down, from, 0.0)
    }

    /// The half, from its neck point to the centre, as it hangs beside the centre line.
    fn hung(&self, part: &[PathSeg], down: Vec2, centre_from: CentreFrom, unlike: f64) -> Result<Edge, NoEdge> {
        let (Some(neck), Some(centre)) = (part.first().map(PathSeg::start), part.last().map(PathSeg::end)) else {
            return Err(NoEdge::EndsTogether);
        };
        let aside = Vec2::new(-down.y, down.x);
        let out = if (neck - centre).dot(aside) >= 0.0 { aside } else { -aside };
        let (width_mm, depth_mm) = ((neck - centre).dot(out), (centre - neck).dot(down));
        if width_mm < LEAST_MM[0] || depth_mm < LEAST_MM[1] {
            return Err(NoEdge::NotCentreToNeck([width_mm, depth_mm]));
        }
        let frame =
            kurbo::Affine::new([out.x, down.x, out.y, down.y, -out.dot(centre.to_vec2()), -down.dot(neck.to_vec2())]);
        let hung: Vec<PathSeg> = part.iter().rev().map(|s| frame * s.reverse()).collect();
        let length_mm: f64 = hung.iter().map(|s| s.arclen(ACCURACY_MM)).sum();
        if hung.len() > MOST_SEGMENTS || length_mm > LONGEST_MM {
            return Err(NoEdge::NoNeckline(length_mm));
        }
        let over = hung.iter().flat_map(|s| (0..=8).map(move |i| -s.eval(f64::from(i) / 8.0).x)).fold(0.0, f64::max);
        if over > OVER_MM {
            return Err(NoEdge::OverCentre(over));
        }
        let sampled = if self.smoothed { SAMPLED_SHARE * length_mm } else { 0.0 };
        let parts = [FILE_MM, sampled, self.scale_off * length_mm, unlike];
        Ok(Edge {
            half: path_of(&hung, false, 1.0),
            length_mm,
            width_mm,
            depth_mm,
            uncertainty_mm: parts.iter().map(|part| part * part).sum::<f64>().sqrt(),
            over: self.line.segments().to_vec(),
            whole: false,
            mirror_off_mm: None,
            centre_from,
            down,
            smoothed: self.smoothed,
            notches: self.notches,
        })
    }
}
