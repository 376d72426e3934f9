//! Each cut figure's range against brute force: every reading drawn at once from a normal distribution whose two
//! standard deviations are its tolerance, and the neckline planned again each time.

use kurbo::Shape as _;
use lieflat::brief::{Brief, Centre, Drawn, Finish, Half, Outline, ShapeKind, Stretch};
use lieflat::plan::{Figure, Plan};
use lieflat_tests::worked_briefs;
use rand_chacha::ChaCha12Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, StandardNormal};
use serde_json::Value;

const DRAWS: usize = 1000;
/// Part of the draws that two standard deviations hold between them.
const CENTRAL: f64 = 0.9545;
/// How far an end may be off, as a share of the range's width. The ends of that many draws are themselves sure to about
/// 2.2 percent of the width (one standard error), and a sum of squares leaves out how readings bend one another.
const SHARE: f64 = 0.08;

/// What a brief says that can be off, as its path in the JSON and how to move it by a number of tolerances.
struct Reading {
    path: String,
    nudge: Nudge,
}

/// Moves a reading by a number of its tolerances.
type Nudge = Box<dyn Fn(&mut Brief, f64)>;

fn reading(path: impl Into<String>, nudge: impl Fn(&mut Brief, f64) + 'static) -> Reading {
    Reading { path: path.into(), nudge: Box::new(nudge) }
}

type OfHalf = fn(&mut Brief) -> &mut Half;

/// All readings of a brief, from its text alone: design 3.7 and the tolerances' own descriptions.
fn readings(brief: &Brief) -> Vec<Reading> {
    let mut all = Vec::new();
    let halves: [(&str, OfHalf); 2] =
        [("neckline.front", |b| &mut b.neckline.front), ("neckline.back", |b| &mut b.neckline.back)];
    for (name, of) in halves {
        of_half(&mut all, name, of, of(&mut brief.clone()));
        of_slope_and_centre(&mut all, name, of, of(&mut brief.clone()));
    }
    all.push(reading("neckline.neckline_allowance_mm", |b, by| {
        b.neckline.neckline_allowance_mm += by * b.tolerances.allowance_mm;
    }));
    of_strip(&mut all, brief);
    all
}

fn of_half(all: &mut Vec<Reading>, name: &str, of: OfHalf, half: &Half) {
    let mut outline = |kind: &str, figure: &str, value: fn(&mut Outline) -> Option<&mut f64>| {
        if value(&mut half.outline.clone()).is_some() {
            all.push(reading(format!("{name}.outline.{kind}.{figure}"), move |b, by| {
                let off = by * b.tolerances.reading_mm;
                if let Some(value) = value(&mut of(b).outline) {
                    *value += off;
                }
            }));
        }
    };
    outline("measured", "half_length_mm", |o| match o {
        Outline::Measured(m) => Some(&mut m.half_length_mm),
        _ => None,
    });
    outline("measured", "half_width_mm", |o| match o {
        Outline::Measured(m) => m.half_width_mm.as_mut(),
        _ => None,
    });
    outline("measured", "depth_mm", |o| match o {
        Outline::Measured(m) => m.depth_mm.as_mut(),
        _ => None,
    });
    outline("drafted", "half_width_mm", |o| match o {
        Outline::Drafted(d) => Some(&mut d.half_width_mm),
        _ => None,
    });
    outline("drafted", "depth_mm", |o| match o {
        Outline::Drafted(d) => Some(&mut d.depth_mm),
        _ => None,
    });
    let (kind, solved, shape) = match &half.outline {
        Outline::Measured(m) => ("measured", m.half_width_mm.is_some() && m.depth_mm.is_some(), m.shape.kind),
        Outline::Drafted(d) => ("drafted", false, d.shape.kind),
        Outline::Drawn(_) => ("drawn", true, ShapeKind::Round),
    };
    if let Outline::Drawn(Drawn { uncertainty_mm: Some(uncertainty), .. }) = half.outline {
        all.push(reading(format!("{name}.outline.drawn.uncertainty_mm"), move |b, by| {
            if let Outline::Drawn(drawn) = &mut of(b).outline {
                drawn.path_mm = longer(&drawn.path_mm, by * uncertainty);
            }
        }));
    }
    // core/REFERENCE.md: round 55.2, scoop 68, boat 60 where none is given.
    let usual = match shape {
        ShapeKind::Round => 55.228_474_983,
        ShapeKind::Scoop => 68.0,
        _ => 60.0,
    };
    if !solved && matches!(shape, ShapeKind::Round | ShapeKind::Scoop | ShapeKind::Boat) {
        all.push(reading(format!("{name}.outline.{kind}.shape.roundness_percent"), move |b, by| {
            let off = by * b.tolerances.roundness_points;
            if let Outline::Measured(m) = &mut of(b).outline {
                m.shape.roundness_percent = Some(m.shape.roundness_percent.unwrap_or(usual) + off);
            } else if let Outline::Drafted(d) = &mut of(b).outline {
                d.shape.roundness_percent = Some(d.shape.roundness_percent.unwrap_or(usual) + off);
            }
        }));
    }
    if half.shoulder_allowance_mm > 0.0 {
        all.push(reading(format!("{name}.shoulder_allowance_mm"), move |b, by| {
            of(b).shoulder_allowance_mm += by * b.tolerances.allowance_mm;
        }));
    }
}

