//! What would cure a strip that does not pass.

use serde::Serialize;

use super::along::Strip;
use super::marking::Marked;
use super::rule::StripGiven;
use super::spans::{self, AsSewn, is_trusted};
use super::spread::{Places, Sharing, Spread};
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

/// A line that strips are tried on.
pub(crate) struct Tried<'a> {
    ring: &'a Ring,
    places: &'a Places,
    /// By how much marks may be off, mm.
    tolerance: f64,
    /// Where that is known of a strip of some width, mm: what it bends at each place, and how it shares what it meets.
    known: Option<(f64, &'a [f64], &'a Sharing<'a>)>,
}

impl<'a> Tried<'a> {
    pub(crate) fn new(ring: &'a Ring, places: &'a Places, given: &Given<'_>) -> Self {
        Self { ring, places, tolerance: given.brief.rules.mark_tolerance_mm, known: None }
    }

    /// With what is known of a strip of this width, mm.
    pub(crate) fn knowing(self, width: f64, bends: &'a [f64], sharing: &'a Sharing<'a>) -> Self {
        Self { known: Some((width, bends, sharing)), ..self }
    }

    fn is_trusted(&self, strip: StripGiven) -> bool {
        is_trusted(&spans::bends(self.ring, &strip, self.places), strip.width)
    }

    /// Whether a strip passes as it will be sewn, by the rule and not by an own ratio, and that is to be trusted.
    fn passes(&self, strip: StripGiven) -> bool {
        let (bends, sharing);
        let (bends, sharing) = match self.known {
            Some((width, bends, sharing)) if width == strip.width => (bends, sharing),
            _ => {
                bends = spans::bends(self.ring, &strip, self.places);
                sharing = Sharing::new(self.ring, &strip, self.places);
                (&*bends, &sharing)
            }
        };
        if !is_trusted(bends, strip.width) {
            return false;
        }
        let strip = Strip::new(self.ring, StripGiven { own_ratio: None, ..strip });
        let spread = Spread::new(self.ring, &strip, sharing);
        let marked = Marked::new(self.ring, &strip, &spread);
        AsSewn::new(self.ring, bends, &marked, &marked.fewest(self.tolerance)).outcome().passes()
    }
}

/// The widest finished width that passes by the rule, mm, to 0.5 mm; at most the brief's greatest. `edge` is
/// the seam line; a bound edge's strip is sewn the further out the wider it is. `asked` tells whether the width that
/// was asked for passes so, where that is known.
pub(crate) fn widest(edge: &Tried<'_>, strip: StripGiven, given: &Given<'_>, asked: Option<bool>) -> Option<f64> {
    let moved = given.form.goes_round_edge().then(|| given.stitch_rings());
    let tried = |width, holds: fn(&Tried<'_>, StripGiven) -> bool| {
        let strip = StripGiven { width, ..strip };
        let Some(moved) = &moved else { return holds(edge, strip) };
        moved(width).is_some_and(|ring| holds(&Tried::new(&ring, &Places::new(&ring), given), strip))
    };
    let trusted = |width| tried(width, |line, strip| line.is_trusted(strip));
    let passes = |width| tried(width, |line, strip| line.passes(strip));
    // Where the line bends away at a corner a narrow strip can be worse off than a wide one, so that the search
    // starts from the width that was asked where that one passes.
    let [_, most] = given.form.widths;
    let starts = asked.unwrap_or_else(|| passes(strip.width));
    let (lo, hi) = if starts { (strip.width, most) } else { (NARROWEST_MM, strip.width.max(NARROWEST_MM)) };
    if !starts && !passes(lo) {
        return None;
    }
    // That it is trusted is soon known.
    let hi = if trusted(hi) { hi } else { last(lo, hi, trusted) };
    Some(if passes(hi) { hi } else { last(lo, hi, passes) })
}

/// The widest width between two, mm, for which something still holds that holds for the narrower and not for the wider of them.
fn last(mut lo: f64, mut hi: f64, holds: impl Fn(f64) -> bool) -> f64 {
    // Between whole steps, so that what is told is what was tried.
    loop {
        let middle = (0.5 * (lo + hi) / WIDTH_STEP_MM).round() * WIDTH_STEP_MM;
        if middle <= lo || middle >= hi {
            return lo;
        }
        if holds(middle) { lo = middle } else { hi = middle }
    }
}

/// What would cure a strip that does not pass, best first.
pub(crate) fn cures(line: &Tried<'_>, strip: StripGiven, given: &Given<'_>, widest: Option<f64>) -> Vec<Cure> {
    let mut cures = Vec::new();
    if strip.own_ratio.is_some() && line.passes(strip) {
        cures.push(Cure::UseTheRule);
    }
    let ways = [Direction::Crosswise, Direction::Diagonal, Direction::Lengthwise];
    let other = ways.into_iter().filter(|way| *way != given.brief.strip_direction);
    cures.extend(
        other
            .filter(|way| StripGiven::running(given, *way).is_some_and(|turned| line.passes(turned)))
            .map(Cure::OtherDirection)
            .take(1),
    );
    if let Some(width) = widest.filter(|w| (NARROWEST_OFFERED_MM..strip.width).contains(w)) {
        cures.push(Cure::Narrower(width));
    }
    let stretchier = stretchier(line, strip, given);
    if let Some(stretch) = stretchier {
        cures.push(Cure::Stretchier((100.0 * stretch).round()));
    }
    cures.extend(can_be_offered(given).then_some(Cure::Facing));
    cures
}

/// The least stretch, by 5 points, with which the strip passes; none where 200 percent is not enough.
fn stretchier(line: &Tried<'_>, strip: StripGiven, given: &Given<'_>) -> Option<f64> {
    let stretching = |steps: u32| StripGiven::stretching(given, 0.05 * f64::from(steps));
    let at = |steps: u32| {
        let stretchier = stretching(steps).filter(|other| other.comfort > strip.comfort);
        stretchier.is_some_and(|other| line.passes(StripGiven { width: strip.width, ..other }))
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
