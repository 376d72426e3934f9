//! A bound edge: a strip wrapped round the raw edge.

use serde::{Deserialize, Serialize};

use super::form::{AtPoint, Cloths, CutWidth, FinishKind, Form, Side};
use super::one::OneFinish;
use super::shared::{Layers, TURNED_UNDER_MM, check_mm, check_strip, default_join_allowance_mm};
use crate::brief::knit::SewnFinish;
use crate::check::Check;
use crate::error::{AcceptedCode, Unit};
use crate::limits::Limits;
use crate::order::job::Job;
use crate::order::step::StepCode;
use crate::rule::Rule;
use crate::source::Source;

/// Finished widths that a brief may ask. mm.
const WIDTHS_MM: Limits = [3.0, 40.0];
/// What a raw inside edge runs past the stitching so that it is caught, and what a folded one does, mm: common practice, no
/// published source.
const CAUGHT_MM: f64 = 3.0;
const OVER_MM: f64 = 1.0;

/// A bound edge: the garment is first trimmed to the pattern's seam line, which becomes the finished edge; the
/// strip is sewn a finished width below it, wrapped round the raw edge and caught on the inside.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Bound {
    /// Finished width on each side of the edge. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(WIDTHS_MM)))]
    pub width_mm: f64,
    /// One layer, or folded along its length before it is sewn.
    #[serde(default = "default_bound_layers")]
    pub layers: Layers,
    /// One layer only: turned under on the inside. mm; 0 for a raw or overlocked edge.
    #[serde(default)]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(TURNED_UNDER_MM)))]
    pub turn_under_mm: f64,
    /// Allowance of the join of the strip's ends. mm.
    #[serde(default = "default_join_allowance_mm")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(super::shared::JOIN_MM)))]
    pub join_allowance_mm: f64,
    /// The maker's own ratio of strip to the line it is sewn on, in place of the rule. Percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(super::shared::RATIO_PERCENT)))]
    pub ratio_percent: Option<f64>,
}

/// Knits do not fray, so one layer is usual: common practice, no published source.
#[must_use]
pub const fn default_bound_layers() -> Layers {
    Layers::Single
}

/// The edge is trimmed before anything is laid along it. Common practice, no published source.
const ORDER: &[Job] = &[
    Job::Plain(StepCode::Wash),
    Job::Plain(StepCode::Sample),
    Job::CutStrip,
    Job::TrimEdge,
    Job::Stay,
    Job::CentreSeams,
    Job::Plain(StepCode::Shoulders),
    Job::JoinEnds,
    Job::FreeEdge,
    Job::Mark,
    Job::Clip(StepCode::ClipCorners),
    Job::Sew(StepCode::SewBound),
    Job::Plain(StepCode::Wrap),
    Job::Plain(StepCode::TopstitchBound),
    Job::Plain(StepCode::Press),
];

impl OneFinish for Bound {
    fn check(&self, check: &mut Check) {
        check_mm(check, "bound", "width_mm", self.width_mm, WIDTHS_MM);
        check_mm(check, "bound", "turn_under_mm", self.turn_under_mm, TURNED_UNDER_MM);
        check_strip(check, "bound", self.join_allowance_mm, self.ratio_percent);
    }

    fn form(&self) -> Form {
        Form {
            kind: FinishKind::Bound,
            side: Side::AroundEdge,
            shaped: false,
            width: self.width_mm,
            widths: WIDTHS_MM,
            narrower: AcceptedCode::NarrowerBound,
            ratio: self.ratio_percent.map(|percent| percent / 100.0),
            layers: self.layers,
            turned_under: self.turn_under_mm,
            join: self.join_allowance_mm,
            at_point: AtPoint::Mitred,
            understitch: None,
            topstitch: None,
            records: Some(SewnFinish::Bound),
        }
    }

    /// Its allowance, outside and inside, each w, and its turn round the raw edge: half round the garment and the strip's
    /// own allowance, measured along the middle of the strip. The rule's turn of each is that of half its thickness.
    fn cut_width(&self, cloths: &Cloths) -> CutWidth {
        let turn = cloths.garment_turn + 2.0 * cloths.strip_turn;
        let round = 3.0 * cloths.width + turn;
        let garment_edge = Some(2.0 * cloths.width + 0.5 * turn);
        let (turn, source) = (Some(("turn", turn, Unit::Mm)), Source::OwnRule);
        match self.layers {
            Layers::Folded => {
                let inputs = [turn, Some(("over", OVER_MM, Unit::Mm))];
                CutWidth { mm: 2.0 * (round + OVER_MM), rule: Rule::CutWidthBoundFolded, inputs, garment_edge, source }
            }
            Layers::Single => {
                let under = self.turn_under_mm.max(CAUGHT_MM);
                let inputs = [turn, Some(("under", under, Unit::Mm))];
                CutWidth { mm: round + under, rule: Rule::CutWidthBound, inputs, garment_edge, source }
            }
        }
    }

    fn order(&self) -> &'static [Job] {
        ORDER
    }
}
