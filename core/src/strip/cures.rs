//! What would cure a strip that does not lie flat.

use serde::Serialize;

use super::rule::{Place, StripGiven, UNSEEN};
use super::spans::{SEEN_SLACK_MM, Slack};
use crate::brief::Direction;
use crate::facing::can_be_offered;
use crate::given::Given;
use crate::ring::Ring;

/// What would cure a strip that does not lie flat.
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

/// Narrowest finished width looked at when the widest flat one is sought, mm: the brief's least.
const NARROWEST_MM: f64 = 3.0;

/// The narrowest strip that is offered in place of one that will not do, mm: about a quarter of an inch, under which few
/// sew one evenly. Our judgement.
pub(crate) const NARROWEST_OFFERED_MM: f64 = 6.0;

/// The slack all along, mm, by the rule and not by an own ratio; none where an edge is stretched past its comfort.
pub(crate) fn slack_by_rule(ring: &Ring, given: StripGiven) -> Option<f64> {
    let given = StripGiven { own_ratio: None, ..given };
    let mut slack = Slack::default();
    let eased = ring.shared_curvature(given.width).iter().enumerate().all(|(i, &k)| {
        let (f, r) = (given.free(k), given.ratio(Place::on(ring, k)));
        slack.add(f, r, ring.stands_for(i, 0.0, ring.length));
        f / r - 1.0 <= given.comfort + UNSEEN
    });
    eased.then_some(slack.length)
}

/// Whether the strip lies flat all along, by the rule, at another width or comfort.
fn flat(ring: &Ring, given: StripGiven) -> bool {
    slack_by_rule(ring, given).is_some_and(|slack| slack <= SEEN_SLACK_MM)
}

/// The widest finished width that lies flat by the rule, mm, to 0.1 mm; at most the brief's greatest. `edge` is
/// the seam line; a bound edge's strip is sewn the further out the wider it is.
pub(crate) fn widest_flat(edge: &Ring, strip: StripGiven, given: &Given<'_>) -> Option<f64> {
    let moved = given.form.goes_round_edge().then(|| given.stitch_rings());
    let at = |width| {
        let strip = StripGiven { width, ..strip };
        moved.as_ref().map_or_else(|| flat(edge, strip), |moved| moved(width).is_some_and(|ring| flat(&ring, strip)))
    };
    // Where the line bends away at a corner a narrow strip can be worse off than a wide one, so that the search
    // starts from the width that was asked where that one lies flat.
    let [_, most] = given.form.widths;
    let (mut lo, mut hi) = match (at(strip.width), at(NARROWEST_MM)) {
        (true, _) => (strip.width, most),
        (false, true) => (NARROWEST_MM, strip.width.max(NARROWEST_MM)),
        (false, false) => return None,
    };
    if at(hi) {
        return Some(hi);
    }
    while hi - lo > 0.05 {
        let mid = 0.5 * (lo + hi);
        if at(mid) { lo = mid } else { hi = mid }
    }
    Some((lo * 10.0).floor() / 10.0)
}

/// What would cure a strip that does not lie flat, best first.
pub(crate) fn cures(ring: &Ring, strip: StripGiven, given: &Given<'_>, widest: Option<f64>) -> Vec<Cure> {
    let mut cures = Vec::new();
    if strip.own_ratio.is_some() && flat(ring, strip) {
        cures.push(Cure::UseTheRule);
    }
    let ways = [Direction::Crosswise, Direction::Diagonal, Direction::Lengthwise];
    let other = ways.into_iter().filter(|way| *way != given.brief.strip_direction);
    cures.extend(
        other
            .filter(|way| StripGiven::running(given, *way).is_some_and(|turned| flat(ring, turned)))
            .map(Cure::OtherDirection)
            .take(1),
    );
    if let Some(width) = widest.filter(|w| (NARROWEST_OFFERED_MM..strip.width).contains(w)) {
        cures.push(Cure::Narrower(width));
    }
    let stretchier = (1..=40).map(|n| 0.05 * f64::from(n)).find(|s| {
        let comfort = given.brief.rules.comfort_share * s;
        comfort > strip.comfort && flat(ring, StripGiven { comfort, ..strip })
    });
    if let Some(stretch) = stretchier {
        cures.push(Cure::Stretchier((100.0 * stretch).round()));
    }
    cures.extend(can_be_offered(given).then_some(Cure::Facing));
    cures
}
