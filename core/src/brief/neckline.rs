//! The neckline: its two halves, their outlines and allowances.

use serde::{Deserialize, Serialize};

use crate::limits::Limits;

/// A seam allowance. mm.
pub(crate) const ALLOWANCE_MM: Limits = [0.0, 60.0];
/// What a drawn line's length may be off by: a line less sure than by the upper of these is no line to cut by. Our judgement.
pub(crate) const UNCERTAINTY_MM: Limits = [0.0, 20.0];
/// A shoulder's slope. Degrees.
pub(crate) const SHOULDER_SLOPE_DEG: Limits = [0.0, 45.0];
/// A half's length along the line. mm.
pub(crate) const HALF_LENGTH_MM: Limits = [20.0, 1500.0];
/// A half's width. mm.
pub(crate) const HALF_WIDTH_MM: Limits = [10.0, 600.0];
/// A half's depth. mm.
pub(crate) const DEPTH_MM: Limits = [2.0, 700.0];
/// How far a curve fills its corner. Percent.
pub(crate) const ROUNDNESS_PERCENT: Limits = [20.0, 90.0];
/// The radius of a square's corner. mm.
pub(crate) const CORNER_RADIUS_MM: Limits = [0.0, 200.0];
/// How far a V's leg is hollowed. Percent.
pub(crate) const LEG_HOLLOW_PERCENT: Limits = [-8.0, 8.0];

/// Most segments of a drawn path.
pub(crate) const MOST_SEGMENTS: usize = 200;
/// The furthest that a drawn path may reach from the neck point's axes. mm.
pub(crate) const FURTHEST_MM: f64 = 2000.0;

/// The neckline: two halves and what their readings stand for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Neckline {
    /// Whether outlines and lengths are of the cut edge or of the seam line.
    pub readings_at: ReadingsAt,
    /// The neckline's seam allowance, from cut edge to seam line. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(ALLOWANCE_MM)))]
    pub neckline_allowance_mm: f64,
    /// The front half, centre front to neck point.
    pub front: Half,
    /// The back half, centre back to neck point.
    pub back: Half,
}

/// Which line the outlines and lengths describe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum ReadingsAt {
    /// The pattern piece's edge, allowances included.
    CutEdge,
    /// The line that is sewn.
    SeamLine,
}

/// One half of the neckline, from the centre to the neck point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Half {
    /// The outline, in one of three ways.
    pub outline: Outline,
    /// Whether the centre is a fold or a seam.
    #[serde(default)]
    pub centre: Centre,
    /// The shoulder's seam allowance. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(ALLOWANCE_MM)))]
    pub shoulder_allowance_mm: f64,
    /// The shoulder's slope below the horizontal. Degrees.
    #[serde(default = "default_shoulder_slope_deg")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(SHOULDER_SLOPE_DEG)))]
    pub shoulder_slope_deg: f64,
}

/// A usual shoulder slope on knit tops: common practice, no published source.
#[must_use]
pub const fn default_shoulder_slope_deg() -> f64 {
    20.0
}

/// Front or back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum HalfName {
    /// The front half.
    Front,
    /// The back half.
    Back,
}

impl HalfName {
    pub(crate) fn of(self, neckline: &Neckline) -> &Half {
        match self {
            Self::Front => &neckline.front,
            Self::Back => &neckline.back,
        }
    }

    /// A field of this half by its path in the brief.
    pub(crate) fn field(self, rest: &str) -> String {
        let half = match self {
            Self::Front => "front",
            Self::Back => "back",
        };
        ["neckline.", half, rest].concat()
    }
}

/// The three ways an outline is told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = width_or_depth))]
#[serde(deny_unknown_fields)]
pub struct Measured {
    /// Length along the line, from its own centre to its shoulder end: edge to edge of the piece where readings are of the
    /// cut edge. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(HALF_LENGTH_MM)))]
    pub half_length_mm: f64,
    /// From the line's own centre straight out to the neck point: from the fold; with a centre seam, from its cut edge or
    /// from its seam line, as `readings_at` says. mm. Give this, the depth, or both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(HALF_WIDTH_MM)))]
    pub half_width_mm: Option<f64>,
    /// From the neck point down to the centre's lowest point. mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(DEPTH_MM)))]
    pub depth_mm: Option<f64>,
    /// The shape taken for granted between the readings.
    pub shape: Shape,
}

