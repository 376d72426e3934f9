//! How sure a cut figure is: each reading is moved by its tolerance, one at a time, and the changes are joined
//! as the root of their squares, since readings err independently. Each side has its own sum.

use crate::given::{Given, HalfGiven};
use crate::outline::OutlineGiven;
use crate::plan::Figure;

/// Which half's lines a reading bears on, so that the others need not be worked out again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Touches {
    Front,
    Back,
    Both,
    Neither,
}

/// A reading that can be off: its field, and how to move it by a share (-1 or 1) of its tolerance.
struct Reading {
    field: &'static str,
    touches: Touches,
    /// Moves the reading; false where the brief has no such reading.
    nudge: fn(&mut Given<'_>, f64) -> bool,
}

fn outline(half: &mut HalfGiven, by: f64, pick: fn(&mut OutlineGiven) -> Option<&mut f64>) -> bool {
    pick(&mut half.outline).is_some_and(|value| {
        *value = (*value + by).max(1.0);
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
    use crate::brief::ShapeKind::{Boat, Round, Scoop};
    if matches!(half.outline, OutlineGiven::Measured { width: Some(_), depth: Some(_), .. }) {
        return false;
    }
    half.outline.shape_mut().is_some_and(|shape| {
        shape.roundness = (shape.roundness + by).clamp(0.05, 0.95);
        matches!(shape.kind, Round | Scoop | Boat)
    })
}

const READINGS: [Reading; 12] = [
    Reading {
        field: "neckline.front.outline.half_length_mm",
        touches: Touches::Front,
        nudge: |g, x| outline(&mut g.front, x * g.brief.tolerances.reading_mm, length),
    },
    Reading {
        field: "neckline.front.outline.half_width_mm",
        touches: Touches::Front,
        nudge: |g, x| outline(&mut g.front, x * g.brief.tolerances.reading_mm, width),
    },
    Reading {
        field: "neckline.front.outline.depth_mm",
        touches: Touches::Front,
        nudge: |g, x| outline(&mut g.front, x * g.brief.tolerances.reading_mm, depth),
    },
    Reading {
        field: "neckline.front.outline.shape",
        touches: Touches::Front,
        nudge: |g, x| fullness(&mut g.front, x * g.brief.tolerances.roundness_points / 100.0),
    },
    Reading {
        field: "neckline.back.outline.half_length_mm",
        touches: Touches::Back,
        nudge: |g, x| outline(&mut g.back, x * g.brief.tolerances.reading_mm, length),
    },
    Reading {
        field: "neckline.back.outline.half_width_mm",
        touches: Touches::Back,
        nudge: |g, x| outline(&mut g.back, x * g.brief.tolerances.reading_mm, width),
    },
    Reading {
        field: "neckline.back.outline.depth_mm",
        touches: Touches::Back,
        nudge: |g, x| outline(&mut g.back, x * g.brief.tolerances.reading_mm, depth),
    },
    Reading {
        field: "neckline.back.outline.shape",
        touches: Touches::Back,
        nudge: |g, x| fullness(&mut g.back, x * g.brief.tolerances.roundness_points / 100.0),
    },
    Reading {
        field: "neckline.neckline_allowance_mm",
        touches: Touches::Both,
        nudge: |g, x| {
            g.allowance = (g.allowance + x * g.brief.tolerances.allowance_mm).max(0.0);
            true
        },
    },
    Reading {
        field: "strip_knit.stretch",
        touches: Touches::Neither,
        nudge: |g, x| {
            let by = x * g.brief.tolerances.stretch_points / 100.0;
            for way in [&mut g.strip.crosswise, &mut g.strip.lengthwise, &mut g.strip.diagonal] {
                *way = (*way + by).max(0.0);
            }
            true
        },
    },
    Reading {
        field: "strip_knit.recovery",
        touches: Touches::Neither,
        nudge: |g, x| {
            let by = x * g.brief.tolerances.recovery_points / 100.0;
            g.strip.recovery = Some((g.strip.recovery_or_usual() + by).clamp(0.05, 1.0));
            true
        },
    },
    Reading {
        field: "finish.width_mm",
        touches: Touches::Neither,
        nudge: |g, x| {
            g.width_off += x * g.brief.tolerances.width_mm;
            true
        },
    },
];

/// Figures with their ranges: `reckon` gives all of them for a checked brief.
pub(crate) fn figures<const N: usize>(
    given: &Given<'_>,
    exact: [f64; N],
    reckon: impl Fn(&Given<'_>, Touches) -> Option<[f64; N]>,
) -> [Figure; N] {
    let mut below = [0.0; N];
    let mut above = [0.0; N];
    let mut most: [(f64, Option<&'static str>); N] = [(1e-9, None); N];
    let readings: &[Reading] = if given.ranges { &READINGS } else { &[] };
    for reading in readings {
        for share in [-1.0, 1.0] {
            let mut moved = given.clone();
            if !(reading.nudge)(&mut moved, share) {
                break;
            }
            // A reading moved to where no neckline is possible says nothing of the range.
            let Some(values) = reckon(&moved, reading.touches) else { continue };
            let sides = below.iter_mut().zip(&mut above).zip(&mut most);
            for (((below, above), most), (value, exact)) in sides.zip(values.iter().zip(&exact)) {
                let change = value - exact;
                let side = if change < 0.0 { below } else { above };
                *side += change * change;
                if change.abs() > most.0 {
                    *most = (change.abs(), Some(reading.field));
                }
            }
        }
    }
    let rounding = given.brief.rounding;
    core::array::from_fn(|i| {
        let at = |values: &[f64; N]| values.get(i).copied().unwrap_or(0.0);
        let exact_mm = at(&exact);
        Figure {
            exact_mm,
            cut_mm: rounding.round_mm(exact_mm),
            low_mm: exact_mm - at(&below).sqrt(),
            high_mm: exact_mm + at(&above).sqrt(),
            most_from: most.get(i).and_then(|m| m.1),
        }
    })
}
