//! The facing: front and back pieces from the seam line.
//!
//! The neck edge is cut like the edge it finishes ('Apparel: Design, Textiles and Construction', Goodheart-Willcox, 2012,
//! p. 452): it is the garment's seam line, as long as that, so that neither is eased. An edge that tape or the knit keeps
//! at its length still has that length once the seam is rolled inside by the turn of cloth, and turns as before: that is
//! the shape a flat facing must have there. The outer edge is a finished width from it and meets the other half's at the
//! shoulder. Both are trimmed at the centre, which a facing shares with the garment. Allowances lie outside: at the neck
//! toward the opening, at shoulder and centre as on the garment, at the outer edge as much as is turned under.

pub(crate) mod piece;
pub(crate) mod stitching;

use serde::Serialize;

use crate::brief::HalfName;
use crate::clip::ClipPlan;
use crate::error::{Accepted, BriefError, BriefErrors, Problem};
use crate::figure::{Changes, Figure};
use crate::finish::form::CutWidth;
use crate::given::Given;
use crate::lines::{Lines, both};
use crate::range::{Touches, figures};
use crate::seam_line::MoveError;
pub use piece::{FacingPiece, Notch};
use piece::{HalfFacing, piece};
use stitching::{Stitching, UNDERSTITCH_STOPS_MM};

/// A facing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct FacingPlan {
    /// The front piece, by half.
    pub front: FacingPiece,
    /// The back piece, by half.
    pub back: FacingPiece,
    /// Cut width from raw neck edge to raw outer edge.
    pub cut_width: Figure,
    /// How far the seam rolls inside when it is pressed: the turn of cloth. The neck edge itself is cut like the garment's
    /// edge, as long as that, so that neither is eased. mm.
    pub favour_mm: f64,
    /// What the facing is interfaced with.
    pub interfacing: Interfacing,
    /// Understitching all round, as far as it is sewn. mm.
    pub understitch_length_mm: f64,
    /// From the seam to the understitching. mm.
    pub understitch_distance_mm: f64,
    /// How far it stops short of each point and corner; none where there is none. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub understitch_stops_mm: Option<f64>,
    /// Topstitching all round, where it is asked: through garment and facing, so measured from the garment's seam
    /// line. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub topstitch_length_mm: Option<f64>,
}

/// What a facing is interfaced with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum Interfacing {
    /// Fusible knit interfacing, which steadies a knit and still gives with it: common practice, no published source.
    FusibleKnit,
}

/// The width of the facing that is offered where a strip does not lie flat, mm: the form's own.
const OFFERED_MM: f64 = 55.0;

/// Whether the offered facing can be cut for this neckline.
pub(crate) fn can_be_offered(given: &Given<'_>) -> bool {
    [HalfName::Front, HalfName::Back]
        .into_iter()
        .all(|which| given.known(which).is_ok_and(|(arcs, off)| HalfFacing::new(arcs, off, OFFERED_MM).is_ok()))
}

/// A facing that leaves nothing: the widest that works, where one does.
fn too_wide(given: &Given<'_>, (problem, largest): MoveError, width: f64, neckline: f64) -> BriefErrors {
    let accepted = match largest {
        Some(most) => given.narrower(most - neckline),
        None => Accepted::code(given.form.narrower),
    };
    let problem = if problem == Problem::NothingLeft { Problem::OutOfRange } else { problem };
    BriefError::of_number(given.form.width_field(), width, problem, accepted).into()
}

/// What a facing's figures were worked out from, front first.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FacingBasis {
    pub edges: [HalfFacing; 2],
    pub stitching: [Stitching; 2],
    pub cut_width: CutWidth,
    /// What each reading changes: seam and outer edge of the front, of the back, the cut width.
    pub changes: [Changes; 5],
}

/// One half of the facing: what its figures come from.
fn half_facing(given: &Given<'_>, which: HalfName) -> Result<HalfFacing, BriefErrors> {
    let width = given.form.width + given.width_off;
    let (arcs, off) = given.known(which)?;
    HalfFacing::new(arcs, off, width).map_err(|failed| too_wide(given, failed, width, off.neckline))
}

/// Seam and outer edge of a half piece, mm.
fn edges(piece: &HalfFacing) -> [f64; 2] {
    [piece.seam_edge.length(), piece.outer_edge.length()]
}

/// The facing, and what it was worked out from; none for a strip.
pub(crate) fn facing_plan(
    given: &Given<'_>,
    lines: &Lines,
    clips: Option<&ClipPlan>,
) -> Result<Option<(FacingPlan, FacingBasis)>, BriefErrors> {
    if !given.form.shaped {
        return Ok(None);
    }
    let (front, back) = both(|which| half_facing(given, which))?;
    let ([a, b], [c, d]) = (edges(&front), edges(&back));
    let width =
        |given: &Given<'_>| given.brief.finish.one().cut_width(&given.cloths(given.form.width + given.width_off));
    let reckoned = figures(given, [a, b, c, d, width(given).mm], |moved, touches| {
        let again = |which| half_facing(moved, which).ok().map(|piece| edges(&piece));
        // A facing is not stretched: only lines and width bear on it.
        let still = touches == Touches::Neither && moved.width_off == 0.0;
        let [a, b] = if still || touches == Touches::Back { [a, b] } else { again(HalfName::Front)? };
        let [c, d] = if still || touches == Touches::Front { [c, d] } else { again(HalfName::Back)? };
        Some([a, b, c, d, width(moved).mm])
    });
    let changes: [Changes; 5] = reckoned.each_ref().map(|(_, changes)| changes.clone());
    let [front_seam, front_outer, back_seam, back_outer, cut_width] = reckoned.map(|(figure, _)| figure);
    let stitching = |which| {
        let (arcs, off) = given.known(which)?;
        let half = if which == HalfName::Front { &front } else { &back };
        Stitching::new(given, which, (arcs, off), (&half.seam_edge, lines.ring.neck_turn))
            .map_err(|failed| too_wide(given, failed, given.form.width, off.neckline))
    };
    let (front_lines, back_lines) = both(stitching)?;
    let half_piece = |which, half: &HalfFacing, lines_of: &Stitching, own: [_; 2]| -> FacingPiece {
        piece(given, which, half, lines_of, clips, own)
    };
    let stitched = [&front_lines, &back_lines];
    let understitch = stitched.map(Stitching::understitch_length);
    let topstitch = front_lines.topstitch.as_ref().zip(back_lines.topstitch.as_ref());
    let topstitch = topstitch.map(|(front, back)| [front.length(), back.length()]);
    let plan = FacingPlan {
        front: half_piece(HalfName::Front, &front, &front_lines, [front_seam, front_outer]),
        back: half_piece(HalfName::Back, &back, &back_lines, [back_seam, back_outer]),
        cut_width,
        favour_mm: given.garment.turn_mm.min(given.form.width),
        interfacing: Interfacing::FusibleKnit,
        understitch_length_mm: 2.0 * understitch.iter().sum::<f64>(),
        understitch_distance_mm: given.form.understitch.unwrap_or_default(),
        understitch_stops_mm: stitched.iter().any(|lines| lines.stops_short()).then_some(UNDERSTITCH_STOPS_MM),
        topstitch_length_mm: topstitch.map(|halves| 2.0 * halves.iter().sum::<f64>()),
    };
    let basis =
        FacingBasis { edges: [front, back], stitching: [front_lines, back_lines], cut_width: width(given), changes };
    Ok(Some((plan, basis)))
}
