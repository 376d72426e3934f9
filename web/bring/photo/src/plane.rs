//! From the photo to the plane that the piece lies in, and back: the lens, the plane's picture, and how the camera stood.

use kurbo::{Point, Vec2};

/// Four points' picture as four others: a projective map of the plane.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Homography([f64; 9]);

impl Homography {
    /// The map that takes four points to four others; nothing where three of them are on a line.
    pub(crate) fn of(from: [Point; 4], to: [Point; 4]) -> Option<Self> {
        let mut rows = [[0.0; 9]; 8];
        for (index, (p, q)) in from.iter().zip(&to).enumerate() {
            rows[2 * index] = [p.x, p.y, 1.0, 0.0, 0.0, 0.0, -p.x * q.x, -p.y * q.x, q.x];
            rows[2 * index + 1] = [0.0, 0.0, 0.0, p.x, p.y, 1.0, -p.x * q.y, -p.y * q.y, q.y];
        }
        let h = solved(rows)?;
        Some(Self([h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0]))
    }

    /// Where a point comes to. Not finite where it comes to the horizon.
    pub(crate) fn at(&self, p: Point) -> Point {
        let [a, b, c, d, e, f, g, h, i] = self.0;
        let w = g * p.x + h * p.y + i;
        Point::new((a * p.x + b * p.y + c) / w, (d * p.x + e * p.y + f) / w)
    }

    /// The map back.
    pub(crate) fn back(&self) -> Option<Self> {
        let [a, b, c, d, e, f, g, h, i] = self.0;
        let adjugate = [
            e * i - f * h,
            c * h - b * i,
            b * f - c * e,
            f * g - d * i,
            a * i - c * g,
            c * d - a * f,
            d * h - e * g,
            b * g - a * h,
            a * e - b * d,
        ];
        let last = adjugate[8];
        let all = adjugate.map(|v| v / last);
        all.iter().all(|v| v.is_finite()).then_some(Self(all))
    }
}

/// Solves eight equations in eight unknowns, each row with its right side last, by elimination with the largest pivot.
fn solved(mut rows: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    for column in 0..8 {
        let largest = (column..8).max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))?;
        rows.swap(column, largest);
        let pivot = rows[column];
        if pivot[column].abs() < 1e-12 || !pivot[column].is_finite() {
            return None;
        }
        for (index, row) in rows.iter_mut().enumerate() {
            if index == column {
                continue;
            }
            let times = row[column] / pivot[column];
            for (value, above) in row.iter_mut().zip(&pivot) {
                *value -= times * above;
            }
        }
    }
    let mut out = [0.0; 8];
    for (index, value) in out.iter_mut().enumerate() {
        *value = rows[index][8] / rows[index][index];
    }
    out.iter().all(|v| v.is_finite()).then_some(out)
}

/// How a lens bends straight lines: a place is drawn out from the photo's middle by `1 + bend * r * r`, where `r` is its distance
/// in half diagonals, and is then where a lens without error would have it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lens {
    pub(crate) middle: Point,
    pub(crate) half_diagonal: f64,
    pub(crate) bend: f64,
}

impl Lens {
    /// Where a place of the photo would be without the lens's error.
    pub(crate) fn straight(&self, p: Point) -> Point {
        let out = (p - self.middle) / self.half_diagonal;
        self.middle + (p - self.middle) * (1.0 + self.bend * out.hypot2())
    }

    /// Back to the photo: six steps, each a hundred times nearer.
    pub(crate) fn bent(&self, p: Point) -> Point {
        let mut at = p;
        for _ in 0..6 {
            let out = (at - self.middle) / self.half_diagonal;
            at = self.middle + (p - self.middle) / (1.0 + self.bend * out.hypot2()).max(0.5);
        }
        at
    }
}

/// The plane of the piece, as the known rectangle shows it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Plane {
    pub(crate) lens: Lens,
    to_mm: Homography,
    to_px: Homography,
    /// What lengths are multiplied by: a rectangle that stands above the piece looks larger than it is.
    scale: f64,
}

impl Plane {
    /// From the corners as they are without the lens's error, for a rectangle of this size.
    pub(crate) fn of(lens: Lens, corners: [Point; 4], width_mm: f64, height_mm: f64, scale: f64) -> Option<Self> {
        let to_px = Homography::of(rectangle(width_mm, height_mm), corners)?;
        Some(Self { lens, to_mm: to_px.back()?, to_px, scale })
    }

