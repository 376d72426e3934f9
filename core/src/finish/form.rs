//! A finish in its normal form: what the rest of the core reckons with, whichever finish it is.

use serde::Serialize;

use super::shared::Layers;
use crate::brief::knit::SewnFinish;
use crate::error::{AcceptedCode, Unit};
use crate::field::joined;
use crate::limits::Limits;
use crate::rule::Rule;
use crate::source::Source;

/// The kinds of finish, by the names that they have in a brief.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum FinishKind {
    /// A stretched band that stands toward the neck.
    Band,
    /// A facing strip, turned inside onto the garment.
    Tape,
    /// Shaped pieces turned inside and understitched.
    Facing,
    /// A strip wrapped round the raw edge.
    Bound,
}

impl FinishKind {
    /// The name in JSON.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Band => "band",
            Self::Tape => "tape",
            Self::Facing => "facing",
            Self::Bound => "bound",
        }
    }
}

/// Where a finish comes to lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// On from the seam line toward the neck.
    TowardNeck,
    /// Inside the garment, turned there with the allowance, which is understitched to it.
    Inside,
    /// Round the garment's edge, which is first trimmed to the seam line.
    AroundEdge,
}

/// What the finish is, told alike for all of them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct FinishPlan {
    /// Which it is.
    pub kind: FinishKind,
    /// Where it comes to lie.
    pub side: Side,
    /// Whether it is cut in shaped pieces; else it is a straight strip.
    pub shaped: bool,
    /// Finished width as the brief asks it. mm.
    pub width_mm: f64,
    /// Of how many layers it is.
    pub layers: Layers,
    /// Turned under at its free or outer edge; 0 where that is folded, raw or overlocked. mm.
    pub turned_under_mm: f64,
    /// Allowance of the join of a strip's ends; none of a facing. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub join_allowance_mm: Option<f64>,
}

/// What is done with a strip's ends at the point of a V.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum AtPoint {
    /// Sewn together on the line that halves the point.
    Mitred,
    /// One over the other.
    Lapped,
    /// Left open, and caught in the centre seam.
    Open,
}

/// A finish in its normal form. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Form {
    pub kind: FinishKind,
    pub side: Side,
    /// Cut in shaped pieces; else as a straight strip.
    pub shaped: bool,
    /// Finished width.
    pub width: f64,
    /// The least and the greatest finished width of a brief.
    pub widths: Limits,
    /// What is said to be accepted where no width would do.
    pub narrower: AcceptedCode,
    /// The maker's own ratio of strip to the line it is sewn on, in place of the rule. Fraction.
    pub ratio: Option<f64>,
    pub layers: Layers,
    /// Turned under at the free or outer edge.
    pub turned_under: f64,
    /// Allowance of the join of a strip's ends.
    pub join: f64,
    pub at_point: AtPoint,
    /// From the seam to the understitching, where the brief says it.
    pub understitch: Option<f64>,
    /// From the seam to the topstitching, where there is one whose place is told.
    pub topstitch: Option<f64>,
    /// By which records of sewn strips it learns.
    pub records: Option<SewnFinish>,
}

impl Form {
    /// What a plan says of it.
    pub(crate) fn report(&self) -> FinishPlan {
        FinishPlan {
            kind: self.kind,
            side: self.side,
            shaped: self.shaped,
            width_mm: self.width,
            layers: self.layers,
            turned_under_mm: if self.layers == Layers::Folded { 0.0 } else { self.turned_under },
            join_allowance_mm: (!self.shaped).then_some(self.join),
        }
    }

    /// Whether the allowance is turned to the inside, which clips must open for and which wants a stable edge.
    pub(crate) fn turns_inside(&self) -> bool {
        self.side == Side::Inside
    }

    /// Whether the garment's edge is trimmed away, so that the strip is sewn a width below it.
    pub(crate) fn goes_round_edge(&self) -> bool {
        self.side == Side::AroundEdge
    }

    /// The width's path in the brief.
    pub(crate) fn width_field(&self) -> String {
        joined(&["finish", self.kind.name(), "width_mm"])
    }
}

/// What a strip's or a facing's cut width comes from. mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Cloths {
    /// Finished width as it is sewn.
    pub width: f64,
    /// The neckline allowance.
    pub allowance: f64,
    /// Turn of cloth of the garment's knit.
    pub garment_turn: f64,
    /// Turn of cloth of the strip's knit.
    pub strip_turn: f64,
}

/// A number put into a rule: its symbol, value and unit.
pub(crate) type Put = (&'static str, f64, Unit);

/// A cut width with the rule it comes by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CutWidth {
    pub mm: f64,
    pub rule: Rule,
    /// What is put into the rule after the finished width.
    pub inputs: [Option<Put>; 2],
    /// Where the garment's edge comes to lie across a strip that goes round it: from the strip's raw edge that is sewn, its
    /// finished width twice and half its turn. mm.
    pub garment_edge: Option<f64>,
    pub source: Source,
}
