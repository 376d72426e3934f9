//! How sure a cut figure is: each reading is moved by its tolerance, one at a time, and the changes are joined
//! as the root of their squares, since readings err independently. Each side has its own sum.

use crate::brief::{Brief, Centre, Direction, Drawn, HalfName, Knit, Outline, ShapeKind, Stretch};
use crate::field::{joined, under};
use crate::figure::{Changes, Figure};
use crate::given::{Given, HalfGiven};
use crate::learned::RANGE_DEVIATIONS;
use crate::narrowing::{NarrowingFrom, Poisson};
use crate::outline::OutlineGiven;
use crate::rounding::rounded;
use crate::strip::rule::StripGiven;

/// A change that is rounding and not a change, mm.
const UNSEEN_MM: f64 = 1e-9;

/// Which half's lines a reading bears on, so that the others need not be worked out again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Touches {
    Front,
    Back,
    Both,
    Neither,
}

/// A reading that can be off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Reading {
    Length(HalfName),
    Width(HalfName),
    Depth(HalfName),
    Fullness(HalfName),
    ShoulderAllowance(HalfName),
    ShoulderSlope(HalfName),
    CentreAllowance(HalfName),
    NecklineAllowance,
    Stretch,
    Recovery,
    FinishedWidth,
    Narrowing,
    LearnedHold,
}

const READINGS: [Reading; 20] = [
    Reading::Length(HalfName::Front),
    Reading::Width(HalfName::Front),
    Reading::Depth(HalfName::Front),
    Reading::Fullness(HalfName::Front),
    Reading::ShoulderAllowance(HalfName::Front),
    Reading::ShoulderSlope(HalfName::Front),
    Reading::CentreAllowance(HalfName::Front),
    Reading::Length(HalfName::Back),
    Reading::Width(HalfName::Back),
    Reading::Depth(HalfName::Back),
    Reading::Fullness(HalfName::Back),
    Reading::ShoulderAllowance(HalfName::Back),
    Reading::ShoulderSlope(HalfName::Back),
    Reading::CentreAllowance(HalfName::Back),
    Reading::NecklineAllowance,
    Reading::Stretch,
    Reading::Recovery,
    Reading::FinishedWidth,
    Reading::Narrowing,
    Reading::LearnedHold,
];

impl Reading {
    fn touches(self) -> Touches {
        match self {
            Self::Length(half)
            | Self::Width(half)
            | Self::Depth(half)
            | Self::Fullness(half)
            | Self::ShoulderAllowance(half)
            | Self::ShoulderSlope(half)
            | Self::CentreAllowance(half) => match half {
                HalfName::Front => Touches::Front,
                HalfName::Back => Touches::Back,
            },
            Self::NecklineAllowance => Touches::Both,
            Self::Stretch | Self::Recovery | Self::FinishedWidth | Self::Narrowing | Self::LearnedHold => {
                Touches::Neither
            }
        }
    }