    /// A place of the photo, in mm in the plane.
    pub(crate) fn mm(&self, p: Point) -> Point {
        (self.to_mm.at(self.lens.straight(p)).to_vec2() * self.scale).to_point()
    }

    /// A place of the plane, in the photo.
    pub(crate) fn px(&self, p: Point) -> Point {
        self.lens.bent(self.to_px.at((p.to_vec2() / self.scale).to_point()))
    }

    /// The size of a pixel about a place, mm.
    pub(crate) fn mm_per_px(&self, p: Point) -> f64 {
        let across = self.mm(p + Vec2::new(1.0, 0.0)) - self.mm(p);
        let along = self.mm(p + Vec2::new(0.0, 1.0)) - self.mm(p);
        across.cross(along).abs().sqrt()
    }

    /// How the camera stood, for a photo with this longest side.
    pub(crate) fn pose(&self, longest_px: f64, width_mm: f64, height_mm: f64) -> Pose {
        pose(&self.to_px, self.lens.middle, longest_px, Point::new(width_mm / 2.0, height_mm / 2.0))
    }
}

/// A rectangle's corners, mm, round from its first.
pub(crate) fn rectangle(width_mm: f64, height_mm: f64) -> [Point; 4] {
    [Point::ORIGIN, Point::new(width_mm, 0.0), Point::new(width_mm, height_mm), Point::new(0.0, height_mm)]
}

/// How the camera stood.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pose {
    /// How far it looked away from straight down, radians.
    pub(crate) tilt: f64,
    /// The same as the rise of the view, its tangent.
    pub(crate) slant: f64,
    /// How far the rectangle's middle was from it, along its view, mm.
    pub(crate) distance_mm: f64,
    /// How far the rectangle's proportions are from what was said, as a share: 0 where they agree.
    pub(crate) off: f64,
}

/// The focal length of most phones' main lens, of the photo's longest side: 24 to 28 mm where a film's frame is 36 mm wide.
/// From memory.
const USUAL_FOCAL: f64 = 0.75;

/// From the shortest to the longest focal length that is tried: the logarithm of 7.5.
const SPAN: f64 = 2.015;

/// Which focal length, of 0.4 to 3 longest sides, makes of the picture that of a rectangle: its two sides' pictures are then at
/// right angles and each as long as it should be. Where the camera looked straight down every length does, and the usual one is taken.
fn pose(h: &Homography, middle: Point, longest: f64, centre_mm: Point) -> Pose {
    let [a, b, c, d, e, f, g, i, j] = h.0;
    let column = |x: f64, y: f64, w: f64, focal: f64| [(x - middle.x * w) / focal, (y - middle.y * w) / focal, w];
    let dot = |p: [f64; 3], q: [f64; 3]| p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
    let mut best = (f64::INFINITY, Pose { tilt: 0.0, slant: 0.0, distance_mm: 1.0, off: f64::INFINITY });
    for step in 0..=60 {
        let relative = 0.4 * (SPAN * f64::from(step) / 60.0).exp();
        let focal = relative * longest;
        let (first, second) = (column(a, d, g, focal), column(b, e, i, focal));
        let (one, other) = (dot(first, first).sqrt(), dot(second, second).sqrt());
        let off = ((one / other).ln().powi(2) + (dot(first, second) / (one * other)).powi(2)).sqrt();
        let unusual = (relative / USUAL_FOCAL).ln() / 0.35;
        let cost = (off / 0.004).powi(2) + unusual * unusual;
        if cost < best.0 {
            let normal = [
                first[1] * second[2] - first[2] * second[1],
                first[2] * second[0] - first[0] * second[2],
                first[0] * second[1] - first[1] * second[0],
            ];
            let upright = normal[2].abs() / dot(normal, normal).sqrt();
            let depth = column(c, f, j, focal)[2] + first[2] * centre_mm.x + second[2] * centre_mm.y;
            let aside = normal[0].hypot(normal[1]) / dot(normal, normal).sqrt();
            let pose = Pose {
                tilt: aside.atan2(upright),
                slant: aside / upright.max(0.01),
                distance_mm: depth / (one * other).sqrt(),
                off,
            };
            best = (cost, pose);
        }
    }
    best.1
}
