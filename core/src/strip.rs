//! The strip of a band, a facing strip or a bound edge: its relaxed length, what it does along the line it is sewn on, its
//! marks. A bound edge's strip is sewn a width below the finished edge and lies toward it, as a band does.
//!
//! A straight strip is cut with relaxed length r(s) ds per ds of seam line; its free edge lies at w from the
//! seam line, its element there is f ds with f = 1 - k w for a band and f = 1 + k w for a facing strip. Then the seam
//! edge's strain is 1/r - 1 and the free edge's f/r - 1.

pub(crate) mod cures;
pub(crate) mod marks;
pub(crate) mod spans;

use serde::Serialize;

use crate::brief::{Direction, Finish, Layers};
use crate::ends::Ends;
use crate::facing::can_be_offered;
use crate::figure::Figure;
use crate::given::Given;
use crate::learned::{Learned, LearnedHold};
use crate::ring::{Ring, STEPS};
use crate::strip::cures::Cure;
use crate::strip::marks::{Mark, MarkPlace};
use crate::strip::spans::{Outcome, Span};

/// A band's, a facing strip's or a bound edge's strip.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StripPlan {
    /// How many strips to cut: 2 where front and back both have a point, else 1.
    pub pieces: u32,
    /// Length to cut each, joins and ends included.
    pub cut_length: Figure,
    /// Width to cut, folds and allowances included.
    pub cut_width: Figure,
    /// Relaxed length along the whole seam line, without joins and ends. mm.
    pub relaxed_length_mm: f64,
    /// Relaxed length over seam line. Percent.
    pub ratio_percent: f64,
    /// Whether the maker's own ratio was used.
    pub own_ratio: bool,
    /// Strain the free edge keeps (a facing strip: its seam edge), by the rule or learned from records. Percent.
    pub hold_percent: f64,
    /// A band or a bound edge: the strain its free edge keeps on a straight run; between the two where the line bends
    /// little. Percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub straight_hold_percent: Option<f64>,
    /// Where records of this knit in this finish were used: what they say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub learned: Option<LearnedHold>,
    /// The length that the held edge takes up: where the strip's free edge lies (a facing strip: its seam edge), its straight runs
    /// told as long as they would be with the whole hold. Relaxed length, where no limit adds to it, times (1 + hold). mm.
    pub held_line_mm: f64,
    /// The most an edge may stay stretched. Percent.
    pub comfort_percent: f64,
    /// What is added at each of the two ends, past the relaxed length. mm.
    pub end_extra_mm: f64,
    /// How the ends meet, at centre front where the front has a point, else at centre back.
    pub ends: Ends,
    /// How the ends at centre back meet, where front and back both have a point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub back_ends: Option<Ends>,
    /// Where the strip's ends meet: `centre_back` or `centre_front`.
    pub join_at: MarkPlace,
    /// A bound edge: the line the strip is sewn on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stitch_line: Option<StitchLine>,
    /// A bound edge: what is first trimmed off the cut edge, down to the finished edge. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trim_mm: Option<f64>,
    /// A facing strip: from the seam to the topstitching that holds its free edge down. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub topstitch_mm: Option<f64>,
    /// Marks, in order along one half from centre back to centre front.
    pub marks: Vec<Mark>,
    /// The spans between neighbouring marks.
    pub spans: Vec<Span>,
    /// The worst outcome of all spans.
    pub outcome: Outcome,
    /// The widest finished width that lies flat all along; none where none from 3 mm up does. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub widest_flat_mm: Option<f64>,
    /// How far an even spread over the whole strip, as by quartering, would be off at its worst place. mm.
    pub quartering_error_mm: f64,
    /// What would cure a strip that does not lie flat, best first.
    pub cures: Vec<Cure>,
    /// A facing strip: how far its understitching stops short of each point and corner; none where there is none. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub understitch_stops_mm: Option<f64>,
}

/// The line that a bound edge's strip is sewn on, a finished width below the finished edge.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StitchLine {
    /// All round. mm.
    pub length_mm: f64,
    /// The front half in its own frame. mm.
    pub front: Vec<[f64; 2]>,
    /// The back half in its own frame. mm.
    pub back: Vec<[f64; 2]>,
}

