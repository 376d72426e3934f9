//! Properties that hold of every brief: no panic, finite figures, mirrored ends, monotone answers.

use geo::{Contains, Distance, Euclidean, Validation};
use lieflat::brief::{
    AdultGroup, Band, Bound, Centre, ChildGroup, Direction, Drafted, Drawn, EdgePart, Facing, Finish, Half, HeadGirth,
    Knit, Layers, Measured, Outline, PatternAsks, PointFinish, ReadingsAt, Rounding, Rules, Shape, ShapeKind, StayEdge,
    Stitch, Stretch, Tape,
};
use lieflat::plan::{Figure, Mark, MeasuredFrom, OpeningPlan, Part, StripPlan, TapeFit};
use lieflat::{Brief, Plan};
use lieflat_tests::{band, brief, drafted, knit, plain, realistic};
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use serde_json::{Value, json};

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
        let _ = Brief::from_json(&text);
        let mut example = serde_json::to_string(&lieflat::example::brief()).expect("it writes");
        let at = (0..=at % example.len()).rev().find(|i| example.is_char_boundary(*i)).unwrap_or(0);
        example.insert(at, byte);
        let _ = Brief::from_json(&example).and_then(|brief| lieflat::plan(&brief));
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

/// Every cut figure of a plan.
fn cut_figures(plan: &Plan) -> Vec<&Figure> {
    let strip = plan.strip.iter().flat_map(|strip| [&strip.cut_length, &strip.cut_width]);
    let facing = plan.facing.iter().flat_map(|facing| {
        let [front, back] = [&facing.front, &facing.back];
        [&front.seam_edge, &front.outer_edge, &back.seam_edge, &back.outer_edge, &facing.cut_width]
    });
    strip.chain(facing).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    /// A figure outside its own range tells a maker to cut what the plan itself says is wrong.
    #[test]
    fn every_cut_figure_lies_within_its_own_range(brief in full()) {
        cut_figures_lie_within_their_ranges(&brief)?;
    }
}

fn cut_figures_lie_within_their_ranges(brief: &Brief) -> Result<(), TestCaseError> {
    for rounding in [Rounding::Millimetre, Rounding::EighthInch] {
        let brief = Brief { rounding, ..brief.clone() };
        let Ok(plan) = lieflat::plan(&brief) else { continue };
        let half_step = 0.5 * rounding.step_mm();
        for figure in cut_figures(&plan) {
            let (low, high) = (figure.low_mm, figure.high_mm);
            let within = low <= figure.cut_mm && figure.cut_mm <= high;
            // A range narrower than half a step may hold nothing that can be cut; then the nearest half step is.
            let too_narrow = high - low < half_step && (low / half_step).ceil() * half_step > high;
            let nearest = (figure.cut_mm - figure.exact_mm).abs() <= 0.5 * half_step + 1e-9;
            prop_assert!(within || too_narrow && nearest, "{rounding:?}: {figure:?}");
            let steps = figure.cut_mm / half_step;
            prop_assert!((steps - steps.round()).abs() < 1e-6, "on a ruler's mark: {figure:?}");
        }
    }
    Ok(())
}

/// On a seam: within the allowance and caught, or at the raw edge and said to reach further. On a bound edge: within the
/// binding. Common practice, see `stay_tape.rs`.
fn stay_tapes_lie_well(brief: &Brief) -> Result<(), TestCaseError> {
    let (tape, catch) = (brief.stays.tape_width_mm, brief.stays.catch_mm);
    let Ok(plan) = lieflat::plan_without_ranges(brief) else { return Ok(()) };
    for zone in &plan.stays.zones {
        let (fit, past, widest) = (zone.fit, zone.past_stitching_mm, zone.widest_tape_mm);
        prop_assert_eq!(fit == TapeFit::Fits, tape <= widest + 1e-9, "it fits where it is no wider: {:?}", zone);
        if let (Finish::Bound(bound), Some(_)) = (&brief.finish, zone.from_mm) {
            prop_assert_eq!(zone.measured_from, MeasuredFrom::TrimmedEdge, "trimmed first");
            prop_assert!(zone.from_edge_mm + zone.tape_width_mm <= bound.width_mm - 1.0 + 1e-9, "within: {:?}", zone);
        } else {
            prop_assert_eq!(zone.measured_from, MeasuredFrom::RawEdge, "as it is cut");
            prop_assert!(zone.from_edge_mm >= 0.0, "not past the raw edge");
            let caught = (past - catch).abs() < 1e-9;
            prop_assert!(caught || zone.from_edge_mm == 0.0 && past > catch, "caught, or told: {:?}", zone);
            prop_assert_eq!(caught, tape <= widest + 1e-9, "by more where it is too wide: {:?}", zone);
        }
        let seam = |half: &Half| matches!(half.centre, Centre::Seam { .. });
        let of_half = if zone.part == Part::BackNeckline { &brief.neckline.back } else { &brief.neckline.front };
        if seam(of_half) && zone.from_mm.is_some() {
            prop_assert_eq!(zone.pieces, 2, "none crosses a centre seam: {:?}", zone);
        }
        prop_assert!(zone.outline.iter().flatten().all(|v| v.is_finite()), "drawn: {:?}", zone);
    }
    Ok(())
}

