//! One neckline over a pattern's sizes.

use lieflat::Brief;
use lieflat::brief::{HeadGirth, Outline, ReadingsAt, ShapeKind};
use lieflat::sizes::{Growth, HalfGrowth, HalfSize, Size, SizeReadings, SizeSet, size_briefs};
use lieflat_tests::{drafted, drawn, plain, quarter_ellipse};

fn size(name: &str, front: HalfSize, back: HalfSize) -> Size {
    Size { name: name.to_owned(), front, back, head_girth_mm: None }
}

fn steps(name: &str, front: f64, back: f64) -> Size {
    size(name, HalfSize::Steps(front), HalfSize::Steps(back))
}

fn grow(half_length_mm: f64, half_width_mm: f64, depth_mm: f64) -> HalfGrowth {
    HalfGrowth { half_length_mm, half_width_mm, depth_mm }
}

fn drafted_brief() -> Brief {
    let mut brief = lieflat::example::brief();
    brief.neckline.front = drafted(85.0, 100.0, plain(ShapeKind::Round));
    brief.neckline.back = drafted(85.0, 25.0, plain(ShapeKind::Round));
    brief
}

fn draft(outline: &Outline) -> (f64, f64) {
    match outline {
        Outline::Drafted(d) => (d.half_width_mm, d.depth_mm),
        other => panic!("{other:?} is no draft"),
    }
}

#[test]
fn each_size_grows_from_the_base() {
    let base = drafted_brief();
    let growth = Growth { front: grow(0.0, 2.5, 4.0), back: grow(0.0, 2.5, 0.5), head_mm: 0.0 };
    let sizes = vec![steps("8", -1.0, -1.0), steps("10", 0.0, 0.0), steps("12", 1.0, 1.0), steps("14", 2.0, 2.0)];
    let briefs = size_briefs(&base, &SizeSet { growth, sizes }).expect("they are made");
    let fronts: Vec<_> = briefs.iter().map(|b| draft(&b.neckline.front.outline)).collect();
    assert_eq!(fronts, [(82.5, 96.0), (85.0, 100.0), (87.5, 104.0), (90.0, 108.0)], "the fronts");
    let lengths: Vec<f64> =
        briefs.iter().map(|b| lieflat::plan(b).expect("it plans").seam_line.whole_length_mm).collect();
    assert!(lengths.windows(2).all(|pair| pair[1] > pair[0] + 10.0), "each is longer: {lengths:?}");
    let mut untitled = briefs[1].clone();
    untitled.title.clone_from(&base.title);
    assert_eq!(untitled, base, "the base size is the base");
    assert!(briefs[3].title.as_deref().is_some_and(|title| title.ends_with(", 14")), "named after its size");
}

#[test]
fn a_size_with_readings_of_its_own_may_have_a_head_of_its_own() {
    let mut base = drafted_brief();
    base.head.girth = HeadGirth::OwnMm(500.0);
    let own = |girth| {
        let readings = HalfSize::Readings(SizeReadings::default());
        Size { head_girth_mm: girth, ..size("own", readings, readings) }
    };
    let girths = |base: &Brief, set: &SizeSet| -> Vec<HeadGirth> {
        size_briefs(base, set).expect("they are made").into_iter().map(|brief| brief.head.girth).collect()
    };
    let stepped = Size { head_girth_mm: Some(530.0), ..steps("2", 2.0, 2.0) };
    let growth = Growth { head_mm: 10.0, ..Growth::default() };
    let set = SizeSet { growth, sizes: vec![own(None), own(Some(520.0)), stepped, steps("1", 1.0, 1.0)] };
    let expected = [500.0, 520.0, 530.0, 510.0].map(HeadGirth::OwnMm);
    assert_eq!(girths(&base, &set), expected, "the base's, its own, its own before the grade, the grade");
    base.head.girth = HeadGirth::Adult(lieflat::brief::AdultGroup::Women);
    assert!(girths(&base, &set).iter().all(|girth| *girth == base.head.girth), "a head by group stays one");
}

