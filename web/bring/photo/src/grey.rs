//! The photo as brightness alone, and what stands along a short line across an edge.

use kurbo::{Point, Vec2};

use crate::messages::LONGEST_PX;

/// Brightness of each pixel, 0 to 255, rows from the top.
#[derive(Debug, Clone)]
pub(crate) struct Grey {
    pub(crate) width: usize,
    pub(crate) height: usize,
    levels: Vec<u8>,
}

impl Grey {
    /// Of red, green, blue and opacity a byte each. Nothing where the size and the bytes do not belong together, or a side is
    /// longer than a photo is reduced to.
    ///
    /// The weights are those of ITU-R BT.709 (0.2126, 0.7152, 0.0722), in 256ths.
    pub(crate) fn of_rgba(width: u32, height: u32, rgba: &[u8]) -> Option<Self> {
        if width == 0 || height == 0 || width.max(height) > LONGEST_PX {
            return None;
        }
        let (width, height) = (usize::try_from(width).ok()?, usize::try_from(height).ok()?);
        if rgba.len() != width * height * 4 {
            return None;
        }
        let level = |p: &[u8]| {
            let sum = 54 * u32::from(p[0]) + 183 * u32::from(p[1]) + 19 * u32::from(p[2]);
            u8::try_from(sum >> 8).unwrap_or(u8::MAX)
        };
        Some(Self { width, height, levels: rgba.chunks_exact(4).map(level).collect() })
    }

    /// The photo in cells of `side` by `side` pixels, each with their mean. What is left over at the right and below is left out.
    pub(crate) fn cells(&self, side: usize) -> Cells {
        let (width, height) = (self.width / side, self.height / side);
        let mut levels = Vec::with_capacity(width * height);
        let mut sums = vec![0_u32; width];
        for row in self.levels.chunks_exact(self.width * side).take(height) {
            sums.fill(0);
            for line in row.chunks_exact(self.width) {
                for (sum, cell) in sums.iter_mut().zip(line.chunks_exact(side)) {
                    *sum += cell.iter().map(|level| u32::from(*level)).sum::<u32>();
                }
            }
            let share = 1.0 / (side * side) as f32;
            levels.extend(sums.iter().map(|sum| *sum as f32 * share));
        }
        Cells { width, height, side, levels }
    }

    /// Whether a place lies in the photo.
    pub(crate) fn holds(&self, p: Point) -> bool {
        let (width, height) = (self.width as f64, self.height as f64);
        p.is_finite() && (-0.5..width - 0.5).contains(&p.x) && (-0.5..height - 0.5).contains(&p.y)
    }

    /// The brightness of the pixel in a column and a row; beyond the photo's edge as at the edge.
    pub(crate) fn pixel(&self, column: i32, row: i32) -> f64 {
        let within = |at: i32, size: usize| usize::try_from(at.max(0)).unwrap_or(0).min(size - 1);
        f64::from(self.levels[within(row, self.height) * self.width + within(column, self.width)])
    }

    /// The brightness at a place between pixels.
    pub(crate) fn level(&self, p: Point) -> f64 {
        let (column, row) = (whole(p.x.floor()), whole(p.y.floor()));
        let (right, down) = (p.x - f64::from(column), p.y - f64::from(row));
        let upper = self.pixel(column, row) * (1.0 - right) + self.pixel(column + 1, row) * right;
        let lower = self.pixel(column, row + 1) * (1.0 - right) + self.pixel(column + 1, row + 1) * right;
        upper * (1.0 - down) + lower * down
    }

    /// How fast brightness grows to the right and down, levels per px, by Scharr's weights (3, 10, 3).
    pub(crate) fn slope(&self, column: i32, row: i32) -> Vec2 {
        let at = |right: i32, down: i32| self.pixel(column + right, row + down);
        let across = 3.0 * (at(1, -1) - at(-1, -1)) + 10.0 * (at(1, 0) - at(-1, 0)) + 3.0 * (at(1, 1) - at(-1, 1));
        let along = 3.0 * (at(-1, 1) - at(-1, -1)) + 10.0 * (at(0, 1) - at(0, -1)) + 3.0 * (at(1, 1) - at(1, -1));
        Vec2::new(across, along) / 32.0
    }
}

