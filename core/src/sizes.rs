//! One neckline over a pattern's sizes: a brief for each, from each size's own readings or from the base's
//! readings and their grade, from one size to the next. Front and back are sized apart, for makers who blend.

use kurbo::Affine;
use serde::Deserialize;

use crate::brief::{Brief, Half, HeadGirth, Outline};
use crate::error::{Accepted, BriefError, BriefErrors, Problem, Unit};
use crate::field::{count, joined};
use crate::path::{path_text, read_path};

/// Most sizes of one table; far more than a pattern's envelope holds.
const MOST_SIZES: usize = 40;
/// Most steps from the base size, either way.
const MOST_STEPS: f64 = 40.0;
/// The greatest grade of a reading in one step, mm.
const MOST_GROWTH_MM: f64 = 60.0;

/// A table of sizes.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SizeSet {
    /// The grade of the readings in one step, where sizes are told in steps.
    #[serde(default)]
    pub growth: Growth,
    /// The sizes, 1 to 40.
    pub sizes: Vec<Size>,
}

/// The grade of the base's readings in one step; `growth` in its JSON. A reading that the base does not have has none.
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Growth {
    /// The front half's.
    pub front: HalfGrowth,
    /// The back half's.
    pub back: HalfGrowth,
    /// The person's own head girth, by the front's steps. mm, -60 to 60.
    pub head_mm: f64,
}

/// The grade of one half's readings in one step. mm, -60 to 60.
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct HalfGrowth {
    /// Along the line, where it was measured.
    pub half_length_mm: f64,
    /// From the line's own centre out to the neck point, as the brief's.
    pub half_width_mm: f64,
    /// From the neck point down to the centre.
    pub depth_mm: f64,
}

/// One size: its name, and how its halves come from the base.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Size {
    /// A name, shown and never interpreted.
    pub name: String,
    /// The front half.
    pub front: HalfSize,
    /// The back half; another size than the front's where a maker blends.
    pub back: HalfSize,
    /// The head girth of this size, in place of the base's and its grade, where that is a person's own. mm; as in the brief.
    #[serde(default)]
    pub head_girth_mm: Option<f64>,
}

/// How a half of a size is told.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum HalfSize {
    /// So many steps from the base, down below zero. -40 to 40; halves of a step are sizes between.
    Steps(f64),
    /// The size's own readings, in place of the base's.
    Readings(SizeReadings),
}

/// A half's own readings; what is absent stays as in the base. Ranges as in the brief.
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct SizeReadings {
    /// Along the line, where it was measured. mm.
    pub half_length_mm: Option<f64>,
    /// From the line's own centre out to the neck point, as the brief's. mm.
    pub half_width_mm: Option<f64>,
    /// From the neck point down to the centre. mm.
    pub depth_mm: Option<f64>,
}

/// A brief for each size, named after it. Each still has to be planned, and may be refused then.
///
/// ```
/// use lieflat::sizes::{Growth, HalfGrowth, HalfSize, Size, SizeSet, size_briefs};
///
/// let base = lieflat::example::brief();
/// let half = HalfGrowth { half_length_mm: 4.0, ..HalfGrowth::default() };
/// let growth = Growth { front: half, back: half, head_mm: 0.0 };
/// let size = |name: &str, steps| {
///     let half = HalfSize::Steps(steps);
///     Size { name: name.into(), front: half, back: half, head_girth_mm: None }
/// };
/// let set = SizeSet { growth, sizes: vec![size("base", 0.0), size("next", 1.0)] };
/// let briefs = size_briefs(&base, &set)?;
/// let cut = |brief| Ok::<_, lieflat::BriefErrors>(lieflat::plan(brief)?.seam_line.whole_length_mm);
/// let longer = cut(&briefs[1])? - cut(&briefs[0])?;
/// assert!((longer - 16.0).abs() < 2.0, "four halves by 4 mm each, and what the curve adds");
/// # Ok::<(), lieflat::BriefErrors>(())
/// ```
///
/// # Errors
/// Every value of the table out of range, and grades of readings that the base does not have.
pub fn size_briefs(base: &Brief, set: &SizeSet) -> Result<Vec<Brief>, BriefErrors> {
    let mut errors = Vec::new();
    check(&mut errors, "sizes", set.sizes.len() as f64, 1.0, MOST_SIZES as f64, Unit::Count);
    check(&mut errors, "growth.head_mm", set.growth.head_mm, -MOST_GROWTH_MM, MOST_GROWTH_MM, Unit::Mm);
    let halves = [("front", &base.neckline.front, &set.growth.front), ("back", &base.neckline.back, &set.growth.back)];
    for (half, given, growth) in halves {
        check_growth(&mut errors, half, given, growth);
    }
    for (place, size) in set.sizes.iter().take(MOST_SIZES).enumerate() {
        for (half, how) in [("front", size.front), ("back", size.back)] {
            if let HalfSize::Steps(steps) = how {
                let field = joined(&["sizes", &count(place), half, "steps"]);
                check(&mut errors, &field, steps, -MOST_STEPS, MOST_STEPS, Unit::Count);
            }
        }
    }
    if !errors.is_empty() {
        return Err(BriefErrors { errors });
    }
    Ok(set.sizes.iter().map(|size| sized(base, size, &set.growth)).collect())
}

