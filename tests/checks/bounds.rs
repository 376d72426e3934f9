//! Every range of a brief as core/REFERENCE.md and the types' descriptions tell it: both ends are taken, what lies a hair
//! beyond is refused at its field with the range.
#![allow(clippy::too_many_lines, reason = "tables of ranges")]

use lieflat::error::{AcceptedCode, BriefError, Problem};
use lieflat::{Brief, plan};
use serde_json::{Value, json};

/// A brief's JSON with one of its parts replaced.
fn with(pointer: &str, value: Value) -> Value {
    set(serde_json::to_value(lieflat::example::brief()).expect("the example writes"), pointer, value)
}

fn set(mut brief: Value, pointer: &str, value: Value) -> Value {
    let (parent, name) = pointer.rsplit_once('/').expect("a pointer");
    let parent = brief.pointer_mut(parent).unwrap_or_else(|| panic!("{pointer} has a parent"));
    match parent {
        Value::Array(items) => items[name.parse::<usize>().expect("an index")] = value,
        other => {
            other.as_object_mut().expect("an object").insert(name.to_owned(), value);
        }
    }
    brief
}

fn errors(json: &Value) -> Vec<BriefError> {
    let brief = Brief::from_json(&json.to_string()).unwrap_or_else(|e| panic!("{e}"));
    plan(&brief).err().map(|e| e.errors).unwrap_or_default()
}

/// What is wrong with a field itself, apart from what comes of it further on.
fn refusal(json: &Value, field: &str) -> Option<BriefError> {
    let own = |e: &BriefError| {
        let later = matches!(e.problem, Problem::CuspAt { .. } | Problem::CrossesAt { .. } | Problem::NothingLeft);
        e.field == field && !later && e.problem != Problem::NoSuchShape
    };
    errors(json).into_iter().find(own)
}

fn path(pointer: &str) -> String {
    pointer.trim_start_matches('/').replace('/', ".")
}

fn ends_are_taken(base: &Value, pointer: &str, field: &str, min: f64, max: f64) {
    for value in [min, max] {
        let refused = refusal(&set(base.clone(), pointer, json!(value)), field);
        assert_eq!(refused, None, "{field}: {value} is taken");
    }
    for value in [min - 1e-6, max + 1e-6] {
        let refused = refusal(&set(base.clone(), pointer, json!(value)), field);
        let refused = refused.unwrap_or_else(|| panic!("{field}: {value} is refused"));
        assert_eq!(refused.problem, Problem::OutOfRange, "{field}: {value}");
        assert_eq!(refused.value, Some(value.to_string()), "{field}: what stood there");
        let (low, high) = (refused.accepted.min.expect("a least"), refused.accepted.max.expect("a most"));
        assert!((low - min).abs() < 1e-9 && (high - max).abs() < 1e-9, "{field}: {low} to {high} is said");
    }
}

/// Where a part is put, the part, and the ranges of the numbers in it.
type Row<'a> = (&'a str, Value, &'a [(&'a str, f64, f64)]);

const PERCENT_KNIT: &str = r#"{"percent": {"stretch_percent": 50, "recovery_percent": 90}}"#;

