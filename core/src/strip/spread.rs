//! How a strip shares along itself what it meets, once it is sewn: its free edge's strain, for any spread between marks.
//!
//! A place's free edge takes f/r of the line about it, shared by a bell: K(s) = 1/(2 a cosh(pi s/(2 a))) with a = 1.2 w. That is how
//! an elastic strip, hardly stretched, passes on the turning of a corner; fitted to an independent plane model
//! (`tests/reference/sewn.sh`), with which it agrees within 1 or 2 points of strain. The line goes on mirrored beyond both centres.

use core::f64::consts::PI;

use super::along::Strip;
use super::rule::StripGiven;
use crate::ring::{Ring, STEPS};

/// a over the strip's width. Fitted to the plane model.
const BELL_WIDTHS: f64 = 1.2;

/// How far the bell is followed, in a: what lies further adds less than 0.05 percent.
const FOLLOWED: f64 = 5.0;

/// A corner that turns by so much is looked at itself, and not only at the grid's places beside it. Radians.
const LOOKED_AT: f64 = 0.2;

/// Places that are the same, in steps of the grid.
const SAME: f64 = 1e-6;

/// The bell, and its integral from far off.
struct Bell {
    /// pi / (2 a), 1/mm.
    rate: f64,
    /// How far it is followed, mm.
    reach: f64,
}

impl Bell {
    fn new(width: f64) -> Self {
        let spread = BELL_WIDTHS * width;
        Self { rate: 0.5 * PI / spread, reach: FOLLOWED * spread }
    }

    fn at(&self, off: f64) -> f64 {
        if off.abs() > self.reach {
            return 0.0;
        }
        let grown = (self.rate * off).exp();
        2.0 * self.rate / (PI * (grown + grown.recip()))
    }

    fn up_to(&self, off: f64) -> f64 {
        if off >= self.reach {
            1.0
        } else if off <= -self.reach {
            0.0
        } else {
            2.0 / PI * (self.rate * off).exp().atan()
        }
    }
}

/// The places of a half round that are looked at; mm from centre back, in order.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Places {
    /// Where the free edge is looked at: the grid's places, the neck point and sharp corners.
    pub all: Vec<f64>,
    /// Those of them that the grid has not: which, and where.
    off_grid: Vec<(usize, f64)>,
    /// Where a mark may stand: the grid's places and the neck point.
    pub stations: Vec<f64>,
    /// Which of all places each of them is.
    station_places: Vec<usize>,
    /// Which of them is the neck point.
    pub neck_point: usize,
}

impl Places {
    pub(crate) fn new(ring: &Ring) -> Self {
        let step = ring.step();
        let mut stations: Vec<f64> = (0..=STEPS).map(|i| i as f64 * step).collect();
        let mut all = stations.clone();
        let neck_point = station_at(&mut stations, ring.back_length, SAME * step);
        station_at(&mut all, ring.back_length, SAME * step);
        for (at, _) in ring.corners().filter(|(_, turn)| turn.abs() > LOOKED_AT) {
            station_at(&mut all, at, SAME * step);
        }
        let on_grid = |s: f64| (s - (s / step).round() * step).abs() < SAME * step;
        let off_grid = all.iter().copied().enumerate().filter(|(_, s)| !on_grid(*s)).collect();
        let station_places = stations.iter().map(|at| all.partition_point(|s| s < at)).collect();
        Self { all, off_grid, stations, station_places, neck_point }
    }

    /// The places from one station to another, both ends with them.
    pub(crate) fn between(&self, from: usize, to: usize) -> core::ops::Range<usize> {
        let at = |station: usize| self.station_places.get(station).copied();
        at(from).unwrap_or(self.all.len())..at(to).map_or(0, |last| last + 1)
    }
}

/// What each place of the free edge takes of the line, from centre back up to each place where a mark may stand.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Sharing<'a> {
    pub places: &'a Places,
    /// What each place takes of f up to each station, a row of all places for each station.
    rows: Vec<f64>,
}

impl<'a> Sharing<'a> {
    pub(crate) fn new(ring: &Ring, given: &StripGiven, places: &'a Places) -> Self {
        Self { places, rows: rows(ring, given, places) }
    }

