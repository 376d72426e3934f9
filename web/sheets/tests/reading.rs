//! What the page hands over is read whole or refused: a name that is not as the core writes it, or is missing, stops the sheets
//! before anything is printed. Planned from the worked briefs and the worked garments.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use lieflat::{Brief, Plan};
use lieflat_sheets::{Options, Sheet, StripForm, read};
use serde_json::{Value, json};

/// Names of a plan that are left out where there is nothing to say; a step of the order has the figures of its code alone.
const MAY_BE_ABSENT: [&str; 67] = [
    "clips",
    "clips.trim_to_mm",
    "clips.trimmed_back",
    "clips.trimmed_front",
    "facing",
    "facing.back.outer_edge.most_from",
    "facing.back.seam_edge.most_from",
    "facing.back.topstitch_line",
    "facing.back.trimmed_line",
    "facing.cut_width.most_from",
    "facing.front.outer_edge.most_from",
    "facing.front.seam_edge.most_from",
    "facing.front.topstitch_line",
    "facing.front.trimmed_line",
    "facing.topstitch_length_mm",
    "facing.understitch_stops_mm",
    "finish.join_allowance_mm",
    "garment_knit.growth_percent",
    "opening.remedies",
    "opening.stitch_advice",
    "opening.strip_girth_mm",
    "opening.typical_head_mm",
    "order.allowance_mm",
    "order.angle_deg",
    "order.at",
    "order.by_mm",
    "order.cautions",
    "order.count",
    "order.direction",
    "order.distance_mm",
    "order.length_mm",
    "order.over_mm",
    "order.places",
    "order.shorter_mm",
    "order.width_mm",
    "order.zones",
    "seam_line.back.point_half_angle_deg",
    "seam_line.back.tightest_radius_mm",
    "seam_line.front.point_half_angle_deg",
    "seam_line.front.tightest_radius_mm",
    "stays.zones.at_centre",
    "stays.zones.from_mm",
    "stays.zones.gathering_ratio",
    "stays.zones.name",
    "stays.zones.tape_each_mm",
    "stays.zones.to_mm",
    "strip",
    "strip.back_ends",
    "strip.cut_length.most_from",
    "strip.cut_width.most_from",
    "strip.learned",
    "strip.marks.number",
    "strip.narrowing.records",
    "strip.parts.drawn_in_percent",
    "strip.parts.leans_deg",
    "strip.quartered.leans_deg",
    "strip.rows.fold_mm",
    "strip.spans.leans_deg",
    "strip.stitch_line",
    "strip.straight_hold_percent",
    "strip.topstitch_mm",
    "strip.trim_mm",
    "strip.understitch_stops_mm",
    "strip.widest_mm",
    "strip_knit.growth_percent",
    "title",
    "working",
];

/// The worked briefs and garments with their plans.
fn planned() -> Vec<(String, Brief, Plan)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let folders = ["tests/briefs", "tests/garments"].map(|folder| fs::read_dir(root.join(folder)).expect("a folder"));
    let files = folders.into_iter().flatten().map(|entry| entry.expect("an entry").path());
    let mut briefs: Vec<PathBuf> = files
        .filter(|file| file.extension().is_some_and(|ending| ending == "json"))
        .filter(|file| !file.to_string_lossy().ends_with(".plan.json"))
        .collect();
    briefs.sort();
    let read = |file: &PathBuf| (file.display().to_string(), fs::read_to_string(file).expect("a brief"));
    let texts = briefs.iter().map(read).chain([("two points".to_owned(), two_points())]);
    let plan = |(file, text): (String, String)| {
        let brief = Brief::from_json(&text).unwrap_or_else(|errors| panic!("{file}: {errors}"));
        let plan = lieflat::plan(&brief).unwrap_or_else(|errors| panic!("{file}: {errors}"));
        (file, brief, plan)
    };
    texts.map(plan).collect()
}

