//! The seam line against closed forms and published values. Lengths within 0.001 mm, offsets within 0.01 mm.

use core::f64::consts::{FRAC_PI_2, PI};

use lieflat::brief::{Centre, ReadingsAt, ShapeKind};
use lieflat_tests::{brief, close, drafted, drawn, plain, quarter_ellipse};

#[test]
fn a_quarter_circle_moved_outward_grows_by_distance_times_turning() {
    // Steiner's formula, worked values: R 70, d 6: 109.955743 to 119.380521; d 10: 125.663706.
    for (d, expected) in [(6.0, 119.380_521), (10.0, 125.663_706)] {
        let half = || drawn(&quarter_ellipse(70.0, 70.0, 8));
        let plan = lieflat::plan(&brief(half(), half(), d)).expect("a quarter circle plans");
        close(plan.seam_line.front.cut_edge_length_mm, 109.955_743, 0.001, "the arc itself");
        close(plan.seam_line.front.length_mm, expected, 0.001, "the arc moved outward");
        close(plan.seam_line.front.turning_deg, 90.0, 1e-9, "its turning");
        close(plan.seam_line.front.half_width_mm, 70.0 + d, 1e-6, "its radius grows by the distance");
        close(plan.seam_line.front.tightest_radius_mm.unwrap_or(0.0), 70.0 + d, 0.05, "and so does its curve's");
    }
}

#[test]
fn ellipse_perimeters_are_those_of_a_handbook_of_functions() {
    // DLMF 19.30, perimeters by complete elliptic integrals, recomputed to 12 digits.
    for (a, b, perimeter) in [
        (3.0, 2.0, 15.865_439_589_291),
        (5.0, 3.0, 25.526_998_863_398),
        (10.0, 5.0, 48.442_241_102_738),
        (2.0, 1.0, 9.688_448_220_548),
    ] {
        let scale = 20.0;
        let half = || drawn(&quarter_ellipse(a * scale, b * scale, 16));
        let mut brief = brief(half(), half(), 0.0);
        brief.neckline.readings_at = ReadingsAt::SeamLine;
        let plan = lieflat::plan(&brief).expect("an ellipse plans");
        close(plan.seam_line.whole_length_mm, perimeter * scale, 0.001, "perimeter");
        let d = 9.0;
        brief.neckline.readings_at = ReadingsAt::CutEdge;
        brief.neckline.neckline_allowance_mm = d;
        let moved = lieflat::plan(&brief).expect("an ellipse moved outward plans");
        close(moved.seam_line.whole_length_mm, perimeter * scale + d * 2.0 * PI, 0.001, "Steiner on an ellipse");
    }
}

