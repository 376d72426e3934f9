//! What would let a head pass that does not: each remedy is tried on the same rings before it is offered.
//!
//! The three that open the neckline otherwise, an envelope shoulder for children, a shoulder opening and a placket, are
//! common practice, no published source; a slit of length p adds 2 p to a ring.

use crate::brief::{Direction, HeadGirth, Stitch};
use crate::girth::Rings;
use crate::given::Given;
use crate::opening::{OpeningPlan, Remedy, needed, stitch_extension};
use crate::ring::Ring;
use crate::stay::choice::wanted;
use crate::strip::cures::NARROWEST_OFFERED_MM;
use crate::strip::rule::StripGiven;

/// How much lower a neck is tried at most, mm: what a neckline allowance may be.
const LOWEST_MM: u32 = 60;
/// The stretchiest strip that is offered, percent: a knit that stretches to two and a half times its length.
const STRETCHIEST_PERCENT: u32 = 150;
/// Slits are offered in steps of this, mm.
const SLIT_STEP_MM: f64 = 5.0;

/// The remedies for an opening, best first; none where the head passes.
pub(crate) fn remedies(given: &Given<'_>, opening: &OpeningPlan) -> Vec<Remedy> {
    if opening.passes {
        return Vec::new();
    }
    let line = given.stitch_rings();
    let try_out = Trial { given, line: &line, needed: needed(given.brief) };
    let brief = given.brief;
    let slit = ((-0.5 * opening.spare_mm) / SLIT_STEP_MM).ceil() * SLIT_STEP_MM;
    let shoulder = brief.stays.shoulder_length_mm.is_none_or(|length| slit <= length);
    let child = matches!(brief.head.girth, HeadGirth::Child { .. });
    let mut remedies: Vec<Remedy> = child.then_some(Remedy::EnvelopeShoulder).into_iter().collect();
    remedies.extend(try_out.another_stitch());
    remedies.extend(try_out.other_direction());
    remedies.extend(try_out.narrower());
    remedies.extend(try_out.stretchier());
    remedies.extend(try_out.larger_neck(opening));
    remedies.extend(shoulder.then_some(Remedy::ShoulderOpening(slit)));
    remedies.push(Remedy::Placket(slit));
    remedies
}

/// A brief tried with one thing changed. What may be left live is: stays that stand in the way are given up.
struct Trial<'a> {
    given: &'a Given<'a>,
    line: &'a dyn Fn(f64) -> Option<Ring>,
    needed: f64,
}

