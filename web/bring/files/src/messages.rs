//! What the page and the Worker say to each other: plain objects, one answer to each message, in their order.
//!
//! | asked | answered |
//! |---|---|
//! | `{do:'open', file}`, the file a `File` or `Blob` | `{opened:`[`Opened`]`}` |
//! | `{do:'scale', from, to, mm}` or `{do:'scale', line, mm}`, [`Scale`] | `{scaled:`[`Scaled`]`}` |
//! | `{do:'check', found_mm, known_mm}`, [`Check`] | `{checked:`[`Checked`]`}` |
//! | `{do:'join', ...}`, [`Join`] | `{opened:`[`Opened`]`}` again, with the pages where they now lie |
//! | `{do:'piece', line}`, [`PieceAsked`] | `{piece:`[`Piece`]`}` |
//! | `{do:'edge', line, ends, ...}`, [`EdgeAsked`] | `{edge:`[`Edge`]`}` |
//! | `{do:'sizes', line, ends, ...}`, [`EdgeAsked`] | `{sizes:`[`Sizes`]`}` |
//!
//! Anything may be answered by `{refused:{code, ...figures}}`, [`Refused`]. A new file takes the place of the one before. The page
//! ends a job by terminating the Worker: after [`MOST_SECONDS`] without an answer, and when the Worker reports an error, which
//! is memory run out (this module is built to have no more than [`MOST_MEMORY`]); both are the file being too much, `too_much`.
//!
//! Places (`from`, `to`, `at`, `ends`, `down`) and paths of [`Opened`], [`Piece`] and [`Edge::over`] are in the drawing's own
//! units, x to the right, y down, with pages laid out side by side or as they were joined: a page draws them all in one SVG.
//! They stay as they are when the scale is told. Lengths called `_mm` are in mm.

use serde::{Deserialize, Serialize};

/// The largest file that is opened, bytes.
pub const MOST_BYTES: u32 = 64_000_000;
/// The most segments (lines and curves) that are read from a file.
pub const MOST_SEGMENTS: usize = 400_000;
/// The longest that any answer may take before the page ends the Worker, seconds.
pub const MOST_SECONDS: u32 = 3;
/// The most memory that the module has, bytes.
pub const MOST_MEMORY: u32 = 256 << 20;
/// From how far off a known length is told as not the one in the file, percent.
pub const OFF_PERCENT: f64 = 1.0;

/// A place or a distance in the drawing, in its own units.
pub type Place = [f64; 2];

/// What the page asks, besides `{do:'open', file}`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "do", rename_all = "snake_case")]
pub enum Asked {
    /// Tells the scale by a known length.
    Scale(Scale),
    /// Holds a length that was found against the real one.
    Check(Check),
    /// Lays tiled pages together.
    Join(Join),
    /// Follows the outline that a line belongs to.
    Piece(PieceAsked),
    /// Takes an edge.
    Edge(EdgeAsked),
    /// Takes the same edge of every size in the drawing.
    Sizes(EdgeAsked),
}

/// A known length: between two places, or along a line, of a straight line or the side of a test square.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(default)]
pub struct Scale {
    /// Where it begins; the nearest corner or end of a line is taken where one is near.
    pub from: Option<Place>,
    /// Where it ends, likewise.
    pub to: Option<Place>,
    /// In their place: a line's id. An open line's ends are meant; of a closed one the longer side of its box, as of a square.
    pub line: Option<usize>,
    /// How long it is, mm.
    pub mm: f64,
    /// Whether this is only a check: the scale stays as it is.
    pub only_check: bool,
}

/// The scale as it is now.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Scaled {
    /// Millimetres to one of the drawing's units.
    pub mm_per_unit: f64,
    /// How long the known length is in the drawing: by the scale before, mm, where there was one, else in the drawing's units.
    pub found: f64,
    /// How far the known length is from the one found, percent of the found; none where the scale was unknown before.
    pub off_percent: Option<f64>,
    /// What to look for, where that is more than [`OFF_PERCENT`].
    pub look_for: Option<LookFor>,
    /// The places that were taken.
    pub ends: [Place; 2],
}

