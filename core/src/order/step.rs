//! The steps of an order of work, as codes with their figures.

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use crate::brief::knit::Direction;
use crate::source::Source;
use crate::strip::marks::MarkPlace;

/// One step of the work. In JSON its figures stand beside its other fields, each by [`StepFigure::name`].
#[derive(Debug, Clone, PartialEq)]
pub struct SewingStep {
    /// What is done.
    pub step: StepCode,
    /// What its place in the order rests on.
    pub source: Source,
    /// How many pieces to cut, or clips to make.
    pub count: Option<usize>,
    /// How a strip's length runs in its knit.
    pub direction: Option<Direction>,
    /// Which centre it is about.
    pub at: Option<MarkPlace>,
    /// Its lengths in mm and angles in degrees.
    pub figures: Vec<(StepFigure, f64)>,
    /// The strip's marks are to be made, each where this field of it says.
    pub places: Option<MarkField>,
    /// Parts to stay, by their index in the stays' zones.
    pub zones: Vec<usize>,
    /// What to take care of, said once each, where it first comes up.
    pub cautions: Vec<Caution>,
}

/// What a figure of a step measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepFigure {
    /// Length to cut each strip, or of stitching all round. mm.
    Length,
    /// Width to cut. mm.
    Width,
    /// From the raw edge to the stitching; at a join, its allowance. mm.
    Allowance,
    /// From the seam to the stitching beside it. mm.
    Distance,
    /// What is trimmed off, turned under, or rolled inside. mm.
    By,
    /// How far an end lies over the other leg, or runs past the point. mm.
    Over,
    /// How much shorter a mitred free edge is at each end. mm.
    Shorter,
    /// From the strip's edge to the mitre's seam. Degrees.
    Angle,
}

impl StepFigure {
    /// Every figure that a step can have.
    pub const ALL: [Self; 8] =
        [Self::Length, Self::Width, Self::Allowance, Self::Distance, Self::By, Self::Over, Self::Shorter, Self::Angle];

    /// Its name in JSON, with its unit.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "length_mm",
            Self::Width => "width_mm",
            Self::Allowance => "allowance_mm",
            Self::Distance => "distance_mm",
            Self::By => "by_mm",
            Self::Over => "over_mm",
            Self::Shorter => "shorter_mm",
            Self::Angle => "angle_deg",
        }
    }
}

/// A field of the strip's marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
pub enum MarkField {
    /// Along the relaxed strip.
    #[serde(rename = "on_strip_mm")]
    OnStrip,
    /// Along the line it is sewn on.
    #[serde(rename = "on_seam_line_mm")]
    OnSeamLine,
}

/// What to take care of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum Caution {
    /// Blades.
    Blade,
    /// A hot iron and steam.
    Iron,
    /// Ends of stay tape that must not hang loose.
    Ends,
    /// A child's neckline.
    Child,
}

