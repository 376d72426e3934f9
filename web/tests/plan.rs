//! The exported `plan`: a plan for the page's example, a list of errors for what is no brief.
#![cfg(target_arch = "wasm32")]

use lieflat_web::plan;
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;
use web_sys::js_sys::{Array, JSON, Reflect};

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
    let errors = plan(brief).err().map(|thrown| get(&thrown, &["errors"])).unwrap_or(JsValue::NULL);
    Array::from(&errors).get(0)
}

#[wasm_bindgen_test]
fn the_example_is_planned() {
    let planned = plan(parsed(EXAMPLE));
    assert!(planned.is_ok(), "the example plans: {planned:?}");
    let length = get(&planned.unwrap_or(JsValue::NULL), &["strip", "cut_length", "cut_mm"]).as_f64();
    assert!(length.is_some_and(|mm| (200.0..700.0).contains(&mm)), "a cut length of a neckline's size: {length:?}");
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
        let message = get(&first_error(value.clone()), &["message"]).as_string();
        assert!(message.is_some_and(|text| !text.is_empty()), "{value:?} has a message");
    }
}
