//! Helpers for the checks of Lieflat against references from outside the project, and for its benchmarks.

pub mod brief_cases;
pub mod garments;
pub mod generated;
pub mod realistic;

use lieflat::brief::{
    Band, Brief, Centre, Drafted, Drawn, Facing, Finish, Half, Knit, Layers, Outline, PointFinish, PoissonRatio,
    ReadingsAt, Shape, ShapeKind, Stretch,
};

/// Asserts that a figure is the one expected.
///
/// # Panics
/// Where it is further off than `within`, saying `what` it is.
#[track_caller]
pub fn close(got: f64, expected: f64, within: f64, what: &str) {
    assert!((got - expected).abs() <= within, "{what}: {got} is not within {within} of {expected}");
}

/// A half drawn as a path, without shoulder or centre allowances.
#[must_use]
pub fn drawn(path_mm: &str) -> Half {
    half(Outline::Drawn(Drawn { path_mm: path_mm.to_owned(), uncertainty_mm: None }))
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
    Knit {
        kind: None,
        // Checks by hand are of strips that keep their width; narrowing has checks of its own.
        poisson_ratio: Some(PoissonRatio { crosswise: Some(0.0), lengthwise: Some(0.0) }),
        swatch_width: None,
        name: None,
        crosswise,
        lengthwise: None,
        diagonal: None,
        thickness_mm: Some(0.0),
        elastane_percent: None,
        learned: Vec::new(),
    }
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

/// The worked briefs of `tests/briefs`, by their file names.
///
/// # Panics
/// Where one of them cannot be read: they are part of the project.
#[must_use]
pub fn worked_briefs() -> Vec<(String, Brief)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("briefs");
    let entries = std::fs::read_dir(folder).expect("the folder of briefs is there");
    let mut files: Vec<_> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    files.sort();
    let named = |path: &std::path::PathBuf| {
        let name = path.file_stem()?.to_string_lossy().into_owned();
        (path.extension()? == "json").then(|| (name, read_brief(path)))
    };
    files.iter().filter_map(named).collect()
}

fn read_brief(path: &std::path::Path) -> Brief {
    let text = std::fs::read_to_string(path).expect("a worked brief reads");
    Brief::from_json(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// An understitched facing of this finished width, its outer edge overlocked.
#[must_use]
pub fn facing(width_mm: f64) -> Finish {
    Finish::Facing(Facing { width_mm, understitch_mm: 1.6, edge_allowance_mm: 0.0, topstitch_mm: None })
}