#[test]
fn ordinary_necklines_are_cut_within_their_ranges_and_stayed_where_it_serves() {
    for brief in realistic::briefs(2500, 31) {
        let held = cut_figures_lie_within_their_ranges(&brief).and_then(|()| stay_tapes_lie_well(&brief));
        held.unwrap_or_else(|failed| panic!("{:?}: {failed}", brief.title));
    }
}

fn shaped() -> impl Strategy<Value = Shape> {
    prop_oneof![
        (prop_oneof![Just(ShapeKind::Round), Just(ShapeKind::Scoop), Just(ShapeKind::Boat)], 30.0..80.0_f64)
            .prop_map(|(kind, percent)| Shape { roundness_percent: Some(percent), ..plain(kind) }),
        (-7.0..7.0_f64).prop_map(|percent| Shape { leg_hollow_percent: Some(percent), ..plain(ShapeKind::V) }),
        (0.0..30.0_f64).prop_map(|radius| Shape { corner_radius_mm: Some(radius), ..plain(ShapeKind::Square) }),
    ]
}

/// A half that a person might draft.
fn sensible_half() -> impl Strategy<Value = Half> {
    (60.0..140.0_f64, 40.0..180.0_f64, shaped(), 0.0..14.0_f64, 0.0..28.0_f64, prop::option::of(0.0..14.0_f64))
        .prop_map(|(width, depth, shape, shoulder_allowance_mm, shoulder_slope_deg, seam)| Half {
            centre: seam.map_or(Centre::Fold, |allowance_mm| Centre::Seam { allowance_mm }),
            shoulder_allowance_mm,
            shoulder_slope_deg,
            ..drafted(width, depth, shape)
        })
}

fn sensible_finish() -> impl Strategy<Value = Finish> {
    let own = || prop::option::weighted(0.2, 75.0..100.0_f64);
    let layers = prop_oneof![Just(Layers::Folded), Just(Layers::Single)];
    let point = prop_oneof![Just(PointFinish::Mitre), Just(PointFinish::Lap)];
    prop_oneof![
        (5.0..30.0_f64, layers.clone(), point, 0.0..12.0_f64, own()).prop_map(
            |(width_mm, layers, point, join_allowance_mm, ratio_percent)| Finish::Band(Band {
                width_mm,
                layers,
                point,
                join_allowance_mm,
                ratio_percent
            })
        ),
        (5.0..25.0_f64, 0.0..8.0_f64, 0.0..12.0_f64, own()).prop_map(
            |(width_mm, turn_under_mm, join_allowance_mm, ratio_percent)| Finish::Tape(Tape {
                width_mm,
                turn_under_mm,
                join_allowance_mm,
                ratio_percent
            })
        ),
        (4.0..14.0_f64, layers, 0.0..8.0_f64, 0.0..12.0_f64, own()).prop_map(
            |(width_mm, layers, turn_under_mm, join_allowance_mm, ratio_percent)| Finish::Bound(Bound {
                width_mm,
                layers,
                turn_under_mm,
                join_allowance_mm,
                ratio_percent
            })
        ),
        (25.0..70.0_f64, 0.0..12.0_f64, prop::option::of(1.0..24.0_f64)).prop_map(
            |(width_mm, edge_allowance_mm, topstitch_mm)| Finish::Facing(Facing {
                width_mm,
                understitch_mm: 1.6,
                edge_allowance_mm,
                topstitch_mm
            })
        ),
    ]
}