#[test]
fn every_number_has_the_range_that_is_told() {
    let shaped = |shape: Value| json!({"drafted": {"half_width_mm": 90, "depth_mm": 100, "shape": shape}});
    let large_square = json!({"drafted": {"half_width_mm": 300, "depth_mm": 300, "shape": {"kind": "square"}}});
    let measured =
        json!({"measured": {"half_length_mm": 154, "half_width_mm": 88, "depth_mm": 100, "shape": {"kind": "round"}}});
    let percent: Value = serde_json::from_str(PERCENT_KNIT).expect("it reads");
    let front = "/neckline/front/outline";
    let edge = json!({"name": "Invented edge", "part": "gathered", "length_mm": 100, "gathered_from_mm": 150,
        "direction": "crosswise", "allowance_mm": 10, "pieces": 2});
    let both = "/pattern_asks";
    let rows: [Row; 19] = [
        ("/neckline/neckline_allowance_mm", json!(10), &[("", 0.0, 60.0)]),
        ("/neckline/back/shoulder_allowance_mm", json!(10), &[("", 0.0, 60.0)]),
        ("/neckline/back/shoulder_slope_deg", json!(10), &[("", 0.0, 45.0)]),
        ("/neckline/front/centre", json!({"seam": {"allowance_mm": 10}}), &[("/seam/allowance_mm", 0.0, 60.0)]),
        (
            front,
            measured,
            &[
                ("/measured/half_length_mm", 20.0, 1500.0),
                ("/measured/half_width_mm", 10.0, 600.0),
                ("/measured/depth_mm", 2.0, 700.0),
            ],
        ),
        (
            front,
            shaped(json!({"kind": "scoop"})),
            &[
                ("/drafted/half_width_mm", 10.0, 600.0),
                ("/drafted/depth_mm", 2.0, 700.0),
                ("/drafted/shape/roundness_percent", 20.0, 90.0),
            ],
        ),
        (front, shaped(json!({"kind": "v"})), &[("/drafted/shape/leg_hollow_percent", -8.0, 8.0)]),
        (front, large_square, &[("/drafted/shape/corner_radius_mm", 0.0, 200.0)]),
        (
            "/garment_knit/crosswise",
            percent.clone(),
            &[("/percent/stretch_percent", 0.0, 400.0), ("/percent/recovery_percent", 1.0, 100.0)],
        ),
        ("/garment_knit/thickness_mm", json!(1), &[("", 0.0, 10.0)]),
        ("/garment_knit/elastane_percent", json!(1), &[("", 0.0, 50.0)]),
        (
            "/finish",
            json!({"band": {"width_mm": 15}}),
            &[
                ("/band/width_mm", 3.0, 150.0),
                ("/band/join_allowance_mm", 0.0, 60.0),
                ("/band/ratio_percent", 30.0, 120.0),
            ],
        ),
        (
            "/finish",
            json!({"tape": {"width_mm": 15}}),
            &[
                ("/tape/width_mm", 3.0, 80.0),
                ("/tape/turn_under_mm", 0.0, 30.0),
                ("/tape/join_allowance_mm", 0.0, 60.0),
                ("/tape/ratio_percent", 30.0, 120.0),
            ],
        ),
        (
            "/finish",
            json!({"facing": {"width_mm": 55}}),
            &[
                ("/facing/width_mm", 20.0, 200.0),
                ("/facing/understitch_mm", 0.5, 6.0),
                ("/facing/edge_allowance_mm", 0.0, 30.0),
                // At most the facing's own width.
                ("/facing/topstitch_mm", 1.0, 55.0),
            ],
        ),
        (
            "/finish",
            json!({"bound": {"width_mm": 8}}),
            &[
                ("/bound/width_mm", 3.0, 40.0),
                ("/bound/turn_under_mm", 0.0, 30.0),
                ("/bound/join_allowance_mm", 0.0, 60.0),
                ("/bound/ratio_percent", 30.0, 120.0),
            ],
        ),
        (
            "/stitch",
            json!({"zigzag": {"width_mm": 2, "advance_mm": 2}}),
            &[("/zigzag/width_mm", 0.1, 10.0), ("/zigzag/advance_mm", 0.2, 10.0)],
        ),
        ("/head/girth", json!({"own_mm": 500}), &[("/own_mm", 250.0, 800.0)]),
        ("/head/girth", json!({"child": {"group": "boys", "age_months": 3}}), &[("/child/age_months", 0.0, 60.0)]),
        (both, json!({}), &[("/crosswise_percent", 0.0, 400.0), ("/lengthwise_percent", 0.0, 400.0)]),
    ];
    for (pointer, part, ranges) in rows {
        let base = with(pointer, part);
        for (rest, min, max) in ranges {
            let at = format!("{pointer}{rest}");
            ends_are_taken(&base, &at, &path(&at), *min, *max);
        }
    }
    let example = with("/title", json!("Invented"));
    for (pointer, min, max) in [
        ("/head/margin_mm", 0.0, 200.0),
        ("/stays/tape_width_mm", 3.0, 40.0),
        ("/stays/catch_mm", 0.0, 10.0),
        ("/stays/shoulder_length_mm", 20.0, 400.0),
        ("/rules/hold_share", 0.0, 0.5),
        ("/rules/comfort_share", 0.1, 1.0),
        ("/rules/tape_hold", 0.0, 0.2),
        ("/rules/pull_share", 0.1, 1.0),
        ("/rules/mark_tolerance_mm", 0.5, 50.0),
        ("/rules/clip_opening_mm", 1.0, 20.0),
        ("/rules/turn_per_thickness", 0.0, 4.0),
        ("/tolerances/reading_mm", 0.0, 50.0),
        ("/tolerances/stretch_points", 0.0, 100.0),
        ("/tolerances/recovery_points", 0.0, 100.0),
        ("/tolerances/allowance_mm", 0.0, 20.0),
        ("/tolerances/width_mm", 0.0, 20.0),
        ("/tolerances/roundness_points", 0.0, 30.0),
    ] {
        ends_are_taken(&example, pointer, &path(pointer), min, max);
    }
    let edged = with("/stays/edges", json!([edge]));
    for (name, min, max) in
        [("length_mm", 10.0, 2000.0), ("allowance_mm", 0.0, 60.0), ("gathered_from_mm", 100.0, 800.0)]
    {
        ends_are_taken(&edged, &format!("/stays/edges/0/{name}"), &format!("stays.edges[0].{name}"), min, max);
    }
    for (pieces, fine) in [(0, false), (1, true), (8, true), (9, false)] {
        let json = set(edged.clone(), "/stays/edges/0/pieces", json!(pieces));
        assert_eq!(refusal(&json, "stays.edges[0].pieces").is_none(), fine, "{pieces} pieces");
    }
    for (count, fine) in [(12, true), (13, false)] {
        let json = with("/stays/edges", json!(vec![edge.clone(); count]));
        assert_eq!(refusal(&json, "stays.edges").is_none(), fine, "{count} edges");
    }
}

