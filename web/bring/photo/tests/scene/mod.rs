//! Photos of invented pieces, drawn with what is true of them: a pinhole camera over a table, a sheet, a piece, grain and blur.
//! Nothing here uses what measures.

use lieflat_photo::Photo;
use lieflat_photo::messages::{Line, Place, Rectangle, Trace};

/// What lies on the table at a place, mm: how far inside each thing is, positive inside.
pub(crate) struct Scene {
    /// The photo's size, px.
    pub(crate) size: [u32; 2],
    /// How far the camera looks away from straight down, degrees, and toward which side.
    pub(crate) tilt_deg: f64,
    pub(crate) toward_deg: f64,
    /// The lens's radial term (Brown, 1966), in focal lengths.
    pub(crate) bend: f64,
    /// The place that the camera looks at, mm, and from how far.
    pub(crate) target: Place,
    pub(crate) distance_mm: f64,
    /// The known rectangle: its middle, its sides, how far it is turned, mm and degrees.
    pub(crate) sheet: (Place, [f64; 2], f64),
    /// Brightness of ground, piece and sheet.
    pub(crate) levels: [f64; 3],
    /// How far inside the piece a place is, mm.
    pub(crate) piece: fn(f64, f64) -> f64,
    /// How far inside of what is printed on it.
    pub(crate) printed: fn(f64, f64) -> f64,
    /// One standard deviation of grain, levels.
    pub(crate) grain: f64,
    pub(crate) seed: u64,
}

/// The focal length of the camera, of the photo's longest side.
const FOCAL: f64 = 0.74;

/// Numbers by chance, from Marsaglia's xorshift (2003): the same for a seed everywhere.
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    pub(crate) fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Near enough to a bell of deviation one: the sum of three shares.
    pub(crate) fn bell(&mut self) -> f64 {
        2.0 * ((0..3).map(|_| self.share()).sum::<f64>() - 1.5)
    }
}

type Three = [f64; 3];

