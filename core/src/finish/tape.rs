//! A facing strip: a narrow strip turned inside onto the garment.

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
const WIDTHS_MM: Limits = [3.0, 80.0];
/// How far inside the free edge the topstitching that holds it down runs, so that the edge is caught, mm: common practice,
/// no published source.
const TOPSTITCH_INSIDE_MM: f64 = 1.5;
/// Topstitching runs no nearer the seam than this, mm: our judgement.
const TOPSTITCH_LEAST_MM: f64 = 1.0;

/// A facing strip: turned inside, as narrow and straight as a tape, whose name it has in the brief.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Tape {
    /// Finished width, from seam line to free edge. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(WIDTHS_MM)))]
    pub width_mm: f64,
    /// Turned under at the free edge. mm; 0 for a raw or overlocked edge.
    #[serde(default)]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(TURNED_UNDER_MM)))]
    pub turn_under_mm: f64,
    /// Allowance of the join of the strip's ends. mm.
    #[serde(default = "default_join_allowance_mm")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(super::shared::JOIN_MM)))]
    pub join_allowance_mm: f64,
    /// The maker's own ratio of strip to seam line, in place of the rule. Percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(super::shared::RATIO_PERCENT)))]
    pub ratio_percent: Option<f64>,
}

/// Clipped, understitched and turned, in this order: an allowance that is not clipped does not turn, and understitching
/// reaches the allowances only before. Common practice, no published source.
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
    Job::Sew(StepCode::SewTape),
    Job::TrimAllowance,
    Job::Clip(StepCode::Clip),
    Job::MarkStops,
    Job::Plain(StepCode::UnderstitchStrip),
    Job::Plain(StepCode::TurnStrip),
    Job::CatchEnds,
    Job::Topstitch(StepCode::TopstitchStrip),
    Job::Plain(StepCode::Press),
];

impl OneFinish for Tape {
    fn check(&self, check: &mut Check) {
        check_mm(check, "tape", "width_mm", self.width_mm, WIDTHS_MM);
        check_mm(check, "tape", "turn_under_mm", self.turn_under_mm, TURNED_UNDER_MM);
        check_strip(check, "tape", self.join_allowance_mm, self.ratio_percent);
    }

    fn form(&self) -> Form {
        Form {
            kind: FinishKind::Tape,
            side: Side::Inside,
            shaped: false,
            width: self.width_mm,
            widths: WIDTHS_MM,
            narrower: AcceptedCode::AValue,
            ratio: self.ratio_percent.map(|percent| percent / 100.0),
            layers: Layers::Single,
            turned_under: self.turn_under_mm,
            join: self.join_allowance_mm,
            at_point: AtPoint::Open,
            understitch: None,
            topstitch: Some((self.width_mm - TOPSTITCH_INSIDE_MM).max(TOPSTITCH_LEAST_MM)),
            records: Some(SewnFinish::Tape),
        }
    }

    /// w + a and what is turned under.
    fn cut_width(&self, cloths: &Cloths) -> CutWidth {
        let under = ("under", self.turn_under_mm, Unit::Mm);
        CutWidth {
            mm: cloths.width + cloths.allowance + self.turn_under_mm,
            rule: Rule::CutWidthTape,
            inputs: [Some(("a", cloths.allowance, Unit::Mm)), Some(under)],
            garment_edge: None,
            source: Source::CommonPractice,
        }
    }

    fn order(&self) -> &'static [Job] {
        ORDER
    }
}