/// Narrowest finished width looked at when the widest flat one is sought, mm: the brief's least.
const NARROWEST_MM: f64 = 3.0;
/// The narrowest strip that is offered in place of one that will not do, mm: about a quarter of an inch, under which few
/// sew one evenly. Our judgement.
pub(crate) const NARROWEST_OFFERED_MM: f64 = 6.0;
/// Strain over the comfortable share that is rounding and not a pull. Fraction.
const UNSEEN: f64 = 1e-3;
/// Slack in a span's free edge that steaming and the cloth's own give take up, mm: our judgement, no published
/// source. More is seen as a ripple.
pub(crate) const SEEN_SLACK_MM: f64 = 1.0;

/// The hold of a band on a straight run, where it is less than that on a curve. Fraction.
///
/// A stretched edge presses inward by its pull times its curvature (as a belt on a drum; any text on mechanics). Where
/// the line is straight it presses nothing flat: it only draws the seam up. So makers cut a V's legs nearly one to one
/// and the back neck shorter (common practice, no published source): a hair shorter, as a tape is, so that feeding and
/// handling do not make the leg long. The figure is our judgement.
pub(crate) const STRAIGHT_HOLD: f64 = 0.02;
/// Where a band has its whole hold: where its line bends at least by this share of what a circle as long as the whole
/// line does. Toward a straight line the hold then falls evenly.
///
/// Measured against a circle, and not against the width, it is the same for a narrow edge and a wide one, for a child and
/// a man. Ordinary round necks bend more nearly all along; the sides of a deep scoop and the middle of a flat back bend
/// less. Our judgement, no published source.
const WHOLE_HOLD_BEND: f64 = 1.0 / 3.0;

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
    /// Strain of the free edge (band) or of the seam edge (facing strip) that the rule aims at.
    pub hold: f64,
    /// The most an edge may stay stretched: phi S.
    pub comfort: f64,
    /// Turn of cloth, mm (facing strip).
    pub turn: f64,
    pub own_ratio: Option<f64>,
    /// Where the hold comes from records and not from the rule alone.
    pub learned: Option<Learned>,
}

impl StripGiven {
    /// The strip of a brief; none for a facing.
    pub(crate) fn new(given: &Given<'_>) -> Option<Self> {
        Self::running(given, given.brief.strip_direction)
    }

    /// The same with its length running another way in its knit.
    pub(crate) fn running(given: &Given<'_>, direction: Direction) -> Option<Self> {
        let rules = &given.brief.rules;
        let stretch = given.strip.one_way(direction);
        let comfort = rules.comfort_share * stretch;
        let (side, width, ratio) = match &given.brief.finish {
            Finish::Band(band) => (Side::Band, band.width_mm, band.ratio_percent),
            Finish::Bound(bound) => (Side::Band, bound.width_mm, bound.ratio_percent),
            Finish::Tape(tape) => (Side::Tape, tape.width_mm, tape.ratio_percent),
            Finish::Facing(_) => return None,
        };
        let (usual, turn) = match side {
            Side::Band => (rules.hold_share * stretch / given.strip.recovery_or_usual(), 0.0),
            Side::Tape => (rules.tape_hold.min(comfort), given.garment.turn_mm),
        };
        let own_ratio = ratio.map(|p| p / 100.0);
        let learned = if own_ratio.is_some() { None } else { Learned::new(given.brief, usual) };
        let hold = learned.map_or(usual, |learned| (learned.hold + given.learned_off * learned.deviation).max(0.0));
        Some(Self { side, width: given.sewn_width(width), hold, comfort, turn, own_ratio, learned })
    }

    /// f: the free edge's element over the seam line's, where the curvature is k.
    fn free(&self, k: f64) -> f64 {
        match self.side {
            Side::Band => 1.0 - k * self.width,
            Side::Tape => 1.0 + k * self.width,
        }
    }

    /// How far inside the line it is sewn on the strip's held edge lies: a band's free edge, a facing strip's seam edge. mm
    pub(crate) fn reach(&self) -> f64 {
        match self.side {
            Side::Band => self.width,
            Side::Tape => self.turn,
        }
    }

    /// The hold on a straight run. A tape's is the same everywhere: it is small, and is there for the roll of the seam.
    pub(crate) fn straight_hold(&self) -> f64 {
        match self.side {
            Side::Band => self.hold.min(STRAIGHT_HOLD),
            Side::Tape => self.hold,
        }
    }

