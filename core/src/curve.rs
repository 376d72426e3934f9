//! Plane curves as the neckline meets them: direction, signed curvature, and the curve moved sideways.
//!
//! The offset of a Bezier at distance d is kept exactly, as the pair (Bezier, d): its points are
//! c(t) + d n(t), its direction is that of c'(t), its speed is |c'(t)| (1 + d k(t)). So no offset is
//! ever fitted, and its length is L + d theta with no error but that of L.

use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv, PathSeg, Point, Vec2};

/// Nodes and weights of the 8-point Gauss-Legendre rule on [-1, 1], positive half.
/// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4 (recomputed).
const GAUSS_8: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_48),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];

/// Integrates over [a, b] by the 8-point Gauss-Legendre rule.
pub(crate) fn gauss(a: f64, b: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mid, half) = (0.5 * (a + b), 0.5 * (b - a));
    half * GAUSS_8.iter().map(|&(x, w)| w * (f(mid - half * x) + f(mid + half * x))).sum::<f64>()
}

/// The garment side of a direction: a quarter turn clockwise on the page (y runs down).
pub(crate) fn garment_side(direction: Vec2) -> Vec2 {
    Vec2::new(-direction.y, direction.x)
}

/// An angle's tangent, by its sine and cosine: the library's own is a kilobyte more to download.
#[inline(never)]
pub(crate) fn tangent(angle: f64) -> f64 {
    let (sine, cosine) = angle.sin_cos();
    sine / cosine
}

/// The signed angle from one direction to another as turning: positive where the centre of the turn is
/// on the opening side. Radians, -pi to pi.
pub(crate) fn turn_between(from: Vec2, to: Vec2) -> f64 {
    // y runs down, so the usual counter-clockwise angle has its sign turned.
    -from.cross(to).atan2(from.dot(to))
}

/// A cubic Bezier with its derivatives at hand. Lines and quadratics are raised to cubics exactly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Arc {
    curve: CubicBez,
    velocity: kurbo::QuadBez,
    acceleration: kurbo::Line,
    /// On a straight line of even speed: that speed, and the direction all along.
    straight: Option<(f64, Vec2)>,
    /// A velocity under this is the slip of a handle and no direction, mm per unit of t.
    slip: f64,
}

/// A place of an arc: where it is, which way the arc goes there, and how it bends, 1/mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Place {
    pub point: Point,
    pub direction: Vec2,
    pub k: f64,
}

impl Arc {
    pub(crate) fn new(curve: CubicBez) -> Self {
        let velocity = curve.deriv();
        let acceleration = velocity.deriv();
        let speed = velocity.p0.to_vec2().hypot();
        let unchanging = |v: Point| v.to_vec2().hypot() <= 1e-12 * speed;
        let even = unchanging(acceleration.p0) && unchanging(acceleration.p1);
        let size = (curve.p3 - curve.p0).hypot2().max((curve.p1 - curve.p2).hypot2()).sqrt();
        let arc = Self { curve, velocity, acceleration, straight: None, slip: 1e-9 * size.max(1e-300) };
        Self { straight: even.then(|| (speed, arc.direction(0.0))), ..arc }
    }

    /// Whether it is a straight line of even speed.
    pub(crate) fn is_straight(&self) -> bool {
        self.straight.is_some()
    }

    /// The Bezier itself.
    pub(crate) fn curve(&self) -> CubicBez {
        self.curve
    }

    pub(crate) fn point(&self, t: f64) -> Point {
        self.curve.eval(t)
    }

    /// |c'(t)|, mm per unit of t.
    pub(crate) fn speed(&self, t: f64) -> f64 {
        self.velocity.eval(t).to_vec2().hypot()
    }

    /// The unit direction of travel. Where the velocity vanishes (a handle of no length) the limit is taken.
    pub(crate) fn direction(&self, t: f64) -> Vec2 {
        if let Some((_, direction)) = self.straight {
            return direction;
        }
        let v = self.velocity.eval(t).to_vec2();
        self.along(t, v, v.hypot())
    }

    /// The direction of a velocity of this size.
    fn along(&self, t: f64, v: Vec2, speed: f64) -> Vec2 {
        if speed > self.slip {
            return v / speed;
        }
        // l'Hopital: forward from the start, backward from the end.
        let a = self.acceleration.eval(t).to_vec2();
        let a = if t < 0.5 { a } else { -a };
        if a.hypot() > 0.0 {
            return a / a.hypot();
        }
        let chord = self.curve.p3 - self.curve.p0;
        if chord.hypot() > 0.0 { chord / chord.hypot() } else { Vec2::new(1.0, 0.0) }
    }