#[test]
fn front_and_back_may_be_of_two_sizes() {
    let base = drafted_brief();
    let growth = Growth { front: grow(0.0, 2.0, 4.0), back: grow(0.0, 2.0, 1.0), head_mm: 0.0 };
    let set = SizeSet { growth, sizes: vec![steps("M over L", 0.0, 1.0)] };
    let brief = &size_briefs(&base, &set).expect("it is made")[0];
    assert_eq!(draft(&brief.neckline.front.outline), (85.0, 100.0), "the base's front");
    assert_eq!(draft(&brief.neckline.back.outline), (87.0, 26.0), "the next size's back");
}

#[test]
fn a_size_may_have_readings_of_its_own() {
    let base = lieflat::example::brief();
    let readings = SizeReadings { half_length_mm: Some(161.0), depth_mm: Some(121.0), half_width_mm: None };
    let set = SizeSet {
        growth: Growth::default(),
        sizes: vec![size("L", HalfSize::Readings(readings), HalfSize::Readings(SizeReadings::default()))],
    };
    let brief = &size_briefs(&base, &set).expect("it is made")[0];
    let Outline::Measured(front) = &brief.neckline.front.outline else { panic!("it stays measured") };
    assert_eq!((front.half_length_mm, front.depth_mm), (161.0, Some(121.0)), "its own");
    assert_eq!(brief.neckline.back, base.neckline.back, "what is absent stays as in the base");
    assert!(lieflat::plan(brief).is_ok(), "it plans");
}

#[test]
fn a_drawn_half_is_drawn_larger() {
    // Both ways by a tenth: every length by a tenth.
    let mut base = lieflat::example::brief();
    base.neckline.readings_at = ReadingsAt::SeamLine;
    base.neckline.front = drawn(&quarter_ellipse(90.0, 110.0, 3));
    base.neckline.back = drawn(&quarter_ellipse(90.0, 30.0, 3));
    let growth = Growth { front: grow(0.0, 9.0, 11.0), back: grow(0.0, 9.0, 3.0), head_mm: 0.0 };
    let set = SizeSet { growth, sizes: vec![steps("base", 0.0, 0.0), steps("larger", 1.0, 1.0)] };
    let briefs = size_briefs(&base, &set).expect("they are made");
    let [small, large] = [0, 1].map(|i: usize| lieflat::plan(&briefs[i]).expect("it plans").seam_line.whole_length_mm);
    assert!((large - 1.1 * small).abs() < 0.01, "{large} is not 1.1 times {small}");
}

#[test]
fn a_drawn_halfs_neck_point_keeps_its_height() {
    // 80 by 120 mm from a neck point at y = 30, drawn by 8 and 12 larger: its centre lies 132 below 30.
    let mut base = lieflat::example::brief();
    base.neckline.readings_at = ReadingsAt::SeamLine;
    (base.neckline.front, base.neckline.back) = (drawn("M 0 150 L 80 30"), drawn("M 80 30 L 0 60"));
    let growth = Growth { front: grow(0.0, 8.0, 12.0), back: grow(0.0, 8.0, 0.0), head_mm: 0.0 };
    let set = SizeSet { growth, sizes: vec![steps("larger", 1.0, 1.0)] };
    let path = |half: &lieflat::brief::Half| match &half.outline {
        Outline::Drawn(drawn) => kurbo::BezPath::from_svg(&drawn.path_mm).expect("a path"),
        other => panic!("{other:?} is not drawn"),
    };
    let larger = &size_briefs(&base, &set).expect("they are made")[0].neckline;
    assert_eq!(path(&larger.front), kurbo::BezPath::from_svg("M 0 162 L 88 30").expect("a path"), "the front");
    assert_eq!(path(&larger.back), kurbo::BezPath::from_svg("M 88 30 L 0 60").expect("a path"), "the back");
    // What has no width or no depth to grow by is left for planning to refuse.
    for slit in ["M 0 150 L 0 30", "M 0 30 L 80 30"] {
        base.neckline.front = drawn(slit);
        assert_eq!(size_briefs(&base, &set).expect("they are made")[0].neckline.front, base.neckline.front, "{slit}");
    }
}

