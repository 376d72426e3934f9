//! Properties that hold of every brief: no panic, finite figures, mirrored ends, monotone answers.
#![allow(missing_docs, reason = "a test binary has no public items")]

use lieflat::brief::{Drafted, Measured, Outline, ReadingsAt, Shape, ShapeKind, Stretch};
use lieflat_tests::{band, brief, drafted, knit, plain};
use proptest::prelude::*;

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![4 => 0.0..300.0, 1 => -50.0..2000.0, 1 => any::<f64>()]
}

fn kind() -> impl Strategy<Value = ShapeKind> {
    prop_oneof![
        Just(ShapeKind::Round),
        Just(ShapeKind::Scoop),
        Just(ShapeKind::V),
        Just(ShapeKind::Square),
        Just(ShapeKind::Boat)
    ]
}

fn outline() -> impl Strategy<Value = Outline> {
    let maybe = || prop::option::of(any_number());
    let shape = || {
        (kind(), maybe(), maybe(), maybe()).prop_map(
            |(kind, roundness_percent, corner_radius_mm, leg_hollow_percent)| Shape {
                kind,
                roundness_percent,
                corner_radius_mm,
                leg_hollow_percent,
            },
        )
    };
    prop_oneof![
        (any_number(), any_number(), shape()).prop_map(|(half_width_mm, depth_mm, shape)| Outline::Drafted(Drafted {
            half_width_mm,
            depth_mm,
            shape
        })),
        (any_number(), any_number(), kind()).prop_map(|(half_width_mm, depth_mm, kind)| Outline::Drafted(Drafted {
            half_width_mm,
            depth_mm,
            shape: Shape::plain(kind)
        })),
        (any_number(), maybe(), maybe(), kind()).prop_map(|(half_length_mm, half_width_mm, depth_mm, kind)| {
            Outline::Measured(Measured { half_length_mm, half_width_mm, depth_mm, shape: Shape::plain(kind) })
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_brief_makes_the_core_panic_and_every_plan_is_finite(
        front in outline(), back in outline(), allowance in any_number(), shoulder in any_number(),
        slope in any_number(), width in any_number(), stretch in any_number(), seam in any::<bool>(),
    ) {
        let mut brief = lieflat::example::brief();
        brief.neckline.front.outline = front;
        brief.neckline.back.outline = back;
        brief.neckline.front.shoulder_allowance_mm = shoulder;
        brief.neckline.front.shoulder_slope_deg = slope;
        brief.neckline.neckline_allowance_mm = allowance;
        if seam { brief.neckline.readings_at = ReadingsAt::SeamLine; }
        brief.finish = band(width);
        brief.garment_knit.crosswise = Stretch::Percent { stretch_percent: stretch, recovery_percent: None };
        if let Ok(plan) = lieflat::plan(&brief) {
            let strip = plan.strip.expect("a band has a strip");
            prop_assert!(strip.cut_length.exact_mm.is_finite() && strip.cut_length.exact_mm > 0.0, "a length");
            prop_assert!(strip.cut_length.low_mm <= strip.cut_length.exact_mm, "a range below");
            prop_assert!(strip.cut_length.high_mm >= strip.cut_length.exact_mm, "a range above");
            prop_assert!(plan.seam_line.whole_length_mm > 0.0, "a seam line");
            prop_assert!(plan.working.iter().all(|step| step.result.is_finite()), "a finite working");
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in ".{0,200}", at in 0_usize..2000, byte in any::<char>()) {
        let _ = lieflat::Brief::from_json(&text);
        let mut example = serde_json::to_string(&lieflat::example::brief()).expect("it writes");
        let at = (0..=at % example.len()).rev().find(|i| example.is_char_boundary(*i)).unwrap_or(0);
        example.insert(at, byte);
        let _ = lieflat::Brief::from_json(&example).and_then(|brief| lieflat::plan(&brief));
        let _ = lieflat::length::parse_length_mm(&text, lieflat::length::LengthUnit::Inch);
    }

    #[test]
    fn a_stretchier_knit_is_never_cut_longer(a in 5.0..150.0_f64, more in 1.0..50.0_f64, width in 6.0..30.0_f64) {
        let length = |stretch| {
            let half = || drafted(95.0, 90.0, plain(ShapeKind::Round));
            let mut brief = brief(half(), half(), 6.0);
            brief.finish = band(width);
            brief.garment_knit = knit(stretch, 95.0);
            lieflat::plan(&brief).expect("it plans").strip.expect("a strip").relaxed_length_mm
        };
        prop_assert!(length(a + more) <= length(a) + 1e-9, "stretchier is shorter");
    }

    #[test]
    fn a_seam_line_brief_keeps_its_line(width in 40.0..200.0_f64, depth in 20.0..200.0_f64, kind in kind(), a in 0.0..30.0_f64) {
        let half = || drafted(width, depth, plain(kind));
        let mut brief = brief(half(), half(), 0.0);
        let known = lieflat::plan(&brief).expect("it plans").seam_line.whole_length_mm;
        brief.neckline.readings_at = ReadingsAt::SeamLine;
        brief.neckline.neckline_allowance_mm = a;
        let seam = lieflat::plan(&brief).expect("it plans").seam_line.whole_length_mm;
        prop_assert!((known - seam).abs() < 1e-9, "the seam line of a seam-line brief is itself");
    }

    #[test]
    fn a_measured_half_has_the_length_that_was_read(width in 50.0..150.0_f64, depth in 40.0..200.0_f64, kind in kind()) {
        let half = || drafted(width, depth, plain(kind));
        let length = lieflat::plan(&brief(half(), half(), 0.0)).expect("it plans").seam_line.front.length_mm;
        let mut measured = half();
        measured.outline = Outline::Measured(Measured {
            half_length_mm: length, half_width_mm: Some(width), depth_mm: None, shape: plain(kind),
        });
        let plan = lieflat::plan(&brief(measured, half(), 0.0)).expect("it plans");
        prop_assert!((plan.seam_line.front.length_mm - length).abs() < 1e-6, "the length");
        prop_assert!((plan.seam_line.front.depth_mm - depth).abs() < 1e-3, "and the depth comes back");
    }
}
