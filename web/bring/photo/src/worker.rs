//! The module as a Worker: it answers the page's messages by itself, one after the other, until the page ends it.

use std::cell::RefCell;
use std::collections::VecDeque;

use js_sys::{Array, Object, Reflect, Uint8Array};
use serde::Serialize;
use serde_wasm_bindgen::Serializer;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{
    Blob, DedicatedWorkerGlobalScope, ImageBitmap, ImageBitmapOptions, ImageOrientation, MessageEvent, OffscreenCanvas,
    OffscreenCanvasRenderingContext2d, ResizeQuality,
};

use crate::Photo;
use crate::messages::{
    Edge, LONGEST_PX, Line, MOST_BYTES, MOST_PIXELS, Opened, Place, Rectangle, Refused, Set, Snap, Trace,
};
use crate::pictures::told_size;

/// A small allocator: the usual one weighs two kilobytes more.
#[global_allocator]
static ALLOCATOR: rlsf::SmallGlobalTlsf = rlsf::SmallGlobalTlsf::new();

/// How much of a file is read to see what size it tells: past what phones write before that.
const HEAD_BYTES: f64 = 262_144.0;

#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
enum Answer {
    Opened(Opened),
    Set(Set),
    Snapped(Place),
    Edge(Edge),
    Refused(Refused),
}