    /// How much of a place counts as straight, 0 to 1; one that bends away from the opening does wholly.
    fn straight(&self, place: Place) -> f64 {
        match self.side {
            Side::Band => 1.0 - (place.k / (WHOLE_HOLD_BEND * place.circle)).clamp(0.0, 1.0),
            Side::Tape => 0.0,
        }
    }

    /// The r that the rule asks for at a place, before any limit.
    fn ruled(&self, place: Place) -> f64 {
        match (self.own_ratio, self.side) {
            (Some(own), _) => own,
            (None, Side::Band) => {
                let straight = self.straight(place);
                self.free(place.k) * ((1.0 - straight) / (1.0 + self.hold) + straight / (1.0 + self.straight_hold()))
            }
            (None, Side::Tape) => (1.0 - place.k * self.turn) / (1.0 + self.hold),
        }
    }

    /// r: relaxed strip over seam line at a place.
    ///
    /// The rule's r is held between what stretches neither edge past its comfort, max(1, f)/(1 + phi S), and
    /// what leaves neither edge slack, min(1, f). Where both cannot be had, a free edge on the inside of the
    /// curve stands away at the stretch limit, one on the outside pulls in at r = 1. A maker's own ratio stands.
    fn ratio(&self, place: Place) -> f64 {
        let ruled = self.ruled(place);
        if self.own_ratio.is_some() {
            return ruled;
        }
        let f = self.free(place.k);
        let (least, most) = (f.max(1.0) / (1.0 + self.comfort), f.clamp(0.0, 1.0));
        if least <= most {
            ruled.max(least).min(most)
        } else if f < 1.0 {
            least
        } else {
            1.0
        }
    }
}

/// How a line bends at a place, and how a circle as long as the whole line does. 1/mm
#[derive(Debug, Clone, Copy, PartialEq)]
struct Place {
    k: f64,
    circle: f64,
}

/// The strip along a half round, on the ring's grid from centre back.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strip {
    pub given: StripGiven,
    k: Vec<f64>,
    r: Vec<f64>,
    /// What each step of the grid asks.
    steps: Vec<Asked>,
    /// Relaxed length from centre back, mm.
    along: Vec<f64>,
}

/// What a piece of the line asks of the strip.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Asked {
    /// Turning that the strip meets, radians.
    theta: f64,
    /// How much of the free edge's place counts as straight, mm.
    straight: f64,
    /// Relaxed length by the rule, and with its limits, mm.
    ruled: f64,
    relaxed: f64,
}

impl Asked {
    /// Between two places `over` apart, mm, with the shared curvature of the one and the other: by the trapezium.
    fn between(ring: &Ring, given: &StripGiven, k: [f64; 2], over: f64) -> Self {
        let places = k.map(|k| Place::on(ring, k));
        let mean = |of: &dyn Fn(Place) -> f64| 0.5 * over * places.map(of).iter().sum::<f64>();
        Self {
            theta: mean(&|place| place.k),
            straight: mean(&|place| given.straight(place) * given.free(place.k)),
            ruled: mean(&|place| given.ruled(place)),
            relaxed: mean(&|place| given.ratio(place)),
        }
    }

    fn add(&mut self, other: Self, share: f64) {
        self.theta += share * other.theta;
        self.straight += share * other.straight;
        self.ruled += share * other.ruled;
        self.relaxed += share * other.relaxed;
    }
}

/// What each step of the grid asks: by one trapezium, and where the shared curvature jumps within it, by one on each side
/// of the jump. What a line turns without its corners goes evenly over a step, so that turning in all is kept exactly.
fn asked(ring: &Ring, given: &StripGiven) -> Vec<Asked> {
    let jumps = ring.jumps(given.width);
    let mut jumps = jumps.iter().copied().peekable();
    let smooth = ring.shared_smooth(given.width);
    let step = |(i, (k, l)): (usize, (&f64, &f64))| {
        let (start, end) = (i as f64 * ring.step(), (i + 1) as f64 * ring.step());
        let smooth_at = |s: f64| k + (l - k) * (s - start) / ring.step();
        let (mut sum, mut from) = (Asked::default(), start);
        while from < end {
            let to = jumps.next_if(|jump| *jump < end).unwrap_or(end);
            let corners = ring.shared_corners(0.5 * (from + to), given.width);
            let ends = [from, to].map(|s| smooth_at(s) + corners);
            sum.add(Asked::between(ring, given, ends, to - from), 1.0);
            from = to;
        }
        sum
    };
    smooth.iter().zip(smooth.iter().skip(1)).enumerate().map(step).collect()
}

