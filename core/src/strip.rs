//! The strip of a band or a tape: its relaxed length, what it does along the seam line, its marks.
//!
//! A straight strip is cut with relaxed length r(s) ds per ds of seam line; its free edge lies at w from the
//! seam line, its element there is f ds with f = 1 - k w for a band and f = 1 + k w for a tape. Then the seam
//! edge's strain is 1/r - 1 and the free edge's f/r - 1.

use crate::brief::{Brief, Direction, Finish, Layers, PointFinish};
use crate::given::Given;
use crate::plan::{Cure, Ends, Mark, MarkPlace, Outcome, Span};
use crate::ring::{Ring, STEPS};

/// Narrowest finished width looked at when the widest flat one is sought, mm: the brief's least.
const NARROWEST_MM: f64 = 3.0;
/// Strain over the comfortable share that is rounding and not a pull. Fraction.
const UNSEEN: f64 = 1e-3;
/// Slack in a span's free edge that steaming and the cloth's own give take up, mm: our judgement, no published
/// source. More is seen as a ripple.
const SEEN_SLACK_MM: f64 = 1.0;

/// Which way a strip lies from the seam line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    /// Toward the neck.
    Band,
    /// Onto the garment.
    Tape,
}

/// What the strip's rule needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct StripGiven {
    pub side: Side,
    pub width: f64,
    /// Strain of the free edge (band) or of the seam edge (tape) that the rule aims at.
    pub hold: f64,
    /// The most an edge may stay stretched: phi S.
    pub comfort: f64,
    /// Turn of cloth, mm (tape).
    pub turn: f64,
    pub own_ratio: Option<f64>,
}

impl StripGiven {
    /// The strip of a brief; none for a facing.
    pub(crate) fn new(given: &Given<'_>) -> Option<Self> {
        let rules = &given.brief.rules;
        let stretch = given.strip.one_way(given.brief.strip_direction);
        let comfort = rules.comfort_share * stretch;
        match &given.brief.finish {
            Finish::Band(band) => Some(Self {
                side: Side::Band,
                width: (band.width_mm + given.width_off).max(0.5),
                hold: rules.hold_share * stretch / given.strip.recovery_or_usual(),
                comfort,
                turn: 0.0,
                own_ratio: band.ratio_percent.map(|p| p / 100.0),
            }),
            Finish::Tape(tape) => Some(Self {
                side: Side::Tape,
                width: (tape.width_mm + given.width_off).max(0.5),
                hold: rules.tape_hold.min(comfort),
                comfort,
                turn: given.garment.turn_mm,
                own_ratio: tape.ratio_percent.map(|p| p / 100.0),
            }),
            Finish::Facing(_) => None,
        }
    }

    /// f: the free edge's element over the seam line's, where the curvature is k.
    fn free(&self, k: f64) -> f64 {
        match self.side {
            Side::Band => 1.0 - k * self.width,
            Side::Tape => 1.0 + k * self.width,
        }
    }

    /// r: relaxed strip over seam line where the curvature is k.
    ///
    /// The rule's r is held between what stretches neither edge past its comfort, max(1, f)/(1 + phi S), and
    /// what leaves neither edge slack, min(1, f). Where both cannot be had, a free edge on the inside of the
    /// curve stands away at the stretch limit, one on the outside pulls in at r = 1.
    fn ratio(&self, k: f64) -> f64 {
        if let Some(own) = self.own_ratio {
            return own;
        }
        let f = self.free(k);
        let rule = match self.side {
            Side::Band => f / (1.0 + self.hold),
            Side::Tape => (1.0 - k * self.turn) / (1.0 + self.hold),
        };
        let (least, most) = (f.max(1.0) / (1.0 + self.comfort), f.clamp(0.0, 1.0));
        if least <= most {
            rule.clamp(least, most)
        } else if f < 1.0 {
            least
        } else {
            1.0
        }
    }
}

