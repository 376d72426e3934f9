//! A known line moved to the garment side or toward the opening.

use kurbo::{CubicBez, Point, Vec2};

use super::line::{Line, SMOOTH};
use super::loops::{SAME_PLACE_MM, cross, meeting, rounded, through, without_loops};
use super::pieces::{MoveError, Piece, join_corners, join_loosely, sample, trim_end, trim_start};
use crate::curve::{Arc, garment_side, tangent};
use crate::error::Problem;

/// A seam line that meets the shoulder within this of a right angle needs no truing. Radians.
const SQUARE: f64 = 1e-4;

/// Over how many widths a line beside a seam line is drawn in at the shoulder: our judgement.
const TRUED_WIDTHS: f64 = 1.5;

/// What is taken off a known line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct TakeOff {
    /// To the garment side, mm.
    pub neckline: f64,
    pub centre: f64,
    pub shoulder: f64,
    /// Shoulder slope, radians.
    pub slope: f64,
}

/// How far past a line beside a seam line a raw edge lies, mm: further out, and past the centre and the shoulder's seam.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Outside {
    pub more: f64,
    pub centre: f64,
    pub shoulder: f64,
}

/// The end of a line beside a seam line: where and in which direction the line is left, and the curve from there to the
/// shoulder.
#[derive(Debug, Clone, Copy)]
struct TruedEnd {
    from: Point,
    direction: Vec2,
    arc: Arc,
}

impl Line {
    /// Moves a known line by what is taken off.
    pub(crate) fn moved(arcs: &[Arc], off: TakeOff) -> Result<Self, MoveError> {
        let neck = arcs.last().map(|a| a.point(1.0)).ok_or((Problem::NothingLeft, None))?;
        let shoulder = Vec2::new(off.slope.cos(), off.slope.sin());
        let sharpest = check_cusps(arcs, off.neckline)?;
        let mut pieces = join_corners(arcs, off.neckline)?;
        trim_start(&mut pieces, off.centre)?;
        trim_end(&mut pieces, neck, garment_side(shoulder), off.shoulder)?;
        let line = Self { nodes: sample(&pieces), shoulder, may_loop: false };
        // A line that bends away nowhere, moved outward, cannot cross itself.
        if sharpest < -1e-9 || arcs.len() > 3 {
            line.check_crossing()?;
        }
        Ok(line)
    }

    /// Moves a known line toward the opening or the garment without asking whether it folds back on itself: for an
    /// edge that is drawn, whose loops [`without_loops`] cuts out.
    pub(crate) fn moved_with_loops(arcs: &[Arc], off: TakeOff) -> Result<Self, MoveError> {
        let neck = arcs.last().map(|a| a.point(1.0)).ok_or((Problem::NothingLeft, None))?;
        let shoulder = Vec2::new(off.slope.cos(), off.slope.sin());
        let apart = || arcs.iter().map(|arc| Piece { arc: *arc, d: off.neckline, from: 0.0, to: 1.0 }).collect();
        let mut pieces = join_corners(arcs, off.neckline).unwrap_or_else(|_| apart());
        trim_start(&mut pieces, off.centre)?;
        trim_end(&mut pieces, neck, garment_side(shoulder), off.shoulder)?;
        Ok(Self { nodes: sample(&pieces), shoulder, may_loop: off.neckline < 0.0 })
    }

