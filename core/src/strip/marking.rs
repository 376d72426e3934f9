//! Where a strip is marked: as few marks as keep each span, spread evenly, as flat as the strip eased to the curve.

use super::along::Strip;
use super::lie::ripples_from;
use super::marks::{Mark, MarkPlace};
use super::spread::{Spread, part};
use crate::ring::Ring;

/// Strain by which a span spread evenly may be off its limits more than the strip eased to the curve is: our judgement, a
/// fifth of what the reckoning itself is sure to. Fraction.
const SLIGHT: f64 = 0.005;

/// How much of the strain at which a strip ripples is kept in hand where spans are judged one by one: neighbours, spread evenly
/// too, add a little to each other. The first that serves is taken.
const IN_HAND: [f64; 4] = [0.0, 0.35, 0.7, 1.0];

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
    /// Where each station lies along the relaxed strip, mm.
    pub on_strip: Vec<f64>,
}

impl<'a> Marked<'a> {
    pub(crate) fn new(ring: &Ring, strip: &'a Strip, spread: &'a Spread<'a>) -> Self {
        let on_strip = spread.sharing.stations.iter().map(|s| strip.relaxed_at(ring, *s)).collect();
        Self { strip, spread, on_strip }
    }

    /// Marks at the centres and the neck point, and between them the fewest more with which every span, spread evenly, stays
    /// within `tolerance` mm of the strip eased to the curve and keeps its free edge inside its limits: not pressed together
    /// past the strain from which it ripples, not stretched past its comfort. Where the strip eased to the curve does not keep
    /// them, no marks serve, and it is no worse than that.
    pub(crate) fn fewest(&self, tolerance: f64) -> Sewn {
        let mut sewn = self.marked(tolerance, 0.0);
        for in_hand in IN_HAND.into_iter().skip(1) {
            if self.holds(&sewn) {
                break;
            }
            sewn = self.marked(tolerance, in_hand);
        }
        sewn
    }

    /// The marks there, on strip and line.
    pub(crate) fn marks(&self, sewn: &Sewn) -> Vec<Mark> {
        let end = self.spread.sharing.stations.len() - 1;
        let mut between = 1..;
        let mark = |&at: &usize| {
            let place = match at {
                0 => MarkPlace::CentreBack,
                at if at == end => MarkPlace::CentreFront,
                at if at == self.spread.sharing.neck_point => MarkPlace::NeckPoint,
                _ => MarkPlace::Between,
            };
            let number = if place == MarkPlace::Between { between.next() } else { None };
            let at = |of: &[f64]| of.get(at).copied().unwrap_or(0.0);
            Mark { place, number, on_strip_mm: at(&self.on_strip), on_seam_line_mm: at(&self.spread.sharing.stations) }
        };
        sewn.at.iter().map(mark).collect()
    }

    /// With the centres alone marked, as by dividing strip and line into even parts.
    pub(crate) fn evenly(&self) -> Sewn {
        Sewn::at(self, vec![0, self.spread.sharing.stations.len() - 1])
    }

    fn marked(&self, tolerance: f64, in_hand: f64) -> Sewn {
        let (end, neck_point) = (self.spread.sharing.stations.len() - 1, self.spread.sharing.neck_point);
        let mut at = vec![0];
        for (from, to) in [(0, neck_point), (neck_point, end)] {
            let off = |i: usize, j: usize| self.off_within(from + i, from + j, tolerance, in_hand);
            at.extend(fewest(to - from, off).into_iter().map(|i| from + i));
            at.push(to);
        }
        Sewn::at(self, at)
    }

    /// Line over relaxed strip between two stations.
    fn stretched(&self, from: usize, to: usize) -> f64 {
        let between = |of: &[f64]| of.get(to).zip(of.get(from)).map_or(0.0, |(to, from)| to - from);
        between(&self.spread.sharing.stations) / between(&self.on_strip).max(f64::MIN_POSITIVE)
    }

