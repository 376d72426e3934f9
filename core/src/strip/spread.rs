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
        if off.abs() > self.reach { 0.0 } else { self.rate / (PI * (self.rate * off).cosh()) }
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

/// What each place of the free edge takes of the line, from centre back up to each place where a mark may stand.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Sharing {
    /// Where the free edge is looked at: the grid's places, the neck point and sharp corners; in order, mm from centre back.
    pub places: Vec<f64>,
    /// Where a mark may stand: the grid's places and the neck point; in order, mm from centre back.
    pub stations: Vec<f64>,
    /// Which of them is the neck point.
    pub neck_point: usize,
    /// What each place takes of f up to each station, a row of all places for each station.
    rows: Vec<f64>,
}

impl Sharing {
    pub(crate) fn new(ring: &Ring, given: &StripGiven) -> Self {
        let step = ring.step();
        let mut stations: Vec<f64> = (0..=STEPS).map(|i| i as f64 * step).collect();
        let neck_point = station_at(&mut stations, ring.back_length, SAME * step);
        let mut places = stations.clone();
        for (at, _) in ring.corners().filter(|(_, turn)| turn.abs() > LOOKED_AT) {
            station_at(&mut places, at, SAME * step);
        }
        let rows = rows(ring, given, &places, &stations);
        Self { places, stations, neck_point, rows }
    }

    /// What all places take of f up to a station.
    fn up_to(&self, station: usize) -> &[f64] {
        row(&self.rows, self.places.len(), station)
    }

    /// What a place takes of f between two stations.
    pub(crate) fn share(&self, place: usize, from: usize, to: usize) -> f64 {
        let at = |station: usize| self.up_to(station).get(place).copied().unwrap_or(0.0);
        at(to) - at(from)
    }

    /// The places from one station to another, both ends with them.
    pub(crate) fn places_between(&self, from: usize, to: usize) -> core::ops::Range<usize> {
        let at = |station: usize| self.stations.get(station).copied().unwrap_or(f64::INFINITY);
        let (from, to) = (at(from), at(to));
        self.places.partition_point(|s| *s < from)..self.places.partition_point(|s| *s <= to)
    }
}

/// A strip's share of a line, and what its free edge does where it is eased as its rule asks.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Spread<'a> {
    pub sharing: &'a Sharing,
    /// What each place takes of f/r up to each station.
    rows: Vec<f64>,
    /// The free edge's strain at each place. Fraction.
    pub eased: Vec<f64>,
}

impl<'a> Spread<'a> {
    pub(crate) fn new(ring: &Ring, strip: &Strip, sharing: &'a Sharing) -> Self {
        let count = sharing.places.len();
        let mut rows = Vec::with_capacity(sharing.rows.len());
        let mut sum = vec![0.0; count];
        rows.extend_from_slice(&sum);
        for (i, (from, to)) in sharing.stations.iter().zip(sharing.stations.iter().skip(1)).enumerate() {
            let stretched = (to - from) / (strip.relaxed_at(ring, *to) - strip.relaxed_at(ring, *from));
            let taken = sharing.up_to(i + 1).iter().zip(sharing.up_to(i));
            for (sum, (to, from)) in sum.iter_mut().zip(taken) {
                *sum += stretched * (to - from);
            }
            rows.extend_from_slice(&sum);
        }
        Self { sharing, rows, eased: sum.iter().map(|sum| sum - 1.0).collect() }
    }

