//! The brief: everything a person tells us, as they know it and before any check.
//!
//! Field names carry their units. Unknown fields are refused. The module `given` turns a brief into
//! checked values; nothing here reckons.

use serde::{Deserialize, Serialize};

use crate::learned::SewnRecord;

/// The schema name a brief's JSON carries.
pub const SCHEMA: &str = "lieflat.brief";
/// The schema version a brief's JSON carries.
pub const VERSION: u32 = 1;

/// Everything the person tells us.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Brief {
    /// Always [`SCHEMA`].
    pub schema: String,
    /// Always [`VERSION`].
    pub version: u32,
    /// A name for the brief, shown and never interpreted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// The neckline's outline and allowances.
    pub neckline: Neckline,
    /// The knit the garment is cut from.
    pub garment_knit: Knit,
    /// The knit the strip or facing is cut from; the garment's own where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strip_knit: Option<Knit>,
    /// Which way the strip's length runs in its knit.
    #[serde(default)]
    pub strip_direction: Direction,
    /// How the neckline is finished.
    pub finish: Finish,
    /// The stitch of the neckline seam.
    #[serde(default)]
    pub stitch: Stitch,
    /// The head that must pass.
    pub head: Head,
    /// Which parts may be stayed.
    #[serde(default)]
    pub stays: Stays,
    /// The stretch the pattern asks of the garment's knit, where it says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pattern_asks: Option<PatternAsks>,
    /// What cut figures are rounded to.
    #[serde(default)]
    pub rounding: Rounding,
    /// How far each reading may be off.
    #[serde(default)]
    pub tolerances: Tolerances,
    /// The constants of the rules, the person's to change.
    #[serde(default)]
    pub rules: Rules,
}

/// The neckline: two halves and what their readings stand for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Neckline {
    /// Whether outlines and lengths are of the cut edge or of the seam line.
    pub readings_at: ReadingsAt,
    /// The neckline's seam allowance, from cut edge to seam line. mm, 0 to 60.
    pub neckline_allowance_mm: f64,
    /// The front half, centre front to neck point.
    pub front: Half,
    /// The back half, centre back to neck point.
    pub back: Half,
}

/// Which line the outlines and lengths describe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ReadingsAt {
    /// The pattern piece's edge, allowances included.
    CutEdge,
    /// The line that is sewn.
    SeamLine,
}

/// One half of the neckline, from the centre to the neck point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Half {
    /// The outline, in one of three ways.
    pub outline: Outline,
    /// Whether the centre is a fold or a seam.
    #[serde(default)]
    pub centre: Centre,
    /// The shoulder's seam allowance. mm, 0 to 60.
    pub shoulder_allowance_mm: f64,
    /// The shoulder's slope below the horizontal. Degrees, 0 to 45.
    #[serde(default = "default_shoulder_slope_deg")]
    pub shoulder_slope_deg: f64,
}

/// A usual shoulder slope on knit tops: common practice, no published source.
#[must_use]
pub const fn default_shoulder_slope_deg() -> f64 {
    20.0
}

/// The three ways an outline is told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Outline {
    /// A length along the line with the opening's half width or depth.
    Measured(Measured),
    /// Half width and depth.
    Drafted(Drafted),
    /// A path.
    Drawn(Drawn),
}

/// A half known by tape-measure readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measured {
    /// Length along the line, from its own centre to its shoulder end: edge to edge of the piece where readings are of the
    /// cut edge. mm, 20 to 1500.
    pub half_length_mm: f64,
    /// From the line's own centre straight out to the neck point: from the fold; with a centre seam, from its cut edge or
    /// from its seam line, as `readings_at` says. mm, 10 to 600. Give this, the depth, or both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub half_width_mm: Option<f64>,
    /// From the neck point down to the centre's lowest point. mm, 2 to 700.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth_mm: Option<f64>,
    /// The shape taken for granted between the readings.
    pub shape: Shape,
}

/// A half known by its draft.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Drafted {
    /// From the line's own centre straight out to the neck point, as [`Measured::half_width_mm`]. mm, 10 to 600.
    pub half_width_mm: f64,
    /// From the neck point down to the centre's lowest point. mm, 2 to 700.
    pub depth_mm: f64,
    /// The shape.
    pub shape: Shape,
}

/// A half known by a path in SVG's path syntax, millimetres.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Drawn {
    /// One open path between the line's own centre (x = 0), as [`Measured::half_width_mm`], and the neck point, drawn from
    /// either end; y runs down.
    pub path_mm: String,
}