    /// How far an even spread from one station to another is off at its worst, mm; none where that is more than the tolerance
    /// or where it takes the free edge past its limits, the strip being eased to the curve outside of it.
    fn off_within(&self, from: usize, to: usize, tolerance: f64, in_hand: f64) -> Option<f64> {
        let worst = self.off(from, to, tolerance)?;
        let stretched = self.stretched(from, to);
        let given = &self.strip.given;
        // What is not pressed at all needs no limit worked out.
        let mut pressed = None;
        let mut limit =
            || *pressed.get_or_insert_with(|| -(1.0 - in_hand) * ripples_from(stretched - 1.0, given.thin()));
        let inside = self.spread.strains_with_even(from, to, stretched).all(|(strain, eased)| {
            (strain >= 0.0 || strain >= eased - SLIGHT || strain >= limit())
                && strain <= given.comfort.max(eased) + SLIGHT
        });
        inside.then_some(worst)
    }

    /// The same by length alone. The middle is looked at first: an even spread is off most about there.
    fn off(&self, from: usize, to: usize, tolerance: f64) -> Option<f64> {
        let (on_line, on_strip) = (self.spread.sharing.stations.get(from..=to)?, self.on_strip.get(from..=to)?);
        let (line, strip) = (*on_line.first()?, *on_strip.first()?);
        let slope = (on_strip.last()? - strip) / (on_line.last()? - line).max(f64::MIN_POSITIVE);
        let off = |i: usize| {
            let at = on_line.get(i).zip(on_strip.get(i));
            at.map_or(0.0, |(s, at)| (strip + slope * (s - line) - at).abs())
        };
        if off(on_line.len() / 2) > tolerance {
            return None;
        }
        let mut worst = 0.0;
        for here in (0..on_line.len()).map(off) {
            if here > tolerance {
                return None;
            }
            worst = here.max(worst);
        }
        Some(worst)
    }

    /// Whether no place is pressed together past its limit that marks could keep from it.
    fn holds(&self, sewn: &Sewn) -> bool {
        let spans = sewn.at.iter().zip(sewn.at.iter().skip(1)).zip(&sewn.stretched);
        spans.into_iter().all(|((from, to), stretched)| {
            let pressed = -ripples_from(stretched - 1.0, self.strip.given.thin());
            let places = self.spread.sharing.places_between(*from, *to);
            let mut strains = part(&sewn.strain, &places).zip(part(&self.spread.eased, &places));
            strains.all(|(strain, eased)| *strain >= pressed.min(eased - 2.0 * SLIGHT))
        })
    }
}

/// The fewest places between 0 and `end`, the two apart, that keep each span within its tolerance: `off` tells how far the span from
/// one place to another is off, none where that is too far. Of equally few, those whose worst span is off least. Exact, by
/// dynamic programming over the places.
fn fewest(end: usize, off: impl Fn(usize, usize) -> Option<f64>) -> Vec<usize> {
    if off(0, end).is_some() {
        return Vec::new();
    }
    /// The best way to reach a place: spans so far, their worst error, the place before.
    #[derive(Clone, Copy)]
    struct Way(usize, f64, usize);
    let mut best: Vec<Way> = vec![Way(0, 0.0, 0)];
    for j in 1..=end {
        // A span of one step is taken as it is: no mark could be set in it.
        let Some(last) = best.last() else { break };
        let mut least = Way(last.0 + 1, last.1, j - 1);
        for (i, way) in best.iter().enumerate() {
            if way.0 + 1 > least.0 {
                continue;
            }
            let Some(off) = off(i, j) else { continue };
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
        places.push(at);
    }
    places.reverse();
    places
}

#[cfg(test)]
mod tests {
    use super::fewest;

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
        let off = |i: usize, j: usize| {
            let off = worst(&stations[i..=j], 0);
            (off <= tolerance).then_some(off)
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
}
