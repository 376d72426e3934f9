//! From readings or a draft to a real curve: the line a half is known by, from the centre to the neck point.

use std::rc::Rc;

use kurbo::{Affine, CubicBez, Point, Vec2};

use crate::brief::{ShapeKind, neckline};
use crate::curve::{Arc, crossing, straight, tangent};
use crate::error::Problem;

/// The handle of a quarter circle as a share of the way to its corner, 4/3 (sqrt 2 - 1).
const QUARTER_CIRCLE: f64 = 0.552_284_749_830_793_4;
/// Panels of an arc's length while solving; the 8-point rule leaves no error that shows.
const PANELS: u32 = 3;
/// How near a solved outline's length comes to the length that was read, mm: far under any reading.
const SOLVE_ACCURACY: f64 = 1e-8;

/// A half's shape with every number it needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ShapeGiven {
    pub kind: ShapeKind,
    /// Fraction, 0 to 1.
    pub roundness: f64,
    pub corner_radius: f64,
    /// Share of the leg.
    pub leg_hollow: f64,
}

/// What a half is known by, checked.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum OutlineGiven {
    Drafted { width: f64, depth: f64, shape: ShapeGiven },
    Measured { length: f64, width: Option<f64>, depth: Option<f64>, shape: ShapeGiven },
    Drawn(Rc<[Arc]>),
}

/// The line a half is known by; or the problem, and the range of lengths that its other readings allow, mm.
pub(crate) type Drawn = Result<Rc<[Arc]>, (Problem, f64, f64)>;

/// The fullness taken where none is given. A round is a quarter circle where width, depth and shoulder allow.
pub(crate) fn usual_roundness(kind: ShapeKind) -> f64 {
    match kind {
        ShapeKind::Scoop => 0.68,
        ShapeKind::Boat => 0.6,
        ShapeKind::Round | ShapeKind::V | ShapeKind::Square => QUARTER_CIRCLE,
    }
}

/// A shoulder as drafted: its slope and the allowance beyond its seam line, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shoulder {
    allowance: f64,
    tangent: f64,
    cosine: f64,
}

impl Shoulder {
    /// With its slope in radians.
    pub(crate) fn new(slope: f64, allowance: f64) -> Self {
        Self { allowance, tangent: tangent(slope), cosine: slope.cos() }
    }
}

/// Draws a half in place of what `to` held. The neck point is (width, 0), the centre (0, depth).
fn draft(to: &mut Vec<Arc>, width: f64, depth: f64, shape: &ShapeGiven, shoulder: Shoulder) {
    let centre = Point::new(0.0, depth);
    let neck = Point::new(width, 0.0);
    to.clear();
    match shape.kind {
        ShapeKind::Round | ShapeKind::Scoop => {
            // The end runs square to the shoulder, so that front and back join smoothly there, and goes on
            // straight through the shoulder's allowance, unless the piece is too deep or too shallow for it.
            let tilt = shoulder.tangent.min(width / (2.0 * depth));
            let run = shoulder.allowance.min(0.4 * depth) * shoulder.cosine;
            let seam = neck + run * Vec2::new(-tilt, 1.0);
            to.push(toward_corner(centre, Point::new(width - depth * tilt, depth), seam, shape.roundness));
            if run > 0.0 {
                to.push(line(seam, neck));
            }
        }
        ShapeKind::Boat => to.push(toward_corner(centre, Point::new(0.5 * width, depth), neck, shape.roundness)),
        ShapeKind::V => to.push(leg(centre, neck, shape.leg_hollow)),
        ShapeKind::Square => square(to, centre, neck, shape.corner_radius),
    }
}

/// A cubic whose end tangents meet at `corner`; `roundness` is how far its handles go there. Where one way
/// to the corner is much longer the handles reach further, which keeps the short end from turning too tightly:
/// the exponents hold a back neck of 90 by 20 mm to a radius of about 25 mm (our judgement).
fn toward_corner(from: Point, corner: Point, to: Point, roundness: f64) -> Arc {
    let (p, q) = ((corner - from).hypot(), (corner - to).hypot());
    let aspect = p.min(q) / p.max(q);
    let (long, short) = (1.0 - (1.0 - roundness) * aspect.powf(0.42), 1.0 - (1.0 - roundness) * aspect);
    let (at_from, at_to) = if p >= q { (long, short) } else { (short, long) };
    Arc::new(CubicBez::new(from, from + at_from * (corner - from), to + at_to * (corner - to), to))
}

fn leg(from: Point, to: Point, hollow: f64) -> Arc {
    let chord = to - from;
    // A cubic's middle moves by 3/4 of its handles' shift.
    let shift = Vec2::new(-chord.y, chord.x) * (hollow * 4.0 / 3.0);
    Arc::new(CubicBez::new(from, from + chord / 3.0 + shift, from + chord * (2.0 / 3.0) + shift, to))
}

