//! The lines along a strip as it is cut: where it is sewn, where it is folded, where its free edge comes to lie.

use serde::Serialize;

use crate::finish::form::{CutWidth, Form};
use crate::finish::shared::Layers;

/// The lines along a strip, each by its distance from the raw edge that is sewn first, across the strip as it is cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct StripRows {
    /// The lines it is sewn along: one, or of a folded strip two that come to lie on each other. mm.
    pub seams_mm: Vec<f64>,
    /// The fold along a folded strip, or the line its free edge is turned under on; none where there is neither. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fold_mm: Option<f64>,
    /// Where its free edge comes to lie once it is sewn: of a bound edge the finished edge that it goes round. mm.
    pub free_edge_mm: f64,
}

/// The lines along a strip that is cut this wide, mm. Geometry; what rounding adds lies past the free edge, and is shared by
/// both sides of a fold.
pub(crate) fn rows(form: &Form, allowance: f64, cut_width: &CutWidth, cut_mm: f64) -> StripRows {
    let seam = if form.goes_round_edge() { form.width } else { allowance };
    let folded = form.layers == Layers::Folded;
    let far = if folded { 0.5 * cut_mm } else { cut_mm - form.turned_under };
    StripRows {
        seams_mm: if folded { vec![seam, cut_mm - seam] } else { vec![seam] },
        fold_mm: (far < cut_mm).then_some(far),
        free_edge_mm: cut_width.garment_edge.unwrap_or(far),
    }
}