/// The strip along a half round, on the ring's grid from centre back.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strip {
    pub given: StripGiven,
    k: Vec<f64>,
    r: Vec<f64>,
    /// Relaxed length from centre back, mm.
    along: Vec<f64>,
}

impl Strip {
    pub(crate) fn new(ring: &Ring, given: StripGiven) -> Self {
        let k = ring.shared_curvature(given.width);
        let r: Vec<f64> = k.iter().map(|k| given.ratio(*k)).collect();
        let mut total = 0.0;
        let steps = r.iter().zip(r.iter().skip(1)).map(|(a, b)| {
            total += 0.5 * (a + b) * ring.step();
            total
        });
        let along = core::iter::once(0.0).chain(steps).collect();
        Self { given, k, r, along }
    }

    /// Relaxed length of the half round, mm.
    pub(crate) fn half_length(&self) -> f64 {
        self.along.last().copied().unwrap_or(0.0)
    }

    /// Relaxed length from centre back to a place along the seam line, mm.
    fn relaxed_at(&self, ring: &Ring, s: f64) -> f64 {
        let place = (s / ring.step()).clamp(0.0, STEPS as f64);
        // Clamped to the grid just above.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let i = (place as usize).min(STEPS - 1);
        let at = |i: usize| self.along.get(i).copied().unwrap_or(0.0);
        at(i) + (place - i as f64) * (at(i + 1) - at(i))
    }

    /// How far an even spread over the whole half would be off at its worst place, mm.
    pub(crate) fn even_error(&self) -> f64 {
        self.off_between(0, STEPS)
    }

    fn off_between(&self, from: usize, to: usize) -> f64 {
        let at = |i: usize| self.along.get(i).copied().unwrap_or(0.0);
        let slope = (at(to) - at(from)) / (to - from) as f64;
        (from..=to).map(|i| (at(from) + slope * (i - from) as f64 - at(i)).abs()).fold(0.0, f64::max)
    }

    /// Marks at the centres and the neck point, and between them as few more as keep every even span
    /// within the tolerance.
    pub(crate) fn marks(&self, ring: &Ring, tolerance: f64) -> Vec<Mark> {
        let mark = |place, s: f64| Mark { place, on_strip_mm: self.relaxed_at(ring, s), on_seam_line_mm: s };
        // The nearest place of the grid to the neck point; between 1 and STEPS - 1.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let neck = ((ring.back_length / ring.step()).round() as usize).clamp(1, STEPS - 1);
        let mut marks = vec![mark(MarkPlace::CentreBack, 0.0)];
        for (from, to, place, s) in
            [(0, neck, MarkPlace::NeckPoint, ring.back_length), (neck, STEPS, MarkPlace::CentreFront, ring.length)]
        {
            let between = self.stations(from, to, tolerance);
            marks.extend(between.map(|i| mark(MarkPlace::Between, i as f64 * ring.step())));
            marks.push(mark(place, s));
        }
        marks
    }

    /// The least number of even steps between two places that keeps each span within the tolerance.
    fn stations(&self, from: usize, to: usize, tolerance: f64) -> impl Iterator<Item = usize> + use<> {
        let place = move |parts: usize, j: usize| from + (to - from) * j / parts;
        let most = (to - from).min(12);
        let parts = (1..most)
            .find(|&n| (0..n).all(|j| self.off_between(place(n, j), place(n, j + 1)) <= tolerance))
            .unwrap_or(most);
        (1..parts).map(move |j| place(parts, j))
    }

    /// What the strip does between neighbouring marks.
    pub(crate) fn spans(&self, ring: &Ring, marks: &[Mark]) -> Vec<Span> {
        marks.iter().zip(marks.iter().skip(1)).map(|(a, b)| self.span(ring, a, b)).collect()
    }

