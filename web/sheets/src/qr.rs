//! The link as a code for a phone's camera.

use std::rc::Rc;

use qrcodegen::{QrCode, QrCodeEcc};

use crate::ink::{Page, Point};

/// Side of one square of the code, mm, where the code is small.
const MODULE_MM: f64 = 0.6;

/// The light border a reader needs, in squares (ISO/IEC 18004).
const QUIET: i32 = 4;

/// A code ready to be drawn.
#[derive(Clone)]
pub(crate) struct Code {
    code: Rc<QrCode>,
    /// Side of one square. mm.
    module: f64,
}

impl Code {
    /// None where the link is empty or longer than a code can hold.
    pub(crate) fn new(link: &str, largest_mm: f64) -> Option<Self> {
        if link.is_empty() {
            return None;
        }
        let code = QrCode::encode_text(link, QrCodeEcc::Low).ok()?;
        let module = (largest_mm / f64::from(code.size() + 2 * QUIET)).min(MODULE_MM);
        Some(Self { code: Rc::new(code), module })
    }

    /// Side with the light border. mm.
    pub(crate) fn side(&self) -> f64 {
        f64::from(self.code.size() + 2 * QUIET) * self.module
    }

    /// Draws the code; `corner` is the upper left of its light border.
    pub(crate) fn draw(&self, page: &mut Page, corner: Point) {
        let size = self.code.size();
        let runs = (0..size).flat_map(|row| self.dark_runs(row));
        let place = |i: i32| f64::from(i + QUIET) * self.module;
        page.blocks(runs.map(|(row, from, to)| {
            let at = [corner[0] + place(from), corner[1] + place(row)];
            (at, [f64::from(to - from) * self.module, self.module])
        }));
    }

    /// The dark squares of a row, neighbours together: row, first, one past the last.
    fn dark_runs(&self, row: i32) -> Vec<(i32, i32, i32)> {
        let mut runs: Vec<(i32, i32, i32)> = Vec::new();
        for x in (0..self.code.size()).filter(|x| self.code.get_module(*x, row)) {
            match runs.last_mut() {
                Some((_, _, to)) if *to == x => *to = x + 1,
                _ => runs.push((row, x, x + 1)),
            }
        }
        runs
    }
}
