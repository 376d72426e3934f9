//! What a strip does between two neighbouring marks, as it will be sewn: spread evenly between them.

use core::ops::Range;

use serde::Serialize;

use super::along::Strip;
use super::lie::{Here, Laid, Lie, Rippling, STANDING_WIDTHS, TRUSTED_BEND};
use super::marking::{Marked, Sewn};
use super::marks::{Mark, MarkPlace};
use super::rule::StripGiven;
use super::spread::{Places, Sharing};
use super::standing::lies;
use crate::ring::Ring;

/// What a strip does along a span.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// The free edge lies in the plane of the garment and nothing is over-stretched.
    LiesFlat,
    /// The free edge ripples, no higher than passes.
    Ripples,
    /// The strip stands up, no further than passes.
    Stands,
    /// It ripples or stands up further than passes.
    Gapes,
    /// An edge is stretched past its comfortable share.
    PullsIn,
}

/// The stretch of seam line between two neighbouring marks, with the strip spread evenly along it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Span {
    /// Its end nearer centre back.
    pub from: MarkPlace,
    /// Its end nearer centre front.
    pub to: MarkPlace,
    /// Length of seam line. mm.
    pub seam_line_mm: f64,
    /// Relaxed length of strip. mm.
    pub strip_mm: f64,
    /// Relaxed strip over seam line. Percent.
    pub ratio_percent: f64,
    /// Least strain of the free edge in the span, were it held in the plane. Percent; under 0 it is pressed together.
    pub free_edge_least_percent: f64,
    /// Greatest strain of the free edge in the span. Percent.
    pub free_edge_most_percent: f64,
    /// Strain of the seam edge. Percent.
    pub seam_edge_percent: f64,
    /// How far the free edge can be pressed together before it ripples or stands up. Percent.
    pub ripples_from_percent: f64,
    /// The line's sharpest bend over six widths, as width over radius; from 0.3 on the reckoning is not trusted.
    pub bend: f64,
    /// Whether the reckoning is trusted at such a bend.
    pub trusted: bool,
    /// Finished width as sewn. mm.
    pub width_mm: f64,
    /// What the strip does there.
    pub outcome: Outcome,
    /// How high the free edge stands off the flat at its worst place: the crest of its ripples, or its end where the strip
    /// stands up. mm.
    pub stands_off_mm: f64,
    /// Where the strip stands up: how far it leans off the flat at its worst place. Degrees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leans_deg: Option<f64>,
    /// Slack length in the free edge over the span. mm.
    pub slack_mm: f64,
}

/// What quartering comes to: strip and line each divided into even parts from centre back.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Quartered {
    /// How far it would be off at its worst place. mm.
    pub error_mm: f64,
    /// What the strip would do at its worst place.
    pub outcome: Outcome,
    /// How high the free edge would stand off the flat at its worst place. mm.
    pub stands_off_mm: f64,
    /// Where the strip would stand up: how far it would lean at its worst place. Degrees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leans_deg: Option<f64>,
    /// Least strain of the free edge, were it held in the plane. Percent; under 0 it is pressed together.
    pub free_edge_least_percent: f64,
}

/// Strain by which an edge may be over its comfort: what the reckoning of strains is sure to, in the plane. Fraction.
const PULLED: f64 = 0.02;

/// How much of the front half and of the back half, from the neck point, counts to the neck point: the neck rises there. Our
/// judgement.
const NECK_SHARE: f64 = 1.0 / 3.0;

/// A strip spread evenly between its marks: how each place lies.
pub(crate) struct AsSewn<'a> {
    pub(crate) strip: &'a Strip,
    sharing: &'a Sharing<'a>,
    sewn: &'a Sewn,
    rippling: Rippling,
    /// Where the neck points' part begins and the front, mm from centre back.
    pub(crate) neck_from: f64,
    pub(crate) front_from: f64,
    pub(crate) length: f64,
    pub(crate) places: Vec<Here>,
    pub lies: Vec<Lie>,
}