    fn span(&self, ring: &Ring, from: &Mark, to: &Mark) -> Span {
        let step = ring.step();
        let inside = |i: &usize| {
            let s = *i as f64 * step;
            s >= from.on_seam_line_mm - 0.5 * step && s <= to.on_seam_line_mm + 0.5 * step
        };
        let (mut least, mut most, mut seam) = (f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
        let mut slack = Slack::default();
        for (k, r) in (0..=STEPS).filter(inside).filter_map(|i| Some((*self.k.get(i)?, *self.r.get(i)?))) {
            let f = self.given.free(k);
            least = least.min(f / r - 1.0);
            most = most.max(f / r - 1.0);
            seam = seam.max(1.0 / r - 1.0);
            slack.add(f, r, step);
        }
        let outcome = if slack.length > SEEN_SLACK_MM {
            Outcome::StandsAway
        } else if most.max(seam) > self.given.comfort + UNSEEN {
            Outcome::PullsIn
        } else {
            Outcome::LiesFlat
        };
        Span {
            from: from.place,
            to: to.place,
            seam_line_mm: to.on_seam_line_mm - from.on_seam_line_mm,
            strip_mm: to.on_strip_mm - from.on_strip_mm,
            free_edge_least_percent: 100.0 * least,
            free_edge_most_percent: 100.0 * most,
            seam_edge_most_percent: 100.0 * seam,
            outcome,
            stands_off_mm: slack.stands_off(self.given.width),
            slack_mm: slack.length,
        }
    }
}

/// Where a free edge is longer than its place: the slack in all, and the means of f and r over that part.
#[derive(Debug, Clone, Copy, Default)]
struct Slack {
    /// mm.
    length: f64,
    f: f64,
    r: f64,
    over: f64,
}

impl Slack {
    fn add(&mut self, f: f64, r: f64, step: f64) {
        if r > f {
            self.length += (r - f) * step;
            self.f += f * step;
            self.r += r * step;
            self.over += step;
        }
    }

