//! The working of how a strip narrows.

use crate::error::Unit::{self, Count, Mm, Percent, Ratio};
use crate::field::{count, joined};
use crate::learned::PRIOR_RECORDS;
use crate::narrowing::{NarrowingFrom, Poisson, SewnPart};
use crate::ring::Ring;
use crate::rule::Rule;
use crate::source::Source;
use crate::strip::{StripBasis, StripPlan};
use crate::working::Working;

/// Every figure of the strip's width but the one to cut.
pub(crate) fn narrowing(ring: &Ring, from: &StripBasis, plan: &StripPlan, working: &mut Working) {
    let told = &plan.narrowing;
    poisson_ratio(&from.poisson, working);
    let at = |name: &str| joined(&["strip.narrowing", name]);
    let part = &from.whole;
    let inputs = [("L", part.line, Mm), ("shorter", part.shorter, Mm), ("relaxed", part.strip, Mm)];
    let stretch = (told.stretch_percent, Percent);
    working.add(at("stretch_percent"), Rule::MeanStretch, &inputs, stretch, Source::OwnRule);
    let asked = told.width_as_sewn_mm;
    working.mm(at("width_as_sewn_mm"), Rule::AsGiven, &[("x", asked, Mm)], asked, Source::OwnMeasure);
    let nu = told.poisson_ratio;
    let inputs = narrows(("w", asked), part, nu);
    working.mm(at("width_at_rest_mm"), Rule::WidthAtRest, &inputs, told.width_at_rest_mm, Source::PlaneModel);
    let rest = ("rest", told.width_at_rest_mm);
    let inputs = narrows(rest, part, nu);
    working.mm(at("width_unnarrowed_mm"), Rule::Unnarrowed, &inputs, told.width_unnarrowed_mm, Source::PlaneModel);
    let ends = plan.marks.iter().zip(plan.marks.iter().skip(1));
    for (i, (span, (a, b))) in plan.spans.iter().zip(ends).enumerate() {
        let part = from.strip.part(ring, a.on_seam_line_mm, b.on_seam_line_mm);
        let inputs = narrows(rest, &part, nu);
        let figure = joined(&["strip.spans", &count(i), "width_mm"]);
        working.mm(figure, Rule::WidthAsSewn, &inputs, span.width_mm, Source::PlaneModel);
    }
}

/// What a width as sewn comes from.
fn narrows(width: (&'static str, f64), part: &SewnPart, nu: f64) -> [(&'static str, f64, Unit); 7] {
    let seam = part.line / part.strip - 1.0;
    let free = (part.line - part.shorter) / part.strip - 1.0;
    [
        (width.0, width.1, Mm),
        ("shorter", part.shorter, Mm),
        ("L", part.line, Mm),
        ("e_s", seam, Ratio),
        ("e_f", free, Ratio),
        ("lambda", part.stretched(), Ratio),
        ("nu", nu, Ratio),
    ]
}

fn poisson_ratio(poisson: &Poisson, working: &mut Working) {
    let figure = "strip.narrowing.poisson_ratio";
    let ratio = (poisson.ratio, Ratio);
    let x = [("x", poisson.ratio, Ratio)];
    if let Some(learned) = poisson.learned {
        let records = learned.records as f64;
        let n = ("n", records, Count);
        let own = Source::OwnRecords;
        working.add("strip.narrowing.records", Rule::Taken, &[("x", records, Count)], (records, Count), own);
        let inputs = [("m", PRIOR_RECORDS, Count), ("usual", learned.usual, Ratio), n, ("mean", learned.mean, Ratio)];
        return working.add(figure, Rule::LearnedPoisson, &inputs, ratio, own);
    }
    match (poisson.from, poisson.read) {
        (NarrowingFrom::Read, Some([width, length])) => {
            let inputs = [("width", width, Ratio), ("length", length, Ratio)];
            working.add(figure, Rule::PoissonRead, &inputs, ratio, Source::SwatchWidth);
        }
        (NarrowingFrom::Given, _) => working.add(figure, Rule::AsGiven, &x, ratio, Source::OwnMeasure),
        _ => working.add(figure, Rule::Taken, &x, ratio, Source::KnitSwatches),
    }
}