/// What a run of the line asks of the strip: turning that the strip meets, radians, and what the limits add, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Run {
    pub length: f64,
    pub theta: f64,
    /// How much of the free edge's place counts as straight, mm.
    pub straight: f64,
    pub limits: f64,
}

impl Place {
    fn on(ring: &Ring, k: f64) -> Self {
        Self { k, circle: ring.circles_curvature() }
    }
}

impl Strip {
    pub(crate) fn new(ring: &Ring, given: StripGiven) -> Self {
        let k = ring.shared_curvature(given.width);
        let r: Vec<f64> = k.iter().map(|k| given.ratio(Place::on(ring, *k))).collect();
        let steps = asked(ring, &given);
        let mut total = 0.0;
        let ends = steps.iter().map(|step| {
            total += step.relaxed;
            total
        });
        let along = core::iter::once(0.0).chain(ends).collect();
        Self { given, k, r, steps, along }
    }

    /// What the line asks between two of its places, mm from centre back: by the same trapezia as the length.
    pub(crate) fn run(&self, ring: &Ring, from: f64, to: f64) -> Run {
        let step = ring.step();
        let mut sum = Asked::default();
        for (i, asked) in self.steps.iter().enumerate() {
            let start = i as f64 * step;
            let share = ((to.min(start + step) - from.max(start)) / step).max(0.0);
            sum.add(*asked, share);
        }
        Run { length: to - from, theta: sum.theta, straight: sum.straight, limits: sum.relaxed - sum.ruled }
    }

    /// Relaxed length of the half round, mm.
    pub(crate) fn half_length(&self) -> f64 {
        self.along.last().copied().unwrap_or(0.0)
    }

    /// Relaxed length from centre back to a place along the seam line, mm.
    pub(crate) fn relaxed_at(&self, ring: &Ring, s: f64) -> f64 {
        let place = (s / ring.step()).clamp(0.0, STEPS as f64);
        // Clamped to the grid just above; at its end nothing is added to the last place.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let i = place as usize;
        let at = |i: usize| self.along.get(i).copied().unwrap_or(0.0);
        at(i) + (place - i as f64) * (at(i + 1) - at(i))
    }

    /// Where an even spread over the whole half is off most: by the even spread and by the strip, mm.
    pub(crate) fn worst_even(&self) -> (f64, f64) {
        let end = self.half_length();
        let even = |i: usize| end * i as f64 / STEPS as f64;
        let off = |(i, at): &(usize, &f64)| (even(*i) - **at).abs();
        let worst = self.along.iter().enumerate().max_by(|a, b| off(a).total_cmp(&off(b)));
        worst.map_or((0.0, 0.0), |(i, at)| (even(i), *at))
    }

    /// Marks at the centres and the neck point, and between them the fewest more that keep every even span
    /// within the tolerance.
    pub(crate) fn marks(&self, ring: &Ring, tolerance: f64) -> Vec<Mark> {
        let mark =
            |place, at: Station| Mark { place, number: None, on_strip_mm: at.on_strip, on_seam_line_mm: at.on_line };
        let mut marks = vec![mark(MarkPlace::CentreBack, self.station(ring, 0.0))];
        for (from, to, place) in
            [(0.0, ring.back_length, MarkPlace::NeckPoint), (ring.back_length, ring.length, MarkPlace::CentreFront)]
        {
            let stations = self.stations(ring, from, to);
            let between = fewest_stations(&stations, tolerance);
            marks.extend(between.into_iter().map(|at| mark(MarkPlace::Between, at)));
            marks.extend(stations.last().map(|at| mark(place, *at)));
        }
        let between = marks.iter_mut().filter(|mark| mark.place == MarkPlace::Between);
        between.zip(1..).for_each(|(mark, number)| mark.number = Some(number));
        marks
    }

