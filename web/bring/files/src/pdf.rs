//! PDF: the paths that its pages draw, with their layers, by ISO 32000.
//!
//! Objects, streams and encryption are read by a library; what is drawn is followed here, since only paths are wanted, those of
//! layers that are off among them. Text, pictures and shadings are passed over; a file that has pictures and no paths is a scan.

mod drawn;
mod layers;

use hayro_syntax::object::{Array, Dict, Number, Object, Rect as Box};
use hayro_syntax::page::{Page as PdfPage, Rotation};
use hayro_syntax::{LoadPdfError, Pdf};
use kurbo::{Affine, Rect};
use lieflat_bring::{Drawing, Page};

use crate::messages::{MOST_SEGMENTS, Refused};
use drawn::Drawn;
use layers::Layers;

/// A point of print, mm.
const POINT_MM: f64 = 25.4 / 72.0;
/// Most pages.
const MOST_PAGES: usize = 2000;
/// Where the end of a whole file says so, bytes from its end: readers look within 1024 (ISO 32000-1, annex H.3); some programs
/// write more after it.
const END_WITHIN: usize = 65_536;
/// The largest side of a page, mm: beyond it a page's box is a slip.
const LARGEST_MM: f64 = 1e6;

/// Reads a file.
///
/// # Errors
/// A [`Refused`] where it is damaged, cut short, encrypted, too much, or holds no lines.
pub fn read(bytes: Vec<u8>) -> Result<Drawing, Refused> {
    let tail = bytes.get(bytes.len().saturating_sub(END_WITHIN)..).unwrap_or_default();
    if !tail.windows(9).any(|nine| nine == b"startxref") {
        return Err(Refused::CutShort);
    }
    let pdf = Pdf::new(bytes).map_err(|e| match e {
        LoadPdfError::Decryption(_) => Refused::Encrypted,
        LoadPdfError::Invalid => Refused::Broken,
    })?;
    let pages = pdf.pages();
    if pages.len() > MOST_PAGES {
        return Err(Refused::TooMuch { most: MOST_SEGMENTS });
    }
    let catalog = pdf.xref().get::<Dict<'_>>(pdf.xref().root_id());
    let mut drawn = Drawn::new(Layers::of(catalog.as_ref()));
    for page in pages.iter() {
        let laid = Laid::of(page);
        drawn.drawing.pages.push(Page { place: Rect::ZERO, own: laid.own });
        drawn.page(page, laid.to_drawing)?;
    }
    let has_pictures = drawn.has_pictures;
    let mut drawing = drawn.drawing;
    drawing.mm_per_unit = Some(1.0);
    match (drawing.lines.is_empty(), has_pictures) {
        (false, _) => Ok(drawing),
        (true, true) => Err(Refused::ScanOnly),
        (true, false) => Err(Refused::NoLines),
    }
}

/// A page's place and its lines' way into the drawing, in mm.
struct Laid {
    own: Rect,
    to_drawing: Affine,
}

impl Laid {
    /// A page is what its crop box shows of its media box, in units of 1/72 inch or what it says itself, turned as it says.
    fn of(page: &PdfPage<'_>) -> Self {
        let unit = page
            .raw()
            .get::<Number>("UserUnit")
            .map(|n| n.as_f64())
            .filter(|unit| *unit > 0.0 && unit.is_finite())
            .unwrap_or(1.0)
            * POINT_MM;
        let shown = shown(page).scale_from_origin(unit);
        let (w, h) = (shown.width(), shown.height());
        // To the top left corner, y down.
        let upright = Affine::new([unit, 0.0, 0.0, -unit, -shown.x0, shown.y1]);
        let (turned, own) = match page.rotation() {
            Rotation::None => (Affine::IDENTITY, Rect::new(shown.x0, -shown.y1, shown.x1, -shown.y0)),
            Rotation::Horizontal => (Affine::new([0.0, 1.0, -1.0, 0.0, h, 0.0]), Rect::new(0.0, 0.0, h, w)),
            Rotation::Flipped => (Affine::new([-1.0, 0.0, 0.0, -1.0, w, h]), Rect::new(0.0, 0.0, w, h)),
            Rotation::FlippedHorizontal => (Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, w]), Rect::new(0.0, 0.0, h, w)),
        };
        Self { own, to_drawing: turned * upright }
    }
}

fn shown(page: &PdfPage<'_>) -> Rect {
    let rect = |b: Box| Rect::new(b.x0, b.y0, b.x1, b.y1).abs();
    let (media, crop) = (rect(page.media_box()), rect(page.crop_box()));
    let shown = media.intersect(crop);
    let sensible =
        |r: &Rect| r.is_finite() && r.width() > 0.0 && r.height() > 0.0 && r.width().max(r.height()) < LARGEST_MM;
    // A4 where no box can be meant.
    [shown, media].into_iter().find(sensible).unwrap_or(Rect::new(0.0, 0.0, 210.0 / POINT_MM, 297.0 / POINT_MM))
}

/// The numbers of a list.
fn numbers(array: &Array<'_>) -> Vec<f64> {
    array.iter::<Object<'_>>().filter_map(Object::into_number).map(|n| n.as_f64()).collect()
}
