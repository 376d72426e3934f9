//! Which edges of an outline may be its neckline.
//!
//! A neckline is hollow: it runs into the piece. Of a half piece it lies between the fold, the longest straight edge, and a shoulder;
//! of a whole one between two shoulders, its own mirror. So are armholes hollow, but they meet no fold. Common practice, no
//! published source; the person points in the end.

use kurbo::{ParamCurve, ParamCurveArclen, ParamCurveNearest, PathSeg, Point};

use crate::edge::{Chosen, Down, edge};
use crate::order::sorted_by;
use crate::outline::Outline;
use crate::run::{ACCURACY_MM, Run};

/// How long a neckline may be, half or whole, mm. Our judgement.
const LENGTH_MM: [f64; 2] = [40.0, 700.0];
/// The least hollow of an edge, as a share of the way straight between its ends.
const LEAST_HOLLOW: f64 = 0.04;
/// Most edges that are looked at: two to a corner.
const MOST_CORNERS: usize = 60;
/// Most edges that are suggested.
const MOST: usize = 6;

/// An edge that may be the neckline.
#[derive(Debug, Clone, PartialEq)]
pub struct Suggested {
    /// The neck point and the centre; of a whole neckline both neck points. mm.
    pub ends: [Point; 2],
    /// A place on it between them, mm.
    pub via: Point,
    /// Whether it is whole.
    pub whole: bool,
    /// Its length, mm.
    pub length_mm: f64,
    /// Where it lies, mm.
    pub segments: Vec<PathSeg>,
}

/// The likeliest edges, the likeliest first; before all others those that were `tapped`: the edge of the outline that is nearest
/// to that place, mm, is one of theirs.
#[must_use]
pub fn suggested(outline: &Outline, tapped: Option<Point>) -> Vec<Suggested> {
    let corners: Vec<f64> = outline.corners.iter().map(|corner| corner.at).collect();
    let n = corners.len();
    if !(2..=MOST_CORNERS).contains(&n) {
        return Vec::new();
    }
    let sense = area_sense(&outline.run);
    let tapped = tapped.map(|place| (place, outline.run.nearest(place).1));
    let mut ranked: Vec<(f64, Suggested)> = Vec::new();
    for i in 0..n {
        // One edge, or the two of a V.
        for over in [1, 2] {
            let j = i + over;
            let Some(to) = corners.get(if outline.run.is_closed() { j % n } else { j }) else { continue };
            if outline.run.is_closed() && over >= n {
                continue;
            }
            let found = candidate(outline, corners[i], *to, sense);
            // The two edges of a V make a whole, or nothing.
            ranked.extend(found.filter(|(_, one)| over == 1 || one.whole));
        }
    }
    let likeliest = sorted_by(ranked, |(score, _)| -score).into_iter().map(|(_, one)| one);
    let is_tapped =
        |one: &Suggested| tapped.is_some_and(|(place, off)| distance(&one.segments, place) <= off + ACCURACY_MM);
    let (first, rest): (Vec<_>, Vec<_>) = likeliest.partition(is_tapped);
    first.into_iter().chain(rest).take(MOST).collect()
}

/// How far a place is from the nearest of some segments, mm.
fn distance(segments: &[PathSeg], place: Point) -> f64 {
    segments.iter().map(|s| s.nearest(place, ACCURACY_MM).distance_sq).fold(f64::INFINITY, f64::min).sqrt()
}

/// An edge between two places, by how likely it is.
fn candidate(outline: &Outline, from: f64, to: f64, sense: f64) -> Option<(f64, Suggested)> {
    let run = &outline.run;
    let segments = run.part(from, to);
    let length_mm: f64 = segments.iter().map(|s| s.arclen(ACCURACY_MM)).sum();
    if !(LENGTH_MM[0]..=LENGTH_MM[1]).contains(&length_mm) {
        return None;
    }
    let (start, end) = (run.point(from), run.point(to));
    let via = run.point(from + length_mm / 2.0);
    let chord = end - start;
    let hollow = sense * chord.cross(via - start) / chord.hypot2().max(1e-9);
    let straight = hollow.abs() < LEAST_HOLLOW;
    if hollow < 0.0 && !straight {
        return None;
    }
    let ways = [[start, end], [end, start]];
    let taken = ways.map(|ends| {
        let pointed = Chosen { ends, via: Some(via), down: None::<Down>, whole: None, scale_off: 0.0 };
        edge(outline, &pointed).ok()
    });
    let best = taken.iter().zip(ways).filter_map(|(edge, ends)| Some((edge.as_ref()?, ends)));
    let score = |whole: bool, ends: [Point; 2]| {
        let fold = if whole { 0.0 } else { straight_beyond(outline, ends[1]) };
        let other = straight_beyond(outline, ends[0]);
        // A whole hollow mirror is surer than any half; of halves the one beside the longest straight edge, away from another.
        let by_ends = if whole { 2000.0 } else { fold - 0.3 * other };
        by_ends - if straight { 300.0 } else { 0.0 }
    };
    let (whole, ends) =
        best.map(|(edge, ends)| (edge.whole, ends)).max_by(|a, b| score(a.0, a.1).total_cmp(&score(b.0, b.1)))?;
    if whole && straight {
        return None;
    }
    Some((score(whole, ends), Suggested { ends, via, whole, length_mm, segments }))
}

/// The longer of the edges that meet at a corner, as far as the next corner, mm: a fold's is the longest of a half piece.
fn straight_beyond(outline: &Outline, corner: Point) -> f64 {
    let run = &outline.run;
    let at = run.nearest(corner).0;
    let gap = |to: f64| if run.is_closed() { to.rem_euclid(run.length()) } else { to };
    let on = outline.corners.iter().map(|c| gap(c.at - at)).filter(|far| *far > 1.0).fold(f64::INFINITY, f64::min);
    let back = outline.corners.iter().map(|c| gap(at - c.at)).filter(|far| *far > 1.0).fold(f64::INFINITY, f64::min);
    let straight = |far: f64, sense: f64| {
        let (from, to) = (run.point(at), run.point(at + sense * far));
        let off = (to - from).cross(run.point(at + sense * far / 2.0) - from).abs() / far.max(1.0);
        if far.is_finite() && off <= 0.3 { far } else { 0.0 }
    };
    straight(on, 1.0).max(straight(back, -1.0))
}

/// The sense that makes a hollow edge's middle lie on the positive side: by the signed area, an open outline closed straight.
fn area_sense(run: &Run) -> f64 {
    let area: f64 = run
        .segments()
        .iter()
        .map(|s| {
            let [a, b, c] = [s.start(), s.eval(0.5), s.end()].map(Point::to_vec2);
            a.cross(b) + b.cross(c)
        })
        .sum();
    let closing = run.point(run.length()).to_vec2().cross(run.point(0.0).to_vec2());
    // With y down a clockwise outline has a positive area, and its inside on the positive side of its way.
    (area + if run.is_closed() { 0.0 } else { closing }).signum()
}