    /// The free edge's strains at the places between two stations, with the strip eased as its rule asks but spread evenly between
    /// the two, where the line is `stretched` times as long as the strip; and eased all along. Fractions.
    pub(crate) fn strains_with_even(&self, from: usize, to: usize, stretched: f64) -> impl Iterator<Item = (f64, f64)> {
        let (sharing, count) = (self.sharing, self.sharing.places.len());
        let places = sharing.places_between(from, to);
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
fn rows(ring: &Ring, given: &StripGiven, places: &[f64], stations: &[f64]) -> Vec<f64> {
    let (step, count) = (ring.step(), places.len());
    let bell = Bell::new(given.width);
    let on_grid = OnGrid::new(&bell, step);
    let free: Vec<f64> = (0..STEPS).map(|m| given.free(ring.turned_in_step(m) / step)).collect();
    let corners: Vec<(f64, f64)> = ring.corners().map(|(at, turn)| (at, 1.0 - given.free(turn))).collect();
    let parts = parts(ring, stations, &corners);
    let mut rows = vec![0.0; count * stations.len()];
    for (p, s) in places.iter().enumerate() {
        let mut column = [0.0; STEPS];
        let place = s / step;
        if (place - place.round()).abs() < SAME {
            // `as` saturates, and places lie on the grid.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            on_grid.weights(place.round() as usize, &mut column);
        } else {
            between(&bell, ring, *s, &mut column);
        }
        // All of the bell together is 1.
        let whole = column.iter().sum::<f64>().recip();
        let mut sum = 0.0;
        for (row, part) in rows.chunks_exact_mut(count).skip(1).zip(&parts) {
            let (weight, free) = (column.get(part.step), free.get(part.step));
            sum += weight.zip(free).map_or(0.0, |(weight, free)| part.share * weight * whole * free);
            for (corner, share) in &part.corners {
                let Some((at, shorter)) = corners.get(*corner) else { continue };
                let images = [at - s, at + s, 2.0 * ring.length - at - s];
                sum -= share * shorter * images.into_iter().map(|off| bell.at(off)).sum::<f64>();
            }
            if let Some(at) = row.get_mut(p) {
                *at = sum;
            }
        }
    }
    rows
}

/// The line between two neighbouring stations: which step of the grid, how much of it, and which corners count to it by how much.
struct Part {
    step: usize,
    share: f64,
    corners: Vec<(usize, f64)>,
}

fn parts(ring: &Ring, stations: &[f64], corners: &[(f64, f64)]) -> Vec<Part> {
    let step = ring.step();
    let part = |(from, to): (&f64, &f64)| {
        // Stations are the grid's places and one more: between two of them lies one step or a part of it.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let m = ((0.5 * (from + to) / step) as usize).min(STEPS - 1);
        let shares = corners.iter().enumerate().map(|(i, (at, _))| (i, corner_share(ring, *at, *from, *to)));
        Part { step: m, share: (to - from) / step, corners: shares.filter(|(_, share)| *share > 0.0).collect() }
    };
    stations.iter().zip(stations.iter().skip(1)).map(part).collect()
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

/// The bell over each step of the grid and its mirror images, as a place between the grid's takes it.
fn between(bell: &Bell, ring: &Ring, s: f64, column: &mut [f64; STEPS]) {
    let (step, length) = (ring.step(), ring.length);
    for (m, weight) in column.iter_mut().enumerate() {
        let (from, to) = (m as f64 * step, (m + 1) as f64 * step);
        let images = [(from, to), (-to, -from), (2.0 * length - to, 2.0 * length - from)];
        *weight = images.into_iter().map(|(from, to)| bell.up_to(to - s) - bell.up_to(from - s)).sum();
    }
}

/// The bell between neighbouring places of the grid, by how many steps off.
struct OnGrid(Vec<f64>);

impl OnGrid {
    fn new(bell: &Bell, step: f64) -> Self {
        let mut before = 0.5;
        let off = |n: usize| {
            let up_to = bell.up_to((n + 1) as f64 * step);
            let weight = up_to - before;
            before = up_to;
            weight
        };
        Self((0..2 * STEPS).map(off).take_while(|weight| *weight > 0.0).collect())
    }

    /// What the place `i` of the grid takes of each step, with both mirror images.
    fn weights(&self, i: usize, column: &mut [f64; STEPS]) {
        let (before, after) = column.split_at_mut(i);
        after.iter_mut().zip(&self.0).for_each(|(at, weight)| *at += weight);
        before.iter_mut().rev().zip(&self.0).for_each(|(at, weight)| *at += weight);
        let mirrored = |steps: usize| self.0.get(steps..).unwrap_or_default();
        column.iter_mut().zip(mirrored(i)).for_each(|(at, weight)| *at += weight);
        column.iter_mut().rev().zip(mirrored(STEPS - i)).for_each(|(at, weight)| *at += weight);
    }
}

#[cfg(test)]
mod tests {
    use core::f64::consts::FRAC_PI_2;

    use super::Sharing;
    use crate::curve::Arc;
    use crate::finish::form::Side;
    use crate::ring::{Ring, STEPS};
    use crate::seam_line::Line;
    use crate::strip::lie::Passing;
    use crate::strip::rule::StripGiven;

    fn given(width: f64) -> StripGiven {
        StripGiven {
            side: Side::TowardNeck,
            width,
            hold: 0.1,
            comfort: 0.5,
            turn: 0.0,
            thickness: 0.8,
            passing: Passing { rise: 2.0, lean: 1.0 },
            own_ratio: None,
            learned: None,
        }
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
        let sharing = Sharing::new(&round, &given(10.0));
        assert_eq!((sharing.stations.len(), sharing.neck_point), (STEPS + 1, STEPS / 2));
        assert!(sharing.stations.is_sorted_by(|a, b| a < b), "one after the other");
        // On a circle each place takes 1 - k w of every line: all along and from the one to the other end.
        for place in 0..sharing.places.len() {
            let whole = sharing.share(place, 0, sharing.stations.len() - 1);
            assert!((whole - 0.9).abs() < 1e-3, "place {place} takes {whole}");
        }
    }

    #[test]
    fn a_corner_is_shared_by_the_bell() {
        // A square of 100 each way: its corner turns a quarter, 1/(2.4 w) of it where it is and 1/(2.4 w cosh(pi s/(2.4 w))) at s.
        let square = ring(&[straight((0.0, 100.0), (100.0, 100.0)), straight((100.0, 100.0), (100.0, 0.0))]);
        let sharing = Sharing::new(&square, &given(12.0));
        let end = sharing.stations.len() - 1;
        for off in [0.0, 6.25, -6.25, 12.5, 25.0] {
            let at = sharing.places.iter().position(|s| (s - 100.0 - off).abs() < 1e-6).expect("a place of the grid");
            let bell = 1.0 / (2.4 * 12.0 * (core::f64::consts::PI * off / (2.4 * 12.0)).cosh());
            let expected = 1.0 - 12.0 * FRAC_PI_2 * bell;
            let got = sharing.share(at, 0, end);
            assert!((got - expected).abs() < 2e-3, "{off} mm off: {got} and not {expected}");
        }
    }
}
