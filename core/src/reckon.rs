//! From a checked brief to the plan, in the order a maker would ask.

use crate::assumption::assumptions;
use crate::brief::Brief;
use crate::clip::clip_plan;
use crate::error::BriefErrors;
use crate::explain::{self, Basis};
use crate::facing::facing_plan;
use crate::girth::Rings;
use crate::given::Given;
use crate::knit::{fibre_notes, suitability};
use crate::lines::Lines;
use crate::opening::{needed, opening, stitch_extension};
use crate::order::order;
use crate::plan::{Plan, SCHEMA, VERSION};
use crate::remedy::remedies;
use crate::stay::choice::{Chosen, choose, runs};
use crate::stay::stays;
use crate::strip::drawn_in::drawn_in_percent;
use crate::strip::strip_plan;

/// Works everything out from a brief.
///
/// ```
/// let brief = lieflat::example::brief();
/// let plan = lieflat::plan(&brief)?;
/// let strip = plan.strip.ok_or("a band has a strip")?;
/// assert!(strip.cut_length.cut_mm < plan.seam_line.whole_length_mm, "a stretched band is shorter than its seam");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// Every problem of the brief at once, each with its field, its value and what is accepted.
pub fn plan(brief: &Brief) -> Result<Plan, BriefErrors> {
    let given = Given::new(brief)?;
    let (mut plan, basis) = reckon(&given)?;
    plan.working = explain::working(&basis, &plan);
    Ok(plan)
}

/// The same plan without the working: `working` is empty. Most who ask want the figures alone.
///
/// # Errors
/// As [`plan`].
pub fn plan_without_working(brief: &Brief) -> Result<Plan, BriefErrors> {
    Ok(reckon(&Given::new(brief)?)?.0)
}

/// The same figures without ranges and without the working, for a drawing that is dragged: each range is the exact
/// figure alone, and `working` is empty. What takes many plans to find is left out too: a strip's widest width and cures, an
/// opening's remedies.
///
/// # Errors
/// As [`plan`].
pub fn plan_without_ranges(brief: &Brief) -> Result<Plan, BriefErrors> {
    let mut given = Given::new(brief)?;
    given.quick = true;
    Ok(reckon(&given)?.0)
}

fn reckon<'a>(given: &'a Given<'a>) -> Result<(Plan, Basis<'a>), BriefErrors> {
    let brief = given.brief;
    let lines = Lines::new(given)?;
    let (mut strip, strip_basis) = strip_plan(given, &lines)?.unzip();
    let stitch = stitch_extension(brief.stitch).0;
    let rings = match &strip_basis {
        Some(of) => {
            let stretch = given.strip.one_way(brief.strip_direction);
            Rings::of_strip(given, &lines.ring, &of.ring, &of.strip, stretch, stitch)
        }
        None => Rings::of_facing(given, &lines.ring, stitch),
    };
    let Chosen { kept, given_up, reach } = choose(given, &lines.ring, &rings, needed(brief));
    let stayed = runs(&kept);
    let stays = stays(given, &lines, &kept, given_up);
    if let (Some(strip), Some(of)) = (&mut strip, &strip_basis) {
        for (part, of) in strip.parts.iter_mut().zip(&of.parts) {
            part.drawn_in_percent = drawn_in_percent(given, of.pull, &stayed);
        }
    }
    // What is stayed does not give, and decides how far a wide allowance is trimmed: clips come after the stays.
    let (clips, clip_basis) = clip_plan(given, &lines, &stays.zones)?.unzip();
    let (facing, facing_basis) = facing_plan(given, &lines, clips.as_ref())?.unzip();
    let mut opening = opening(brief, &rings, &reach, &stayed);
    if !given.quick {
        opening.remedies = remedies(given, &opening);
    }
    let mut plan = Plan {
        schema: SCHEMA,
        version: VERSION,
        title: brief.title.clone(),
        seam_line: lines.report(given),
        garment_knit: given.garment.report(),
        strip_knit: given.strip.report(),
        suitability: suitability(brief.pattern_asks, &given.garment),
        fibre_notes: fibre_notes(&brief.garment_knit, &given.garment),
        finish: given.form.report(),
        strip,
        facing,
        clips,
        stays,
        opening,
        order: Vec::new(),
        assumptions: assumptions(given, &lines),
        working: Vec::new(),
    };
    plan.order = order(given, &plan);
    let basis =
        Basis { given, lines, strip: strip_basis, clips: clip_basis, facing: facing_basis, kept, rings, reach, stayed };
    Ok((plan, basis))
}
