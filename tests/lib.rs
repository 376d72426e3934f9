//! Helpers for the checks of Lieflat against references from outside the project, and for its benchmarks.

use lieflat::brief::{
    Band, Brief, Centre, Drafted, Drawn, Finish, Half, Knit, Layers, Outline, PointFinish, ReadingsAt, Shape,
    ShapeKind, Stretch,
};

/// A half drawn as a path, without shoulder or centre allowances.
#[must_use]
pub fn drawn(path_mm: &str) -> Half {
    half(Outline::Drawn(Drawn { path_mm: path_mm.to_owned() }))
}

/// A drafted half, without shoulder or centre allowances.
#[must_use]
pub fn drafted(half_width_mm: f64, depth_mm: f64, shape: Shape) -> Half {
    half(Outline::Drafted(Drafted { half_width_mm, depth_mm, shape }))
}

/// A half on the fold without a shoulder allowance or slope.
#[must_use]
pub fn half(outline: Outline) -> Half {
    Half { outline, centre: Centre::Fold, shoulder_allowance_mm: 0.0, shoulder_slope_deg: 0.0 }
}

/// The invented example with other halves, read at the cut edge with this neckline allowance.
#[must_use]
pub fn brief(front: Half, back: Half, neckline_allowance_mm: f64) -> Brief {
    let mut brief = lieflat::example::brief();
    brief.neckline.front = front;
    brief.neckline.back = back;
    brief.neckline.neckline_allowance_mm = neckline_allowance_mm;
    brief.neckline.readings_at = ReadingsAt::CutEdge;
    brief
}

/// A folded band of this finished width by the rule.
#[must_use]
pub fn band(width_mm: f64) -> Finish {
    Finish::Band(Band {
        width_mm,
        layers: Layers::Folded,
        point: PointFinish::Mitre,
        join_allowance_mm: 0.0,
        ratio_percent: None,
    })
}

/// A knit by its crosswise percentages alone.
#[must_use]
pub fn knit(stretch_percent: f64, recovery_percent: f64) -> Knit {
    let crosswise = Stretch::Percent { stretch_percent, recovery_percent: Some(recovery_percent) };
    Knit { name: None, crosswise, lengthwise: None, diagonal: None, thickness_mm: Some(0.0), elastane_percent: None }
}

/// A quarter of an ellipse from (0, b) to (a, 0) in four cubics by angle, each within 1e-7 of the ellipse's size.
#[must_use]
pub fn quarter_ellipse(a: f64, b: f64, arcs: u32) -> String {
    let step = core::f64::consts::FRAC_PI_2 / f64::from(arcs);
    let handle = 4.0 / 3.0 * (step / 4.0).tan();
    let mut path = format!("M 0 {b}");
    for i in 0..arcs {
        let (u, v) = (f64::from(i) * step, f64::from(i + 1) * step);
        let at = |t: f64| (a * t.sin(), b * t.cos());
        let slope = |t: f64| (a * t.cos(), -b * t.sin());
        let ((x0, y0), (dx0, dy0), (x3, y3), (dx3, dy3)) = (at(u), slope(u), at(v), slope(v));
        path += &format!(
            " C {} {} {} {} {x3} {y3}",
            x0 + handle * dx0,
            y0 + handle * dy0,
            x3 - handle * dx3,
            y3 - handle * dy3
        );
    }
    path
}

/// The plain shape of a kind.
#[must_use]
pub fn plain(kind: ShapeKind) -> Shape {
    Shape::plain(kind)
}
