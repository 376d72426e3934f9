//! Makes the sheets of a brief: `cargo run -p lieflat-sheets --example sheets -- BRIEF.json OUT [OPTIONS.json]`.
//!
//! Run in the folder of the repository. Writes OUT.pdf, and for each piece OUT-PIECE.svg, OUT-PIECE-r12.dxf and OUT-PIECE-r2000.dxf. The options are those of the API without their words, which come from
//! `www/words/` by their language; what is left out is A4, millimetres, English, and every sheet. What is wrong is said on standard
//! error, with exit code 2; a byte-order mark is read over.

#[path = "../../../core/examples/output/mod.rs"]
mod output;

use std::ffi::{OsStr, OsString};
use std::fs;
use std::path::Path;
use std::process::ExitCode;

use lieflat::Brief;
use lieflat_sheets::{Options, PieceForm, Sheet};
use serde_json::{Value, json};

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => output::refuse(&message),
    }
}

fn run() -> Result<(), String> {
    // A file's name need not be UTF-8.
    let arguments: Vec<OsString> = std::env::args_os().skip(1).collect();
    let (brief, out, options) = match arguments.as_slice() {
        [brief, out] => (brief, out, None),
        [brief, out, options] => (brief, out, Some(options)),
        _ => return Err("usage: sheets BRIEF.json OUT [OPTIONS.json]".to_owned()),
    };
    let brief = Brief::from_json(&read(brief)?).map_err(|errors| errors.to_string())?;
    let plan = lieflat::plan(&brief).map_err(|errors| errors.to_string())?;
    let options = read_options(options.map(OsString::as_os_str))?;
    let made = lieflat_sheets::pdf(&brief, &plan, &options).map_err(|error| error.to_string())?;
    write(out, ".pdf", &made.bytes)?;
    let forms = [(PieceForm::Svg, ".svg"), (PieceForm::DxfR12, "-r12.dxf"), (PieceForm::DxfR2000, "-r2000.dxf")];
    for (form, ending) in forms {
        for piece in lieflat_sheets::pieces(&brief, &plan, &options, form) {
            write(out, &format!("-{}{ending}", piece.name), piece.file.as_bytes())?;
        }
    }
    output::say(&format!("letters replaced: {:?}", made.replaced_letters))
}

/// The options as given, and for the rest those of A4, millimetres and English.
fn read_options(file: Option<&OsStr>) -> Result<Options, String> {
    let mut options = json!({
        "paper": "a4", "unit": "mm", "language": "en", "date": "", "sheets": Sheet::ALL
    });
    if let Some(file) = file {
        let Value::Object(given) = parse(file)? else {
            return Err(format!("{}: options are an object", Path::new(file).display()));
        };
        for (key, value) in given {
            options[key] = value;
        }
    }
    let language = options["language"].as_str().ok_or("language: this is no text")?;
    options["words"] = parse(OsStr::new(&format!("www/words/{language}.json")))?;
    serde_json::from_value(options).map_err(|error| error.to_string())
}

fn read(file: &OsStr) -> Result<String, String> {
    let text = fs::read_to_string(file).map_err(|error| format!("{}: {error}", Path::new(file).display()))?;
    Ok(text.strip_prefix('\u{feff}').map(ToOwned::to_owned).unwrap_or(text))
}

fn parse(file: &OsStr) -> Result<Value, String> {
    serde_json::from_str(&read(file)?).map_err(|error| format!("{}: {error}", Path::new(file).display()))
}

fn write(out: &OsStr, ending: &str, bytes: &[u8]) -> Result<(), String> {
    let mut file = out.to_owned();
    file.push(ending);
    fs::write(&file, bytes).map_err(|error| format!("{}: {error}", Path::new(&file).display()))
}