/// The line's curvature toward the free edge at each place, over six widths, 1/mm.
pub(crate) fn bends(ring: &Ring, given: &StripGiven, places: &Places) -> Vec<f64> {
    let mut mean = ring.mean_curvature(STANDING_WIDTHS * given.width);
    places.all.iter().map(|s| given.bend(mean(*s))).collect()
}

/// Whether a line bends nowhere so sharply for a strip's width, mm, that the reckoning is not trusted.
pub(crate) fn is_trusted(bends: &[f64], width: f64) -> bool {
    bends.iter().all(|bend| bend.abs() * width < TRUSTED_BEND)
}

/// What a span's figures were worked out from.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Edges {
    /// What the place of least strain takes of f in each span, and line over strip there.
    pub least: Vec<[f64; 2]>,
    /// The same of the place of greatest strain.
    pub most: Vec<[f64; 2]>,
    /// Length of line over which the free edge is pressed, mm; and how much in the mean there.
    pub pressed: Option<(f64, f64)>,
    /// The line's sharpest curvature over six widths, either way, 1/mm.
    pub sharpest: f64,
    /// Where it lies worst.
    pub worst: Option<Worst>,
}

/// The place among some that lies worst.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Worst {
    pub here: Here,
    pub lie: Lie,
    pub in_front: bool,
}

impl Worst {
    /// How far it leans there, degrees; none where it does not stand up.
    pub(crate) fn leans_deg(self) -> Option<f64> {
        match self.lie {
            Lie::Stands(lobe) => Some(lobe.lean.to_degrees()),
            _ => None,
        }
    }
}

impl<'a> AsSewn<'a> {
    /// With what the line bends at each place, as [`bends`] tells it.
    pub(crate) fn new(ring: &Ring, bends: &[f64], marked: &Marked<'a>, sewn: &'a Sewn) -> Self {
        let (strip, sharing) = (marked.strip, marked.spread.sharing);
        let given = &strip.given;
        let spans: Vec<_> = sewn
            .at
            .iter()
            .skip(1)
            .zip(&sewn.stretched)
            .map(|(to, stretched)| (*to, Laid::new(given.width, given.thickness, marked.rippling, 1.0 / stretched)))
            .collect();
        let mut span = 0;
        let ends_at = |span: usize| spans.get(span).and_then(|(to, _)| sharing.places.stations.get(*to)).copied();
        let here = |((s, strain), bend): ((&f64, &f64), &f64)| {
            while ends_at(span).is_some_and(|end| *s >= end) && span + 1 < spans.len() {
                span += 1;
            }
            let laid = spans.get(span).map(|(_, laid)| *laid)?;
            Some(Here { s: *s, compression: -strain, bend: *bend, laid })
        };
        let places: Vec<Here> = sharing.places.all.iter().zip(&sewn.strain).zip(bends).filter_map(here).collect();
        let lies = lies(&places, ring.length);
        let neck_from = (1.0 - NECK_SHARE) * ring.back_length;
        let front_from = ring.back_length + NECK_SHARE * (ring.length - ring.back_length);
        Self {
            strip,
            sharing,
            sewn,
            rippling: marked.rippling,
            neck_from,
            front_from,
            length: ring.length,
            places,
            lies,
        }
    }

    /// What the strip does between neighbouring marks, and what that was worked out from; `width_of` tells its width as sewn
    /// between two places of the line, mm from centre back.
    pub(crate) fn spans(&self, marks: &[Mark], width_of: &dyn Fn(f64, f64) -> f64) -> Vec<(Span, Edges)> {
        let ends = self.sewn.at.iter().zip(self.sewn.at.iter().skip(1));
        let marks = marks.iter().zip(marks.iter().skip(1));
        ends.zip(marks).map(|((i, j), (from, to))| self.span((*i, *j), from, to, width_of)).collect()
    }