/// A length that the plan is about to take, and the same held against the real piece.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub struct Check {
    /// What was found: a length, width or depth of an [`Edge`], mm.
    pub found_mm: f64,
    /// What the tape says, mm.
    pub known_mm: f64,
}

/// How the two lengths stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Checked {
    /// How far the known length is from the one found, percent of the found.
    pub off_percent: f64,
    /// What to look for, where that is more than [`OFF_PERCENT`].
    pub look_for: Option<LookFor>,
}

/// What a known length that does not fit is most like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LookFor {
    /// The file was fitted to a page when it was made or printed: 88 to 99 percent, or the other way round.
    FittedToPage,
    /// Inches were taken for millimetres, or the other way round: 25.4 times.
    Inches,
    /// Centimetres were taken for millimetres, or the other way round: ten times.
    Centimetres,
    /// Dots of a screen or points of print were taken for one another: 96 or 90 to 72.
    Dots,
    /// Half was taken for the whole, or the other way round: twice.
    Half,
    /// The seam allowance is in the one and not in the other: 4 to 60 mm in all.
    Allowance,
    /// Nothing of these: another line, another size, or a reading slipped.
    OtherLine,
}

/// Lays tiled pages together by hand: in rows from the first page, or each page by itself.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(default)]
pub struct Join {
    /// How many pages lie side by side. 0 lays them by `offsets`.
    pub columns: usize,
    /// How far a page lies over its neighbour to the left, both borders together, mm.
    pub overlap_x_mm: f64,
    /// How far a page lies over its neighbour above, mm.
    pub overlap_y_mm: f64,
    /// Where each page's top left corner lies, mm from the first's; a page that is not named stays out.
    pub offsets: Vec<Offset>,
    /// Pages that stay out, such as a cover with instructions, by their number from 0.
    pub without: Vec<usize>,
}

/// Where one page lies.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub struct Offset {
    /// Its number, from 0.
    pub page: usize,
    /// To the right of the first page's left border, mm.
    pub x_mm: f64,
    /// Below the first page's top border, mm.
    pub y_mm: f64,
}

/// What kind of file it is, by what stands in it and not by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// SVG.
    Svg,
    /// DXF, as text.
    Dxf,
    /// PDF.
    Pdf,
}

/// A file that was opened: all its lines.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Opened {
    /// What it is.
    pub kind: Kind,
    /// Millimetres to one of the drawing's units; none where the file does not tell: a known length is asked for.
    pub mm_per_unit: Option<f64>,
    /// The left, top, width and height of all that is drawn, in the drawing's units: an SVG's viewBox.
    pub view_box: [f64; 4],
    /// Its pages: one, unless it is a PDF of several.
    pub pages: Vec<PageShown>,
    /// How the pages came together.
    pub joined: Joined,
    /// Layers by name; of a DXF its blocks' names are in [`LineShown::group`].
    pub layers: Vec<LayerShown>,
    /// Kinds of line.
    pub styles: Vec<StyleShown>,
    /// Groups of lines that the file keeps together, such as a DXF's blocks: the pieces, where it is written so.
    pub groups: Vec<String>,
    /// Every line, its id being its place in this list.
    pub lines: Vec<LineShown>,
}

/// How the pages of a file came together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Joined {
    /// There is one page.
    One,
    /// Every page holds the same drawing, each showing another part of it: it was taken once.
    Copies,
    /// By the places that the file itself gives its pages.
    OwnPlaces,
    /// By hand.
    ByHand,
    /// Not yet: they lie side by side.
    Apart,
}

/// A page.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PageShown {
    /// Where its left border lies, in the drawing's units.
    pub x: f64,
    /// Where its top border lies.
    pub y: f64,
    /// Its width.
    pub width: f64,
    /// Its height.
    pub height: f64,
    /// How many lines are on it.
    pub lines: usize,
}