/// A neckline's shape and what makes it fuller or flatter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shape {
    /// Which shape.
    pub kind: ShapeKind,
    /// Round, scoop and boat: how far the curve fills its corner. Percent, 20 to 90.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roundness_percent: Option<f64>,
    /// Square: the radius of its corner. mm, 0 to 200.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corner_radius_mm: Option<f64>,
    /// V: how far the middle of a leg is hollowed toward the garment, as a share of the leg. Percent, -8 to 8.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leg_hollow_percent: Option<f64>,
}

impl Shape {
    /// A shape with its usual fullness.
    #[must_use]
    pub const fn plain(kind: ShapeKind) -> Self {
        Self { kind, roundness_percent: None, corner_radius_mm: None, leg_hollow_percent: None }
    }
}

/// The shapes of neckline.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ShapeKind {
    /// A round neck, its ends square to the shoulder.
    Round,
    /// A fuller, deeper round.
    Scoop,
    /// Straight or slightly hollowed legs that meet in a point.
    V,
    /// Straight across and straight up, the corner rounded by a radius.
    Square,
    /// Wide and shallow, meeting the shoulder at a slant.
    Boat,
}

/// What the centre line is.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Centre {
    /// The piece is cut on a fold there.
    #[default]
    Fold,
    /// A seam runs there.
    Seam {
        /// Its allowance. mm, 0 to 60.
        allowance_mm: f64,
    },
}

/// A knit: how it stretches and how thick it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Knit {
    /// A name, shown and never interpreted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Stretch across the wales, along the courses: usually the stretchier way.
    pub crosswise: Stretch,
    /// Stretch along the wales; half the crosswise stretch is taken where it was not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lengthwise: Option<Stretch>,
    /// Stretch at 45 degrees; the mean of the other two is taken where it was not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diagonal: Option<Stretch>,
    /// Thickness of one layer. mm, 0 to 10; 0.8 is taken where it was not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness_mm: Option<f64>,
    /// Elastane in the yarn, for the notes alone. Percent, 0 to 50.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elastane_percent: Option<f64>,
    /// How strips cut from this knit came out. At most 200.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub learned: Vec<SewnRecord>,
}

/// Stretch in one direction, by readings or as percentages.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Stretch {
    /// Marks on the cloth, read with a ruler.
    Readings {
        /// Between the marks at rest. mm, 20 to 1000.
        rest_mm: f64,
        /// Between the marks, pulled to where the knit resists comfortably. mm, at least the rest length.
        stretched_mm: f64,
        /// Between the marks after letting go.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        released_mm: Option<f64>,
    },
    /// Percentages somebody else worked out.
    Percent {
        /// Stretch. Percent, 0 to 400.
        stretch_percent: f64,
        /// Share of the stretch given back. Percent, 1 to 100; 90 is taken where it is not known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        recovery_percent: Option<f64>,
    },
}

/// Which way in the knit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// Across the wales.
    #[default]
    Crosswise,
    /// Along the wales.
    Lengthwise,
    /// At 45 degrees to both.
    Diagonal,
}

/// The finishes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Finish {
    /// A stretched band that stands toward the neck.
    Band(Band),
    /// A strip turned inside onto the garment.
    Tape(Tape),
    /// Shaped pieces turned inside and understitched.
    Facing(Facing),
    /// A strip wrapped round the raw edge.
    Bound(Bound),
}

impl Finish {
    /// Whether the allowance is turned to the inside, which clips must open for and which wants a stable edge.
    #[must_use]
    pub const fn turns_inside(&self) -> bool {
        matches!(self, Self::Tape(_) | Self::Facing(_))
    }
}

/// A stretched band.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Band {
    /// Finished width, from seam line to free edge. mm, 3 to 150.
    pub width_mm: f64,
    /// Folded along its free edge, or one layer.
    #[serde(default)]
    pub layers: Layers,
    /// How the ends meet at a point.
    #[serde(default)]
    pub point: PointFinish,
    /// Allowance of the join of the strip's ends. mm, 0 to 60.
    #[serde(default = "default_join_allowance_mm")]
    pub join_allowance_mm: f64,
    /// The maker's own ratio of strip to seam line, in place of the rule. Percent, 30 to 120.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ratio_percent: Option<f64>,
}

/// A quarter of an inch, the general narrow seam of knits: common practice, no published source.
#[must_use]
pub const fn default_join_allowance_mm() -> f64 {
    6.0
}

