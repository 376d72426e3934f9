//! Any text as a drawn outline, moved by several allowances and read at either line.
#![no_main]

use libfuzzer_sys::fuzz_target;
use lieflat::brief::{Brief, Drawn, Outline, ReadingsAt};

fuzz_target!(|text: &str| {
    let Ok(example) = Brief::from_json(include_str!("../../briefs/band-sweetheart.json")) else {
        panic!("a worked brief reads")
    };
    for (readings_at, allowance) in [
        (ReadingsAt::SeamLine, 10.0),
        (ReadingsAt::CutEdge, 0.0),
        (ReadingsAt::CutEdge, 6.0),
        (ReadingsAt::CutEdge, 60.0),
    ] {
        let mut brief = example.clone();
        brief.neckline.readings_at = readings_at;
        brief.neckline.neckline_allowance_mm = allowance;
        brief.neckline.front.outline = Outline::Drawn(Drawn { path_mm: text.to_owned() });
        lieflat_fuzz::check(&brief);
        check_told(&brief);
    }
});

/// A path that is told and drawn again is as long as before, but for the rounding of its coordinates.
fn check_told(brief: &Brief) {
    let Ok(told) = lieflat::told(brief) else { return };
    let mut again = brief.clone();
    let points = told.front.path_mm.split(' ').count();
    again.neckline.front.outline = Outline::Drawn(Drawn { path_mm: told.front.path_mm });
    let Ok(back) = lieflat::told(&again) else { return };
    let off = (back.front.half_length_mm - told.front.half_length_mm).abs();
    let most = 0.001 * points as f64;
    assert!(off <= most, "told {} mm, drawn again {} mm", told.front.half_length_mm, back.front.half_length_mm);
}