/// A layer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LayerShown {
    /// Its name in the file.
    pub name: String,
    /// Whether the file shows it: what is off is read all the same.
    pub on: bool,
    /// How many lines are on it.
    pub lines: usize,
}

/// A kind of line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StyleShown {
    /// Its colour, `#rrggbb`.
    pub colour: String,
    /// Its width in the drawing's units; 0 for the thinnest.
    pub width: f64,
    /// Dashes and gaps in turn, in the drawing's units; none where it is whole.
    pub dash: Vec<f64>,
    /// How many lines are drawn so.
    pub lines: usize,
}

/// A line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LineShown {
    /// As an SVG path, in the drawing's units.
    pub path: String,
    /// Its layer's place in the list; none where it is on none.
    pub layer: Option<usize>,
    /// Its style's place in the list.
    pub style: usize,
    /// Its group's place in the list; none where it is in none.
    pub group: Option<usize>,
    /// Its page's place in the list.
    pub page: usize,
    /// Whether it comes back to where it begins.
    pub closed: bool,
}

/// Asks for the outline that a line belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub struct PieceAsked {
    /// The line that was pointed at, by its id.
    pub line: usize,
    /// Where on it, if it was tapped.
    pub at: Option<Place>,
}

/// An outline, followed through all lines that go on from each other, dashes too, notches passed over.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Piece {
    /// The lines that it is made of.
    pub lines: Vec<usize>,
    /// The outline, in the drawing's units.
    pub path: String,
    /// Whether it comes back to where it begins.
    pub closed: bool,
    /// Its length all round, mm.
    pub length_mm: f64,
    /// Its corners, and the ends of an open one, in their order along it.
    pub corners: Vec<CornerShown>,
    /// How many notches were passed over.
    pub notches: usize,
    /// Edges that may be the neckline, the likeliest first: at most 6.
    pub suggested: Vec<Suggested>,
}

/// A corner of an outline.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CornerShown {
    /// Where it is, in the drawing's units: what [`EdgeAsked::ends`] take.
    pub at: Place,
    /// How far the outline turns there, degrees; 180 at an open end.
    pub turn_deg: f64,
}

/// An edge that may be the neckline.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Suggested {
    /// Its ends: the neck point and the centre; of a whole neckline both neck points.
    pub ends: [Place; 2],
    /// A place on it between them: what [`EdgeAsked::via`] takes.
    pub via: Place,
    /// Whether it is the whole neckline, by its mirror.
    pub whole: bool,
    /// Its length, mm.
    pub length_mm: f64,
    /// The edge, in the drawing's units.
    pub path: String,
}

/// Asks for an edge.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(default)]
pub struct EdgeAsked {
    /// The line that was pointed at, by its id.
    pub line: usize,
    /// The neck point, then the centre; of a whole neckline both neck points. Each is taken to the nearest corner where one is
    /// within 2 mm, else to the nearest place of the outline.
    pub ends: [Place; 2],
    /// A place on the edge between its ends: says which way round it runs. None takes the shorter way.
    pub via: Option<Place>,
    /// A place down the fold or centre line from the centre. None where the outline itself runs straight down it, and of a
    /// whole neckline.
    pub down: Option<Place>,
    /// Whether it is the whole neckline from neck point to neck point. None is told by its mirror.
    pub whole: Option<bool>,
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
    /// How far its length may be off to either side, mm.
    pub uncertainty_mm: f64,
    /// The edge as it was pointed at, whole or half, from the first end to the second, in the drawing's units.
    pub over: String,
    /// Whether it was taken as a whole neckline, of which `path_mm` is the first half.
    pub whole: bool,
    /// Of a whole neckline how far its two sides are from each other's mirror at most, mm.
    pub mirror_off_mm: Option<f64>,
    /// What the centre line was taken from.
    pub centre_from: CentreFrom,
    /// Whether points along it were smoothed, as of a sampled line; else the file's curves were taken as they are.
    pub smoothed: bool,
    /// How many notches along it were passed over.
    pub notches: usize,
}