/// A brief that a person might write; now and then one that cannot be sewn.
fn sensible() -> impl Strategy<Value = Brief> {
    let at = prop_oneof![Just(ReadingsAt::CutEdge), Just(ReadingsAt::SeamLine)];
    (sensible_half(), sensible_half(), 0.0..14.0_f64, sensible_finish(), 15.0..120.0_f64, at).prop_map(
        |(front, back, allowance, finish, stretch, at)| {
            let mut brief = brief(front, back, allowance);
            brief.neckline.readings_at = at;
            brief.finish = finish;
            brief.garment_knit = Knit { thickness_mm: Some(0.8), ..knit(stretch, 92.0) };
            brief
        },
    )
}

fn strip(brief: &Brief) -> Option<StripPlan> {
    lieflat::plan_without_ranges(brief).ok()?.strip
}

/// Every length of a brief's neckline and finish, c times as long.
fn scaled(brief: &Brief, c: f64) -> Brief {
    let mut large = brief.clone();
    large.neckline.neckline_allowance_mm *= c;
    for half in [&mut large.neckline.front, &mut large.neckline.back] {
        half.shoulder_allowance_mm *= c;
        if let Centre::Seam { allowance_mm } = &mut half.centre {
            *allowance_mm *= c;
        }
        if let Outline::Drafted(draft) = &mut half.outline {
            draft.half_width_mm *= c;
            draft.depth_mm *= c;
            draft.shape.corner_radius_mm = draft.shape.corner_radius_mm.map(|r| r * c);
        }
    }
    match &mut large.finish {
        Finish::Band(band) => {
            band.width_mm *= c;
            band.join_allowance_mm *= c;
        }
        Finish::Tape(tape) => {
            tape.width_mm *= c;
            tape.turn_under_mm *= c;
            tape.join_allowance_mm *= c;
        }
        _ => {}
    }
    large.garment_knit.thickness_mm = large.garment_knit.thickness_mm.map(|t| t * c);
    large.rules.mark_tolerance_mm *= c;
    large
}

