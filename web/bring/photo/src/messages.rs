//! What the page and the Worker say to each other: plain objects, one answer to each message, in their order.
//!
//! | asked | answered |
//! |---|---|
//! | `{do:'open', file}`, the file a `File` or `Blob` | `{opened:`[`Opened`]`}` |
//! | `{do:'rectangle', corners, width_mm, height_mm}`, [`Rectangle`] | `{set:`[`Set`]`}` |
//! | `{do:'snap', at:[x,y]}`, [`Snap`] | `{snapped:[x,y]}` |
//! | `{do:'trace', ends:[neck,centre], down, via, edge}`, [`Trace`] | `{edge:`[`Edge`]`}` |
//!
//! Anything may be answered by `{refused:{code, ...figures}}`, [`Refused`]. A new photo takes the place of the one before, a new
//! rectangle that of the one before. The page ends a job by terminating the Worker; nothing is kept anywhere.
//!
//! Places are in px of the photo as it is reduced (longest side at most [`LONGEST_PX`]), from the middle of its first pixel, x
//! to the right, y down: the page multiplies by `shown width / width_px` to draw over the photo. Lengths are in mm.

use serde::Serialize;

/// The longest side that a photo is reduced to, px: a photo of 12 million pixels gave the same to 0.01 mm.
pub const LONGEST_PX: u32 = 2048;

/// The least that a photo's longest side may have, px: under it a pixel is a millimetre and more. Our judgement.
pub const LEAST_PX: u32 = 800;

/// The largest file that is opened, bytes.
pub const MOST_BYTES: f64 = 100e6;

/// The most pixels of a photo, as its file says, where it can be read there: what a browser unpacks within some hundred MB.
/// Our judgement.
pub const MOST_PIXELS: f64 = 120e6;

/// A place in the photo, px.
pub type Place = [f64; 2];

/// The known rectangle that lies beside the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Rectangle {
    /// Its corners, one after the other round it, in either sense, px. They need not be exact: its sides are looked for near
    /// them. Of a card with round corners, where its sides would cross.
    pub corners: [Place; 4],
    /// One side, mm, 20 to 2000. Which of the two sides lies between the first and the second corner is found from the photo.
    pub width_mm: f64,
    /// The other side, mm, 20 to 2000.
    pub height_mm: f64,
}

/// Asks for the corner or edge that is meant by a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Snap {
    /// Where the person pointed, px.
    pub at: Place,
}

/// What kind of line is followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// `cut`: the edge of the cut piece, where paper meets ground: lines printed along it are passed over.
    Cut,
    /// `line`: a dark line, printed or drawn, on lighter paper.
    Line,
}

/// Asks for the edge between two ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    /// The neck point and the place at the centre line, px. They are taken as they are: [`Snap`] comes before.
    pub ends: [Place; 2],
    /// A place further down the fold or centre line, px, the further the better: it gives the centre line's direction.
    pub down: Place,
    /// Places the line was pulled to, in any order of pulling but in the line's order from neck to centre, px. At most 20.
    pub via: Vec<Place>,
    /// What is followed.
    pub edge: Line,
}

/// A photo that was opened.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Opened {
    /// Its width as reduced, px.
    pub width_px: u32,
    /// Its height as reduced, px.
    pub height_px: u32,
    /// The corners of what looks most like a sheet or card lying by itself, clockwise from the one nearest the photo's top left;
    /// nothing where no such thing is seen.
    pub corners: Option<[Place; 4]>,
}

/// The plane of the piece, as the known rectangle shows it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Set {
    /// How far the camera looked away from straight down, degrees: about, since the lens is not known.
    pub tilt_deg: f64,
    /// The size of a pixel at the rectangle's middle, mm.
    pub mm_per_px: f64,
    /// The corners as they were found, where the rectangle's sides cross, in the order given, px.
    pub corners: [Place; 4],
    /// What makes the figures less sure, though they hold.
    pub doubts: Vec<Doubt>,
}

/// An edge.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Edge {
    /// The half neckline from the centre line to the neck point as a brief holds it (`drawn.path_mm`): x from the centre line,
    /// y down from the neck point, mm.
    pub path_mm: String,
    /// Its length, mm.
    pub length_mm: f64,
    /// From the centre line to the neck point, across, mm.
    pub width_mm: f64,
    /// From the neck point down to the end at the centre line, mm.
    pub depth_mm: f64,
    /// Half of the range that holds the true length in 19 photos of 20, mm.
    pub uncertainty_mm: f64,
    /// What that range is made of, mm each, at one standard deviation.
    pub parts: Parts,
    /// The same line over the photo, from the neck point to the centre line, px.
    pub over_photo: Vec<Place>,
    /// How far the two sides of the line are apart in brightness, grey levels of 256, in the middle of its places.
    pub contrast_levels: f64,
    /// What makes the figures less sure, though they hold.
    pub doubts: Vec<Doubt>,
}

