//! What the page calls: JSON texts in, files out. Nothing here decides anything.
//!
//! A refusal is thrown as the name of what could not be read (`brief`, `plan`, `options` or `form`), or as
//! `nothing_to_print`.

use wasm_bindgen::prelude::wasm_bindgen;

use crate::words::Code;
use crate::{Piece, PieceForm, pdf, pieces, read};

/// A PDF for the page.
#[wasm_bindgen]
#[derive(Debug)]
pub struct PdfFile {
    bytes: Vec<u8>,
    pages: usize,
    replaced: String,
}

#[wasm_bindgen]
impl PdfFile {
    /// The file, which is given away: a second call gets nothing.
    #[wasm_bindgen(js_name = takeBytes)]
    pub fn take_bytes(&mut self) -> Vec<u8> {
        core::mem::take(&mut self.bytes)
    }

    /// How many pages it has.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn pages(&self) -> usize {
        self.pages
    }

    /// Letters it shows as a boxed question mark, one after the other.
    #[wasm_bindgen(getter, js_name = replacedLetters)]
    #[must_use]
    pub fn replaced_letters(&self) -> String {
        self.replaced.clone()
    }
}

/// A piece for the page.
#[wasm_bindgen]
#[derive(Debug)]
pub struct PieceFile(Piece);

#[wasm_bindgen]
impl PieceFile {
    /// Its name, fit for a file.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn name(&self) -> String {
        self.0.name.to_owned()
    }

    /// Its name in words.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn title(&self) -> String {
        self.0.title.clone()
    }

    /// The file's text.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn file(&self) -> String {
        self.0.file.clone()
    }
}

/// Makes the sheets of a brief and its plan.
///
/// # Errors
/// A word: see the module.
#[wasm_bindgen(js_name = makePdf)]
pub fn make_pdf(brief: &str, plan: &str, options: &str) -> Result<PdfFile, String> {
    let (brief, plan, options) = read(brief, plan, options)?;
    let made = pdf(&brief, &plan, &options).map_err(|_| "nothing_to_print")?;
    Ok(PdfFile { bytes: made.bytes, pages: made.pages, replaced: made.replaced_letters.into_iter().collect() })
}

/// Makes the pieces of a brief and its plan as files of a form, by its name: see [`PieceForm`].
///
/// # Errors
/// A word: see the module.
#[wasm_bindgen(js_name = makePieces)]
pub fn make_pieces(brief: &str, plan: &str, options: &str, form: &str) -> Result<Vec<PieceFile>, String> {
    let (brief, plan, options) = read(brief, plan, options)?;
    let form = PieceForm::ALL.into_iter().find(|one| Code(*one).to_string() == form).ok_or("form")?;
    Ok(pieces(&brief, &plan, &options, form).into_iter().map(PieceFile).collect())
}