fn cross(a: Three, b: Three) -> Three {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn dot(a: Three, b: Three) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn unit(a: Three) -> Three {
    a.map(|v| v / dot(a, a).sqrt())
}

impl Scene {
    /// Right, down and forward of the camera, and where it stands. The table is z = 0 with y down the photo, z away from the camera.
    fn camera(&self) -> ([Three; 3], Three) {
        let (tilt, toward) = (self.tilt_deg.to_radians(), self.toward_deg.to_radians());
        let forward = [tilt.sin() * toward.cos(), tilt.sin() * toward.sin(), tilt.cos()];
        let down = unit(cross(forward, [1.0, 0.1, 0.0]));
        let right = cross(down, forward);
        let [x, y] = self.target;
        let place = [0, 1, 2].map(|i| [x, y, 0.0][i] - forward[i] * self.distance_mm);
        ([right, down, forward], place)
    }

    fn middle(&self) -> [f64; 2] {
        self.size.map(|side| (f64::from(side) - 1.0) / 2.0)
    }

    fn focal(&self) -> f64 {
        FOCAL * f64::from(self.size[0].max(self.size[1]))
    }

    /// Where a place of the table is in the photo, px.
    pub(crate) fn seen(&self, [x, y]: Place) -> Place {
        let (axes, place) = self.camera();
        let out = [x - place[0], y - place[1], -place[2]];
        let [right, down, far] = axes.map(|axis| dot(axis, out));
        let (u, v) = (right / far, down / far);
        let bent = 1.0 + self.bend * (u * u + v * v);
        let [middle_x, middle_y] = self.middle();
        [u * bent * self.focal() + middle_x, v * bent * self.focal() + middle_y]
    }

    /// Which place of the table is at a place of the photo, mm.
    fn on_table(&self, (axes, place): ([Three; 3], Three), [x, y]: Place) -> Place {
        let [middle_x, middle_y] = self.middle();
        let bent = [(x - middle_x) / self.focal(), (y - middle_y) / self.focal()];
        let [mut u, mut v] = bent;
        // As often as makes a lens's bend straight to a ten thousandth of a pixel.
        for _ in 0..if self.bend == 0.0 { 0 } else { 5 } {
            let factor = 1.0 + self.bend * (u * u + v * v);
            (u, v) = (bent[0] / factor, bent[1] / factor);
        }
        let ray = [0, 1, 2].map(|i| axes[0][i] * u + axes[1][i] * v + axes[2][i]);
        let far = -place[2] / ray[2];
        [place[0] + ray[0] * far, place[1] + ray[1] * far]
    }

    /// The sheet's corners on the table, mm.
    pub(crate) fn corners_mm(&self) -> [Place; 4] {
        let ([x, y], [wide, high], turned) = self.sheet;
        let (sin, cos) = turned.to_radians().sin_cos();
        [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(a, b)| {
            let (a, b) = (a * wide / 2.0, b * high / 2.0);
            [x + a * cos - b * sin, y + a * sin + b * cos]
        })
    }

    /// How far inside the sheet a place is, mm.
    fn in_sheet(&self, [x, y]: Place) -> f64 {
        let ([middle_x, middle_y], [wide, high], turned) = self.sheet;
        let (sin, cos) = turned.to_radians().sin_cos();
        let (a, b) = (x - middle_x, y - middle_y);
        let (a, b) = ((a * cos + b * sin).abs(), (b * cos - a * sin).abs());
        (wide / 2.0 - a).min(high / 2.0 - b)
    }

    /// The photo's pixels: red, green, blue, opacity.
    pub(crate) fn rgba(&self) -> Vec<u8> {
        let [width, height] = self.size.map(|side| side as usize);
        let mut chance = Chance(self.seed * 2 + 1);
        let camera = self.camera();
        let on_table = |x: f64, y: f64| self.on_table(camera, [x, y]);
        let mut light = Vec::with_capacity(width * height);
        for row in 0..height {
            for column in 0..width {
                let at = [column as f64, row as f64];
                let [x, y] = on_table(at[0], at[1]);
                let [right, below] = [on_table(at[0] + 1.0, at[1]), on_table(at[0], at[1] + 1.0)];
                let cell = ((right[0] - x) * (below[1] - y) - (right[1] - y) * (below[0] - x)).abs().sqrt();
                let covers = |inside: f64| (0.5 + inside / cell).clamp(0.0, 1.0);
                let [ground, piece, sheet] = self.levels;
                let mut level = ground;
                let in_piece = (self.piece)(x, y);
                level += (piece - level) * covers(in_piece);
                level += (0.35 * piece - level) * covers((self.printed)(x, y)) * covers(in_piece);
                level += (sheet - level) * covers(self.in_sheet([x, y]));
                // Darker to the right and downward.
                light.push(level * (1.0 - 0.1 * at[0] / width as f64 - 0.05 * at[1] / height as f64));
            }
        }
        let blurred = blurred(&light, width);
        let bytes = blurred.iter().flat_map(|level| {
            let level = (level + self.grain * chance.bell()).round().clamp(0.0, 255.0) as u8;
            [level, level, level, 255]
        });
        bytes.collect()
    }

    /// The photo, opened.
    pub(crate) fn photo(&self) -> Photo {
        Photo::open(self.size[0], self.size[1], &self.rgba()).expect("a photo of fair size opens")
    }

    /// The rectangle as a person points at it: up to `off` px beside its corners.
    pub(crate) fn rectangle(&self, off: f64) -> Rectangle {
        let mut chance = Chance(self.seed * 2 + 77);
        let mut beside = |v: f64| v + off * (2.0 * chance.share() - 1.0);
        let corners = self.corners_mm().map(|corner| self.seen(corner).map(&mut beside));
        let [width_mm, height_mm] = self.sheet.1;
        Rectangle { corners, width_mm, height_mm }
    }

    /// Asks for the edge between two places of the table, the centre line running down from the second.
    pub(crate) fn trace(&self, neck: Place, centre: Place, edge: Line) -> Trace {
        Trace {
            ends: [self.seen(neck), self.seen(centre)],
            down: self.seen([centre[0], centre[1] + 90.0]),
            via: Vec::new(),
            edge,
        }
    }
}

/// Blurred by a quarter, a half and a quarter, twice across and twice along: a deviation of one pixel.
fn blurred(light: &[f64], width: usize) -> Vec<f64> {
    let once = |light: &[f64], step: usize| -> Vec<f64> {
        let at = |index: usize| light[index];
        (0..light.len())
            .map(|i| {
                let (before, after) =
                    (i.checked_sub(step).unwrap_or(i), if i + step < light.len() { i + step } else { i });
                (at(before) + 2.0 * at(i) + at(after)) / 4.0
            })
            .collect()
    };
    let across = once(&once(light, 1), 1);
    once(&once(&across, width), width)
}
