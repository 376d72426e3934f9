//! Edges of invented pieces whose lengths have closed forms, drawn in every way that files draw them.

use core::f64::consts::{FRAC_PI_2, PI};

use kurbo::{Affine, BezPath, Point, Shape, Vec2};
use lieflat_bring::{CentreFrom, Chosen, Drawing, Line, LineOf, NoEdge, Outline, Page, Style, edge, sizes, suggested};

/// The neckline of the half piece: a quarter circle of this radius about the fold's upper end.
const RADIUS: f64 = 80.0;

/// A half front: neckline, shoulder, armhole, side, hem, fold; the neckline as it is given from neck point to centre.
fn half_piece(neckline: &str) -> BezPath {
    path(&format!("M0 0 M80 0 {neckline} L0 600 L240 600 L240 260 C180 250 170 120 185 40 Z"))
}

fn path(svg: &str) -> BezPath {
    let path = BezPath::from_svg(svg).unwrap_or_else(|e| panic!("{e}: {svg}"));
    // Only the last move counts.
    let start = path.elements().iter().rposition(|e| matches!(e, kurbo::PathEl::MoveTo(_))).unwrap_or(0);
    BezPath::from_vec(path.elements()[start..].to_vec())
}

/// The quarter circle from (r, 0) to (0, r) as cubics, far finer than what is checked.
fn quarter(r: f64) -> String {
    let arc = kurbo::Arc {
        center: Point::ZERO,
        radii: Vec2::new(r, r),
        start_angle: 0.0,
        sweep_angle: FRAC_PI_2,
        x_rotation: 0.0,
    };
    let mut path = BezPath::new();
    path.move_to((r, 0.0));
    arc.to_cubic_beziers(1e-7, |a, b, to| path.curve_to(a, b, to));
    path.to_svg().replacen(&format!("M{r},0"), "", 1)
}

/// The same quarter as points, each off by noise of this size.
fn sampled(count: u32, noise: f64) -> String {
    let mut state = 1u64;
    let mut random = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as f64 / (1u64 << 31) as f64 - 0.5
    };
    let point = |i: u32, off: f64| {
        let at = FRAC_PI_2 * f64::from(i) / f64::from(count);
        let r = RADIUS + if i == 0 || i == count { 0.0 } else { off };
        format!("L{} {}", r * at.cos(), r * at.sin())
    };
    // Evenly spread over the noise's width: its deviation is the width over the root of 12.
    (0..=count).map(|i| point(i, random() * noise * 12f64.sqrt())).collect()
}

fn drawing(paths: impl IntoIterator<Item = BezPath>) -> Drawing {
    let mut drawing = Drawing { mm_per_unit: Some(1.0), ..Drawing::default() };
    drawing.pages.push(Page { place: kurbo::Rect::ZERO, own: kurbo::Rect::ZERO });
    let style = drawing.style(&Style { colour: [0; 3], width: 0.5, dash: Vec::new() });
    for path in paths {
        drawing.add(&path, &LineOf { style, ..LineOf::default() });
    }
    drawing
}

fn pointed(ends: [(f64, f64); 2]) -> Chosen {
    Chosen { ends: ends.map(Point::from), via: None, down: None, whole: None, scale_off: 0.0 }
}

fn outline(drawing: &Drawing, line: usize) -> Outline {
    Outline::of(drawing, 1.0, line).expect("there is such a line")
}

fn assert_near(found: f64, wanted: f64, near: f64, what: &str) {
    assert!((found - wanted).abs() <= near, "{what}: {found} is to be {wanted} within {near}");
}

#[test]
fn a_half_neckline_is_taken_as_it_is_drawn() {
    let drawing = drawing([half_piece(&quarter(RADIUS))]);
    let found = edge(&outline(&drawing, 0), &pointed([(80.0, 0.0), (0.0, 80.0)])).expect("an edge");
    assert_near(found.length_mm, RADIUS * FRAC_PI_2, 1e-4, "a quarter circle's length");
    assert_near(found.width_mm, RADIUS, 1e-6, "its width");
    assert_near(found.depth_mm, RADIUS, 1e-6, "its depth");
    assert!(
        !found.whole && !found.smoothed && found.centre_from == CentreFrom::Outline,
        "half, by the fold: {found:?}"
    );
    // From the centre to the neck point, x out from the centre line, y down from the neck point.
    let ends = [found.half.segments().next().expect("a segment"), found.half.segments().last().expect("a segment")];
    let [first, last] = [ends[0].to_cubic().p0, ends[1].to_cubic().p3];
    assert!(
        first.distance((0.0, 80.0).into()) < 1e-6 && last.distance((80.0, 0.0).into()) < 1e-6,
        "{first:?} {last:?}"
    );
}

