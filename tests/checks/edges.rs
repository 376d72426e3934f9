//! The neckline's own allowance and the facing's edges, as a maker sews them: where to clip, how front and back facing
//! meet, where understitching stops.

use lieflat::brief::{Centre, Finish, ShapeKind, Tape};
use lieflat::plan::{Cure, FacingPiece, HalfName};
use lieflat::{Brief, Plan};
use lieflat_tests::realistic::briefs;
use lieflat_tests::{brief, close, drafted, facing, plain, worked_briefs};

fn planned(brief: &Brief) -> Plan {
    lieflat::plan(brief).unwrap_or_else(|e| panic!("it plans: {e}"))
}

fn tape(width_mm: f64) -> Finish {
    Finish::Tape(Tape { width_mm, turn_under_mm: 0.0, join_allowance_mm: 6.0, ratio_percent: None })
}

fn worked(name: &str) -> Brief {
    worked_briefs().into_iter().find(|(file, _)| file == name).expect("a worked brief").1
}

fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

#[test]
fn a_sharp_corner_takes_one_clip_and_the_straight_runs_beside_it_none() {
    // Common practice: an inner corner is clipped once, into the corner; a straight allowance needs no clip.
    for finish in [facing(55.0), tape(12.0)] {
        let half = || drafted(100.0, 120.0, plain(ShapeKind::Square));
        let mut brief = brief(half(), half(), 10.0);
        brief.finish = finish;
        let clips = planned(&brief).clips.expect("it is turned");
        let front: Vec<_> = clips.lines.iter().filter(|line| line.half == HalfName::Front).collect();
        assert_eq!(front.len(), 1, "{front:?}");
        // Cut edge and seam line by right angles: corners at (100, 120) and (110, 130).
        close(apart(front[0].from, [100.0, 120.0]), 0.0, 1e-6, "from the cut edge's corner");
        assert!(apart(front[0].to, [110.0, 130.0]) < 1.6, "to just short of the seam line's: {front:?}");
    }
}

#[test]
fn a_v_is_clipped_once_into_its_point() {
    // Common practice, whatever the finish: without it the point does not turn, nor spread for a band.
    for finish in [facing(55.0), tape(12.0), lieflat_tests::band(20.0)] {
        for centre in [Centre::Fold, Centre::Seam { allowance_mm: 10.0 }] {
            let mut brief = lieflat::example::brief();
            brief.neckline.front = drafted(85.0, 190.0, plain(ShapeKind::V));
            brief.neckline.front.centre = centre;
            brief.finish = finish.clone();
            let plan = planned(&brief);
            let half = 0.5 * plan.seam_line.whole_length_mm;
            let clips = plan.clips.expect("a point is clipped");
            let last = *clips.places_mm.last().expect("a clip");
            close(last, half, 1e-6, "at the point");
            let near = clips.places_mm.iter().filter(|place| half - **place < 60.0).count();
            assert_eq!(near, 1, "and none on the straight leg above it: {:?}", clips.places_mm);
        }
    }
}

#[test]
fn a_stayed_edge_gives_nothing_and_is_clipped_for_all_of_it() {
    // The worked facing is stayed all round: the raw edge must open by 2 a theta, 2 x 10 x 280 degrees = 97.7 mm, 4 mm a
    // clip: 24. On a radius of 70 mm that is one every 14 mm: 1/2 in, by 'Apparel: Design, Textiles and Construction'
    // (Goodheart-Willcox, 2012), p. 452.
    let clips = planned(&worked("facing-scoop")).clips.expect("clips");
    // A little of the line bends the other way, so that the curves turn a little further.
    close(clips.opens_mm, 2.0 * 10.0 * 280.0_f64.to_radians(), 2.0, "opens");
    close(clips.knit_gives_mm, 0.0, 1e-9, "tape holds it");
    assert!((24..=25).contains(&clips.count), "{} clips", clips.count);
}

/// A facing piece's sewn width along the shoulder seam.
fn at_shoulder(piece: &FacingPiece) -> f64 {
    apart(*piece.seam_line.last().expect("an end"), *piece.outer_line.last().expect("an end"))
}

#[test]
fn front_and_back_facing_are_as_wide_as_each_other_along_the_shoulder() {
    let half = |depth| drafted(130.0, depth, plain(ShapeKind::Boat));
    let mut boat = brief(half(55.0), half(25.0), 10.0);
    boat.finish = facing(50.0);
    for half in [&mut boat.neckline.front, &mut boat.neckline.back] {
        half.shoulder_slope_deg = 20.0;
    }
    let pieces = planned(&boat).facing.expect("a facing");
    close(at_shoulder(&pieces.front), 50.0, 0.1, "the front's shoulder, measured from the neck point");
    close(at_shoulder(&pieces.back), 50.0, 0.1, "and the back's");
}

#[test]
fn random_facings_meet_at_the_shoulder() {
    let mut faced = 0;
    for mut brief in briefs(2000, 5) {
        brief.finish = facing(25.0 + f64::from(faced % 60));
        let Ok(plan) = lieflat::plan_without_ranges(&brief) else { continue };
        let pieces = plan.facing.expect("a facing");
        close(at_shoulder(&pieces.front), at_shoulder(&pieces.back), 0.1, &format!("{:?}", brief.title));
        faced += 1;
    }
    assert!(faced > 1950, "nearly all are planned: {faced}");
}

#[test]
fn a_facing_that_is_offered_plans() {
    let mut offered = 0;
    for brief in briefs(2000, 6) {
        let Ok(plan) = lieflat::plan_without_ranges(&brief) else { continue };
        if plan.strip.is_some_and(|strip| strip.cures.contains(&Cure::Facing)) {
            offered += 1;
            // 55 mm is what the form takes where no width was given.
            let cured = Brief { finish: facing(55.0), ..brief.clone() };
            assert!(
                lieflat::plan_without_ranges(&cured).is_ok(),
                "{:?}: {:?}",
                brief.title,
                lieflat::plan(&cured).err()
            );
        }
    }
    assert!(offered > 50, "offered to {offered}");
}
