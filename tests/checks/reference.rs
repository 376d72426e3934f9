//! The core against values worked out independently at high precision: `tests/reference/values.json`, written by
//! `tests/reference/make.sh`. Run with `--nocapture` for the largest errors.

use kurbo::{BezPath, ParamCurveNearest, PathSeg, Point};
use lieflat::brief::{Brief, Outline, ReadingsAt};
use lieflat::plan::{HalfLine, Plan};
use serde_json::Value;

/// Seam-line lengths, the design's bar. mm.
const LENGTH_MM: f64 = 0.001;
/// Places of a moved line, the design's bar. mm.
const OFFSET_MM: f64 = 0.01;
const TURNING_DEG: f64 = 1e-6;
/// A strip's relaxed length on a line without corners, worked out on the core's grid of 64 steps. mm.
const STRIP_MM: f64 = 0.1;
/// And on one with corners. mm.
const STRIP_CORNERED_MM: f64 = 0.2;

struct Case {
    name: String,
    values: Value,
    brief: Brief,
    plan: Plan,
}

fn cases() -> Vec<Case> {
    let document: Value = serde_json::from_str(include_str!("../reference/values.json")).expect("the values read");
    let cases = document["cases"].as_array().expect("a list of cases");
    assert!(cases.len() > 20, "there are cases to hold the core to");
    let case = |values: &Value| {
        let name = values["name"].as_str().expect("a name").to_owned();
        let brief = Brief::from_json(&values["brief"].to_string()).unwrap_or_else(|e| panic!("{name}: {e}"));
        let plan = lieflat::plan(&brief).unwrap_or_else(|e| panic!("{name}: {e}"));
        Case { name, values: values.clone(), brief, plan }
    };
    cases.iter().map(case).collect()
}

impl Case {
    fn halves(&self) -> [(&'static str, &HalfLine); 2] {
        [("front", &self.plan.seam_line.front), ("back", &self.plan.seam_line.back)]
    }

    fn value(&self, half: &str, figure: &str) -> f64 {
        number(&self.values[half][figure]).unwrap_or_else(|| panic!("{}: {half} has no {figure}", self.name))
    }
}

/// The values are text, so that no digit is lost where they are kept.
fn number(value: &Value) -> Option<f64> {
    value.as_str()?.parse().ok()
}

/// The largest error of a figure, and where it is.
#[derive(Default)]
struct Worst(f64, String);

impl Worst {
    fn take(&mut self, error: f64, place: &str) {
        assert!(error.is_finite(), "{place}: {error}");
        if error > self.0 {
            *self = Self(error, place.to_owned());
        }
    }

    fn within(&self, bound: f64, figure: &str) {
        println!("{figure}: largest error {:.2e}, {}", self.0, self.1);
        assert!(self.0 <= bound, "{figure}: {:.2e} is over {bound:.0e}: {}", self.0, self.1);
    }
}

/// The largest error of one figure over all cases and both halves.
fn worst(figure: &str, of: impl Fn(&HalfLine) -> f64, bound: f64) {
    let mut worst = Worst::default();
    for case in cases() {
        for (half, line) in case.halves() {
            worst.take((of(line) - case.value(half, figure)).abs(), &format!("{}, {half}", case.name));
        }
    }
    worst.within(bound, figure);
}

#[test]
fn seam_line_lengths_are_those_of_34_digit_quadrature() {
    worst("length_mm", |line| line.length_mm, LENGTH_MM);
}

#[test]
fn turnings_widths_and_depths_are_too() {
    worst("turning_deg", |line| line.turning_deg, TURNING_DEG);
    worst("half_width_mm", |line| line.half_width_mm, LENGTH_MM);
    worst("depth_mm", |line| line.depth_mm, LENGTH_MM);
}

#[test]
fn cut_edges_have_the_length_of_the_line_that_was_told() {
    let mut worst = Worst::default();
    for case in cases().iter().filter(|case| case.brief.neckline.readings_at == ReadingsAt::CutEdge) {
        for (half, line) in case.halves() {
            let error = (line.cut_edge_length_mm - case.value(half, "known_length_mm")).abs();
            worst.take(error, &format!("{}, {half}", case.name));
        }
    }
    worst.within(LENGTH_MM, "cut_edge_length_mm");
}

/// Corners are told apart from the grid, which leaves the beginnings and ends of limits and of straight runs: the ratio
/// bends there within a step.
#[test]
fn strips_have_the_length_of_the_rule_integrated_without_a_grid() {
    let (mut smooth, mut cornered) = (Worst::default(), Worst::default());
    for case in cases() {
        let strip = case.plan.strip.as_ref().expect("each case has a strip");
        let expected = number(&case.values["relaxed_length_mm"]).expect("a relaxed length");
        let corners = number(&case.values["corners_deg"]).expect("an angle");
        let error = (strip.relaxed_length_mm - expected).abs();
        println!("  {}: error {error:.4}", case.name);
        if corners < 1e-4 { &mut smooth } else { &mut cornered }.take(error, &case.name);
    }
    cornered.within(STRIP_CORNERED_MM, "relaxed length with corners");
    smooth.within(STRIP_MM, "relaxed length");
}

/// The path of a half: as it was drawn, or as the core tells it (to 1/1000 mm).
fn known(told: &lieflat::ToldHalf, outline: &Outline) -> Vec<PathSeg> {
    let text = match outline {
        Outline::Drawn(drawn) => &drawn.path_mm,
        _ => &told.path_mm,
    };
    BezPath::from_svg(text).expect("the path reads").segments().collect()
}

/// Distance to a path, mm; none where the nearest place is an end of one of its segments, where a mitre or an
/// extension lies further off.
fn distance(path: &[PathSeg], point: Point) -> Option<f64> {
    let nearest = path.iter().map(|segment| segment.nearest(point, 1e-9));
    let nearest = nearest.min_by(|a, b| a.distance_sq.total_cmp(&b.distance_sq))?;
    (1e-6..1.0 - 1e-6).contains(&nearest.t).then(|| nearest.distance_sq.sqrt())
}

#[test]
fn each_point_of_a_moved_line_is_as_far_from_the_known_line_as_was_asked() {
    let mut worst = Worst::default();
    let mut looked_at = 0;
    for case in cases().iter().filter(|case| case.brief.neckline.readings_at == ReadingsAt::CutEdge) {
        let told = lieflat::told(&case.brief).expect("the halves are told");
        let neckline = &case.brief.neckline;
        let halves = [(&told.front, &neckline.front), (&told.back, &neckline.back)];
        for ((half, line), (told, given)) in case.halves().into_iter().zip(halves) {
            let path = known(told, &given.outline);
            for p in &line.seam_line {
                // kurbo's own nearest point, which knows nothing of the core's offsets.
                let Some(far) = distance(&path, Point::new(p[0], p[1])) else { continue };
                looked_at += 1;
                worst.take((far - neckline.neckline_allowance_mm).abs(), &format!("{}, {half}: {p:?}", case.name));
            }
        }
    }
    assert!(looked_at > 500, "points were looked at: {looked_at}");
    worst.within(OFFSET_MM, "offset");
}
