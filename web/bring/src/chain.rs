//! From one line to the whole outline that it belongs to: through ends that meet, over the gaps of dashes, round corners.

use std::collections::HashMap;

use kurbo::{ParamCurve, ParamCurveArclen, PathSeg, Point, Vec2};

use crate::drawing::{Drawing, Line};
use crate::run::{tangent, turn_deg, unit};

/// Ends that meet are no further apart than this, mm: a file's rounding.
const MEET_MM: f64 = 0.05;
/// A line that was cut, as at a page's border, goes on after a gap no longer than this, mm.
const CUT_MM: f64 = 1.0;
/// The longest dash, mm.
const DASH_MM: f64 = 15.0;
/// The longest gap between dashes, mm.
const GAP_MM: f64 = 8.0;
/// Over a gap a line keeps its direction within this, degrees.
const STRAIGHT_DEG: f64 = 30.0;
/// Most lines of one outline.
const MOST_LINES: usize = 50_000;

/// Lines in their order along an outline.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Chain {
    /// The lines, by their place in the drawing.
    pub(crate) lines: Vec<usize>,
    /// Their curves as one, gaps bridged, in mm.
    pub(crate) segments: Vec<PathSeg>,
    /// Whether it comes back to where it begins.
    pub(crate) closed: bool,
}

/// What lines must have in common to be one outline.
type Like = (Option<usize>, usize, Option<usize>);

/// One end of a line.
#[derive(Debug, Clone, Copy)]
struct End {
    line: usize,
    /// Whether it is the line's last point.
    last: bool,
    point: Point,
    /// The way the line comes in here from outside.
    inward: Vec2,
    /// Whether the line is no longer than a dash.
    dash: bool,
}

/// Finds which ends lie near a place.
#[derive(Debug)]
pub(crate) struct Chains<'a> {
    drawing: &'a Drawing,
    /// Millimetres to a unit.
    scale: f64,
    ends: HashMap<(Like, i64, i64), Vec<End>>,
}

fn like(line: &Line) -> Like {
    (line.layer, line.style, line.group)
}

/// The cell of a grid that a place is in: cells are as wide as the longest gap.
#[expect(clippy::cast_possible_truncation, reason = "a place beyond what fits lands in the last cell")]
fn cell(p: Point) -> (i64, i64) {
    ((p.x / GAP_MM).floor() as i64, (p.y / GAP_MM).floor() as i64)
}

impl<'a> Chains<'a> {
    /// Looks at all lines of a drawing whose unit is so many mm.
    #[must_use]
    pub(crate) fn new(drawing: &'a Drawing, mm_per_unit: f64) -> Self {
        let mut chains = Self { drawing, scale: mm_per_unit, ends: HashMap::new() };
        for (i, line) in drawing.lines.iter().enumerate().filter(|(_, line)| !line.is_closed()) {
            let segments = chains.segments(i);
            let (Some(first), Some(last)) = (segments.first(), segments.last()) else { continue };
            let mut length = 0.0;
            for segment in &segments {
                length += segment.arclen(0.1);
                if length > DASH_MM {
                    break;
                }
            }
            let dash = length <= DASH_MM;
            let at_first = End { line: i, last: false, point: first.start(), inward: unit(tangent(first, 0.0)), dash };
            let at_last = End { line: i, last: true, point: last.end(), inward: -unit(tangent(last, 1.0)), dash };
            for end in [at_first, at_last] {
                let (x, y) = cell(end.point);
                chains.ends.entry((like(line), x, y)).or_default().push(end);
            }
        }
        chains
    }

    /// A line's segments, in mm.
    fn segments(&self, line: usize) -> Vec<PathSeg> {
        let by = kurbo::Affine::scale(self.scale);
        let line = self.drawing.lines.get(line);
        line.map(|line| line.path.segments().map(|s| by * s).collect()).unwrap_or_default()
    }

    /// The outline that a line belongs to; none where there is no such line.
    #[must_use]
    pub(crate) fn follow(&self, line: usize) -> Option<Chain> {
        let first = self.drawing.lines.get(line)?;
        let mut chain = Chain { lines: vec![line], segments: self.segments(line), closed: first.is_closed() };
        if chain.segments.is_empty() {
            return None;
        }
        if !chain.closed {
            let key = like(first);
            let mut used = std::collections::HashSet::from([line]);
            self.extend(&mut chain, key, &mut used);
            if !chain.closed {
                reverse(&mut chain);
                self.extend(&mut chain, key, &mut used);
                reverse(&mut chain);
            }
        }
        Some(chain)
    }

