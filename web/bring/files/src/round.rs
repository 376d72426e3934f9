//! Arcs and ellipses as cubics, and cubics through places of a curve.

use kurbo::{Affine, Arc, BezPath, Point, Rect, Vec2};

/// How near an arc's cubics come to it, as a share of its larger radius: a length within a hundred-millionth.
const ARC_SHARE: f64 = 1e-7;

/// Most halvings of a piece of a curve.
const MOST_HALVINGS: u32 = 10;

/// Draws on along an arc of an ellipse, whose start is where the path is.
pub(crate) fn add_arc(path: &mut BezPath, arc: &Arc) {
    let near = ARC_SHARE * arc.radii.x.abs().max(arc.radii.y.abs()).max(f64::MIN_POSITIVE);
    arc.to_cubic_beziers(near, |a, b, to| path.curve_to(a, b, to));
}

/// Where an arc begins.
pub(crate) fn start_of(arc: &Arc) -> Point {
    let at = Vec2::new(arc.radii.x * arc.start_angle.cos(), arc.radii.y * arc.start_angle.sin());
    arc.center + (Affine::rotate(arc.x_rotation) * at.to_point()).to_vec2()
}

/// An arc, or a whole ellipse, as a path of its own.
pub(crate) fn arc_path(arc: &Arc, closed: bool) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(start_of(arc));
    add_arc(&mut path, arc);
    if closed {
        path.close_path();
    }
    path
}

/// A whole ellipse.
pub(crate) fn whole(center: Point, radii: Vec2) -> BezPath {
    arc_path(&Arc { center, radii, start_angle: 0.0, sweep_angle: core::f64::consts::TAU, x_rotation: 0.0 }, true)
}

/// Draws on along a curve that is given by its places from 0 to 1: by cubics through four of them each, cut finer until what lies
/// between is within `near`. A cubic is drawn exactly, at once.
pub(crate) fn add_curve(path: &mut BezPath, place: &dyn Fn(f64) -> Point, near: f64) {
    add_piece(path, place, (0.0, 1.0), near, MOST_HALVINGS);
}

fn add_piece(path: &mut BezPath, place: &dyn Fn(f64) -> Point, (from, to): (f64, f64), near: f64, halvings: u32) {
    let at = |share: f64| place(from + (to - from) * share).to_vec2();
    let (p0, q1, q2, p3) = (at(0.0), at(1.0 / 3.0), at(2.0 / 3.0), at(1.0));
    let p1 = (p0 * -5.0 + q1 * 18.0 - q2 * 9.0 + p3 * 2.0) / 6.0;
    let p2 = (p0 * 2.0 - q1 * 9.0 + q2 * 18.0 - p3 * 5.0) / 6.0;
    let cubic = |t: f64| {
        let s = 1.0 - t;
        p0 * (s * s * s) + p1 * (3.0 * s * s * t) + p2 * (3.0 * s * t * t) + p3 * (t * t * t)
    };
    let off = [1.0 / 6.0, 0.5, 5.0 / 6.0].map(|t| (cubic(t) - at(t)).hypot()).into_iter().fold(0.0, f64::max);
    if off <= near || halvings == 0 || !off.is_finite() {
        path.curve_to(p1.to_point(), p2.to_point(), p3.to_point());
        return;
    }
    let middle = f64::midpoint(from, to);
    add_piece(path, place, (from, middle), near, halvings - 1);
    add_piece(path, place, (middle, to), near, halvings - 1);
}

/// A box around points.
pub(crate) fn around(points: &[Point]) -> Rect {
    let boxes = points.iter().map(|p| Rect::from_points(*p, *p));
    boxes.reduce(|all, one| all.union(one)).unwrap_or_default()
}