#[test]
fn a_head_grows_with_the_front() {
    let mut base = drafted_brief();
    base.head.girth = HeadGirth::OwnMm(520.0);
    let growth = Growth { head_mm: 6.0, ..Growth::default() };
    let set = SizeSet { growth, sizes: vec![steps("two up", 2.0, 1.0)] };
    let brief = &size_briefs(&base, &set).expect("it is made")[0];
    assert_eq!(brief.head.girth, HeadGirth::OwnMm(532.0), "two steps of 6 mm");
}

#[test]
fn a_table_that_cannot_be_is_refused_by_its_fields() {
    let base = lieflat::example::brief();
    let refused = |set: SizeSet, field: &str| {
        let errors = size_briefs(&base, &set).expect_err("it is refused").errors;
        assert!(errors.iter().any(|e| e.field == field), "{field} among {errors:?}");
    };
    let one = || vec![steps("base", 0.0, 0.0)];
    refused(SizeSet { growth: Growth::default(), sizes: Vec::new() }, "sizes");
    refused(SizeSet { growth: Growth::default(), sizes: vec![steps("x", 0.0, 0.0); 41] }, "sizes");
    let forty = SizeSet { growth: Growth::default(), sizes: vec![steps("x", 0.0, 0.0); 40] };
    assert_eq!(size_briefs(&base, &forty).expect("forty are no more than that").len(), 40, "a brief for each");
    refused(SizeSet { growth: Growth::default(), sizes: vec![steps("x", f64::NAN, 0.0)] }, "sizes.0.front.steps");
    refused(SizeSet { growth: Growth::default(), sizes: vec![steps("x", 0.0, 99.0)] }, "sizes.0.back.steps");
    let growth = |front, back, head_mm| Growth { front, back, head_mm };
    let none = HalfGrowth::default();
    refused(SizeSet { growth: growth(grow(0.0, 0.0, 61.0), none, 0.0), sizes: one() }, "growth.front.depth_mm");
    refused(SizeSet { growth: growth(none, none, f64::INFINITY), sizes: one() }, "growth.head_mm");
    // The example's front is measured by length and depth: it has no half width that could grow.
    refused(SizeSet { growth: growth(grow(0.0, 2.0, 0.0), none, 0.0), sizes: one() }, "growth.front.half_width_mm");
}

#[test]
fn a_size_that_cannot_be_planned_is_refused_when_it_is_planned() {
    let base = drafted_brief();
    let growth = Growth { front: grow(0.0, -60.0, 0.0), ..Growth::default() };
    let set = SizeSet { growth, sizes: vec![steps("base", 0.0, 0.0), steps("none", 2.0, 2.0)] };
    let briefs = size_briefs(&base, &set).expect("they are made");
    assert!(lieflat::plan(&briefs[0]).is_ok(), "the base plans");
    let errors = lieflat::plan(&briefs[1]).expect_err("no such neckline").errors;
    assert!(errors.iter().any(|e| e.field.contains("half_width_mm")), "{errors:?}");
}

#[test]
fn a_table_reads_from_json() {
    let text = r#"{ "growth": { "front": { "depth_mm": 4 }, "head_mm": 5 },
      "sizes": [ { "name": "S", "front": { "steps": -1 }, "back": { "readings": { "depth_mm": 22 } } } ] }"#;
    let set: SizeSet = serde_json::from_str(text).expect("it reads");
    assert_eq!(set.growth.front, grow(0.0, 0.0, 4.0), "what is absent does not grow");
    assert!(serde_json::from_str::<SizeSet>(r#"{ "sizes": [], "more": 1 }"#).is_err(), "unknown fields are refused");
}