    /// Signed curvature, 1/mm, positive where its centre is on the opening side.
    pub(crate) fn curvature(&self, t: f64) -> f64 {
        if self.straight.is_some() {
            return 0.0;
        }
        let v = self.velocity.eval(t).to_vec2();
        self.bend(t, v, v.hypot())
    }

    /// The curvature at a velocity of this size.
    fn bend(&self, t: f64, v: Vec2, speed: f64) -> f64 {
        let a = self.acceleration.eval(t).to_vec2();
        if speed > 0.0 { -v.cross(a) / (speed * speed * speed) } else { 0.0 }
    }

    /// All that there is to know of a place.
    pub(crate) fn place(&self, t: f64) -> Place {
        let point = self.point(t);
        if let Some((_, direction)) = self.straight {
            return Place { point, direction, k: 0.0 };
        }
        let v = self.velocity.eval(t).to_vec2();
        let speed = v.hypot();
        Place { point, direction: self.along(t, v, speed), k: self.bend(t, v, speed) }
    }

    /// The point at distance `d` to the garment side.
    pub(crate) fn offset_point(&self, t: f64, d: f64) -> Point {
        self.point(t) + d * garment_side(self.direction(t))
    }

    /// Arc length over [a, b], mm.
    pub(crate) fn length(&self, a: f64, b: f64, panels: u32) -> f64 {
        if let Some((speed, _)) = self.straight {
            return speed * (b - a);
        }
        let step = (b - a) / f64::from(panels);
        (0..panels).map(|i| gauss(a + f64::from(i) * step, a + f64::from(i + 1) * step, |t| self.speed(t))).sum()
    }
}

/// A straight line as a cubic of even speed, with its handles at the thirds.
pub(crate) fn straight(from: Point, to: Point) -> CubicBez {
    let third = (to - from) / 3.0;
    CubicBez::new(from, from + third, to - third, to)
}

/// A path's segment as a cubic; unlike kurbo's own raising, a line keeps an even speed.
pub(crate) fn raised(segment: PathSeg) -> CubicBez {
    match segment {
        PathSeg::Line(line) => straight(line.p0, line.p1),
        other => other.to_cubic(),
    }
}