#[test]
fn a_piece_may_lie_in_any_way() {
    for (turn, flip) in [(0.3, 1.0), (2.0, 1.0), (-1.2, -1.0), (3.1, -1.0)] {
        let by = Affine::translate((300.0, -40.0)) * Affine::rotate(turn) * Affine::scale_non_uniform(flip, 1.0);
        let drawing = drawing([by * half_piece(&quarter(RADIUS))]);
        let ends = [by * Point::new(80.0, 0.0), by * Point::new(0.0, 80.0)];
        let found = edge(&outline(&drawing, 0), &Chosen { ends, ..pointed([(0.0, 0.0); 2]) }).expect("an edge");
        assert_near(found.length_mm, RADIUS * FRAC_PI_2, 1e-4, "length");
        assert_near(found.width_mm, RADIUS, 1e-5, "width");
        assert_near(found.depth_mm, RADIUS, 1e-5, "depth");
    }
}

/// Without its fold, which is drawn in a line of another kind, what hangs on an edge is not known: it is asked, and not taken from the
/// shoulder.
#[test]
fn of_a_half_whose_fold_is_missing_no_edge_is_offered_and_none_is_taken_without_a_word() {
    for (neckline, neck, centre) in [
        ("M20 120 C60 120 100 90 100 20", (100.0, 20.0), (20.0, 120.0)),
        ("M20 110 A90 90 0 0 0 110 20", (110.0, 20.0), (20.0, 110.0)),
    ] {
        let drawing = drawing([path(&format!("{neckline} L214 49 V480 H20"))]);
        let outline = outline(&drawing, 0);
        let hung: Vec<_> = suggested(&outline, None).into_iter().map(|one| one.ends).collect();
        assert!(hung.iter().all(|ends| !ends.contains(&centre.into())), "{hung:?}");
        for ends in [[neck, centre], [centre, neck]] {
            let found = edge(&outline, &pointed(ends));
            assert!(matches!(found, Err(NoEdge::NoCentreLine | NoEdge::HalfOrWhole)), "{found:?}");
        }
        let down = Some(lieflat_bring::Down::To((20.0, 400.0).into()));
        let found = edge(&outline, &Chosen { down, ..pointed([neck, centre]) }).expect("told which way it hangs");
        assert_near(found.width_mm, neck.0 - centre.0, 1e-6, "its width");
        assert_near(found.depth_mm, centre.1 - neck.1, 1e-6, "its depth");
    }
}

#[test]
fn corners_are_found_and_ends_near_them_are_taken_to_them() {
    let drawing = drawing([half_piece(&quarter(RADIUS))]);
    let outline = outline(&drawing, 0);
    let corners: Vec<Point> = outline.corners.iter().map(|corner| outline.run.point(corner.at)).collect();
    for wanted in [(80.0, 0.0), (0.0, 80.0), (0.0, 600.0), (240.0, 600.0), (240.0, 260.0), (185.0, 40.0)] {
        assert!(corners.iter().any(|c| c.distance(wanted.into()) < 1e-6), "a corner at {wanted:?}: {corners:?}");
    }
    assert_eq!(corners.len(), 6, "and nowhere else: {corners:?}");
    let found = edge(&outline, &pointed([(81.0, 0.8), (0.9, 79.0)])).expect("an edge");
    assert_near(found.length_mm, RADIUS * FRAC_PI_2, 1e-4, "from corner to corner");
}

