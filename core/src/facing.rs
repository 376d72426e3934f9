//! The facing: front and back pieces from the seam line.
//!
//! The neck edge is cut like the edge it finishes ('Apparel: Design, Textiles and Construction', Goodheart-Willcox, 2012,
//! p. 452): it is the garment's seam line, as long as that, so that neither is eased. An edge that tape or the knit keeps
//! at its length still has that length once the seam is rolled inside by the turn of cloth, and turns as before: that is
//! the shape a flat facing must have there. The outer edge is a finished width from it and meets the other half's at the
//! shoulder. Both are trimmed at the centre, which a facing shares with the garment. Allowances lie outside: at the neck
//! toward the opening, at shoulder and centre as on the garment, at the outer edge as much as is turned under.

use kurbo::Point;
use serde::Serialize;

use crate::brief::neckline::HalfName;
use crate::brief::{Centre, Facing};
use crate::clip::{ClipLine, ClipPlan, Cut, nearest};
use crate::curve::{Arc, garment_side};
use crate::error::{Accepted, AcceptedCode, BriefError, BriefErrors, Problem, Unit};
use crate::figure::Figure;
use crate::given::{Given, Which};
use crate::seam_line::{CORNER, Line, MoveError, Outside, TakeOff};

/// A facing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[serde(rename_all = "snake_case")]
pub enum Interfacing {
    /// Fusible knit interfacing, which steadies a knit and still gives with it: common practice, no published source.
    FusibleKnit,
}

/// Half a facing piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    pub topstitch_line: Vec<[f64; 2]>,
    /// Notches in the neck edge: one on the front, two on the back, and one at a fold.
    pub notches: Vec<Notch>,
    /// Clips in the neckline allowance: those of the garment, which is clipped with it.
    pub clips: Vec<ClipLine>,
    /// Where a wide neckline allowance is trimmed before it is clipped; empty where it is not. mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trimmed_line: Vec<[f64; 2]>,
    /// The stretch arrow, crosswise, within the piece.
    pub arrow: Cut,
}

/// A notch: where it is cut, which way, and its twins.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

/// How far understitching stops short of a point or a corner, where the foot cannot reach, mm: from memory, about an inch.
pub(crate) const UNDERSTITCH_STOPS_MM: f64 = 25.0;
/// The width of the facing that is offered where a strip does not lie flat, mm: the form's own.
const OFFERED_MM: f64 = 55.0;

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

/// A half piece's lines beside its two edges.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Lines {
    raw_neck: Line,
    raw_outer: Line,
    pub understitch: Line,
    /// The runs that are understitched, mm along the line from the centre.
    pub understitched: Vec<(f64, f64)>,
    pub topstitch: Option<Line>,
}

impl Lines {
    /// The raw edges and the lines of stitching, both measured from the seam line.
    pub(crate) fn new(
        given: &Given<'_>,
        which: Which,
        facing: &Facing,
        (arcs, off): (&[Arc], TakeOff),
        (seam, neck_turn): (&Line, f64),
    ) -> Result<Self, MoveError> {
        let half = given.half(which);
        let raw_neck = TakeOff {
            neckline: off.neckline - given.allowance,
            centre: off.centre - half.centre_allowance,
            shoulder: off.shoulder - half.shoulder_allowance,
            slope: off.slope,
        };
        let outside = Outside {
            more: facing.edge_allowance_mm,
            centre: half.centre_allowance,
            shoulder: half.shoulder_allowance,
        };
        let sewn = |width: f64| Line::beside(arcs, seam, off, width, Outside::default());
        let understitch = sewn(facing.understitch_mm.min(facing.width_mm))?;
        Ok(Self {
            raw_neck: Line::moved_with_loops(arcs, raw_neck)?,
            raw_outer: Line::beside(arcs, seam, off, facing.width_mm, outside)?,
            understitched: understitched(&understitch, neck_turn),
            understitch,
            topstitch: facing.topstitch_mm.map(sewn).transpose()?,
        })
    }

    /// How long the understitching of this half is, mm.
    pub(crate) fn understitch_length(&self) -> f64 {
        self.understitched.iter().map(|(from, to)| to - from).sum()
    }

    /// Whether it stops short anywhere.
    pub(crate) fn stops_short(&self) -> bool {
        self.understitch.length() - self.understitch_length() > 1e-9
    }
}

/// What of a line of understitching is sewn: all but what lies within reach of a point or a corner, whichever way that
/// turns, or of a corner where front and back meet.
fn understitched(line: &Line, neck_turn: f64) -> Vec<(f64, f64)> {
    let is_corner = |turn: f64| turn.abs() > CORNER;
    let mut corners: Vec<f64> = Vec::new();
    corners.extend(is_corner(2.0 * line.half_turn_at_centre()).then_some(0.0));
    corners.extend(line.bends().filter(|bend| bend.length == 0.0 && is_corner(bend.theta)).map(|bend| bend.s));
    corners.extend(is_corner(neck_turn).then_some(line.length()));
    let (mut runs, mut from) = (Vec::new(), 0.0);
    for corner in corners {
        runs.push((from, corner - UNDERSTITCH_STOPS_MM));
        from = corner + UNDERSTITCH_STOPS_MM;
    }
    runs.push((from, line.length()));
    runs.retain(|(from, to)| to > from);
    runs
}

/// Whether the offered facing can be cut for this neckline.
pub(crate) fn can_be_offered(given: &Given<'_>) -> bool {
    [Which::Front, Which::Back]
        .into_iter()
        .all(|which| given.known(which).is_ok_and(|(arcs, off)| HalfFacing::new(&arcs, off, OFFERED_MM).is_ok()))
}

/// A facing that leaves nothing: the widest that works, where one does.
pub(crate) fn too_wide((problem, largest): MoveError, width: f64, neckline: f64) -> BriefErrors {
    let accepted = match largest.map(|most| most - neckline) {
        Some(most) if most >= 20.0 => Accepted::range(20.0, most, Unit::Mm),
        _ => Accepted::code(AcceptedCode::NarrowerFacing),
    };
    let problem = if problem == Problem::NothingLeft { Problem::OutOfRange } else { problem };
    BriefError::new("finish.facing.width_mm", Some(width.to_string()), problem, accepted).into()
}

/// Half a piece as it is cut and sewn.
pub(crate) fn piece(
    given: &Given<'_>,
    which: Which,
    edges: &HalfFacing,
    lines: &Lines,
    clips: Option<&ClipPlan>,
    [seam_edge, outer_edge]: [Figure; 2],
) -> FacingPiece {
    let neck = lines.raw_neck.points_without_loops();
    let sewn_outline = closed(edges.seam_edge.points(), edges.outer_edge.points());
    let half = match which {
        Which::Front => HalfName::Front,
        Which::Back => HalfName::Back,
    };
    // Cut like the garment's edge and sewn to it, the piece is clipped and trimmed with it.
    let own = |line: &&ClipLine| line.half == half;
    let clip_lines = clips.map_or(&[][..], |clips| &clips.lines).iter().filter(own);
    let trimmed = clips.map(|clips| if which == Which::Front { &clips.trimmed_front } else { &clips.trimmed_back });
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
fn notches(given: &Given<'_>, which: Which, edge: &Line, neck: &[[f64; 2]]) -> Vec<Notch> {
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