/// What the length's range is made of: one standard deviation each, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Parts {
    /// Where the two ends are.
    pub ends_mm: f64,
    /// The known rectangle: how true it was cut, how well its sides were seen.
    pub scale_mm: f64,
    /// What the lens bends.
    pub lens_mm: f64,
    /// That paper does not lie quite flat, or not at the rectangle's height; more with tilt.
    pub flat_mm: f64,
    /// Where the edge is: its blur, its shadow, its noise.
    pub edge_mm: f64,
}

/// What makes a figure less sure, though it holds. The range holds it already.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Doubt {
    /// The camera looked more than 30 degrees away from straight down.
    Tilted,
    /// The edge is under 60 grey levels off its ground.
    Faint,
    /// The rectangle is small in the photo: its shorter side is under 150 px.
    RectangleSmall,
    /// The line reaches further from the rectangle than twice its longer side.
    RectangleFar,
    /// One or more sides of the rectangle were not seen well: the corners given are used there.
    SidesUnseen,
    /// The rectangle's proportions are 2 percent or more from the size that was said: another size, or paper that is not flat.
    Proportions,
    /// The rectangle's sides are bowed as a strong lens bows them: that was taken out as far as they tell it.
    Bowed,
    /// An end lies more than 1.5 mm beside the line.
    EndBesideLine,
    /// The line was not seen over some of its way, and was carried on.
    Gaps,
}

/// Why there is no answer. With each code stand the figures that its words name.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "code", rename_all = "snake_case")]
pub enum Refused {
    /// The message is none of those that are known, or has fields that cannot be read.
    NotUnderstood,
    /// The file is larger than is opened.
    FileLarge {
        /// Its size, bytes.
        bytes: f64,
        /// The most, bytes.
        most: f64,
    },
    /// The photo has more pixels than are opened.
    TooManyPixels {
        /// How many it has.
        pixels: f64,
        /// The most.
        most: f64,
    },
    /// The browser cannot read the file as a picture.
    NotAPicture,
    /// The photo is too small.
    PhotoSmall {
        /// Its longest side, px.
        longest_px: u32,
        /// The least, px.
        least_px: u32,
    },
    /// No photo was opened yet.
    NoPhoto,
    /// No known rectangle was set yet.
    NoRectangle,
    /// A place is outside the photo, or is no number.
    PlaceOutside {
        /// Which: `corners`, `at`, `ends`, `down` or `via`.
        what: &'static str,
    },
    /// A side of the rectangle is out of range.
    RectangleSize {
        /// What stood there, mm; nothing where it is no number.
        found_mm: Option<f64>,
        /// The least, mm.
        least_mm: f64,
        /// The most, mm.
        most_mm: f64,
    },
    /// The four corners are no rectangle seen from anywhere: two are one, three on a line, or the sides cross.
    NotFourCornered,
    /// The rectangle is too small in the photo to go by.
    RectangleTiny {
        /// Its shortest side, px.
        shortest_px: f64,
        /// The least, px.
        least_px: f64,
    },
    /// No rectangle of the size that was said can look like this from anywhere.
    OtherProportions {
        /// How far its proportions are off, percent.
        off_percent: f64,
        /// The most, percent.
        most_percent: f64,
    },
    /// The camera looked too far away from straight down.
    TooTilted {
        /// How far, degrees.
        tilt_deg: f64,
        /// The most, degrees.
        most_deg: f64,
    },
    /// A pixel is too large: the photo was taken from too far away.
    TooCoarse {
        /// A pixel's size at the rectangle, mm.
        mm_per_px: f64,
        /// The most, mm.
        most_mm: f64,
    },
    /// There are too many places to go through.
    TooManyVia {
        /// The most.
        most: usize,
    },
    /// The two ends are too near each other.
    EndsNear {
        /// How far apart, mm.
        apart_mm: f64,
        /// The least, mm.
        least_mm: f64,
    },
    /// The place down the centre line is too near its end to give a direction.
    DownNear {
        /// How far apart, mm.
        apart_mm: f64,
        /// The least, mm.
        least_mm: f64,
    },
    /// The neck point is not above the end at the centre line and beside it: ends given the other way round, or the place down
    /// the centre line lies up.
    NotCentreToNeck {
        /// The width that comes of it, mm.
        width_mm: f64,
        /// The depth that comes of it, mm.
        depth_mm: f64,
    },
    /// The edge is too little off its ground.
    TooFaint {
        /// How far, grey levels of 256.
        contrast_levels: f64,
        /// The least, grey levels.
        least_levels: f64,
    },
    /// The line is lost over too much of its way.
    EdgeLost {
        /// The middle of the longest stretch that is not seen, px.
        at: Place,
        /// How long that is, mm.
        gap_mm: f64,
        /// How much of the way is not seen, percent.
        unseen_percent: f64,
    },
    /// An end lies too far beside the line that was found.
    EndOff {
        /// Which place, px.
        at: Place,
        /// How far, mm.
        off_mm: f64,
        /// The most, mm.
        most_mm: f64,
    },
    /// The line that was found crosses itself or the centre line, or has over 200 pieces.
    LineCrosses,
}
