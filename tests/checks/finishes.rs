//! Bound edges, points at both centres, lines that bend away, named edges, and what a knit suits.

use geo::{Distance, Euclidean};
use lieflat::brief::{
    Band, Bound, Centre, Direction, EdgePart, Facing, Finish, Half, Layers, PatternAsks, PointFinish, PoissonRatio,
    ReadingsAt, Shape, ShapeKind, StayEdge, Stretch,
};
use lieflat::error::{AcceptedCode, Problem};
use lieflat::plan::{ClipKind, Cure, Ends, FacingPiece, FibreNote, KnitClass, MarkPlace, Outcome, Part, StayReason};
use lieflat::{Brief, plan};
use lieflat_tests::{band, brief, close, drafted, drawn, facing, knit, plain, quarter_ellipse};

fn bound(width_mm: f64, layers: Layers, turn_under_mm: f64) -> Finish {
    Finish::Bound(Bound { width_mm, layers, turn_under_mm, join_allowance_mm: 6.0, ratio_percent: None })
}

/// A quarter circle of radius 100 all round, moved out by 10: the finished edge is a circle of radius 110.
fn circle() -> Brief {
    let half = || drawn(&quarter_ellipse(100.0, 100.0, 8));
    brief(half(), half(), 10.0)
}

#[test]
fn a_bound_edges_strip_is_sewn_a_width_below_the_finished_edge() {
    // Steiner on circles: finished edge 2 pi 110, stitch line 2 pi (110 + w); the strip's fold lies on the finished
    // edge, so relaxed = 2 pi 110 / (1 + hold) by the geometry of the leaflet 'Armhole and Neckline Finishes': the
    // finished edge is a smaller circle than the stitching line.
    let mut brief = circle();
    brief.finish = bound(8.0, Layers::Single, 0.0);
    let plan = plan(&brief).expect("a bound edge plans");
    let strip = plan.strip.expect("a strip");
    let round = core::f64::consts::TAU;
    close(plan.seam_line.whole_length_mm, round * 110.0, 0.001, "the finished edge");
    close(strip.stitch_line.expect("a stitch line").length_mm, round * 118.0, 0.001, "the stitch line");
    close(strip.relaxed_length_mm * (1.0 + strip.hold_percent / 100.0), round * 110.0, 0.01, "the fold in hold");
    assert!(strip.ratio_percent < 100.0 * 110.0 / 118.0, "stretched the more, the tighter the curve");
    assert_eq!(strip.trim_mm, Some(10.0), "the allowance is trimmed off first");
}

#[test]
fn a_bindings_cut_width_brackets_the_published_widths() {
    // 'Neckline Finishes', lesson 10 of an ICAR agricultural-universities e-course: single bias binding is cut
    // 3/4 in wide, double 1 in. Narrow bindings of 1/8 to 3/16 in finished on thin cloth (0.3 mm) span them.
    let cut = |width_in: f64, layers| {
        let mut brief = circle();
        brief.garment_knit.thickness_mm = Some(0.3);
        brief.finish = bound(25.4 * width_in, layers, 0.0);
        plan(&brief).expect("it plans").strip.expect("a strip").cut_width.exact_mm / 25.4
    };
    let (thin, thick) = (cut(1.0 / 8.0, Layers::Single), cut(3.0 / 16.0, Layers::Single));
    assert!(thin < 0.75 && 0.75 < thick + 0.05, "single, 3/4 in: {thin:.3} to {thick:.3}");
    let (thin, thick) = (cut(1.0 / 8.0, Layers::Folded), cut(3.0 / 16.0, Layers::Folded));
    assert!(thin < 1.05 && 1.0 < thick, "double, 1 in: {thin:.3} to {thick:.3}");
}

#[test]
fn a_bound_edge_too_wide_for_a_line_that_bends_away_names_the_widest() {
    // A bump of radius 25 toward the opening: 10 of allowance and 20 of width fold back, 15 more is the most.
    let k = 25.0 * 0.552_284_75;
    let path = format!(
        "M 0 150 L 40 150 C {} 150 65 {} 65 125 C 65 {} {} 100 90 100 L 100 100 L 100 0",
        40.0 + k,
        125.0 + k,
        125.0 - k,
        90.0 - k
    );
    let mut brief = brief(drawn(&path), drafted(100.0, 40.0, plain(ShapeKind::Round)), 10.0);
    brief.finish = bound(20.0, Layers::Single, 0.0);
    let error = plan(&brief).expect_err("it folds back").errors.remove(0);
    assert_eq!(error.field, "finish.bound.width_mm", "the width is what is too much");
    let most = error.accepted.max.expect("a largest width");
    assert!(most < 20.0 && most > 3.0, "a narrower one works: {most}");
    brief.finish = bound(most, Layers::Single, 0.0);
    assert!(plan(&brief).is_ok(), "the width that is named works");
}

