//! Any text as a brief's JSON: it is refused with its problems named, or it plans.
#![no_main]

use libfuzzer_sys::fuzz_target;
use lieflat::Brief;

fuzz_target!(|text: &str| {
    match Brief::from_json(text) {
        Ok(brief) => lieflat_fuzz::check(&brief),
        Err(errors) => assert!(!errors.errors.is_empty(), "a refusal names at least one problem"),
    }
});
