//! Where a strip is marked: as few marks as keep an even spread between them close to what the line asks.

use super::along::Strip;
use super::marks::{Mark, MarkPlace};
use crate::ring::{Ring, STEPS};

impl Strip {
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

#[cfg(test)]
mod tests {
    use super::{Station, Strip, fewest_stations};
    use crate::curve::Arc;
    use crate::finish::form::Side;
    use crate::ring::{Ring, STEPS};
    use crate::seam_line::Line;
    use crate::strip::rule::StripGiven;

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
    fn stations_are_both_ends_and_each_place_of_the_grid_between() {
        // A round hole: its neck point stands on the grid's middle place, to within rounding.
        let k = 0.552_284_749_830_793_5 * 100.0;
        let quarter = Arc::new(kurbo::CubicBez::new((0.0, 100.0), (k, 100.0), (100.0, k), (100.0, 0.0)));
        let line = Line::as_known(&[quarter], 0.0);
        let ring = Ring::new(&line, &line);
        let given = StripGiven {
            side: Side::TowardNeck,
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
