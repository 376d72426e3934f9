//! A stretched band: sewn on along its raw edges, it stands on from the seam line toward the neck.

use serde::{Deserialize, Serialize};

use super::form::{AtPoint, Cloths, CutWidth, FinishKind, Form, Side};
use super::one::OneFinish;
use super::shared::{Layers, check_mm, check_strip, default_join_allowance_mm};
use crate::brief::knit::SewnFinish;
use crate::check::Check;
use crate::error::{AcceptedCode, Unit};
use crate::limits::Limits;
use crate::order::job::Job;
use crate::order::step::StepCode;
use crate::rule::Rule;
use crate::source::Source;

/// Finished widths that a brief may ask. mm.
const WIDTHS_MM: Limits = [3.0, 150.0];

/// A stretched band.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Band {
    /// Finished width, from seam line to free edge. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(WIDTHS_MM)))]
    pub width_mm: f64,
    /// Folded along its free edge, or one layer.
    #[serde(default)]
    pub layers: Layers,
    /// How the ends meet at a point.
    #[serde(default)]
    pub point: PointFinish,
    /// Allowance of the join of the strip's ends. mm.
    #[serde(default = "default_join_allowance_mm")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(super::shared::JOIN_MM)))]
    pub join_allowance_mm: f64,
    /// The maker's own ratio of strip to seam line, in place of the rule. Percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(super::shared::RATIO_PERCENT)))]
    pub ratio_percent: Option<f64>,
}

/// How a band's ends meet at the point of a V.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum PointFinish {
    /// A seam on the line that halves the point.
    #[default]
    Mitre,
    /// One end over the other, caught in the neckline seam.
    Lap,
}

/// Set while it is stretched, its allowances pressed toward the garment. Common practice, no published source.
const ORDER: &[Job] = &[
    Job::Plain(StepCode::Wash),
    Job::Plain(StepCode::Sample),
    Job::CutStrip,
    Job::Stay,
    Job::CentreSeams,
    Job::Plain(StepCode::Shoulders),
    Job::JoinEnds,
    Job::FreeEdge,
    Job::Mark,
    Job::Clip(StepCode::ClipCorners),
    Job::Sew(StepCode::SewBand),
    Job::Lap,
    Job::Plain(StepCode::PressBand),
    Job::Plain(StepCode::TopstitchBand),
    Job::Plain(StepCode::Press),
];

impl OneFinish for Band {
    fn check(&self, check: &mut Check) {
        check_mm(check, "band", "width_mm", self.width_mm, WIDTHS_MM);
        check_strip(check, "band", self.join_allowance_mm, self.ratio_percent);
    }

    fn form(&self) -> Form {
        Form {
            kind: FinishKind::Band,
            side: Side::TowardNeck,
            shaped: false,
            width: self.width_mm,
            widths: WIDTHS_MM,
            narrower: AcceptedCode::AValue,
            ratio: self.ratio_percent.map(|percent| percent / 100.0),
            layers: self.layers,
            turned_under: 0.0,
            join: self.join_allowance_mm,
            at_point: match self.point {
                PointFinish::Mitre => AtPoint::Mitred,
                PointFinish::Lap => AtPoint::Lapped,
            },
            understitch: None,
            topstitch: None,
            records: Some(SewnFinish::Band),
        }
    }

    /// Folded 2 (w + a) and the turn of cloth; one layer w + a.
    fn cut_width(&self, cloths: &Cloths) -> CutWidth {
        let (once, turn) = (cloths.width + cloths.allowance, cloths.strip_turn);
        let a = Some(("a", cloths.allowance, Unit::Mm));
        let source = Source::RibbedEdges;
        match self.layers {
            Layers::Folded => {
                let inputs = [a, Some(("turn", turn, Unit::Mm))];
                CutWidth { mm: 2.0 * once + turn, rule: Rule::CutWidthFolded, inputs, garment_edge: None, source }
            }
            Layers::Single => {
                CutWidth { mm: once, rule: Rule::CutWidthSingle, inputs: [a, None], garment_edge: None, source }
            }
        }
    }

    fn order(&self) -> &'static [Job] {
        ORDER
    }
}
