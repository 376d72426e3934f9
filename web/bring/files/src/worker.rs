//! The module as a Worker: it answers the page's messages by itself, one after the other, until the page ends it.

use std::cell::RefCell;

use js_sys::{JSON, Reflect, Uint8Array};
use lieflat_json::{Fit, write};
use serde::de::DeserializeOwned;
use wasm_bindgen::prelude::*;
use web_sys::{Blob, DedicatedWorkerGlobalScope, FileReaderSync, MessageEvent};

use crate::messages::{Answer, Asked, Refused};
use crate::room::{Room, within_size};

/// A small allocator: the usual one weighs two kilobytes more.
#[global_allocator]
static ALLOCATOR: rlsf::SmallGlobalTlsf = rlsf::SmallGlobalTlsf::new();

thread_local! {
    static ROOM: RefCell<Room> = RefCell::default();
}

/// Begins to answer messages.
///
/// # Errors
/// Where this is no Worker.
#[wasm_bindgen(start)]
pub fn start() -> Result<(), JsValue> {
    let scope: DedicatedWorkerGlobalScope = js_sys::global().dyn_into()?;
    let to = scope.clone();
    let answer = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let answer = answer(&event.data()).unwrap_or_else(Answer::Refused);
        // As one text: thousands of objects are made faster of it than one by one. Posting fails for what cannot be copied, which
        // plain objects can.
        if let Some(object) = write(&answer).ok().and_then(|text| JSON::parse(&text).ok()) {
            let _ = to.post_message(&object);
        }
    });
    scope.set_onmessage(Some(answer.as_ref().unchecked_ref()));
    answer.forget();
    Ok(())
}

fn answer(asked: &JsValue) -> Result<Answer, Refused> {
    let field = |name: &str| Reflect::get(asked, &name.into()).unwrap_or_default();
    let what = field("do").as_string().unwrap_or_default();
    let asked = match what.as_str() {
        "open" => return open(&field("file")),
        // Told apart here, since to find it out of the whole object weighs kilobytes.
        "scale" => Asked::Scale(read(asked)?),
        "check" => Asked::Check(read(asked)?),
        "join" => Asked::Join(read(asked)?),
        "piece" => Asked::Piece(read(asked)?),
        "edge" => Asked::Edge(read(asked)?),
        "sizes" => Asked::Sizes(read(asked)?),
        _ => return Err(Refused::NotUnderstood),
    };
    Ok(ROOM.with_borrow_mut(|room| room.answer(asked)))
}

/// A message; what it says besides is passed over.
fn read<T: DeserializeOwned>(asked: &JsValue) -> Result<T, Refused> {
    let text = JSON::stringify(asked).map(String::from).map_err(|_| Refused::NotUnderstood)?;
    lieflat_json::read(&text, Fit::Loose).map_err(|_| Refused::NotUnderstood)
}

/// Opens a file in place of the one before. One that is too large is not even read.
fn open(file: &JsValue) -> Result<Answer, Refused> {
    let file: &Blob = file.dyn_ref().ok_or(Refused::NotUnderstood)?;
    within_size(file.size())?;
    let unread = |_| Refused::Broken;
    let buffer = FileReaderSync::new().and_then(|reader| reader.read_as_array_buffer(file)).map_err(unread)?;
    let bytes = Uint8Array::new(&buffer).to_vec();
    drop(buffer);
    ROOM.with_borrow_mut(|room| room.open(bytes)).map(Answer::Opened)
}
