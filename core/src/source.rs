//! What a rule or a value rests on, as values: the page words them, and [`Source::text`] says them in English.

use serde::Serialize;

/// What a rule or a value rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum Source {
    /// Steiner's formula for parallel curves.
    Steiner,
    /// Plain arithmetic or elementary geometry of the parts.
    Geometry,
    /// Our rule, from the geometry of a strip along a curve.
    OwnRule,
    /// Our rule, held against a plane model of cloth.
    PlaneModel,
    /// A ring on a hole in a sheet, by a plane model.
    SheetModel,
    /// A plate strip's buckling.
    PlateModel,
    /// Our rule, held against a thin shell in three dimensions.
    ShellModel,
    /// A swatch's width in the stretch test.
    SwatchWidth,
    /// Poisson's ratios of hand-knit swatches.
    KnitSwatches,
    /// Our judgement.
    Judgement,
    /// A rule of the trade.
    CommonPractice,
    /// Stays before an edge is handled.
    StaysFirst,
    /// A value from memory.
    Memory,
    /// How near clips stand along a curve.
    ClippedCurves,
    /// What a wide allowance is trimmed to.
    TrimmedSeams,
    /// The maker's own ratio.
    OwnRatio,
    /// Our rule, from the maker's own records.
    OwnRecords,
    /// A photo handbook's chapter on ribbed edges.
    RibbedEdges,
    /// Elongation of the stretch standards.
    Elongation,
    /// Growth of the stretch standards.
    Growth,
    /// Stretch off the axes of orthotropic cloth.
    Orthotropic,
    /// Independent readings: the root of the sum of squares.
    SumOfSquares,
    /// The person's own measure.
    OwnMeasure,
    /// Adults' heads.
    Ansur,
    /// Children's heads.
    Who,
    /// Lockstitch extension.
    LockstitchFromMemory,
    /// A zigzag's own geometry.
    ZigzagGeometry,
    /// Overedge extension.
    OveredgeFromMemory,
}

impl Source {
    /// Every source, for whoever keeps a catalogue of words.
    pub const ALL: [Self; 28] = [
        Self::Steiner,
        Self::Geometry,
        Self::OwnRule,
        Self::PlaneModel,
        Self::SheetModel,
        Self::PlateModel,
        Self::ShellModel,
        Self::SwatchWidth,
        Self::KnitSwatches,
        Self::Judgement,
        Self::CommonPractice,
        Self::StaysFirst,
        Self::Memory,
        Self::ClippedCurves,
        Self::TrimmedSeams,
        Self::OwnRatio,
        Self::OwnRecords,
        Self::RibbedEdges,
        Self::Elongation,
        Self::Growth,
        Self::Orthotropic,
        Self::SumOfSquares,
        Self::OwnMeasure,
        Self::Ansur,
        Self::Who,
        Self::LockstitchFromMemory,
        Self::ZigzagGeometry,
        Self::OveredgeFromMemory,
    ];

    /// In English.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Steiner => "Steiner's formula for parallel curves",
            Self::Geometry => "elementary geometry",
            Self::OwnRule => "our rule, from the geometry of a strip along a curve; no published source",
            Self::PlaneModel => {
                "our rule: each span spread evenly, its strain shared by a bell of 1.2 widths; within 2.5 points of a plane model of cloth in 9 spans of 10"
            }
            Self::SheetModel => {
                "Lamé's hole in a sheet with a stretched ring on it, fitted to a plane model of a folded band of the same knit; an estimate"
            }
            Self::PlateModel => {
                "the buckling of a plate strip with one edge held, by Ritz's method; layers taken to slip on each other"
            }
            Self::ShellModel => {
                "curved folding (Fuchs and Tabachnikov 1999, from memory); held against a thin shell in three dimensions: 10 degrees, crests 35 percent"
            }
            Self::SwatchWidth => {
                "Hencky's law for the swatch's own width and length (any text on finite strain; from memory)"
            }
            Self::KnitSwatches => {
                "hand-knit swatches, few: Singal et al. 2024, Nature Communications 15:2622, worked out from its public data; thin evidence"
            }
            Self::Judgement => "our judgement, no published source",
            Self::CommonPractice => "common practice, no published source",
            Self::StaysFirst => {
                "a photo handbook's chapter 'Stretch seams' and an N.C. extension leaflet on tailoring: shoulders taped first, necklines before they are handled"
            }
            Self::Memory => "from memory, no source looked up",
            Self::ClippedCurves => {
                "'Apparel: Design, Textiles and Construction' (Goodheart-Willcox, 2012), p. 452: every 1/4 to 1/2 in"
            }
            Self::TrimmedSeams => "NMSU extension C-210: trim 5/8 in to 1/4 or 3/8 in",
            Self::OwnRatio => "the maker's own ratio",
            Self::OwnRecords => {
                "our rule: the maker's own records averaged with the rule's hold; the weights are our judgement"
            }
            Self::RibbedEdges => {
                "a photo handbook's chapter 'Ribbed edges': 2 w + 1/2 in with a 1/4 in seam; turn of cloth our rule"
            }
            Self::Elongation => "ASTM D2594 and ISO 20932-1, elongation (formula from memory)",
            Self::Growth => "ASTM D2594, growth (formula from memory)",
            Self::Orthotropic => {
                "stretch off the axes of orthotropic cloth: any text on mechanics of composites (from memory)"
            }
            Self::SumOfSquares => "independent readings: root of the sum of squares",
            Self::OwnMeasure => "the person's own measure",
            Self::Ansur => "ANSUR II public file (Gordon et al. 2014, NATICK/TR-15/007), 95th percentile",
            Self::Who => {
                "WHO Child Growth Standards (2007), head circumference for age, median + 2 sd, linear between ages"
            }
            Self::LockstitchFromMemory => "lockstitch, about 10 percent before its thread breaks: from memory",
            Self::ZigzagGeometry => "the zigzag's own geometry: sqrt(1 + (w/p)^2) - 1",
            Self::OveredgeFromMemory => "overedge, taken as 100 percent so that the knit decides: from memory",
        }
    }
}
