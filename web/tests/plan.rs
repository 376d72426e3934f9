//! The exported functions: a plan for an example, a list of errors for what is no brief, lengths to and from text.
#![cfg(target_arch = "wasm32")]

use js_sys::{Array, JSON, Reflect};
use lieflat_web::{parse_length, plan, plan_quick, plan_with_working, sizes, told};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

const EXAMPLE: &str = r#"{
  "schema": "lieflat.brief", "version": 1, "title": "Invented example",
  "neckline": {
    "readings_at": "cut_edge", "neckline_allowance_mm": 10,
    "front": {
      "outline": { "measured": { "half_length_mm": 155, "depth_mm": 95, "shape": { "kind": "round" } } },
      "shoulder_allowance_mm": 10
    },
    "back": {
      "outline": { "measured": { "half_length_mm": 100, "half_width_mm": 88, "shape": { "kind": "round" } } },
      "shoulder_allowance_mm": 10
    }
  },
  "garment_knit": { "crosswise": { "readings": { "rest_mm": 100, "stretched_mm": 150, "released_mm": 103 } } },
  "finish": { "band": { "width_mm": 20 } },
  "head": { "girth": { "own_mm": 560 } }
}"#;

fn parsed(text: &str) -> JsValue {
    JSON::parse(text).unwrap_or(JsValue::NULL)
}

fn get(value: &JsValue, path: &[&str]) -> JsValue {
    path.iter().fold(value.clone(), |value, key| Reflect::get(&value, &JsValue::from_str(key)).unwrap_or(JsValue::NULL))
}

fn first_error(brief: &str) -> JsValue {
    Array::from(&get(&parsed(&plan(brief)), &["errors"])).get(0)
}

#[wasm_bindgen_test]
fn an_example_is_planned_with_ranges_and_without() {
    let figure = |answer: &JsValue, name: &str| get(answer, &["plan", "strip", "cut_length", name]).as_f64();
    let (whole, quick) = (parsed(&plan(EXAMPLE)), parsed(&plan_quick(EXAMPLE)));
    let cut = figure(&whole, "cut_mm");
    assert!(cut.is_some_and(|mm| (200.0..700.0).contains(&mm)), "a cut length of a neckline's size: {cut:?}");
    assert_eq!(figure(&quick, "cut_mm"), cut, "the quick plan cuts the same");
    assert!(figure(&whole, "low_mm") < figure(&whole, "exact_mm"), "the whole plan has a range");
    assert_eq!(figure(&quick, "low_mm"), figure(&quick, "exact_mm"), "the quick plan has none");
}

#[wasm_bindgen_test]
fn a_half_is_told_in_the_other_ways() {
    let answer = parsed(&told(EXAMPLE));
    let width = get(&answer, &["told", "back", "half_width_mm"]).as_f64();
    assert!(width.is_some_and(|mm| (mm - 88.0).abs() < 0.01), "the back's half width as it was read: {width:?}");
    let path = get(&answer, &["told", "front", "path_mm"]).as_string();
    assert!(path.is_some_and(|text| text.starts_with("M0,")), "the front's path starts on the centre line");
}

#[wasm_bindgen_test]
fn lengths_are_read_and_what_is_none_gets_a_code() {
    assert_eq!(parse_length("15 3/8", "in").as_f64(), Some(390.525), "inches are read");
    assert_eq!(parse_length("ten", "mm").as_string().as_deref(), Some("\"not_a_number\""), "words are not");
}

#[wasm_bindgen_test]
fn a_length_out_of_range_is_named_by_its_field() {
    let error = first_error(&EXAMPLE.replace("\"half_length_mm\": 155", "\"half_length_mm\": -5"));
    let field = get(&error, &["field"]).as_string();
    assert_eq!(field.as_deref(), Some("neckline.front.outline.measured.half_length_mm"), "the field is named");
    assert_eq!(get(&error, &["accepted", "min"]).as_f64(), Some(20.0), "and what is accepted");
}

#[wasm_bindgen_test]
fn a_number_that_is_none_is_named_by_its_field() {
    let error = first_error(&EXAMPLE.replace("\"half_length_mm\": 155", "\"half_length_mm\": \"NaN\""));
    let field = get(&error, &["field"]).as_string();
    assert_eq!(field.as_deref(), Some("neckline.front.outline.measured.half_length_mm"), "the field is named");
    assert_eq!(get(&error, &["problem"]).as_string().as_deref(), Some("not_finite"), "and what is wrong");
}

#[wasm_bindgen_test]
fn the_working_comes_with_the_call_that_asks_for_it() {
    let steps = |answer: &str| Array::from(&get(&parsed(answer), &["plan", "working"])).length();
    assert_eq!(steps(&plan(EXAMPLE)), 0, "the usual plan has none");
    assert_eq!(steps(&plan_quick(EXAMPLE)), 0, "nor has the quick one");
    let whole = plan_with_working(EXAMPLE);
    assert!(steps(&whole) > 40, "every figure has a step: {}", steps(&whole));
    let figure = |answer: &str| get(&parsed(answer), &["plan", "strip", "cut_length", "low_mm"]).as_f64();
    assert_eq!(figure(&whole), figure(&plan(EXAMPLE)), "the figures and their ranges are the same");
}

#[wasm_bindgen_test]
fn a_table_of_sizes_gives_a_plan_for_each() {
    let table = r#"{ "growth": { "front": { "half_length_mm": 4 }, "back": { "half_length_mm": 3 } },
        "sizes": [{ "name": "S", "front": { "steps": -1 }, "back": { "steps": -1 } },
                  { "name": "M", "front": { "steps": 0 }, "back": { "steps": 0 } }] }"#;
    let answers = Array::from(&get(&parsed(&sizes(EXAMPLE, table)), &["sizes"]));
    let length = |n: u32| get(&answers.get(n), &["plan", "seam_line", "whole_length_mm"]).as_f64();
    assert_eq!(answers.length(), 2, "one for each size");
    assert_eq!(length(1), get(&parsed(&plan(EXAMPLE)), &["plan", "seam_line", "whole_length_mm"]).as_f64(), "the base");
    assert!(length(0) < length(1), "a smaller size has a shorter seam line: {:?} and {:?}", length(0), length(1));
    let refused = Array::from(&get(&parsed(&sizes(EXAMPLE, "[]")), &["errors"])).get(0);
    assert_eq!(get(&refused, &["problem"]).as_string().as_deref(), Some("unreadable"), "what is no table is refused");
}

#[wasm_bindgen_test]
fn what_is_no_brief_is_refused_in_the_same_form() {
    for text in ["null", "3", "{}", "[]", "", "{\"schema\":", "\u{0}"] {
        let problem = get(&first_error(text), &["problem"]).as_string();
        assert_eq!(problem.as_deref(), Some("unreadable"), "{text:?} is refused");
    }
}