    /// How high the slack part stands off the flat, mm; 0 where the slack is not seen.
    ///
    /// A strip that cannot lie flat stands as a cone: at the tilt psi its free edge is at w cos(psi) in the flat,
    /// so 1 - (1 - f) cos(psi) = r, and it stands w sin(psi) high. Geometry of the cone's frustum, with the means
    /// of f and r over the slack part.
    fn stands_off(&self, width: f64) -> f64 {
        if self.length <= SEEN_SLACK_MM {
            return 0.0;
        }
        let (f, r) = (self.f / self.over, self.r / self.over);
        let cosine = ((1.0 - r).abs() / (1.0 - f).abs().max(1e-12)).min(1.0);
        width * (1.0 - cosine * cosine).sqrt()
    }
}

/// The worst outcome of all spans; standing away is worse than pulling in.
pub(crate) fn worst(spans: &[Span]) -> Outcome {
    let any = |outcome| spans.iter().any(|span| span.outcome == outcome);
    if any(Outcome::StandsAway) {
        Outcome::StandsAway
    } else if any(Outcome::PullsIn) {
        Outcome::PullsIn
    } else {
        Outcome::LiesFlat
    }
}

/// Whether the strip lies flat all along, by the rule, at another width or comfort.
fn flat(ring: &Ring, given: StripGiven) -> bool {
    let given = StripGiven { own_ratio: None, ..given };
    let mut slack = Slack::default();
    let eased = ring.shared_curvature(given.width).iter().all(|&k| {
        let (f, r) = (given.free(k), given.ratio(k));
        slack.add(f, r, ring.step());
        f / r - 1.0 <= given.comfort + UNSEEN
    });
    eased && slack.length <= SEEN_SLACK_MM
}

/// The widest finished width that lies flat by the rule, mm, to 0.1 mm; at most the brief's greatest.
pub(crate) fn widest_flat(ring: &Ring, given: StripGiven) -> Option<f64> {
    let at = |width| flat(ring, StripGiven { width, ..given });
    let most = if given.side == Side::Band { 150.0 } else { 80.0 };
    if !at(NARROWEST_MM) {
        return None;
    }
    if at(most) {
        return Some(most);
    }
    let (mut lo, mut hi) = (NARROWEST_MM, most);
    while hi - lo > 0.05 {
        let mid = 0.5 * (lo + hi);
        if at(mid) { lo = mid } else { hi = mid }
    }
    Some((lo * 10.0).floor() / 10.0)
}

/// What would cure a strip that does not lie flat.
pub(crate) fn cures(ring: &Ring, given: StripGiven, comfort_share: f64, widest: Option<f64>) -> Vec<Cure> {
    let mut cures = Vec::new();
    if given.own_ratio.is_some() && flat(ring, given) {
        cures.push(Cure::UseTheRule);
    }
    if let Some(width) = widest.filter(|w| *w < given.width) {
        cures.push(Cure::Narrower(width));
    }
    let stretchier = (1..=40).map(|n| 0.05 * f64::from(n)).find(|s| {
        let comfort = comfort_share * s;
        comfort > given.comfort && flat(ring, StripGiven { comfort, ..given })
    });
    if let Some(stretch) = stretchier {
        cures.push(Cure::Stretchier((100.0 * stretch).round()));
    }
    cures.push(Cure::Facing);
    cures
}

/// How the ends meet, and what is added to the relaxed length at each of them, mm.
///
/// At a point of half angle alpha a mitre runs at alpha to the strip's edge: its allowance j takes
/// j / sin(alpha) along the edge, and the seam allowance a below the seam line another a / tan(alpha).
/// A lapped end is caught in the other leg's seam, at 2 alpha to it. An open tape end runs
/// w / tan(alpha) + j / sin(alpha) past the point, to be caught in the centre seam.
pub(crate) fn ends(brief: &Brief, alpha: Option<f64>, allowance: f64) -> (Ends, f64) {
    let join = match &brief.finish {
        Finish::Band(band) => band.join_allowance_mm,
        Finish::Tape(tape) => tape.join_allowance_mm,
        Finish::Facing(_) => 0.0,
    };
    let Some(alpha) = alpha else { return (Ends::Ring, join) };
    match &brief.finish {
        Finish::Band(band) if band.point == PointFinish::Mitre => (
            Ends::Mitre { angle_deg: alpha.to_degrees(), free_edge_shorter_mm: band.width_mm / alpha.tan() },
            join / alpha.sin() + allowance / alpha.tan(),
        ),
        Finish::Band(band) => {
            let whole = (2.0 * alpha).sin().max(0.05);
            let past = (-band.width_mm / (2.0 * alpha).tan()).max(0.0);
            (Ends::Lap { lap_width_mm: band.width_mm / whole }, allowance / whole + past)
        }
        Finish::Tape(tape) => {
            let centre = match brief.neckline.front.centre {
                crate::brief::Centre::Seam { allowance_mm } => allowance_mm,
                crate::brief::Centre::Fold => join,
            };
            let overhang_mm = tape.width_mm / alpha.tan() + centre / alpha.sin();
            (Ends::Overhang { overhang_mm }, overhang_mm)
        }
        Finish::Facing(_) => (Ends::Ring, join),
    }
}

/// Width to cut, mm: folded band 2 (w + a) and the turn of cloth; one layer or a tape w + a and what is turned under.
pub(crate) fn cut_width(brief: &Brief, width: f64, allowance: f64, turn: f64) -> f64 {
    match &brief.finish {
        Finish::Band(band) if band.layers == Layers::Folded => 2.0 * (width + allowance) + turn,
        Finish::Band(_) => width + allowance,
        Finish::Tape(tape) => width + allowance + tape.turn_under_mm,
        Finish::Facing(_) => width + allowance,
    }
}

/// Whether the strip's length runs where its knit stretches most; said as an assumption where it does not.
pub(crate) fn runs_the_stretchy_way(given: &Given<'_>) -> bool {
    let direction = given.brief.strip_direction;
    direction == Direction::Crosswise || given.strip.one_way(direction) >= given.strip.crosswise
}
