//! Pieces as DXF, read by ezdxf (`tests/dxf/read.py`), a library of its own: the same lines as in the SVG, in the format's own terms.

use std::fs;

use kurbo::{BezPath, ParamCurve, PathSeg};
use lieflat::brief::ShapeKind;
use lieflat::{Brief, Plan};
use lieflat_sheets::{Options, PieceForm, Sheet, pieces};
use lieflat_tests::{brief as example_with, drafted, drawn, plain};
use serde_json::Value;

use super::{folder, options, paths, root, run, worked};

/// What the issue asks of a piece that is read again, and of a curve's chords, mm.
const WITHIN_MM: f64 = 0.01;

/// What `read.py` says of each file, and its text.
fn read(name: &str, brief: &Brief, plan: &Plan, options: &Options, form: PieceForm) -> Vec<(String, Value, String)> {
    let python = root().join("target/dxf-venv/bin/python");
    assert!(python.exists(), "ezdxf is not installed: run tests/setup.sh");
    let folder = folder(&format!("dxf-{name}-{form:?}"));
    let made = pieces(brief, plan, options, form);
    let files: Vec<String> = made
        .iter()
        .map(|piece| {
            let file = folder.join(format!("{}.dxf", piece.name));
            fs::write(&file, &piece.file).expect("written");
            file.display().to_string()
        })
        .collect();
    let program = root().join("tests/dxf/read.py").display().to_string();
    let mut arguments = vec![program.as_str()];
    arguments.extend(files.iter().map(String::as_str));
    let said = run(python.to_str().expect("a path"), &arguments);
    let read = said.lines().map(|line| serde_json::from_str(line).expect("JSON"));
    made.into_iter().zip(read).map(|(piece, value)| (piece.name.to_owned(), value, piece.file)).collect()
}

type Point = [f64; 2];

/// The points of what is drawn on a layer, each run by itself, closed ones with their first point again.
fn runs(read: &Value, layer: &str) -> Vec<Vec<Point>> {
    let on_layer = read["drawn"].as_array().expect("entities").iter().filter(|one| one["layer"] == layer);
    on_layer
        .map(|one| {
            let mut points: Vec<Point> = serde_json::from_value(one["points"].clone()).expect("points");
            if one["closed"] == true {
                points.push(points[0]);
            }
            points
        })
        .collect()
}

fn distance(a: Point, b: Point) -> f64 {
    (b[0] - a[0]).hypot(b[1] - a[1])
}

fn to_chord(p: Point, [a, b]: [Point; 2]) -> f64 {
    let (run, long) = ([b[0] - a[0], b[1] - a[1]], distance(a, b));
    let share = if long > 0.0 { ((p[0] - a[0]) * run[0] + (p[1] - a[1]) * run[1]) / (long * long) } else { 0.0 };
    let share = share.clamp(0.0, 1.0);
    distance(p, [a[0] + share * run[0], a[1] + share * run[1]])
}

fn to_run(p: Point, run: &[Point]) -> f64 {
    run.windows(2).map(|pair| to_chord(p, [pair[0], pair[1]])).fold(f64::INFINITY, f64::min)
}

/// The piece of the SVG in the file's frame: right of and above the least rectangle's corner, which is the origin.
fn svg_runs(svg: &str, ids: &[&str]) -> Vec<Vec<Point>> {
    let document = roxmltree::Document::parse(svg).expect("XML");
    let view = document.root_element().attribute("viewBox").expect("a viewBox");
    let view: Vec<f64> = view.split(' ').filter_map(|number| number.parse().ok()).collect();
    // The SVG leaves 5 mm free all round.
    let (left, foot) = (view[0] + 5.0, view[1] + view[3] - 5.0);
    let runs = ids.iter().flat_map(|id| paths(&document, id));
    runs.map(|run| run.into_iter().map(|[x, y]| [x - left, foot - y]).collect()).collect()
}

#[test]
fn both_releases_hold_the_pieces_of_the_svg_and_ezdxf_finds_no_fault() {
    for name in ["band-round", "tape-v", "facing-scoop", "bound-scoop", "band-sweetheart"] {
        let (brief, plan) = worked(name);
        let options = options("es", "a4", "mm");
        let svgs = pieces(&brief, &plan, &options, PieceForm::Svg);
        for (form, version) in [(PieceForm::DxfR12, "AC1009"), (PieceForm::DxfR2000, "AC1015")] {
            let files = read(name, &brief, &plan, &options, form);
            assert_eq!(files.len(), svgs.len(), "{name}: as many pieces");
            for ((piece, read, text), svg) in files.iter().zip(&svgs) {
                let what = format!("{name}, {piece}, {form:?}");
                assert_eq!(read["version"], version, "{what}: its release");
                assert_eq!(read["faults"], serde_json::json!([]), "{what}: an audit finds nothing");
                assert!(
                    read["comment"].as_str().expect("a comment").contains("Units: millimetres"),
                    "{what}: its unit in words"
                );
                if form == PieceForm::DxfR2000 {
                    // $INSUNITS: 4 is millimetres; $MEASUREMENT: 1 is metric. From the format's public reference.
                    assert_eq!([&read["units"], &read["metric"]], [4, 1], "{what}: its unit");
                    assert_eq!(read["layouts"], serde_json::json!(["Model", "Layout1"]), "{what}: its layouts");
                }
                let layers = serde_json::json!(["0", "CUT", "FOLD", "MARKS", "SEAM", "TEXT"]);
                assert_eq!(
                    read["layers"].as_array().map(|all| all
                        .iter()
                        .filter(|one| *one != "Defpoints")
                        .cloned()
                        .collect()),
                    Some(layers),
                    "{what}: layers"
                );
                assert!(text.is_ascii(), "{what}: letters of ASCII");
                let kinds: Vec<&str> =
                    read["drawn"].as_array().expect("entities").iter().filter_map(|one| one["kind"].as_str()).collect();
                let run = if form == PieceForm::DxfR12 { "POLYLINE" } else { "LWPOLYLINE" };
                assert!(kinds.iter().all(|kind| ["LINE", "TEXT", run].contains(kind)), "{what}: {kinds:?}");
                assert!(kinds.contains(&run) && kinds.contains(&"TEXT"), "{what}: runs of lines and words");
                for (layers, ids) in
                    [(&["CUT"][..], &["cut"][..]), (&["SEAM"], &["sew"]), (&["MARKS", "FOLD"], &["marks"])]
                {
                    let ours: Vec<Vec<Point>> = layers.iter().flat_map(|layer| runs(read, layer)).collect();
                    let meant = svg_runs(&svg.file, ids);
                    assert_eq!(ours.len(), meant.len(), "{what}: as many lines on {layers:?}");
                    for line in &meant {
                        // Every point of the SVG's line is one of the same line here, or lies on it.
                        let off = |run: &Vec<Point>| line.iter().map(|p| to_run(*p, run)).fold(0.0, f64::max);
                        let best = ours.iter().map(off).fold(f64::INFINITY, f64::min);
                        assert!(best < WITHIN_MM, "{what}: a line of {ids:?} is {best} mm off");
                    }
                }
                let all: Vec<Point> =
                    ["CUT", "SEAM", "FOLD", "MARKS"].iter().flat_map(|layer| runs(read, layer)).flatten().collect();
                assert!(all.iter().flatten().all(|v| *v > -1e-3), "{what}: right of and above the origin");
            }
        }
    }
}

