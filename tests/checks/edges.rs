//! The neckline's own allowance and the facing's edges, as a maker sews them: where to clip, how front and back facing
//! meet, where understitching stops.

use lieflat::brief::{Bound, Centre, Finish, Layers, Shape, ShapeKind, Tape};
use lieflat::order::StepCode;
use lieflat::plan::{ClipKind, Cure, FacingPiece, HalfName, Interfacing};
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

#[test]
fn a_bound_point_is_clipped_from_its_trimmed_edge_to_the_strips_stitching() {
    // Half the angle of the V is atan(85 / 190). The strip is sewn 8 mm from the trimmed edge, so that its own point lies
    // 8 / sin(alpha) below; the clip stops a thread or two, 1 mm, short of that.
    let mut brief = lieflat::example::brief();
    brief.neckline.front = drafted(85.0, 190.0, plain(ShapeKind::V));
    brief.neckline.front.shoulder_slope_deg = 20.0;
    brief.finish = Finish::Bound(Bound {
        width_mm: 8.0,
        layers: Layers::Single,
        turn_under_mm: 0.0,
        join_allowance_mm: 6.0,
        ratio_percent: None,
    });
    let plan = planned(&brief);
    let clips = plan.clips.expect("the point is clipped");
    assert_eq!((clips.count, clips.into_corners, clips.trim_to_mm), (1, 1, None), "that alone");
    assert_eq!(clips.lines[0].kind, ClipKind::Point, "it says so");
    let point = plan.seam_line.front.seam_line[0];
    close(apart(clips.lines[0].from, point), 0.0, 1e-6, "from the finished edge's point");
    let deep = 8.0 / 85.0_f64.atan2(190.0).sin() - 1.0;
    close(clips.lines[0].to[1] - point[1], deep, 1e-6, "straight down to short of the stitching");
}

#[test]
fn a_band_is_clipped_at_inner_corners_and_nowhere_else() {
    // The garment's corner must spread while the band is set along it: common practice. Its curves stay as they are.
    let half = |radius| {
        let shape = Shape { corner_radius_mm: Some(radius), ..plain(ShapeKind::Square) };
        drafted(100.0, 120.0, shape)
    };
    let with = |radius| {
        let mut brief = brief(half(radius), half(radius), 10.0);
        brief.finish = lieflat_tests::band(15.0);
        planned(&brief).clips
    };
    let clips = with(0.0).expect("four corners");
    assert_eq!((clips.count, clips.into_corners), (4, 4), "one into each");
    assert!(with(30.0).is_none(), "a rounded corner needs none");
}

#[test]
fn a_wide_allowance_is_trimmed_before_it_is_clipped() {
    // NMSU extension C-210: 5/8 in, 16 mm, is trimmed to 1/4 or 3/8 in, 6 or 10 mm. A tape of 9.5 mm that passes the seam
    // line by 1 lies 8.5 mm into the allowance, so that 6 would cut it.
    let with = |allowance, width_mm, stretch| {
        let mut brief = worked("facing-scoop");
        brief.neckline.neckline_allowance_mm = allowance;
        brief.stays.tape_width_mm = width_mm;
        brief.garment_knit = lieflat_tests::knit(stretch, 95.0);
        brief.strip_knit = None;
        planned(&brief).clips.expect("a facing is turned")
    };
    let clips = with(16.0, 9.5, 60.0);
    assert_eq!(clips.trim_to_mm, Some(10.0), "wide enough for the tape");
    let theta = 280.0_f64.to_radians();
    close(clips.opens_mm, 2.0 * 10.0 * theta, 3.0, "its clips are those of the trimmed allowance");
    let off = |at: [f64; 2], line: &[[f64; 2]]| {
        use geo::{Distance, Euclidean};
        let line: geo::LineString = line.iter().map(|p| (p[0], p[1])).collect();
        Euclidean.distance(&geo::Point::from((at[0], at[1])), &line)
    };
    for line in clips.lines.iter().filter(|line| line.half == HalfName::Front) {
        close(off(line.from, &clips.trimmed_front), 0.0, 1e-6, "and begin on the trimmed edge");
    }
    assert_eq!(with(16.0, 5.0, 60.0).trim_to_mm, Some(6.0), "as close as a narrow tape lets it");
    assert_eq!(with(16.0, 9.5, 6.0).trim_to_mm, Some(6.0), "or no tape");
    assert_eq!(with(16.0, 30.0, 60.0).trim_to_mm, None, "a tape that fills it is not cut");
    assert_eq!(with(10.0, 5.0, 60.0).trim_to_mm, None, "3/8 in is left as it is");
}

