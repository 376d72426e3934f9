//! What the page calls: JSON texts in, files out. Nothing here decides anything.
//!
//! A refusal is thrown as the name of what could not be read (`brief`, `plan` or `options`), or as
//! `nothing_to_print`.

use wasm_bindgen::prelude::wasm_bindgen;

use crate::{Piece, pdf, read, svgs};

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
pub struct SvgFile(Piece);

#[wasm_bindgen]
impl SvgFile {
    /// Its name, fit for a file.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn name(&self) -> String {
        self.0.name.to_owned()
    }

    /// The file's text.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn svg(&self) -> String {
        self.0.svg.clone()
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

/// Makes the pieces of a brief and its plan.
///
/// # Errors
/// A word: see the module.
#[wasm_bindgen(js_name = makeSvgs)]
pub fn make_svgs(brief: &str, plan: &str, options: &str) -> Result<Vec<SvgFile>, String> {
    let (brief, plan, options) = read(brief, plan, options)?;
    Ok(svgs(&brief, &plan, &options).into_iter().map(SvgFile).collect())
}