impl Trial<'_> {
    /// How far the smallest ring reaches with nothing stayed, the seam line moved by so much; none where it cannot be.
    fn reach(&self, given: &Given<'_>, by: f64, direction: Direction, stitch: f64) -> Option<f64> {
        let rings = Rings::moved(given, self.line, by, direction, stitch)?;
        Some(rings.reach(given.brief.rules.pull_share, &[]).smallest())
    }

    fn passes(&self, given: &Given<'_>, direction: Direction, stitch: f64) -> bool {
        self.reach(given, 0.0, direction, stitch).is_some_and(|reach| reach >= self.needed)
    }

    fn stitch(&self) -> f64 {
        stitch_extension(self.given.brief.stitch).0
    }

    fn direction(&self) -> Direction {
        self.given.brief.strip_direction
    }

    fn another_stitch(&self) -> Option<Remedy> {
        let overlock = stitch_extension(Stitch::Overlock).0;
        (self.stitch() < overlock && self.passes(self.given, self.direction(), overlock))
            .then_some(Remedy::AnotherStitch)
    }

    fn other_direction(&self) -> Option<Remedy> {
        StripGiven::new(self.given)?;
        let ways = [Direction::Crosswise, Direction::Diagonal, Direction::Lengthwise];
        let mut other = ways.into_iter().filter(|way| *way != self.direction());
        other.find(|way| self.passes(self.given, *way, self.stitch())).map(Remedy::OtherDirection)
    }

    /// The widest narrower strip that passes, in half millimetres.
    fn narrower(&self) -> Option<Remedy> {
        let width = StripGiven::new(self.given)?.width;
        let passes = |halves: u32| {
            let off = 0.5 * f64::from(halves) - width;
            self.passes(&Given { width_off: off, ..self.given.clone() }, self.direction(), self.stitch())
        };
        // A brief's width is at most 150 mm.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let (least, most) = ((2.0 * NARROWEST_OFFERED_MM) as u32, (2.0 * width - 1e-9) as u32);
        if least > most || self.given.form.turns_inside() || !passes(least) {
            return None;
        }
        Some(Remedy::Narrower(0.5 * f64::from(last(least, most, passes))))
    }

    /// The least stretch of the strip that passes, in steps of 5 percent.
    fn stretchier(&self) -> Option<Remedy> {
        StripGiven::new(self.given)?;
        let now = 100.0 * self.given.strip.one_way(self.direction());
        let passes = |percent: u32| {
            let mut given = self.given.clone();
            let of = match self.direction() {
                Direction::Crosswise => &mut given.strip.crosswise,
                Direction::Lengthwise => &mut given.strip.lengthwise,
                Direction::Diagonal => &mut given.strip.diagonal,
            };
            *of = f64::from(percent) / 100.0;
            self.passes(&given, self.direction(), self.stitch())
        };
        let more = (1..=STRETCHIEST_PERCENT / 5).map(|n| 5 * n).filter(|percent| f64::from(*percent) > now);
        // Where the most that is offered does not serve, less does not either.
        if !passes(STRETCHIEST_PERCENT) {
            return None;
        }
        let mut more = more;
        more.find(|percent| passes(*percent)).map(|percent| Remedy::Stretchier(f64::from(percent)))
    }

    /// The least whole millimetre by which the seam line, cut lower, passes: with what is stayed, and without.
    fn larger_neck(&self, opening: &OpeningPlan) -> Vec<Remedy> {
        let reach = |by: u32, stayed: bool| {
            let edge = (self.line)(f64::from(by))?;
            let rings = Rings::moved(self.given, self.line, f64::from(by), self.direction(), self.stitch())?;
            let held = if stayed { wanted(self.given, &edge) } else { Vec::new() };
            Some((rings.reach(self.given.brief.rules.pull_share, &held).smallest(), 2.0 * edge.length))
        };
        let lower = |stayed: bool| {
            let by = self.first_lower(opening.smallest_girth_mm, &|by| Some(reach(by, stayed)?.0))?;
            let (_, seam_line_mm) = reach(by, stayed)?;
            Some(Remedy::LargerNeck { by_mm: f64::from(by), seam_line_mm, stayed })
        };
        let by = |remedy: &Option<Remedy>| match remedy {
            Some(Remedy::LargerNeck { by_mm, .. }) => *by_mm,
            _ => f64::INFINITY,
        };
        let (stayed, live) = (lower(true), lower(false));
        let live = if by(&live) < by(&stayed) { live } else { None };
        live.into_iter().chain(stayed).collect()
    }

    /// The least whole millimetre at which a girth that grows about evenly is enough: started where the growth of the
    /// first millimetre points to.
    fn first_lower(&self, now: f64, girth: &dyn Fn(u32) -> Option<f64>) -> Option<u32> {
        let enough = |by: u32| girth(by).is_some_and(|girth| girth >= self.needed);
        let gain = girth(1)? - now;
        let guess = ((self.needed - now) / gain.max(0.1)).ceil().clamp(1.0, f64::from(LOWEST_MM));
        // Clamped just above.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let guess = guess as u32;
        if enough(guess) {
            return (1..guess).rev().take_while(|by| enough(*by)).last().or(Some(guess));
        }
        (guess + 1..=LOWEST_MM).find(|by| enough(*by))
    }
}

/// The last of a run of numbers that serves, where those up to it do; the first is known to.
fn last(mut serves: u32, mut most: u32, passes: impl Fn(u32) -> bool) -> u32 {
    while serves < most {
        let middle = serves + (most - serves).div_ceil(2);
        if passes(middle) { serves = middle } else { most = middle - 1 }
    }
    serves
}
