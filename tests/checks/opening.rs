//! Whether the head passes: rings worked by hand, which stays are kept, and what would help.

use crate::cures::{narrower, stretchier};
use lieflat::brief::{
    AdultGroup, Band, Bound, Brief, ChildGroup, Direction, Facing, Finish, HeadGirth, Layers, PointFinish, ReadingsAt,
    ShapeKind, Stitch, Stretch,
};
use lieflat::plan::{Ends, OpeningPlan, Part, Plan, Remedy};
use lieflat_tests::{band, brief, close, drafted, drawn, facing, knit, plain, realistic};

fn planned(brief: &Brief) -> Plan {
    lieflat::plan(brief).unwrap_or_else(|errors| panic!("{errors}"))
}

/// A V of 80 by 170 mm before a round back of 80 by 28, told at the seam line, in a knit of 40 by 20 percent, on a
/// woman's head.
fn v_neck(finish: Finish) -> Brief {
    let mut brief = brief(drafted(80.0, 170.0, plain(ShapeKind::V)), drafted(80.0, 28.0, plain(ShapeKind::Round)), 6.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.neckline.front.shoulder_slope_deg = 20.0;
    brief.neckline.back.shoulder_slope_deg = 20.0;
    brief.garment_knit = knit(40.0, 90.0);
    brief.head.girth = HeadGirth::Adult(AdultGroup::Women);
    brief.finish = finish;
    brief
}

fn v_band(point: PointFinish) -> Finish {
    let Finish::Band(plain) = band(25.0) else { unreachable!("a band is one") };
    Finish::Band(Band { point, ..plain })
}

fn bound(width_mm: f64) -> Finish {
    let (turn_under_mm, join_allowance_mm) = (0.0, 6.0);
    Finish::Bound(Bound { width_mm, layers: Layers::Single, turn_under_mm, join_allowance_mm, ratio_percent: None })
}

#[test]
fn a_mitred_or_lapped_free_edge_is_the_smallest_ring() {
    // By hand: at a point whose half angle has the tangent 80/170 a band of 25 mm is 25 x 170/80 = 53.125 mm shorter at
    // each end; four fifths of 40 percent stretch it to 1.32 of itself. The legs and the back lie all in one plane.
    for point in [PointFinish::Mitre, PointFinish::Lap] {
        let plan = planned(&v_neck(v_band(point)));
        let strip = plan.strip.expect("a strip");
        let girth = (strip.relaxed_length_mm - 106.25) * 1.32;
        close(plan.opening.strip_girth_mm.expect("a strip"), girth, 1e-6, "its free edge");
        close(plan.opening.smallest_girth_mm, girth, 1e-6, "smaller than the seam");
        assert!(!plan.opening.passes, "a head of 597 and 20 mm of ease do not pass {girth}");
    }
    // A bound edge of 8 mm: 17 mm shorter at each end than the line its strip is sewn on.
    let plan = planned(&v_neck(bound(8.0)));
    let girth = (plan.strip.expect("a strip").relaxed_length_mm - 34.0) * 1.32;
    close(plan.opening.strip_girth_mm.expect("a strip"), girth, 1e-6, "a bound edge's finished edge");
}

#[test]
fn a_seam_reaches_no_further_than_the_shorter_of_garment_and_strip_piece_by_piece() {
    // A square of 100 by 100 mm, both halves, seam line as told: 100 across and 100 down in each. The garment stretches
    // 50 percent across and 10 down, the strip of a ratio of 0.9 by 25 all along; four fifths are used. Across, the
    // garment reaches 1.4 and the strip 0.9 x 1.2 = 1.08; down, the garment 1.08 and the strip 1.08. A strip of 0.95
    // reaches 1.14: across the strip limits, down the garment. The corner stands on a place of the grid.
    let square = "M 0 100 L 100 100 L 100 0";
    let mut brief = brief(drawn(square), drawn(square), 0.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.garment_knit = knit(50.0, 90.0);
    brief.garment_knit.lengthwise = Some(Stretch::Percent { stretch_percent: 10.0, recovery_percent: None });
    brief.strip_knit = Some(knit(25.0, 90.0));
    let Finish::Band(plain) = band(10.0) else { unreachable!("a band is one") };
    brief.finish = Finish::Band(Band { ratio_percent: Some(95.0), ..plain });
    let opening = planned(&brief).opening;
    close(opening.seam_line_girth_mm, 400.0 * 1.4 + 400.0 * 1.08, 1e-6, "the garment by itself");
    close(opening.strip_girth_mm.expect("a strip"), 800.0 * 0.95 * 1.2, 1e-6, "the strip by itself");
    let sewn = 400.0 * 1.14 + 400.0 * 1.08;
    // The two steps beside a corner are a mean of both its sides.
    close(opening.sewn_girth_mm, sewn, 1.0, "sewn together, less than either");
    close(opening.smallest_girth_mm, opening.sewn_girth_mm, 1e-9, "so that it decides");
    close(opening.full_stretch_girth_mm, 400.0 * 0.95 * 1.25 + 400.0 * 1.1, 1.5, "with all of the stretch used");
}

#[test]
fn a_facing_of_a_firmer_knit_holds_the_seam() {
    // The same square in a garment of 20 percent both ways: the back is stayed, the front is not lively enough to be. The
    // facing's knit gives 10 percent across and 5 down, four fifths of it are used.
    let square = "M 0 100 L 100 100 L 100 0";
    let mut brief = brief(drawn(square), drawn(square), 0.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.garment_knit = knit(20.0, 90.0);
    brief.garment_knit.lengthwise = Some(Stretch::Percent { stretch_percent: 20.0, recovery_percent: None });
    brief.finish = facing(50.0);
    brief.head.girth = HeadGirth::OwnMm(400.0);
    let same = planned(&brief).opening;
    close(same.sewn_girth_mm, 400.0 + 400.0 * 1.16, 1e-6, "of the garment's own knit it gives as much");
    close(same.seam_line_girth_mm, same.sewn_girth_mm, 1e-9, "as the garment by itself");
    brief.strip_knit = Some(knit(10.0, 90.0));
    let firm = planned(&brief).opening;
    close(firm.seam_line_girth_mm, same.seam_line_girth_mm, 1e-9, "the garment gives what it gave");
    close(firm.sewn_girth_mm, 400.0 + 200.0 * 1.08 + 200.0 * 1.04, 1.0, "the facing less, beside the corner a mean");
    close(firm.smallest_girth_mm, firm.sewn_girth_mm, 1e-9, "and so it decides");
}

#[test]
fn no_head_passes_a_strip_whose_free_edge_it_does_not() {
    // For random ordinary necklines, from the plan's own lengths: by what it tells of each end.
    let (mut points, mut turned) = (0, 0);
    for brief in realistic::briefs(3000, 12) {
        let Ok(plan) = lieflat::plan_without_ranges(&brief) else { continue };
        let Some(strip) = &plan.strip else { continue };
        let knit = &plan.strip_knit;
        let stretch = match brief.strip_direction {
            Direction::Crosswise => knit.crosswise_percent,
            Direction::Lengthwise => knit.lengthwise_percent,
            Direction::Diagonal => knit.diagonal_percent,
        };
        let reach = 1.0 + 0.01 * brief.rules.pull_share * stretch;
        let shorter: f64 = [Some(strip.ends), strip.back_ends]
            .into_iter()
            .flatten()
            .map(|ends| match ends {
                Ends::Mitre { free_edge_shorter_mm, .. } | Ends::Lap { free_edge_shorter_mm, .. } => {
                    2.0 * free_edge_shorter_mm
                }
                Ends::Ring | Ends::Overhang { .. } => 0.0,
            })
            .sum();
        let free = (strip.relaxed_length_mm - shorter).max(0.0) * reach;
        close(plan.opening.strip_girth_mm.expect("a strip"), free, 1e-6, "the free edge");
        assert!(plan.opening.smallest_girth_mm <= free + 1e-9, "no more than its free edge");
        let needed = plan.opening.head_girth_mm + plan.opening.margin_mm;
        assert_eq!(plan.opening.passes, plan.opening.smallest_girth_mm >= needed, "by the smallest");
        points += u32::from(shorter > 0.0);
        turned += u32::from(shorter > 0.0 && free < needed && strip.relaxed_length_mm * reach >= needed);
    }
    assert!(points > 200 && turned > 10, "{points} with a point, {turned} of which only the free edge stops the head");
}

/// What a stay is worth: whether it holds a point, and stretch held back times length.
fn worth(part: Part, point: bool, stretch_percent: f64, length_mm: f64) -> (u32, f64) {
    (u32::from(point && part == Part::FrontCentre), stretch_percent * length_mm)
}

#[test]
fn the_most_useful_stays_that_let_the_head_pass_are_kept() {
    let (mut given_up, mut kept_all, mut taken_back) = (0, 0, 0);
    for mut brief in realistic::briefs(4000, 3) {
        // Facings and tapes of the garment's own knit: there the seam line decides, and parts add up one by one.
        let width_mm = 50.0;
        brief.finish =
            Finish::Facing(Facing { width_mm, understitch_mm: 1.6, edge_allowance_mm: 0.0, topstitch_mm: None });
        brief.strip_knit = None;
        let Ok(plan) = lieflat::plan_without_ranges(&brief) else { continue };
        let OpeningPlan { passes, seam_line_girth_mm, head_girth_mm, margin_mm, .. } = plan.opening;
        let needed = head_girth_mm + margin_mm;
        if plan.stays.given_up.is_empty() {
            kept_all += u32::from(!passes);
            continue;
        }
        given_up += 1;
        assert!(passes, "nothing is given up in vain");
        let point = plan.seam_line.front.point_half_angle_deg.is_some();
        let gone = &plan.stays.given_up;
        // What staying a part would take off the girth is not told of those that are kept: by the knit's own pull, at
        // most their whole length times it; a choice of given-up parts alone must not pass again.
        for bits in 1..1_u32 << gone.len() {
            let back: Vec<_> = (0..gone.len()).filter(|i| bits >> i & 1 == 1).map(|i| &gone[i]).collect();
            let without = seam_line_girth_mm - back.iter().map(|one| one.gains_mm).sum::<f64>();
            assert!(without < needed, "{:?} could be stayed too: {without} of {needed}", back);
        }
        if point && gone.iter().any(|one| one.part == Part::FrontCentre) {
            // The point goes only where it alone would stop the head.
            let one = gone.iter().find(|one| one.part == Part::FrontCentre).expect("it is there");
            let all_live = plan.stays.zones.iter().all(|zone| zone.from_mm.is_none());
            assert!(all_live || worth(one.part, point, one.stretch_percent, one.length_mm).0 == 1, "a point last");
            assert!(all_live, "with a point given up nothing else is kept: {:?}", plan.stays);
        }
        taken_back += u32::from(gone.len() > 1);
    }
    assert!(given_up > 100 && kept_all > 50 && taken_back > 10, "{given_up}, {kept_all}, {taken_back}");
}

#[test]
fn a_stay_that_a_later_one_makes_needless_to_give_up_is_kept() {
    // A V before a back that runs crosswise, in a knit of 20 by 60 percent: along a leg of 85 by 190 mm S = 0.533, the
    // back 0.2. Stays hold the back (170 x 0.2 x 0.8 = 27 mm), the point (50 x 0.427 = 21) and the rest of the legs
    // (366.3 x 0.427 = 156). The seam is 586.3 mm long: where the head asks for 700, the legs alone are given up, and
    // back and point stay; for 740 the back goes too and the point stays; for 760 all of it goes.
    let back = drawn("M 0 11 L 85 10");
    let mut brief = brief(drafted(85.0, 190.0, plain(ShapeKind::V)), back, 0.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.garment_knit = knit(20.0, 90.0);
    brief.garment_knit.lengthwise = Some(Stretch::Percent { stretch_percent: 60.0, recovery_percent: None });
    brief.finish = facing(20.0);
    brief.head.margin_mm = 0.0;
    let given_up = |head: f64| -> Vec<Part> {
        let mut brief = brief.clone();
        brief.head.girth = HeadGirth::OwnMm(head);
        let plan = planned(&brief);
        assert!(
            plan.opening.passes || plan.stays.given_up.is_empty(),
            "given up so that the head passes, or not at all"
        );
        plan.stays.given_up.into_iter().map(|gone| gone.part).collect()
    };
    assert!(given_up(580.0).is_empty(), "all of it is held");
    assert_eq!(given_up(612.0), [Part::BackNeckline], "26 mm short: the back's 27 suffice, and are worth least");
    assert_eq!(given_up(700.0), [Part::FrontSides], "the back's and the point's 48 do not: the legs' 156 do");
    assert_eq!(given_up(760.0), [Part::BackNeckline, Part::FrontSides], "the back next");
    assert_eq!(given_up(780.0), [Part::BackNeckline, Part::FrontSides, Part::FrontCentre], "the point last of all");
    assert!(given_up(800.0).is_empty(), "where none would suffice, all are kept");
}

#[test]
fn a_straight_stitch_breaks_before_the_knit_does_and_what_serves_is_named() {
    // 10 percent from memory; several sewing texts call it unsuitable for knits (common practice).
    let mut brief = v_neck(band(12.0));
    brief.stitch = Stitch::Straight;
    let opening = planned(&brief).opening;
    close(opening.stitch_extension_percent, 10.0, 0.0, "before the thread breaks");
    let advice = opening.stitch_advice.expect("always warned of");
    // With that zigzag the seam gives as much as an overlock lets it: the stitch no longer limits it.
    let (width_mm, advance_mm) = (advice.zigzag_width_mm, advice.zigzag_length_mm);
    let gives = 100.0 * ((width_mm / advance_mm).hypot(1.0) - 1.0);
    assert!(gives >= advice.seam_asks_percent, "{gives} of {}", advice.seam_asks_percent);
    brief.stitch = Stitch::Zigzag { width_mm, advance_mm };
    let zigzag = planned(&brief).opening;
    assert!(zigzag.stitch_advice.is_none(), "it serves");
    brief.stitch = Stitch::Overlock;
    let overlock = planned(&brief).opening;
    assert!(overlock.stitch_advice.is_none(), "and so does an overlock");
    close(zigzag.seam_line_girth_mm, overlock.seam_line_girth_mm, 1e-9, "alike");
    assert!(opening.seam_line_girth_mm < overlock.seam_line_girth_mm - 10.0, "a straight stitch gives less");
    // A narrow, long zigzag: 1 by 4 mm gives 3 percent.
    brief.stitch = Stitch::Zigzag { width_mm: 1.0, advance_mm: 4.0 };
    assert!(planned(&brief).opening.stitch_advice.is_some(), "too little");
}

#[test]
fn the_parts_of_the_margin_are_told() {
    // ANSUR II: 50th and 95th percentile, 560 and 597 mm of women. WHO, girls of 24 months: 472 and 500.
    let mut brief = v_neck(band(12.0));
    let opening = planned(&brief).opening;
    close(opening.head_girth_mm, 597.0, 0.0, "the large head");
    close(opening.typical_head_mm.expect("a group's"), 560.0, 0.0, "the middle one");
    close(opening.pull_share_percent, 80.0, 1e-9, "of the stretch");
    assert!(opening.full_stretch_girth_mm > opening.smallest_girth_mm, "all of it reaches further");
    brief.head.girth = HeadGirth::Child { group: ChildGroup::Girls, age_months: 24.0 };
    close(planned(&brief).opening.typical_head_mm.expect("a group's"), 472.0, 1e-9, "a median");
    brief.head.girth = HeadGirth::OwnMm(570.0);
    assert_eq!(planned(&brief).opening.typical_head_mm, None, "a person's own head is no group's");
}

/// The brief with a remedy carried out; none where that is no matter of the brief.
fn with(brief: &Brief, remedy: Remedy) -> Option<Brief> {
    let mut brief = brief.clone();
    match remedy {
        Remedy::EnvelopeShoulder | Remedy::ShoulderOpening(_) | Remedy::Placket(_) => return None,
        Remedy::LargerNeck { by_mm, .. } => {
            if brief.neckline.readings_at == ReadingsAt::SeamLine {
                // The line as told, and so much more to be taken off it.
                brief.neckline.readings_at = ReadingsAt::CutEdge;
                brief.neckline.neckline_allowance_mm = by_mm;
                for half in [&mut brief.neckline.front, &mut brief.neckline.back] {
                    half.shoulder_allowance_mm = 0.0;
                    half.centre = lieflat::brief::Centre::Fold;
                }
            } else {
                brief.neckline.neckline_allowance_mm += by_mm;
            }
            if brief.neckline.neckline_allowance_mm > 60.0 {
                return None;
            }
        }
        Remedy::Narrower(width) => narrower(&mut brief, width),
        Remedy::Stretchier(percent) => stretchier(&mut brief, percent),
        Remedy::OtherDirection(way) => brief.strip_direction = way,
        Remedy::AnotherStitch => brief.stitch = Stitch::Overlock,
    }
    Some(brief)
}

#[test]
fn every_remedy_plans_and_lets_the_head_pass() {
    let (mut failing, mut tried) = (0, [0_u32; 8]);
    for brief in realistic::briefs(2500, 8) {
        let Ok(plan) = lieflat::plan(&brief) else { continue };
        let OpeningPlan { passes, spare_mm, ref remedies, .. } = plan.opening;
        assert_eq!(passes, remedies.is_empty(), "remedies where they are needed");
        failing += u32::from(!passes);
        for remedy in remedies {
            let kind = match remedy {
                Remedy::EnvelopeShoulder => 0,
                Remedy::LargerNeck { .. } => 1,
                Remedy::Narrower(_) => 2,
                Remedy::Stretchier(_) => 3,
                Remedy::OtherDirection(_) => 4,
                Remedy::AnotherStitch => 5,
                Remedy::ShoulderOpening(_) => 6,
                Remedy::Placket(_) => 7,
            };
            tried[kind] += 1;
            if let Remedy::ShoulderOpening(slit) | Remedy::Placket(slit) = remedy {
                // A slit adds twice its length to a ring.
                assert!(2.0 * slit >= -spare_mm && 2.0 * slit < 10.0 - spare_mm, "{slit} for {spare_mm}");
            }
            let Some(changed) = with(&brief, *remedy) else { continue };
            let again = lieflat::plan(&changed).unwrap_or_else(|e| panic!("{remedy:?}: {e}"));
            assert!(again.opening.passes, "{remedy:?} leaves {} of {spare_mm}", again.opening.spare_mm);
            if let Remedy::LargerNeck { stayed: true, seam_line_mm, .. } = remedy {
                assert!(again.stays.given_up.is_empty(), "stays and all");
                close(again.seam_line.whole_length_mm, *seam_line_mm, 0.5, "as long as told");
            }
        }
    }
    assert!(failing > 200, "{failing} heads do not pass");
    assert!(tried[1..].iter().all(|n| *n > 5), "each is tried: {tried:?}");
}
