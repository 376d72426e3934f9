//! Worked briefs with any of their numbers replaced by any other: deep in the arithmetic, where text seldom comes.
#![no_main]

use libfuzzer_sys::fuzz_target;
use lieflat::Brief;
use serde_json::Value;

const BRIEFS: [&str; 5] = [
    include_str!("../../briefs/band-round.json"),
    include_str!("../../briefs/band-sweetheart.json"),
    include_str!("../../briefs/bound-scoop.json"),
    include_str!("../../briefs/facing-scoop.json"),
    include_str!("../../briefs/tape-v.json"),
];

fuzz_target!(|data: &[u8]| {
    let Some((&which, changes)) = data.split_first() else { return };
    let text = BRIEFS[usize::from(which) % BRIEFS.len()];
    // Every field is there to be changed, those with a default too.
    let Ok(brief) = Brief::from_json(text) else { panic!("a worked brief reads") };
    let mut value = serde_json::to_value(&brief).expect("a brief becomes JSON");
    for change in changes.chunks_exact(4) {
        let numbers = count(&value);
        let number = new_number(change);
        set(&mut value, usize::from(change[0]) % numbers.max(1), number);
    }
    if let Ok(brief) = serde_json::from_value::<Brief>(value) {
        lieflat_fuzz::check(&brief);
    }
});

/// A number of any size from three bytes: most are small, as garments are; some are at the ends of what there is.
fn new_number(change: &[u8]) -> f64 {
    let [_, scale, high, low] = change else { return 0.0 };
    let whole = f64::from(u16::from_be_bytes([*high, *low]));
    match scale % 8 {
        0 => whole,
        1 => whole / 10.0,
        2 | 3 => whole / 100.0,
        4 => whole / 65536.0,
        5 => -whole / 100.0,
        6 => whole * 1e300,
        _ => whole * 1e-300,
    }
}

fn count(value: &Value) -> usize {
    match value {
        Value::Number(_) => 1,
        Value::Array(values) => values.iter().map(count).sum(),
        Value::Object(fields) => fields.values().map(count).sum(),
        _ => 0,
    }
}

/// Sets the nth number; says how many are left to go where it stands further on.
fn set(value: &mut Value, nth: usize, number: f64) -> Option<usize> {
    match value {
        Value::Number(_) if nth == 0 => {
            *value = number.into();
            None
        }
        Value::Number(_) => Some(nth - 1),
        Value::Array(values) => values.iter_mut().try_fold(nth, |left, value| set(value, left, number)),
        Value::Object(fields) => fields.values_mut().try_fold(nth, |left, value| set(value, left, number)),
        _ => Some(nth),
    }
}