/// What the centre line was taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CentreFrom {
    /// The outline runs straight down from the centre.
    Outline,
    /// The place that was pointed at.
    Pointed,
    /// The mirror of the whole neckline.
    Mirror,
}

/// The same edge of every size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sizes {
    /// From the shortest to the longest.
    pub sizes: Vec<Size>,
}

/// One size's edge.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Size {
    /// The line that was followed, by its id.
    pub line: usize,
    /// What tells it from the others: the name of its layer or its group; none where only its style or its place does.
    pub name: Option<String>,
    /// Its style's place in the list.
    pub style: usize,
    /// Whether this is the one that was pointed at.
    pub pointed: bool,
    /// Its edge.
    pub edge: Edge,
}

/// Why something cannot be done. Figures that the words name stand beside the code.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "code", rename_all = "snake_case")]
pub enum Refused {
    /// It is none of SVG, DXF and PDF.
    OtherKind,
    /// It is a picture: the photo way is for it.
    Picture,
    /// A DXF in its binary form: to be kept as text (ASCII).
    BinaryDxf,
    /// It is larger than what is opened.
    TooLarge {
        /// Its size, bytes.
        bytes: f64,
        /// The most, bytes.
        most: f64,
    },
    /// It holds more lines than are read, or things in things without end.
    TooMuch {
        /// The most segments.
        most: usize,
    },
    /// It cannot be read: it is damaged.
    Broken,
    /// It cannot be read: a line of its text makes no sense.
    BrokenAt {
        /// The line of text, from 1.
        line: usize,
    },
    /// It ends before its end: it was not fetched or copied whole.
    CutShort,
    /// It wants a password to be opened.
    Encrypted,
    /// It holds pictures and no lines: a scan, and the photo way is for it.
    ScanOnly,
    /// It holds no lines.
    NoLines,
    /// No file is open.
    NothingOpen,
    /// What was asked cannot be read.
    NotUnderstood,
    /// The scale is not known yet: a known length first.
    ScaleUnknown,
    /// There is no such line or page.
    NoSuch,
    /// A length is not what can be held against a drawing.
    Length {
        /// The least, mm.
        least_mm: f64,
        /// The most, mm.
        most_mm: f64,
    },
    /// The two ends are one place.
    EndsTogether,
    /// An end is not on the outline.
    OffLine {
        /// How far it is off, mm.
        off_mm: f64,
    },
    /// The outline does not tell where the centre line runs: a place down it first.
    NoCentreLine,
    /// Nothing tells whether this is half or the whole: it must be said.
    HalfOrWhole,
    /// It was said to be whole and its two sides are not each other's mirror.
    NotMirrored {
        /// How far they are apart at most, mm.
        off_mm: f64,
    },
    /// It crosses the centre line.
    OverCentre {
        /// How far it goes over, mm.
        over_mm: f64,
    },
    /// The neck point is too near the centre line, or the centre is not below it: the ends may stand in the other order.
    NotCentreToNeck {
        /// Across from the centre line to the neck point, mm.
        width_mm: f64,
        /// Down from the neck point to the centre, mm.
        depth_mm: f64,
    },
    /// It is no neckline's size: longer than 2000 mm, or of more than 200 parts even when smoothed.
    NoNeckline {
        /// Its length, mm.
        length_mm: f64,
    },
}

/// An answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// A file was opened, or its pages joined.
    Opened(Opened),
    /// The scale.
    Scaled(Scaled),
    /// Two lengths held against each other.
    Checked(Checked),
    /// An outline.
    Piece(Piece),
    /// An edge.
    Edge(Box<Edge>),
    /// Edges.
    Sizes(Sizes),
    /// Why not.
    Refused(Refused),
}