/// What lies at a share of the way through values, least first: a half is their middle. 0 of none.
pub(crate) fn at_share(mut values: Vec<f64>, share: f64) -> f64 {
    values.sort_unstable_by(f64::total_cmp);
    let index = usize::try_from(whole(share * values.len() as f64)).unwrap_or(0);
    values.get(index.min(values.len().saturating_sub(1))).copied().unwrap_or(0.0)
}

/// A number without its fraction, as a whole number.
#[allow(clippy::cast_possible_truncation, reason = "a cast of a float keeps within what the whole number holds")]
pub(crate) fn whole(v: f64) -> i32 {
    v as i32
}

/// A photo's means in square cells.
#[derive(Debug, Clone)]
pub(crate) struct Cells {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// How many pixels a cell's side has.
    pub(crate) side: usize,
    pub(crate) levels: Vec<f32>,
}

impl Cells {
    /// The middle of a cell, px.
    pub(crate) fn middle(&self, column: usize, row: usize) -> Point {
        let side = self.side as f64;
        let at = |index: usize| (index as f64 + 0.5) * side - 0.5;
        Point::new(at(column), at(row))
    }

    /// The cell that holds a place, or the nearest one.
    pub(crate) fn cell(&self, p: Point) -> (usize, usize) {
        let side = self.side as f64;
        let at = |v: f64, size: usize| {
            let index = usize::try_from(whole(((v + 0.5) / side).floor())).unwrap_or(0);
            index.min(size.saturating_sub(1))
        };
        (at(p.x, self.width), at(p.y, self.height))
    }

    /// Dark lines up to twice `reach` cells wide filled in from beside them: the brightest within reach of each cell, and then the
    /// darkest of those.
    pub(crate) fn without_dark_lines(&self, reach: usize) -> Vec<f32> {
        let grown = self.each(&self.levels, reach, f32::max);
        self.each(&grown, reach, f32::min)
    }

    /// Bright lines taken out in the same way.
    pub(crate) fn without_bright_lines(&self, levels: &[f32], reach: usize) -> Vec<f32> {
        let shrunk = self.each(levels, reach, f32::min);
        self.each(&shrunk, reach, f32::max)
    }

    /// The most or least within a square about each cell, rows first and then columns.
    fn each(&self, levels: &[f32], reach: usize, of: fn(f32, f32) -> f32) -> Vec<f32> {
        let mut rows = Vec::with_capacity(levels.len());
        for row in levels.chunks_exact(self.width.max(1)) {
            for column in 0..row.len() {
                let near = &row[column.saturating_sub(reach)..(column + reach + 1).min(row.len())];
                rows.push(near.iter().copied().fold(near[0], of));
            }
        }
        let mut out = rows.clone();
        for row in 0..self.height {
            for near in row.saturating_sub(reach)..(row + reach + 1).min(self.height) {
                for column in 0..self.width {
                    let at = row * self.width + column;
                    out[at] = of(out[at], rows[near * self.width + column]);
                }
            }
        }
        out
    }
}

/// Places along a profile are this far apart, px.
pub(crate) const PROFILE_STEP_PX: f64 = 0.5;
/// How far beyond the places that are looked at a profile is read, px: for the levels on both sides.
const BESIDE_PX: f64 = 7.0;

/// What is looked for across a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Shape {
    /// Brighter after than before (1), or darker (-1).
    Step(f64),
    /// Darker than on both sides (1), or brighter (-1), as wide as a line with this standard deviation, px.
    Ridge(f64, f64),
}

/// Brightness across a line, and how strongly each place of it is what is looked for.
#[derive(Debug, Clone)]
pub(crate) struct Profile {
    levels: Vec<f64>,
    /// How many places to either side of the middle are looked at.
    reach: usize,
    beside: usize,
}

impl Profile {
    /// Read across a line at `at` in the direction `normal`, each place as the mean of three along the line, `apart` px apart.
    pub(crate) fn across(grey: &Grey, at: Point, normal: Vec2, reach_px: f64, apart: f64) -> Self {
        let along = Vec2::new(-normal.y, normal.x) * apart;
        let count = |px: f64| usize::try_from(whole((px / PROFILE_STEP_PX).ceil())).unwrap_or(0);
        let (reach, beside) = (count(reach_px), count(BESIDE_PX));
        let half = (reach + beside) as f64;
        let levels = (0..=2 * (reach + beside)).map(|index| {
            let p = at + normal * ((index as f64 - half) * PROFILE_STEP_PX);
            (grey.level(p) + grey.level(p + along) + grey.level(p - along)) / 3.0
        });
        Self { levels: levels.collect(), reach, beside }
    }

