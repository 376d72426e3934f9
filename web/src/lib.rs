//! The door between a page and the core: briefs in, plans out, lengths from text. No behaviour, no words.
//!
//! What cannot be planned or read comes back as a value and is never thrown. Briefs come and answers leave as JSON text,
//! which a browser makes of objects and objects of faster than a module asks for one field after the other; lengths and
//! numbers leave as plain values. How much is worked out is the caller's to choose by the function it calls.
#![forbid(unsafe_code)]

use lieflat::length::{LengthError, LengthUnit, parse_length_mm, parse_number};
use lieflat::sizes::{SizeSet, size_briefs};
use lieflat::{Brief, BriefErrors, Plan};
use lieflat_json::{Fit, Wrong};
use serde::{Deserialize, Serialize};
use serde_wasm_bindgen::to_value;
use wasm_bindgen::prelude::*;

/// A small allocator: the usual one weighs two kilobytes more, and a plan asks for little memory at a time.
#[cfg(target_arch = "wasm32")]
#[global_allocator]
static ALLOCATOR: rlsf::SmallGlobalTlsf = rlsf::SmallGlobalTlsf::new();

/// Plans a brief, the text of an object of the schema `lieflat.brief`: `{ plan }` with its ranges, or `{ errors }` with
/// everything wrong.
#[wasm_bindgen]
#[must_use]
pub fn plan(brief: &str) -> String {
    answer(brief, &|brief| Ok(planned(brief, lieflat::plan_without_working)))
}

/// The same without ranges, for a line that is being dragged.
#[wasm_bindgen]
#[must_use]
pub fn plan_quick(brief: &str) -> String {
    answer(brief, &|brief| Ok(planned(brief, lieflat::plan_without_ranges)))
}

/// The same with ranges and with the working of every figure.
#[wasm_bindgen]
#[must_use]
pub fn plan_with_working(brief: &str) -> String {
    answer(brief, &|brief| Ok(planned(brief, lieflat::plan)))
}

/// Both halves as readings, as a draft and as a path: `{ told: { front, back } }`, or `{ errors }`.
#[wasm_bindgen]
#[must_use]
pub fn told(brief: &str) -> String {
    answer(brief, &|brief| lieflat::told(brief).map(Answer::Told))
}

/// A plan for each size of a table: `{ sizes: [{ plan } or { errors }] }`, or `{ errors }` with everything wrong in
/// the table.
#[wasm_bindgen]
#[must_use]
pub fn sizes(base: &str, table: &str) -> String {
    match read::<SizeSet>(table) {
        Ok(table) => answer(base, &|base| {
            let sized = |brief: &Brief| planned(brief, lieflat::plan_without_working);
            size_briefs(base, &table).map(|briefs| Answer::Sizes(briefs.iter().map(sized).collect()))
        }),
        Err(wrong) => unreadable(wrong),
    }
}

/// A length's millimetres, or what is wrong with the text, as JSON: a code, or an object of a code and what it carries. `unit` is `mm`, `cm` or `in`.
#[wasm_bindgen]
#[must_use]
pub fn parse_length(text: &str, unit: &str) -> JsValue {
    number_or_problem(parse_length_mm(text, unit_of(unit)))
}

/// A plain number's value, or what is wrong with the text, as of a length.
#[wasm_bindgen(js_name = parse_number)]
#[must_use]
pub fn read_number(text: &str) -> JsValue {
    number_or_problem(parse_number(text))
}

#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
// A plan is made to be sent at once and never kept: boxing it would save nothing.
#[allow(clippy::large_enum_variant)]
enum Answer {
    Plan(Plan),
    Told(lieflat::Told),
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
    value: &'static str,
    problem: &'static str,
}

/// A field that is not known is passed over, as a link of a later version may carry it; the page names it.
fn read<T: for<'de> Deserialize<'de>>(text: &str) -> Result<T, Wrong> {
    lieflat_json::read(text, Fit::Loose)
}

fn answer(brief: &str, work: &dyn Fn(&Brief) -> Result<Answer, BriefErrors>) -> String {
    match read::<Brief>(brief) {
        Ok(brief) => written(&work(&brief).unwrap_or_else(|errors| Answer::Errors(errors.errors))),
        Err(wrong) => unreadable(wrong),
    }
}

fn planned(brief: &Brief, plan: fn(&Brief) -> Result<Plan, BriefErrors>) -> Answer {
    plan(brief).map_or_else(|errors| Answer::Errors(errors.errors), Answer::Plan)
}

fn unreadable(wrong: Wrong) -> String {
    written(&NoBrief { errors: [Unreadable { field: "", value: wrong.text(), problem: "unreadable" }] })
}

fn written(answer: &impl Serialize) -> String {
    lieflat_json::write(answer).unwrap_or_default()
}

fn number_or_problem(read: Result<f64, LengthError>) -> JsValue {
    // As JSON: of a choice itself a table of names would be kept, two kilobytes of download.
    let problem = |error: LengthError| to_value(&written(&error));
    read.map_or_else(problem, |number| to_value(&number)).unwrap_or_default()
}

fn unit_of(symbol: &str) -> LengthUnit {
    match symbol {
        "in" => LengthUnit::Inch,
        "cm" => LengthUnit::Centimetre,
        _ => LengthUnit::Millimetre,
    }
}