/// Finds where `g` crosses zero between two places, to within `accuracy` in g's own unit, given the values there, each beside
/// its place and of unlike sign: the secant held within its bracket by lessening a stale end's value to the share of its own
/// that the newer end's has lost (Anderson and Bjoerck 1973, from memory), to half of it at least (the Illinois rule; Dowell and
/// Jarratt 1971, from memory). What is solved here is nearly straight, where it takes half the steps of a method that shrinks its
/// bracket from both ends.
pub(crate) fn crossing(mut far: (f64, f64), mut near: (f64, f64), accuracy: f64, mut g: impl FnMut(f64) -> f64) -> f64 {
    const MOST_STEPS: usize = 80;
    if far.1.abs() <= accuracy {
        return far.0;
    }
    for _ in 0..MOST_STEPS {
        if near.1.abs() <= accuracy || near.1 == far.1 {
            break;
        }
        let x = (far.0 * near.1 - near.0 * far.1) / (near.1 - far.1);
        let value = g(x);
        if value * near.1 < 0.0 {
            far = near;
        } else {
            far.1 *= (1.0 - value / near.1).max(0.5);
        }
        near = (x, value);
    }
    near.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn curvature_is_positive_round_the_opening() {
        // A quarter circle of radius 70 about the origin, from centre front up to the neck point.
        let k = 0.552_284_749_830_793_5 * 70.0;
        let arc = Arc::new(CubicBez::new((0.0, 70.0), (k, 70.0), (70.0, k), (70.0, 0.0)));
        assert!((arc.curvature(0.5) - 1.0 / 70.0).abs() < 1e-4, "about 1/70 in the middle of the arc");
        let turn = turn_between(arc.direction(0.0), arc.direction(1.0));
        assert!((turn - core::f64::consts::FRAC_PI_2).abs() < 1e-12, "a quarter turn");
        assert!((arc.offset_point(0.0, 10.0).y - 80.0).abs() < 1e-12, "the garment lies below centre front");
        assert!((arc.offset_point(1.0, 10.0).x - 80.0).abs() < 1e-12, "and outside the neck point");
    }

    #[test]
    fn a_handle_of_no_length_still_has_a_direction() {
        let arc = Arc::new(CubicBez::new((0.0, 0.0), (0.0, 0.0), (1.0 / 3.0, 0.0), (1.0, 1.0)));
        assert!((arc.direction(0.0).x - 1.0).abs() < 1e-9, "the limit at the start runs along x");
    }

    #[test]
    fn a_direction_is_the_limit_wherever_a_velocity_vanishes() {
        let arc = |p0, p1, p2, p3| Arc::new(CubicBez::new(p0, p1, p2, p3));
        let near = |got: Vec2, x: f64, y: f64| (got - Vec2::new(x, y)).hypot() < 1e-6;
        // By the control polygon: from the second handle's neighbour to the end, (1/3, -1).
        let end = arc((0.0, 0.0), (2.0 / 3.0, 1.0), (1.0, 0.0), (1.0, 0.0)).direction(1.0);
        assert!(near(end, 1.0 / 10.0_f64.sqrt(), -3.0 / 10.0_f64.sqrt()), "without a handle at the end: {end:?}");
        // Three points on one place: the way to the fourth, a right triangle of 3, 4 and 5.
        let start = arc((0.0, 0.0), (0.0, 0.0), (0.0, 0.0), (3.0, 4.0)).direction(0.0);
        assert!(near(start, 0.6, 0.8), "without two handles: {start:?}");
        let point = arc((1.0, 1.0), (1.0, 1.0), (1.0, 1.0), (1.0, 1.0)).direction(0.0);
        assert!(near(point, 1.0, 0.0), "a point has some direction, and no missing number: {point:?}");
        // A handle of a ten millionth of a mm on a curve of a metre is a slip and not a direction.
        let slip = arc((0.0, 0.0), (0.0, 1e-7), (500.0, 0.0), (1000.0, 0.0)).direction(0.0);
        assert!(near(slip, 1.0, 0.0), "the curve's own way: {slip:?}");
        // On a curve of a hundredth of a millimetre the same handle is one.
        let small = arc((0.0, 0.0), (0.0, 1e-7), (0.01, 0.0), (0.01, 0.0)).direction(0.0);
        assert!(near(small, 0.0, 1.0), "the handle's way: {small:?}");
    }

    #[test]
    fn a_crossing_is_found_from_either_side() {
        let crossing = |a: f64, b: f64, accuracy: f64, g: fn(f64) -> f64| crossing((a, g(a)), (b, g(b)), accuracy, g);
        // The cube root of 2, a falling line, and ends that are themselves the crossing.
        let cube = crossing(0.0, 2.0, 1e-13, |x| x * x * x - 2.0);
        assert!((cube - 2.0_f64.cbrt()).abs() < 1e-12, "rising: {cube}");
        let line = crossing(0.0, 10.0, 1e-12, |x| 3.0 - x);
        assert!((line - 3.0).abs() < 1e-12, "falling: {line}");
        assert_eq!(crossing(0.0, 1.0, 1e-12, |x| x), 0.0, "at the start");
        assert_eq!(crossing(-1.0, 0.0, 1e-12, |x| x), 0.0, "at the end");
        // Bent so that a plain secant keeps one end for good: within the accuracy in the function's own unit.
        let bent = crossing(0.0, 1.0, 1e-9, |x| x.powi(9) - 1e-3);
        assert!((bent.powi(9) - 1e-3).abs() <= 1e-9, "bent: {bent}");
    }

    #[test]
    fn a_length_is_that_of_its_part() {
        // A straight line is as long as its part; a quarter circle's half is half as long.
        let line = Arc::new(straight(Point::new(0.0, 0.0), Point::new(30.0, 40.0)));
        assert!((line.length(0.25, 0.75, 1) - 25.0).abs() < 1e-12, "half of 50 mm");
        let k = 0.552_284_749_830_793_5;
        let arc = Arc::new(CubicBez::new((0.0, 1.0), (k, 1.0), (1.0, k), (1.0, 0.0)));
        let (half, whole) = (arc.length(0.0, 0.5, 2), arc.length(0.0, 1.0, 4));
        assert!((2.0 * half - whole).abs() < 1e-9, "by symmetry");
        assert!((whole - core::f64::consts::FRAC_PI_2).abs() < 1e-3, "within the cubic's own error");
    }
}