/// How many layers a band has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Layers {
    /// Folded along the free edge, both raw edges in the seam.
    #[default]
    Folded,
    /// One layer with a finished edge.
    Single,
}

/// How a band's ends meet at the point of a V.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PointFinish {
    /// A seam on the line that halves the point.
    #[default]
    Mitre,
    /// One end over the other, caught in the neckline seam.
    Lap,
}

/// A facing strip: turned inside, as narrow and straight as a tape, whose name it has in the brief.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tape {
    /// Finished width, from seam line to free edge. mm, 3 to 80.
    pub width_mm: f64,
    /// Turned under at the free edge. mm, 0 to 30; 0 for a raw or overlocked edge.
    #[serde(default)]
    pub turn_under_mm: f64,
    /// Allowance of the join of the strip's ends. mm, 0 to 60.
    #[serde(default = "default_join_allowance_mm")]
    pub join_allowance_mm: f64,
    /// The maker's own ratio of strip to seam line, in place of the rule. Percent, 30 to 120.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ratio_percent: Option<f64>,
}

/// An understitched facing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Facing {
    /// Finished width, from seam line to outer edge. mm, 20 to 200.
    pub width_mm: f64,
    /// From the facing's own seam edge to the understitching. mm, 0.5 to 6.
    #[serde(default = "default_understitch_mm")]
    pub understitch_mm: f64,
    /// Turned under at the outer edge. mm, 0 to 30; 0 for an overlocked edge.
    #[serde(default)]
    pub edge_allowance_mm: f64,
    /// From the garment's seam line to a topstitching through garment and facing; none where it is absent. mm, 1 to
    /// 100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub topstitch_mm: Option<f64>,
}

/// A bound edge: the garment is first trimmed to the pattern's seam line, which becomes the finished edge; the
/// strip is sewn a finished width below it, wrapped round the raw edge and caught on the inside.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bound {
    /// Finished width on each side of the edge. mm, 3 to 40.
    pub width_mm: f64,
    /// One layer, or folded along its length before it is sewn.
    #[serde(default = "default_bound_layers")]
    pub layers: Layers,
    /// One layer only: turned under on the inside. mm, 0 to 30; 0 for a raw or overlocked edge.
    #[serde(default)]
    pub turn_under_mm: f64,
    /// Allowance of the join of the strip's ends. mm, 0 to 60.
    #[serde(default = "default_join_allowance_mm")]
    pub join_allowance_mm: f64,
    /// The maker's own ratio of strip to the line it is sewn on, in place of the rule. Percent, 30 to 120.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ratio_percent: Option<f64>,
}

/// Knits do not fray, so one layer is usual: common practice, no published source.
#[must_use]
pub const fn default_bound_layers() -> Layers {
    Layers::Single
}

/// 1/16 in, the nearer of the usual 1/16 to 1/8 in: common practice, no published source.
#[must_use]
pub const fn default_understitch_mm() -> f64 {
    1.6
}

/// The neckline seam's stitch.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Stitch {
    /// Lockstitch, ISO 4915 stitch type 301.
    Straight,
    /// Zigzag lockstitch, ISO 4915 stitch type 304.
    Zigzag {
        /// Swing from side to side. mm, 0.1 to 10.
        width_mm: f64,
        /// Advance along the seam in one swing. mm, 0.2 to 10.
        advance_mm: f64,
    },
    /// Overedge, ISO 4915 stitch types 504 and 514.
    #[default]
    Overlock,
}

/// The head that must pass the opening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// Whose head.
    pub girth: HeadGirth,
    /// Ease over the head's girth: hair, ears, a hand. mm, 0 to 200.
    #[serde(default = "default_head_margin_mm")]
    pub margin_mm: f64,
}

/// A small ease over the head: our judgement, no published source.
#[must_use]
pub const fn default_head_margin_mm() -> f64 {
    20.0
}

/// A head girth, measured or from reference data.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum HeadGirth {
    /// The person's own. mm, 250 to 800.
    OwnMm(f64),
    /// A large head of a group of adults (the 95th percentile).
    Adult(AdultGroup),
    /// A large head of children of an age (median plus two standard deviations).
    Child {
        /// Growth chart.
        group: ChildGroup,
        /// Age. Months, 0 to 60.
        age_months: f64,
    },
}

/// Adults with reference data.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AdultGroup {
    /// Women.
    Women,
    /// Men.
    Men,
}

/// Children with reference data.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ChildGroup {
    /// Girls.
    Girls,
    /// Boys.
    Boys,
}

