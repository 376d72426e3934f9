//! Times the core and kurbo on the test outlines and whole plans on the worked briefs; prints JSON.

use std::hint::black_box;
use std::time::Instant;

use kurbo::{BezPath, PathSeg, Shape as _, segments};
use lieflat::Brief;
use lieflat::brief::Centre;
use lieflat_tests::{brief, drawn, worked_briefs};
use serde_json::{Value, json};

/// Batches of which the quickest counts, and how long each should take.
const BATCHES: u32 = 11;
const BATCH_MICROS: f64 = 20_000.0;
/// What kurbo is asked to keep to, mm.
const TOLERANCE: f64 = 1e-6;

fn main() {
    let given: Value = serde_json::from_str(include_str!("outlines.json")).expect("outlines.json reads");
    let offset = given["offset_mm"].as_f64().expect("an offset");
    let mut rows = Vec::new();
    for outline in given["outlines"].as_array().expect("outlines") {
        rows.extend(kurbo_rows(outline, offset));
        rows.extend(core_rows(outline, offset));
    }
    println!("{}", json!({ "rows": rows, "plans": worked_briefs().iter().flat_map(plan_rows).collect::<Vec<_>>() }));
}

/// Microseconds of one call: the quickest of several batches, which a busy machine disturbs least.
fn micros<T>(call: impl Fn() -> T) -> f64 {
    let batch = |calls: u32| {
        let began = Instant::now();
        for _ in 0..calls {
            black_box(call());
        }
        began.elapsed().as_secs_f64() * 1e6
    };
    let mut calls = 1;
    while batch(calls) < BATCH_MICROS && calls < 1 << 24 {
        calls *= 2;
    }
    (0..BATCHES).map(|_| batch(calls) / f64::from(calls)).fold(f64::INFINITY, f64::min)
}

fn row(outline: &Value, peer: &str, what: &str, micros: f64, mm: f64) -> Value {
    json!({ "outline": outline["name"], "peer": peer, "what": what, "micros": micros, "mm": mm })
}

fn kurbo_rows(outline: &Value, offset: f64) -> [Value; 2] {
    let path = BezPath::from_svg(outline["path"].as_str().expect("a path")).expect("an SVG path");
    let perimeter = || black_box(&path).perimeter(TOLERANCE);
    let apart = || black_box(&path).segments().map(|segment| moved(segment, offset)).sum::<f64>();
    [
        row(outline, "kurbo", "length", micros(perimeter), perimeter()),
        row(outline, "kurbo", "offset_apart", micros(apart), apart()),
    ]
}

/// A segment moved by kurbo, and the length of that.
fn moved(segment: PathSeg, offset: f64) -> f64 {
    let mut path = BezPath::new();
    kurbo::offset::offset_cubic(segment.to_cubic(), offset, TOLERANCE, &mut path);
    segments(path.iter()).map(|segment| kurbo::ParamCurveArclen::arclen(&segment, TOLERANCE)).sum()
}

/// The outline drawn as the front half of a whole neckline, as a person would bring it.
fn core_brief(outline: &Value, offset: f64) -> Brief {
    let number = |name: &str| outline["half"][name].as_f64().expect("a number");
    let mut front = drawn(outline["path"].as_str().expect("a path"));
    front.shoulder_slope_deg = number("shoulder_slope_deg");
    front.centre = match number("centre_allowance_mm") {
        0.0 => Centre::Fold,
        allowance_mm => Centre::Seam { allowance_mm },
    };
    brief(front, drawn("M 0 20 L 88 20 L 88 0"), offset)
}

/// The core has no call for a length alone: `told` reads and measures two halves and writes their paths;
/// `plan_without_ranges` does the whole neckline, joins, trims, strip, stays and opening among it.
fn core_rows(outline: &Value, offset: f64) -> [Value; 2] {
    let brief = core_brief(outline, offset);
    let told = || lieflat::told(black_box(&brief)).expect("the outline reads").front.half_length_mm;
    let plan = || lieflat::plan_without_ranges(black_box(&brief)).expect("the outline plans").seam_line.front;
    // Where the shoulder slopes, the seam line runs straight on to it by a length known by trigonometry.
    let runs_on = outline["half"]["runs_on_mm"].as_f64().expect("a number");
    [
        row(outline, "lieflat", "length", micros(told), plan().cut_edge_length_mm),
        row(outline, "lieflat", "offset_joined", micros(plan), plan().length_mm - runs_on),
    ]
}

fn plan_rows((name, brief): &(String, Brief)) -> [Value; 2] {
    let row = |what: &str, micros: f64| json!({ "brief": name, "what": what, "micros": micros });
    [
        row("plan", micros(|| lieflat::plan(black_box(brief)))),
        row("plan_without_ranges", micros(|| lieflat::plan_without_ranges(black_box(brief)))),
    ]
}