/// A path drawn larger or smaller until it is longer by so much, mm.
fn longer(path_mm: &str, by: f64) -> String {
    let path = kurbo::BezPath::from_svg(path_mm).expect("a path");
    let length = path.perimeter(1e-9);
    (kurbo::Affine::scale(1.0 + by / length) * path).to_svg()
}

/// A shoulder's slope, and the allowance of a seam at the centre.
fn of_slope_and_centre(all: &mut Vec<Reading>, name: &str, of: OfHalf, half: &Half) {
    all.push(reading(format!("{name}.shoulder_slope_deg"), move |b, by| {
        let off = by * b.tolerances.slope_deg;
        of(b).shoulder_slope_deg += off;
    }));
    if let Centre::Seam { allowance_mm } = half.centre
        && allowance_mm > 0.0
    {
        all.push(reading(format!("{name}.centre.seam.allowance_mm"), move |b, by| {
            let off = by * b.tolerances.allowance_mm;
            if let Centre::Seam { allowance_mm } = &mut of(b).centre {
                *allowance_mm += off;
            }
        }));
    }
}

/// The strip's stretch and recovery, and the finished width. The garment's own stretch is left as it is.
fn of_strip(all: &mut Vec<Reading>, brief: &Brief) {
    let plan = lieflat::plan_without_ranges(brief).expect("a worked brief plans");
    let (stretch, recovery) = (plan.strip_knit.crosswise_percent, plan.strip_knit.recovery_percent);
    let knit = if brief.strip_knit.is_some() { "strip_knit" } else { "garment_knit" };
    let told = brief.strip_knit.as_ref().unwrap_or(&brief.garment_knit).crosswise;
    let (stretch_path, recovery_path) = match told {
        Stretch::Readings { .. } => ("readings.stretched_mm", "readings.released_mm"),
        Stretch::Percent { .. } => ("percent.stretch_percent", "percent.recovery_percent"),
    };
    let percent = move |b: &mut Brief, of_stretch: f64, of_recovery: f64| {
        let garment = b.garment_knit.clone();
        let knit = b.strip_knit.get_or_insert(garment);
        let (was, held) = match knit.crosswise {
            Stretch::Percent { stretch_percent, recovery_percent: Some(held) } => (stretch_percent, held),
            _ => (stretch, recovery),
        };
        knit.crosswise = Stretch::Percent {
            stretch_percent: was + of_stretch,
            recovery_percent: Some((held + of_recovery).clamp(5.0, 100.0)),
        };
    };
    all.push(reading(format!("{knit}.crosswise.{stretch_path}"), move |b, by| {
        percent(b, by * b.tolerances.stretch_points, 0.0);
    }));
    all.push(reading(format!("{knit}.crosswise.{recovery_path}"), move |b, by| {
        percent(b, 0.0, by * b.tolerances.recovery_points);
    }));
    if let Some(strip) = &plan.strip {
        let told = strip.narrowing.poisson_ratio;
        all.push(reading(format!("{knit}.poisson_ratio.crosswise"), move |b, by| {
            let off = by * b.tolerances.poisson_ratio;
            let garment = b.garment_knit.clone();
            let ratio = b.strip_knit.get_or_insert(garment).poisson_ratio.get_or_insert_default();
            ratio.crosswise = Some((ratio.crosswise.unwrap_or(told) + off).clamp(0.0, 1.0));
        }));
    }
    let finish = match &brief.finish {
        Finish::Band(_) => "band",
        Finish::Tape(_) => "tape",
        Finish::Bound(_) => "bound",
        Finish::Facing(_) => "facing",
    };
    all.push(reading(format!("finish.{finish}.width_mm"), |b, by| {
        let off = by * b.tolerances.width_mm;
        match &mut b.finish {
            Finish::Band(band) => band.width_mm += off,
            Finish::Tape(tape) => tape.width_mm += off,
            Finish::Bound(bound) => bound.width_mm += off,
            Finish::Facing(facing) => facing.width_mm += off,
        }
    }));
}

