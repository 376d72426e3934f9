//! Any pixels, any corners, any ends: a photo is measured or refused with a code, and what is measured can be told.
#![no_main]

use libfuzzer_sys::fuzz_target;
use lieflat_photo::messages::{Line, Place, Rectangle, Snap, Trace};
use lieflat_photo::{Photo, told_size};

/// As narrow as is opened, and so low that a run is quick.
const WIDTH: usize = 800;
const MOST_HEIGHT: usize = 160;

fuzz_target!(|bytes: &[u8]| {
    let _ = told_size(bytes);
    let mut from = From { bytes };
    let height = 1 + usize::from(from.byte()) % MOST_HEIGHT;
    let kind = from.byte();
    let corners = [(); 4].map(|()| from.place(kind, height));
    let (width_mm, height_mm) = (from.number(kind, 400.0), from.number(kind, 400.0));
    let ends = [from.place(kind, height), from.place(kind, height)];
    let down = from.place(kind, height);
    let via = (0..kind >> 6).map(|_| from.place(kind, height)).collect();
    let edge = if kind & 1 == 0 { Line::Cut } else { Line::Line };
    let rgba = pixels(from.bytes, height);
    let Ok(mut photo) = Photo::open(WIDTH as u32, height as u32, &rgba) else { panic!("a photo of this size opens") };
    let opened = photo.opened();
    // What the module itself offers is taken half of the time.
    let corners = opened.corners.filter(|_| kind & 2 == 0).unwrap_or(corners);
    let ends = ends.map(|at| photo.snap(Snap { at }).unwrap_or(at));
    let set = photo.set(&Rectangle { corners, width_mm, height_mm });
    let traced = photo.trace(&Trace { ends, down, via, edge });
    let Ok(set) = set else { return assert!(traced.is_err(), "there is no scale") };
    assert!(set.tilt_deg.is_finite() && set.mm_per_px.is_finite(), "{set:?}");
    assert!(set.corners.iter().flatten().all(|v| v.is_finite()), "{set:?}");
    let Ok(edge) = traced else { return };
    let figures = [edge.length_mm, edge.width_mm, edge.depth_mm, edge.uncertainty_mm];
    assert!(figures.iter().all(|v| v.is_finite() && *v > 0.0), "{edge:?}");
    assert!(edge.length_mm >= edge.width_mm.hypot(edge.depth_mm) - 0.01, "no line is shorter than straight: {edge:?}");
    assert!(edge.over_photo.iter().flatten().all(|v| v.is_finite()), "{edge:?}");
    assert!(lieflat::path::read_path(&edge.path_mm).is_ok(), "the core reads {}", edge.path_mm);
});

/// What is left of the input.
struct From<'a> {
    bytes: &'a [u8],
}

impl From<'_> {
    fn byte(&mut self) -> u8 {
        let Some((first, rest)) = self.bytes.split_first() else { return 0 };
        self.bytes = rest;
        *first
    }

    /// A share of `most`; with a bit of `kind`, any number there is.
    fn number(&mut self, kind: u8, most: f64) -> f64 {
        if kind & 4 == 0 {
            return f64::from(u16::from_le_bytes([self.byte(), self.byte()])) / 65_535.0 * most;
        }
        f64::from_le_bytes([(); 8].map(|()| self.byte()))
    }

    fn place(&mut self, kind: u8, height: usize) -> Place {
        [self.number(kind, WIDTH as f64 - 1.0), self.number(kind, height as f64 - 1.0)]
    }
}

/// The rest as a picture: four-cornered patches of one brightness each, over each other, and grain.
fn pixels(bytes: &[u8], height: usize) -> Vec<u8> {
    let mut grey = vec![90_u8; WIDTH * height];
    for patch in bytes.chunks_exact(6).take(40) {
        let at = |index: usize, most: usize| usize::from(patch[index]) * most / 256;
        let (left, right, top, bottom) = (at(0, WIDTH), at(1, WIDTH), at(2, height), at(3, height));
        let slant = usize::from(patch[5]);
        for row in top..bottom {
            let shift = (row - top) * slant / 128;
            let (from, to) = ((left + shift).min(WIDTH), (right + shift).min(WIDTH));
            if from < to {
                grey[row * WIDTH + from..row * WIDTH + to].fill(patch[4]);
            }
        }
    }
    for (index, level) in grey.iter_mut().enumerate() {
        let byte = bytes.get(index % bytes.len().max(1)).copied().unwrap_or(0);
        *level = level.wrapping_add(byte & 7);
    }
    grey.iter().flat_map(|level| [*level, *level, *level, 255]).collect()
}