    /// Goes on from the end of a chain as far as lines do.
    fn extend(&self, chain: &mut Chain, key: Like, used: &mut std::collections::HashSet<usize>) {
        while chain.lines.len() < MOST_LINES {
            let (Some(first), Some(last)) = (chain.segments.first(), chain.segments.last()) else { return };
            let (from, way) = (last.end(), unit(tangent(last, 1.0)));
            let (start, start_way) = (first.start(), unit(tangent(first, 0.0)));
            let many = chain.segments.len() > 1;
            if many && start.distance(from) <= MEET_MM {
                join(&mut chain.segments, start, None);
                chain.closed = true;
                return;
            }
            let dash = last.arclen(0.1) <= DASH_MM;
            let next = self.next(from, way, dash, key, used);
            // A dashed outline is closed where its own beginning goes on from it better than anything else.
            let own = End {
                line: usize::MAX,
                last: false,
                point: start,
                inward: start_way,
                dash: first.arclen(0.1) <= DASH_MM,
            };
            let own_off = if chain.lines.len() > 2 { badness(from, way, dash, &own) } else { None };
            if let Some(off) = own_off
                && next.as_ref().is_none_or(|(best, _)| off < *best)
            {
                join(&mut chain.segments, start, meeting(from, way, &own));
                chain.closed = true;
                return;
            }
            let Some((_, end)) = next else { return };
            used.insert(end.line);
            let mut more = self.segments(end.line);
            if end.last {
                more = more.iter().rev().map(PathSeg::reverse).collect();
            }
            join(&mut chain.segments, end.point, meeting(from, way, &end));
            chain.segments.append(&mut more);
            chain.lines.push(end.line);
        }
    }

    /// The end that goes on best from a place, and how badly.
    fn next(
        &self,
        from: Point,
        way: Vec2,
        dash: bool,
        key: Like,
        used: &std::collections::HashSet<usize>,
    ) -> Option<(f64, End)> {
        let (x, y) = cell(from);
        let near = (-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (key, x.saturating_add(dx), y.saturating_add(dy))));
        let ends = near.filter_map(|cell| self.ends.get(&cell)).flatten().filter(|end| !used.contains(&end.line));
        let ranked = ends.filter_map(|end| Some((badness(from, way, dash, end)?, *end)));
        ranked.min_by(|a, b| a.0.total_cmp(&b.0))
    }
}

/// How badly an end goes on from a place; none where it does not. What meets comes before what was cut, that before dashes in line,
/// those before dashes round a corner; within each the straighter or the nearer first.
fn badness(from: Point, way: Vec2, dash: bool, end: &End) -> Option<f64> {
    let gap = end.point - from;
    let distance = gap.hypot();
    let turn = turn_deg(way, end.inward);
    if distance <= MEET_MM {
        return Some(turn);
    }
    let in_line = turn <= STRAIGHT_DEG && turn_deg(way, gap) <= STRAIGHT_DEG;
    if in_line && distance <= CUT_MM {
        return Some(1000.0 + distance);
    }
    if !(dash && end.dash && distance <= GAP_MM) {
        return None;
    }
    if in_line {
        return Some(2000.0 + distance);
    }
    // Round a corner, where both dashes run to one place between them.
    meeting(from, way, end).map(|_| 3000.0 + distance)
}

/// Where two lines that turn would meet if they went on, ahead of both.
fn meeting(from: Point, way: Vec2, end: &End) -> Option<Point> {
    let gap = end.point - from;
    if gap.hypot() <= MEET_MM || turn_deg(way, end.inward) <= STRAIGHT_DEG {
        return None;
    }
    let across = way.cross(end.inward);
    let ahead = gap.cross(end.inward) / across;
    let back = gap.cross(way) / across;
    let within = |v: f64| (-MEET_MM..=GAP_MM).contains(&v);
    (within(ahead) && within(-back)).then(|| from + way * ahead)
}

/// Bridges the gap to the next line, by the corner between where there is one.
fn join(segments: &mut Vec<PathSeg>, to: Point, corner: Option<Point>) {
    for to in corner.into_iter().chain([to]) {
        let Some(from) = segments.last().map(PathSeg::end) else { return };
        if from != to {
            segments.push(PathSeg::Line(kurbo::Line::new(from, to)));
        }
    }
}

fn reverse(chain: &mut Chain) {
    chain.lines.reverse();
    chain.segments = chain.segments.iter().rev().map(PathSeg::reverse).collect();
}