fn line(from: Point, to: Point) -> Arc {
    Arc::new(straight(from, to))
}

fn square(to: &mut Vec<Arc>, centre: Point, neck: Point, radius: f64) {
    let r = radius.min(0.95 * neck.x).min(0.95 * centre.y);
    let corner = Point::new(neck.x, centre.y);
    if r <= 0.0 {
        to.extend([line(centre, corner), line(corner, neck)]);
        return;
    }
    let (a, b) = (corner - Vec2::new(r, 0.0), corner - Vec2::new(0.0, r));
    let k = QUARTER_CIRCLE;
    let bend = CubicBez::new(a, a + Vec2::new(k * r, 0.0), b + Vec2::new(0.0, k * r), b);
    to.extend([line(centre, a), Arc::new(bend), line(b, neck)]);
}

/// Length of a curve, mm.
pub(crate) fn length(arcs: &[Arc]) -> f64 {
    arcs.iter().map(|arc| arc.length(0.0, 1.0, PANELS)).sum()
}

/// Makes the curve that is as long as it was read, mm, by the number between these ends that was not read.
fn solve(
    arcs: &mut Vec<Arc>,
    target: f64,
    [lo, hi]: [f64; 2],
    make: impl Fn(&mut Vec<Arc>, f64),
) -> Result<(), (Problem, f64, f64)> {
    let mut long = |x: f64| {
        make(arcs, x);
        length(arcs)
    };
    let (least, most) = (long(lo), long(hi));
    if !(least <= target && target <= most) {
        return Err((Problem::NoSuchShape, least, most));
    }
    let ends = ((lo, least - target), (hi, most - target));
    let x = crossing(ends.0, ends.1, SOLVE_ACCURACY, |x| long(x) - target);
    make(arcs, x);
    Ok(())
}

/// The same where every length from the least on has a shape, as far as lengths go.
fn any_longer((problem, least, _): (Problem, f64, f64)) -> (Problem, f64, f64) {
    (problem, least, neckline::HALF_LENGTH_MM[1])
}

impl OutlineGiven {
    /// The curve. A measured half is solved for the number that was not read: depth, width or roundness.
    pub(crate) fn arcs(&self, shoulder: Shoulder) -> Drawn {
        let mut arcs = Vec::new();
        match self {
            Self::Drafted { width, depth, shape } => draft(&mut arcs, *width, *depth, shape, shoulder),
            Self::Drawn(drawn) => return Ok(Rc::clone(drawn)),
            Self::Measured { length: target, width, depth, shape } => match (*width, *depth) {
                (Some(w), Some(d)) => solve(&mut arcs, *target, [0.05, 0.95], |to, x| {
                    draft(to, w, d, &shape.filled(x, w.min(d)), shoulder);
                })?,
                // A line is longer than it is wide, and than it is deep: with one of them alone every greater length has a shape.
                (Some(w), None) => {
                    solve(&mut arcs, *target, [0.5, target.max(1.0)], |to, d| draft(to, w, d, shape, shoulder))
                        .map_err(any_longer)?;
                }
                (None, Some(d)) => {
                    solve(&mut arcs, *target, [1.0, target.max(2.0)], |to, w| draft(to, w, d, shape, shoulder))
                        .map_err(any_longer)?;
                }
                (None, None) => return Err((Problem::Missing, 0.0, 0.0)),
            },
        }
        Ok(arcs.into())
    }

    /// Draws a drawn line longer by so much, mm, larger alike in every direction; false where it is not a drawn one.
    pub(crate) fn lengthen(&mut self, by: f64) -> bool {
        let Self::Drawn(arcs) = self else { return false };
        let scale = Affine::scale((1.0 + by / length(arcs)).max(0.1));
        *arcs = arcs.iter().map(|arc| Arc::new(scale * arc.curve())).collect();
        true
    }

    pub(crate) fn shape_mut(&mut self) -> Option<&mut ShapeGiven> {
        match self {
            Self::Drafted { shape, .. } | Self::Measured { shape, .. } => Some(shape),
            Self::Drawn(_) => None,
        }
    }
}

impl ShapeGiven {
    /// The same shape at another fullness: what length, width and depth together decide.
    fn filled(&self, x: f64, least_side: f64) -> Self {
        match self.kind {
            ShapeKind::Round | ShapeKind::Scoop | ShapeKind::Boat => Self { roundness: x, ..*self },
            // A fuller square has the smaller corner; a V may be hollowed or full by up to 8 percent.
            ShapeKind::Square => Self { corner_radius: (1.0 - x) * least_side, ..*self },
            ShapeKind::V => Self { leg_hollow: 0.09 * x, ..*self },
        }
    }
}
