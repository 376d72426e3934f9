//! Where a strip is marked: as few marks as keep each span, spread evenly, as flat as the strip eased to the curve.

use super::along::Strip;
use super::lie::{Rippling, SURELY_FLAT};
use super::marks::{Mark, MarkPlace};
use super::spread::{Places, Spread, part};
use crate::ring::Ring;

/// Strain by which a span spread evenly may be off its limits more than the strip eased to the curve is: our judgement, a
/// fifth of what the reckoning itself is sure to. Fraction.
const SLIGHT: f64 = 0.005;

/// How much of the strain at which a strip ripples spans may use up where they are judged one by one: neighbours, spread
/// evenly too, add a little to each other. The first that serves is taken.
const MOST_LOADS: [f64; 4] = [1.0, 0.65, 0.3, 0.0];

/// A strip spread evenly between its marks.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Sewn {
    /// The stations that are marked, from centre back to centre front.
    pub at: Vec<usize>,
    /// Line over relaxed strip in each span.
    pub stretched: Vec<f64>,
    /// The free edge's strain at each place. Fraction.
    pub strain: Vec<f64>,
}

impl Sewn {
    /// With marks at these stations.
    pub(crate) fn at(strip: &Marked<'_>, at: Vec<usize>) -> Self {
        let spans = || at.iter().zip(at.iter().skip(1)).map(|(from, to)| (*from, *to));
        let stretched: Vec<f64> = spans().map(|(from, to)| strip.stretched(from, to)).collect();
        let strain = |place: usize| {
            let taken = spans().zip(&stretched).map(|((from, to), q)| q * strip.spread.sharing.share(place, from, to));
            taken.sum::<f64>() - 1.0
        };
        let strain = (0..strip.spread.eased.len()).map(strain).collect();
        Self { at, stretched, strain }
    }
}

/// A strip and where it may be marked.
pub(crate) struct Marked<'a> {
    pub strip: &'a Strip,
    pub spread: &'a Spread<'a>,
    pub rippling: Rippling,
    /// Where each station lies along the relaxed strip, mm.
    pub on_strip: Vec<f64>,
}

impl<'a> Marked<'a> {
    pub(crate) fn new(ring: &Ring, strip: &'a Strip, spread: &'a Spread<'a>) -> Self {
        let on_strip = spread.sharing.places.stations.iter().map(|s| strip.relaxed_at(ring, *s)).collect();
        Self { strip, spread, rippling: Rippling::new(strip.given.thin()), on_strip }
    }

    fn places(&self) -> &Places {
        self.spread.sharing.places
    }

    /// Marks at the centres and the neck point, and between them the fewest more with which every span, spread evenly, stays
    /// within `tolerance` mm of the strip eased to the curve and keeps its free edge inside its limits: not pressed together
    /// past the strain from which it ripples, not stretched past its comfort. Where the strip eased to the curve does not keep
    /// them, no marks serve, and it is no worse than that.
    pub(crate) fn fewest(&self, tolerance: f64) -> Sewn {
        let mut known = Known::new(self.on_strip.len());
        let [first, others @ ..] = MOST_LOADS;
        let mut sewn = self.marked(tolerance, first, &mut known);
        for most_load in others {
            if self.holds(&sewn) {
                break;
            }
            // Where no span uses up more, the same marks are the fewest.
            let spans = sewn.at.iter().zip(sewn.at.iter().skip(1));
            if spans.into_iter().any(|(from, to)| self.load_of(*from, *to, &mut known) > Some(most_load)) {
                sewn = self.marked(tolerance, most_load, &mut known);
            }
        }
        sewn
    }

    /// The marks there, on strip and line.
    pub(crate) fn marks(&self, sewn: &Sewn) -> Vec<Mark> {
        let end = self.on_strip.len() - 1;
        let mut between = 1..;
        let mark = |&at: &usize| {
            let place = match at {
                0 => MarkPlace::CentreBack,
                at if at == end => MarkPlace::CentreFront,
                at if at == self.places().neck_point => MarkPlace::NeckPoint,
                _ => MarkPlace::Between,
            };
            let number = if place == MarkPlace::Between { between.next() } else { None };
            let at = |of: &[f64]| of.get(at).copied().unwrap_or(0.0);
            Mark { place, number, on_strip_mm: at(&self.on_strip), on_seam_line_mm: at(&self.places().stations) }
        };
        sewn.at.iter().map(mark).collect()
    }