    /// How many places are looked at.
    pub(crate) fn places(&self) -> usize {
        2 * self.reach + 1
    }

    /// How far a place is from the middle, px along the normal.
    pub(crate) fn offset(&self, place: f64) -> f64 {
        (place - self.reach as f64) * PROFILE_STEP_PX
    }

    /// How much of what is looked for stands at each place, in grey levels: a clean step's height, a clean line's depth.
    pub(crate) fn responses(&self, shape: Shape) -> Vec<f64> {
        let kernel = kernel(shape);
        let half = kernel.len() / 2;
        (0..self.places())
            .map(|place| {
                let middle = place + self.beside;
                let near = &self.levels[middle - half..=middle + half];
                let response: f64 = near.iter().zip(&kernel).map(|(level, weight)| level * weight).sum();
                match shape {
                    // A printed line's flank is steep too, but behind it all is as before it.
                    Shape::Step(sign) => response.min(1.3 * sign * self.beyond(place)),
                    Shape::Ridge(..) => response,
                }
            })
            .collect()
    }

    /// How much darker a place is than what lies a little to both sides of it.
    pub(crate) fn depth(&self, place: usize) -> f64 {
        let middle = place + self.beside;
        let (near, far) = (6, self.beside.min(12));
        let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len() as f64;
        let sides = mean(&self.levels[middle + near..=middle + far]) + mean(&self.levels[middle - far..=middle - near]);
        sides / 2.0 - mean(&self.levels[middle - 1..=middle + 1])
    }

    /// The brightness a little after a place, less that a little before it.
    pub(crate) fn beyond(&self, place: usize) -> f64 {
        let middle = place + self.beside;
        let (near, far) = (5, self.beside.min(12));
        let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len() as f64;
        mean(&self.levels[middle + near..=middle + far]) - mean(&self.levels[middle - far..=middle - near])
    }
}

/// Standard deviation of the bell whose slope finds a step, px.
const STEP_SPREAD_PX: f64 = 1.2;

/// The weights that find a shape: for a step the slope of a bell, whose positive weights sum to one; for a line a bell's second
/// derivative, scaled to give a line of its own width its depth.
fn kernel(shape: Shape) -> Vec<f64> {
    let (spread, sign) = match shape {
        Shape::Step(sign) => (STEP_SPREAD_PX, sign),
        Shape::Ridge(sign, spread) => (spread.clamp(0.8, 2.2), sign),
    };
    // Three deviations, and no further than a profile reaches beyond what is looked at.
    let half = whole(3.0 * spread / PROFILE_STEP_PX).min(whole(BESIDE_PX / PROFILE_STEP_PX));
    let weight = |index: i32| {
        let t = f64::from(index) * PROFILE_STEP_PX / spread;
        let bell = (-t * t / 2.0).exp();
        match shape {
            Shape::Step(_) => t * bell,
            Shape::Ridge(..) => (t * t - 1.0) * bell,
        }
    };
    let weights: Vec<f64> = (-half..=half).map(weight).collect();
    // What is brightened and what is darkened must come out even, or a plain grey would answer.
    let mean = weights.iter().sum::<f64>() / weights.len() as f64;
    let positive: f64 = weights.iter().map(|w| (w - mean).max(0.0)).sum();
    let scale = if positive > 0.0 { sign / positive } else { 0.0 };
    weights.iter().map(|w| (w - mean) * scale).collect()
}

/// Where the top of a row of values lies near its place, by the parabola through three of them.
pub(crate) fn summit(values: &[f64], place: usize) -> f64 {
    let middle = place as f64;
    if place == 0 || place + 1 >= values.len() {
        return middle;
    }
    let (before, at, after) = (values[place - 1], values[place], values[place + 1]);
    let bend = before - 2.0 * at + after;
    if bend >= 0.0 { middle } else { middle + (0.5 * (before - after) / bend).clamp(-0.5, 0.5) }
}