fn check(errors: &mut Vec<BriefError>, field: &str, value: f64, min: f64, max: f64, unit: Unit) {
    let problem = if !value.is_finite() {
        Problem::NotFinite
    } else if value < min || value > max {
        Problem::OutOfRange
    } else {
        return;
    };
    errors.push(BriefError::of_number(field, value, problem, Accepted::range(min, max, unit)));
}

fn check_growth(errors: &mut Vec<BriefError>, half: &str, given: &Half, growth: &HalfGrowth) {
    let readings = [
        ("half_length_mm", growth.half_length_mm, matches!(given.outline, Outline::Measured(_))),
        (
            "half_width_mm",
            growth.half_width_mm,
            !matches!(&given.outline, Outline::Measured(m) if m.half_width_mm.is_none()),
        ),
        ("depth_mm", growth.depth_mm, !matches!(&given.outline, Outline::Measured(m) if m.depth_mm.is_none())),
    ];
    for (name, by, there) in readings {
        let most = if there { MOST_GROWTH_MM } else { 0.0 };
        check(errors, &joined(&["growth", half, name]), by, -most, most, Unit::Mm);
    }
}

fn sized(base: &Brief, size: &Size, growth: &Growth) -> Brief {
    let mut brief = base.clone();
    let title = base.title.as_deref().filter(|title| !title.is_empty());
    brief.title = Some(title.map_or_else(|| size.name.clone(), |title| [title, ", ", &size.name].concat()));
    resize(&mut brief.neckline.front.outline, size.front, &growth.front);
    resize(&mut brief.neckline.back.outline, size.back, &growth.back);
    if let HeadGirth::OwnMm(girth) = &mut brief.head.girth {
        let steps = if let HalfSize::Steps(steps) = size.front { steps } else { 0.0 };
        *girth = size.head_girth_mm.unwrap_or(*girth + steps * growth.head_mm);
    }
    brief
}

/// A reading of a size: the size's own, or the base's and its grade.
fn reading(base: f64, how: HalfSize, own: fn(&SizeReadings) -> Option<f64>, growth: f64) -> f64 {
    match how {
        HalfSize::Steps(steps) => base + steps * growth,
        HalfSize::Readings(readings) => own(&readings).unwrap_or(base),
    }
}

fn resize(outline: &mut Outline, how: HalfSize, growth: &HalfGrowth) {
    let length = |base| reading(base, how, |r| r.half_length_mm, growth.half_length_mm);
    let width = |base| reading(base, how, |r| r.half_width_mm, growth.half_width_mm);
    let depth = |base| reading(base, how, |r| r.depth_mm, growth.depth_mm);
    let own = |pick: fn(&SizeReadings) -> Option<f64>| match how {
        HalfSize::Readings(readings) => pick(&readings),
        HalfSize::Steps(_) => None,
    };
    match outline {
        Outline::Measured(measured) => {
            measured.half_length_mm = length(measured.half_length_mm);
            measured.half_width_mm = measured.half_width_mm.map(width).or(own(|r| r.half_width_mm));
            measured.depth_mm = measured.depth_mm.map(depth).or(own(|r| r.depth_mm));
        }
        Outline::Drafted(drafted) => {
            drafted.half_width_mm = width(drafted.half_width_mm);
            drafted.depth_mm = depth(drafted.depth_mm);
        }
        Outline::Drawn(drawn) => {
            if let Some(path) = graded(&drawn.path_mm, width, depth) {
                drawn.path_mm = path;
            }
        }
    }
}

/// A drawn half drawn larger: outward in proportion to its half width, down from the neck point in proportion to
/// its depth. A path that cannot be graded is left as it is, for planning to say what is wrong with it.
fn graded(path_mm: &str, width: impl Fn(f64) -> f64, depth: impl Fn(f64) -> f64) -> Option<String> {
    let path = read_path(path_mm).ok()?;
    let (first, last) = (path.segments().next()?.to_cubic().p0, path.segments().last()?.to_cubic().p3);
    let (centre, neck) = if first.x.abs() <= last.x.abs() { (first, last) } else { (last, first) };
    let (half_width, drop) = (neck.x, centre.y - neck.y);
    let (across, down) = (width(half_width) / half_width, depth(drop) / drop);
    if !(across.is_finite() && down.is_finite()) {
        return None;
    }
    // The neck point keeps its height.
    let grade = Affine::new([across, 0.0, 0.0, down, 0.0, neck.y * (1.0 - down)]);
    Some(path_text(&(grade * path)))
}
