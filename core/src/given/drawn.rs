//! A drawn path, checked: one open run between centre line and neck point, on one side, that crosses itself nowhere.

use std::rc::Rc;

use kurbo::{CubicBez, PathEl, PathSeg};

use crate::brief::{Drawn, HalfName, neckline};
use crate::check::Check;
use crate::curve::{Arc, raised};
use crate::error::{Accepted, AcceptedCode, Problem, Unit};
use crate::outline::OutlineGiven;
use crate::path::{PathStop, read_path};
use crate::seam_line::self_crossing;

/// A drawn segment that reaches no further than this is a slip of the pen, mm.
const SLIP_MM: f64 = 0.01;

/// The cosine of the turn from which a corner is a fold, 170 degrees: an allowance set off along both its sides would run out
/// eleven times as far. Our judgement.
const TURNED_BACK: f64 = -0.985;

/// Ends nearer each other than this are one place, mm.
const ONE_PLACE_MM: f64 = 1e-3;

/// How far a curve can be from its start, mm: it stays within the hull of its points.
fn reach(c: CubicBez) -> f64 {
    [c.p1, c.p2, c.p3].into_iter().map(|p| p.distance(c.p0)).fold(0.0, f64::max)
}

/// A segment that goes nowhere.
fn is_nothing(c: CubicBez) -> bool {
    c.p0 == c.p3 && reach(c) <= SLIP_MM
}

/// A segment that comes back to where it starts: the line would cross itself there.
fn is_loop(c: &CubicBez) -> bool {
    c.p0.distance(c.p3) <= ONE_PLACE_MM && reach(*c) > SLIP_MM
}

/// What is accepted of a path, with the figures that the code's words name.
fn accepted(code: AcceptedCode) -> Accepted {
    const FURTHEST: f64 = neckline::FURTHEST_MM;
    match code {
        AcceptedCode::OneOpenRun => Accepted::range_of(code, [1.0, neckline::MOST_SEGMENTS as f64], Unit::Count),
        AcceptedCode::CoordinatesNear => Accepted::range_of(code, [-FURTHEST, FURTHEST], Unit::Mm),
        _ => Accepted::code(code),
    }
}

impl Check {
    /// A drawn path: one open run, read from either end, from the centre line to the neck point.
    pub(crate) fn drawn(&mut self, drawn: &Drawn, which: HalfName) -> Option<OutlineGiven> {
        let uncertainty = which.field(".outline.drawn.uncertainty_mm");
        self.maybe(uncertainty, drawn.uncertainty_mm, neckline::UNCERTAINTY_MM, Unit::Mm);
        let field = which.field(".outline.drawn.path_mm");
        let shown: String = drawn.path_mm.chars().take(80).collect();
        let mut refuse = |problem, code| {
            self.add(field.clone(), Some(shown.clone()), problem, accepted(code));
            None
        };
        let path = match read_path(&drawn.path_mm) {
            Ok(path) => path,
            Err(PathStop::TooLong { .. }) => return refuse(Problem::Unreadable, AcceptedCode::OneOpenRun),
            Err(PathStop::TooLarge { place, found }) => {
                return refuse(Problem::PathTooLargeAt { place, found }, AcceptedCode::CoordinatesNear);
            }
            Err(PathStop::Stray { place, found }) => {
                return refuse(Problem::PathStrayAt { place, found }, AcceptedCode::PathSyntax);
            }
            Err(PathStop::Ends { place }) => return refuse(Problem::PathEndsAt { place }, AcceptedCode::PathSyntax),
        };
        let starts = path.elements().iter().filter(|e| matches!(e, PathEl::MoveTo(_))).count();
        let mut segments: Vec<PathSeg> = path.segments().filter(|s| !is_nothing(s.to_cubic())).collect();
        if starts != 1 || segments.is_empty() || segments.len() > neckline::MOST_SEGMENTS {
            return refuse(Problem::Unreadable, AcceptedCode::OneOpenRun);
        }
        let sensible = |v: f64| v.is_finite() && v.abs() <= neckline::FURTHEST_MM;
        let all_sensible = segments
            .iter()
            .map(PathSeg::to_cubic)
            .all(|c| [c.p0, c.p1, c.p2, c.p3].iter().all(|p| sensible(p.x) && sensible(p.y)));
        if !all_sensible {
            return refuse(Problem::OutOfRange, AcceptedCode::CoordinatesNear);
        }
        let ends_at_centre = segments.last().is_some_and(|s| s.to_cubic().p3.x.abs() <= 0.5);
        if ends_at_centre {
            segments = segments.iter().rev().map(PathSeg::reverse).collect();
        }
        let curves: Vec<_> = segments.iter().map(|s| raised(*s)).collect();
        let (Some(first), Some(last)) = (curves.first(), curves.last()) else { return None };
        if first.p0.x.abs() > 0.5 || last.p3.x < 10.0 || first.p0.y - last.p3.y < 1.0 {
            return refuse(Problem::NotCentreToNeck, AcceptedCode::CentreToNeck);
        }
        let arcs: Rc<[Arc]> = curves.iter().map(|c| Arc::new(*c)).collect();
        let over_the_centre = |arc: &Arc| (0..=8).any(|i| arc.point(f64::from(i) / 8.0).x < -0.5);
        if arcs.iter().any(over_the_centre) {
            return refuse(Problem::NotCentreToNeck, AcceptedCode::OneSide);
        }
        let own_loop = curves.iter().find(|c| is_loop(c)).map(|c| (c.p0.x, c.p0.y));
        if let Some((x_mm, y_mm)) = own_loop.or_else(|| self_crossing(&arcs)) {
            return refuse(Problem::PathCrossesAt { x_mm, y_mm }, AcceptedCode::NoCrossing);
        }
        if let Some((x_mm, y_mm)) = fold(&arcs) {
            return refuse(Problem::PathFoldsAt { x_mm, y_mm }, AcceptedCode::NoFold);
        }
        Some(OutlineGiven::Drawn(arcs))
    }
}

/// Where a drawn line turns right back on itself between two of its segments.
fn fold(arcs: &[Arc]) -> Option<(f64, f64)> {
    let beside = |(before, after): (&Arc, &Arc)| {
        let turns_back = before.direction(1.0).dot(after.direction(0.0)) < TURNED_BACK;
        turns_back.then(|| (after.curve().p0.x, after.curve().p0.y))
    };
    arcs.iter().zip(arcs.iter().skip(1)).find_map(beside)
}