    /// What all places take of f up to a station.
    fn up_to(&self, station: usize) -> &[f64] {
        row(&self.rows, self.places.all.len(), station)
    }

    /// What a place takes of f between two stations.
    pub(crate) fn share(&self, place: usize, from: usize, to: usize) -> f64 {
        let at = |station: usize| self.up_to(station).get(place).copied().unwrap_or(0.0);
        at(to) - at(from)
    }
}

/// A strip's share of a line, and what its free edge does where it is eased as its rule asks.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Spread<'a> {
    pub sharing: &'a Sharing<'a>,
    /// What each place takes of f/r up to each station.
    rows: Vec<f64>,
    /// The free edge's strain at each place. Fraction.
    pub eased: Vec<f64>,
}

impl<'a> Spread<'a> {
    pub(crate) fn new(ring: &Ring, strip: &Strip, sharing: &'a Sharing<'a>) -> Self {
        let (count, stations) = (sharing.places.all.len(), &sharing.places.stations);
        let mut rows = Vec::with_capacity(sharing.rows.len());
        let mut sum = vec![0.0; count];
        rows.extend_from_slice(&sum);
        for (i, (from, to)) in stations.iter().zip(stations.iter().skip(1)).enumerate() {
            let stretched = (to - from) / (strip.relaxed_at(ring, *to) - strip.relaxed_at(ring, *from));
            let taken = sharing.up_to(i + 1).iter().zip(sharing.up_to(i));
            for (sum, (to, from)) in sum.iter_mut().zip(taken) {
                *sum += stretched * (to - from);
            }
            rows.extend_from_slice(&sum);
        }
        Self { sharing, rows, eased: sum.iter().map(|sum| sum - 1.0).collect() }
    }

    /// The free edge's strains at places, with the strip eased as its rule asks but spread evenly between two stations, where the line
    /// is `stretched` times as long as the strip; and eased all along. Fractions.
    pub(crate) fn strains_with_even(
        &self,
        (from, to): (usize, usize),
        places: core::ops::Range<usize>,
        stretched: f64,
    ) -> impl Iterator<Item = (f64, f64)> {
        let (sharing, count) = (self.sharing, self.sharing.places.all.len());
        let shares = part(sharing.up_to(to), &places).zip(part(sharing.up_to(from), &places));
        let eased = part(row(&self.rows, count, to), &places).zip(part(row(&self.rows, count, from), &places));
        let taken = shares.zip(eased);
        part(&self.eased, &places).zip(taken).map(move |(all, ((share, before), (eased, eased_before)))| {
            (all + stretched * (share - before) - (eased - eased_before), *all)
        })
    }
}

/// A part of what is told of all places.
pub(crate) fn part<'a>(of: &'a [f64], places: &core::ops::Range<usize>) -> core::slice::Iter<'a, f64> {
    of.get(places.clone()).unwrap_or_default().iter()
}

fn row(rows: &[f64], count: usize, station: usize) -> &[f64] {
    rows.get(station * count..(station + 1) * count).unwrap_or_default()
}

/// Where a place stands among others, which it joins where none is the same.
fn station_at(stations: &mut Vec<f64>, at: f64, same: f64) -> usize {
    let i = stations.partition_point(|s| *s < at - same);
    if stations.get(i).is_none_or(|s| *s > at + same) {
        stations.insert(i, at);
    }
    i
}