    /// With the centres alone marked, as by dividing strip and line into even parts.
    pub(crate) fn evenly(&self) -> Sewn {
        Sewn::at(self, vec![0, self.on_strip.len() - 1])
    }

    fn marked(&self, tolerance: f64, most_load: f64, known: &mut Known) -> Sewn {
        let (end, neck_point) = (self.on_strip.len() - 1, self.places().neck_point);
        let mut at = vec![0];
        for (from, to) in [(0, neck_point), (neck_point, end)] {
            let off = |i: usize, j: usize, most: f64| {
                let (i, j) = (from + i, from + j);
                let most = most.min(tolerance);
                let off = known.off.of(i, j, || self.off(i, j, tolerance, most)).filter(|off| *off <= most)?;
                let load = self.load_of(i, j, known)?;
                (load <= most_load).then_some(off)
            };
            at.extend(fewest(to - from, off).into_iter().map(|i| from + i));
            at.push(to);
        }
        Sewn::at(self, at)
    }

    /// Line over relaxed strip between two stations.
    fn stretched(&self, from: usize, to: usize) -> f64 {
        let between = |of: &[f64]| of.get(to).zip(of.get(from)).map_or(0.0, |(to, from)| to - from);
        between(&self.places().stations) / between(&self.on_strip).max(f64::MIN_POSITIVE)
    }

    /// The same as [`Self::load`], worked out once.
    fn load_of(&self, from: usize, to: usize, known: &mut Known) -> Option<f64> {
        known.load.of(from, to, || Some(self.load(from, to, &mut known.beyond)))
    }

    /// How far an even spread from one station to another presses the free edge together at its worst, the strip being eased to
    /// the curve outside of it: over the compression from which it ripples. Infinite where that is too far or where it
    /// stretches the free edge past its comfort. What is about as much where the strip is eased all along does not count.
    /// `beyond` are the places where one was beyond either limit last: most are there again.
    fn load(&self, from: usize, to: usize, beyond: &mut [usize; 2]) -> f64 {
        let stretched = self.stretched(from, to);
        let ripples = self.rippling.at(stretched - 1.0);
        let places = self.places().between(from, to);
        let comfort = self.strip.given.comfort;
        let pressed = |(strain, eased): (f64, f64)| if strain < eased - SLIGHT { -strain } else { 0.0 };
        let over = |(strain, eased): (f64, f64)| strain - if eased > comfort { eased } else { comfort };
        for at in *beyond {
            let mut there = self.spread.strains_with_even((from, to), at..at + 1, stretched);
            if places.contains(&at) && there.any(|there| ripples(pressed(there)) || over(there) > SLIGHT) {
                return f64::INFINITY;
            }
        }
        let (mut most, mut most_over) = ((0.0, 0), (f64::NEG_INFINITY, 0));
        let all = self.spread.strains_with_even((from, to), places.clone(), stretched);
        for (at, here) in places.zip(all) {
            let [pressed, over] = [pressed(here), over(here)];
            most = if pressed > most.0 { (pressed, at) } else { most };
            most_over = if over > most_over.0 { (over, at) } else { most_over };
        }
        let is_beyond = [ripples(most.0), most_over.0 > SLIGHT];
        for ((last, at), is_beyond) in beyond.iter_mut().zip([most.1, most_over.1]).zip(is_beyond) {
            *last = if is_beyond { at } else { *last };
        }
        if is_beyond.contains(&true) {
            f64::INFINITY
        } else if most.0 > 0.0 {
            most.0 / (SURELY_FLAT * self.rippling.from(stretched - 1.0))
        } else {
            0.0
        }
    }

