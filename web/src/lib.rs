//! The door between a page and the core: briefs in, plans out, lengths to and from text. No behaviour, no words.
//!
//! What cannot be planned or read comes back as a value and is never thrown. Briefs come as plain objects, and answers
//! leave as JSON text that the browser makes objects of: measured against the other ways, the lightest pair.
#![forbid(unsafe_code)]

use lieflat::length::{LengthError, LengthUnit, format_length, parse_length_mm, parse_number};
#[cfg(feature = "whole")]
use lieflat::sizes::{SizeSet, size_briefs};
use lieflat::{Brief, BriefErrors};
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// A small allocator: the usual one weighs two kilobytes more, and a plan asks for little memory at a time.
#[cfg(target_arch = "wasm32")]
#[global_allocator]
static ALLOCATOR: rlsf::SmallGlobalTlsf = rlsf::SmallGlobalTlsf::new();

/// Plans a brief, a plain object of the schema `lieflat.brief`: `{ plan }`, or `{ errors }` with everything wrong.
#[wasm_bindgen]
#[must_use]
pub fn plan(brief: JsValue) -> JsValue {
    answer(brief, |brief| Ok(planned(brief)))
}

/// The same without ranges, for a line that is being dragged.
#[wasm_bindgen]
#[must_use]
pub fn plan_quick(brief: JsValue) -> JsValue {
    answer(brief, |brief| lieflat::plan_without_ranges(brief).map(Answer::Plan))
}

/// Both halves as readings, as a draft and as a path: `{ told: { front, back } }`, or `{ errors }`.
#[wasm_bindgen]
#[must_use]
pub fn told(brief: JsValue) -> JsValue {
    answer(brief, |brief| lieflat::told(brief).map(Answer::Told))
}

/// A plan for each size of a table: `{ sizes: [{ plan } or { errors }] }`, or `{ errors }` with everything wrong in
/// the table.
#[cfg(feature = "whole")]
#[wasm_bindgen]
#[must_use]
pub fn sizes(base: JsValue, table: JsValue) -> JsValue {
    match serde_wasm_bindgen::from_value::<SizeSet>(table) {
        Ok(table) => answer(base, |base| {
            size_briefs(base, &table).map(|briefs| Answer::Sizes(briefs.iter().map(planned).collect()))
        }),
        Err(error) => unreadable(&error),
    }
}

/// A length's millimetres, or the code of what is wrong with the text. `unit` is `mm`, `cm` or `in`.
#[wasm_bindgen]
#[must_use]
pub fn parse_length(text: &str, unit: &str) -> JsValue {
    number_or_code(parse_length_mm(text, unit_of(unit)))
}

/// A plain number's value, or the code of what is wrong with the text.
#[wasm_bindgen(js_name = parse_number)]
#[must_use]
pub fn read_number(text: &str) -> JsValue {
    number_or_code(parse_number(text))
}

/// A length in a unit, the unit left out.
#[wasm_bindgen(js_name = format_length)]
#[must_use]
pub fn write_length(mm: f64, unit: &str) -> String {
    format_length(mm, unit_of(unit))
}

#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
// A plan is made to be sent at once and never kept: boxing it would save nothing.
#[allow(clippy::large_enum_variant)]
enum Answer {
    Plan(lieflat::Plan),
    Told(lieflat::Told),
    #[cfg(feature = "whole")]
    Sizes(Vec<Answer>),
    Errors(Vec<lieflat::BriefError>),
}

/// What is no brief at all is refused in the same form as a brief that cannot be planned.
#[derive(Serialize)]
struct NoBrief {
    errors: [Unreadable; 1],
}

#[derive(Serialize)]
struct Unreadable {
    field: &'static str,
    value: String,
    problem: &'static str,
}

fn answer(brief: JsValue, work: impl FnOnce(&Brief) -> Result<Answer, BriefErrors>) -> JsValue {
    match serde_wasm_bindgen::from_value::<Brief>(brief) {
        Ok(brief) => to_js(&work(&brief).unwrap_or_else(|errors| Answer::Errors(errors.errors))),
        Err(error) => unreadable(&error),
    }
}

fn planned(brief: &Brief) -> Answer {
    lieflat::plan(brief).map_or_else(|errors| Answer::Errors(errors.errors), Answer::Plan)
}

fn unreadable(error: &serde_wasm_bindgen::Error) -> JsValue {
    to_js(&NoBrief { errors: [Unreadable { field: "", value: error.to_string(), problem: "unreadable" }] })
}

fn number_or_code(read: Result<f64, LengthError>) -> JsValue {
    read.map_or_else(|error| to_js(&error), JsValue::from_f64)
}

fn unit_of(symbol: &str) -> LengthUnit {
    match symbol {
        "in" => LengthUnit::Inch,
        "cm" => LengthUnit::Centimetre,
        _ => LengthUnit::Millimetre,
    }
}

/// JSON text with numbers as the standard library writes them: a number formatter of its own would weigh twice.
struct PlainNumbers;

impl serde_json::ser::Formatter for PlainNumbers {
    fn write_f64<W: ?Sized + std::io::Write>(&mut self, writer: &mut W, value: f64) -> std::io::Result<()> {
        write!(writer, "{value}")
    }
}

fn to_js(value: &impl Serialize) -> JsValue {
    let mut text = Vec::new();
    let written = value.serialize(&mut serde_json::Serializer::with_formatter(&mut text, PlainNumbers));
    let text = written.ok().and_then(|()| String::from_utf8(text).ok());
    text.and_then(|text| js_sys::JSON::parse(&text).ok()).unwrap_or(JsValue::NULL)
}