/// A half known by its draft.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Drafted {
    /// From the line's own centre straight out to the neck point, as [`Measured::half_width_mm`]. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(HALF_WIDTH_MM)))]
    pub half_width_mm: f64,
    /// From the neck point down to the centre's lowest point. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(DEPTH_MM)))]
    pub depth_mm: f64,
    /// The shape.
    pub shape: Shape,
}

/// A half known by a path in SVG's path syntax, millimetres.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Drawn {
    /// One open path between the line's own centre (x = 0), as [`Measured::half_width_mm`], and the neck point, drawn from
    /// either end; y runs down.
    #[cfg_attr(feature = "schema", schemars(transform = path))]
    pub path_mm: String,
    /// By how much its length may be longer or shorter than drawn, where it was read off a photo or a file. mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(UNCERTAINTY_MM)))]
    pub uncertainty_mm: Option<f64>,
}

/// A neckline's shape and what makes it fuller or flatter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = fullness))]
#[serde(deny_unknown_fields)]
pub struct Shape {
    /// Which shape.
    pub kind: ShapeKind,
    /// Round, scoop and boat: how far the curve fills its corner. Percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(ROUNDNESS_PERCENT)))]
    pub roundness_percent: Option<f64>,
    /// Square: the radius of its corner. mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(CORNER_RADIUS_MM)))]
    pub corner_radius_mm: Option<f64>,
    /// V: how far the middle of a leg is hollowed toward the garment, as a share of the leg. Percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(LEG_HOLLOW_PERCENT)))]
    pub leg_hollow_percent: Option<f64>,
}

impl ShapeKind {
    /// The shapes that curve all along: they have a roundness.
    pub(crate) const CURVED: [Self; 3] = [Self::Round, Self::Scoop, Self::Boat];
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Centre {
    /// The piece is cut on a fold there.
    #[default]
    Fold,
    /// A seam runs there.
    Seam {
        /// Its allowance. mm.
        #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(ALLOWANCE_MM)))]
        allowance_mm: f64,
    },
}

/// The least and the most segments of a drawn path.
#[cfg(feature = "schema")]
pub const PATH_SEGMENTS: [usize; 2] = [1, MOST_SEGMENTS];

#[cfg(feature = "schema")]
use in_schema::{fullness, path, width_or_depth};

/// What the JSON Schema asks of outlines and shapes besides their fields.
#[cfg(feature = "schema")]
mod in_schema {
    use schemars::Schema;
    use serde_json::{Value, json};

    use crate::brief::neckline::{FURTHEST_MM, PATH_SEGMENTS, ShapeKind};
    use crate::limits::{has_none, has_number};

    /// Readings have a half width, a depth, or both.
    pub(crate) fn width_or_depth(schema: &mut Schema) {
        let either = ["half_width_mm", "depth_mm"].map(has_number);
        schema.insert("anyOf".to_owned(), either.to_vec().into());
    }

    /// A shape has what makes it fuller or flatter, and nothing that makes another one so.
    pub(crate) fn fullness(schema: &mut Schema) {
        let rules = [
            ("roundness_percent", json!(ShapeKind::CURVED)),
            ("corner_radius_mm", json!([ShapeKind::Square])),
            ("leg_hollow_percent", json!([ShapeKind::V])),
        ];
        let rules = rules.map(
            |(field, kinds)| json!({ "if": { "properties": { "kind": { "enum": kinds } } }, "else": has_none(field) }),
        );
        schema.insert("allOf".to_owned(), rules.to_vec().into());
    }

    /// A drawn path: how much of one is taken.
    pub(crate) fn path(schema: &mut Schema) {
        let [least, most] = PATH_SEGMENTS;
        if let Some(Value::String(about)) = schema.get_mut("description") {
            *about += &format!(" {least} to {most} segments, coordinates within {FURTHEST_MM} mm.");
        }
    }
}