    fn station(&self, ring: &Ring, s: f64) -> Station {
        Station { on_line: s, on_strip: self.relaxed_at(ring, s) }
    }

    /// Two places along the seam line, mm from centre back, and the grid's places between them: the neck point, which
    /// is on no grid, takes part where it truly is.
    fn stations(&self, ring: &Ring, from: f64, to: f64) -> Vec<Station> {
        let apart = 1e-6 * ring.step();
        let places = (0..=STEPS).map(|i| i as f64 * ring.step()).filter(|s| *s > from + apart && *s < to - apart);
        core::iter::once(from).chain(places).chain([to]).map(|s| self.station(ring, s)).collect()
    }

    /// What the strip does between neighbouring marks.
    pub(crate) fn spans(&self, ring: &Ring, marks: &[Mark]) -> Vec<(Span, Edges)> {
        marks.iter().zip(marks.iter().skip(1)).map(|(a, b)| self.span(ring, a, b)).collect()
    }

    fn span(&self, ring: &Ring, from: &Mark, to: &Mark) -> (Span, Edges) {
        let mut edges = Edges::default();
        for (i, (k, r)) in self.k.iter().zip(&self.r).enumerate() {
            let over = ring.stands_for(i, from.on_seam_line_mm, to.on_seam_line_mm);
            if over > 0.0 {
                edges.add(self.given.free(*k), *r, over);
            }
        }
        let (least, most, seam) = (edges.least_free(), edges.most_free(), edges.most_seam());
        let outcome = if edges.slack.length > SEEN_SLACK_MM {
            Outcome::StandsAway
        } else if most.max(seam) > self.given.comfort + UNSEEN {
            Outcome::PullsIn
        } else {
            Outcome::LiesFlat
        };
        let span = Span {
            from: from.place,
            to: to.place,
            seam_line_mm: to.on_seam_line_mm - from.on_seam_line_mm,
            strip_mm: to.on_strip_mm - from.on_strip_mm,
            ratio_percent: 100.0 * (to.on_strip_mm - from.on_strip_mm) / (to.on_seam_line_mm - from.on_seam_line_mm),
            free_edge_least_percent: 100.0 * least,
            free_edge_most_percent: 100.0 * most,
            seam_edge_most_percent: 100.0 * seam,
            outcome,
            stands_off_mm: edges.slack.stands_off(self.given.width),
            slack_mm: edges.slack.length,
        };
        (span, edges)
    }
}

/// A place where a mark may stand: along the seam line and along the relaxed strip, mm from centre back.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Station {
    on_line: f64,
    on_strip: f64,
}

/// How far an even spread from the first of these places to the last is off at its worst, mm; none where that is more
/// than the tolerance. The middle is looked at first: an even spread is off most about there.
fn off_within(run: &[Station], tolerance: f64) -> Option<f64> {
    let (first, last) = (*run.first()?, *run.last()?);
    let slope = (last.on_strip - first.on_strip) / (last.on_line - first.on_line).max(f64::MIN_POSITIVE);
    let off = |at: &Station| (first.on_strip + slope * (at.on_line - first.on_line) - at.on_strip).abs();
    if run.get(run.len() / 2).is_some_and(|at| off(at) > tolerance) {
        return None;
    }
    let mut worst = 0.0;
    for at in run {
        let here = off(at);
        if here > tolerance {
            return None;
        }
        worst = here.max(worst);
    }
    Some(worst)
}

/// The fewest of these places, the first and last apart, that keep each even span within the tolerance; of equally
/// few, those whose worst span is off least. Exact, by dynamic programming over the places.
fn fewest_stations(stations: &[Station], tolerance: f64) -> Vec<Station> {
    let span = |from: usize, to: usize| stations.get(from..=to).and_then(|run| off_within(run, tolerance));
    let end = stations.len().saturating_sub(1);
    if span(0, end).is_some() {
        return Vec::new();
    }
    /// The best way to reach a place: spans so far, their worst error, the place before.
    #[derive(Clone, Copy)]
    struct Way(usize, f64, usize);
    let mut best: Vec<Way> = vec![Way(0, 0.0, 0)];
    for j in 1..=end {
        // From the place just before a span of one step is never off.
        let Some(last) = best.last() else { break };
        let mut least = Way(last.0 + 1, last.1, j - 1);
        for (i, way) in best.iter().enumerate() {
            if way.0 + 1 > least.0 {
                continue;
            }
            let Some(off) = span(i, j) else { continue };
            let worst = way.1.max(off);
            if way.0 + 1 < least.0 || worst < least.1 {
                least = Way(way.0 + 1, worst, i);
            }
        }
        best.push(least);
    }
    let mut places = Vec::new();
    let mut at = end;
    while let Some(way) = best.get(at).filter(|way| way.2 > 0) {
        at = way.2;
        places.extend(stations.get(at));
    }
    places.reverse();
    places
}