/// What each place takes of f up to each station: a row of all places for each station.
fn rows(ring: &Ring, given: &StripGiven, places: &Places) -> Vec<f64> {
    let (step, count) = (ring.step(), places.all.len());
    let bell = Bell::new(given.width);
    let on_grid = OnGrid::new(&bell, step);
    let off_grid: Vec<[f64; STEPS]> = places.off_grid.iter().map(|(_, s)| between(&bell, step, *s)).collect();
    let corners: Vec<(f64, Vec<f64>)> = ring
        .corners()
        .map(|(at, turn)| (at, at_corner(&bell, ring, at, 1.0 - given.free(turn), &places.all)))
        .collect();
    let turned = ring.turned_in_steps();
    let mut rows = Vec::with_capacity(count * places.stations.len());
    let (mut sum, mut weights) = (vec![0.0; count], Vec::with_capacity(count));
    rows.extend_from_slice(&sum);
    for (from, to) in places.stations.iter().zip(places.stations.iter().skip(1)) {
        // Stations are the grid's places and one more: between two of them lies one step or a part of it.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let m = ((0.5 * (from + to) / step) as usize).min(STEPS - 1);
        let at_step = |of: &[f64]| of.get(m).copied().unwrap_or(0.0);
        weights.clear();
        weights.extend(on_grid.weights(m));
        for ((place, _), column) in places.off_grid.iter().zip(&off_grid) {
            weights.insert((*place).min(weights.len()), at_step(column));
        }
        let by = (to - from) / step * given.free(at_step(&turned) / step);
        sum.iter_mut().zip(&weights).for_each(|(sum, weight)| *sum += by * weight);
        for (at, taken) in &corners {
            let share = corner_share(ring, *at, *from, *to);
            if share > 0.0 {
                sum.iter_mut().zip(taken).for_each(|(sum, taken)| *sum -= share * taken);
            }
        }
        rows.extend_from_slice(&sum);
    }
    rows
}

/// What each place takes of a corner by which the free edge's place is so much shorter, mm.
fn at_corner(bell: &Bell, ring: &Ring, at: f64, shorter: f64, places: &[f64]) -> Vec<f64> {
    let taken = |s: &f64| {
        let images = [at - s, at + s, 2.0 * ring.length - at - s];
        shorter * images.into_iter().map(|off| bell.at(off)).sum::<f64>()
    };
    places.iter().map(taken).collect()
}

/// How much of a corner counts to the line between two stations: half where it stands on one of them, but for the centres.
fn corner_share(ring: &Ring, at: f64, from: f64, to: f64) -> f64 {
    let same = SAME * ring.step();
    if at < from - same || at > to + same {
        return 0.0;
    }
    let on_end = (at - from).abs() <= same || (at - to).abs() <= same;
    let at_centre = at <= same || at >= ring.length - same;
    if on_end && !at_centre { 0.5 } else { 1.0 }
}

/// The grid's steps with their mirror images beyond both centres.
const IMAGES: usize = 3 * STEPS;

/// The bell over each step of the grid and its mirror images, as a place takes it that is not the grid's, mm from centre back.
fn between(bell: &Bell, step: f64, s: f64) -> [f64; STEPS] {
    let mut before = bell.up_to(-(STEPS as f64) * step - s);
    let (first, mut weights) = (before, [0.0; IMAGES]);
    for (i, weight) in weights.iter_mut().enumerate() {
        let up_to = bell.up_to((i as f64 + 1.0 - STEPS as f64) * step - s);
        *weight = up_to - before;
        before = up_to;
    }
    // All of the bell together is 1.
    let whole = (before - first).recip();
    let [mirrored, own, beyond] = [0, STEPS, 2 * STEPS].map(|from| weights.get(from..from + STEPS).unwrap_or_default());
    let mut all = [0.0; STEPS];
    let images = own.iter().zip(mirrored.iter().rev()).zip(beyond.iter().rev());
    all.iter_mut().zip(images).for_each(|(all, ((own, mirrored), beyond))| *all = whole * (own + mirrored + beyond));
    all
}

/// The bell over the grid's steps, as the grid's own places take it.
struct OnGrid {
    /// By how many steps a place lies past a step's end, from all of them before it on.
    own: [f64; 2 * STEPS],
    /// Of both mirror images, by the sum of place and step.
    images: [f64; 2 * STEPS],
    /// One over what each place takes in all.
    whole: [f64; STEPS + 1],
}