/// What no worked brief has, in one, invented: points at front and back, a record of a sewn strip, a gathered edge.
fn two_points() -> String {
    let mut brief: Value = serde_json::from_str(include_str!("../../../tests/briefs/band-round.json")).expect("JSON");
    let half = |depth: f64| json!({ "half_width_mm": 80, "depth_mm": depth, "shape": { "kind": "v" } });
    for (name, depth) in [("front", 170.0), ("back", 90.0)] {
        brief["neckline"][name]["outline"] = json!({ "drafted": half(depth) });
    }
    brief["garment_knit"]["learned"] = json!([{ "finish": "band", "held_line_mm": 500, "strip_mm": 480, "outcome": "lay_flat",
            "width": { "sewn_mm": 14, "unnarrowed_mm": 15, "stretch_percent": 10 } }]);
    brief["stays"] = json!({ "edges": [{
        "name": "yoke", "part": "gathered", "length_mm": 200, "gathered_from_mm": 300, "direction": "crosswise", "allowance_mm": 10,
    }] });
    brief.to_string()
}

fn options() -> Value {
    json!({ "paper": "a4", "unit": "mm", "language": "en", "words": {}, "sheets": ["card"] })
}

/// The plan as the sheets read it.
fn read_plan(plan: &Value) -> Result<Plan, &'static str> {
    read(include_str!("../../../tests/briefs/band-round.json"), &plan.to_string(), &options().to_string())
        .map(|(_, plan, _)| plan)
}

/// Every name in a plan: where the object is that has it, and the name. The working is passed over, and so not looked into.
fn names(value: &Value, at: &str, found: &mut Vec<(String, String)>) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                found.push((at.to_owned(), name.clone()));
                if name != "working" {
                    names(value, &format!("{at}/{name}"), found);
                }
            }
        }
        Value::Array(items) => {
            for (i, value) in items.iter().enumerate() {
                names(value, &format!("{at}/{i}"), found);
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

fn object<'a>(plan: &'a mut Value, at: &str) -> &'a mut serde_json::Map<String, Value> {
    plan.pointer_mut(at).and_then(Value::as_object_mut).expect("an object")
}

/// A name with where it stands, places in lists left out.
fn kind(at: &str, name: &str) -> String {
    let names = at.split('/').filter(|part| !part.is_empty() && part.parse::<usize>().is_err());
    names.chain([name]).collect::<Vec<_>>().join(".")
}

#[test]
fn what_is_read_is_what_was_planned() {
    for (file, brief, plan) in planned() {
        let texts = [json!(brief), json!(plan), options()].map(|value| value.to_string());
        let (brief_read, plan_read, _) = read(&texts[0], &texts[1], &texts[2]).expect("all three");
        assert!(brief_read == brief, "{file}: the brief");
        let planned = Plan { working: Vec::new(), ..plan };
        assert!(by_name(plan_read) == by_name(planned), "{file}: the plan but for its working");
    }
}

/// The figures of each step by their names, since an object's fields have no order.
fn by_name(mut plan: Plan) -> Plan {
    for step in &mut plan.order {
        step.figures.sort_by_key(|(figure, _)| figure.name());
    }
    plan
}

#[test]
fn a_plan_with_a_name_renamed_or_missing_is_refused() {
    let mut absent = BTreeSet::new();
    let mut tried = BTreeSet::new();
    for (file, _, plan) in planned() {
        let mut plan = json!(plan);
        let mut found = Vec::new();
        names(&plan, "", &mut found);
        for (at, name) in found {
            // The first of each kind that any plan has stands for all: they are read by the same type.
            if !tried.insert(kind(&at, &name)) {
                continue;
            }
            let value = object(&mut plan, &at).remove(&name).expect("it is there");
            match read_plan(&plan) {
                Ok(_) => drop(absent.insert(kind(&at, &name))),
                Err(what) => assert_eq!(what, "plan", "{file}: what is refused without {at}/{name}"),
            }
            object(&mut plan, &at).insert(format!("{name}_"), value.clone());
            assert_eq!(read_plan(&plan).err(), Some("plan"), "{file}: {at}/{name} by another name");
            object(&mut plan, &at).remove(&format!("{name}_"));
            object(&mut plan, &at).insert(name, value);
        }
        assert!(read_plan(&plan).is_ok(), "{file}: each name was put back");
    }
    let meant = MAY_BE_ABSENT.map(str::to_owned).into();
    assert_eq!(absent, meant, "what may be absent");
}

