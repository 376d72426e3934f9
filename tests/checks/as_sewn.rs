//! What a strip does as it is sewn: spread evenly between its marks, narrowed by its stretch.

use lieflat::Brief;
use lieflat::brief::PoissonRatio;
use lieflat::plan::{Span, StripPlan};
use lieflat_tests::{close, realistic};

fn strip(brief: &Brief) -> Option<StripPlan> {
    lieflat::plan_without_ranges(brief).ok()?.strip
}

/// A brief's strip of this Poisson's ratio, either way.
fn narrowing(brief: &mut Brief, ratio: f64) {
    let mut knit = brief.strip_knit.clone().unwrap_or_else(|| brief.garment_knit.clone());
    knit.poisson_ratio = Some(PoissonRatio { crosswise: Some(ratio), lengthwise: Some(ratio) });
    brief.strip_knit = Some(knit);
}

#[test]
fn a_knit_that_does_not_narrow_is_cut_as_wide_as_it_is_worn() {
    // Hencky's law at nu = 0: a width that no stretch changes. What a curve widens is not cut off: at most 1.
    let mut looked_at = 0;
    for mut brief in realistic::briefs(400, 31) {
        narrowing(&mut brief, 0.0);
        let Some(strip) = strip(&brief) else { continue };
        close(strip.narrowing.width_at_rest_mm, strip.narrowing.width_as_sewn_mm, 1e-12, "the same at rest");
        looked_at += 1;
    }
    assert!(looked_at > 250, "many of them: {looked_at}");
}

#[test]
fn a_knit_that_narrows_is_cut_wider_the_more_it_is_stretched() {
    // The law itself by hand: width at rest = width x lambda^nu / (1 + what the curve widens), and no narrower than it is worn.
    let mut wider = 0;
    for mut brief in realistic::briefs(400, 32) {
        narrowing(&mut brief, 0.45);
        let Some(strip) = strip(&brief) else { continue };
        let narrowing = &strip.narrowing;
        let lambda = 1.0 + narrowing.stretch_percent / 100.0;
        let widened = narrowing.width_unnarrowed_mm / narrowing.width_at_rest_mm;
        let at_rest = (narrowing.width_as_sewn_mm * lambda.powf(0.45) / widened).max(narrowing.width_as_sewn_mm);
        close(narrowing.width_at_rest_mm, at_rest, 1e-9, "by Hencky's law");
        wider += u32::from(at_rest > narrowing.width_as_sewn_mm);
    }
    assert!(wider > 200, "most are cut wider: {wider}");
}

/// The least strain of the free edge anywhere, percent; pressed together by less than it ripples from it lies flat all the same.
fn least(spans: &[Span]) -> f64 {
    spans.iter().map(|span| span.free_edge_least_percent + span.ripples_from_percent).fold(0.0, f64::min)
}

#[test]
fn more_marks_make_no_strip_worse() {
    // Half the tolerance and a quarter of it: where that brings more marks and the strip passed, it still does. A mark moves
    // what its neighbours take, so that a strain may change by a point: half of what the reckoning itself is sure to.
    let (mut more, mut looked_at) = (0, 0);
    for brief in realistic::briefs(400, 33) {
        let mut before: Option<StripPlan> = None;
        for tolerance in [6.0, 3.0, 1.5] {
            let mut marked = brief.clone();
            marked.rules.mark_tolerance_mm = tolerance;
            let Some(strip) = strip(&marked) else { continue };
            if let Some(before) = before.as_ref().filter(|before| before.marks.len() < strip.marks.len()) {
                let title = brief.title.as_deref().unwrap_or_default();
                assert!(strip.outcome.passes() || !before.outcome.passes(), "{title}: worse at {tolerance} mm");
                let (now, then) = (least(&strip.spans), least(&before.spans));
                assert!(
                    !before.outcome.passes() || now > then - 1.0,
                    "{title}: pressed by {now} and not {then} percent at {tolerance} mm"
                );
                more += 1;
            }
            looked_at += 1;
            before = Some(strip);
        }
    }
    assert!(looked_at > 700 && more > 60, "of {looked_at} plans {more} have more marks");
}
