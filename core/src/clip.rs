//! Clips in the neckline's allowance: one into each point and inner corner, more along the curves.
//!
//! Turned over, the raw edge goes from 1 - k a to 1 + k a of the seam line, so it must open by 2 k a ds: in all
//! 2 a theta. A corner opens whole at one clip, and a straight run needs none. Along a curve the knit gives part, none
//! of it where tape holds the edge; each clip opens by g. An allowance that bends the other way is notched, not clipped.
//!
//! A band or a bound edge turns no allowance, but a point or an inner corner must spread while the strip is sewn to
//! it: there the garment is clipped too, a bound edge from its trimmed edge to the strip's stitching.

pub(crate) mod cut;
pub(crate) mod places;

use serde::Serialize;

use crate::brief::Rounding;
use crate::error::BriefErrors;
use crate::given::Given;
use crate::lines::{Lines, both};
use crate::seam_line::Line;
use crate::stay::zone::StayZone;
pub use cut::{ClipKind, ClipLine, Cut};
use places::{Clips, LEAST_APART_MM, SAME_MM, Turned};

/// Where to clip.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct ClipPlan {
    /// What a wide allowance is trimmed to before it is clipped, where it is to be. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trim_to_mm: Option<f64>,
    /// The trimmed edge of the front in its own frame; empty where nothing is trimmed. mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "read-plan", serde(default))]
    pub trimmed_front: Vec<[f64; 2]>,
    /// The trimmed edge of the back. mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "read-plan", serde(default))]
    pub trimmed_back: Vec<[f64; 2]>,
    /// How far the raw edge must open in all along its curves, once turned. mm.
    pub opens_mm: f64,
    /// What the knit gives of that by itself, where it is not stayed. mm.
    pub knit_gives_mm: f64,
    /// Clips along a curve are at least this far apart. mm.
    pub least_apart_mm: f64,
    /// Clips on one half, as places along the seam line from centre back. mm.
    pub places_mm: Vec<f64>,
    /// Clips all round.
    pub count: usize,
    /// Those of them that go into a point or a corner.
    pub into_corners: usize,
    /// The clips of one half, in the same order, as lines in the halves' own frames: from the raw edge to just short of
    /// the stitching.
    pub lines: Vec<ClipLine>,
}

/// The widest allowance that is left as it is, mm, and what a wider one is trimmed to, the closer one first: NMSU extension
/// C-210 trims 5/8 in to 1/4 or 3/8 in. In whole millimetres for who cuts by them.
const TRIMMED_MM: [f64; 2] = [6.0, 10.0];
const TRIMMED_EIGHTHS_MM: [f64; 2] = [6.35, 9.525];
/// What a wide allowance is trimmed to once it is sewn, mm; none where it is not wide, stays as it is for its finish, or
/// trimming would cut the tape in it.
fn trim_to(given: &Given<'_>, stayed: &[StayZone]) -> Option<f64> {
    let allowance = given.allowance;
    let to = match given.brief.rounding {
        Rounding::Millimetre => TRIMMED_MM,
        Rounding::EighthInch | Rounding::SixteenthInch => TRIMMED_EIGHTHS_MM,
    };
    let wide = given.form.turns_inside() && allowance > TRIMMED_MM[1] + SAME_MM;
    let on_neckline = stayed.iter().filter(|zone| zone.from_mm.is_some());
    let tape = on_neckline.map(|zone| allowance - zone.from_edge_mm).fold(0.0, f64::max);
    to.into_iter().find(|mm| wide && *mm + SAME_MM >= tape && *mm < allowance)
}

/// What the clips' figures were worked out from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ClipBasis {
    pub clips: Clips,
    /// The allowance that is clipped, mm.
    pub width: f64,
}

/// Where to clip, and what that was worked out from; none where nothing is clipped and nothing turned.
pub(crate) fn clip_plan(
    given: &Given<'_>,
    lines: &Lines,
    stayed: &[StayZone],
) -> Result<Option<(ClipPlan, ClipBasis)>, BriefErrors> {
    let (brief, ring) = (given.brief, &lines.ring);
    let round = lines.round();
    let trim_to_mm = trim_to(given, stayed);
    let width = trim_to_mm.unwrap_or(given.allowance);
    let turns = given.form.turns_inside();
    let clips = if turns {
        let comfort = brief.rules.comfort_share * given.garment.crosswise.min(given.garment.lengthwise);
        Clips::of_turned(round, &Turned { width, comfort, opening: brief.rules.clip_opening_mm, stayed })
    } else {
        Clips::of_corners(round)
    };
    if !turns && clips.clips.is_empty() {
        return Ok(None);
    }
    let trimmed = |which| match trim_to_mm {
        Some(to) => given.trimmed_edge(which, to).map(|line| line.points_without_loops()),
        None => Ok(Vec::new()),
    };
    let (trimmed_front, trimmed_back) = both(trimmed)?;
    let lines = if given.form.goes_round_edge() {
        round.bound_lines(&clips.clips, given.form.width)
    } else if trim_to_mm.is_some() {
        round.lines(&clips.clips, [&trimmed_front, &trimmed_back], width)
    } else {
        let raw = [&lines.front.0, &lines.back.0].map(Line::points_without_loops);
        round.lines(&clips.clips, raw.each_ref().map(Vec::as_slice), width)
    };
    let plan = ClipPlan {
        trim_to_mm,
        trimmed_front,
        trimmed_back,
        opens_mm: 2.0 * width * 2.0 * clips.theta,
        knit_gives_mm: 2.0 * clips.gives,
        least_apart_mm: LEAST_APART_MM,
        places_mm: clips.clips.iter().map(|clip| clip.s).collect(),
        count: clips.count(ring, |_| true),
        into_corners: clips.count(ring, |kind| kind != ClipKind::Curve),
        lines,
    };
    Ok(Some((plan, ClipBasis { clips, width })))
}