/// The same brief with much else in it that a person may say.
fn full() -> impl Strategy<Value = Brief> {
    let stretch = prop_oneof![
        (10.0..150.0_f64, prop::option::of(40.0..100.0_f64))
            .prop_map(|(stretch_percent, recovery_percent)| { Stretch::Percent { stretch_percent, recovery_percent } }),
        (50.0..200.0_f64, 1.1..2.5_f64, prop::option::of(0.0..1.0_f64)).prop_map(|(rest_mm, by, back)| {
            let stretched_mm = rest_mm * by;
            let released_mm = back.map(|share| rest_mm + share * (stretched_mm - rest_mm));
            Stretch::Readings { rest_mm, stretched_mm, released_mm }
        }),
    ];
    let maybe = |most: f64| prop::option::of(0.0..most);
    let knit = (stretch.clone(), prop::option::of(stretch.clone()), prop::option::of(stretch), maybe(3.0), maybe(20.0));
    let knit = knit.prop_map(|(crosswise, lengthwise, diagonal, thickness_mm, elastane_percent)| Knit {
        name: Some("Invented".to_owned()),
        crosswise,
        lengthwise,
        diagonal,
        kind: None,
        poisson_ratio: None,
        swatch_width: None,
        thickness_mm,
        elastane_percent,
        learned: Vec::new(),
    });
    let way = || prop_oneof![Just(Direction::Crosswise), Just(Direction::Lengthwise), Just(Direction::Diagonal)];
    let girth = prop_oneof![
        (300.0..650.0_f64).prop_map(HeadGirth::OwnMm),
        prop_oneof![Just(AdultGroup::Women), Just(AdultGroup::Men)].prop_map(HeadGirth::Adult),
        (prop_oneof![Just(ChildGroup::Girls), Just(ChildGroup::Boys)], 0.0..60.0_f64)
            .prop_map(|(group, age_months)| HeadGirth::Child { group, age_months }),
    ];
    let stitch = prop_oneof![
        Just(Stitch::Straight),
        Just(Stitch::Overlock),
        (0.1..10.0_f64, 0.2..10.0_f64).prop_map(|(width_mm, advance_mm)| Stitch::Zigzag { width_mm, advance_mm }),
    ];
    let part = prop_oneof![
        Just(EdgePart::CentreFrontSeam),
        Just(EdgePart::CentreBackSeam),
        Just(EdgePart::Shoulder),
        Just(EdgePart::Gathered),
        Just(EdgePart::Other)
    ];
    let edge = (part, 20.0..400.0_f64, prop::option::of(1.0..3.0_f64), way(), ".{0,12}").prop_map(
        |(part, length_mm, gathers, direction, name)| StayEdge {
            name,
            part,
            length_mm,
            gathered_from_mm: gathers.map(|by| by * length_mm),
            direction,
            allowance_mm: 8.0,
            pieces: 2,
        },
    );
    let asks = (maybe(100.0), maybe(100.0))
        .prop_map(|(crosswise_percent, lengthwise_percent)| PatternAsks { crosswise_percent, lengthwise_percent });
    let knits = (knit.clone(), prop::option::of(knit), way());
    let rest = (girth, stitch, prop::collection::vec(edge, 0..4), prop::option::of(asks), any::<bool>());
    (sensible(), knits, rest, prop::option::of(".{0,30}")).prop_map(
        |(mut brief, (garment_knit, strip_knit, way), (girth, stitch, edges, asks, inch), title)| {
            brief.title = title;
            brief.garment_knit = garment_knit;
            brief.strip_knit = strip_knit;
            brief.strip_direction = way;
            brief.head.girth = girth;
            brief.stitch = stitch;
            brief.stays.edges = edges;
            brief.pattern_asks = asks;
            brief.rounding = if inch { Rounding::EighthInch } else { Rounding::Millimetre };
            brief
        },
    )
}

/// A brief as a person would write it, its numbers to 1/1000: the reader is exact for such, and may be off in the last
/// of 17 digits for others.
fn written(brief: &Brief) -> Brief {
    fn round(value: &mut Value) {
        match value {
            Value::Object(fields) => fields.values_mut().for_each(round),
            Value::Array(items) => items.iter_mut().for_each(round),
            Value::Number(number) if number.is_f64() => {
                *value = json!((number.as_f64().unwrap_or(0.0) * 1000.0).round() / 1000.0);
            }
            _ => {}
        }
    }
    let mut json = serde_json::to_value(brief).expect("a brief writes");
    round(&mut json);
    serde_json::from_value(json).expect("a rounded brief reads")
}

/// Pointers to all values within a JSON value.
fn pointers(value: &Value, at: &str, all: &mut Vec<String>) {
    all.push(at.to_owned());
    match value {
        Value::Object(fields) => fields.iter().for_each(|(name, v)| pointers(v, &format!("{at}/{name}"), all)),
        Value::Array(items) => items.iter().enumerate().for_each(|(i, v)| pointers(v, &format!("{at}/{i}"), all)),
        _ => {}
    }
}

fn any_json() -> impl Strategy<Value = Value> {
    prop_oneof![
        3 => any::<f64>().prop_map(|n| json!(n)),
        2 => prop_oneof![Just(0.0), Just(-1.0), Just(1e308), Just(5e-324), Just(1e9)].prop_map(|n: f64| json!(n)),
        1 => ".{0,20}".prop_map(|text| json!(text)),
        1 => prop_oneof![Just(json!(null)), Just(json!({})), Just(json!([])), Just(json!(true))],
    ]
}

/// How far an even spread over the marks' spans is off at a place of the strip that is known, mm.
fn off_by_marks(marks: &[Mark], place: &Mark) -> f64 {
    let mut spans = marks.iter().zip(marks.iter().skip(1));
    let inside = spans.clone().find(|(_, b)| b.on_seam_line_mm >= place.on_seam_line_mm - 1e-9);
    let (a, b) = inside.or_else(|| spans.next_back()).expect("two marks at least");
    let share = (place.on_seam_line_mm - a.on_seam_line_mm) / (b.on_seam_line_mm - a.on_seam_line_mm).max(1e-12);
    (a.on_strip_mm + share * (b.on_strip_mm - a.on_strip_mm) - place.on_strip_mm).abs()
}

