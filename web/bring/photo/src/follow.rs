//! From the rough way over cells to places of the edge itself, each to a fraction of a pixel.

use kurbo::{Point, Vec2};

use crate::grey::{Grey, Profile, Shape, at_share, summit};
use crate::messages::Line;

/// Places along the way are this far apart, px.
pub(crate) const STATION_PX: f64 = 2.0;
/// What a sideways step of one place from station to station costs, of a middling strength.
const SIDEWAYS: f64 = 0.02;
/// The most places that a line moves sideways from station to station: steeper than any line that the way has followed.
const MOST_SIDEWAYS: usize = 4;
/// Under this much of a middling strength, and under so many levels, a place is not seen.
const LEAST_SHARE: f64 = 0.3;
const LEAST_LEVELS: f64 = 8.0;

/// The line at one station of the way.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Station {
    /// Where the line is, or would be, px.
    pub(crate) at: Point,
    /// Whether it was seen there.
    pub(crate) seen: bool,
    /// How far its two sides are apart, or it and its sides, grey levels.
    pub(crate) contrast: f64,
}

/// Follows a rough way, twice: first from further beside it, then nearer and squarely across. `rough_px` is how far the line may
/// be beside the way; `line_px` the standard deviation of a printed line's width.
pub(crate) fn follow(grey: &Grey, way: &[Point], line: Line, rough_px: f64, line_px: f64) -> Vec<Station> {
    let first = pass(grey, &smoothed(&spaced(way), 6), line, rough_px, line_px);
    let nearer: Vec<Point> = first.iter().map(|station| station.at).collect();
    pass(grey, &smoothed(&spaced(&nearer), 3), line, 6.0, line_px)
}

/// Points `STATION_PX` apart along a chain of points, first and last kept.
fn spaced(chain: &[Point]) -> Vec<Point> {
    let Some((first, last)) = chain.first().zip(chain.last()) else { return Vec::new() };
    let mut out = vec![*first];
    let mut left = STATION_PX;
    for pair in chain.windows(2) {
        let length = pair[0].distance(pair[1]);
        let mut at = left;
        while at < length {
            out.push(pair[0].lerp(pair[1], at / length));
            at += STATION_PX;
        }
        left = at - length;
    }
    if out.last().is_some_and(|end| end.distance(*last) < STATION_PX / 2.0) && out.len() > 1 {
        out.pop();
    }
    out.push(*last);
    out
}

/// Each point the mean of its neighbours, as many on one side as on the other, twice over; ends stay.
fn smoothed(points: &[Point], reach: usize) -> Vec<Point> {
    let once = |points: &[Point]| -> Vec<Point> {
        let last = points.len().saturating_sub(1);
        let mean = |index: usize| {
            let near = reach.min(index).min(last - index);
            let part = &points[index - near..=index + near];
            (part.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2()) / part.len() as f64).to_point()
        };
        (0..points.len()).map(mean).collect()
    };
    once(&once(points))
}

/// The line squarely across each station.
fn pass(grey: &Grey, stations: &[Point], line: Line, reach_px: f64, line_px: f64) -> Vec<Station> {
    if stations.len() < 4 {
        return Vec::new();
    }
    let normals: Vec<Vec2> = (0..stations.len())
        .map(|index| {
            let (from, to) = (index.saturating_sub(3), (index + 3).min(stations.len() - 1));
            let d = stations[to] - stations[from];
            Vec2::new(-d.y, d.x) / d.hypot().max(1e-9)
        })
        .collect();
    let profiles: Vec<Profile> =
        stations.iter().zip(&normals).map(|(p, n)| Profile::across(grey, *p, *n, reach_px, 1.0)).collect();
    let shapes: &[Shape] = match line {
        Line::Cut => &[Shape::Step(1.0), Shape::Step(-1.0)],
        Line::Line => &[Shape::Ridge(1.0, line_px)],
    };
    let ways = shapes.iter().map(|shape| {
        let responses: Vec<Vec<f64>> = profiles.iter().map(|profile| profile.responses(*shape)).collect();
        let middling = middling(&responses);
        let (places, worth) = best_places(&responses, middling);
        (worth * middling, responses, middling, places)
    });
    let Some((_, responses, middling, places)) = ways.max_by(|a, b| a.0.total_cmp(&b.0)) else { return Vec::new() };
    let station = |index: usize| {
        let (response, place, profile) = (&responses[index], places[index], &profiles[index]);
        let offset = profile.offset(summit(response, place));
        Station {
            at: stations[index] + normals[index] * offset,
            seen: response[place] >= (LEAST_SHARE * middling).max(LEAST_LEVELS),
            contrast: match line {
                Line::Cut => profile.beyond(place).abs(),
                Line::Line => profile.depth(place),
            },
        }
    };
    (0..stations.len()).map(station).collect()
}

/// The strength that a quarter of the stations are above, each at its strongest.
fn middling(responses: &[Vec<f64>]) -> f64 {
    let tops: Vec<f64> = responses.iter().map(|one| one.iter().copied().fold(0.0, f64::max)).collect();
    at_share(tops, 0.75).max(1.0)
}

/// The place of each station on the strongest line that moves little sideways, by Viterbi's way, and what it is worth.
fn best_places(responses: &[Vec<f64>], middling: f64) -> (Vec<usize>, f64) {
    let places = responses[0].len();
    let worth = |index: usize, place: usize| (responses[index][place] / middling).clamp(-0.2, 1.2);
    let mut sums: Vec<f64> = (0..places).map(|place| worth(0, place)).collect();
    let mut from: Vec<Vec<u16>> = Vec::with_capacity(responses.len());
    for index in 1..responses.len() {
        let mut next = Vec::with_capacity(places);
        let mut came = Vec::with_capacity(places);
        for place in 0..places {
            let range = place.saturating_sub(MOST_SIDEWAYS)..(place + MOST_SIDEWAYS + 1).min(places);
            let sideways = |other: usize| sums[other] - SIDEWAYS * (other.abs_diff(place).pow(2)) as f64;
            let best = range.max_by(|a, b| sideways(*a).total_cmp(&sideways(*b))).unwrap_or(place);
            next.push(sideways(best) + worth(index, place));
            came.push(u16::try_from(best).unwrap_or(u16::MAX));
        }
        sums = next;
        from.push(came);
    }
    let mut at = (0..places).max_by(|a, b| sums[*a].total_cmp(&sums[*b])).unwrap_or(0);
    let worth = sums[at] / responses.len() as f64;
    let mut out = vec![at];
    for came in from.iter().rev() {
        at = usize::from(came[at]);
        out.push(at);
    }
    out.reverse();
    (out, worth)
}
