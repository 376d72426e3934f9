//! A photo of a pattern piece beside a known rectangle: its edge in millimetres, and how far that may be off.
//!
//! The rectangle's four sides give the plane in which the piece lies; between two ends the edge is followed over the photo, each
//! place of it to a fraction of a pixel; cubics through these places are the half neckline as a brief holds it. What cannot be
//! trusted is refused with a code and the figures that its words name: no figure comes of it.
//!
//! ```text
//! photo -> grey -> find (corners offered) -> sides -> sheet (the plane, the lens, the tilt)
//!               -> snap (an end) -> way (over cells) -> follow (across, twice) -> fit (cubics) -> range -> edge
//! ```
//!
//! All of it runs in a Worker of its own (`worker`), which the page ends when it likes. Nothing is kept and nothing is sent.
#![cfg_attr(not(target_arch = "wasm32"), forbid(unsafe_code))]

mod find;
mod fit;
mod follow;
mod grey;
pub mod messages;
mod pictures;
mod plane;
mod range;
mod sheet;
mod sides;
mod snap;
mod trace;
mod way;
#[cfg(target_arch = "wasm32")]
pub mod worker;

use kurbo::Point;

use grey::Grey;
use messages::{Edge, LEAST_PX, Opened, Place, Rectangle, Refused, Set, Snap, Trace};
use sheet::Sheet;

pub use pictures::told_size;
pub use sheet::{COARSEST_MM, MOST_TILT_DEG, SIDES_MM};
pub use trace::{LEAST_APART_MM, LEAST_CONTRAST, LEAST_DOWN_MM, MOST_VIA};

/// A photo that was opened, and the known rectangle in it once that is set.
#[derive(Debug, Clone)]
pub struct Photo {
    pub(crate) grey: Grey,
    sheet: Option<Sheet>,
}

impl Photo {
    /// Opens a photo of red, green, blue and opacity, a byte each, rows from the top; its longest side is at most
    /// [`messages::LONGEST_PX`].
    ///
    /// # Errors
    /// [`Refused::PhotoSmall`]; [`Refused::NotAPicture`] where size and bytes do not belong together.
    pub fn open(width_px: u32, height_px: u32, rgba: &[u8]) -> Result<Self, Refused> {
        let longest_px = width_px.max(height_px);
        if longest_px < LEAST_PX {
            return Err(Refused::PhotoSmall { longest_px, least_px: LEAST_PX });
        }
        let grey = Grey::of_rgba(width_px, height_px, rgba).ok_or(Refused::NotAPicture)?;
        Ok(Self { grey, sheet: None })
    }

    /// The photo's size, and the corners of what looks most like a sheet or card lying by itself.
    #[must_use]
    pub fn opened(&self) -> Opened {
        let side = |px: usize| u32::try_from(px).unwrap_or(u32::MAX);
        let corners = find::rectangle(&self.grey).map(|corners| corners.map(place));
        Opened { width_px: side(self.grey.width), height_px: side(self.grey.height), corners }
    }

    /// Sets the known rectangle: its sides are looked for near its corners. One that is refused leaves none set.
    ///
    /// # Errors
    /// Why the photo cannot be measured by it.
    pub fn set(&mut self, asked: &Rectangle) -> Result<Set, Refused> {
        self.sheet = None;
        let sheet = Sheet::new(&self.grey, asked)?;
        let told = sheet.told();
        self.sheet = Some(sheet);
        Ok(told)
    }

    /// The corner or edge near a place; the place itself where nothing is near it.
    ///
    /// # Errors
    /// [`Refused::PlaceOutside`].
    pub fn snap(&self, asked: Snap) -> Result<Place, Refused> {
        let at = point(asked.at);
        if !self.grey.holds(at) {
            return Err(Refused::PlaceOutside { what: "at" });
        }
        Ok(place(snap::snap(&self.grey, at)))
    }

    /// The edge between two ends, in mm.
    ///
    /// # Errors
    /// Why there is no figure.
    pub fn trace(&self, asked: &Trace) -> Result<Edge, Refused> {
        let sheet = self.sheet.as_ref().ok_or(Refused::NoRectangle)?;
        trace::trace(self, sheet, asked)
    }
}

fn point([x, y]: Place) -> Point {
    Point::new(x, y)
}

fn place(p: Point) -> Place {
    [p.x, p.y]
}