/// Every place that a number has in a plan takes no word, no truth and no nothing for it.
#[test]
fn a_figure_that_is_none_is_refused() {
    let (file, _, plan) = planned().swap_remove(0);
    let plan = json!(plan);
    let mut found = Vec::new();
    names(&plan, "", &mut found);
    for (at, name) in found {
        let place = format!("{at}/{name}");
        for other in [json!(null), json!("12"), json!("NaN"), json!(true), json!([])] {
            let mut plan = plan.clone();
            let value = plan.pointer_mut(&place).expect("it is there");
            if !value.is_number() || (other.is_null() && MAY_BE_ABSENT.contains(&&*kind(&at, &name))) {
                continue;
            }
            *value = other.clone();
            assert_eq!(read_plan(&plan).err(), Some("plan"), "{file}: {place} is {other}");
        }
    }
}

#[test]
fn another_schema_or_version_is_refused() {
    let plan = json!(planned().swap_remove(0).2);
    for (name, value) in [("schema", json!("lieflat.brief")), ("schema", json!(null)), ("version", json!(2))] {
        let mut plan = plan.clone();
        plan[name] = value;
        assert_eq!(read_plan(&plan).err(), Some("plan"), "{name}");
    }
}

#[test]
fn what_is_no_brief_plan_or_options_is_named() {
    let (_, brief, plan) = planned().swap_remove(0);
    let texts = [json!(brief), json!(plan), options()].map(|value| value.to_string());
    let [brief, plan, options] = texts.each_ref().map(String::as_str);
    assert!(read(brief, plan, options).is_ok(), "as they are");
    assert_eq!(read(plan, plan, options).err(), Some("brief"), "a plan is no brief");
    assert_eq!(read(brief, brief, options).err(), Some("plan"), "a brief is no plan");
    assert_eq!(read(brief, plan, "{").err(), Some("options"), "no JSON");
    assert_eq!(read(brief, plan, "{}").err(), Some("options"), "nothing of them");
}

#[test]
fn options_that_are_none_are_refused() {
    let (_, brief, plan) = planned().swap_remove(0);
    let [brief, plan] = [json!(brief), json!(plan)].map(|value| value.to_string());
    let read_options = |options: &Value| read(&brief, &plan, &options.to_string()).map(|(_, _, options)| options);
    let least = read_options(&options()).expect("the least that will do");
    assert_eq!(
        (least.sheets.as_slice(), least.strip, least.link),
        (&[Sheet::Card][..], StripForm::Auto, None),
        "as asked"
    );
    for (name, wrong) in [
        ("paper", json!("a3")),
        ("unit", json!("inch")),
        ("sheets", json!(["card", "poster"])),
        ("sheets", json!("card")),
        ("strip", json!("quarter")),
        ("words", json!([])),
        ("date", json!(7)),
        ("papers", json!("a4")),
    ] {
        let mut options = options();
        options[name] = wrong;
        assert_eq!(read_options(&options), Err("options"), "{name}");
        let said = serde_json::from_value::<Options>(options).expect_err(name).to_string();
        assert!(said.contains("expected"), "and said on the command line: {said}");
    }
    for name in ["paper", "unit", "language", "words", "sheets"] {
        let mut options = options();
        options.as_object_mut().and_then(|fields| fields.remove(name)).expect("it stands there");
        assert_eq!(read_options(&options), Err("options"), "without {name}");
    }
}