/// The extremes of f and r along a span, and its slack.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Edges {
    /// (f, r) where the free edge's strain is least.
    pub least: Option<(f64, f64)>,
    /// (f, r) where the free edge's strain is most.
    pub most: Option<(f64, f64)>,
    /// r where the seam edge's strain is most.
    pub tightest: Option<f64>,
    pub slack: Slack,
}

impl Edges {
    /// Takes in a place that stands for a length of line, mm.
    fn add(&mut self, f: f64, r: f64, over: f64) {
        let strain = f / r;
        if self.least.is_none_or(|(g, q)| strain < g / q) {
            self.least = Some((f, r));
        }
        if self.most.is_none_or(|(g, q)| strain > g / q) {
            self.most = Some((f, r));
        }
        if self.tightest.is_none_or(|q| r < q) {
            self.tightest = Some(r);
        }
        self.slack.add(f, r, over);
    }

    fn least_free(&self) -> f64 {
        self.least.map_or(0.0, |(f, r)| f / r - 1.0)
    }

    fn most_free(&self) -> f64 {
        self.most.map_or(0.0, |(f, r)| f / r - 1.0)
    }

    fn most_seam(&self) -> f64 {
        self.tightest.map_or(0.0, |r| 1.0 / r - 1.0)
    }
}

/// Where a free edge is longer than its place: the slack in all, and the means of f and r over that part.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Slack {
    /// mm.
    pub length: f64,
    f: f64,
    r: f64,
    /// The length of line over which the edge is slack, mm.
    pub over: f64,
}

impl Slack {
    fn add(&mut self, f: f64, r: f64, over: f64) {
        if r > f {
            self.length += (r - f) * over;
            self.f += f * over;
            self.r += r * over;
            self.over += over;
        }
    }

    /// The means of f and r over the slack part.
    pub(crate) fn means(&self) -> Option<(f64, f64)> {
        (self.over > 0.0).then(|| (self.f / self.over, self.r / self.over))
    }