#[derive(Default)]
struct State {
    photo: Option<Photo>,
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
        let answer = answer(&asked).await.unwrap_or_else(Answer::Refused);
        post(&answer);
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

async fn answer(asked: &JsValue) -> Result<Answer, Refused> {
    let what = field(asked, "do").as_string();
    match what.as_deref() {
        Some("open") => open(&field(asked, "file")).await.map(Answer::Opened),
        Some("rectangle") => {
            let asked = rectangle(asked).ok_or(Refused::NotUnderstood)?;
            with_photo(|photo| photo.set(&asked).map(Answer::Set))
        }
        Some("snap") => {
            let at = place(&field(asked, "at")).ok_or(Refused::NotUnderstood)?;
            with_photo(|photo| photo.snap(Snap { at }).map(Answer::Snapped))
        }
        Some("trace") => {
            let asked = trace(asked).ok_or(Refused::NotUnderstood)?;
            with_photo(|photo| photo.trace(&asked).map(Answer::Edge))
        }
        _ => Err(Refused::NotUnderstood),
    }
}

fn field(of: &JsValue, name: &str) -> JsValue {
    Reflect::get(of, &name.into()).unwrap_or_default()
}

/// What is read by hand weighs a fifth of what reads any object.
fn rectangle(asked: &JsValue) -> Option<Rectangle> {
    Some(Rectangle {
        corners: places(&field(asked, "corners"))?.try_into().ok()?,
        width_mm: field(asked, "width_mm").as_f64()?,
        height_mm: field(asked, "height_mm").as_f64()?,
    })
}

fn trace(asked: &JsValue) -> Option<Trace> {
    let via = field(asked, "via");
    Some(Trace {
        ends: places(&field(asked, "ends"))?.try_into().ok()?,
        down: place(&field(asked, "down"))?,
        via: if via.is_undefined() { Vec::new() } else { places(&via)? },
        edge: match field(asked, "edge").as_string()?.as_str() {
            "cut" => Line::Cut,
            "line" => Line::Line,
            _ => return None,
        },
    })
}

/// So many places at most are read: more are refused unread.
const MOST_PLACES: u32 = 1000;

fn places(of: &JsValue) -> Option<Vec<Place>> {
    let of: &Array = of.dyn_ref()?;
    let count = of.length();
    if count > MOST_PLACES {
        return None;
    }
    (0..count).map(|index| place(&of.get(index))).collect()
}

fn place(of: &JsValue) -> Option<Place> {
    let of: &Array = of.dyn_ref()?;
    let [x, y] = [of.get(0).as_f64()?, of.get(1).as_f64()?];
    (of.length() == 2).then_some([x, y])
}

fn with_photo<T>(act: impl FnOnce(&mut Photo) -> Result<T, Refused>) -> Result<T, Refused> {
    STATE.with_borrow_mut(|state| act(state.photo.as_mut().ok_or(Refused::NoPhoto)?))
}

/// Opens a file as the photo, in place of the one before.
async fn open(file: &JsValue) -> Result<Opened, Refused> {
    STATE.with_borrow_mut(|state| state.photo = None);
    let file: &Blob = file.dyn_ref().ok_or(Refused::NotUnderstood)?;
    if file.size() > MOST_BYTES {
        return Err(Refused::FileLarge { bytes: file.size(), most: MOST_BYTES });
    }
    if let Some((width, height)) = size_in_head(file).await {
        within_pixels(f64::from(width) * f64::from(height))?;
    }
    let (width, height, rgba) = pixels(file).await?;
    let photo = Photo::open(width, height, &rgba)?;
    drop(rgba);
    let opened = photo.opened();
    STATE.with_borrow_mut(|state| state.photo = Some(photo));
    Ok(opened)
}

fn within_pixels(pixels: f64) -> Result<(), Refused> {
    if pixels > MOST_PIXELS { Err(Refused::TooManyPixels { pixels, most: MOST_PIXELS }) } else { Ok(()) }
}

/// The size that the first of a file's bytes tell.
async fn size_in_head(file: &Blob) -> Option<(u32, u32)> {
    let head = file.slice_with_f64_and_f64(0.0, HEAD_BYTES).ok()?;
    let buffer = JsFuture::from(head.array_buffer()).await.ok()?;
    told_size(&Uint8Array::new(&buffer).to_vec())
}

/// A file's pixels, unpacked and turned upright by the browser, and reduced so that the longest side is in bounds.
async fn pixels(file: &Blob) -> Result<(u32, u32, Vec<u8>), Refused> {
    let unread = |_| Refused::NotAPicture;
    let options = ImageBitmapOptions::new();
    options.set_image_orientation(ImageOrientation::FromImage);
    let whole = bitmap(file.as_ref(), &options).await.map_err(unread)?;
    let (width, height) = (whole.width(), whole.height());
    let longest = width.max(height);
    if longest == 0 {
        return Err(Refused::NotAPicture);
    }
    within_pixels(f64::from(width) * f64::from(height))?;
    let reduced = |side: u32| (u64::from(side) * u64::from(LONGEST_PX) / u64::from(longest)).max(1);
    let (width, height) = if longest > LONGEST_PX {
        (u32::try_from(reduced(width)).unwrap_or(1), u32::try_from(reduced(height)).unwrap_or(1))
    } else {
        (width, height)
    };
    let shown = if longest > LONGEST_PX {
        let options = ImageBitmapOptions::new();
        options.set_resize_width(width);
        options.set_resize_height(height);
        options.set_resize_quality(ResizeQuality::High);
        let small = bitmap(whole.as_ref(), &options).await.map_err(unread)?;
        whole.close();
        small
    } else {
        whole
    };
    let rgba = drawn(&shown, width, height).map_err(unread)?;
    shown.close();
    Ok((width, height, rgba))
}

/// `createImageBitmap` of a file or of another bitmap.
async fn bitmap(of: &JsValue, options: &ImageBitmapOptions) -> Result<ImageBitmap, JsValue> {
    let scope: DedicatedWorkerGlobalScope = js_sys::global().dyn_into()?;
    let make: js_sys::Function = Reflect::get(&scope, &"createImageBitmap".into())?.dyn_into()?;
    let promise: js_sys::Promise = make.call2(&scope, of, options)?.dyn_into()?;
    JsFuture::from(promise).await?.dyn_into()
}

fn drawn(shown: &ImageBitmap, width: u32, height: u32) -> Result<Vec<u8>, JsValue> {
    let canvas = OffscreenCanvas::new(width, height)?;
    // Read back at once: to be drawn where it is read.
    let options = Object::new();
    Reflect::set(&options, &"willReadFrequently".into(), &true.into())?;
    let context: OffscreenCanvasRenderingContext2d =
        canvas.get_context_with_context_options("2d", &options)?.ok_or(JsValue::UNDEFINED)?.dyn_into()?;
    context.draw_image_with_image_bitmap(shown, 0.0, 0.0)?;
    let data = context.get_image_data(0.0, 0.0, f64::from(width), f64::from(height))?;
    Ok(data.data().0)
}
