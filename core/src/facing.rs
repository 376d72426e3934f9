//! The facing: front and back pieces from the seam line.
//!
//! The seam edge is drawn in from the opening by the turn of cloth, so that the seam rolls inside; the outer
//! edge is the seam line moved by the finished width. Both are trimmed at the shoulder seam and the centre,
//! which a facing shares with the garment. Allowances lie outside: at the neck toward the opening, at shoulder
//! and centre as on the garment, at the outer edge as much as is turned under.

use kurbo::Point;

use crate::brief::{Centre, Facing};
use crate::clip::{cut_at, nearest};
use crate::curve::{Arc, garment_side};
use crate::given::{Given, Which};
use crate::plan::{Cut, FacingPiece, Figure, Notch};
use crate::ring::Ring;
use crate::seam_line::{Line, MoveError, TakeOff};

/// Between the two notches of a back piece, mm: common practice, no published source.
const DOUBLE_NOTCH_MM: f64 = 8.0;
/// Part of a chord of the piece that the stretch arrow takes up: our judgement.
const ARROW_SHARE: f64 = 0.6;
/// Levels at which the arrow's place is looked for.
const ARROW_LEVELS: u32 = 16;

/// The moved lines of half a facing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct HalfFacing {
    pub seam_edge: Line,
    pub outer_edge: Line,
}

impl HalfFacing {
    /// From the half's known line and what is taken off it down to the seam line.
    pub(crate) fn new(arcs: &[Arc], off: TakeOff, favour: f64, width: f64) -> Result<Self, MoveError> {
        let moved = |more: f64| Line::moved(arcs, TakeOff { neckline: off.neckline + more, ..off });
        Ok(Self { seam_edge: moved(favour)?, outer_edge: moved(width)? })
    }
}

/// A half piece's lines beside its two edges.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Lines {
    raw_neck: Line,
    raw_outer: Line,
    pub understitch: Line,
    pub topstitch: Option<Line>,
}

impl Lines {
    /// The raw edges and the lines of stitching: understitching is measured from the facing's own seam edge,
    /// topstitching, which goes through the garment, from the garment's seam line.
    pub(crate) fn new(
        given: &Given<'_>,
        which: Which,
        facing: &Facing,
        arcs: &[Arc],
        off: TakeOff,
    ) -> Result<Self, MoveError> {
        let half = given.half(which);
        let raw = |neckline: f64| TakeOff {
            neckline,
            centre: off.centre - half.centre_allowance,
            shoulder: off.shoulder - half.shoulder_allowance,
            slope: off.slope,
        };
        let sewn = |more: f64| Line::moved(arcs, TakeOff { neckline: off.neckline + more, ..off });
        let favour = given.garment.turn_mm.min(facing.width_mm);
        Ok(Self {
            raw_neck: Line::moved_with_loops(arcs, raw(off.neckline + favour - given.allowance))?,
            raw_outer: Line::moved(arcs, raw(off.neckline + facing.width_mm + facing.edge_allowance_mm))?,
            // Sewn through facing and allowances beside the facing's own seam edge, which is drawn in.
            understitch: sewn((favour + facing.understitch_mm).min(facing.width_mm))?,
            topstitch: facing.topstitch_mm.map(sewn).transpose()?,
        })
    }
}

/// Half a piece as it is cut and sewn.
pub(crate) fn piece(
    given: &Given<'_>,
    which: Which,
    edges: &HalfFacing,
    lines: &Lines,
    ring: &Ring,
    clips: &[f64],
    [seam_edge, outer_edge]: [Figure; 2],
) -> FacingPiece {
    let neck = lines.raw_neck.points_without_loops();
    let sewn_outline = closed(edges.seam_edge.points(), edges.outer_edge.points());
    let share = edges.seam_edge.length() / seam_length(ring, which);
    let notches = notches(given, which, &edges.seam_edge, share, &neck);
    let own_places = clips.iter().filter_map(|s| own_place(ring, which, *s));
    let clips = own_places.filter_map(|s| cut_at(&edges.seam_edge, &neck, s * share, given.allowance)).collect();
    let cut_outline = closed(neck, lines.raw_outer.points());
    FacingPiece {
        seam_edge,
        outer_edge,
        outer_line: edges.outer_edge.points(),
        seam_line: edges.seam_edge.points(),
        on_fold: which.of(&given.brief.neckline).centre == Centre::Fold,
        understitch_line: lines.understitch.points(),
        topstitch_line: lines.topstitch.as_ref().map(Line::points).unwrap_or_default(),
        notches,
        clips,
        arrow: arrow(&sewn_outline),
        cut_outline,
        sewn_outline,
    }
}

fn seam_length(ring: &Ring, which: Which) -> f64 {
    match which {
        Which::Back => ring.back_length,
        Which::Front => ring.length - ring.back_length,
    }
}

/// A place along the half round from centre back, as a place along one half from its own centre.
fn own_place(ring: &Ring, which: Which, s: f64) -> Option<f64> {
    match which {
        Which::Back => (s <= ring.back_length).then_some(s),
        Which::Front => (s > ring.back_length).then_some(ring.length - s),
    }
}

/// A closed outline: along the neck from centre to shoulder, back along the outer edge.
fn closed(neck: Vec<[f64; 2]>, outer: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    neck.into_iter().chain(outer.into_iter().rev()).collect()
}

/// Notches halfway along the seam edge, one on the front and two on the back, and one at a fold; the same shares
/// of the garment's seam line are their twins.
fn notches(given: &Given<'_>, which: Which, edge: &Line, share: f64, neck: &[[f64; 2]]) -> Vec<Notch> {
    let half = 0.5 * edge.length();
    let places = match which {
        Which::Front => vec![half],
        Which::Back => vec![half - 0.5 * DOUBLE_NOTCH_MM, half + 0.5 * DOUBLE_NOTCH_MM],
    };
    let fold = which.of(&given.brief.neckline).centre == Centre::Fold;
    let places = fold.then_some(0.0).into_iter().chain(places);
    places
        .filter_map(|s| {
            let (toward, direction) = edge.place(s)?;
            let at = toward - given.allowance * garment_side(direction);
            // Beside a corner, and in the fold at a point, square to the seam edge is no place of the cut edge.
            let at = nearest(neck, at).unwrap_or(at);
            Some(Notch {
                at: [at.x, at.y],
                toward: [toward.x, toward.y],
                on_piece_mm: s,
                on_seam_line_mm: if share > 0.0 { s / share } else { s },
            })
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
    let mut met: Vec<f64> = outline
        .iter()
        .zip(next)
        .map(|(a, b)| (point(a), point(b)))
        .filter(|(a, b)| (a.y > y) != (b.y > y))
        .map(|(a, b)| a.lerp(b, (y - a.y) / (b.y - a.y)).x)
        .collect();
    met.sort_unstable_by(f64::total_cmp);
    met.chunks_exact(2).filter_map(|pair| Some((*pair.first()?, *pair.last()?))).collect()
}