impl OnGrid {
    fn new(bell: &Bell, step: f64) -> Self {
        let mut up_to = [1.0; 2 * STEPS + 1];
        let near = up_to.iter_mut().enumerate().map(|(i, up_to)| (up_to, bell.up_to(i as f64 * step)));
        near.take_while(|(_, here)| *here < 1.0).for_each(|(up_to, here)| *up_to = here);
        let off = |n: usize| up_to.get(n + 1).zip(up_to.get(n)).map_or(0.0, |(to, from)| to - from);
        let own = core::array::from_fn(|i| off(if i < STEPS { STEPS - 1 - i } else { i - STEPS }));
        let images = core::array::from_fn(|i| off(i) + off(2 * STEPS - 1 - i));
        // From the one image's far end to the other's.
        let whole = core::array::from_fn(|i| {
            let ends = up_to.get(STEPS + i).zip(up_to.get(2 * STEPS - i));
            ends.map_or(1.0, |(before, after)| (before + after - 1.0).recip())
        });
        Self { own, images, whole }
    }

    /// What each of the grid's places takes of a step and both its mirror images.
    fn weights(&self, step: usize) -> impl Iterator<Item = f64> {
        let own = self.own.get(STEPS - 1 - step..).unwrap_or_default();
        let images = self.images.get(step..).unwrap_or_default();
        own.iter().zip(images).zip(&self.whole).map(|((own, images), whole)| (own + images) * whole)
    }
}

#[cfg(test)]
mod tests {
    use core::f64::consts::FRAC_PI_2;

    use super::{Places, Sharing};
    use crate::curve::Arc;
    use crate::ring::{Ring, STEPS};
    use crate::seam_line::Line;
    use crate::strip::rule::StripGiven;

    fn given(width: f64) -> StripGiven {
        StripGiven::band(width, 0.5, None)
    }

    fn ring(curves: &[kurbo::CubicBez]) -> Ring {
        let line = Line::as_known(&curves.iter().copied().map(Arc::new).collect::<Vec<_>>(), 0.0);
        Ring::new(&line, &line)
    }

    fn straight(from: (f64, f64), to: (f64, f64)) -> kurbo::CubicBez {
        let (from, to) = (kurbo::Point::from(from), kurbo::Point::from(to));
        kurbo::CubicBez::new(from, from.lerp(to, 1.0 / 3.0), from.lerp(to, 2.0 / 3.0), to)
    }

    #[test]
    fn marks_may_stand_at_each_place_of_the_grid_and_at_the_neck_point() {
        // A round hole: its neck point stands on the grid's middle place, to within rounding.
        let k = 0.552_284_749_830_793_5 * 100.0;
        let round = ring(&[kurbo::CubicBez::new((0.0, 100.0), (k, 100.0), (100.0, k), (100.0, 0.0))]);
        let places = Places::new(&round);
        let sharing = Sharing::new(&round, &given(10.0), &places);
        assert_eq!((places.stations.len(), places.neck_point), (STEPS + 1, STEPS / 2));
        assert!(places.stations.is_sorted_by(|a, b| a < b), "one after the other");
        // On a circle each place takes 1 - k w of every line: all along and from the one to the other end.
        for place in 0..places.all.len() {
            let whole = sharing.share(place, 0, places.stations.len() - 1);
            assert!((whole - 0.9).abs() < 1e-3, "place {place} takes {whole}");
        }
    }

    #[test]
    fn a_corner_is_shared_by_the_bell() {
        // A square of 100 each way: its corner turns a quarter, 1/(2.4 w) of it where it is and 1/(2.4 w cosh(pi s/(2.4 w))) at s.
        let square = ring(&[straight((0.0, 100.0), (100.0, 100.0)), straight((100.0, 100.0), (100.0, 0.0))]);
        let places = Places::new(&square);
        let sharing = Sharing::new(&square, &given(12.0), &places);
        let end = places.stations.len() - 1;
        for off in [0.0, 6.25, -6.25, 12.5, 25.0] {
            let at = places.all.iter().position(|s| (s - 100.0 - off).abs() < 1e-6).expect("a place of the grid");
            let bell = 1.0 / (2.4 * 12.0 * (core::f64::consts::PI * off / (2.4 * 12.0)).cosh());
            let expected = 1.0 - 12.0 * FRAC_PI_2 * bell;
            let got = sharing.share(at, 0, end);
            assert!((got - expected).abs() < 2e-3, "{off} mm off: {got} and not {expected}");
        }
    }
}