    /// A line beside a seam line, a width toward the garment, that its other half's meets: it ends on the shoulder's seam
    /// line that width from the neck point, square to it. `outside` moves it further out once it is trued and leaves more at
    /// centre and shoulder, for a raw edge.
    ///
    /// Where the seam line meets the shoulder at more than a right angle, the line goes round the neck point, always a width
    /// from the seam line; where at less, it is drawn in over one and a half widths. Where it would cross itself or fold
    /// back, it is smoothed.
    pub(crate) fn beside(
        arcs: &[Arc],
        seam: &Self,
        off: TakeOff,
        width: f64,
        outside: Outside,
    ) -> Result<Self, MoveError> {
        let neck = arcs.last().map(|a| a.point(1.0)).ok_or((Problem::NothingLeft, None))?;
        let distance = off.neckline + width + outside.more;
        let strict = check_cusps(arcs, distance).and_then(|k| Ok((k, join_corners(arcs, distance)?)));
        let (sharpest, mut pieces) = strict.unwrap_or_else(|_| (f64::NEG_INFINITY, join_loosely(arcs, distance)));
        let inward = garment_side(seam.shoulder);
        if let Some(end) = seam.trued_end(arcs, off, neck, width)? {
            trim_end(&mut pieces, end.from, -end.direction, 0.0)?;
            pieces.push(Piece { arc: end.arc, d: outside.more, from: 0.0, to: 1.0 });
            if outside.shoulder > 0.0 {
                trim_end(&mut pieces, neck, inward, off.shoulder - outside.shoulder)?;
            }
        } else {
            trim_end(&mut pieces, neck, inward, off.shoulder - outside.shoulder)?;
        }
        trim_start(&mut pieces, off.centre - outside.centre)?;
        let line = Self { nodes: sample(&pieces), shoulder: seam.shoulder, may_loop: false };
        // A line that bends away nowhere, moved outward, cannot cross itself.
        let plain = sharpest >= -1e-9 && arcs.len() <= 3;
        Ok(if plain || (sharpest.is_finite() && line.check_crossing().is_ok()) { line } else { line.smoothed(width) })
    }

    /// How a line beside this seam line ends where it has to be trued; none where it meets the shoulder square.
    fn trued_end(&self, arcs: &[Arc], off: TakeOff, neck: Point, width: f64) -> Result<Option<TruedEnd>, MoveError> {
        let Some(last) = self.nodes.last() else { return Ok(None) };
        let past_square = self.angle_at_neck() - core::f64::consts::FRAC_PI_2;
        let to = last.at + width * self.shoulder;
        let end = -garment_side(self.shoulder);
        if past_square.abs() < SQUARE {
            return Ok(None);
        }
        if past_square > 0.0 {
            let from = last.at + width * garment_side(last.direction);
            let reach = 4.0 / 3.0 * tangent(0.25 * past_square) * width;
            let arc = Arc::new(CubicBez::new(from, from + reach * last.direction, to - reach * end, to));
            return Ok(Some(TruedEnd { from, direction: last.direction, arc }));
        }
        let distance = off.neckline + width;
        let mut pieces = join_loosely(arcs, distance);
        trim_end(&mut pieces, neck, garment_side(self.shoulder), off.shoulder)?;
        trim_start(&mut pieces, off.centre)?;
        let line = Self { nodes: sample(&pieces), ..self.clone() };
        let corner = line.bends().filter(|bend| bend.length == 0.0 && bend.theta.abs() > SMOOTH).map(|bend| bend.s);
        let start = corner.fold(line.length() - (TRUED_WIDTHS * width).min(0.5 * line.length()), f64::max);
        let Some((near, direction)) = line.place(start.min(line.length() - SAME_PLACE_MM)) else { return Ok(None) };
        trim_end(&mut pieces, near, -direction, 0.0)?;
        Ok(pieces.last().map(|piece| {
            let (from, direction) = (piece.at(piece.to), piece.arc.direction(piece.to));
            let third = from.distance(to) / 3.0;
            let arc = Arc::new(CubicBez::new(from, from + third * direction, to - third * end, to));
            TruedEnd { from, direction, arc }
        }))
    }

    /// The line without its loops, each corner that they leave rounded over half a width each way.
    fn smoothed(&self, width: f64) -> Self {
        let kept = without_loops(self.points());
        Self { nodes: through(&rounded(&kept, 0.5 * width)), shoulder: self.shoulder, may_loop: false }
    }

    /// The known line itself.
    pub(crate) fn as_known(arcs: &[Arc], slope: f64) -> Self {
        let pieces: Vec<Piece> = arcs.iter().map(|arc| Piece { arc: *arc, d: 0.0, from: 0.0, to: 1.0 }).collect();
        Self { nodes: sample(&pieces), shoulder: Vec2::new(slope.cos(), slope.sin()), may_loop: false }
    }