/// The cut figures of a plan, by name.
fn figures(plan: &Plan) -> Vec<(&'static str, Figure)> {
    let mut all = Vec::new();
    if let Some(strip) = &plan.strip {
        all.push(("strip.cut_length", strip.cut_length.clone()));
        all.push(("strip.cut_width", strip.cut_width.clone()));
    }
    if let Some(facing) = &plan.facing {
        all.push(("facing.front.seam_edge", facing.front.seam_edge.clone()));
        all.push(("facing.front.outer_edge", facing.front.outer_edge.clone()));
        all.push(("facing.back.seam_edge", facing.back.seam_edge.clone()));
        all.push(("facing.back.outer_edge", facing.back.outer_edge.clone()));
        all.push(("facing.cut_width", facing.cut_width.clone()));
    }
    all
}

fn exact(brief: &Brief) -> Vec<f64> {
    let plan = lieflat::plan_without_ranges(brief).unwrap_or_else(|e| panic!("a moved reading plans: {e}"));
    figures(&plan).iter().map(|(_, figure)| figure.exact_mm).collect()
}

#[test]
fn ranges_hold_what_brute_force_leaves_between_two_standard_deviations() {
    std::thread::scope(|scope| {
        for (name, brief) in worked_briefs() {
            scope.spawn(move || hold_against_draws(&name, &brief));
        }
    });
}

#[test]
fn a_line_read_off_a_photo_is_as_sure_as_its_uncertainty_says() {
    for (name, mut brief) in worked_briefs().into_iter().take(2) {
        let told = lieflat::told(&brief).expect("a worked brief is drawn");
        let path_mm = told.front.path_mm;
        brief.neckline.front.outline = Outline::Drawn(Drawn { path_mm: path_mm.clone(), uncertainty_mm: None });
        let sure = lieflat::plan(&brief).expect("it plans");
        brief.neckline.front.outline = Outline::Drawn(Drawn { path_mm, uncertainty_mm: Some(6.0) });
        let unsure = lieflat::plan(&brief).expect("it plans");
        hold_against_draws(&name, &brief);
        for ((figure, sure), (_, unsure)) in figures(&sure).into_iter().zip(figures(&unsure)).take(1) {
            assert!(unsure.high_mm - unsure.low_mm > sure.high_mm - sure.low_mm + 1.0, "{name}, {figure}: it is wider");
            let most = unsure.most_from.expect("a reading");
            assert_eq!(most, "neckline.front.outline.drawn.uncertainty_mm", "{name}, {figure}");
            assert!(of_the_json(&brief, &most), "{name}: {most}");
        }
    }
}

