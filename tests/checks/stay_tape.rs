//! Stay tapes as they are laid, on necklines that can be worked out by hand: V necks of straight legs, square necks and
//! circles. Rules of the trade are common practice without a published source unless a check says otherwise.

use core::f64::consts::{FRAC_PI_2, PI};

use lieflat::brief::{
    Bound, Brief, Centre, Direction, EdgePart, Finish, HeadGirth, Layers, Outline, ReadingsAt, ShapeKind, StayEdge,
};
use lieflat::plan::{MeasuredFrom, Part, Plan, StayZone, TapeAtCentre, TapeFit};
use lieflat_tests::{brief, close, drafted, drawn, facing, knit, plain, quarter_ellipse};

/// An invented V, 80 mm half wide and 170 deep at the cut edge, on a back of 80 by 28, the head so small that every
/// stay is kept.
fn v_neck(finish: Finish, allowance: f64) -> Brief {
    let mut brief =
        brief(drafted(80.0, 170.0, plain(ShapeKind::V)), drafted(80.0, 28.0, plain(ShapeKind::Round)), allowance);
    brief.finish = finish;
    brief.garment_knit = knit(60.0, 95.0);
    brief.head.girth = HeadGirth::OwnMm(300.0);
    brief
}

fn bound(width_mm: f64) -> Finish {
    let (layers, turn_under_mm) = (Layers::Single, 0.0);
    Finish::Bound(Bound { width_mm, layers, turn_under_mm, join_allowance_mm: 6.0, ratio_percent: None })
}

fn planned(brief: &Brief) -> Plan {
    lieflat::plan(brief).unwrap_or_else(|e| panic!("it plans: {e}"))
}

#[track_caller]
fn zone(plan: &Plan, part: Part) -> StayZone {
    let zone = plan.stays.zones.iter().find(|zone| zone.part == part);
    zone.unwrap_or_else(|| panic!("{part:?} is stayed: {:?}", plan.stays.zones)).clone()
}

/// Length along the leg that a side of a tape gains for each millimetre that it lies nearer the garment: cot(alpha).
const COT: f64 = 170.0 / 80.0;

/// Area of a closed outline, by its corners.
fn area(outline: &[[f64; 2]]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    0.5 * outline.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>().abs()
}

// A maker trims a bound edge before it is stayed, since a tape in the allowance would be cut off with it; the binding
// covers the tape, and the stitching runs just outside it: common practice. How far outside is our judgement, 1 mm.
#[test]
fn a_bound_edge_is_stayed_from_its_trimmed_edge_within_the_binding() {
    let mut brief = v_neck(bound(8.0), 10.0);
    let point = zone(&planned(&brief), Part::FrontCentre);
    assert_eq!(point.measured_from, MeasuredFrom::TrimmedEdge, "the allowance is gone by then");
    close(point.from_edge_mm, 0.0, 1e-12, "at the new edge");
    assert_eq!(point.fit, TapeFit::TooWide, "9.5 mm would lie beyond a stitching 8 mm deep");
    close(point.widest_tape_mm, 7.0, 1e-12, "8 mm less 1 mm clear of the stitching");
    close(point.tape_width_mm, 7.0, 1e-12, "so one of 7 mm serves");
    close(point.past_stitching_mm, -1.0, 1e-12, "and the stitching is 1 mm outside");
    // A narrower one fits as it is, at the edge all the same.
    brief.stays.tape_width_mm = 6.0;
    let point = zone(&planned(&brief), Part::FrontCentre);
    assert_eq!((point.fit, point.tape_width_mm, point.from_edge_mm), (TapeFit::Fits, 6.0, 0.0), "6 mm as it is");
    close(point.past_stitching_mm, -2.0, 1e-12, "2 mm within");
    brief.stays.tape_width_mm = 7.0;
    assert_eq!(zone(&planned(&brief), Part::FrontCentre).fit, TapeFit::Fits, "up to 7 mm");
    // Nor does the allowance bear on it, however wide it was.
    brief.neckline.neckline_allowance_mm = 3.0;
    assert_eq!(zone(&planned(&brief), Part::FrontCentre).from_edge_mm, 0.0, "measured from the new edge");
}

