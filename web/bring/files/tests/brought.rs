//! Pattern files made by independent tools, from their bytes to an edge in mm: every answer as the page gets it.
//!
//! The files, their making and where each expected length comes from: `tests/brought` (mpmath, ezdxf, svgelements).

use std::fs;
use std::path::PathBuf;

use kurbo::{BezPath, ParamCurveArclen, ParamCurveNearest, Point};
use lieflat_files::Room;
use lieflat_files::messages::{Answer, Asked, Edge, EdgeAsked, Joined, Opened, Refused, Scale};
use serde_json::{Value, json};

/// A length from a file is within this of the truth, mm.
const NEAR_MM: f64 = 0.02;

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../../tests/brought")
}

fn values() -> Value {
    let text = fs::read_to_string(folder().join("values.json")).expect("the expected lengths are there");
    serde_json::from_str(&text).expect("they are JSON")
}

fn bytes(name: &str) -> Vec<u8> {
    fs::read(folder().join("files").join(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
}

fn open(name: &str) -> (Room, Opened) {
    let mut room = Room::default();
    let opened = room.open(bytes(name)).unwrap_or_else(|refused| panic!("{name}: {refused:?}"));
    (room, opened)
}

fn ask(room: &mut Room, asked: Value) -> Answer {
    let asked: Asked = serde_json::from_value(asked).expect("a message reads");
    room.answer(asked)
}

fn place(of: &Value) -> Point {
    let at = |i: usize| of[i].as_f64().expect("a coordinate");
    Point::new(at(0), at(1))
}

/// The line nearest to both places.
fn line_near(opened: &Opened, ends: &[Point]) -> usize {
    let off = |path: &str| {
        let path = BezPath::from_svg(path).expect("a path");
        let to = |p: Point| path.segments().map(|s| s.nearest(p, 1e-6).distance_sq).fold(f64::INFINITY, f64::min);
        ends.iter().map(|end| to(*end)).fold(0.0, f64::max)
    };
    let lines = opened.lines.iter().enumerate().map(|(i, line)| (i, off(&line.path)));
    lines.min_by(|a, b| a.1.total_cmp(&b.1)).expect("a line").0
}

fn edge_of(room: &mut Room, asked: &Value) -> Edge {
    match ask(room, asked.clone()) {
        Answer::Edge(edge) => *edge,
        other => panic!("{asked}: {other:?}"),
    }
}

fn joined(opened: &Opened) -> Value {
    serde_json::to_value(opened.joined).expect("a word")
}

#[test]
fn every_edge_has_the_length_that_other_tools_find() {
    let values = values();
    for wanted in values["edges"].as_array().expect("edges") {
        let name = wanted["file"].as_str().expect("a name");
        let (mut room, mut opened) = open(name);
        if let Some(laid) = wanted.get("joined") {
            assert_eq!(&joined(&opened), laid, "{name}: how its pages came together");
        }
        if let Some(join) = wanted.get("join") {
            let mut asked = join.clone();
            asked["do"] = json!("join");
            let Answer::Opened(again) = ask(&mut room, asked) else { panic!("{name} joins") };
            assert_eq!(again.joined, Joined::ByHand, "{name}");
            opened = again;
        }
        let ends: Vec<Point> = wanted["ends"].as_array().expect("ends").iter().map(place).collect();
        let line = line_near(&opened, &ends);
        let asked = json!({ "do": "edge", "line": line, "ends": wanted["ends"] });
        if let Some(scale) = wanted.get("scale") {
            assert_eq!(opened.mm_per_unit, None, "{name} does not tell its scale");
            assert!(
                matches!(ask(&mut room, asked.clone()), Answer::Refused(Refused::ScaleUnknown)),
                "{name}: no edge without"
            );
            let mut scale = scale.clone();
            scale["do"] = json!("scale");
            assert!(matches!(ask(&mut room, scale), Answer::Scaled(_)), "{name}: its scale is taken");
        }
        let found = edge_of(&mut room, &asked);
        let truth = wanted["length_mm"].as_f64().expect("a length");
        let near = wanted.get("near_share").map_or(NEAR_MM, |share| share.as_f64().expect("a share") * truth);
        let off = (found.length_mm - truth).abs();
        assert!(off <= near, "{name}, {}: {} is to be {truth} ({})", wanted["ends"], found.length_mm, wanted["by"]);
        assert!(
            off <= found.uncertainty_mm,
            "{name}: the truth is within what is told: {off} of {}",
            found.uncertainty_mm
        );
        assert_eq!(found.whole, wanted.get("whole").is_some(), "{name}: half or whole");
        // What the page gives on is as long as what is told, read again from its text.
        let path = BezPath::from_svg(&found.path_mm).expect("a path");
        let again: f64 = path.segments().map(|s| s.arclen(1e-9)).sum();
        assert!((again - found.length_mm).abs() < 0.002, "{name}: {again} as text");
    }
}

#[test]
fn every_layer_has_the_length_that_other_tools_find() {
    for wanted in values()["layers"].as_array().expect("layers") {
        let (name, layer) = (wanted["file"].as_str().expect("a name"), wanted["layer"].as_str().expect("a layer"));
        let (mut room, opened) = open(name);
        let mut mm = opened.mm_per_unit;
        if let Some(scale) = wanted.get("scale") {
            assert_eq!(mm, None, "{name} does not tell its scale");
            let mut scale = scale.clone();
            scale["do"] = json!("scale");
            let Answer::Scaled(scaled) = ask(&mut room, scale) else { panic!("{name} takes a scale") };
            mm = Some(scaled.mm_per_unit);
        }
        let on = opened.layers.iter().position(|one| one.name == layer).unwrap_or_else(|| panic!("{name}: {layer}"));
        let lines = opened.lines.iter().filter(|line| line.layer == Some(on));
        let length =
            |path: &str| -> f64 { BezPath::from_svg(path).expect("a path").segments().map(|s| s.arclen(1e-9)).sum() };
        let found: f64 = lines.map(|line| length(&line.path)).sum::<f64>() * mm.expect("a scale");
        let truth = wanted["length_mm"].as_f64().expect("a length");
        assert!((found - truth).abs() <= NEAR_MM, "{name}, {layer}: {found} is to be {truth} ({})", wanted["by"]);
    }
}

#[test]
fn one_pointing_gives_every_size_of_a_file() {
    for name in ["five-sizes.svg", "five-sizes.dxf"] {
        let values = values();
        let of_file: Vec<&Value> =
            values["edges"].as_array().expect("edges").iter().filter(|one| one["file"] == name).collect();
        let (mut room, opened) = open(name);
        let pointed = of_file[2];
        let ends: Vec<Point> = pointed["ends"].as_array().expect("ends").iter().map(place).collect();
        let line = line_near(&opened, &ends);
        let answer = ask(&mut room, json!({ "do": "sizes", "line": line, "ends": pointed["ends"] }));
        let Answer::Sizes(sizes) = answer else { panic!("{name}: {answer:?}") };
        assert_eq!(sizes.sizes.len(), 5, "{name}: {:?}", sizes.sizes.iter().map(|size| &size.name).collect::<Vec<_>>());
        for (i, (size, wanted)) in sizes.sizes.iter().zip(&of_file).enumerate() {
            let truth = wanted["length_mm"].as_f64().expect("a length");
            assert!(
                (size.edge.length_mm - truth).abs() <= NEAR_MM,
                "{name}, size {i}: {} is to be {truth}",
                size.edge.length_mm
            );
            assert_eq!(size.pointed, i == 2, "{name}: which was pointed at");
            let told = size.name.as_deref().unwrap_or_default();
            assert!(told.ends_with(&(10 + 2 * i).to_string()), "{name}, size {i} is told as {told:?}");
        }
    }
}

#[test]
fn layers_are_told_by_name_whether_on_or_off() {
    let told = |name: &str| open(name).1.layers.into_iter().map(|layer| (layer.name, layer.on)).collect::<Vec<_>>();
    let layer = |name: &str, on: bool| (name.to_owned(), on);
    assert_eq!(
        told("layers.pdf"),
        [layer("Size 10", true), layer("Size 12", false), layer("Size 14", true)],
        "a PDF's"
    );
    let sizes = told("five-sizes.svg");
    assert!(sizes.contains(&layer("Size 16", false)) && sizes.contains(&layer("Size 10", true)), "an SVG's: {sizes:?}");
    let shapes = told("shapes.dxf");
    assert!(
        shapes.contains(&layer("ellipse", false)) && shapes.contains(&layer("spline", true)),
        "a DXF's: {shapes:?}"
    );
}

#[test]
fn pages_that_are_copies_are_taken_once() {
    let (_, opened) = open("tiles-copies.pdf");
    assert_eq!(opened.joined, Joined::Copies, "by what they share");
    // The outline and the grain line, and six borders.
    assert_eq!(opened.lines.len(), 2 + 6, "each line once");
}

#[test]
fn sizes_may_differ_by_their_style_alone() {
    let (_, opened) = open("two-styles.pdf");
    let dashed: Vec<_> = opened.styles.iter().filter(|style| !style.dash.is_empty()).collect();
    assert_eq!(dashed.len(), 1, "one kind is dashed: {:?}", opened.styles);
    let dash: Vec<f64> = dashed[0].dash.iter().map(|v| (v / (25.4 / 72.0)).round()).collect();
    assert_eq!(dash, [6.0, 3.0], "in the drawing's units");
}

#[test]
fn what_cannot_be_read_is_refused_with_its_reason() {
    let jpeg = [0xff, 0xd8, 0xff, 0xe0, 0, 16, b'J', b'F', b'I', b'F', 0];
    let binary = b"AutoCAD Binary DXF\r\n\x1a\0\0\0".to_vec();
    let drawn = bytes("shapes.dxf");
    let half = drawn[..drawn.len() / 2].to_vec();
    let cases = [
        (bytes("encrypted-word.pdf"), Refused::Encrypted),
        (bytes("scan.pdf"), Refused::ScanOnly),
        (bytes("cut-short.pdf"), Refused::CutShort),
        (jpeg.to_vec(), Refused::Picture),
        (binary, Refused::BinaryDxf),
        (half, Refused::CutShort),
        (b"PK\x03\x04 something else".to_vec(), Refused::OtherKind),
        (Vec::new(), Refused::NoLines),
    ];
    for (bytes, wanted) in cases {
        let refused = Room::default().open(bytes).expect_err("it is refused");
        assert_eq!(refused, wanted, "its reason");
    }
    let large = Room::default().open(vec![b'0'; 100_000_000]).expect_err("it is refused");
    assert!(matches!(large, Refused::TooLarge { .. }), "{large:?}");
}

#[test]
fn a_known_length_that_is_off_says_what_to_look_for() {
    // Found in the file 50 mm; what the person reads, and what that is like.
    let cases = [(50.3, None), (48.5, Some("fitted_to_page")), (1270.0, Some("inches")), (5.0, Some("centimetres"))];
    let more = [(66.7, Some("dots")), (100.0, Some("half")), (59.0, Some("allowance")), (400.0, Some("other_line"))];
    for (known, wanted) in cases.into_iter().chain(more) {
        let answer = ask(&mut Room::default(), json!({ "do": "check", "found_mm": 50.0, "known_mm": known }));
        let Answer::Checked(checked) = answer else { panic!("{answer:?}") };
        let found = serde_json::to_value(checked.look_for).expect("a word");
        assert_eq!(found, json!(wanted), "{known}");
        assert!((checked.off_percent - (known / 50.0 - 1.0) * 100.0).abs() < 1e-9, "{checked:?}");
    }
    // A test square that reads 48.5 for 50: the scale of the whole file follows it.
    let (mut room, opened) = open("two-styles.pdf");
    let scale = Scale { line: Some(0), mm: 0.97 * 560.0, ..Scale::default() };
    let Answer::Scaled(scaled) = room.answer(Asked::Scale(scale)) else { panic!("it scales") };
    let off = scaled.off_percent.expect("the scale was known");
    assert!((off + 3.0).abs() < 0.01 && (scaled.mm_per_unit - 0.97).abs() < 1e-4, "{scaled:?}");
    let wanted = values();
    let ends = wanted["edges"]
        .as_array()
        .expect("edges")
        .iter()
        .find(|one| one["file"] == "two-styles.pdf")
        .expect("its edge");
    let places: Vec<Point> = ends["ends"].as_array().expect("ends").iter().map(place).collect();
    let line = line_near(&opened, &places);
    let found = edge_of(&mut room, &json!({ "do": "edge", "line": line, "ends": ends["ends"] }));
    let truth = 0.97 * ends["length_mm"].as_f64().expect("a length");
    assert!((found.length_mm - truth).abs() < 0.1 && found.uncertainty_mm > 0.1, "{found:?}");
}

#[test]
fn a_piece_offers_its_corners_and_its_neckline() {
    let (mut room, opened) = open("five-sizes.svg");
    let Answer::Piece(piece) = ask(&mut room, json!({ "do": "piece", "line": 0 })) else { panic!("a piece") };
    assert!(piece.closed && piece.corners.len() == 6, "{:?}", piece.corners);
    let first = &piece.suggested[0];
    let asked = EdgeAsked { ends: first.ends, via: Some(first.via), ..EdgeAsked::default() };
    let Answer::Edge(edge) = room.answer(Asked::Edge(asked)) else { panic!("an edge") };
    let wanted = &values()["edges"][0];
    assert!(
        (edge.length_mm - wanted["length_mm"].as_f64().expect("a length")).abs() <= NEAR_MM,
        "the neckline comes first"
    );
    assert!(opened.lines.len() == 10, "five outlines and five grain lines");
}

#[test]
fn what_is_asked_without_sense_is_refused() {
    let (mut room, _) = open("five-sizes.svg");
    for asked in [
        json!({ "do": "piece", "line": 999 }),
        json!({ "do": "edge", "line": 999, "ends": [[0, 0], [1, 1]] }),
        json!({ "do": "edge", "line": 0, "ends": [[0, 0], [0, 0]] }),
        json!({ "do": "sizes", "line": 999, "ends": [[0, 0], [1, 1]] }),
        json!({ "do": "scale", "line": 999, "mm": 50 }),
        json!({ "do": "scale", "from": [1, 1], "to": [1, 1], "mm": 50 }),
        json!({ "do": "scale", "line": 0, "mm": -1 }),
        json!({ "do": "scale", "mm": 50 }),
        json!({ "do": "join", "columns": 2 }),
        json!({ "do": "check", "found_mm": 0, "known_mm": 50 }),
    ] {
        let answer = ask(&mut room, asked.clone());
        assert!(matches!(answer, Answer::Refused(_)), "{asked}: {answer:?}");
    }
    let nothing = ask(&mut Room::default(), json!({ "do": "piece", "line": 0 }));
    assert_eq!(nothing, Answer::Refused(Refused::NothingOpen), "no file is open");
}
