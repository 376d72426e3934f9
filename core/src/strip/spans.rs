//! What a strip does between two neighbouring marks.

use serde::Serialize;

use super::along::Strip;
use super::marks::{Mark, MarkPlace};
use super::rule::UNSEEN;
use crate::ring::Ring;

/// What an edge does along a span.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// The free edge is in hold and nothing is over-stretched.
    LiesFlat,
    /// The free edge is slack.
    StandsAway,
    /// An edge is stretched past its comfortable share.
    PullsIn,
}

/// The stretch of seam line between two neighbouring marks.
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
    /// Least strain of the free edge in the span. Percent; under 0 is slack.
    pub free_edge_least_percent: f64,
    /// Greatest strain of the free edge in the span. Percent.
    pub free_edge_most_percent: f64,
    /// Greatest strain of the seam edge in the span. Percent.
    pub seam_edge_most_percent: f64,
    /// What the strip does there.
    pub outcome: Outcome,
    /// How high the free edge stands off the flat at its worst place. mm.
    pub stands_off_mm: f64,
    /// Slack length in the free edge over the span. mm.
    pub slack_mm: f64,
}

/// Slack in a span's free edge that steaming and the cloth's own give take up, mm: our judgement, no published
/// source. More is seen as a ripple.
pub(crate) const SEEN_SLACK_MM: f64 = 1.0;

impl Strip {
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
    pub(crate) fn add(&mut self, f: f64, r: f64, over: f64) {
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

#[cfg(test)]
mod tests {
    use super::Edges;

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
}