    /// How far an even spread from one station to another is off at its worst, mm: infinite where its middle alone, about which it
    /// is off most, is off by more than the tolerance; none where by more than `most`.
    fn off(&self, from: usize, to: usize, tolerance: f64, most: f64) -> Option<f64> {
        let (on_line, on_strip) = (self.places().stations.get(from..=to)?, self.on_strip.get(from..=to)?);
        let (line, strip) = (*on_line.first()?, *on_strip.first()?);
        let slope = (on_strip.last()? - strip) / (on_line.last()? - line).max(f64::MIN_POSITIVE);
        let off = |(s, at): (&f64, &f64)| (strip + slope * (s - line) - at).abs();
        let middle = on_line.len() / 2;
        let middle = on_line.get(middle).zip(on_strip.get(middle)).map_or(0.0, off);
        if middle > tolerance {
            return Some(f64::INFINITY);
        }
        if middle > most {
            return None;
        }
        let all = on_line.iter().zip(on_strip).map(off);
        Some(all.fold(0.0, |worst, here| if here > worst { here } else { worst }))
    }

    /// Whether no place is pressed together further than it ripples from, or, where the strip eased to the curve is pressed
    /// further, than about that.
    fn holds(&self, sewn: &Sewn) -> bool {
        let spans = sewn.at.iter().zip(sewn.at.iter().skip(1)).zip(&sewn.stretched);
        spans.into_iter().all(|((from, to), stretched)| {
            let limit = -SURELY_FLAT * self.rippling.from(stretched - 1.0);
            let places = self.places().between(*from, *to);
            let mut strains = part(&sewn.strain, &places).zip(part(&self.spread.eased, &places));
            strains.all(|(strain, eased)| *strain >= limit.min(eased - 2.0 * SLIGHT))
        })
    }
}

/// What is known of even spreads from one station to another, each worked out once.
struct Known {
    off: Pairs,
    load: Pairs,
    /// The places where one was pressed too far and stretched too far last.
    beyond: [usize; 2],
}

impl Known {
    fn new(stations: usize) -> Self {
        Self { off: Pairs::new(stations), load: Pairs::new(stations), beyond: [0; 2] }
    }
}

/// A figure for each two stations; not a number where it is not known yet.
struct Pairs {
    stations: usize,
    figures: Vec<f64>,
}

impl Pairs {
    fn new(stations: usize) -> Self {
        Self { stations, figures: vec![f64::NAN; stations * stations] }
    }

    fn of(&mut self, from: usize, to: usize, figure: impl FnOnce() -> Option<f64>) -> Option<f64> {
        let known = self.figures.get_mut(from * self.stations + to)?;
        if known.is_nan() {
            *known = figure()?;
        }
        Some(*known)
    }
}

/// The fewest places between 0 and `end`, the two apart, that keep each span within its tolerance: `off` tells how far the span from
/// one place to another is off, none where that is too far or more than it is told as a third. Of equally few, those
/// whose worst span is off least. Exact: first by how few spans places are reached, until the end is, then the best way there.
fn fewest(end: usize, off: impl FnMut(usize, usize, f64) -> Option<f64>) -> Vec<usize> {
    let mut ways = Ways { off, spans: vec![usize::MAX; end + 1], best: vec![None; end + 1] };
    ways.spans.iter_mut().take(1).for_each(|spans| *spans = 0);
    let mut spans = 0;
    // The end before all others: once it is reached, no place matters that is not yet.
    while spans < end && !ways.reach(end, spans) {
        for to in 1..end {
            ways.reach(to, spans);
        }
        spans += 1;
    }
    let mut places = Vec::new();
    let mut at = ways.best(end).1;
    while at > 0 {
        places.push(at);
        at = ways.best(at).1;
    }
    places.reverse();
    places
}

/// Ways from the first place to others.
struct Ways<F> {
    off: F,
    /// By how few spans each place is reached; the most there is where it is not yet.
    spans: Vec<usize>,
    /// The worst error on the best way to each place and the place before, once somebody has asked.
    best: Vec<Option<(f64, usize)>>,
}

impl<F: FnMut(usize, usize, f64) -> Option<f64>> Ways<F> {
    /// How far a span is off: one of a step is taken as it is, since no mark could be set in it.
    fn off(&mut self, from: usize, to: usize, most: f64) -> Option<f64> {
        if from + 1 == to { Some(0.0) } else { (self.off)(from, to, most) }
    }

    fn is_at(&self, place: usize, spans: usize) -> bool {
        self.spans.get(place) == Some(&spans)
    }