/// A closed outline; points within a millionth of a mm of one another are one.
fn polygon(points: &[[f64; 2]]) -> geo::Polygon {
    let mut points: Vec<geo::Coord> = points.iter().map(|p| geo::coord! { x: p[0], y: p[1] }).collect();
    points.dedup_by(|next, kept| (next.x - kept.x).hypot(next.y - kept.y) < 1e-6);
    geo::Polygon::new(points.into(), Vec::new())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_neckline_c_times_as_large_takes_a_strip_c_times_as_long(brief in sensible(), c in 0.7..1.4_f64) {
        prop_assume!(!matches!(brief.finish, Finish::Facing(_) | Finish::Bound(_)));
        let large = scaled(&brief, c);
        let (Some(own), Some(scaled)) = (strip(&brief), strip(&large)) else { return Ok(()) };
        let alike = |a: f64, b: f64| (a * c - b).abs() <= 1e-6 * b.abs().max(1.0);
        prop_assert!(alike(own.relaxed_length_mm, scaled.relaxed_length_mm), "relaxed length: {} and {}", own.relaxed_length_mm * c, scaled.relaxed_length_mm);
        prop_assert!(alike(own.cut_length.exact_mm, scaled.cut_length.exact_mm), "cut length");
        prop_assert!(alike(own.cut_width.exact_mm, scaled.cut_width.exact_mm), "cut width");
        prop_assert_eq!(own.marks.len(), scaled.marks.len(), "as many marks");
        for (a, b) in own.marks.iter().zip(&scaled.marks) {
            prop_assert!(alike(a.on_strip_mm, b.on_strip_mm) && alike(a.on_seam_line_mm, b.on_seam_line_mm), "a mark");
        }
    }

    #[test]
    fn front_and_back_exchanged_make_the_same_round(mut brief in sensible()) {
        let Ok(one) = lieflat::plan_without_ranges(&brief) else { return Ok(()) };
        std::mem::swap(&mut brief.neckline.front, &mut brief.neckline.back);
        let other = lieflat::plan_without_ranges(&brief).expect("the exchanged halves plan too");
        let (one, other) = (one.seam_line, other.seam_line);
        prop_assert!((one.whole_length_mm - other.whole_length_mm).abs() < 1e-9, "length");
        prop_assert!((one.whole_turning_deg - other.whole_turning_deg).abs() < 1e-9, "turning");
        prop_assert_eq!(one.front, other.back, "the halves are the same");
    }

    #[test]
    fn a_told_path_turned_round_is_the_same_half(brief in sensible()) {
        let Ok(told) = lieflat::told(&brief) else { return Ok(()) };
        let path = kurbo::BezPath::from_svg(&told.front.path_mm).expect("a told path reads");
        let drawn = |path: &kurbo::BezPath| {
            let mut brief = brief.clone();
            brief.neckline.front.outline = Outline::Drawn(Drawn { path_mm: path.to_svg(), uncertainty_mm: None });
            lieflat::plan_without_ranges(&brief).map(|plan| plan.seam_line.front.length_mm)
        };
        match (drawn(&path), drawn(&path.reverse_subpaths())) {
            (Ok(there), Ok(back)) => prop_assert!((there - back).abs() < 1e-9, "{there} and {back}"),
            (there, back) => prop_assert_eq!(there.is_err(), back.is_err(), "either both or neither plans"),
        }
    }

    #[test]
    fn a_round_neck_takes_less_strip_the_wider_it_is_and_more_the_larger_the_allowance(
        size in 80.0..140.0_f64, width in 5.0..20.0_f64, allowance in 0.0..12.0_f64, more in 0.5..6.0_f64,
        stretch in 20.0..120.0_f64,
    ) {
        let relaxed = |width, allowance| {
            let half = || drafted(size, size, plain(ShapeKind::Round));
            let mut brief = brief(half(), half(), allowance);
            brief.finish = band(width);
            brief.garment_knit = knit(stretch, 95.0);
            strip(&brief).expect("a round neck plans").relaxed_length_mm
        };
        prop_assert!(relaxed(width + more, allowance) <= relaxed(width, allowance) + 1e-9, "wider is no longer");
        prop_assert!(relaxed(width, allowance + more) > relaxed(width, allowance), "a larger opening takes more");
    }

    #[test]
    fn a_band_becomes_a_tape_as_its_width_goes_to_nothing(size in 90.0..140.0_f64, depth in 80.0..160.0_f64) {
        // The rule is linear in the width where no limit bites and the hold is the same all along, as it is where it is no more
        // than a straight run's: L(0) = 2 L(w) - L(2 w). Equal holds, no turn of cloth.
        let relaxed = |finish| {
            let half = || drafted(size, depth, plain(ShapeKind::Round));
            let mut brief = brief(half(), half(), 5.0);
            brief.finish = finish;
            brief.garment_knit = knit(50.0, 100.0);
            (brief.rules.hold_share, brief.rules.tape_hold) = (0.03, 0.03 * 0.5);
            strip(&brief).expect("a round neck plans").relaxed_length_mm
        };
        let tape = Tape { width_mm: 3.0, turn_under_mm: 0.0, join_allowance_mm: 0.0, ratio_percent: None };
        let gone = 2.0 * relaxed(band(4.0)) - relaxed(band(8.0));
        prop_assert!((gone - relaxed(Finish::Tape(tape))).abs() < 1e-6, "the same strip");
    }

    #[test]
    fn stay_tapes_lie_where_their_stitching_wants_them(brief in full(), tape in 4.0..20.0_f64, catch in 0.0..3.0_f64) {
        let mut brief = brief;
        (brief.stays.tape_width_mm, brief.stays.catch_mm) = (tape, catch);
        stay_tapes_lie_well(&brief)?;
    }

    #[test]
    fn any_brief_round_trips_and_plans_the_same_twice(brief in full()) {
        let brief = written(&brief);
        let text = serde_json::to_string(&brief).expect("a brief writes");
        let again = Brief::from_json(&text).expect("what was written reads");
        prop_assert_eq!(&again, &brief, "the same brief");
        prop_assert_eq!(lieflat::plan(&again), lieflat::plan(&brief), "and the same plan or problems");
    }

    #[test]
    fn quick_plans_have_the_figures_of_whole_ones(brief in full()) {
        match (lieflat::plan(&brief), lieflat::plan_without_ranges(&brief)) {
            (Ok(whole), Ok(quick)) => {
                prop_assert_eq!(&whole.seam_line, &quick.seam_line, "the seam line");
                let figures = |plan: &Plan| plan.strip.as_ref().map(|s| (s.cut_length.exact_mm, s.marks.clone()));
                prop_assert_eq!(figures(&whole), figures(&quick), "the strip");
                prop_assert_eq!(&whole.stays, &quick.stays, "the stays");
                let tried = OpeningPlan { remedies: Vec::new(), ..whole.opening.clone() };
                prop_assert_eq!(&tried, &quick.opening, "the opening, but for remedies, which are tried one by one");
            }
            (whole, quick) => prop_assert_eq!(whole.err(), quick.err(), "the same problems"),
        }
    }

    #[test]
    fn no_change_to_a_briefs_json_makes_the_core_panic(
        brief in full(), changes in prop::collection::vec((any::<prop::sample::Index>(), any_json()), 1..4),
    ) {
        let mut json = serde_json::to_value(&brief).expect("a brief writes");
        for (index, value) in changes {
            let mut all: Vec<String> = Vec::new();
            pointers(&json, "", &mut all);
            if let Some(place) = json.pointer_mut(index.get(all.as_slice()).as_str()) {
                *place = value;
            }
        }
        match Brief::from_json(&json.to_string()).and_then(|brief| lieflat::plan(&brief)) {
            Ok(plan) => prop_assert!(plan.working.iter().all(|step| step.result.is_finite()), "a finite working"),
            Err(errors) => prop_assert!(!errors.errors.is_empty(), "a refusal says why"),
        }
    }

    #[test]
    fn marks_go_on_and_keep_even_spans_within_the_tolerance(brief in sensible(), tolerance in 1.0..8.0_f64) {
        let tolerant = Brief { rules: Rules { mark_tolerance_mm: tolerance, ..brief.rules }, ..brief.clone() };
        let dense = Brief { rules: Rules { mark_tolerance_mm: 0.5, ..brief.rules }, ..brief };
        let (Some(strip), Some(dense)) = (strip(&tolerant), strip(&dense)) else { return Ok(()) };
        for (a, b) in strip.marks.iter().zip(strip.marks.iter().skip(1)) {
            prop_assert!(a.on_strip_mm < b.on_strip_mm && a.on_seam_line_mm < b.on_seam_line_mm, "{a:?}, {b:?}");
        }
        prop_assert!(dense.marks.len() >= strip.marks.len(), "a smaller tolerance takes no fewer marks");
        for place in &dense.marks {
            let off = off_by_marks(&strip.marks, place);
            prop_assert!(off <= tolerance + 1e-6, "off by {off} at {place:?}");
        }
    }

    #[test]
    fn a_cut_edge_is_as_long_as_it_is_drawn(
        corner in (20.0..80.0_f64, 20.0..110.0_f64),
        handles in prop::array::uniform4(0.2..0.8_f64),
        depth in 60.0..140.0_f64,
        allowance in 0.0..40.0_f64,
    ) {
        // Two curves that meet in a corner of any kind, set back from a known seam line: loops and gaps where it is tight.
        let (x, y) = corner;
        let [a, b, c, d] = handles;
        let path = format!(
            "M 0 {depth} C {} {depth} {x} {} {x} {y} C {} {y} 100 {} 100 0",
            a * x, y + b * (depth - y), x + c * (100.0 - x), d * y,
        );
        let mut brief = brief(lieflat_tests::drawn(&path), drafted(100.0, 30.0, plain(ShapeKind::Round)), allowance);
        brief.neckline.readings_at = ReadingsAt::SeamLine;
        if let Ok(plan) = lieflat::plan_without_ranges(&brief) {
            let front = &plan.seam_line.front;
            let sides = front.cut_edge.windows(2).map(|ends| (ends[1][0] - ends[0][0]).hypot(ends[1][1] - ends[0][1]));
            let drawn: f64 = sides.sum();
            // A chord is shorter than its arc by its turn's square over 24: under a thousandth at a tenth of a radian.
            prop_assert!((front.cut_edge_length_mm - drawn).abs() < 1e-3 * drawn, "{path}: {drawn}");
        }
    }

    #[test]
    fn facing_pieces_are_closed_simple_and_hold_what_is_sewn(brief in sensible()) {
        prop_assume!(matches!(brief.finish, Finish::Facing(_)));
        let Ok(plan) = lieflat::plan_without_ranges(&brief) else { return Ok(()) };
        let facing = plan.facing.expect("a facing");
        for piece in [&facing.front, &facing.back] {
            let (cut, sewn) = (polygon(&piece.cut_outline), polygon(&piece.sewn_outline));
            prop_assert!(cut.is_valid(), "the cut outline crosses itself: {:?}", cut.check_validation());
            prop_assert!(sewn.is_valid(), "the sewn outline crosses itself: {:?}", sewn.check_validation());
            // Both edges are drawn by chords that stand off by up to 0.1 mm.
            for at in sewn.exterior().points() {
                prop_assert!(cut.contains(&at) || Euclidean.distance(&at, cut.exterior()) < 0.1, "{at:?} is outside");
            }
            for notch in &piece.notches {
                let off = Euclidean.distance(&geo::Point::from((notch.at[0], notch.at[1])), cut.exterior());
                prop_assert!(off < 0.1, "a notch is {off} from the cut edge");
            }
            let trimmed: geo::LineString = piece.trimmed_line.iter().map(|p| (p[0], p[1])).collect();
            for clip in &piece.clips {
                let from = geo::Point::from((clip.from[0], clip.from[1]));
                let off = if piece.trimmed_line.is_empty() {
                    Euclidean.distance(&from, cut.exterior())
                } else {
                    Euclidean.distance(&from, &trimmed)
                };
                prop_assert!(off < 1e-6, "a clip starts {off} from the cut or trimmed edge");
            }
        }
    }
}
