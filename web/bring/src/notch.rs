//! Notches: short ways out of an edge and back, which are no part of it.

use kurbo::{Line, ParamCurve, ParamCurveArclen, PathSeg, Point};

use crate::run::{ACCURACY_MM, tangent, turn_deg};

/// The longest way round a notch, out and back, mm: a cut or a small V or U of 5 mm. Common practice, no published source.
const LONGEST_MM: f64 = 12.0;
/// How much longer the way round must be than the way straight on: else it is a bend.
const LONGER: f64 = 1.25;
/// A notch begins and ends with a turn of at least this, degrees.
const LEAST_TURN_DEG: f64 = 25.0;
/// The edge goes on after a notch as before it, within this, degrees.
const STRAIGHT_DEG: f64 = 20.0;
/// How far before and after a notch its edge's direction is taken, mm.
const BESIDE_MM: f64 = 1.5;
/// Ends of a cut in the edge are no further apart than this, mm.
const CUT_MM: f64 = 0.5;

/// The segments without notches, and the middle of each that was passed over.
pub(crate) fn passed(segments: &[PathSeg], closed: bool) -> (Vec<PathSeg>, Vec<Point>) {
    let start = if closed { plain_start(segments) } else { 0 };
    let mut ahead: Vec<PathSeg> = segments.iter().skip(start).chain(segments.iter().take(start)).copied().collect();
    if closed && let Some(first) = ahead.first().copied() {
        // The last notch of a closed outline has something after it.
        ahead.push(first);
    }
    let (mut kept, mut notches): (Vec<PathSeg>, Vec<Point>) = (Vec::new(), Vec::new());
    let mut i = 0;
    while let Some(segment) = ahead.get(i) {
        if let Some(end) = notch(&kept, &ahead, i) {
            let (from, to) = (segment.start(), ahead[end].start());
            notches.push(from.midpoint(to));
            if from.distance(to) > ACCURACY_MM {
                kept.push(PathSeg::Line(Line::new(from, to)));
            }
            i = end;
        } else {
            kept.push(*segment);
            i += 1;
        }
    }
    if closed {
        kept.pop();
    }
    (kept, notches)
}

/// A segment that no notch begins shortly before: the longest.
fn plain_start(segments: &[PathSeg]) -> usize {
    let lengths = segments.iter().map(|s| s.arclen(0.1)).enumerate();
    lengths.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(i, _)| i)
}

/// Where the notch ends that begins before segment `i`: the first segment after it.
fn notch(kept: &[PathSeg], ahead: &[PathSeg], i: usize) -> Option<usize> {
    let before = kept.last()?;
    let from = before.end();
    let out = ahead.get(i)?;
    if turn_deg(tangent(before, 1.0), tangent(out, 0.0)) < LEAST_TURN_DEG {
        return None;
    }
    let way = from - beside(kept.iter().rev().map(PathSeg::reverse), BESIDE_MM)?;
    let mut length = 0.0;
    for (j, segment) in ahead.iter().enumerate().skip(i) {
        length += segment.arclen(ACCURACY_MM);
        if length > LONGEST_MM {
            return None;
        }
        let after = ahead.get(j + 1)?;
        if j == i || turn_deg(tangent(segment, 1.0), tangent(after, 0.0)) < LEAST_TURN_DEG {
            continue;
        }
        let chord = segment.end() - from;
        let on = beside(ahead.iter().skip(j + 1).copied(), BESIDE_MM)? - segment.end();
        let goes_on = turn_deg(way, on) <= STRAIGHT_DEG;
        let in_line = chord.hypot() <= CUT_MM || turn_deg(way, chord) <= STRAIGHT_DEG;
        if goes_on && in_line && length > LONGER * chord.hypot() + CUT_MM {
            return Some(j + 1);
        }
    }
    None
}

/// The place so far along some segments, or the end of them.
fn beside(segments: impl Iterator<Item = PathSeg>, far: f64) -> Option<Point> {
    let mut rest = far;
    let mut end = None;
    for segment in segments {
        let length = segment.arclen(ACCURACY_MM);
        if length >= rest {
            return Some(segment.eval(segment.inv_arclen(rest, ACCURACY_MM)));
        }
        rest -= length;
        end = Some(segment.end());
    }
    end
}