    /// Moves the reading by a share (-1 or 1) of its tolerance; false where the brief has no such reading.
    fn nudge(self, given: &mut Given<'_>, share: f64) -> bool {
        let tolerances = &given.brief.tolerances;
        let tape = share * tolerances.reading_mm;
        let points = |points: f64| share * points / 100.0;
        match self {
            Self::Length(which) => match &which.of(&given.brief.neckline).outline {
                Outline::Drawn(Drawn { uncertainty_mm, .. }) => uncertainty_mm
                    .is_some_and(|uncertainty| given.change(which, &|half| half.outline.lengthen(share * uncertainty))),
                _ => given.change(which, &|half| outline(half, tape, length)),
            },
            Self::Width(which) => given.change(which, &|half| outline(half, tape, width)),
            Self::Depth(which) => given.change(which, &|half| outline(half, tape, depth)),
            Self::Fullness(which) => {
                let by = points(tolerances.roundness_points);
                given.change(which, &|half| fullness(half, by))
            }
            Self::ShoulderAllowance(which) => {
                let by = share * tolerances.allowance_mm;
                // An allowance of nothing is no allowance that could be sewn wide or narrow.
                let has_any = which.of(&given.brief.neckline).shoulder_allowance_mm > 0.0;
                given.change(which, &|half| {
                    half.shoulder_allowance = moved(half.shoulder_allowance, by);
                    has_any
                })
            }
            Self::ShoulderSlope(which) => given.change(which, &|half| {
                half.slope = moved(half.slope, share * tolerances.slope_deg.to_radians());
                true
            }),
            Self::CentreAllowance(which) => {
                let by = share * tolerances.allowance_mm;
                given.change(which, &|half| {
                    half.centre_allowance = moved(half.centre_allowance, by);
                    true
                });
                matches!(which.of(&given.brief.neckline).centre, Centre::Seam { allowance_mm } if allowance_mm > 0.0)
            }
            Self::NecklineAllowance => {
                given.allowance = moved(given.allowance, share * tolerances.allowance_mm);
                true
            }
            Self::Stretch => {
                let by = points(tolerances.stretch_points);
                for way in [&mut given.strip.crosswise, &mut given.strip.lengthwise, &mut given.strip.diagonal] {
                    *way = moved(*way, by);
                }
                true
            }
            Self::Recovery => {
                let by = points(tolerances.recovery_points);
                given.strip.recovery = Some(moved(given.strip.recovery_or_usual(), by).clamp(0.05, 1.0));
                true
            }
            Self::FinishedWidth => {
                given.width_off = share * tolerances.width_mm;
                true
            }
            Self::Narrowing => {
                given.poisson_off = share * tolerances.poisson_ratio;
                !given.form.shaped
            }
            Self::LearnedHold => {
                given.learned_off = share * RANGE_DEVIATIONS;
                StripGiven::new(given).is_some_and(|strip| strip.learned.is_some())
            }
        }
    }

    /// The reading's path in the brief's JSON; where it was not given, the path it would have.
    fn path(self, given: &Given<'_>) -> String {
        let brief = given.brief;
        let half = |which: HalfName, rest: &str| {
            let kind = match which.of(&brief.neckline).outline {
                Outline::Measured(_) => "measured",
                Outline::Drafted(_) => "drafted",
                Outline::Drawn(_) => "drawn",
            };
            which.field(&joined(&[".outline", kind, rest]))
        };
        match self {
            Self::Length(which) => match which.of(&given.brief.neckline).outline {
                Outline::Drawn(_) => half(which, "uncertainty_mm"),
                _ => half(which, "half_length_mm"),
            },
            Self::Width(which) => half(which, "half_width_mm"),
            Self::Depth(which) => half(which, "depth_mm"),
            Self::Fullness(which) => half(which, "shape.roundness_percent"),
            Self::ShoulderAllowance(which) => which.field(".shoulder_allowance_mm"),
            Self::ShoulderSlope(which) => which.field(".shoulder_slope_deg"),
            Self::CentreAllowance(which) => which.field(".centre.seam.allowance_mm"),
            Self::NecklineAllowance => "neckline.neckline_allowance_mm".to_owned(),
            Self::Stretch => strip_path(brief, "stretched_mm", "stretch_percent"),
            Self::Recovery => strip_path(brief, "released_mm", "recovery_percent"),
            Self::FinishedWidth => given.form.width_field(),
            Self::Narrowing => narrowing_path(brief),
            Self::LearnedHold => {
                let knit = if brief.strip_knit.is_some() { "strip_knit" } else { "garment_knit" };
                under(knit, "learned")
            }
        }
    }
}

/// A path in the strip's knit: of the reading or of the percentage, in the strip's direction where that was given.
fn strip_path(brief: &Brief, reading: &str, percent: &str) -> String {
    let (field, knit): (_, &Knit) = match &brief.strip_knit {
        Some(knit) => ("strip_knit", knit),
        None => ("garment_knit", &brief.garment_knit),
    };
    let (way, stretch) = match (brief.strip_direction, &knit.lengthwise, &knit.diagonal) {
        (Direction::Lengthwise, Some(stretch), _) => ("lengthwise", stretch),
        (Direction::Diagonal, _, Some(stretch)) => ("diagonal", stretch),
        _ => ("crosswise", &knit.crosswise),
    };
    match stretch {
        Stretch::Readings { .. } => joined(&[field, way, "readings", reading]),
        Stretch::Percent { .. } => joined(&[field, way, "percent", percent]),
    }
}