/// A front whose edge is one cubic curve, told point by point by kurbo: the cut line's chords keep to it.
#[test]
fn a_curves_chords_keep_to_the_curve() {
    let path = "M0 120 C38 118 74 62 86 0";
    let brief = example_with(drawn(path), drafted(86.0, 30.0, plain(ShapeKind::Round)), 7.0);
    let plan = lieflat::plan(&brief).expect("a plan");
    let options = Options { sheets: vec![Sheet::Template], ..options("en", "a4", "mm") };
    let curve: Vec<PathSeg> = BezPath::from_svg(path).expect("a path").segments().collect();
    // Lengths between neighbours of 1/20 mm: what lies between them is under a micrometre off their chord.
    let truth: Vec<Point> = (0..=3000).map(|i| curve[0].eval(f64::from(i) / 3000.0)).map(|p| [p.x, p.y]).collect();
    for form in [PieceForm::DxfR12, PieceForm::DxfR2000] {
        let files = read("curve", &brief, &plan, &options, form);
        let (_, read, _) = files.iter().find(|(name, ..)| name == "neckline-front").expect("the front");
        let line = runs(read, "CUT").into_iter().max_by_key(Vec::len).expect("the neckline");
        // The frame: the file's origin is found by the neckline's end at the centre, which is (0, 120).
        let [left, foot] = line[0];
        let line: Vec<Point> = line.iter().map(|[x, y]| [x - left, 120.0 - (y - foot)]).collect();
        let middles = line.windows(2).flat_map(|pair| {
            (0..4).map(|i| {
                let share = f64::from(i) / 4.0;
                [pair[0][0] + share * (pair[1][0] - pair[0][0]), pair[0][1] + share * (pair[1][1] - pair[0][1])]
            })
        });
        // Beyond the shoulder line the piece's edge runs on straight.
        let worst = middles.filter(|p| p[1] > 0.5).map(|p| to_run(p, &truth)).fold(0.0, f64::max);
        assert!(worst < WITHIN_MM + 1e-3, "{form:?}: {worst} mm off the curve");
        assert!(line.len() < 300, "{form:?}: with no more points than that wants, {}", line.len());
    }
}

/// The strip, in numbers worked out from the plan alone: its cut line is a rectangle as long and wide as the plan says.
#[test]
fn a_strips_cut_line_is_as_long_and_wide_as_the_plan_says() {
    let (brief, plan) = worked("band-round");
    let strip = plan.strip.as_ref().expect("a strip");
    let options = Options { sheets: vec![Sheet::Strip], ..options("en", "a4", "in") };
    for form in [PieceForm::DxfR12, PieceForm::DxfR2000] {
        let files = read("strip", &brief, &plan, &options, form);
        let [(_, read, _)] = &files[..] else { panic!("one piece") };
        let cut = runs(read, "CUT");
        let [outline] = &cut[..] else { panic!("one cut line") };
        let sides: Vec<f64> = outline.windows(2).map(|pair| distance(pair[0], pair[1])).collect();
        let meant = [strip.cut_length.cut_mm, strip.cut_width.cut_mm, strip.cut_length.cut_mm, strip.cut_width.cut_mm];
        assert_eq!(sides.len(), meant.len(), "{form:?}: closed");
        for (side, meant) in sides.iter().zip(meant) {
            assert!((side - meant).abs() < WITHIN_MM, "{form:?}: {side} for {meant}");
        }
        let words: Vec<&str> =
            read["drawn"].as_array().expect("entities").iter().filter_map(|one| one["text"].as_str()).collect();
        assert!(words.iter().any(|text| text.contains("seam line")), "{form:?}: {words:?}");
        // Words over a mark are read from the right.
        let turned = read["drawn"].as_array().expect("entities").iter().filter(|one| one["turned"] == 90.0).count();
        assert!(turned >= strip.marks.len(), "{form:?}: {turned} turned up");
    }
}
