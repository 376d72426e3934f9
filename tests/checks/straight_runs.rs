//! A band's hold where its line is straight, bends little and bends as a neck does. The rule: a place is held wholly from a
//! third of the curvature on that a circle as long as the whole line has, by 2 percent where it is straight, and between the
//! two a share of its free edge by the one hold and the rest by the other (both figures our judgement; that straight runs
//! are sewn nearly one to one, a V's legs above all, and the back neck shorter is common practice, no published source).

use core::f64::consts::{FRAC_PI_2, PI};

use lieflat::brief::{Bound, Brief, Finish, Layers, Outline, PointFinish, ReadingsAt, ShapeKind, Tape};
use lieflat::learned::{SewnFinish, SewnOutcome, SewnRecord};
use lieflat::plan::{MarkPlace, Span, StripPlan};
use lieflat_tests::{band, brief, close, drafted, drawn, knit, plain, quarter_ellipse, realistic};

fn strip(brief: &Brief) -> StripPlan {
    lieflat::plan(brief).unwrap_or_else(|e| panic!("it plans: {e}")).strip.expect("a strip")
}

/// A V of 80 by 170 mm over a round back of 80 by 28, read at the seam line, shoulders sloped by 20 degrees.
fn v(finish: Finish, stretch_percent: f64) -> Brief {
    let mut front = drafted(80.0, 170.0, plain(ShapeKind::V));
    let mut back = drafted(80.0, 28.0, plain(ShapeKind::Round));
    (front.shoulder_slope_deg, back.shoulder_slope_deg) = (20.0, 20.0);
    let mut brief = brief(front, back, 10.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.garment_knit = knit(stretch_percent, 93.0);
    brief.finish = finish;
    // So that the leg has a span of its own, apart from the turn at the neck point.
    brief.rules.mark_tolerance_mm = 1.0;
    brief
}

fn bound(width_mm: f64) -> Finish {
    let layers = Layers::Single;
    Finish::Bound(Bound { width_mm, layers, turn_under_mm: 0.0, join_allowance_mm: 6.0, ratio_percent: None })
}

/// Strip over line of the spans that lie on one side of the neck point, percent: back, then front.
fn by_halves(strip: &StripPlan) -> [f64; 2] {
    let neck = strip.marks.iter().position(|mark| mark.place == MarkPlace::NeckPoint).expect("a neck point");
    let ratio = |spans: &[Span]| {
        let sum = |of: fn(&Span) -> f64| spans.iter().map(of).sum::<f64>();
        100.0 * sum(|span| span.strip_mm) / sum(|span| span.seam_line_mm)
    };
    let (back, front) = strip.spans.split_at(neck);
    [ratio(back), ratio(front)]
}

#[test]
fn a_vs_legs_are_nearly_one_to_one_and_its_back_is_shorter() {
    // Common practice, no published source: on a V the legs nearly one to one and the back neck shorter. By the rule a leg
    // is cut to 1 / 1.02 = 98.04 percent, but for the last width and a half before the neck point.
    for stretch in [40.0, 60.0, 100.0] {
        for finish in [band(15.0), band(20.0), band(25.0), bound(6.0), bound(8.0)] {
            let strip = strip(&v(finish.clone(), stretch));
            let what = format!("{stretch} percent, {finish:?}");
            let leg = strip.spans.last().expect("a span down the leg");
            assert!((97.0..=99.0).contains(&leg.ratio_percent), "{what}: the leg is cut to {}", leg.ratio_percent);
            // Spread evenly down the leg, with the bend at the neck point shared into it.
            close(leg.free_edge_least_percent, 2.0, 1.0, "about its straight run's hold");
            let [back, front] = by_halves(&strip);
            assert!(back < front - 6.0 && back < 90.0, "{what}: the back to {back}, the front to {front}");
            close(strip.straight_hold_percent.expect("a band's"), 2.0, 1e-12, "and it is told");
        }
    }
    // A knit that hardly stretches has less hold than that on a curve: 0.1 x 0.1 / 0.93, and no more on the straight.
    let firm = strip(&v(band(8.0), 10.0));
    close(firm.straight_hold_percent.expect("a band's"), 1.0 / 0.93, 1e-9, "no more than on a curve");
}

#[test]
fn a_tape_has_one_hold_all_along() {
    let finish = Tape { width_mm: 12.0, turn_under_mm: 0.0, join_allowance_mm: 6.0, ratio_percent: None };
    let mut brief = v(Finish::Tape(finish), 60.0);
    brief.rules.tape_hold = 0.05;
    let strip = strip(&brief);
    let leg = strip.spans.last().expect("a span down the leg");
    close(leg.ratio_percent, 100.0 / 1.05, 1e-6, "without turn of cloth its seam edge's hold");
    assert_eq!(strip.straight_hold_percent, None, "none of its own on the straight");
}

/// A front that bends by `radius` for 90 mm from its centre, then by 50 mm up to the vertical, over a back of a quarter
/// circle of 80 mm; all ends square to level shoulders.
fn arcs(radius: f64) -> (Brief, f64) {
    let turned = 90.0 / radius;
    let rest = FRAC_PI_2 - turned;
    // A cubic for an arc from the direction a to the direction b = a + angle (level is 0, up is a quarter turn).
    let arc = |(x, y): (f64, f64), r: f64, a: f64, b: f64| {
        let handle = 4.0 / 3.0 * ((b - a) / 4.0).tan() * r;
        let end = (x + r * (b.sin() - a.sin()), y - r * (a.cos() - b.cos()));
        let (p, q) =
            ((x + handle * a.cos(), y - handle * a.sin()), (end.0 - handle * b.cos(), end.1 + handle * b.sin()));
        (format!(" C {} {} {} {} {} {}", p.0, p.1, q.0, q.1, end.0, end.1), end)
    };
    let (first, joint) = arc((0.0, 0.0), radius, 0.0, turned);
    let (second, neck) = arc(joint, 50.0, turned, FRAC_PI_2);
    let front = drawn(&format!("M 0 0{first}{second}"));
    let mut brief = brief(front, drawn(&quarter_ellipse(80.0, 80.0, 4)), 0.0);
    assert!(neck.0 > 80.0, "past the back's neck point");
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.garment_knit = knit(100.0, 100.0);
    brief.finish = band(10.0);
    brief.rules.mark_tolerance_mm = 0.5;
    (brief, 90.0 + 50.0 * rest + 80.0 * FRAC_PI_2)
}

#[test]
fn a_line_that_bends_little_is_held_in_between() {
    for radius in [300.0, 600.0, 1200.0] {
        let (brief, half) = arcs(radius);
        let strip = strip(&brief);
        // A circle as long as the whole line: pi / half.
        let bent = 1.0 / radius / (PI / half / 3.0);
        assert!(bent > 0.1 && bent < 0.95, "between straight and a neck: {bent}");
        // Hold 0.1 where it is whole: f / r - 1 with r = f (bent / 1.1 + (1 - bent) / 1.02).
        let hold = 100.0 * (1.0 / (bent / 1.1 + (1.0 - bent) / 1.02) - 1.0);
        let last = strip.spans.last().expect("a span up to centre front");
        close(last.free_edge_least_percent, hold, 0.5, "its hold where it bends least");
        let most = strip.spans.iter().map(|span| span.free_edge_most_percent).fold(0.0, f64::max);
        // Spread evenly between marks, where the line begins to bend the strip is a little short.
        close(most, 10.0, 2.0, "the whole hold where it bends as a neck does");
    }
}

#[test]
fn a_neck_that_bends_by_a_third_of_a_circle_all_along_has_its_whole_hold() {
    // Quarter ellipses of 120 by 80 mm: they bend least at the flat's middle, by b / a^2 = 1/180; a circle as long bends
    // by about 1/101. So no place counts as straight: (L - w theta) / (1 + hold), 2 pi of turning.
    let half = || drawn(&quarter_ellipse(120.0, 80.0, 6));
    let mut brief = brief(half(), half(), 0.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.garment_knit = knit(80.0, 100.0);
    brief.finish = band(12.0);
    let plan = lieflat::plan(&brief).expect("it plans");
    let strip = plan.strip.expect("a strip");
    let held = plan.seam_line.whole_length_mm - 12.0 * 2.0 * PI;
    close(strip.relaxed_length_mm, held / 1.08, 1e-6, "the old sum");
    close(strip.held_line_mm, held, 1e-6, "all of it held");
}

#[test]
fn a_v_that_lay_flat_as_planned_teaches_the_hold_that_it_was_planned_with() {
    // No limit may bite, or the strip is longer than its rule: a narrow band in a stretchy knit.
    let mut brief = v(band(6.0), 100.0);
    let before = strip(&brief);
    let record = SewnRecord {
        finish: SewnFinish::Band,
        held_line_mm: before.held_line_mm,
        strip_mm: before.relaxed_length_mm,
        outcome: SewnOutcome::LayFlat,
        by_mm: None,
        width: None,
        recorded: None,
    };
    brief.garment_knit.learned = vec![record; 5];
    let after = strip(&brief);
    close(after.hold_percent, before.hold_percent, 1e-9, "the same hold");
    close(after.relaxed_length_mm, before.relaxed_length_mm, 1e-9, "and the same strip");
}

#[test]
fn ordinary_vs_have_legs_that_are_nearly_one_to_one() {
    let (mut looked_at, mut shortest) = (0, 100.0_f64);
    for mut brief in realistic::briefs(3000, 11) {
        let shape = match &brief.neckline.front.outline {
            Outline::Drafted(draft) => &draft.shape,
            Outline::Measured(measured) => &measured.shape,
            Outline::Drawn(_) => continue,
        };
        let straight = shape.kind == ShapeKind::V && shape.leg_hollow_percent.is_none();
        match &mut brief.finish {
            Finish::Band(band) if straight => {
                (band.ratio_percent, band.point) = (None, PointFinish::Mitre);
            }
            Finish::Bound(bound) if straight => bound.ratio_percent = None,
            _ => continue,
        }
        brief.rules.mark_tolerance_mm = 1.0;
        let Ok(plan) = lieflat::plan_without_ranges(&brief) else { continue };
        let strip = plan.strip.expect("a strip");
        let leg = strip.spans.last().expect("a span down the leg");
        let title = brief.title.unwrap_or_default();
        assert!((96.0..=99.5).contains(&leg.ratio_percent), "{title}: the leg is cut to {}", leg.ratio_percent);
        let [back, front] = by_halves(&strip);
        assert!(back < front + 1e-9, "{title}: the back to {back} percent, the front to {front}");
        for span in &strip.spans {
            close(span.ratio_percent, 100.0 * span.strip_mm / span.seam_line_mm, 1e-9, &title);
        }
        (looked_at, shortest) = (looked_at + 1, shortest.min(leg.ratio_percent));
    }
    assert!(looked_at > 150, "many of them: {looked_at}");
    println!("{looked_at} Vs, a leg cut to {shortest} percent at the least");
}

#[test]
fn a_sharp_square_is_the_sum_of_its_corners_and_its_straight_runs() {
    // Level for 90 mm, then up for 100, before and behind; a band of 12 mm shares each corner's quarter turn over 36 mm, where
    // k w = (pi/2) / 3, and runs straight on the other 308 of a half round's 380 mm. A knit so stretchy that no limit bites:
    // hold 0.2 in the corners, 0.02 on the straight.
    let side = || drawn("M 0 100 L 90 100 L 90 0");
    let mut brief = brief(side(), side(), 0.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.garment_knit = knit(200.0, 100.0);
    (brief.finish, brief.rules.comfort_share) = (band(12.0), 1.0);
    let strip = strip(&brief);
    let (corners, straight) = (72.0 * (1.0 - PI / 6.0) / 1.2, 308.0 / 1.02);
    close(strip.relaxed_length_mm, 2.0 * (corners + straight), 1e-6, "its length");
    close(strip.held_line_mm, 2.0 * (72.0 * (1.0 - PI / 6.0) + 308.0 * 1.2 / 1.02), 1e-6, "the line it holds");
}
