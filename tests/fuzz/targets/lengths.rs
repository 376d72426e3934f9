//! Any text as a length: refused with its reason, or a finite length that is written and read back as itself; and then
//! it was read whole.
#![no_main]

use libfuzzer_sys::fuzz_target;
use lieflat::length::{LengthUnit, parse_length_mm, parse_number};
use lieflat::shown::{Nearness, shown};

fuzz_target!(|text: &str| {
    check_whole(text, |text| parse_number(text).is_ok());
    check_whole(text, |text| parse_length_mm(text, LengthUnit::Centimetre).is_ok());
    for unit in [LengthUnit::Millimetre, LengthUnit::Centimetre, LengthUnit::Inch] {
        if let Ok(mm) = parse_length_mm(text, unit) {
            assert!(mm.is_finite(), "{text:?} reads as {mm}");
            check_written(mm, unit);
        }
    }
});

/// A text that is taken is refused as soon as something that is in no measure stands anywhere in it.
fn check_whole(text: &str, is_taken: impl Fn(&str) -> bool) {
    if text.len() > 400 || !is_taken(text) {
        return;
    }
    let letters: Vec<char> = text.chars().collect();
    for at in 0..=letters.len() {
        for foreign in [';', '#', '\0', '—', '\u{202e}', '(', 'x'] {
            let with: String = letters[..at].iter().chain([&foreign]).chain(&letters[at..]).collect();
            assert!(!is_taken(&with), "{with:?} is taken");
        }
    }
}

fn check_written(mm: f64, unit: LengthUnit) {
    let seen = shown(mm, unit);
    let written = seen.text;
    let read = parse_length_mm(&written, unit);
    let Ok(read) = read else {
        // What was read at the very edge of what a length may be is a little over it once rounded.
        assert!(mm.abs() >= 0.999e9 * unit.in_mm(), "{mm} mm is written as {written}, which does not read");
        return;
    };
    // To a tenth of a millimetre, to a millimetre in centimetres, or to a sixteenth of an inch.
    let step = match unit {
        LengthUnit::Inch => 25.4 / 16.0,
        LengthUnit::Centimetre if mm.abs() >= 9.95 => 1.0,
        _ => 0.1,
    };
    // What is less than the finest step is written as that step, on whichever side of nothing it is.
    let most = if seen.nearness == Nearness::Under { 2.0 * step } else { 0.5 * step };
    let off = (read - mm).abs();
    assert!(off <= most + 1e-12 * mm.abs(), "{mm} mm is written as {written} and reads as {read}");
    assert_eq!(shown(read, unit).text, written, "a length is written the same again");
}