#[test]
fn a_bound_edge_on_a_bend_tighter_than_any_width_asks_for_a_narrower_one() {
    // Two arcs that bend away with a radius of 2 mm: no width from 3 mm on can be moved past them.
    let k = 2.0 * 0.552_284_75;
    let path = format!("M 0 150 L 40 150 C {} 150 42 {} 42 152 L 42 160 L 100 160 L 100 0", 40.0 + k, 152.0 - k);
    let mut brief = brief(drawn(&path), drafted(100.0, 40.0, plain(ShapeKind::Round)), 0.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.finish = bound(8.0, Layers::Single, 0.0);
    let error = plan(&brief).expect_err("it folds back").errors.remove(0);
    assert_eq!(error.field, "finish.bound.width_mm", "the width is what is too much");
    assert_eq!((error.accepted.code, error.accepted.max), (Some(AcceptedCode::NarrowerBound), None), "none is told");
}

#[test]
fn a_bound_edges_range_is_that_of_its_stitch_line() {
    // Sewn 2 mm wider or narrower the strip lies that much further out: its length is planned anew, the worst either way.
    let mut brief = brief(drawn("M 0 140 C 50 140 90 90 90 0"), drafted(90.0, 40.0, plain(ShapeKind::Round)), 10.0);
    brief.garment_knit = knit(60.0, 100.0);
    brief.tolerances = lieflat::brief::Tolerances {
        poisson_ratio: 0.0,
        slope_deg: 0.0,
        reading_mm: 0.0,
        stretch_points: 0.0,
        recovery_points: 0.0,
        allowance_mm: 0.0,
        width_mm: 2.0,
        roundness_points: 0.0,
    };
    // Far from any limit its length is that of the finished edge; close to the limit the stitch line tells.
    brief.rules.hold_share = 0.5;
    let length = |width: f64| {
        let mut moved = brief.clone();
        moved.finish = bound(width, Layers::Single, 0.0);
        plan(&moved).expect("it plans").strip.expect("a strip").cut_length
    };
    let (low, exact, high) = (length(6.0).exact_mm, length(8.0), length(10.0).exact_mm);
    let below = [low, high].map(|moved| (exact.exact_mm - moved).max(0.0));
    let above = [low, high].map(|moved| (moved - exact.exact_mm).max(0.0));
    close(exact.exact_mm - exact.low_mm, below[0].hypot(below[1]), 1e-6, "what makes it shorter");
    close(exact.high_mm - exact.exact_mm, above[0].hypot(above[1]), 1e-6, "what makes it longer");
    assert!(low != high, "the width tells");
}

#[test]
fn points_at_both_centres_take_two_strips() {
    let front = drafted(85.0, 190.0, plain(ShapeKind::V));
    let back = drafted(85.0, 100.0, plain(ShapeKind::V));
    let mut brief = brief(front, back, 10.0);
    brief.finish = band(20.0);
    let strip = plan(&brief).expect("it plans").strip.expect("a strip");
    assert_eq!(strip.pieces, 2, "one strip for each side");
    assert_eq!(strip.join_at, MarkPlace::CentreFront, "the front's point comes first");
    let angle = |ends: Ends| match ends {
        Ends::Mitre { angle_deg, .. } => angle_deg,
        other => panic!("a mitre and not {other:?}"),
    };
    // Elementary trigonometry: each mitre runs at half its point's angle.
    close(angle(strip.ends), (85.0_f64 / 190.0).atan().to_degrees(), 1e-9, "the front's mitre");
    close(angle(strip.back_ends.expect("back ends")), (85.0_f64 / 100.0).atan().to_degrees(), 1e-9, "the back's");
    assert!(strip.cut_length.exact_mm > 0.5 * strip.relaxed_length_mm, "each strip is half the round and its ends");
    // A V at the back alone is open there.
    brief.neckline.front = drafted(85.0, 100.0, plain(ShapeKind::Round));
    let strip = plan(&brief).expect("it plans").strip.expect("a strip");
    assert_eq!((strip.pieces, strip.join_at), (1, MarkPlace::CentreBack), "one strip, its ends at centre back");
    assert!(matches!(strip.ends, Ends::Mitre { .. }), "mitred there");
}

/// Found by fuzzing: a slit that runs straight up from the centre has no angle, and its mitre had no end.
#[test]
fn a_slit_at_the_centre_is_mitred_at_a_degree() {
    let mut brief = brief(drawn("M 0 150 C 0 90 60 40 80 0"), drafted(80.0, 30.0, plain(ShapeKind::Round)), 10.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.finish = band(12.0);
    let strip = plan(&brief).expect("it plans").strip.expect("a strip");
    let Ends::Mitre { angle_deg, free_edge_shorter_mm } = strip.ends else { panic!("a mitre, not {:?}", strip.ends) };
    let tangent = 1.0_f64.to_radians().tan();
    close(angle_deg, 1.0, 1e-9, "the least angle that is taken");
    close(free_edge_shorter_mm, 12.0 / tangent, 1e-6, "so long a mitre");
    close(strip.end_extra_mm, 10.0 / tangent, 1e-6, "by the seam allowance below it");
}

#[test]
fn a_lap_in_a_wide_point_runs_past_by_its_own_slant() {
    // Trigonometry at a half angle of 60 degrees, where the legs make 120: the seam allowance takes 10 / sin 120, the
    // band's width 20 / tan 60 more; a point of 30 degrees makes 60 and takes nothing more.
    let lapped = |half_angle_deg: f64| {
        let width = 100.0 * half_angle_deg.to_radians().tan();
        let mut brief =
            brief(drafted(width, 100.0, plain(ShapeKind::V)), drafted(width, 30.0, plain(ShapeKind::Round)), 10.0);
        brief.neckline.readings_at = ReadingsAt::SeamLine;
        let (layers, point) = (Layers::Folded, PointFinish::Lap);
        brief.finish =
            Finish::Band(Band { width_mm: 20.0, layers, point, join_allowance_mm: 6.0, ratio_percent: None });
        let strip = plan(&brief).expect("it plans").strip.expect("a strip");
        let Ends::Lap { lap_width_mm, .. } = strip.ends else { panic!("a lap, not {:?}", strip.ends) };
        (lap_width_mm, strip.end_extra_mm)
    };
    let root = 3.0_f64.sqrt();
    let (wide, narrow) = (lapped(60.0), lapped(30.0));
    close(wide.0, 40.0 / root, 1e-9, "the band's width at a slant");
    close(wide.1, 20.0 / root + 20.0 / root, 1e-9, "allowance and slant");
    close(narrow.0, 40.0 / root, 1e-9, "the same slant");
    close(narrow.1, 20.0 / root, 1e-9, "the allowance alone");
}

#[test]
fn a_sweetheart_turns_the_other_way_in_part_and_by_the_same_in_all() {
    // Whatever a half does in between, its turning is the angle from its first direction to its last: here from
    // 50.19 degrees below the level at centre front (atan2(30, 25)) to straight up.
    let path = "M 0 120 C 25 150 60 150 82 110 C 92 90 95 40 95 0";
    let mut brief = brief(drawn(path), drafted(95.0, 35.0, plain(ShapeKind::Round)), 10.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    let plan = plan(&brief).expect("it plans");
    close(plan.seam_line.front.turning_deg, 90.0 + 30.0_f64.atan2(25.0).to_degrees(), 1e-9, "front half");
    close(plan.seam_line.whole_turning_deg, 360.0, 1e-6, "the whole round, laid flat on level shoulders");
    let strip = plan.strip.expect("a strip");
    let last = strip.spans.last().expect("spans");
    assert!(last.free_edge_most_percent > strip.hold_percent, "the free edge is stretched where the line bends away");
    assert!(strip.marks.len() > 3, "and an even spread would be off there");
}

#[test]
fn a_keyhole_edge_plans_and_keeps_its_length() {
    // A drop below the neckline: from the centre line round a half circle of radius 20 (its centre 40 below the
    // opening) up to a slit's end and out. Reference: pi 20 / 2 for the arc's quarter and straight lines, added up.
    let k = 20.0 * 0.552_284_749_8;
    let path = format!("M 0 160 C {k} 160 20 {} 20 140 L 20 110 L 100 0", 160.0 - (20.0 - k));
    let mut brief = brief(drawn(&path), drafted(100.0, 30.0, plain(ShapeKind::Round)), 8.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    let plan = plan(&brief).expect("it plans");
    let expected = 31.420_334 + 30.0 + 80.0_f64.hypot(110.0);
    close(plan.seam_line.front.length_mm, expected, 0.001, "arc, slit and side; the arc by the cubic's own length");
}

#[test]
fn an_allowance_that_makes_the_line_cross_itself_names_the_largest_that_works() {
    // A notch 12 wide between two straight legs: moved to the garment side by 6 or more, its sides meet.
    let path = "M 0 120 L 60 120 L 60 90 L 48 90 L 48 60 L 100 0";
    let mut brief = brief(drawn(path), drafted(100.0, 30.0, plain(ShapeKind::Round)), 20.0);
    let error = plan(&brief).expect_err("it crosses itself").errors.remove(0);
    assert_eq!(error.field, "neckline.neckline_allowance_mm", "the allowance is too much");
    assert!(matches!(error.problem, Problem::CrossesAt { .. }), "it says where: {:?}", error.problem);
    let most = error.accepted.max.expect("the largest allowance that works");
    brief.neckline.neckline_allowance_mm = most;
    assert!(plan(&brief).is_ok(), "{most} works");
    brief.neckline.neckline_allowance_mm = most + 0.5;
    assert!(plan(&brief).is_err(), "{} does not", most + 0.5);
}

#[test]
fn a_path_that_crosses_itself_is_refused_where_it_does() {
    // By hand: the leg down x = 40 crosses the level line y = 95. A cubic whose handles cross far over loops, by
    // symmetry on x = 44.
    let cases = [("M 0 95 L 80 95 L 80 40 L 40 40 L 40 110 L 88 0", 40.0), ("M 0 60 C 230 -60 -142 -60 88 58.9", 44.0)];
    for (path, x) in cases {
        let brief = brief(drawn(path), drafted(88.0, 30.0, plain(ShapeKind::Round)), 10.0);
        let error = plan(&brief).expect_err("a loop").errors.remove(0);
        match error.problem {
            // A segment of the polyline that is looked at is a few mm long.
            Problem::PathCrossesAt { x_mm, .. } => close(x_mm, x, 8.0, "where it crosses"),
            other => panic!("{path}: {other:?}"),
        }
        assert_eq!(error.accepted.code, Some(AcceptedCode::NoCrossing), "and says what would do");
    }
}

/// By hand: each line runs out, turns round within a tenth of a millimetre, and comes back beside itself before it goes on.
#[test]
fn a_path_that_folds_back_is_told_so_and_where_whatever_the_allowance() {
    let folds = [
        ("M 0 95 L 70 95 L 40 94.99 L 88 0", (70.0, 95.0)),
        ("M 0 95 L 70 95 L 40 95 L 88 0", (70.0, 95.0)),
        ("M 0 95 L 40 95 L 40 120 L 40.01 95 L 88 0", (40.0, 120.0)),
        // Smooth, with a radius of a few hundredths.
        ("M 0 95 L 60 95 C 70 95 70 95.1 60 95.1 L 40 95.1 L 40 110 L 88 110 L 88 0", (67.5, 95.0)),
    ];
    for (path, (x, y)) in folds {
        for allowance in [6.0, 10.0] {
            let brief = brief(drawn(path), drafted(88.0, 30.0, plain(ShapeKind::Round)), allowance);
            let error = plan(&brief).expect_err("a fold").errors.remove(0);
            assert_eq!(error.field, "neckline.front.outline.drawn.path_mm", "{path}: {error:?}");
            match error.problem {
                Problem::PathFoldsAt { x_mm, y_mm } => {
                    close(x_mm, x, 1.0, "where it folds, outward");
                    close(y_mm, y, 1.0, "where it folds, down");
                }
                other => panic!("{path}: {other:?}"),
            }
            assert_eq!(error.accepted.code, Some(AcceptedCode::NoFold), "and says what would do");
        }
    }
    // A bend of 4 mm radius that an allowance of 10 mm would fold is no fault of the line: a smaller allowance would do.
    let bend =
        "M 0 95 L 60 95 C 62.2 95 64 96.8 64 99 L 64 110 C 64 112.2 65.8 114 68 114 C 70.2 114 72 112.2 72 110 L 88 0";
    let brief = brief(drawn(bend), drafted(88.0, 30.0, plain(ShapeKind::Round)), 10.0);
    let error = plan(&brief).expect_err("too tight").errors.remove(0);
    assert_eq!(error.field, "neckline.neckline_allowance_mm", "{error:?}");
    assert!(error.accepted.max.is_some_and(|most| most > 1.0), "{error:?}");
}

#[test]
fn a_segment_that_comes_back_to_its_start_is_refused_there_and_one_that_goes_nowhere_is_passed_over() {
    let planned = |segment: &str| {
        let path = format!("M 0 90 L 40 90 {segment} L 88 60 L 88 0");
        plan(&brief(drawn(&path), drafted(88.0, 30.0, plain(ShapeKind::Round)), 10.0))
    };
    let straight = planned("").expect("the path without it plans").seam_line.front.length_mm;
    // By hand: the first has its ends on one place and swings 30 mm out and back; the second's ends are a ten
    // thousandth of a mm apart, the third's handles go up and come back the same way.
    for swing in ["C 70 60 70 120 40 90", "C 70 60 70 120 40.0001 90", "C 40 60 40 60 40 90"] {
        let error = planned(swing).expect_err("a loop").errors.remove(0);
        assert_eq!(error.field, "neckline.front.outline.drawn.path_mm", "{swing}");
        let at = Problem::PathCrossesAt { x_mm: 40.0, y_mm: 90.0 };
        assert_eq!(error.problem, at, "{swing}: it comes back to where it starts");
        assert_eq!(error.accepted.code, Some(AcceptedCode::NoCrossing), "{swing}: and says what would do");
    }
    for nothing in ["L 40 90", "C 40 90 40 90 40 90", "C 40.005 90 40 90.005 40 90", "Q 40 90.005 40 90"] {
        let plan = planned(nothing).unwrap_or_else(|e| panic!("{nothing} is a slip of the pen: {e}"));
        close(plan.seam_line.front.length_mm, straight, 1e-9, nothing);
    }
}

#[test]
fn named_edges_are_stayed_by_their_own_stretch() {
    let edge = |name: &str, part, direction, gathered_from_mm| StayEdge {
        name: name.to_owned(),
        part,
        length_mm: 200.0,
        gathered_from_mm,
        direction,
        allowance_mm: 15.0,
        pieces: 1,
    };
    let mut brief = circle();
    brief.garment_knit.lengthwise = Some(Stretch::Percent { stretch_percent: 4.0, recovery_percent: None });
    brief.stays.edges = vec![
        edge("Invented back seam", EdgePart::CentreBackSeam, Direction::Lengthwise, None),
        edge("Invented yoke", EdgePart::Gathered, Direction::Lengthwise, Some(300.0)),
        edge("Invented panel", EdgePart::Other, Direction::Crosswise, None),
        edge("Invented cuff", EdgePart::Other, Direction::Lengthwise, Some(260.0)),
        edge("Invented flounce", EdgePart::Gathered, Direction::Lengthwise, None),
    ];
    let stays = plan(&brief).expect("it plans").stays;
    let named = |name: &str| stays.zones.iter().find(|zone| zone.name.as_deref() == Some(name));
    assert!(named("Invented back seam").is_none(), "4 percent lengthwise is stable by itself");
    assert_eq!(stays.stable.first().map(|edge| edge.name.as_str()), Some("Invented back seam"), "and the plan says so");
    // Common practice, no published source: the stretch of an edge that receives gathers is stayed.
    let yoke = named("Invented yoke").expect("gathers are stayed whatever the stretch");
    assert_eq!((yoke.part, yoke.reason), (Part::Gathered, StayReason::Gathers), "for its gathers");
    close(yoke.gathering_ratio.unwrap_or_default(), 1.5, 1e-12, "300 drawn up to 200");
    close(yoke.tape_each_mm.unwrap_or_default(), 200.0, 1e-12, "tape as long as the gathered seam");
    // place = a + c - tape width = 15 + 1 - 9.5
    close(yoke.from_edge_mm, 6.5, 1e-12, "from the raw edge");
    assert!(named("Invented panel").is_some_and(|zone| zone.stretch_percent > 50.0), "crosswise it stretches");
    // Gathered by what is said of its length, or by what part it is: either will do.
    for (name, part, ratio) in [("Invented cuff", Part::Other, Some(1.3)), ("Invented flounce", Part::Gathered, None)] {
        let zone = named(name).unwrap_or_else(|| panic!("{name} is stayed"));
        assert_eq!((zone.part, zone.reason), (part, StayReason::Gathers), "{name}");
        assert_eq!(zone.gathering_ratio, ratio, "{name}");
    }
}

#[test]
fn a_shoulder_that_the_person_tells_of_is_taped_once() {
    // Common practice, no published source: one tape to a shoulder seam.
    let mut brief = circle();
    let tapes = |brief: &Brief| {
        let stays = plan(brief).expect("it plans").stays;
        stays.zones.into_iter().filter(|zone| zone.part == Part::Shoulders).map(|zone| zone.name).collect::<Vec<_>>()
    };
    assert_eq!(tapes(&brief), [None], "both seams, by themselves");
    let shoulder = |direction| StayEdge {
        name: "Invented yoke shoulder".to_owned(),
        part: EdgePart::Shoulder,
        length_mm: 118.0,
        gathered_from_mm: None,
        direction,
        allowance_mm: 10.0,
        pieces: 2,
    };
    brief.stays.edges = vec![shoulder(Direction::Crosswise)];
    assert_eq!(tapes(&brief), [Some("Invented yoke shoulder".to_owned())], "the person's own alone");
    // One that is stable by itself has no tape that could take the seams' place.
    brief.garment_knit.lengthwise = Some(Stretch::Percent { stretch_percent: 4.0, recovery_percent: None });
    brief.stays.edges = vec![shoulder(Direction::Lengthwise)];
    assert_eq!(tapes(&brief), [None], "the seams again");
}

#[test]
fn a_faced_neckline_is_stayed_as_its_lowest_part_up_to_where_it_runs_at_45_degrees() {
    // An ellipse of 100 by 140: (a sin t, b cos t) runs at 45 degrees where tan t = a / b; its length up to there by many
    // chords. The core looks at a half round in 64 places.
    let (a, b) = (100.0_f64, 140.0_f64);
    let mut brief = brief(drawn(&quarter_ellipse(a, b, 8)), drawn(&quarter_ellipse(a, 60.0, 8)), 0.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    brief.garment_knit = knit(60.0, 100.0);
    brief.finish = facing(40.0);
    let plan = plan(&brief).expect("it plans");
    let at = |t: f64| (a * t.sin(), b * t.cos());
    let end = (a / b).atan();
    let chords = (0..10_000).map(|i| [i, i + 1].map(|i| at(end * f64::from(i) / 1e4)));
    let length: f64 = chords.map(|[(x0, y0), (x1, y1)]| (x1 - x0).hypot(y1 - y0)).sum();
    let step = 0.5 * plan.seam_line.whole_length_mm / 64.0;
    let zone = |part| plan.stays.zones.iter().find(|zone| zone.part == part).cloned();
    let floor = zone(Part::FrontCentre).expect("the lowest part is stayed");
    close(floor.tape_each_mm.unwrap_or_default(), 2.0 * length, 2.0 * step, "both sides of it");
    let sides = zone(Part::FrontSides).expect("and so are the sides");
    assert_eq!(sides.to_mm, floor.from_mm, "up to there");
}

#[test]
fn a_knit_too_firm_crosswise_may_suit_turned_on_the_other_grain() {
    let mut brief = circle();
    brief.garment_knit = knit(30.0, 95.0);
    brief.garment_knit.lengthwise = Some(Stretch::Percent { stretch_percent: 55.0, recovery_percent: None });
    brief.pattern_asks = Some(PatternAsks { crosswise_percent: Some(50.0), lengthwise_percent: Some(25.0) });
    let plan = plan(&brief).expect("it plans");
    let across = &plan.suitability[0];
    assert!(!across.suits && across.suits_turned, "30 percent is not 50, but 55 the other way is");
    close(across.short_by_points, 20.0, 1e-9, "short by 20 points");
    assert!(plan.suitability[1].suits, "lengthwise is enough as it is");
    // Classes: Armstrong's numbers, from memory: stable 18, moderate 25, stretchy 50, super 100.
    let class = |percent: f64| lieflat::knit::class(percent / 100.0);
    assert_eq!(
        [10.0, 18.0, 25.0, 50.0, 100.0].map(class),
        [KnitClass::Rigid, KnitClass::Stable, KnitClass::Moderate, KnitClass::Stretchy, KnitClass::SuperStretch],
        "at their bounds"
    );
}

#[test]
fn elastane_is_noted_as_common_practice_and_never_over_a_reading() {
    // Common practice, no published source: about 5 percent tends to grow, 8 to 10 serves better.
    let notes = |percent, recovery| {
        let mut brief = circle();
        brief.garment_knit = knit(60.0, recovery);
        brief.garment_knit.elastane_percent = percent;
        plan(&brief).expect("it plans").fibre_notes
    };
    assert_eq!(notes(None, 95.0), [], "nothing said of what is not known");
    assert_eq!(notes(Some(0.0), 95.0), [FibreNote::NoElastane], "none");
    assert_eq!(notes(Some(5.0), 95.0), [FibreNote::LittleElastane], "5 percent");
    assert_eq!(notes(Some(9.0), 95.0), [FibreNote::AmpleElastane], "9 percent");
    assert_eq!(notes(Some(9.0), 60.0), [FibreNote::AmpleElastane, FibreNote::ReadingSaysPoor], "the reading wins");
}

#[test]
fn a_strip_on_a_firm_grain_is_cured_by_turning_it() {
    let mut brief = lieflat::example::brief();
    brief.garment_knit.lengthwise = Some(Stretch::Percent { stretch_percent: 10.0, recovery_percent: None });
    brief.strip_direction = Direction::Lengthwise;
    let strip = plan(&brief).expect("it plans").strip.expect("a strip");
    assert_eq!(strip.outcome, Outcome::Gapes, "10 percent is too little for this curve");
    assert_eq!(strip.cures.first(), Some(&Cure::OtherDirection(Direction::Crosswise)), "crosswise it lies flat");
}

#[test]
fn cut_widths_follow_the_thickness_of_the_knit() {
    // Geometry: a fold of one layer of thickness t takes a half circle of radius t / 2 along its middle, pi t / 2.
    let cut = |thickness| {
        let mut brief = circle();
        brief.garment_knit.thickness_mm = Some(thickness);
        brief.garment_knit.poisson_ratio = Some(PoissonRatio { crosswise: Some(0.0), lengthwise: None });
        brief.finish = band(20.0);
        plan(&brief).expect("it plans").strip.expect("a strip").cut_width.exact_mm
    };
    let half_round = core::f64::consts::FRAC_PI_2;
    for thickness in [0.3, 0.8, 4.0] {
        close(cut(thickness), 2.0 * 30.0 + half_round * thickness, 1e-9, "jersey to sweater knit");
    }
}

#[test]
fn a_facings_pieces_meet_the_garment_and_each_other() {
    let mut brief = lieflat::example::brief();
    brief.finish = facing(55.0);
    brief.neckline.front.centre = Centre::Seam { allowance_mm: 10.0 };
    let plan = plan(&brief).expect("it plans");
    let facing = plan.facing.expect("a facing");
    assert!(!facing.front.on_fold && facing.back.on_fold, "a seam in front, a fold behind");
    // Right angles and parallels: sewn shoulders are as long as the facing is wide.
    let shoulder = |outline: &[[f64; 2]], seam: &[[f64; 2]], outer: &[[f64; 2]]| {
        assert_eq!(outline.len(), seam.len() + outer.len(), "the outline is both edges");
        let (a, b) = (seam.last().expect("an end"), outer.last().expect("an end"));
        (a[0] - b[0]).hypot(a[1] - b[1])
    };
    let width = |piece: &FacingPiece| shoulder(&piece.sewn_outline, &piece.seam_line, &piece.outer_line);
    close(width(&facing.front), 55.0, 0.01, "the front's shoulder");
    close(width(&facing.front), width(&facing.back), 0.01, "is the back's");
    // The centre seam's allowance lies outside the seam line, x = 10 on the garment's own frame.
    let least = |points: &[[f64; 2]]| points.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min);
    close(least(&facing.front.cut_outline), 0.0, 1e-6, "the raw centre edge");
    close(least(&facing.front.sewn_outline), 10.0, 1e-6, "the centre seam line");
}

#[test]
fn understitching_lies_beside_the_facings_own_edge_and_topstitching_beside_the_garments() {
    // Concentric circles: seam line of radius 110, and the facing's edge on it; understitching 1.6 further; topstitching 6
    // from the seam line.
    let mut brief = circle();
    brief.garment_knit.thickness_mm = Some(0.8);
    brief.finish =
        Finish::Facing(Facing { width_mm: 55.0, understitch_mm: 1.6, edge_allowance_mm: 0.0, topstitch_mm: Some(6.0) });
    let facing = plan(&brief).expect("it plans").facing.expect("a facing");
    let round = core::f64::consts::TAU;
    close(facing.understitch_length_mm, round * (110.0 + 1.6), 0.001, "the understitching");
    close(facing.topstitch_length_mm.expect("topstitching"), round * 116.0, 0.001, "the topstitching");
    for point in facing.front.understitch_lines.iter().flatten() {
        close(point[0].hypot(point[1]), 110.0 + 1.6, 1e-3, "each of its points from the middle");
    }
}

#[test]
fn clips_start_from_the_cut_edge_beside_corners_too() {
    // Right angles: seam line x = 110, y = 130, cut edge 10 nearer the opening. The clip into the corner runs on the
    // diagonal, from the cut edge's corner at (100, 120) to a thread or two short of the seam line's, 1 mm along it.
    let square = || drafted(100.0, 120.0, plain(ShapeKind::Square));
    let mut brief = brief(square(), square(), 10.0);
    brief.garment_knit = knit(20.0, 95.0);
    brief.finish = facing(55.0);
    let plan = plan(&brief).expect("it plans");
    let line = |points: &[[f64; 2]]| geo::LineString::from_iter(points.iter().map(|p| (p[0], p[1])));
    let off = |at: [f64; 2], points: &[[f64; 2]]| Euclidean.distance(&geo::Point::from((at[0], at[1])), &line(points));
    let clips = plan.clips.expect("a facing is turned");
    assert!(!clips.lines.is_empty(), "a clip into the corner");
    for clip in &clips.lines {
        assert_eq!(clip.kind, ClipKind::Corner, "{clip:?}");
        close(off(clip.from, &plan.seam_line.front.cut_edge), 0.0, 1e-6, "from the cut edge");
        close((clip.from[0] - 100.0).hypot(clip.from[1] - 120.0), 0.0, 1e-6, "from its corner");
        let short = 0.5_f64.sqrt();
        close((clip.to[0] - 110.0 + short).hypot(clip.to[1] - 130.0 + short), 0.0, 1e-6, "to just short of the corner");
    }
    let piece = plan.facing.expect("a facing").front;
    for clip in &piece.clips {
        close(off(clip.from, &piece.cut_outline), 0.0, 1e-6, "the facing's clips from its own cut edge");
    }
}

#[test]
fn a_cut_edge_set_back_further_than_a_radius_is_as_long_as_it_is_drawn() {
    // Right angles: legs 100 and 120 at the seam line, a corner of radius 5 that 12 of allowance leaves none of: the
    // cut edge is two straight lines, 12 shorter each.
    let shape = Shape { corner_radius_mm: Some(5.0), ..plain(ShapeKind::Square) };
    let mut brief = brief(drafted(100.0, 120.0, shape), drafted(100.0, 40.0, plain(ShapeKind::Round)), 12.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    let front = plan(&brief).expect("it plans").seam_line.front;
    close(front.cut_edge_length_mm, 88.0 + 108.0, 1e-6, "without the loop");
    let chords = front.cut_edge.iter().zip(front.cut_edge.iter().skip(1));
    let drawn: f64 = chords.map(|(a, b)| (b[0] - a[0]).hypot(b[1] - a[1])).sum();
    close(front.cut_edge_length_mm, drawn, 1e-6, "as it is drawn");
}

// A piece with a centre seam is read from its own edge there, as a ruler lies on it, or from the seam line where that is what
// is read; the finished half width is what is left between the seam and the neck point. By hand.
#[test]
fn a_half_with_a_centre_seam_is_read_from_its_own_centre() {
    // A straight leg from (0, 170) to (80, 0), moved 10 mm to the garment: 170 x + 80 y = 170 * 80 + 10 * 187.883. Along y = 0 it
    // lies at 91.052 mm, and on the seam, 12 mm in, 167.985 mm down.
    let leg = |width: f64, depth: f64, centre| Half { centre, ..drafted(width, depth, plain(ShapeKind::V)) };
    let seam = Centre::Seam { allowance_mm: 12.0 };
    let fold = || leg(80.0, 60.0, Centre::Fold);
    let mut at_cut_edge = brief(leg(80.0, 170.0, seam), fold(), 10.0);
    let front = plan(&at_cut_edge).expect("it plans").seam_line.front;
    let moved = 170.0 * 80.0 + 10.0 * 170.0_f64.hypot(80.0);
    let (neck, foot) = (moved / 170.0, (moved - 170.0 * 12.0) / 80.0);
    close(front.centre_line_x_mm, 12.0, 1e-12, "the seam lies its allowance in from the edge");
    close(front.half_width_mm, neck - 12.0, 1e-9, "79.05 mm from the finished centre");
    close(front.depth_mm, foot, 1e-9, "where the leg meets the seam");
    // The same garment read at its seam line: from the finished centre.
    let mut at_seam_line = brief(leg(neck - 12.0, foot, seam), fold(), 10.0);
    at_seam_line.neckline.readings_at = ReadingsAt::SeamLine;
    let same = plan(&at_seam_line).expect("it plans").seam_line.front;
    close(same.centre_line_x_mm, 0.0, 1e-12, "read from there");
    close(same.half_width_mm, front.half_width_mm, 1e-9, "as wide");
    close(same.length_mm, front.length_mm, 1e-9, "as long");
    // On the fold the edge is the centre.
    at_cut_edge.neckline.front.centre = Centre::Fold;
    let folded = plan(&at_cut_edge).expect("it plans").seam_line.front;
    close(folded.centre_line_x_mm, 0.0, 1e-12, "nothing is taken off");
    close(folded.half_width_mm, neck, 1e-9, "all of it");
}
