//! Any text as a drawn outline, moved by several allowances and read at either line; a text that is taken was read whole.
#![no_main]

use libfuzzer_sys::fuzz_target;
use lieflat::brief::{Brief, Drawn, Outline, ReadingsAt};
use lieflat::path::{PathStop, read_path};

fuzz_target!(|text: &str| {
    check_read(text);
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
        brief.neckline.front.outline = Outline::Drawn(Drawn { path_mm: text.to_owned(), uncertainty_mm: None });
        lieflat_fuzz::check(&brief);
        check_told(&brief);
    }
});

/// Nothing that is in no path, however it is written.
const FOREIGN: [char; 6] = [';', '(', '#', '\0', '—', '🧵'];
/// Most places of a text that something foreign is put in at.
const MOST_PLACES: usize = 48;

/// Taken, a text is refused with its place as soon as something foreign stands anywhere in it: a reader that stopped
/// early would not come there. Refused, it is refused at the same place whatever follows.
fn check_read(text: &str) {
    let letters: Vec<char> = text.chars().collect();
    match read_path(text) {
        Ok(path) => {
            assert!(path.elements().iter().all(|e| e.end_point().is_none_or(|p| p.is_finite())), "{text:?} is finite");
            let step = letters.len() / MOST_PLACES + 1;
            for at in (0..=letters.len()).step_by(step) {
                let foreign = FOREIGN[at % FOREIGN.len()];
                let with: String = letters[..at].iter().chain([&foreign]).chain(&letters[at..]).collect();
                let place = match read_path(&with) {
                    Err(PathStop::Stray { place, .. }) => place,
                    // Cut off from its exponent a number may be too large.
                    Err(PathStop::TooLarge { place, .. }) if place <= at => continue,
                    other => panic!("{with:?}: {other:?}"),
                };
                // A number that is begun and goes on with something foreign is told from its start.
                assert!(place <= at + 1, "{with:?}: place {place} for {}", at + 1);
                let begun = letters[place - 1..at].iter().filter(|c| c.is_alphanumeric()).count();
                assert!(begun <= 1, "{with:?}: place {place} for {}", at + 1);
            }
        }
        Err(PathStop::TooLong { .. }) => {}
        Err(PathStop::Ends { place }) => assert_eq!(place, letters.len() + 1, "{text:?} ends at its end"),
        Err(PathStop::Stray { place, found } | PathStop::TooLarge { place, found }) => {
            assert!(place <= letters.len() && !found.is_empty(), "{text:?}: {place} {found}");
            let longer = format!("{text} 0");
            let again = read_path(&longer).expect_err("what follows makes no path of it");
            let (PathStop::Stray { place: then, .. }
            | PathStop::TooLarge { place: then, .. }
            | PathStop::Ends { place: then }
            | PathStop::TooLong { place: then }) = again;
            assert_eq!(then, place, "{longer:?} is refused at the same place");
        }
    }
}

/// A path that is told and drawn again is as long as before, but for the rounding of its coordinates.
fn check_told(brief: &Brief) {
    let Ok(told) = lieflat::told(brief) else { return };
    let mut again = brief.clone();
    let points = told.front.path_mm.split(' ').count();
    again.neckline.front.outline = Outline::Drawn(Drawn { path_mm: told.front.path_mm, uncertainty_mm: None });
    let Ok(back) = lieflat::told(&again) else { return };
    let off = (back.front.half_length_mm - told.front.half_length_mm).abs();
    let most = 0.001 * points as f64;
    assert!(off <= most, "told {} mm, drawn again {} mm", told.front.half_length_mm, back.front.half_length_mm);
}
