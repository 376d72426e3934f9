//! What a person may choose about the sheets, and the words they are written in.

use serde::{Deserialize, Serialize};

use crate::catalogue::Catalogue;

/// What to print, on what, and in which words. In JSON its fields have these names, and choices the names given at their types.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Options {
    /// The paper.
    pub paper: Paper,
    /// The unit lengths are written in.
    pub unit: Unit,
    /// The language of the words, as a language tag: `en`, `es`.
    pub language: String,
    /// The page's catalogue in this language, whole: what the screen says too is said in the same words.
    pub words: Catalogue,
    /// The date as it is to be printed; the sheets ask no clock. May be left out.
    #[serde(default)]
    pub date: String,
    /// The link that opens this brief again, printed as text and as a code. May be left out.
    pub link: Option<String>,
    /// Which sheets.
    pub sheets: Vec<Sheet>,
    /// How much of the strip is drawn. May be left out.
    #[serde(default)]
    pub strip: StripForm,
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Paper {
    /// ISO 216 A4: `a4`.
    A4,
    /// US Letter: `letter`.
    Letter,
}

impl Paper {
    /// Every paper.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// Width and height of the sheet held upright. mm.
    #[must_use]
    pub const fn size_mm(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }
}

/// The units of the page, by its own names: `mm`, `cm`, `in`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches.
    In,
}

/// The sheets: `card`, `strip`, `facing`, `template`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sheet {
    /// The cut card: every figure, the order of sewing, the brief, the link.
    Card,
    /// The strip at true scale; nothing for a facing.
    Strip,
    /// The facing's pieces at true scale; nothing for a strip.
    Facing,
    /// The neckline at true scale.
    Template,
}

impl Sheet {
    /// Every sheet, in the order they are used.
    pub const ALL: [Self; 4] = [Self::Card, Self::Strip, Self::Facing, Self::Template];
}

/// How much of the strip is drawn: `auto`, `whole`, `half`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StripForm {
    /// Half, to be cut on the fold, where that takes fewer sheets of paper.
    #[default]
    Auto,
    /// All of it.
    Whole,
    /// Half of it.
    Half,
}

impl StripForm {
    /// Every form.
    pub const ALL: [Self; 3] = [Self::Auto, Self::Whole, Self::Half];
}

/// The files a piece can be: `svg`, `dxf_r12`, `dxf_r2000`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PieceForm {
    /// SVG in millimetres.
    Svg,
    /// DXF of release 12, which the oldest programs read: single lines, and runs of them as polylines with vertices.
    DxfR12,
    /// DXF of release 2000 (AC1015), which says its unit.
    DxfR2000,
}

impl PieceForm {
    /// Every form.
    pub const ALL: [Self; 3] = [Self::Svg, Self::DxfR12, Self::DxfR2000];
}
