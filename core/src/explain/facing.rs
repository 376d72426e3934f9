//! A facing's working.

use crate::brief::{HalfName, ReadingsAt};
use crate::error::Unit::{Mm, Ratio};
use crate::facing::{FacingBasis, FacingPlan};
use crate::field::under;
use crate::given::Given;
use crate::rule::Rule;
use crate::seam_line::Line;
use crate::source::Source;
use crate::working::Working;

/// Every figure of a facing.
pub(crate) fn explain(given: &Given<'_>, from: &FacingBasis, plan: &FacingPlan, working: &mut Working) {
    let (halves, stitched, changes) = (&from.edges, &from.stitching, &from.changes);
    let rounding = given.brief.rounding;
    let figures = [
        ("facing.front.seam_edge", &plan.front.seam_edge, &halves[0].seam_edge),
        ("facing.front.outer_edge", &plan.front.outer_edge, &halves[0].outer_edge),
        ("facing.back.seam_edge", &plan.back.seam_edge, &halves[1].seam_edge),
        ("facing.back.outer_edge", &plan.back.outer_edge, &halves[1].outer_edge),
    ];
    let at_seam = given.brief.neckline.readings_at == ReadingsAt::SeamLine;
    let known = if at_seam { 0.0 } else { given.allowance };
    for ((name, figure, line), changes) in figures.into_iter().zip(changes) {
        let moved = if name.ends_with("seam_edge") { 0.0 } else { given.form.width };
        let (d, theta) = (known + moved, line.turning());
        // The known line, and what the trims at shoulder and centre and the truing there take off Steiner's sum.
        let half = if name.starts_with("facing.front") { HalfName::Front } else { HalfName::Back };
        let length = given.known(half).map_or(0.0, |(arcs, off)| Line::as_known(arcs, off.slope).length());
        let inputs = [
            ("L", length, Mm),
            ("d", d, Mm),
            ("theta", theta, Ratio),
            ("trims", length + d * theta - figure.exact_mm, Mm),
        ];
        working.mm(under(name, "exact_mm"), Rule::FacingEdge, &inputs, figure.exact_mm, Source::Steiner);
        working.cut_figure(name, figure, changes, rounding);
    }
    let (width, of) = (&plan.cut_width, &from.cut_width);
    let inputs: Vec<_> = core::iter::once(("w", given.form.width, Mm)).chain(of.inputs.into_iter().flatten()).collect();
    working.mm("facing.cut_width.exact_mm", of.rule, &inputs, width.exact_mm, of.source);
    if let Some(changes) = changes.last() {
        working.cut_figure("facing.cut_width", width, changes, rounding);
    }
    let inputs = [("t", plan.favour_mm, Mm)];
    working.mm("facing.favour_mm", Rule::Favour, &inputs, plan.favour_mm, Source::OwnRule);
    let [front, back] = stitched.each_ref().map(|lines| lines.understitch.length());
    let short = 2.0 * (front + back) - plan.understitch_length_mm;
    let inputs = [("front", front, Mm), ("back", back, Mm), ("short", short, Mm)];
    let (figure, result) = ("facing.understitch_length_mm", plan.understitch_length_mm);
    working.mm(figure, Rule::Understitch, &inputs, result, Source::Geometry);
    if let Some(stops) = plan.understitch_stops_mm {
        let inputs = [("x", stops, Mm)];
        working.mm("facing.understitch_stops_mm", Rule::Taken, &inputs, stops, Source::Memory);
    }
    let [front, back] = stitched.each_ref().map(|lines| lines.topstitch.as_ref().map(Line::length));
    if let (Some(front), Some(back), Some(result)) = (front, back, plan.topstitch_length_mm) {
        let inputs = [("front", front, Mm), ("back", back, Mm)];
        working.mm("facing.topstitch_length_mm", Rule::Topstitch, &inputs, result, Source::Geometry);
    }
}