#[test]
fn curves_with_published_lengths_have_them() {
    // Parabola y = x^2 from 0 to 1: 1.478942857545 (closed form). Scaled by 100, vertex at centre front:
    // a quadratic with handles (0, 0) (1/2, 0) (1, 1), y turned to run down.
    let parabola = drawn("M 0 100 Q 50 100 100 0");
    // Semicubical parabola y^2 = x^3 from 0 to 1: 1.439709873372; the cubic (0,0),(0,0),(1/3,0),(1,1).
    let semicubical = drawn("M 0 100 C 0 100 33.333333333333336 100 100 0");
    let mut brief = brief(parabola, semicubical, 0.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    let plan = lieflat::plan(&brief).expect("both plan");
    close(plan.seam_line.front.length_mm, 147.894_285_754_5, 0.001, "parabola");
    close(plan.seam_line.back.length_mm, 143.970_987_337_2, 0.001, "semicubical parabola");
}

#[test]
fn a_general_outline_agrees_with_high_precision_quadrature() {
    // Reference 324.23444350774981791 mm by mpmath at 30 digits, for this outline; drawn here with its centre at
    // x = 0 and its neck point at the right, as it stands.
    let path = "M 0 200 C 0 120 40 80 100 70 C 120 66 140 60 150 40 C 160 25 170 12 180 0 C 190 -8 200 -10 210 -10";
    let mut brief = brief(drawn(path), drawn(&quarter_ellipse(210.0, 100.0, 4)), 0.0);
    brief.neckline.readings_at = ReadingsAt::SeamLine;
    let plan = lieflat::plan(&brief).expect("the outline plans");
    close(plan.seam_line.front.length_mm, 324.234_443_507_749_8, 0.001, "length");
    // kurbo's own arc length, at 1e-9.
    let kurbo: f64 = kurbo::BezPath::from_svg(path)
        .expect("the path reads")
        .segments()
        .map(|s| kurbo::ParamCurveArclen::arclen(&s, 1e-9))
        .sum();
    close(plan.seam_line.front.length_mm, kurbo, 1e-6, "kurbo's length");
}

#[test]
fn a_path_reads_the_same_from_either_end() {
    let (there, back) = ("M 0 100 C 60 100 90 60 90 0", "M 90 0 C 90 60 60 100 0 100");
    let plan = lieflat::plan(&brief(drawn(there), drawn(back), 10.0)).expect("both ends plan");
    close(plan.seam_line.front.length_mm, plan.seam_line.back.length_mm, 1e-9, "either end");
}

#[test]
fn the_point_of_a_v_moves_down_by_the_allowance_over_the_sine_of_its_half_angle() {
    // Elementary trigonometry: a line moved by a meets the centre line a / sin(alpha) lower.
    let (w, d, a) = (85.0_f64, 190.0, 10.0);
    let plan = lieflat::plan(&brief(drafted(w, d, plain(ShapeKind::V)), drafted(w, 40.0, plain(ShapeKind::Round)), a))
        .expect("a V plans");
    let alpha = (w / d).atan();
    let front = &plan.seam_line.front;
    let lowest = front.seam_line.first().map_or(0.0, |p| p[1]);
    close(lowest, d + a / alpha.sin(), 1e-9, "the point");
    close(front.point_half_angle_deg.unwrap_or(0.0), alpha.to_degrees(), 1e-9, "its half angle");
    // The moved leg, cut off by the level shoulder line y = 0: exactly the hypotenuse over the new depth.
    close(front.length_mm, (d + a / alpha.sin()) / alpha.cos(), 1e-9, "the leg");
}

#[test]
fn a_centre_seam_and_a_shoulder_seam_trim_a_square_neck_exactly() {
    // A square neck 90 by 80 with 10 mm all round, sharp corner: seam line (90 + 10 - 10) across and
    // (80 + 10 - 10) up. Plain arithmetic of right angles.
    let mut half = drafted(90.0, 80.0, plain(ShapeKind::Square));
    half.centre = Centre::Seam { allowance_mm: 10.0 };
    half.shoulder_allowance_mm = 10.0;
    let plan = lieflat::plan(&brief(half.clone(), half, 10.0)).expect("a square neck plans");
    close(plan.seam_line.front.length_mm, 90.0 + 80.0, 1e-9, "seam line");
    close(plan.seam_line.front.half_width_mm, 90.0, 1e-9, "half width from the seam");
    close(plan.seam_line.front.depth_mm, 80.0, 1e-9, "depth below the shoulder seam");
    close(plan.seam_line.front.turning_deg.to_radians(), FRAC_PI_2, 1e-9, "one right angle");
}

#[test]
fn round_necks_at_twenty_degree_shoulders_turn_by_280_degrees() {
    // The two halves of a round neck square to a shoulder of slope b turn by 90 - b each: 4 (90 - 20) = 280.
    let mut half = drafted(90.0, 90.0, plain(ShapeKind::Round));
    half.shoulder_slope_deg = 20.0;
    let plan = lieflat::plan(&brief(half.clone(), half, 10.0)).expect("a round neck plans");
    close(plan.seam_line.whole_turning_deg, 280.0, 1e-6, "laid flat and joined");
}

#[test]
fn a_curve_that_bends_away_too_tightly_is_refused_with_the_largest_allowance() {
    // A bump of radius 8 toward the opening: an allowance of 12 folds back, 8 is the most. The quarter
    // circles are within 0.03 percent of round.
    let k = 8.0 * 0.552_284_75;
    let bump = format!(
        "M 0 100 L 40 100 C {} 100 48 {} 48 92 L 48 60 C 48 {} {} 52 56 52 C {} 52 64 {} 64 60 L 64 80 L 90 80 L 90 0",
        40.0 + k,
        92.0 + k,
        60.0 - k,
        56.0 - k,
        56.0 + k,
        60.0 - k
    );
    let errors = lieflat::plan(&brief(drawn(&bump), drafted(90.0, 40.0, plain(ShapeKind::Round)), 12.0))
        .expect_err("this cannot be moved");
    let error = errors.errors.first().expect("one error at least");
    assert_eq!(error.field, "neckline.neckline_allowance_mm", "the allowance is named");
    assert!(matches!(error.problem, lieflat::error::Problem::CuspAt { .. }), "a cusp: {:?}", error.problem);
    close(error.accepted.max.unwrap_or(0.0), 8.0, 0.15, "the largest that works");
}

#[test]
fn a_reentrant_corner_overlaps_and_is_trimmed_to_its_crossing() {
    // A step: across at y 100, up, across, up; the inner corner turns away from the opening. Moved by 6 each
    // straight stays straight: lengths by plain arithmetic.
    let step = drawn("M 0 100 L 50 100 L 50 60 L 90 60 L 90 0");
    let plan = lieflat::plan(&brief(step, drafted(90.0, 40.0, plain(ShapeKind::Round)), 6.0)).expect("a step plans");
    // Moved: across to x 56 at y 106, up to y 66, across to x 96, up to y 0.
    close(plan.seam_line.front.length_mm, 56.0 + 40.0 + 40.0 + 66.0, 1e-6, "seam line of a step");
}
