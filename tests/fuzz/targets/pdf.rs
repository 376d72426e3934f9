//! Any bytes as a PDF file, as they are and as the content of a page, and whatever lines they have pointed at.
#![no_main]

/// A page around any content.
const BEFORE: &str = "%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj 2 0 obj<</Type/Pages/Count 1/Kids[3 0 R]>>endobj \
    3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 600 800]/Contents 4 0 R/Resources<</XObject<</F 5 0 R>>>>>>endobj \
    5 0 obj<</Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F 5 0 R>>>>/Length 14>>stream\n0 0 m 9 9 l S\nendstream endobj ";
const AFTER: &str = "\nendstream endobj\ntrailer<</Root 1 0 R/Size 6>>\nstartxref\n0\n%%EOF";

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    lieflat_fuzz::bring(bytes.to_vec());
    let begin = format!("4 0 obj<</Length {}>>stream\n", bytes.len());
    lieflat_fuzz::bring([BEFORE.as_bytes(), begin.as_bytes(), bytes, AFTER.as_bytes()].concat());
});