#[test]
fn a_sampled_line_is_told_within_a_thousandth() {
    for (count, noise) in [(20, 0.0), (60, 0.0), (200, 0.02), (120, 0.05), (120, 0.15), (400, 0.15)] {
        let drawing = drawing([half_piece(&sampled(count, noise))]);
        let found = edge(&outline(&drawing, 0), &pointed([(80.0, 0.0), (0.0, 80.0)])).expect("an edge");
        let truth = RADIUS * FRAC_PI_2;
        assert!(found.smoothed, "{count} points are smoothed");
        assert_near(found.length_mm, truth, 0.001 * truth, &format!("{count} points, noise {noise}"));
        assert!(found.uncertainty_mm >= (found.length_mm - truth).abs(), "the truth is within what is told: {found:?}");
    }
}

#[test]
fn noise_hides_no_neck_point() {
    let drawing = drawing([half_piece(&sampled(150, 0.15))]);
    let outline = outline(&drawing, 0);
    let corners: Vec<Point> = outline.corners.iter().map(|corner| outline.run.point(corner.at)).collect();
    for wanted in [(80.0, 0.0), (0.0, 80.0)] {
        assert!(corners.iter().any(|c| c.distance(wanted.into()) < 1.0), "a corner at {wanted:?}: {corners:?}");
    }
    assert_eq!(corners.len(), 6, "and none in the noise: {corners:?}");
}

#[test]
fn dashes_make_one_line() {
    let whole = half_piece(&quarter(RADIUS));
    // A dash of 6 mm, a gap of 3, all round: each a line of its own.
    let dashed: BezPath = kurbo::dash(whole.iter(), 0.0, &[6.0, 3.0]).collect();
    let drawing = drawing([dashed]);
    assert!(drawing.lines.len() > 150, "many dashes: {}", drawing.lines.len());
    let outline = outline(&drawing, 7);
    assert!(outline.run.is_closed(), "the dashes go all round");
    let found = edge(&outline, &pointed([(80.0, 0.0), (0.0, 80.0)])).expect("an edge");
    assert_near(found.length_mm, RADIUS * FRAC_PI_2, 0.13, "within a thousandth");
    assert_near(found.width_mm, RADIUS, 0.1, "width");
}

#[test]
fn lines_that_meet_make_one_outline_whatever_way_each_runs() {
    let parts = [
        path(&format!("M80 0{}", quarter(RADIUS))),
        path("M0 600L0 80"),
        path("M0 600H240"),
        path("M240 260V600"),
        path("M185 40C170 120 180 250 240 260"),
        path("M80 0L185 40.0"),
        path("M120 100V400"),
    ];
    let drawing = drawing(parts);
    let outline = outline(&drawing, 3);
    assert!(outline.run.is_closed() && outline.lines.len() == 6, "closed, without the grain line: {:?}", outline.lines);
    let found = edge(&outline, &pointed([(80.0, 0.0), (0.0, 80.0)])).expect("an edge");
    assert_near(found.length_mm, RADIUS * FRAC_PI_2, 1e-4, "length");
}

#[test]
fn notches_are_passed_over() {
    // A V of 5 mm outward and a cut of 4 mm inward, each in the middle of a quarter circle's tenth.
    let at = |degrees: f64, r: f64| format!("{} {}", r * degrees.to_radians().cos(), r * degrees.to_radians().sin());
    let arc = |from: f64, to: f64| {
        let steps = 40;
        (1..=steps)
            .map(|i| format!("L{}", at(from + (to - from) * f64::from(i) / f64::from(steps), RADIUS)))
            .collect::<String>()
    };
    let v = format!("{} L{} L{}", arc(0.0, 28.0), at(30.0, RADIUS + 5.0), at(32.0, RADIUS));
    let cut = format!("{} L{} L{}", arc(32.0, 60.0), at(60.0, RADIUS - 4.0), at(60.0, RADIUS));
    let drawing = drawing([half_piece(&format!("{v} {cut} {}", arc(60.0, 90.0)))]);
    let outline = outline(&drawing, 0);
    assert_eq!(outline.notches.len(), 2, "both are seen");
    assert_eq!(outline.corners.len(), 6, "neither is a corner: {:?}", outline.corners);
    let found = edge(&outline, &pointed([(80.0, 0.0), (0.0, 80.0)])).expect("an edge");
    assert_eq!(found.notches, 2, "both lie along the neckline");
    assert_near(found.length_mm, RADIUS * FRAC_PI_2, 0.12, "as if they were not");
}