/// A path in the strip's knit: of its Poisson's ratio, or of the swatch's width it is read from.
fn narrowing_path(brief: &Brief) -> String {
    let (field, knit): (_, &Knit) = match &brief.strip_knit {
        Some(knit) => ("strip_knit", knit),
        None => ("garment_knit", &brief.garment_knit),
    };
    let way = if brief.strip_direction == Direction::Lengthwise { "lengthwise" } else { "crosswise" };
    match Poisson::of(knit, brief.strip_direction).from {
        NarrowingFrom::Read => joined(&[field, "swatch_width", way, "stretched_mm"]),
        _ => joined(&[field, "poisson_ratio", way]),
    }
}

/// A reading moved by its tolerance; none can be less than nothing.
fn moved(value: f64, by: f64) -> f64 {
    (value + by).max(0.0)
}

fn outline(half: &mut HalfGiven, by: f64, pick: fn(&mut OutlineGiven) -> Option<&mut f64>) -> bool {
    pick(&mut half.outline).is_some_and(|value| {
        *value = moved(*value, by).max(1.0);
        true
    })
}

fn length(outline: &mut OutlineGiven) -> Option<&mut f64> {
    match outline {
        OutlineGiven::Measured { length, .. } => Some(length),
        _ => None,
    }
}

fn width(outline: &mut OutlineGiven) -> Option<&mut f64> {
    match outline {
        OutlineGiven::Measured { width, .. } => width.as_mut(),
        OutlineGiven::Drafted { width, .. } => Some(width),
        OutlineGiven::Drawn(_) => None,
    }
}

fn depth(outline: &mut OutlineGiven) -> Option<&mut f64> {
    match outline {
        OutlineGiven::Measured { depth, .. } => depth.as_mut(),
        OutlineGiven::Drafted { depth, .. } => Some(depth),
        OutlineGiven::Drawn(_) => None,
    }
}

/// The fullness of an assumed shape: only where it is not itself solved for or given.
fn fullness(half: &mut HalfGiven, by: f64) -> bool {
    if matches!(half.outline, OutlineGiven::Measured { width: Some(_), depth: Some(_), .. }) {
        return false;
    }
    half.outline.shape_mut().is_some_and(|shape| {
        shape.roundness = moved(shape.roundness, by).clamp(0.05, 0.95);
        ShapeKind::CURVED.contains(&shape.kind)
    })
}

/// Figures with their ranges and what each reading changes in them: `reckon` gives all of them for a checked brief.
pub(crate) fn figures<const N: usize>(
    given: &Given<'_>,
    exact: [f64; N],
    reckon: impl Fn(&Given<'_>, Touches) -> Option<[f64; N]>,
) -> [(Figure, Changes); N] {
    let mut changes: [Changes; N] = core::array::from_fn(|_| Changes::default());
    let readings: &[Reading] = if given.quick { &[] } else { &READINGS };
    for reading in readings {
        let mut path = None;
        for share in [-1.0, 1.0] {
            let mut moved = given.clone();
            if !reading.nudge(&mut moved, share) {
                break;
            }
            // A reading moved to where no neckline is possible says nothing of the range.
            let Some(values) = reckon(&moved, reading.touches()) else { continue };
            for ((changes, value), exact) in changes.iter_mut().zip(values).zip(exact) {
                let change = value - exact;
                if change.abs() > UNSEEN_MM {
                    let path = path.get_or_insert_with(|| reading.path(given)).clone();
                    let side = if change < 0.0 { &mut changes.below } else { &mut changes.above };
                    side.push((path, change));
                }
            }
        }
    }
    let mut exact = exact.into_iter();
    changes.map(|changes| (figure(given, exact.next().unwrap_or(0.0), &changes), changes))
}

fn figure(given: &Given<'_>, exact_mm: f64, changes: &Changes) -> Figure {
    let joined = |side: &[(String, f64)]| side.iter().map(|(_, by)| by * by).sum::<f64>().sqrt();
    let most = changes.below.iter().chain(&changes.above).max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let (low_mm, high_mm) = (exact_mm - joined(&changes.below), exact_mm + joined(&changes.above));
    let rounding = given.brief.rounding;
    let cut_mm =
        if given.quick { rounding.round_mm(exact_mm) } else { rounded(rounding, exact_mm, low_mm, high_mm).mm };
    Figure { exact_mm, cut_mm, low_mm, high_mm, most_from: most.map(|(path, _)| path.clone()) }
}
