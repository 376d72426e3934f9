//! Measures every photo of a folder that `tests/proof/make.py` made, and prints what came of each as JSON:
//! `cargo run --release -p lieflat-photo --example measure -- FOLDER`. It knows no truth but the ends: a person confirms them.

use std::error::Error;
use std::{env, fs};

use lieflat_photo::Photo;
use lieflat_photo::messages::{Line, Place, Rectangle, Snap, Trace};
use serde_json::{Value, json};

/// An end that came to lie further off than this a person sees under the loupe, and puts right, mm.
const SEEN_MM: f64 = 0.6;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = env::args().nth(1).ok_or("which folder?")?;
    let photos: Vec<Value> = serde_json::from_str(&fs::read_to_string(format!("{folder}/photos.json"))?)?;
    let measured: Result<Vec<Value>, Box<dyn Error>> = photos.iter().map(|photo| measured(&folder, photo)).collect();
    println!("{}", serde_json::to_string_pretty(&measured?)?);
    Ok(())
}

fn measured(folder: &str, told: &Value) -> Result<Value, Box<dyn Error>> {
    let name = told["name"].as_str().ok_or("a name")?;
    let (width, height, rgba) = read(&fs::read(format!("{folder}/{name}.pgm"))?).ok_or("a P5 file")?;
    let places = |key: &str| -> Result<Vec<Place>, serde_json::Error> { serde_json::from_value(told[key].clone()) };
    let began = worked_ms();
    let mut photo = Photo::open(width, height, &rgba).map_err(|e| format!("{e:?}"))?;
    let found = photo.opened().corners;
    let open_ms = worked_ms() - began;
    let corners = places("corners")?.try_into().map_err(|_| "four corners")?;
    let size: [f64; 2] = serde_json::from_value(told["rectangle_mm"].clone())?;
    let began = worked_ms();
    let set = match photo.set(&Rectangle { corners, width_mm: size[0], height_mm: size[1] }) {
        Ok(set) => set,
        Err(refused) => return Ok(json!({ "name": name, "found": found, "refused": refused })),
    };
    let set_ms = worked_ms() - began;
    let mm_per_px = told["mm_per_px"].as_f64().ok_or("a scale")?;
    let mut moved = Vec::new();
    let mut ends = Vec::new();
    for (rough, sure) in places("ends")?.into_iter().zip(places("ends_true")?) {
        let snapped = photo.snap(Snap { at: rough }).map_err(|e| format!("{e:?}"))?;
        let off = (snapped[0] - sure[0]).hypot(snapped[1] - sure[1]) * mm_per_px;
        moved.push(off);
        ends.push(if off <= SEEN_MM { snapped } else { sure });
    }
    let down = serde_json::from_value(told["down"].clone())?;
    let ends = ends.try_into().map_err(|_| "two ends")?;
    let began = worked_ms();
    let traced = photo.trace(&Trace { ends, down, via: Vec::new(), edge: Line::Cut });
    let trace_ms = worked_ms() - began;
    let mut out = json!({ "name": name, "found": found, "set": set, "ends_off_mm": moved,
        "ms": { "open": open_ms, "set": set_ms, "trace": trace_ms } });
    match traced {
        Ok(edge) => out["edge"] = json!(edge),
        Err(refused) => out["refused"] = json!(refused),
    }
    Ok(out)
}

/// What the processor has done for this program, ms, as Linux counts it; 0 elsewhere.
fn worked_ms() -> f64 {
    let told = fs::read_to_string("/proc/self/schedstat").unwrap_or_default();
    told.split(' ').next().and_then(|ns| ns.parse::<f64>().ok()).map_or(0.0, |ns| ns / 1e6)
}

/// A grey picture as `P5` has it, as red, green, blue and opacity.
fn read(bytes: &[u8]) -> Option<(u32, u32, Vec<u8>)> {
    let mut rest = bytes.strip_prefix(b"P5\n")?;
    let mut numbers = Vec::new();
    while numbers.len() < 3 {
        let end = rest.iter().position(u8::is_ascii_whitespace)?;
        numbers.push(std::str::from_utf8(&rest[..end]).ok()?.parse::<u32>().ok()?);
        rest = &rest[end + 1..];
    }
    let rgba = rest.iter().flat_map(|level| [*level, *level, *level, 255]).collect();
    Some((numbers[0], numbers[1], rgba))
}