// The narrowest stay tape sold is about 1/8 in or 3 mm: from memory. Staystitching a neckline is published (an N.C. extension
// leaflet on tailoring).
#[test]
fn where_no_tape_is_narrow_enough_none_is_counted() {
    let mut brief = v_neck(bound(4.0), 10.0);
    brief.stays.shoulder_length_mm = Some(120.0);
    brief.neckline.front.shoulder_allowance_mm = 10.0;
    let plan = planned(&brief);
    assert_eq!(zone(&plan, Part::FrontCentre).fit, TapeFit::TooWide, "3 mm is sold");
    close(plan.stays.total_tape_mm, 240.0 + 50.0 + 2.0 * 3.0 * COT, 1e-9, "both shoulders and the mitred point");
    brief.finish = bound(3.9);
    let plan = planned(&brief);
    assert_eq!(zone(&plan, Part::FrontCentre).fit, TapeFit::NoneFits, "2.9 mm is not");
    close(plan.stays.total_tape_mm, 240.0, 1e-9, "the shoulders alone");
    assert_eq!(zone(&plan, Part::Shoulders).fit, TapeFit::Fits, "where there is an allowance");
}

#[test]
fn other_seams_of_a_bound_garment_are_stayed_from_their_raw_edges() {
    let mut brief = v_neck(bound(8.0), 10.0);
    brief.stays.edges = vec![StayEdge {
        name: "Invented centre seam".to_owned(),
        part: EdgePart::CentreBackSeam,
        length_mm: 300.0,
        gathered_from_mm: None,
        direction: Direction::Crosswise,
        allowance_mm: 12.0,
        pieces: 1,
    }];
    let plan = planned(&brief);
    let named = zone(&plan, Part::CentreBackSeam);
    assert_eq!(named.measured_from, MeasuredFrom::RawEdge, "it is not trimmed");
    close(named.from_edge_mm, 12.0 + 1.0 - 9.5, 1e-12, "by its own allowance");
    assert_eq!(zone(&plan, Part::Shoulders).measured_from, MeasuredFrom::RawEdge, "nor are the shoulders");
}

// The tape lies on the allowance and passes the seam line by the catch: common practice. What does not fit there passes it
// by more: 9.5 - 6 mm.
#[test]
fn a_tape_wider_than_its_allowance_is_told_to_pass_the_seam() {
    let mut brief = v_neck(facing(50.0), 6.0);
    let sides = zone(&planned(&brief), Part::FrontSides);
    assert_eq!((sides.measured_from, sides.fit), (MeasuredFrom::RawEdge, TapeFit::TooWide), "6 + 1 mm are there");
    close(sides.from_edge_mm, 0.0, 1e-12, "it begins at the raw edge");
    close(sides.past_stitching_mm, 3.5, 1e-12, "and passes the seam line by 3.5 mm");
    close(sides.widest_tape_mm, 7.0, 1e-12, "one of 7 mm would not");
    close(sides.tape_width_mm, 9.5, 1e-12, "the person's own all the same");
    brief.stays.tape_width_mm = 7.0;
    let sides = zone(&planned(&brief), Part::FrontSides);
    assert_eq!((sides.fit, sides.from_edge_mm), (TapeFit::Fits, 0.0), "it fits to a hair");
    close(sides.past_stitching_mm, 1.0, 1e-12, "caught by 1 mm");
    brief.neckline.neckline_allowance_mm = 10.0;
    let sides = zone(&planned(&brief), Part::FrontSides);
    assert_eq!((sides.fit, sides.from_edge_mm), (TapeFit::Fits, 4.0), "10 + 1 - 7");
}

