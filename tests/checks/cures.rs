//! What is offered where a strip does not lie flat does what it says.

use lieflat::brief::{Brief, Direction, Finish, Stretch};
use lieflat::plan::{Cure, Outcome};
use lieflat_tests::{facing, realistic};

/// A brief's strip of at least this stretch in its length, its recovery as it is.
pub(crate) fn stretchier(brief: &mut Brief, stretch_percent: f64) {
    let mut knit = brief.strip_knit.clone().unwrap_or_else(|| brief.garment_knit.clone());
    let recovery_percent = match knit.crosswise {
        Stretch::Percent { recovery_percent, .. } => recovery_percent,
        Stretch::Readings { rest_mm, stretched_mm, released_mm } => released_mm
            .filter(|_| stretched_mm > rest_mm)
            .map(|released| 100.0 * lieflat::knit::recovery(rest_mm, stretched_mm, released)),
    };
    let stretch = Stretch::Percent { stretch_percent, recovery_percent };
    match brief.strip_direction {
        Direction::Crosswise => knit.crosswise = stretch,
        Direction::Lengthwise => knit.lengthwise = Some(stretch),
        Direction::Diagonal => knit.diagonal = Some(stretch),
    }
    brief.strip_knit = Some(knit);
}

/// A brief's strip of this finished width.
///
/// # Panics
/// Where its finish is no strip.
pub(crate) fn narrower(brief: &mut Brief, width: f64) {
    match &mut brief.finish {
        Finish::Band(band) => band.width_mm = width,
        Finish::Bound(bound) => bound.width_mm = width,
        Finish::Tape(tape) => tape.width_mm = width,
        Finish::Facing(_) => panic!("a facing is no strip"),
    }
}

fn by_the_rule(brief: &mut Brief) {
    match &mut brief.finish {
        Finish::Band(band) => band.ratio_percent = None,
        Finish::Bound(bound) => bound.ratio_percent = None,
        Finish::Tape(tape) => tape.ratio_percent = None,
        Finish::Facing(_) => {}
    }
}

#[test]
fn every_cure_that_is_offered_plans_and_cures() {
    let mut tried = [0_u32; 5];
    for brief in realistic::briefs(3000, 21) {
        let Ok(plan) = lieflat::plan_without_working(&brief) else { continue };
        let Some(strip) = plan.strip else { continue };
        for cure in &strip.cures {
            let mut cured = brief.clone();
            let kind = match *cure {
                Cure::Narrower(width) => {
                    assert!(width >= 6.0, "a strip of {width} mm is hardly sewn");
                    narrower(&mut cured, width);
                    by_the_rule(&mut cured);
                    0
                }
                Cure::Stretchier(percent) => {
                    stretchier(&mut cured, percent);
                    by_the_rule(&mut cured);
                    1
                }
                Cure::UseTheRule => {
                    by_the_rule(&mut cured);
                    2
                }
                Cure::OtherDirection(way) => {
                    cured.strip_direction = way;
                    by_the_rule(&mut cured);
                    3
                }
                Cure::Facing => {
                    cured.finish = facing(55.0);
                    4
                }
            };
            tried[kind] += 1;
            let again = lieflat::plan_without_working(&cured).unwrap_or_else(|e| panic!("{cure:?}: {e}"));
            let outcome = again.strip.map(|strip| strip.outcome);
            assert!(outcome.is_none_or(Outcome::passes), "{cure:?} leaves {outcome:?}: {:?}", brief.title);
        }
    }
    assert!(tried.iter().all(|n| *n > 5), "each is tried: {tried:?}");
}