#[test]
fn understitching_stops_short_of_a_point() {
    // About an inch, from memory: 25 mm each side of the point of a V that has no other corner.
    let mut brief = worked("facing-scoop");
    let facing = |brief: &Brief| planned(brief).facing.expect("a facing");
    let whole = facing(&brief);
    assert_eq!(whole.understitch_stops_mm, None, "a scoop is understitched all round");
    assert_eq!(whole.interfacing, Interfacing::FusibleKnit, "and interfaced: common practice on knits");
    brief.neckline.front.outline = drafted(95.0, 190.0, plain(ShapeKind::V)).outline;
    let v = facing(&brief);
    close(v.understitch_stops_mm.expect("it stops"), 25.0, 1e-9, "an inch");
    let run = &v.front.understitch_lines[0];
    // The stitching's own point lies 1.6 / sin(alpha) below the seam line's.
    let alpha = 95.0_f64.atan2(190.0);
    let point = [0.0, v.front.seam_line[0][1] + 1.6 / alpha.sin()];
    close(apart(run[0], point), 25.0, 0.01, "from the point of the stitching");
}

#[test]
fn a_taped_v_leaves_its_centre_seam_open_for_the_ends() {
    let mut brief = worked("tape-v");
    let steps = |brief: &Brief| -> Vec<StepCode> { planned(brief).order.iter().map(|step| step.step).collect() };
    let stops = planned(&brief).strip.expect("a strip").understitch_stops_mm;
    assert_eq!(stops, Some(25.0), "understitching stops an inch short of the point, from memory");
    assert!(steps(&brief).contains(&StepCode::MarkStops), "which is marked");
    assert!(steps(&brief).contains(&StepCode::LeaveCentreOpen), "until the ends are caught: common practice");
    brief.neckline.front.centre = Centre::Fold;
    assert!(!steps(&brief).contains(&StepCode::LeaveCentreOpen), "a fold has none");
}

#[test]
fn clips_of_random_necklines_keep_apart_and_into_corners_once() {
    // 1/4 in at least along curves, 'Apparel: Design, Textiles and Construction' (Goodheart-Willcox, 2012), p. 452.
    for mut brief in briefs(1500, 7) {
        brief.finish = facing(50.0);
        let Ok(plan) = lieflat::plan_without_ranges(&brief) else { continue };
        let clips = plan.clips.expect("a facing is turned");
        assert_eq!(clips.lines.len(), clips.places_mm.len(), "{:?}: a line each", brief.title);
        let half = 0.5 * plan.seam_line.whole_length_mm;
        // Across the centre lines too, where the other half's stand.
        let own = clips.lines.iter().zip(&clips.places_mm).map(|(line, place)| (*place, line.kind));
        let across = own
            .clone()
            .filter(|(s, _)| *s > 0.0 && *s < half)
            .flat_map(|(s, kind)| [(-s, kind), (2.0 * half - s, kind)]);
        let mut all: Vec<(f64, ClipKind)> = own.chain(across).collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        for pair in all.windows(2).filter(|pair| pair.iter().any(|clip| clip.1 == ClipKind::Curve)) {
            let gap = pair[1].0 - pair[0].0;
            assert!(gap > 6.35 - 1e-3, "{:?}: {gap} apart: {pair:?}", brief.title);
        }
        let front = plan.seam_line.front.point_half_angle_deg.is_some();
        let points = clips.lines.iter().filter(|line| line.kind == ClipKind::Point && line.half == HalfName::Front);
        assert_eq!(points.count(), usize::from(front), "{:?}: one into a point", brief.title);
    }
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
        let Ok(plan) = lieflat::plan_without_working(&brief) else { continue };
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
