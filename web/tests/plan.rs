//! The exported functions: a plan for an example, a list of errors for what is no brief, lengths to and from text.
#![cfg(target_arch = "wasm32")]

use js_sys::{Array, JSON, Reflect};
use lieflat_web::{parse_length, plan, plan_quick, told, write_length};
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

fn first_error(brief: JsValue) -> JsValue {
    Array::from(&get(&plan(brief), &["errors"])).get(0)
}

#[wasm_bindgen_test]
fn an_example_is_planned_with_ranges_and_without() {
    let figure = |answer: &JsValue, name: &str| get(answer, &["plan", "strip", "cut_length", name]).as_f64();
    let (whole, quick) = (plan(parsed(EXAMPLE)), plan_quick(parsed(EXAMPLE)));
    let cut = figure(&whole, "cut_mm");
    assert!(cut.is_some_and(|mm| (200.0..700.0).contains(&mm)), "a cut length of a neckline's size: {cut:?}");
    assert_eq!(figure(&quick, "cut_mm"), cut, "the quick plan cuts the same");
    assert!(figure(&whole, "low_mm") < figure(&whole, "exact_mm"), "the whole plan has a range");
    assert_eq!(figure(&quick, "low_mm"), figure(&quick, "exact_mm"), "the quick plan has none");
}

#[wasm_bindgen_test]
fn a_half_is_told_in_the_other_ways() {
    let answer = told(parsed(EXAMPLE));
    let width = get(&answer, &["told", "back", "half_width_mm"]).as_f64();
    assert!(width.is_some_and(|mm| (mm - 88.0).abs() < 0.01), "the back's half width as it was read: {width:?}");
    let path = get(&answer, &["told", "front", "path_mm"]).as_string();
    assert!(path.is_some_and(|text| text.starts_with("M0,")), "the front's path starts on the centre line");
}

#[wasm_bindgen_test]
fn lengths_are_read_and_written_and_what_is_none_gets_a_code() {
    assert_eq!(parse_length("15 3/8", "in").as_f64(), Some(390.525), "inches are read");
    assert_eq!(parse_length("ten", "mm").as_string().as_deref(), Some("not_a_number"), "words are not");
    assert_eq!(write_length(390.525, "in"), "15 3/8", "and written as a tape is marked");
}

#[wasm_bindgen_test]
fn a_length_out_of_range_is_named_by_its_field() {
    let error = first_error(parsed(&EXAMPLE.replace("\"half_length_mm\": 155", "\"half_length_mm\": -5")));
    let field = get(&error, &["field"]).as_string();
    assert_eq!(field.as_deref(), Some("neckline.front.outline.measured.half_length_mm"), "the field is named");
    assert_eq!(get(&error, &["accepted", "min"]).as_f64(), Some(20.0), "and what is accepted");
}

#[wasm_bindgen_test]
fn what_is_no_brief_is_refused_in_the_same_form() {
    for value in [JsValue::NULL, JsValue::from_f64(3.0), parsed("{}"), parsed("[]")] {
        let problem = get(&first_error(value.clone()), &["problem"]).as_string();
        assert_eq!(problem.as_deref(), Some("unreadable"), "{value:?} is refused");
    }
}
