//! Makes the sheets of a brief: `cargo run -p lieflat-sheets --example sheets -- BRIEF.json OUT [OPTIONS.json]`.
//!
//! Run in the folder of the repository. Writes OUT.pdf and OUT-PIECE.svg. The options are those of the API without their words, which come from
//! `www/words/` by their language; what is left out is A4, millimetres, English, and every sheet.

use std::error::Error;
use std::fs;

use lieflat::Brief;
use lieflat_sheets::Options;
use serde_json::{Value, json};

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [brief, out, rest @ ..] = arguments.as_slice() else {
        return Err("usage: sheets BRIEF.json OUT [OPTIONS.json]".into());
    };
    let brief = Brief::from_json(&fs::read_to_string(brief)?).map_err(|errors| format!("{errors:?}"))?;
    let plan = lieflat::plan(&brief).map_err(|errors| format!("{errors:?}"))?;
    let mut options = json!({
        "paper": "a4", "unit": "mm", "language": "en", "date": "", "sheets": ["card", "strip", "facing", "template"]
    });
    if let Some(file) = rest.first() {
        let given: Value = serde_json::from_str(&fs::read_to_string(file)?)?;
        for (key, value) in given.as_object().into_iter().flatten() {
            options[key] = value.clone();
        }
    }
    let file = format!("www/words/{}.json", options["language"].as_str().unwrap_or("en"));
    options["words"] = serde_json::from_str(&fs::read_to_string(file)?)?;
    let options = Options::read(&options)?;
    let made = lieflat_sheets::pdf(&brief, &plan, &options)?;
    fs::write(format!("{out}.pdf"), made.bytes)?;
    for piece in lieflat_sheets::svgs(&brief, &plan, &options) {
        fs::write(format!("{out}-{}.svg", piece.name), piece.svg)?;
    }
    println!("letters replaced: {:?}", made.replaced_letters);
    Ok(())
}