/// What may be stayed, and with what.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Stays {
    /// Width of the stay tape. mm, 3 to 40.
    pub tape_width_mm: f64,
    /// How far the stay tape reaches past the seam line, so that the stitching catches it. mm, 0 to 10.
    pub catch_mm: f64,
    /// Whether the shoulder seams may be stayed; where one of the edges is a shoulder and is stayed, it takes their place.
    pub shoulders: bool,
    /// The shoulder seam's length. mm, 20 to 400; no length of stay tape is given for it where it is absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shoulder_length_mm: Option<f64>,
    /// Other edges that the person names. At most 12.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub edges: Vec<StayEdge>,
}

/// An edge that the person names, to be stayed where its stretch wants it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StayEdge {
    /// Its name, shown and never interpreted.
    pub name: String,
    /// What kind of edge it is.
    pub part: EdgePart,
    /// Length of its seam line; for a gathered section the length between the notches it is drawn up to. mm, 10 to 2000.
    pub length_mm: f64,
    /// Gathered sections: length along the seam line before gathering. mm, from `length_mm` to 8 times that.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gathered_from_mm: Option<f64>,
    /// Which way the edge runs in the garment's knit.
    pub direction: Direction,
    /// Its seam allowance. mm, 0 to 60.
    pub allowance_mm: f64,
    /// How many such edges the garment has. 1 to 8.
    #[serde(default = "default_pieces")]
    pub pieces: u32,
}

/// One edge of the kind.
#[must_use]
pub const fn default_pieces() -> u32 {
    1
}

/// What kind of edge a person names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EdgePart {
    /// A seam at centre front.
    CentreFrontSeam,
    /// A seam at centre back.
    CentreBackSeam,
    /// A shoulder seam.
    Shoulder,
    /// A section from notch to notch that receives or is drawn up into gathers.
    Gathered,
    /// Any other.
    Other,
}

impl Default for Stays {
    /// Narrow stay tape, 3/8 in wide, caught by 1 mm: common practice, no published source.
    fn default() -> Self {
        Self { tape_width_mm: 9.5, catch_mm: 1.0, shoulders: true, shoulder_length_mm: None, edges: Vec::new() }
    }
}

/// The stretch a pattern asks of its knit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PatternAsks {
    /// Crosswise. Percent, 0 to 400.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crosswise_percent: Option<f64>,
    /// Lengthwise. Percent, 0 to 400.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lengthwise_percent: Option<f64>,
}

/// What cut figures are rounded to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rounding {
    /// Whole millimetres.
    #[default]
    Millimetre,
    /// Eighths of an inch.
    EighthInch,
}

impl Rounding {
    /// The step of rounding in mm.
    #[must_use]
    pub const fn step_mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::EighthInch => crate::length::MM_PER_INCH / 8.0,
        }
    }

    /// Rounds a length to the nearest step. A plan's cut figures also keep within their ranges, see [`crate::plan::Figure`].
    #[must_use]
    pub fn round_mm(self, mm: f64) -> f64 {
        (mm / self.step_mm()).round() * self.step_mm()
    }
}

/// How far readings may be off, either way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Tolerances {
    /// A tape reading of the neckline, and a draft's width or depth. mm, 0 to 50.
    pub reading_mm: f64,
    /// A stretch percentage, in points. 0 to 100.
    pub stretch_points: f64,
    /// A recovery percentage, in points. 0 to 100.
    pub recovery_points: f64,
    /// A seam allowance as sewn. mm, 0 to 20.
    pub allowance_mm: f64,
    /// A finished width as sewn. mm, 0 to 20.
    pub width_mm: f64,
    /// The fullness of an assumed shape, in points of roundness. 0 to 30.
    pub roundness_points: f64,
}

impl Default for Tolerances {
    /// A tape reading about 2 mm and stretch about 5 points (the design's); the rest our judgement.
    fn default() -> Self {
        Self {
            reading_mm: 2.0,
            stretch_points: 5.0,
            recovery_points: 10.0,
            allowance_mm: 1.0,
            width_mm: 1.0,
            roundness_points: 8.0,
        }
    }
}

