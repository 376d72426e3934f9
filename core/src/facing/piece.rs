//! Half a facing's piece as it is cut and sewn: outlines, notches, clips and the stretch arrow.

use kurbo::Point;
use serde::Serialize;

use super::stitching::Stitching;
use crate::brief::{Centre, HalfName};
use crate::clip::ClipPlan;
use crate::clip::cut::{ClipLine, Cut, nearest};
use crate::curve::{Arc, garment_side};
use crate::figure::Figure;
use crate::given::Given;
use crate::in_order::in_order;
use crate::seam_line::{Line, MoveError, Outside, TakeOff};

/// Half a facing piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct FacingPiece {
    /// Finished length of its seam edge. mm.
    pub seam_edge: Figure,
    /// Finished length of its outer edge. mm.
    pub outer_edge: Figure,
    /// The outer edge in the half's frame. mm.
    pub outer_line: Vec<[f64; 2]>,
    /// The seam edge in the half's frame. mm.
    pub seam_line: Vec<[f64; 2]>,
    /// Whether the centre is cut on a fold.
    pub on_fold: bool,
    /// The half piece as cut, allowances included: a closed path, its last point not repeated. mm.
    pub cut_outline: Vec<[f64; 2]>,
    /// The half piece within its seams: a closed path, its last point not repeated. mm.
    pub sewn_outline: Vec<[f64; 2]>,
    /// Where it is understitched, run by run from the centre: it stops short of points and corners. mm.
    pub understitch_lines: Vec<Vec<[f64; 2]>>,
    /// Where garment and facing are topstitched, where that is asked, beside the garment's seam line. mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "read-plan", serde(default))]
    pub topstitch_line: Vec<[f64; 2]>,
    /// Notches in the neck edge: one on the front, two on the back, and one at a fold.
    pub notches: Vec<Notch>,
    /// Clips in the neckline allowance: those of the garment, which is clipped with it.
    pub clips: Vec<ClipLine>,
    /// Where a wide neckline allowance is trimmed before it is clipped; empty where it is not. mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "read-plan", serde(default))]
    pub trimmed_line: Vec<[f64; 2]>,
    /// The stretch arrow, crosswise, within the piece.
    pub arrow: Cut,
}

/// A notch: where it is cut, which way, and its twins.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Notch {
    /// On the cut edge, in the half's frame. mm.
    pub at: [f64; 2],
    /// A point on the seam edge that it runs toward. mm.
    pub toward: [f64; 2],
    /// Its place along the piece's seam edge from the centre. mm.
    pub on_piece_mm: f64,
    /// Its twin's place along the garment's seam line from the centre. mm.
    pub on_seam_line_mm: f64,
}

/// Between the two notches of a back piece, mm: common practice, no published source.
const DOUBLE_NOTCH_MM: f64 = 8.0;

/// Part of a chord of the piece that the stretch arrow takes up: our judgement.
const ARROW_SHARE: f64 = 0.6;

/// Levels at which the arrow's place is looked for.
const ARROW_LEVELS: u32 = 16;

/// The edges of half a facing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct HalfFacing {
    pub seam_edge: Line,
    pub outer_edge: Line,
}

impl HalfFacing {
    /// From the half's known line and what is taken off it down to the seam line.
    pub(crate) fn new(arcs: &[Arc], off: TakeOff, width: f64) -> Result<Self, MoveError> {
        let seam_edge = Line::moved(arcs, off)?;
        let outer_edge = Line::beside(arcs, &seam_edge, off, width, Outside::default())?;
        Ok(Self { seam_edge, outer_edge })
    }
}