fn whole_piece(lower: f64) -> BezPath {
    // A half circle of radius 90, its middle at the centre line; shoulders, sides, hem.
    let arc = kurbo::Arc {
        center: Point::ZERO,
        radii: Vec2::new(90.0, lower),
        start_angle: PI,
        sweep_angle: -PI,
        x_rotation: 0.0,
    };
    let mut piece = BezPath::new();
    piece.move_to((-90.0, 0.0));
    arc.to_cubic_beziers(1e-7, |a, b, to| piece.curve_to(a, b, to));
    for to in [(190.0, 30.0), (240.0, 600.0), (-240.0, 600.0), (-190.0, 30.0)] {
        piece.line_to(to);
    }
    piece.close_path();
    piece
}

#[test]
fn a_whole_neckline_is_told_by_its_mirror() {
    let by = Affine::rotate(0.4);
    let drawing = drawing([by * whole_piece(90.0)]);
    let ends = [(-90.0, 0.0), (90.0, 0.0)].map(|p| by * Point::from(p));
    let found = edge(&outline(&drawing, 0), &Chosen { ends, ..pointed([(0.0, 0.0); 2]) }).expect("an edge");
    assert!(found.whole && found.centre_from == CentreFrom::Mirror, "whole: {found:?}");
    assert_near(found.length_mm, 90.0 * FRAC_PI_2, 1e-4, "half of it");
    assert_near(found.width_mm, 90.0, 1e-5, "half its width");
    assert_near(found.depth_mm, 90.0, 1e-5, "its depth");
    assert!(found.mirror_off_mm.is_some_and(|off| off < 1e-3), "its own mirror: {found:?}");
}

#[test]
fn what_cannot_be_taken_says_why() {
    let half = drawing([half_piece(&quarter(RADIUS))]);
    let open = drawing([path(&format!("M80 0{}", quarter(RADIUS)))]);
    let neck = (80.0, 0.0);
    let centre = (0.0, 80.0);
    let tried = |drawing: &Drawing, pointed: &Chosen| edge(&outline(drawing, 0), pointed).expect_err("it is refused");
    assert_eq!(tried(&half, &pointed([neck, neck])), NoEdge::EndsTogether);
    assert!(
        matches!(tried(&half, &pointed([neck, (30.0, 30.0)])), NoEdge::OffLine(off) if (off - 37.57).abs() < 0.1),
        "off the line"
    );
    // A quarter circle by itself is its own mirror, and nothing else tells.
    assert_eq!(tried(&open, &pointed([neck, centre])), NoEdge::HalfOrWhole);
    let said = Chosen { whole: Some(false), ..pointed([neck, centre]) };
    assert_eq!(tried(&open, &said), NoEdge::NoCentreLine);
    // The ends the other way round: the shoulder is no centre line that it hangs beside.
    assert!(
        matches!(tried(&half, &pointed([centre, neck])), NoEdge::NotCentreToNeck(_) | NoEdge::OverCentre(_)),
        "the other way round"
    );
    let whole = Chosen { whole: Some(true), ..pointed([(240.0, 600.0), (0.0, 80.0)]) };
    assert!(matches!(tried(&half, &whole), NoEdge::NotMirrored(_)), "no mirror");
}

#[test]
fn an_open_neckline_hangs_where_the_person_points() {
    let drawing = drawing([path(&format!("M80 0{}", quarter(RADIUS)))]);
    let down = Some(lieflat_bring::Down::To(Point::new(0.0, 300.0)));
    let found = edge(&outline(&drawing, 0), &Chosen { down, ..pointed([(80.0, 0.0), (0.0, 80.0)]) }).expect("an edge");
    assert!(found.centre_from == CentreFrom::Pointed && !found.whole, "as pointed: {found:?}");
    assert_near(found.depth_mm, 80.0, 1e-6, "depth");
}

