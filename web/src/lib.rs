//! The page's behaviour: text becomes a brief, the core makes a plan of it, and the plan is shown.
//!
//! Nothing here reckons a length. Data flows one way: `form` reads the form, `lieflat::plan` works
//! the brief out, `show` and `drawing` turn the plan into markup, `page` puts it in place.
#![forbid(unsafe_code)]

mod dom;
mod drawing;
mod form;
mod markup;
mod page;
mod show;
mod words;

use lieflat::Brief;
use serde::Serialize;
use serde_wasm_bindgen::Serializer;
use wasm_bindgen::prelude::*;

/// Starts the page: the form is watched from here on, and the worked example is planned at once.
///
/// # Errors
/// A text where this is no browser page, or where the page lacks its form.
#[wasm_bindgen]
pub fn start() -> Result<(), JsValue> {
    page::Page::start().ok_or_else(|| JsValue::from_str("Lieflat's form was not found on this page."))
}

/// Plans a brief given as a plain JavaScript object of the schema `lieflat.brief`.
///
/// # Errors
/// An object `{ errors: [{ field, message, … }] }` that lists everything wrong with the brief.
#[wasm_bindgen]
pub fn plan(brief: JsValue) -> Result<JsValue, JsValue> {
    let brief: Brief = serde_wasm_bindgen::from_value(brief).map_err(|error| unreadable(&error.to_string()))?;
    match lieflat::plan(&brief) {
        Ok(plan) => to_js(&plan),
        Err(errors) => Err(to_js(&errors)?),
    }
}

/// What is thrown where the value is not a brief at all: the same form as the core's errors.
#[derive(Serialize)]
struct Unreadable<'a> {
    errors: [UnreadableError<'a>; 1],
}

#[derive(Serialize)]
struct UnreadableError<'a> {
    field: &'a str,
    problem: &'a str,
    message: &'a str,
}

fn unreadable(message: &str) -> JsValue {
    let errors = [UnreadableError { field: "", problem: "unreadable", message }];
    to_js(&Unreadable { errors }).unwrap_or_else(|error| error)
}

fn to_js(value: &impl Serialize) -> Result<JsValue, JsValue> {
    value.serialize(&Serializer::json_compatible()).map_err(JsValue::from)
}
