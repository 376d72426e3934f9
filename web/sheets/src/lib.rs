//! What leaves the screen: sheets at true scale as one PDF, and each piece as SVG or DXF.
//!
//! A brief and its plan go in with [`Options`]; nothing here works out how to cut. All words come with the
//! options, from the page's catalogue, and no clock is asked, so that the same call gives the same bytes.
//!
//! In the file's pages a length of one millimetre is 72/25.4 points. Text is set in a font that every reader has;
//! letters outside its encoding are printed as a boxed question mark, and [`Made::replaced_letters`] says which.
#![forbid(unsafe_code)]

mod book;
mod card;
mod catalogue;
mod check;
mod drawing;
mod dxf;
mod facing;
mod finer;
mod flow;
mod geometry;
mod ink;
mod lay;
mod letters;
mod metrics;
mod options;
mod order;
mod pack;
mod picture;
mod qr;
mod strip;
mod svg;
mod template;
mod text;
mod tile;
#[cfg(target_arch = "wasm32")]
pub mod wasm;
mod words;

use lieflat::{Brief, Plan};
use lieflat_json::Fit;

pub use catalogue::Catalogue;
pub use options::{Options, Paper, PieceForm, Sheet, StripForm, Unit};

use book::Book;
use drawing::Drawing;

/// A PDF, and what it could not print.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Made {
    /// The file.
    pub bytes: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// Letters printed as a boxed question mark, in order.
    pub replaced_letters: Vec<char>,
}

/// None of the sheets asked for has anything to show with this plan, such as a strip's sheet with a facing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NothingToPrint;

impl core::fmt::Display for NothingToPrint {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("none of these sheets has anything to show with this finish")
    }
}

impl core::error::Error for NothingToPrint {}

/// A piece as a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Its name: `strip`, `neckline-front` and the like.
    pub name: &'static str,
    /// Its name in the options' words.
    pub title: String,
    /// The file's text.
    pub file: String,
}

/// Makes the sheets that the options ask for. One that this plan has nothing for is left out.
///
/// # Errors
/// [`NothingToPrint`] where that leaves none.
pub fn pdf(brief: &Brief, plan: &Plan, options: &Options) -> Result<Made, NothingToPrint> {
    let replaced = unprintable(brief, options);
    let mut book = Book::new(brief, options, &replaced);
    if options.sheets.contains(&Sheet::Card) {
        card::card(&mut book, brief, plan, options);
    }
    lay::lay(&mut book, brief, plan, options);
    let pages = book.pages();
    if pages == 0 {
        return Err(NothingToPrint);
    }
    Ok(Made { bytes: book.finish(), pages, replaced_letters: replaced })
}

/// Makes each piece that the options ask for as a file of a form. The strip is always whole, since nothing is tiled.
#[must_use]
pub fn pieces(brief: &Brief, plan: &Plan, options: &Options, form: PieceForm) -> Vec<Piece> {
    let piece = |drawing: Drawing| Piece {
        name: drawing.name,
        file: match form {
            PieceForm::Svg => svg::svg(&drawing, &options.language),
            PieceForm::DxfR12 | PieceForm::DxfR2000 => dxf::dxf(&drawing, form),
        },
        title: drawing.title,
    };
    lay::drawings(brief, plan, options, false).into_iter().map(piece).collect()
}

/// Reads what the page hands over, as JSON: a brief, its plan and the options. A name that is missing or unknown is refused, so
/// that nothing is printed that was not said.
///
/// # Errors
/// What could not be read: `brief`, `plan` or `options`.
pub fn read(brief: &str, plan: &str, options: &str) -> Result<(Brief, Plan, Options), &'static str> {
    let brief = lieflat_json::read(brief, Fit::Exact).map_err(|_| "brief")?;
    let plan = lieflat_json::read(plan, Fit::Exact).map_err(|_| "plan")?;
    let options = lieflat_json::read(options, Fit::Exact).map_err(|_| "options")?;
    Ok((brief, plan, options))
}

/// Letters of what people wrote that cannot be printed.
fn unprintable(brief: &Brief, options: &Options) -> Vec<char> {
    let knits = [Some(&brief.garment_knit), brief.strip_knit.as_ref()].into_iter().flatten();
    let names = brief.title.as_deref().into_iter().chain(knits.filter_map(|knit| knit.name.as_deref()));
    let edges = brief.stays.edges.iter().map(|edge| edge.name.as_str());
    let texts = names.chain(edges).chain(options.link.as_deref()).chain([options.date.as_str()]);
    letters::replaced(texts)
}
