//! The opening's working.

use crate::brief::{HeadGirth, Stitch};
use crate::error::Unit::{self, Mm, Months, Percent, Ratio};
use crate::field::joined;
use crate::girth::{Reach, Rings, Run};
use crate::given::Given;
use crate::opening::{OpeningPlan, head_rows, stitch_extension};
use crate::rule::Rule;
use crate::source::Source;
use crate::working::Working;

/// The opening's figures.
pub(crate) fn explain(
    given: &Given<'_>,
    plan: &OpeningPlan,
    rings: &Rings,
    reach: &Reach,
    stayed: &[Run],
    working: &mut Working,
) {
    let (brief, own) = (given.brief, Source::OwnRule);
    head(given, plan, working);
    let girth = &reach.seam;
    let inputs = [("stayed", girth.stayed, Mm), ("live", girth.live, Mm), ("e", girth.extension, Ratio)];
    working.mm("opening.seam_line_girth_mm", Rule::SeamGirth, &inputs, plan.seam_line_girth_mm, own);
    let inputs = [("garment", reach.sewn.by_garment, Mm), ("finish", reach.sewn.by_finish, Mm)];
    working.mm("opening.sewn_girth_mm", Rule::SewnGirth, &inputs, plan.sewn_girth_mm, own);
    if let (Some(edge), Some(reach)) = (rings.free_edge, plan.strip_girth_mm) {
        let inputs = [
            ("relaxed", edge.relaxed, Mm),
            ("shorter", edge.shorter, Mm),
            ("pull", brief.rules.pull_share, Ratio),
            ("S", edge.stretch, Ratio),
        ];
        working.mm("opening.strip_girth_mm", Rule::StripGirth, &inputs, reach, own);
    }
    let smallest = plan.smallest_girth_mm;
    for (figure, reach, result) in [
        ("opening.smallest_girth_mm", reach, smallest),
        ("opening.full_stretch_girth_mm", &rings.reach(1.0, stayed), plan.full_stretch_girth_mm),
    ] {
        let of_all = [Some(reach.seam.mm()), Some(reach.sewn.mm()), reach.free_edge];
        let of_all: Vec<_> = of_all.into_iter().flatten().map(|girth| ("ring", girth, Mm)).collect();
        working.mm(figure, Rule::SmallestRing, &of_all, result, Source::Geometry);
    }
    let inputs = [("ring", smallest, Mm), ("head", plan.head_girth_mm, Mm), ("margin", plan.margin_mm, Mm)];
    working.mm("opening.spare_mm", Rule::Spare, &inputs, plan.spare_mm, Source::Geometry);
    stitch(given, plan, rings, stayed, working);
}

fn stitch(given: &Given<'_>, plan: &OpeningPlan, rings: &Rings, stayed: &[Run], working: &mut Working) {
    let brief = given.brief;
    let (extension, source) = stitch_extension(brief.stitch);
    let (rule, inputs) = match brief.stitch {
        Stitch::Zigzag { width_mm, advance_mm } => {
            (Rule::StitchZigzag, vec![("w", width_mm, Mm), ("p", advance_mm, Mm)])
        }
        _ => (Rule::Taken, vec![("x", 100.0 * extension, Percent)]),
    };
    let result = (plan.stitch_extension_percent, Percent);
    working.add("opening.stitch_extension_percent", rule, &inputs, result, source);
    let Some(advice) = plan.stitch_advice else { return };
    let at = |name: &str| joined(&["opening.stitch_advice", name]);
    let inputs = [("pull", brief.rules.pull_share, Ratio), ("S", rings.liveliest(stayed), Ratio)];
    let asks = (advice.seam_asks_percent, Percent);
    working.add(at("seam_asks_percent"), Rule::SeamAsks, &inputs, asks, Source::OwnRule);
    let width = advice.zigzag_width_mm;
    working.mm(at("zigzag_width_mm"), Rule::Taken, &[("x", width, Mm)], width, Source::Judgement);
    let inputs = [("w", width, Mm), ("e", 0.01 * advice.seam_asks_percent, Ratio)];
    let length = advice.zigzag_length_mm;
    working.mm(at("zigzag_length_mm"), Rule::ZigzagLength, &inputs, length, Source::ZigzagGeometry);
}

fn head(given: &Given<'_>, plan: &OpeningPlan, working: &mut Working) {
    let heads =
        [("opening.head_girth_mm", Some(plan.head_girth_mm), 1), ("opening.typical_head_mm", plan.typical_head_mm, 0)];
    for (figure, girth, column) in heads {
        let Some(girth) = girth else { continue };
        let (rule, inputs): (_, Vec<(&'static str, f64, Unit)>) = match given.brief.head.girth {
            HeadGirth::Child { group, age_months } => {
                let ((from, a), (to, b)) = head_rows(group, age_months, column);
                let ages = [("age", age_months, Months), ("from", from, Months), ("to", to, Months)];
                (Rule::HeadByAge, ages.into_iter().chain([("a", a, Mm), ("b", b, Mm)]).collect())
            }
            _ => (Rule::Taken, vec![("x", girth, Mm)]),
        };
        working.mm(figure, rule, &inputs, girth, plan.head_source);
    }
}