#[test]
fn the_edge_that_was_tapped_is_suggested_first() {
    let half = outline(&drawing([half_piece(&quarter(RADIUS))]), 0);
    let first = |tapped: (f64, f64)| suggested(&half, Some(tapped.into())).swap_remove(0).ends;
    let is = |ends: [Point; 2], a: (f64, f64), b: (f64, f64)| {
        [[a, b], [b, a]]
            .iter()
            .any(|[a, b]| ends[0].distance((*a).into()) < 1e-6 && ends[1].distance((*b).into()) < 1e-6)
    };
    assert!(is(first((180.0, 150.0)), (240.0, 260.0), (185.0, 40.0)), "the armhole, a finger beside it");
    assert!(is(first((59.0, 57.0)), (80.0, 0.0), (0.0, 80.0)), "the neckline");
    assert!(is(first((120.0, 604.0)), (80.0, 0.0), (0.0, 80.0)), "the hem cannot be one: the likeliest");
    let all = |tapped: Option<Point>| {
        let mut lengths: Vec<_> = suggested(&half, tapped).iter().map(|one| one.length_mm.to_bits()).collect();
        lengths.sort_unstable();
        lengths
    };
    assert_eq!(all(None), all(Some(Point::new(180.0, 150.0))), "the rest goes on being suggested");
}

#[test]
fn the_neckline_is_what_is_suggested_first() {
    let half = drawing([half_piece(&quarter(RADIUS))]);
    let first = suggested(&outline(&half, 0), None).into_iter().next().expect("something is suggested");
    assert!(
        first.ends[0].distance((80.0, 0.0).into()) < 1e-6 && first.ends[1].distance((0.0, 80.0).into()) < 1e-6,
        "{first:?}"
    );
    let whole = drawing([whole_piece(70.0)]);
    let first = suggested(&outline(&whole, 0), None).into_iter().next().expect("something is suggested");
    assert!(
        first.whole && first.ends.iter().all(|end| (end.x.abs() - 90.0).abs() < 1e-6 && end.y.abs() < 1e-6),
        "{first:?}"
    );
}

#[test]
fn one_pointing_serves_every_size() {
    // Sizes nested at the fold and the hem: each 6 mm wider and 8 mm deeper in the neck than the one before.
    let size = |i: u32| {
        let grown = f64::from(i) * 6.0;
        let r = RADIUS + grown;
        path(&format!(
            "M{r} 0{} L0 600 L{} 600 L{} 260 L{} 40 Z",
            quarter(r),
            240.0 + grown,
            240.0 + grown,
            185.0 + grown
        ))
    };
    let mut drawing = drawing((0..5).map(size));
    for (i, line) in drawing.lines.iter_mut().enumerate() {
        line.layer = Some(i);
    }
    // A grain line, and a pocket.
    let more = [path("M120 200V500"), path("M60 300H140V400H60Z")];
    for path in more {
        drawing.lines.push(Line { path, ..drawing.lines[0].clone() });
    }
    let found = sizes(&drawing, 1.0, 2, &pointed([(92.0, 0.0), (0.0, 92.0)])).expect("sizes");
    assert_eq!(
        found.iter().map(|size| size.line).collect::<Vec<_>>(),
        [0, 1, 2, 3, 4],
        "from the smallest to the largest"
    );
    for (i, size) in (0u32..).zip(&found) {
        assert_near(size.edge.length_mm, (RADIUS + 6.0 * f64::from(i)) * FRAC_PI_2, 1e-4, "each its own length");
    }
}

#[test]
fn a_known_lengths_doubt_is_in_what_is_told() {
    let drawing = drawing([half_piece(&quarter(RADIUS))]);
    let sure = edge(&outline(&drawing, 0), &pointed([(80.0, 0.0), (0.0, 80.0)])).expect("an edge");
    assert_near(sure.uncertainty_mm, 0.02, 1e-9, "the file's own rounding");
    let pointed = Chosen { scale_off: 0.005, ..pointed([(80.0, 0.0), (0.0, 80.0)]) };
    let found = edge(&outline(&drawing, 0), &pointed).expect("an edge");
    assert_near(
        found.uncertainty_mm,
        0.005 * found.length_mm,
        0.001,
        "half a percent of scale is half a percent of length",
    );
    assert!(found.half.bounding_box().width() > 79.0, "and the edge is what it was");
}