    fn check_crossing(&self) -> Result<(), MoveError> {
        // Arcs that meet all but smoothly end a hair apart or past each other once moved: one place, no crossing.
        let mut at: Vec<Point> = self.nodes.iter().map(|n| n.at).collect();
        at.dedup_by(|next, kept| next.distance(*kept) < SAME_PLACE_MM);
        let segments: Vec<(Point, Point)> = at.iter().copied().zip(at.iter().copied().skip(1)).collect();
        for (i, &(a, b)) in segments.iter().enumerate() {
            if let Some(&(p, q)) = segments.iter().skip(i + 2).find(|&&(p, q)| cross(a, b, p, q)) {
                let at = meeting(a, b, p, q);
                return Err((Problem::CrossesAt { x_mm: at.x, y_mm: at.y }, None));
            }
        }
        Ok(())
    }
}

/// The largest distance to the garment side that works, up to the one that was asked, with the rest of what is
/// taken off unchanged; to 0.1 mm, rounded down. None where none does.
pub(crate) fn largest(arcs: &[Arc], off: TakeOff) -> Option<f64> {
    let works = |neckline: f64| Line::moved(arcs, TakeOff { neckline, ..off }).is_ok();
    if !works(0.0) {
        return None;
    }
    let (mut lo, mut hi) = (0.0, off.neckline);
    while hi - lo > 0.02 {
        let mid = 0.5 * (lo + hi);
        if works(mid) { lo = mid } else { hi = mid }
    }
    Some((lo * 10.0).floor() / 10.0)
}

/// Where a known line crosses itself, if it does.
pub(crate) fn self_crossing(arcs: &[Arc]) -> Option<(f64, f64)> {
    match Line::as_known(arcs, 0.0).check_crossing() {
        Err((Problem::CrossesAt { x_mm, y_mm }, _)) => Some((x_mm, y_mm)),
        _ => None,
    }
}

/// A cusp stands where the moved line's speed would vanish: 1 + d k = 0. Gives the least curvature, 1/mm.
fn check_cusps(arcs: &[Arc], d: f64) -> Result<f64, MoveError> {
    // Most necklines bend one way only, which few samples tell; those that do not are looked at closely, and once more
    // between the places beside the sharpest: a tight bend can lie there.
    let sharpest = match sharpest(arcs, 8) {
        Some((k, ..)) if k < -1e-9 => sharpest(arcs, 64).map(|(k, arc, t)| {
            let beside = (0..=64).map(|i| (t + (f64::from(i) / 32.0 - 1.0) / 64.0).clamp(0.0, 1.0));
            let nearer = beside.map(|t| (arc.curvature(t), arc, t)).min_by(|a, b| a.0.total_cmp(&b.0));
            nearer.unwrap_or((k, arc, t))
        }),
        other => other,
    };
    match sharpest {
        Some((k, arc, t)) if 1.0 + d * k <= 0.0 => {
            let at = arc.point(t);
            Err((Problem::CuspAt { x_mm: at.x, y_mm: at.y }, Some((-1.0 / k * 10.0).floor() / 10.0)))
        }
        Some((k, ..)) => Ok(k),
        None => Ok(0.0),
    }
}

/// The least curvature at even places of each arc, 1/mm, and where it is; a straight one bends alike all along.
fn sharpest(arcs: &[Arc], parts: u32) -> Option<(f64, &Arc, f64)> {
    let least = |arc| {
        let places = if Arc::is_straight(arc) { 0 } else { parts };
        let at = |i: u32| f64::from(i) / f64::from(parts);
        (0..=places).map(|i| (arc.curvature(at(i)), arc, at(i))).min_by(|a, b| a.0.total_cmp(&b.0))
    };
    arcs.iter().filter_map(least).min_by(|a, b| a.0.total_cmp(&b.0))
}
