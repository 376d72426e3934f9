//! The module as a Worker: it answers the page's messages by itself, one after the other, until the page ends it.

use std::cell::RefCell;
use std::collections::VecDeque;

use js_sys::{Reflect, Uint8Array};
use serde::Serialize;
use serde_wasm_bindgen::Serializer;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{Blob, DedicatedWorkerGlobalScope, MessageEvent};

use crate::messages::{Answer, Refused};
use crate::room::{Room, within_size};

/// A small allocator: the usual one weighs two kilobytes more.
#[global_allocator]
static ALLOCATOR: rlsf::SmallGlobalTlsf = rlsf::SmallGlobalTlsf::new();

#[derive(Default)]
struct State {
    room: Room,
    waiting: VecDeque<JsValue>,
    busy: bool,
}

thread_local! {
    static STATE: RefCell<State> = RefCell::default();
}

/// Begins to answer messages.
///
/// # Errors
/// Where this is no Worker.
#[wasm_bindgen(start)]
pub fn start() -> Result<(), JsValue> {
    let scope: DedicatedWorkerGlobalScope = js_sys::global().dyn_into()?;
    let answer = Closure::<dyn FnMut(MessageEvent)>::new(|event: MessageEvent| {
        let first = STATE.with_borrow_mut(|state| {
            state.waiting.push_back(event.data());
            !core::mem::replace(&mut state.busy, true)
        });
        if first {
            spawn_local(answer_all());
        }
    });
    scope.set_onmessage(Some(answer.as_ref().unchecked_ref()));
    answer.forget();
    Ok(())
}

/// Answers what waits, in its order.
async fn answer_all() {
    while let Some(asked) = next() {
        post(&answer(asked).await);
    }
}

/// The next message; where there is none, the next to come begins anew.
fn next() -> Option<JsValue> {
    STATE.with_borrow_mut(|state| {
        let next = state.waiting.pop_front();
        state.busy = next.is_some();
        next
    })
}

fn post(answer: &Answer) {
    // Plain objects with null for what is not there.
    let object = answer.serialize(&Serializer::json_compatible());
    if let (Ok(object), Ok(scope)) = (object, js_sys::global().dyn_into::<DedicatedWorkerGlobalScope>()) {
        // It fails for what cannot be copied, which plain objects can.
        let _ = scope.post_message(&object);
    }
}

async fn answer(asked: JsValue) -> Answer {
    let field = |name: &str| Reflect::get(&asked, &name.into()).unwrap_or_default();
    if field("do").as_string().as_deref() == Some("open") {
        return match open(&field("file")).await {
            Ok(opened) => opened,
            Err(refused) => Answer::Refused(refused),
        };
    }
    match serde_wasm_bindgen::from_value(asked) {
        Ok(asked) => STATE.with_borrow_mut(|state| state.room.answer(asked)),
        Err(_) => Answer::Refused(Refused::NotUnderstood),
    }
}

/// Opens a file in place of the one before. One that is too large is not even read.
async fn open(file: &JsValue) -> Result<Answer, Refused> {
    let file: &Blob = file.dyn_ref().ok_or(Refused::NotUnderstood)?;
    within_size(file.size())?;
    let buffer = JsFuture::from(file.array_buffer()).await.map_err(|_| Refused::Broken { line: None })?;
    let bytes = Uint8Array::new(&buffer).to_vec();
    drop(buffer);
    STATE.with_borrow_mut(|state| state.room.open(bytes)).map(Answer::Opened)
}