#[test]
fn a_corner_is_rounded_by_no_more_than_the_lesser_of_width_and_depth() {
    for (width, depth) in [(90.0, 100.0), (100.0, 90.0)] {
        let square = |radius: f64| {
            let shape = json!({"kind": "square", "corner_radius_mm": radius});
            let draft = json!({"drafted": {"half_width_mm": width, "depth_mm": depth, "shape": shape}});
            refusal(&with("/neckline/front/outline", draft), "neckline.front.outline.drafted.shape.corner_radius_mm")
        };
        assert_eq!(square(90.0), None, "all of it");
        let refused = square(90.001).expect("no more");
        assert_eq!((refused.accepted.min, refused.accepted.max), (Some(0.0), Some(90.0)), "and that is said");
    }
}

#[test]
fn a_topstitching_lies_within_a_hundred_millimetres_too() {
    let wide = with("/finish", json!({"facing": {"width_mm": 150}}));
    ends_are_taken(&wide, "/finish/facing/topstitch_mm", "finish.facing.topstitch_mm", 1.0, 100.0);
}

#[test]
fn stretched_readings_lie_between_the_rest_and_five_times_it() {
    let knit = |rest: f64, stretched: f64, released: Option<f64>| {
        let way = json!({"readings": {"rest_mm": rest, "stretched_mm": stretched, "released_mm": released}});
        with("/garment_knit/crosswise", way)
    };
    let field = |name: &str| format!("garment_knit.crosswise.readings.{name}");
    for (rest, fine) in [(20.0, true), (19.999, false), (1000.0, true), (1000.001, false)] {
        let refused = refusal(&knit(rest, rest, None), &field("rest_mm"));
        assert_eq!(refused.is_none(), fine, "{rest} mm at rest");
    }
    for (stretched, problem) in [
        (100.0, None),
        (500.0, None),
        (99.999, Some(Problem::StretchedNotLonger)),
        (500.001, Some(Problem::OutOfRange)),
        (19.0, Some(Problem::OutOfRange)),
    ] {
        let refused = refusal(&knit(100.0, stretched, None), &field("stretched_mm"));
        assert_eq!(refused.as_ref().map(|e| e.problem.clone()), problem, "100 mm stretched to {stretched}");
        if let Some(e) = refused.filter(|_| stretched > 20.0) {
            assert_eq!((e.accepted.min, e.accepted.max), (Some(100.0), Some(500.0)), "from the rest to five of it");
        }
    }
    for (released, fine) in [(100.0, true), (150.0, true), (99.999, false), (150.001, false)] {
        let refused = refusal(&knit(100.0, 150.0, Some(released)), &field("released_mm"));
        assert_eq!(refused.is_none(), fine, "let go to {released}");
        if let Some(e) = refused {
            assert_eq!(e.problem, Problem::RecoveryOverWhole, "recovery over 100 or under 0 percent");
            assert_eq!((e.accepted.min, e.accepted.max), (Some(100.0), Some(150.0)), "between the two");
        }
    }
    // A reading that is out of range itself is all that is said of it.
    let refused: Vec<String> = errors(&knit(10.0, 600.0, Some(5.0))).into_iter().map(|e| e.field).collect();
    assert_eq!(refused, [field("rest_mm")], "what follows from it is not");
    let mut brief = lieflat::example::brief();
    brief.garment_knit.crosswise =
        lieflat::brief::Stretch::Readings { rest_mm: 100.0, stretched_mm: 150.0, released_mm: Some(f64::NAN) };
    let error = plan(&brief).expect_err("no number").errors.remove(0);
    assert_eq!((error.field, error.problem), (field("released_mm"), Problem::NotFinite), "no number is no reading");
}