/// The steps, in the order in which they can come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum StepCode {
    /// Wash and dry everything as the garment will be.
    Wash,
    /// Sew a sample from scraps.
    Sample,
    /// Cut the strip or strips.
    CutStrip,
    /// Cut the facing's pieces.
    CutFacing,
    /// Interface the facing.
    InterfaceFacing,
    /// Trim the garment's edge to be bound down to the finished edge.
    TrimEdge,
    /// Lay the stays.
    Stay,
    /// Sew the garment's seam at a centre.
    CentreSeam,
    /// Leave the garment's seam at a centre open, until the ends of the strip are caught in it.
    LeaveCentreOpen,
    /// Sew the garment's shoulder seams.
    Shoulders,
    /// Join the facing's halves at a centre.
    FacingCentre,
    /// Join the facing at the shoulders.
    FacingShoulders,
    /// Turn the facing's outer edge under and stitch it.
    FacingEdgeUnder,
    /// Overlock the facing's outer edge.
    FacingEdgeFlat,
    /// Join the strip's ends into a ring.
    Ring,
    /// Mitre the strip's ends.
    Mitre,
    /// A free edge that is not turned under is left raw or overlocked.
    FreeEdge,
    /// Press the free edge under.
    FreeEdgeUnder,
    /// Fold the strip along its length.
    Fold,
    /// Mark the strip.
    MarkStrip,
    /// Mark the neckline.
    MarkNeckline,
    /// Match the facing's notches with the garment.
    MatchFacing,
    /// Clip into points and corners, so that they spread while a strip is set along them.
    ClipCorners,
    /// Set the band.
    SewBand,
    /// Set a band whose ends lap: the last of it stays open.
    SewLapped,
    /// Lap the ends and close the rest of the seam.
    Lap,
    /// Set the strip that is turned inside.
    SewTape,
    /// Set the strip of a bound edge.
    SewBound,
    /// Set the facing.
    SewFacing,
    /// Trim the sewn allowance.
    TrimAllowance,
    /// Clip the allowance so that it turns.
    Clip,
    /// Mark where understitching stops short of points and corners.
    MarkStops,
    /// Understitch the strip.
    UnderstitchStrip,
    /// Understitch the facing.
    UnderstitchFacing,
    /// Press the band's allowances toward the garment.
    PressBand,
    /// Turn the strip inside.
    TurnStrip,
    /// Turn the facing inside.
    TurnFacing,
    /// Wrap a bound edge's strip round the edge.
    Wrap,
    /// Sew the centre seam and catch the strip's ends in it.
    CatchEnds,
    /// Cross the strip's ends on the fold and stitch them down.
    CrossEnds,
    /// Topstitch a band's allowances, if liked.
    TopstitchBand,
    /// Topstitch the strip's free edge down.
    TopstitchStrip,
    /// Topstitch a bound edge through its inner edge.
    TopstitchBound,
    /// Topstitch the facing.
    TopstitchFacing,
    /// Tack the facing to the shoulder seams' allowances.
    TackFacing,
    /// Press the whole neckline and let it rest.
    Press,
}

impl SewingStep {
    pub(crate) const fn new(step: StepCode) -> Self {
        Self {
            step,
            source: step.source(),
            count: None,
            direction: None,
            at: None,
            figures: Vec::new(),
            places: None,
            zones: Vec::new(),
            cautions: Vec::new(),
        }
    }

    pub(crate) fn at(step: StepCode, place: MarkPlace) -> Self {
        Self { at: Some(place), ..Self::new(step) }
    }

    pub(crate) fn with(mut self, figure: StepFigure, value: f64) -> Self {
        self.figures.push((figure, value));
        self
    }

    /// One of its figures, where it has it.
    #[must_use]
    pub fn figure(&self, figure: StepFigure) -> Option<f64> {
        self.figures.iter().find(|(other, _)| *other == figure).map(|(_, value)| *value)
    }
}

/// One object, what does not apply left out. A derived one writes each figure as a field of its own, which weighs more.
impl Serialize for SewingStep {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut fields = serializer.serialize_map(None)?;
        fields.serialize_entry("step", &self.step)?;
        fields.serialize_entry("source", &self.source)?;
        if let Some(count) = &self.count {
            fields.serialize_entry("count", count)?;
        }
        if let Some(direction) = &self.direction {
            fields.serialize_entry("direction", direction)?;
        }
        if let Some(at) = &self.at {
            fields.serialize_entry("at", at)?;
        }
        for (figure, value) in &self.figures {
            fields.serialize_entry(figure.name(), value)?;
        }
        if let Some(places) = &self.places {
            fields.serialize_entry("places", places)?;
        }
        if !self.zones.is_empty() {
            fields.serialize_entry("zones", &self.zones)?;
        }
        if !self.cautions.is_empty() {
            fields.serialize_entry("cautions", &self.cautions)?;
        }
        fields.end()
    }
}

impl StepCode {
    const fn source(self) -> Source {
        match self {
            Self::Stay => Source::StaysFirst,
            Self::TrimAllowance => Source::TrimmedSeams,
            Self::Clip => Source::ClippedCurves,
            _ => Source::CommonPractice,
        }
    }
}