// On the fold one piece is folded into a mitre at the point: our judgement, as a point is pulled open from both sides and a
// join would hold it least there. Two pieces of 25 mm; the side on the garment is longer by q cot(alpha) on each leg.
#[test]
fn a_tape_across_a_point_on_the_fold_is_one_piece_with_a_mitre() {
    let point = zone(&planned(&v_neck(facing(50.0), 10.0)), Part::FrontCentre);
    assert_eq!((point.at_centre, point.pieces), (Some(TapeAtCentre::Mitred), 1), "one piece, folded");
    close(point.tape_each_mm.expect("a length"), 50.0 + 2.0 * COT, 1e-9, "q is the catch, 1 mm");
    // Between 8.5 mm above the seam line and 1 mm below it, from the fold to the square end: the integral of 25 + d cot.
    let strip = 9.5 * 25.0 + 0.5 * COT * (1.0 - 8.5 * 8.5);
    close(area(&point.outline), strip, 1e-6, "drawn as it lies, cut off at the fold");
    assert!(point.outline.iter().all(|p| p[0] >= -1e-9), "and nowhere past it");
    // Within a binding the whole width lies below the seam line.
    let point = zone(&planned(&v_neck(bound(8.0), 10.0)), Part::FrontCentre);
    close(point.tape_each_mm.expect("a length"), 50.0 + 2.0 * 7.0 * COT, 1e-9, "q is all its width, 7 mm");
    close(area(&point.outline), 7.0 * 25.0 + 0.5 * COT * 49.0, 1e-6, "and fills the point below it");
}

// The neckline is stayed while its pieces are flat, before they are handled (an N.C. extension leaflet on tailoring), so
// every centre seam is sewn later: two pieces that end at it.
#[test]
fn no_tape_crosses_a_centre_seam() {
    let mut brief = v_neck(facing(50.0), 10.0);
    brief.neckline.front.centre = Centre::Seam { allowance_mm: 12.0 };
    brief.neckline.back.centre = Centre::Seam { allowance_mm: 12.0 };
    let plan = planned(&brief);
    let point = zone(&plan, Part::FrontCentre);
    assert_eq!((point.at_centre, point.pieces), (Some(TapeAtCentre::EndsAtSeam), 2), "one for each side");
    close(point.tape_each_mm.expect("a length"), 25.0, 1e-9, "up to the seam");
    let x = |p: &[f64; 2]| p[0];
    let least = point.outline.iter().map(x).fold(f64::INFINITY, f64::min);
    close(least, 12.0, 1e-9, "drawn up to its line");
    let back = zone(&plan, Part::BackNeckline);
    assert_eq!((back.at_centre, back.pieces), (Some(TapeAtCentre::EndsAtSeam), 2), "the back's likewise");
    close(back.tape_each_mm.expect("a length"), plan.seam_line.back.length_mm, 1e-9, "half of it each");
    brief.neckline.back.centre = Centre::Fold;
    let back = zone(&planned(&brief), Part::BackNeckline);
    assert_eq!((back.at_centre, back.pieces), (Some(TapeAtCentre::RunsThrough), 1), "through a fold it runs on");
    let sides = zone(&planned(&brief), Part::FrontSides);
    assert_eq!((sides.at_centre, sides.pieces), (None, 2), "the sides do not come there");
}

// A straight tape lies along a straight leg; front and back are taped apart, before the shoulders are joined, so that no tape
// turns at the neck point, and at a sharp corner it is folded: common practice.
#[test]
fn straight_legs_are_not_snipped() {
    for width in [6.0, 9.5, 20.0] {
        let mut brief = v_neck(facing(50.0), 10.0);
        brief.stays.tape_width_mm = width;
        for part in [Part::FrontSides, Part::FrontCentre] {
            let leg = zone(&planned(&brief), part);
            assert_eq!((leg.snip_or_bias, leg.snips), (false, 0), "{part:?}, {width} mm wide");
        }
        brief.neckline.front = drafted(80.0, 110.0, plain(ShapeKind::Square));
        for part in [Part::FrontSides, Part::FrontCentre] {
            let side = zone(&planned(&brief), part);
            assert_eq!((side.snip_or_bias, side.snips), (false, 0), "square, {part:?}, {width} mm wide");
        }
    }
}

