//! Any text as an SVG file, and whatever lines it has pointed at.
#![no_main]

libfuzzer_sys::fuzz_target!(|text: &str| {
    lieflat_fuzz::bring(["<svg ", text].concat().into_bytes());
    lieflat_fuzz::bring(text.as_bytes().to_vec());
});