/// Half a piece as it is cut and sewn.
pub(crate) fn piece(
    given: &Given<'_>,
    which: HalfName,
    edges: &HalfFacing,
    lines: &Stitching,
    clips: Option<&ClipPlan>,
    [seam_edge, outer_edge]: [Figure; 2],
) -> FacingPiece {
    let neck = lines.raw_neck.points_without_loops();
    let sewn_outline = closed(edges.seam_edge.points(), edges.outer_edge.points());
    // Cut like the garment's edge and sewn to it, the piece is clipped and trimmed with it.
    let own = |line: &&ClipLine| line.half == which;
    let clip_lines = clips.map_or(&[][..], |clips| &clips.lines).iter().filter(own);
    let trimmed = clips.map(|clips| if which == HalfName::Front { &clips.trimmed_front } else { &clips.trimmed_back });
    FacingPiece {
        seam_edge,
        outer_edge,
        outer_line: edges.outer_edge.points(),
        seam_line: edges.seam_edge.points(),
        on_fold: which.of(&given.brief.neckline).centre == Centre::Fold,
        understitch_lines: lines.understitched.iter().map(|(from, to)| lines.understitch.part(*from, *to)).collect(),
        topstitch_line: lines.topstitch.as_ref().map(Line::points).unwrap_or_default(),
        notches: notches(given, which, &edges.seam_edge, &neck),
        clips: clip_lines.copied().collect(),
        trimmed_line: trimmed.cloned().unwrap_or_default(),
        arrow: arrow(&sewn_outline),
        cut_outline: closed(neck, lines.raw_outer.points()),
        sewn_outline,
    }
}

/// A closed outline: along the neck from centre to shoulder, back along the outer edge.
fn closed(neck: Vec<[f64; 2]>, outer: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    neck.into_iter().chain(outer.into_iter().rev()).collect()
}

/// Notches halfway along the seam edge, one on the front and two on the back, and one at a fold; the same places
/// of the garment's seam line are their twins.
fn notches(given: &Given<'_>, which: HalfName, edge: &Line, neck: &[[f64; 2]]) -> Vec<Notch> {
    let half = 0.5 * edge.length();
    let places = match which {
        HalfName::Front => vec![half],
        HalfName::Back => vec![half - 0.5 * DOUBLE_NOTCH_MM, half + 0.5 * DOUBLE_NOTCH_MM],
    };
    let fold = which.of(&given.brief.neckline).centre == Centre::Fold;
    let places = fold.then_some(0.0).into_iter().chain(places);
    places
        .filter_map(|s| {
            let (toward, direction) = edge.place(s)?;
            let at = toward - given.allowance * garment_side(direction);
            // Beside a corner, and in the fold at a point, square to the seam edge is no place of the cut edge.
            let at = nearest(neck, at).unwrap_or(at);
            Some(Notch { at: [at.x, at.y], toward: [toward.x, toward.y], on_piece_mm: s, on_seam_line_mm: s })
        })
        .collect()
}

/// The stretch arrow: crosswise, along the longest level chord within the seams that is found.
fn arrow(outline: &[[f64; 2]]) -> Cut {
    let level = |p: &[f64; 2]| p[1];
    let top = outline.iter().map(level).fold(f64::INFINITY, f64::min);
    let bottom = outline.iter().map(level).fold(f64::NEG_INFINITY, f64::max);
    let chords = (1..ARROW_LEVELS).flat_map(|i| {
        let y = top + (bottom - top) * f64::from(i) / f64::from(ARROW_LEVELS);
        chords_at(outline, y).into_iter().map(move |(a, b)| (a, b, y))
    });
    let longest = chords.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
    let (a, b, y) = longest.unwrap_or((0.0, 0.0, top));
    let (middle, reach) = (0.5 * (a + b), 0.5 * ARROW_SHARE * (b - a));
    Cut { from: [middle - reach, y], to: [middle + reach, y] }
}

/// The chords of a closed outline at a level, by the even-odd rule.
fn chords_at(outline: &[[f64; 2]], y: f64) -> Vec<(f64, f64)> {
    let next = outline.iter().cycle().skip(1);
    let point = |p: &[f64; 2]| Point::new(p[0], p[1]);
    let crossed = outline.iter().zip(next).map(|(a, b)| (point(a), point(b))).filter(|(a, b)| (a.y > y) != (b.y > y));
    let met = in_order(crossed.map(|(a, b)| a.lerp(b, (y - a.y) / (b.y - a.y)).x));
    met.chunks_exact(2).filter_map(|pair| Some((*pair.first()?, *pair.last()?))).collect()
}