// The far edge of a straight tape must close by its width times the turning: 16 pi/2 on a quarter round, 4 mm a snip.
#[test]
fn a_curve_is_snipped_by_its_turning_wherever_the_rest_is_straight() {
    // A quarter round of 60 mm between straight runs of 40 mm, stayed all along as the knit recovers poorly.
    let k = 60.0 * 0.552_284_749_830_793_5;
    let path = format!("M 0 140 L 40 140 C {} 140 100 {} 100 80 L 100 0", 40.0 + k, 80.0 + k);
    let mut brief = brief(drawn(&path), drawn(&quarter_ellipse(100.0, 30.0, 8)), 10.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.finish = facing(40.0);
    brief.garment_knit = knit(60.0, 95.0);
    brief.head.girth = HeadGirth::OwnMm(300.0);
    brief.stays.tape_width_mm = 16.0;
    let plan = planned(&brief);
    // The lowest part ends where the curve runs at 45 degrees, as far as the core's 64 places to a half round find it.
    let step = 0.5 * plan.seam_line.whole_length_mm / 64.0;
    let (floor, sides) = (zone(&plan, Part::FrontCentre), zone(&plan, Part::FrontSides));
    let eighth = 60.0 * FRAC_PI_2 / 2.0;
    close(sides.to_mm.unwrap_or_default() - sides.from_mm.unwrap_or_default(), 80.0 + eighth, 1.01 * step, "one side");
    let snips = |turn: f64, over: f64| (16.0 * (turn + over) / 4.0).ceil();
    let over = step / 60.0;
    let least_most = |zone: &StayZone, turn: f64| {
        let got = f64::from(zone.snips);
        assert!(snips(turn, -over) <= got && got <= snips(turn, over), "{:?}: {got} snips", zone.part);
    };
    least_most(&sides, PI / 4.0);
    least_most(&floor, FRAC_PI_2);
}

#[test]
fn a_tape_is_folded_at_a_slit_as_at_a_narrow_point() {
    // A drawn front that comes to the fold straight up: its point has no angle, and a mitre of it no end.
    let slit = drawn("M 0 95 C 0 47 88 60 88 0");
    let mut brief = brief(slit, drawn("M 0 35 C 50 35 88 20 88 0"), 10.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.finish = lieflat_tests::band(12.0);
    let plan = lieflat::plan(&brief).expect("it plans");
    let point = plan.stays.zones.iter().find(|zone| zone.part == Part::FrontCentre).expect("a point is stayed");
    // The lower 25 mm of each side, and 1 mm past the seam line twice over the tangent of ten degrees.
    close(point.tape_each_mm.expect("a length"), 50.0 + 2.0 / 10.0_f64.to_radians().tan(), 0.05, "no endless fold");
    let reach = |p: &[f64; 2]| p[0].abs().max(p[1].abs());
    assert!(point.outline.iter().all(|p| reach(p) < 300.0), "drawn where the neckline is: {:?}", point.outline);
}

#[test]
fn a_cut_edge_behind_a_wide_centre_seam_has_places() {
    // A V told at the seam line with 57 mm at its centre seam: the straight leg goes on over the centre, along itself.
    let mut brief =
        lieflat_tests::worked_briefs().into_iter().find(|(name, _)| name == "tape-v").expect("it is there").1;
    let Outline::Drafted(front) = &mut brief.neckline.front.outline else { panic!("a draft") };
    front.depth_mm = 189.0;
    brief.neckline.front.centre = Centre::Seam { allowance_mm: 57.0 };
    let line = lieflat::plan(&brief).expect("it plans").seam_line.front;
    assert!(line.cut_edge.iter().flatten().all(|v| v.is_finite()), "each has a place: {:?}", line.cut_edge);
    assert!(line.cut_edge_length_mm.is_finite(), "and the edge a length");
}