#[test]
fn records_of_sewn_strips_keep_to_what_can_be() {
    let record = |line: f64, strip: f64, by: Option<f64>| {
        let record =
            json!({"finish": "band", "held_line_mm": line, "strip_mm": strip, "outcome": "stood_away", "by_mm": by});
        with("/garment_knit/learned", json!([record]))
    };
    let field = |name: &str| format!("garment_knit.learned.0.{name}");
    let base = record(500.0, 500.0, Some(10.0));
    ends_are_taken(&base, "/garment_knit/learned/0/strip_mm", &field("strip_mm"), 300.0, 650.0);
    // At least half a millimetre, at most a quarter of the strip.
    ends_are_taken(&base, "/garment_knit/learned/0/by_mm", &field("by_mm"), 0.5, 125.0);
    for (line, fine) in [(100.0, true), (4000.0, true), (99.999, false), (4000.001, false)] {
        assert_eq!(refusal(&record(line, line, Some(10.0)), &field("held_line_mm")).is_none(), fine, "{line} mm");
    }
    let missing = refusal(&record(500.0, 400.0, None), &field("by_mm")).expect("how much is needed");
    assert_eq!(missing.problem, Problem::Missing, "it did not lie flat");
    assert_eq!((missing.accepted.min, missing.accepted.max), (Some(0.5), Some(100.0)), "and how much could be");
    let one = json!({"finish": "band", "held_line_mm": 500, "strip_mm": 480, "outcome": "lay_flat"});
    for (count, fine) in [(200, true), (201, false)] {
        let json = with("/garment_knit/learned", json!(vec![one.clone(); count]));
        assert_eq!(refusal(&json, "garment_knit.learned").is_none(), fine, "{count} records");
    }
}

