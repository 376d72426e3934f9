//! What would cure a strip that does not pass.

use serde::Serialize;

use super::along::Strip;
use super::marking::Marked;
use super::rule::StripGiven;
use super::spans::AsSewn;
use super::spread::{Sharing, Spread};
use crate::brief::Direction;
use crate::facing::can_be_offered;
use crate::given::Given;
use crate::ring::Ring;

/// What would cure a strip that does not pass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum Cure {
    /// A narrower strip: at most this finished width. mm.
    Narrower(f64),
    /// A stretchier strip: at least this stretch in its length. Percent.
    Stretchier(f64),
    /// The rule instead of the maker's ratio.
    UseTheRule,
    /// The strip cut with its length another way in its knit.
    OtherDirection(Direction),
    /// A shaped facing.
    Facing,
}

/// Narrowest finished width looked at when the widest one that passes is sought, mm: the brief's least.
const NARROWEST_MM: f64 = 3.0;

/// The steps by which the widest one is sought, mm: less nobody cuts.
const WIDTH_STEP_MM: f64 = 0.5;

/// The narrowest strip that is offered in place of one that will not do, mm: about a quarter of an inch, under which few
/// sew one evenly. Our judgement.
pub(crate) const NARROWEST_OFFERED_MM: f64 = 6.0;

/// Whether a strip passes as it will be sewn, by the rule and not by an own ratio, and that is to be trusted.
fn passes(ring: &Ring, given: StripGiven, tolerance: f64) -> bool {
    let strip = Strip::new(ring, StripGiven { own_ratio: None, ..given });
    let sharing = Sharing::new(ring, &strip.given);
    let spread = Spread::new(ring, &strip, &sharing);
    let marked = Marked::new(ring, &strip, &spread);
    let sewn = marked.fewest(tolerance);
    let sewn = AsSewn::new(ring, &marked, &sewn);
    sewn.is_trusted() && sewn.outcome().passes()
}

/// The widest finished width that passes by the rule, mm, to 0.5 mm; at most the brief's greatest. `edge` is
/// the seam line; a bound edge's strip is sewn the further out the wider it is.
pub(crate) fn widest(edge: &Ring, strip: StripGiven, given: &Given<'_>) -> Option<f64> {
    let moved = given.form.goes_round_edge().then(|| given.stitch_rings());
    let passes = |ring: &Ring, strip| passes(ring, strip, given.brief.rules.mark_tolerance_mm);
    let at = |width| {
        let strip = StripGiven { width, ..strip };
        moved
            .as_ref()
            .map_or_else(|| passes(edge, strip), |moved| moved(width).is_some_and(|ring| passes(&ring, strip)))
    };
    // Where the line bends away at a corner a narrow strip can be worse off than a wide one, so that the search
    // starts from the width that was asked where that one passes.
    let [_, most] = given.form.widths;
    let starts = at(strip.width);
    let (mut lo, mut hi) = if starts { (strip.width, most) } else { (NARROWEST_MM, strip.width.max(NARROWEST_MM)) };
    if !starts && !at(lo) {
        return None;
    }
    if at(hi) {
        return Some(hi);
    }
    // Between whole steps, so that what is told is what was tried.
    loop {
        let middle = (0.5 * (lo + hi) / WIDTH_STEP_MM).round() * WIDTH_STEP_MM;
        if middle <= lo || middle >= hi {
            return Some(lo);
        }
        if at(middle) { lo = middle } else { hi = middle }
    }
}

/// What would cure a strip that does not pass, best first.
pub(crate) fn cures(ring: &Ring, strip: StripGiven, given: &Given<'_>, widest: Option<f64>) -> Vec<Cure> {
    let mut cures = Vec::new();
    let passes = |ring: &Ring, strip, given: &Given<'_>| passes(ring, strip, given.brief.rules.mark_tolerance_mm);
    if strip.own_ratio.is_some() && passes(ring, strip, given) {
        cures.push(Cure::UseTheRule);
    }
    let ways = [Direction::Crosswise, Direction::Diagonal, Direction::Lengthwise];
    let other = ways.into_iter().filter(|way| *way != given.brief.strip_direction);
    cures.extend(
        other
            .filter(|way| StripGiven::running(given, *way).is_some_and(|turned| passes(ring, turned, given)))
            .map(Cure::OtherDirection)
            .take(1),
    );
    if let Some(width) = widest.filter(|w| (NARROWEST_OFFERED_MM..strip.width).contains(w)) {
        cures.push(Cure::Narrower(width));
    }
    let stretchier = stretchier(ring, strip, given);
    if let Some(stretch) = stretchier {
        cures.push(Cure::Stretchier((100.0 * stretch).round()));
    }
    cures.extend(can_be_offered(given).then_some(Cure::Facing));
    cures
}

/// The least stretch, by 5 points, with which the strip passes; none where 200 percent is not enough.
fn stretchier(ring: &Ring, strip: StripGiven, given: &Given<'_>) -> Option<f64> {
    let stretching = |steps: u32| StripGiven::stretching(given, 0.05 * f64::from(steps));
    let at = |steps: u32| {
        let stretchier = stretching(steps).filter(|other| other.comfort > strip.comfort);
        stretchier.is_some_and(|other| {
            passes(ring, StripGiven { width: strip.width, ..other }, given.brief.rules.mark_tolerance_mm)
        })
    };
    let (mut fails, mut does) = (0, 40);
    if !at(does) {
        return None;
    }
    while does - fails > 1 {
        let middle = u32::midpoint(fails, does);
        if at(middle) { does = middle } else { fails = middle }
    }
    Some(0.05 * f64::from(does))
}