    /// Goes on to a place that is not reached yet, from any reached by so many spans; whether it is there then.
    fn reach(&mut self, to: usize, spans: usize) -> bool {
        // The shortest span is the likeliest to serve.
        let reached = self.is_at(to, usize::MAX)
            && (0..to).rev().any(|from| self.is_at(from, spans) && self.off(from, to, f64::INFINITY).is_some());
        if let Some(of) = self.spans.get_mut(to).filter(|_| reached) {
            *of = spans + 1;
        }
        reached
    }

    /// The worst error on the best way to a place, and the place before; of equally good ones the step's, then the first.
    fn best(&mut self, to: usize) -> (f64, usize) {
        let Some(spans) = self.spans.get(to).and_then(|spans| spans.checked_sub(1)) else { return (0.0, 0) };
        if let Some(known) = self.best.get(to).copied().flatten() {
            return known;
        }
        let mut least = (f64::INFINITY, 0);
        for from in core::iter::once(to - 1).chain(0..to - 1) {
            if self.is_at(from, spans)
                && let Some(off) = self.off(from, to, least.0)
            {
                let worst = self.best(from).0.max(off);
                least = if worst < least.0 { (worst, from) } else { least };
            }
        }
        if let Some(of) = self.best.get_mut(to) {
            *of = Some(least);
        }
        least
    }
}

#[cfg(test)]
mod tests {
    use kurbo::{CubicBez, Point};

    use super::{Marked, fewest};
    use crate::curve::Arc;
    use crate::ring::Ring;
    use crate::seam_line::Line;
    use crate::strip::along::Strip;
    use crate::strip::rule::StripGiven;
    use crate::strip::spread::{Places, Sharing, Spread};

    /// A place where a mark may stand: along the seam line and along the relaxed strip, mm from centre back.
    #[derive(Debug, Clone, Copy, PartialEq)]
    struct Station {
        on_line: f64,
        on_strip: f64,
    }

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

    /// The fewest marks, by the worst even span between any two places.
    fn chosen(stations: &[Station], tolerance: f64) -> Vec<usize> {
        let off = |i: usize, j: usize, most: f64| {
            let off = worst(&stations[i..=j], 0);
            (off <= tolerance.min(most)).then_some(off)
        };
        fewest(stations.len() - 1, off)
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

            let chosen = chosen(&stations, TOLERANCE);
            let bits = chosen.iter().fold(0, |bits, i| bits | 1 << (i - 1));
            assert_eq!(chosen.len(), least as usize, "as few as any choice of {inner} places");
            assert!((worst(&stations, bits) - best).abs() < 1e-9, "and of equally few the least off");
            counts[chosen.len()] += 1;
        }
        assert!(counts[0] > 20 && counts[1] > 20 && counts[2] > 20, "strips of many kinds: {counts:?}");
    }

    #[test]
    fn an_even_strip_needs_no_marks() {
        let stations: Vec<Station> =
            [0.0, 4.0, 8.0, 9.3].into_iter().map(|s| Station { on_line: s, on_strip: 0.8 * s }).collect();
        assert!(chosen(&stations, 0.5).is_empty(), "an even spread is the strip itself");
    }

    #[test]
    fn a_strip_without_curvature_has_even_marks() {
        // Straight down to the neck point, where front and back run on in one line.
        let (centre, neck) = (Point::new(100.0, 120.0), Point::new(100.0, 0.0));
        let arc = Arc::new(CubicBez::new(centre, centre.lerp(neck, 1.0 / 3.0), centre.lerp(neck, 2.0 / 3.0), neck));
        let line = Line::as_known(&[arc], 0.0);
        let ring = Ring::new(&line, &line);
        let given = StripGiven::band(15.0, 0.5, None);
        let (strip, places) = (Strip::new(&ring, given), Places::new(&ring));
        let sharing = Sharing::new(&ring, &given, &places);
        let spread = Spread::new(&ring, &strip, &sharing);
        let sewn = Marked::new(&ring, &strip, &spread).fewest(TOLERANCE);
        assert_eq!(sewn.at, [0, places.neck_point, places.stations.len() - 1], "no mark but where it has a name");
        for stretched in sewn.stretched {
            assert!((stretched - 1.02).abs() < 1e-9, "by the hold on a straight run: {stretched}");
        }
        for strain in sewn.strain {
            assert!((strain - 0.02).abs() < 1e-9, "and so is its free edge: {strain}");
        }
    }
}