    /// The worst that it does anywhere.
    pub(crate) fn outcome(&self) -> Outcome {
        let ends = self.sewn.at.iter().zip(self.sewn.at.iter().skip(1));
        let places = ends.map(|(i, j)| self.sharing.places.between(*i, *j));
        worst(places.map(|places| self.outcome_of(&places, self.worst(&places))))
    }

    /// What it would come to were these its quarters.
    pub(crate) fn quartered(&self, error_mm: f64) -> (Quartered, Edges) {
        let edges = self.edges(0, self.sharing.places.stations.len() - 1);
        let quartered = Quartered {
            error_mm,
            outcome: self.outcome(),
            stands_off_mm: self.rise(edges.worst),
            leans_deg: edges.worst.and_then(Worst::leans_deg),
            free_edge_least_percent: 100.0 * strain(&edges.least),
        };
        (quartered, edges)
    }

    pub(crate) fn places(&self, places: &Range<usize>) -> impl Iterator<Item = (usize, &Here, &Lie)> {
        let (skipped, taken) = (places.start, places.len());
        let all = self.places.iter().zip(&self.lies).enumerate();
        all.skip(skipped).take(taken).map(|(i, (here, lie))| (i, here, lie))
    }

    /// The place that lies worst: one that does not pass before all that do.
    pub(crate) fn worst(&self, places: &Range<usize>) -> Option<Worst> {
        let given = &self.strip.given;
        let badly = |worst: &Worst| {
            let passes = worst.lie.passes(given.width, worst.in_front, given.passing);
            (!passes, worst.lie.rise(given.width))
        };
        let places = self.places(places).map(|(_, here, lie)| Worst {
            here: *here,
            lie: *lie,
            in_front: here.s > self.front_from,
        });
        places.filter(|worst| worst.lie != Lie::Flat).max_by(|a, b| {
            let (a, b) = (badly(a), badly(b));
            a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
        })
    }

    /// How high the free edge rises where it lies worst, mm.
    pub(crate) fn rise(&self, worst: Option<Worst>) -> f64 {
        worst.map_or(0.0, |worst| worst.lie.rise(self.strip.given.width))
    }

    /// The line's sharpest curvature over six widths, either way, 1/mm.
    pub(crate) fn sharpest(&self, places: &Range<usize>) -> f64 {
        self.places(places).map(|(_, here, _)| here.bend.abs()).fold(0.0, f64::max)
    }

    pub(crate) fn outcome_of(&self, places: &Range<usize>, worst: Option<Worst>) -> Outcome {
        let given = &self.strip.given;
        if worst.is_some_and(|worst| !worst.lie.passes(given.width, worst.in_front, given.passing)) {
            return Outcome::Gapes;
        }
        let most = self.places(places).map(|(_, here, _)| -here.compression).fold(f64::NEG_INFINITY, f64::max);
        let seam = self.places(places).map(|(_, here, _)| 1.0 / here.laid.ratio - 1.0).fold(0.0, f64::max);
        if most.max(seam) > given.comfort + PULLED {
            return Outcome::PullsIn;
        }
        match worst.map(|worst| worst.lie) {
            None | Some(Lie::Flat) => Outcome::LiesFlat,
            Some(Lie::Ripples(_)) => Outcome::Ripples,
            Some(Lie::Stands(_)) => Outcome::Stands,
        }
    }

