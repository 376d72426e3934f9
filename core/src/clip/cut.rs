//! Clips as short straight cuts from a raw edge toward the stitching.

use kurbo::{ParamCurve, ParamCurveNearest, Point, Vec2};
use serde::Serialize;

use crate::brief::neckline::HalfName;
use crate::curve::garment_side;
use crate::seam_line::Line;

/// A clip in the garment's neckline allowance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct ClipLine {
    /// In which half.
    pub half: HalfName,
    /// What it opens.
    pub kind: ClipKind,
    /// On the raw edge, trimmed where it is to be. mm.
    pub from: [f64; 2],
    /// Short of the stitching. mm.
    pub to: [f64; 2],
}

/// What a clip opens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum ClipKind {
    /// The point of a V, at its centre.
    Point,
    /// An inner corner.
    Corner,
    /// Part of a curve.
    Curve,
}

/// A short straight cut or line in a half's frame. mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Cut {
    /// One end.
    pub from: [f64; 2],
    /// The other.
    pub to: [f64; 2],
}

/// How far a clip along a curve stops short of the stitching, mm: common practice, no published source.
pub(crate) const SHORT_OF_SEAM_MM: f64 = 1.5;

impl Cut {
    pub(crate) fn between(from: Point, to: Point) -> Self {
        Self { from: [from.x, from.y], to: [to.x, to.y] }
    }
}

/// A clip at a place of a seam line: from the raw edge to just short of the stitching; none where the allowance is
/// too narrow to clip. Square to the seam line, save where that is no place of the raw edge: there it starts from the
/// raw edge's nearest place.
pub(crate) fn cut_at(line: &Line, raw: &[[f64; 2]], s: f64, allowance: f64) -> Option<Cut> {
    if allowance <= SHORT_OF_SEAM_MM {
        return None;
    }
    let (at, direction) = line.place(s)?;
    let out = garment_side(direction);
    let square = at - allowance * out;
    let reach = |from: Point| (at - from).dot(out);
    let from = nearest(raw, square).filter(|from| reach(*from) > SHORT_OF_SEAM_MM).unwrap_or(square);
    Some(Cut::between(from, at - SHORT_OF_SEAM_MM / reach(from) * (at - from)))
}

fn chords(run: &[[f64; 2]]) -> impl Iterator<Item = kurbo::Line> {
    let at = |p: &[f64; 2]| Point::new(p[0], p[1]);
    run.iter().zip(run.iter().skip(1)).map(move |(a, b)| kurbo::Line::new(at(a), at(b)))
}

/// The place of a run of points nearest to a point.
pub(crate) fn nearest(run: &[[f64; 2]], to: Point) -> Option<Point> {
    let places = chords(run).map(|chord| chord.eval(chord.nearest(to, 1e-9).t));
    places.min_by(|a, b| a.distance_squared(to).total_cmp(&b.distance_squared(to)))
}

/// Where a run of points is first met from a point in a direction.
pub(crate) fn met(run: &[[f64; 2]], from: Point, toward: Vec2) -> Option<Point> {
    let met = chords(run).filter_map(|chord| {
        let along = chord.p1 - chord.p0;
        let across = toward.cross(along);
        let (far, share) = ((chord.p0 - from).cross(along) / across, (chord.p0 - from).cross(toward) / across);
        (across != 0.0 && far > 0.0 && (-1e-9..=1.0 + 1e-9).contains(&share)).then_some(far)
    });
    met.min_by(f64::total_cmp).map(|far| from + far * toward)
}
