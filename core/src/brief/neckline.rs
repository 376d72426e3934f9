//! The neckline: its two halves, their outlines and allowances.

use serde::{Deserialize, Serialize};

/// The neckline: two halves and what their readings stand for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

/// Front or back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
        format!("neckline.{half}{rest}")
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Drawn {
    /// One open path between the line's own centre (x = 0), as [`Measured::half_width_mm`], and the neck point, drawn from
    /// either end; y runs down.
    pub path_mm: String,
}

/// A neckline's shape and what makes it fuller or flatter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
        /// Its allowance. mm, 0 to 60.
        allowance_mm: f64,
    },
}