/// The constants of the rules. Each is a judgement stated with its ground; none is a published value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Rules {
    /// h: the part of the strip's stretch that its free edge keeps as hold, before recovery. Fraction, 0 to 0.5.
    ///
    /// 0.10 puts ribs of 100 percent at two thirds to three quarters of a round neck for widths of
    /// about 15 to 20 mm, which is the published range (see the reference checks).
    pub hold_share: f64,
    /// phi: the part of a knit's stretch that an edge may keep for good. Fraction, 0.1 to 1.
    pub comfort_share: f64,
    /// `hold_t`: the strain a facing strip's seam edge keeps, so that it is cut a little shorter. Fraction, 0 to 0.2.
    pub tape_hold: f64,
    /// The part of a knit's stretch that is used when the head passes. Fraction, 0.1 to 1.
    pub pull_share: f64,
    /// How far an even spread between two marks may be off before another mark is set. mm, 0.5 to 50.
    pub mark_tolerance_mm: f64,
    /// How far one clip opens. mm, 1 to 20.
    pub clip_opening_mm: f64,
    /// Turn of cloth for one layer folded over, as a multiple of its thickness. 0 to 4.
    ///
    /// pi/2 is the length of the middle of the layer round a fold with no gap: a half circle of
    /// radius half the thickness.
    pub turn_per_thickness: f64,
}

impl Default for Rules {
    fn default() -> Self {
        Self {
            hold_share: 0.10,
            comfort_share: 0.60,
            tape_hold: 0.02,
            pull_share: 0.80,
            mark_tolerance_mm: 3.0,
            clip_opening_mm: 4.0,
            turn_per_thickness: core::f64::consts::FRAC_PI_2,
        }
    }
}

#[cfg(feature = "json")]
mod json {
    use super::{Brief, SCHEMA, VERSION};
    use crate::error::{Accepted, AcceptedCode, BriefError, BriefErrors, Problem};

    impl Brief {
        /// Reads a brief from JSON text.
        ///
        /// # Errors
        /// The place, the problem and what is accepted: text that is no JSON, another schema or version,
        /// an unknown field by its name, a missing field, or a value of the wrong kind.
        pub fn from_json(text: &str) -> Result<Self, BriefErrors> {
            // Some editors begin a file with a byte-order mark, which a reader may pass over (RFC 8259, section 8.1).
            let text = text.strip_prefix('\u{feff}').unwrap_or(text);
            let mut reader = serde_json::Deserializer::from_str(text);
            let brief: Self = serde_path_to_error::deserialize(&mut reader).map_err(|e| {
                let field = e.path().to_string();
                unreadable(&field, &e.into_inner().to_string())
            })?;
            reader.end().map_err(|e| unreadable(".", &e.to_string()))?;
            brief.check_schema()?;
            Ok(brief)
        }

        /// Whether the brief carries this schema's name and version.
        ///
        /// # Errors
        /// [`Problem::OtherSchema`] at `schema` or `version`.
        pub fn check_schema(&self) -> Result<(), BriefErrors> {
            let other = |field: &str, found: String, accepted: String| {
                let accepted = Accepted::words(AcceptedCode::ThisSchema, accepted);
                BriefErrors::from(BriefError::new(field, Some(found), Problem::OtherSchema, accepted))
            };
            if self.schema != SCHEMA {
                return Err(other("schema", self.schema.clone(), SCHEMA.to_owned()));
            }
            if self.version != VERSION {
                return Err(other("version", self.version.to_string(), VERSION.to_string()));
            }
            Ok(())
        }
    }

    /// Sorts a reader's message into an unknown field, a missing one, or a value of the wrong kind.
    fn unreadable(path: &str, message: &str) -> BriefErrors {
        let quoted = message.split('`').nth(1).unwrap_or_default();
        // The reader says "found, expected what at line l column c"; the field's path serves people better.
        let said = message.rsplit_once(" at line ").map_or(message, |(said, _)| said);
        let (found, expected) = said.split_once(", expected ").unwrap_or((said, "a brief in JSON"));
        let expected = if expected == "f64" { "a number" } else { expected };
        let (problem, field, value) = if message.starts_with("unknown field") {
            (Problem::UnknownField, join(path, quoted), Some(quoted))
        } else if message.starts_with("missing field") {
            return BriefError::new(join(path, quoted), None, Problem::Missing, Accepted::code(AcceptedCode::AValue))
                .into();
        } else {
            (Problem::Unreadable, path.to_owned(), Some(found))
        };
        BriefError::new(field, value.map(str::to_owned), problem, Accepted::words(AcceptedCode::OtherText, expected))
            .into()
    }

    fn join(path: &str, last: &str) -> String {
        match path {
            "." | "" => last.to_owned(),
            _ if path == last || path.ends_with(&format!(".{last}")) => path.to_owned(),
            _ => format!("{path}.{last}"),
        }
    }
}