#[test]
fn a_path_runs_from_the_centre_line_out_to_the_neck_point() {
    let drawn = |path: &str| with("/neckline/front/outline", json!({"drawn": {"path_mm": path}}));
    let field = "neckline.front.outline.drawn.path_mm";
    let code = |path: &str| refusal(&drawn(path), field).map(|e| e.accepted.code.expect("a code"));
    let over = Some(AcceptedCode::CoordinatesNear);
    let ends = Some(AcceptedCode::CentreToNeck);
    for (path, expected, why) in [
        ("M 0.5 100 L 90 0", None, "half a millimetre beside the centre line is on it"),
        ("M -0.5 100 L 90 0", None, "on either side"),
        ("M 0.501 100 L 90 0", ends, "more is not"),
        ("M 90 0 L 0.5 100", None, "the other way round too"),
        ("M 90 0 L 0.501 100", ends, "neither"),
        ("M 0 50 L 10 0", None, "10 mm out is far enough"),
        ("M 0 50 L 9.999 0", ends, "less is not"),
        ("M 0 51 L 90 50", None, "a millimetre higher"),
        ("M 0 50.999 L 90 50", ends, "less is not"),
        ("M 0 2000 L 90 1900", None, "2000 mm away"),
        ("M 0 2000.001 L 90 1900", over, "further"),
        ("M 0 100 L 2000 0", None, "2000 mm out"),
        ("M 0 100 L 2000.001 0", over, "further"),
        ("M 0 100 C 50 2001 80 50 90 0", over, "a handle counts"),
        ("M 0 100 L -0.5 90 L 90 0", None, "half a millimetre over the centre line is on it"),
        ("M 0 100 L -0.6 90 L 90 0", Some(AcceptedCode::OneSide), "more is over it"),
        ("M 0 100 L 90 0 M 90 0 L 95 -5", Some(AcceptedCode::OneOpenRun), "two runs"),
        ("M 0 100", Some(AcceptedCode::OneOpenRun), "no run"),
        ("", Some(AcceptedCode::OneOpenRun), "nothing"),
        ("about so", Some(AcceptedCode::PathSyntax), "no path"),
    ] {
        assert_eq!(code(path), expected, "{path}: {why}");
    }
    let steps = |count: u32| {
        let at = |i: u32| {
            format!("L {} {}", 90.0 * f64::from(i) / f64::from(count), 100.0 - 100.0 * f64::from(i) / f64::from(count))
        };
        let path: Vec<String> = (1..=count).map(at).collect();
        code(&format!("M 0 100 {}", path.join(" ")))
    };
    assert_eq!(steps(200), None, "200 segments");
    assert_eq!(steps(201), Some(AcceptedCode::OneOpenRun), "and no more");
}

#[test]
fn a_brief_of_another_schema_or_version_is_refused_as_it_is_read() {
    for (pointer, value, accepted) in [("/schema", json!("lieflat.plan"), "lieflat.brief"), ("/version", json!(2), "1")]
    {
        let json = with(pointer, value.clone());
        let error = Brief::from_json(&json.to_string()).expect_err("another").errors.remove(0);
        assert_eq!((error.field.as_str(), &error.problem), (&pointer[1..], &Problem::OtherSchema), "{value}");
        assert_eq!(error.accepted.words.as_deref(), Some(accepted), "{value}: what would be read");
        // A brief that was made otherwise is looked at when it is planned.
        let brief: Brief = serde_json::from_value(json).expect("it is a brief by its fields");
        let error = plan(&brief).expect_err("another").errors.remove(0);
        assert_eq!((error.field.as_str(), &error.problem), (&pointer[1..], &Problem::OtherSchema), "{value}");
        assert_eq!(error.accepted.words.as_deref(), Some(accepted), "{value}: what would be planned");
    }
}

