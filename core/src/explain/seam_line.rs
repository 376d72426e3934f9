//! The seam line's working.

use crate::brief::ReadingsAt;
use crate::error::Unit::{Deg, Mm, Ratio};
use crate::field::{joined, under};
use crate::given::Given;
use crate::lines::{HalfLine, Lines, SeamLine};
use crate::rule::Rule;
use crate::seam_line::Line;
use crate::source::Source;
use crate::working::Working;

/// The seam line's figures, by halves (front first) and whole.
pub(crate) fn explain(given: &Given<'_>, from: &Lines, plan: &SeamLine, working: &mut Working) {
    let (lines, ring) = ([&from.front.1, &from.back.1], &from.ring);
    for (name, line, half) in [("front", lines[0], &plan.front), ("back", lines[1], &plan.back)] {
        half_line(given, &joined(&["seam_line", name]), line, half, working);
    }
    let (front, back) = (plan.front.length_mm, plan.back.length_mm);
    let inputs = [("front", front, Mm), ("back", back, Mm)];
    working.mm("seam_line.whole_length_mm", Rule::SeamLineWhole, &inputs, plan.whole_length_mm, Source::Geometry);
    // A smooth centre turns by half its angle on each side; a point's turning is left to its mitre or open ends.
    let own = |line: &Line| {
        let centre = if line.point_half_angle().is_some() { 0.0 } else { line.half_turn_at_centre() };
        (line.turning() + centre).to_degrees()
    };
    let inputs =
        [("back", own(lines[1]), Deg), ("neck", ring.neck_turn.to_degrees(), Deg), ("front", own(lines[0]), Deg)];
    let result = (plan.whole_turning_deg, Deg);
    working.add("seam_line.whole_turning_deg", Rule::TurningWhole, &inputs, result, Source::Geometry);
}

fn half_line(given: &Given<'_>, figure: &str, line: &Line, half: &HalfLine, working: &mut Working) {
    let at_seam = given.brief.neckline.readings_at == ReadingsAt::SeamLine;
    // What the trims at shoulder and centre take off is the rest of Steiner's sum.
    let a = if at_seam { 0.0 } else { given.allowance };
    let theta = half.turning_deg.to_radians();
    let known = if at_seam { half.length_mm } else { half.cut_edge_length_mm };
    let trims = known + a * theta - half.length_mm;
    let inputs = [("L", known, Mm), ("a", a, Mm), ("theta", theta, Ratio), ("trims", trims, Mm)];
    working.mm(under(figure, "length_mm"), Rule::SeamLineHalf, &inputs, half.length_mm, Source::Steiner);
    if let (Some(centre), Some(neck)) = (line.nodes.first(), line.nodes.last()) {
        let inputs = [("x_neck", neck.at.x, Mm), ("x_centre", centre.at.x, Mm)];
        working.mm(under(figure, "half_width_mm"), Rule::HalfWidth, &inputs, half.half_width_mm, Source::Geometry);
        let inputs = [("y_centre", centre.at.y, Mm), ("y_neck", neck.at.y, Mm)];
        working.mm(under(figure, "depth_mm"), Rule::Depth, &inputs, half.depth_mm, Source::Geometry);
        let angle = |direction: kurbo::Vec2| direction.y.atan2(direction.x).to_degrees();
        let (start, end) = (angle(centre.direction), angle(neck.direction));
        let turns = 360.0 * ((half.turning_deg - (start - end)) / 360.0).round();
        let inputs = [("start", start, Deg), ("end", end, Deg), ("turns", turns, Deg)];
        let result = (half.turning_deg, Deg);
        working.add(under(figure, "turning_deg"), Rule::Turning, &inputs, result, Source::Geometry);
    }
    if let Some(radius) = half.tightest_radius_mm {
        let k = line.nodes.iter().map(|n| n.k).fold(0.0, f64::max);
        let inputs = [("k", k, Ratio)];
        working.mm(under(figure, "tightest_radius_mm"), Rule::TightestRadius, &inputs, radius, Source::Geometry);
    }
}