    fn span(
        &self,
        (i, j): (usize, usize),
        from: &Mark,
        to: &Mark,
        width_of: &dyn Fn(f64, f64) -> f64,
    ) -> (Span, Edges) {
        let ratio = (to.on_strip_mm - from.on_strip_mm) / (to.on_seam_line_mm - from.on_seam_line_mm);
        let given = &self.strip.given;
        let laid = Laid::new(given.width, given.thickness, self.rippling, ratio);
        let edges = self.edges(i, j);
        let bend = given.width * edges.sharpest;
        let span = Span {
            from: from.place,
            to: to.place,
            seam_line_mm: to.on_seam_line_mm - from.on_seam_line_mm,
            strip_mm: to.on_strip_mm - from.on_strip_mm,
            ratio_percent: 100.0 * ratio,
            free_edge_least_percent: 100.0 * strain(&edges.least),
            free_edge_most_percent: 100.0 * strain(&edges.most),
            seam_edge_percent: 100.0 * (1.0 / ratio - 1.0),
            ripples_from_percent: 100.0 * laid.ripples_from,
            bend,
            trusted: bend < TRUSTED_BEND,
            width_mm: width_of(from.on_seam_line_mm, to.on_seam_line_mm),
            outcome: self.outcome_of(&self.sharing.places.between(i, j), edges.worst),
            stands_off_mm: self.rise(edges.worst),
            leans_deg: edges.worst.and_then(Worst::leans_deg),
            slack_mm: edges.pressed.map_or(0.0, |(over, pressed)| over * ratio * pressed),
        };
        (span, edges)
    }

    fn edges(&self, from: usize, to: usize) -> Edges {
        let places = &self.sharing.places.between(from, to);
        let by_strain =
            |a: &(usize, &Here, &Lie), b: &(usize, &Here, &Lie)| b.1.compression.total_cmp(&a.1.compression);
        let taken = |place: Option<(usize, &Here, &Lie)>| place.map_or(Vec::new(), |(place, ..)| self.taken(place));
        Edges {
            least: taken(self.places(places).min_by(by_strain)),
            most: taken(self.places(places).max_by(by_strain)),
            pressed: self.pressed(places),
            sharpest: self.sharpest(places),
            worst: self.worst(places),
        }
    }

    /// What a place takes of f in each span that it takes anything of, and line over strip there.
    fn taken(&self, place: usize) -> Vec<[f64; 2]> {
        let spans = self.sewn.at.iter().zip(self.sewn.at.iter().skip(1)).zip(&self.sewn.stretched);
        let shares = spans.map(|((from, to), stretched)| [self.sharing.share(place, *from, *to), *stretched]);
        shares.filter(|[share, _]| share.abs() > 1e-9).collect()
    }

    /// Over how much of a span the free edge is pressed together, mm, and how much in the mean there.
    fn pressed(&self, places: &Range<usize>) -> Option<(f64, f64)> {
        let (mut over, mut slack) = (0.0, 0.0);
        let mut before: Option<&Here> = None;
        for (_, here, _) in self.places(places) {
            if let Some(last) = before.replace(here) {
                let (p, q) = (last.compression.max(0.0), here.compression.max(0.0));
                let length = if p.max(q) > 0.0 { here.s - last.s } else { 0.0 };
                over += length;
                slack += 0.5 * (p + q) * length;
            }
        }
        (over > 0.0).then(|| (over, slack / over))
    }
}

/// A place's strain by what it takes of f in each span, and line over strip there.
fn strain(taken: &[[f64; 2]]) -> f64 {
    taken.iter().map(|[share, stretched]| share * stretched).sum::<f64>() - 1.0
}

/// The worst of some outcomes.
pub(crate) fn worst(outcomes: impl Iterator<Item = Outcome>) -> Outcome {
    let badly = |outcome: &Outcome| match outcome {
        Outcome::LiesFlat => 0,
        Outcome::Stands => 1,
        Outcome::Ripples => 2,
        Outcome::PullsIn => 3,
        Outcome::Gapes => 4,
    };
    outcomes.max_by_key(badly).unwrap_or(Outcome::LiesFlat)
}

impl Outcome {
    /// Whether a strip that does so can be worn as it is.
    #[must_use]
    pub const fn passes(self) -> bool {
        matches!(self, Self::LiesFlat | Self::Ripples | Self::Stands)
    }
}