#[test]
fn a_brief_that_says_only_what_is_needed_has_every_default_that_is_told() {
    // The short brief of tests/briefs/README.md and the defaults of core/REFERENCE.md.
    let half = |length: f64| {
        json!({"outline": {"measured": {"half_length_mm": length, "depth_mm": 90, "shape": {"kind": "round"}}},
            "shoulder_allowance_mm": 10})
    };
    let mut json = json!({"schema": "lieflat.brief", "version": 1,
        "neckline": {"readings_at": "cut_edge", "neckline_allowance_mm": 10, "front": half(154.0), "back": half(150.0)},
        "garment_knit": {"crosswise": {"percent": {"stretch_percent": 60}}},
        "finish": {"facing": {"width_mm": 55}}, "head": {"girth": {"own_mm": 565}}});
    let read = |json: &Value| -> Value {
        serde_json::to_value(Brief::from_json(&json.to_string()).unwrap_or_else(|e| panic!("{e}"))).expect("it writes")
    };
    let full = read(&json);
    for (pointer, value) in [
        ("/neckline/front/centre", json!("fold")),
        ("/neckline/front/shoulder_slope_deg", json!(20.0)),
        ("/strip_direction", json!("crosswise")),
        ("/stitch", json!("overlock")),
        ("/head/margin_mm", json!(20.0)),
        ("/stays/tape_width_mm", json!(9.5)),
        ("/stays/catch_mm", json!(1.0)),
        ("/stays/shoulders", json!(true)),
        ("/rounding", json!("millimetre")),
        ("/tolerances/reading_mm", json!(2.0)),
        ("/tolerances/stretch_points", json!(5.0)),
        ("/tolerances/recovery_points", json!(10.0)),
        ("/tolerances/allowance_mm", json!(1.0)),
        ("/tolerances/width_mm", json!(1.0)),
        ("/tolerances/roundness_points", json!(8.0)),
        ("/rules/hold_share", json!(0.10)),
        ("/rules/comfort_share", json!(0.60)),
        ("/rules/tape_hold", json!(0.02)),
        ("/rules/pull_share", json!(0.80)),
        ("/rules/mark_tolerance_mm", json!(3.0)),
        ("/rules/clip_opening_mm", json!(4.0)),
        ("/rules/turn_per_thickness", json!(core::f64::consts::FRAC_PI_2)),
        ("/finish/facing/understitch_mm", json!(1.6)),
        ("/finish/facing/edge_allowance_mm", json!(0.0)),
    ] {
        assert_eq!(full.pointer(pointer), Some(&value), "{pointer}");
    }
    for (finish, defaults) in [
        (json!({"band": {"width_mm": 15}}), json!({"layers": "folded", "point": "mitre", "join_allowance_mm": 6.0})),
        (json!({"tape": {"width_mm": 15}}), json!({"turn_under_mm": 0.0, "join_allowance_mm": 6.0})),
        (
            json!({"bound": {"width_mm": 8}}),
            json!({"layers": "single", "turn_under_mm": 0.0, "join_allowance_mm": 6.0}),
        ),
    ] {
        json["finish"] = finish.clone();
        let full = read(&json);
        let read = full["finish"].as_object().and_then(|f| f.values().next()).expect("a finish");
        for (name, value) in defaults.as_object().expect("defaults") {
            assert_eq!(read.get(name), Some(value), "{finish}: {name}");
        }
    }
    json["stays"] = json!({"edges": [{"name": "Invented", "part": "other", "length_mm": 100, "direction": "crosswise", "allowance_mm": 10}]});
    assert_eq!(read(&json)["stays"]["edges"][0]["pieces"], json!(1), "one piece");
}

#[test]
fn what_cannot_be_read_is_named_where_it_stands() {
    let refused = |text: &str| {
        let error = Brief::from_json(text).expect_err("it cannot be read").errors.remove(0);
        (error.field, error.problem, error.value, error.accepted.words)
    };
    let text = |pointer: &str, value: Value| with(pointer, value).to_string();
    let unreadable = refused(&text("/neckline/neckline_allowance_mm", json!("ten")));
    let ("neckline.neckline_allowance_mm", Problem::Unreadable, Some(value), Some(words)) =
        (unreadable.0.as_str(), unreadable.1, unreadable.2, unreadable.3)
    else {
        panic!("text for a number")
    };
    assert!(value.contains("ten"), "what stood there: {value}");
    assert_eq!(words, "a number", "what would be read");
    let unreadable = refused(&text("/version", json!("one")));
    assert!(unreadable.3.is_some_and(|words| words != "a number" && !words.is_empty()), "a whole number is another");
    let unknown = refused(&text("/neckline/hem_mm", json!(1)));
    assert_eq!((unknown.0.as_str(), unknown.1), ("neckline.hem_mm", Problem::UnknownField), "by its name");
    assert_eq!(unknown.2.as_deref(), Some("hem_mm"), "the name itself");
    let unknown = refused(&text("/hem_mm", json!(1)));
    assert_eq!((unknown.0.as_str(), unknown.1), ("hem_mm", Problem::UnknownField), "at the top too");
    let mut missing = with("/title", json!("Invented"));
    missing["neckline"].as_object_mut().expect("a neckline").remove("front");
    let error = refused(&missing.to_string());
    assert_eq!((error.0.as_str(), error.1), ("neckline.front", Problem::Missing), "where it should stand");
    missing.as_object_mut().expect("a brief").remove("neckline");
    assert_eq!(refused(&missing.to_string()).0, "neckline", "and at the top");
    let after = refused(&format!("{} 1", text("/title", json!("Invented"))));
    assert_eq!(after.1, Problem::Unreadable, "nothing may follow");
}