    /// How high the slack part stands off the flat, mm; 0 where the slack is not seen.
    ///
    /// A strip that cannot lie flat stands as a cone: at the tilt psi its free edge is at w cos(psi) in the flat,
    /// so 1 - (1 - f) cos(psi) = r, and it stands w sin(psi) high. Geometry of the cone's frustum, with the means
    /// of f and r over the slack part.
    fn stands_off(&self, width: f64) -> f64 {
        let Some((f, r)) = self.means().filter(|_| self.length > SEEN_SLACK_MM) else { return 0.0 };
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

/// The greatest finished width a brief may ask, mm.
fn greatest_width(finish: &Finish) -> f64 {
    match finish {
        Finish::Band(_) => 150.0,
        Finish::Tape(_) => 80.0,
        Finish::Bound(_) => 40.0,
        Finish::Facing(_) => 200.0,
    }
}

/// The widest finished width that lies flat by the rule, mm, to 0.1 mm; at most the brief's greatest. `edge` is
/// the seam line; a bound edge's strip is sewn the further out the wider it is.
pub(crate) fn widest_flat(edge: &Ring, strip: StripGiven, given: &Given<'_>) -> Option<f64> {
    let finish = &given.brief.finish;
    let moved = matches!(finish, Finish::Bound(_)).then(|| given.stitch_rings());
    let at = |width| {
        let strip = StripGiven { width, ..strip };
        moved.as_ref().map_or_else(|| flat(edge, strip), |moved| moved(width).is_some_and(|ring| flat(&ring, strip)))
    };
    // Where the line bends away at a corner a narrow strip can be worse off than a wide one, so that the search
    // starts from the width that was asked where that one lies flat.
    let most = greatest_width(finish);
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

/// What a raw inside edge of a bound edge runs past the stitching so that it is caught, and what a folded one
/// does, mm: common practice, no published source.
pub(crate) const BOUND_CAUGHT_MM: f64 = 3.0;
pub(crate) const BOUND_OVER_MM: f64 = 1.0;

/// The turn of a bound edge's strip round the raw edge, mm: half round the garment and the strip's own allowance,
/// measured along the middle of the strip. The rule's turn of each is that of half its thickness.
pub(crate) fn bound_turn(garment_turn: f64, strip_turn: f64) -> f64 {
    garment_turn + 2.0 * strip_turn
}

/// Width to cut, mm: folded band 2 (w + a) and the turn of cloth; one layer or a facing strip w + a and what is turned
/// under; a bound edge its allowance, outside and inside, each w, and its turn.
pub(crate) fn cut_width(given: &Given<'_>, width: f64) -> f64 {
    let (allowance, turn) = (given.allowance, given.strip.turn_mm);
    match &given.brief.finish {
        Finish::Band(band) if band.layers == Layers::Folded => 2.0 * (width + allowance) + turn,
        Finish::Band(_) | Finish::Facing(_) => width + allowance,
        Finish::Tape(tape) => width + allowance + tape.turn_under_mm,
        Finish::Bound(bound) => {
            let round = 3.0 * width + bound_turn(given.garment.turn_mm, turn);
            match bound.layers {
                Layers::Folded => 2.0 * (round + BOUND_OVER_MM),
                Layers::Single => round + bound.turn_under_mm.max(BOUND_CAUGHT_MM),
            }
        }
    }
}

/// From the seam to the topstitching that holds a facing strip's free edge down, mm: a little inside its width, so that the
/// edge is caught (common practice, no published source).
pub(crate) const TOPSTITCH_INSIDE_MM: f64 = 1.5;

/// Whether the strip's length runs where its knit stretches most; said as an assumption where it does not.
pub(crate) fn runs_the_stretchy_way(given: &Given<'_>) -> bool {
    let direction = given.brief.strip_direction;
    direction == Direction::Crosswise || given.strip.one_way(direction) >= given.strip.crosswise
}

#[cfg(test)]
mod tests {
    use super::{Edges, Side, Station, Strip, StripGiven, fewest_stations};
    use crate::curve::Arc;
    use crate::ring::{Ring, STEPS};
    use crate::seam_line::Line;

    const TOLERANCE: f64 = 3.0;

    /// Numbers from 0 to 1, the same each time: a linear congruence with the constants of Knuth's MMIX.
    struct Chance(u64);

    impl Chance {
        fn next(&mut self) -> f64 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (self.0 >> 33) as f64 / (1_u64 << 31) as f64
        }
    }

    /// A strip whose ratio wanders, with uneven places as beside a neck point.
    fn strip(chance: &mut Chance, places: usize) -> Vec<Station> {
        let mut at = Station { on_line: 0.0, on_strip: 0.0 };
        let mut stations = vec![at];
        for _ in 1..places {
            let step = 0.5 + 20.0 * chance.next();
            at = Station { on_line: at.on_line + step, on_strip: at.on_strip + step * (0.4 + 0.7 * chance.next()) };
            stations.push(at);
        }
        stations
    }

    /// The worst even span with marks at these places of the bits and at both ends, straight from the definition.
    fn worst(stations: &[Station], bits: u32) -> f64 {
        let end = stations.len() - 1;
        let marked = |i: usize| i == 0 || i == end || (bits >> (i - 1)) & 1 == 1;
        let marks: Vec<usize> = (0..=end).filter(|i| marked(*i)).collect();
        let mut worst: f64 = 0.0;
        for pair in marks.windows(2) {
            let (a, b) = (stations[pair[0]], stations[pair[1]]);
            for at in &stations[pair[0]..=pair[1]] {
                let share = (at.on_line - a.on_line) / (b.on_line - a.on_line);
                worst = worst.max((a.on_strip + share * (b.on_strip - a.on_strip) - at.on_strip).abs());
            }
        }
        worst
    }

    #[test]
    fn no_fewer_marks_keep_the_tolerance() {
        // Brute force over every choice of places.
        let mut chance = Chance(11);
        let mut counts = [0; 12];
        for _ in 0..300 {
            // 3 to 11 of them.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let places = 3 + (9.0 * chance.next()) as usize;
            let stations = strip(&mut chance, places);
            let inner = stations.len() - 2;
            let choices = 0..1_u32 << inner;
            let fits: Vec<u32> = choices.filter(|bits| worst(&stations, *bits) <= TOLERANCE).collect();
            let least = fits.iter().map(|bits| bits.count_ones()).min().expect("marks at every place keep it");
            let equally_few = fits.iter().filter(|bits| bits.count_ones() == least);
            let best = equally_few.map(|bits| worst(&stations, *bits)).fold(f64::INFINITY, f64::min);

            let chosen = fewest_stations(&stations, TOLERANCE);
            let bits = stations[1..=inner].iter().enumerate().filter(|(_, at)| chosen.contains(at));
            let bits = bits.fold(0, |bits, (i, _)| bits | 1 << i);
            assert_eq!(chosen.len(), least as usize, "as few as any choice of {inner} places");
            assert!((worst(&stations, bits) - best).abs() < 1e-9, "and of equally few the least off");
            counts[chosen.len()] += 1;
        }
        assert!(counts[0] > 20 && counts[1] > 20 && counts[2] > 20, "strips of many kinds: {counts:?}");
    }

    #[test]
    fn a_spans_strains_are_the_least_and_most_of_its_places() {
        // By hand: f / r is 1.125, 14/13, 8/9 and 20/19, the least r is 0.65. Only the third place is slack, by 0.1 of 3 mm.
        let places = [(0.9, 0.8, 4.0), (0.7, 0.65, 2.0), (0.8, 0.9, 3.0), (1.0, 0.95, 1.0)];
        for turn in 0..places.len() {
            let mut edges = Edges::default();
            let mut order = places;
            order.rotate_left(turn);
            order.iter().for_each(|(f, r, over)| edges.add(*f, *r, *over));
            let close = |got: f64, expected: f64| assert!((got - expected).abs() < 1e-12, "{got} is not {expected}");
            close(edges.least_free(), 8.0 / 9.0 - 1.0);
            close(edges.most_free(), 0.125);
            close(edges.most_seam(), 1.0 / 0.65 - 1.0);
            close(edges.slack.length, 0.3);
            close(edges.slack.over, 3.0);
        }
    }

    #[test]
    fn stations_are_both_ends_and_each_place_of_the_grid_between() {
        // A round hole: its neck point stands on the grid's middle place, to within rounding.
        let k = 0.552_284_749_830_793_5 * 100.0;
        let quarter = Arc::new(kurbo::CubicBez::new((0.0, 100.0), (k, 100.0), (100.0, k), (100.0, 0.0)));
        let line = Line::as_known(&[quarter], 0.0);
        let ring = Ring::new(&line, &line);
        let given = StripGiven {
            side: Side::Band,
            width: 10.0,
            hold: 0.1,
            comfort: 0.5,
            turn: 0.0,
            own_ratio: None,
            learned: None,
        };
        let strip = Strip::new(&ring, given);
        let step = ring.step();
        // Ends on the grid, and between its places.
        for (from, to, between) in [
            (0.0, ring.length, STEPS - 1),
            (0.0, ring.back_length, STEPS / 2 - 1),
            (ring.back_length, ring.length, STEPS / 2 - 1),
            (2.5 * step, 5.25 * step, 3),
            (2.0 * step, 5.0 * step, 2),
        ] {
            let places: Vec<f64> = strip.stations(&ring, from, to).iter().map(|at| at.on_line).collect();
            assert_eq!(places.len(), between + 2, "{from} to {to}: {places:?}");
            assert!(places.is_sorted_by(|a, b| a < b), "one after the other: {places:?}");
            assert_eq!((places.first(), places.last()), (Some(&from), Some(&to)), "from end to end");
        }
    }

    #[test]
    fn an_even_strip_needs_no_marks() {
        let stations: Vec<Station> =
            [0.0, 4.0, 8.0, 9.3].into_iter().map(|s| Station { on_line: s, on_strip: 0.8 * s }).collect();
        assert!(fewest_stations(&stations, 0.5).is_empty(), "an even spread is the strip itself");
    }
}
