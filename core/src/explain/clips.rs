//! The clips' working.

use crate::clip::{ClipBasis, ClipKind, ClipPlan};
use crate::error::Unit::{Count, Mm, Ratio};
use crate::rule::Rule;
use crate::source::Source;
use crate::working::Working;

/// The clips' figures, of an allowance this wide.
pub(crate) fn explain(from: &ClipBasis, plan: &ClipPlan, working: &mut Working) {
    let (clips, width) = (&from.clips, from.width);
    if let Some(to) = plan.trim_to_mm {
        working.mm("clips.trim_to_mm", Rule::Taken, &[("x", to, Mm)], to, Source::TrimmedSeams);
    }
    let inputs = [("a", width, Mm), ("theta", 2.0 * clips.theta, Ratio)];
    working.mm("clips.opens_mm", Rule::ClipsOpen, &inputs, plan.opens_mm, Source::Steiner);
    let half = ("half", clips.gives, Mm);
    working.mm("clips.knit_gives_mm", Rule::ClipsKnitGives, &[half], plan.knit_gives_mm, Source::OwnRule);
    let apart = plan.least_apart_mm;
    working.mm("clips.least_apart_mm", Rule::Taken, &[("x", apart, Mm)], apart, Source::ClippedCurves);
    let mut count = |figure: &str, half: usize, round: usize| {
        let n = |n: usize| n as f64;
        let inputs = [("half", n(half), Count), ("centres", n((2 * half).saturating_sub(round)), Count)];
        working.add(figure, Rule::ClipCount, &inputs, (n(round), Count), Source::OwnRule);
    };
    let in_corners = clips.clips.iter().filter(|clip| clip.kind != ClipKind::Curve).count();
    count("clips.count", clips.clips.len(), plan.count);
    count("clips.into_corners", in_corners, plan.into_corners);
}