fn hold_against_draws(name: &str, brief: &Brief) {
    let mut rng = ChaCha12Rng::seed_from_u64(20);
    let readings = readings(brief);
    let mut draw = || {
        let mut moved = brief.clone();
        for reading in &readings {
            let deviations: f64 = StandardNormal.sample(&mut rng);
            (reading.nudge)(&mut moved, 0.5 * deviations);
        }
        exact(&moved)
    };
    let draws: Vec<Vec<f64>> = (0..DRAWS).map(|_| draw()).collect();
    for (i, (figure, told)) in figures(&lieflat::plan(brief).expect("it plans")).into_iter().enumerate() {
        let mut values: Vec<f64> = draws.iter().map(|draw| draw[i]).collect();
        values.sort_by(f64::total_cmp);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place among the draws")]
        let tail = (0.5 * (1.0 - CENTRAL) * DRAWS as f64) as usize;
        let (low, high) = (values[tail], values[DRAWS - 1 - tail]);
        let width = told.high_mm - told.low_mm;
        let off = [(low - told.low_mm) / width, (high - told.high_mm) / width].map(|share| 100.0 * share);
        let range = format!("{:.2} to {:.2}; drawn {low:.2} to {high:.2}", told.low_mm, told.high_mm);
        println!("{name}, {figure}: {range}; ends off by {:+.1} and {:+.1} percent", off[0], off[1]);
        assert!(off.iter().all(|percent| percent.abs() <= 100.0 * SHARE), "{name}, {figure}: {range}");
    }
}

#[test]
fn the_reading_that_matters_most_is_the_one_whose_single_change_is_greatest() {
    for (name, brief) in worked_briefs() {
        let told = figures(&lieflat::plan(&brief).expect("it plans"));
        let mut changes: Vec<Vec<(String, f64)>> = vec![Vec::new(); told.len()];
        for reading in readings(&brief) {
            let moved = [-1.0, 1.0].map(|by| {
                let mut moved = brief.clone();
                (reading.nudge)(&mut moved, by);
                exact(&moved)
            });
            for (i, (_, figure)) in told.iter().enumerate() {
                let greatest = moved.iter().map(|values| (values[i] - figure.exact_mm).abs()).fold(0.0, f64::max);
                changes[i].push((reading.path.clone(), greatest));
            }
        }
        for ((figure, told), changes) in told.iter().zip(&changes) {
            let greatest = changes.iter().max_by(|a, b| a.1.total_cmp(&b.1)).expect("readings");
            let most = told.most_from.as_deref().unwrap_or_else(|| panic!("{name}, {figure} comes from a reading"));
            let its = changes.iter().find(|(path, _)| path == most);
            let its = its.unwrap_or_else(|| panic!("{name}, {figure}: {most} is a reading of the brief")).1;
            assert!(its >= greatest.1 - 1e-6, "{name}, {figure}: {most} changes it by {its}, but {greatest:?}");
        }
    }
}

/// A path is of the brief's JSON where what stands there is a number, or a number set there still reads.
fn of_the_json(brief: &Brief, path: &str) -> bool {
    let mut json = serde_json::to_value(brief).expect("a brief writes");
    let Some((parent, name)) = path.rsplit_once('.') else { return false };
    let pointer = format!("/{}", parent.replace('.', "/"));
    let Some(fields) = json.pointer_mut(&pointer).and_then(Value::as_object_mut) else { return false };
    if fields.get(name).is_some_and(Value::is_number) {
        return true;
    }
    fields.insert(name.to_owned(), 50.into());
    Brief::from_json(&json.to_string()).is_ok()
}

#[test]
fn what_matters_most_is_named_by_a_path_of_the_briefs_json() {
    let example = lieflat::example::brief();
    assert!(
        of_the_json(&example, "neckline.front.outline.measured.shape.roundness_percent"),
        "one that could be given"
    );
    assert!(!of_the_json(&example, "neckline.front.outline.drafted.depth_mm"), "one of another outline");
    assert!(!of_the_json(&example, "neckline.front.fullness"), "no such field");
    for (name, brief) in worked_briefs() {
        let plan = lieflat::plan(&brief).expect("it plans");
        for (figure, told) in figures(&plan) {
            let most = told.most_from.expect("a reading");
            assert!(of_the_json(&brief, &most), "{name}, {figure}: {most}");
        }
    }
}
