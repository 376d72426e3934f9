//! A shaped facing: pieces turned inside and understitched.

use serde::{Deserialize, Serialize};

use super::form::{AtPoint, Cloths, CutWidth, FinishKind, Form, Side};
use super::one::OneFinish;
use super::shared::{Layers, TURNED_UNDER_MM, check_mm};
use crate::check::Check;
use crate::error::{AcceptedCode, Unit};
use crate::limits::Limits;
use crate::order::job::Job;
use crate::order::step::StepCode;
use crate::rule::Rule;
use crate::source::Source;

/// Finished widths that a brief may ask. mm.
const WIDTHS_MM: Limits = [20.0, 200.0];
/// Where understitching may run. mm.
const UNDERSTITCH_MM: Limits = [0.5, 6.0];
/// Where topstitching may run, where the facing is as wide. mm.
const TOPSTITCH_MM: Limits = [1.0, 100.0];

/// An understitched facing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Facing {
    /// Finished width, from seam line to outer edge. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(WIDTHS_MM)))]
    pub width_mm: f64,
    /// From the facing's own seam edge to the understitching. mm.
    #[serde(default = "default_understitch_mm")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(UNDERSTITCH_MM)))]
    pub understitch_mm: f64,
    /// Turned under at the outer edge. mm; 0 for an overlocked edge.
    #[serde(default)]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(TURNED_UNDER_MM)))]
    pub edge_allowance_mm: f64,
    /// From the garment's seam line to a topstitching through garment and facing; none where it is absent. mm, at
    /// most the facing's width.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(TOPSTITCH_MM)))]
    pub topstitch_mm: Option<f64>,
}

/// 1/16 in, the nearer of the usual 1/16 to 1/8 in: common practice, no published source.
#[must_use]
pub const fn default_understitch_mm() -> f64 {
    1.6
}

/// The facing is made whole, its outer edge finished while it lies flat; then it is set, clipped, understitched and turned,
/// in this order: an allowance that is not clipped does not turn, and understitching reaches the allowances only before.
/// Common practice, no published source.
const ORDER: &[Job] = &[
    Job::Plain(StepCode::Wash),
    Job::Plain(StepCode::Sample),
    Job::CutFacing,
    Job::Plain(StepCode::InterfaceFacing),
    Job::Stay,
    Job::CentreSeams,
    Job::Plain(StepCode::Shoulders),
    Job::FacingCentres,
    Job::Plain(StepCode::FacingShoulders),
    Job::FacingEdge,
    Job::Plain(StepCode::MatchFacing),
    Job::Sew(StepCode::SewFacing),
    Job::TrimAllowance,
    Job::Clip(StepCode::Clip),
    Job::MarkStops,
    Job::UnderstitchFacing,
    Job::TurnFacing,
    Job::Topstitch(StepCode::TopstitchFacing),
    Job::Plain(StepCode::TackFacing),
    Job::Plain(StepCode::Press),
];

impl OneFinish for Facing {
    fn check(&self, check: &mut Check) {
        check_mm(check, "facing", "width_mm", self.width_mm, WIDTHS_MM);
        check_mm(check, "facing", "understitch_mm", self.understitch_mm, UNDERSTITCH_MM);
        check_mm(check, "facing", "edge_allowance_mm", self.edge_allowance_mm, TURNED_UNDER_MM);
        let [least, most] = TOPSTITCH_MM;
        let most = self.width_mm.clamp(least, most);
        check.maybe("finish.facing.topstitch_mm", self.topstitch_mm, [least, most], Unit::Mm);
    }

    fn form(&self) -> Form {
        Form {
            kind: FinishKind::Facing,
            side: Side::Inside,
            shaped: true,
            width: self.width_mm,
            widths: WIDTHS_MM,
            narrower: AcceptedCode::NarrowerFacing,
            ratio: None,
            layers: Layers::Single,
            turned_under: self.edge_allowance_mm,
            join: 0.0,
            at_point: AtPoint::Open,
            understitch: Some(self.understitch_mm),
            topstitch: self.topstitch_mm,
            records: None,
        }
    }

    /// From raw edge to raw edge: w + a and what is turned under.
    fn cut_width(&self, cloths: &Cloths) -> CutWidth {
        let under = ("under", self.edge_allowance_mm, Unit::Mm);
        CutWidth {
            mm: cloths.width + cloths.allowance + self.edge_allowance_mm,
            rule: Rule::CutWidthFacing,
            inputs: [Some(("a", cloths.allowance, Unit::Mm)), Some(under)],
            garment_edge: None,
            source: Source::CommonPractice,
        }
    }

    fn order(&self) -> &'static [Job] {
        ORDER
    }
}
