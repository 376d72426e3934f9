//! What a strip does in front, at the neck points and at the back.

use serde::Serialize;

use super::drawn_in::Pull;
use super::lie::{Here, TRUSTED_BEND};
use super::spans::{AsSewn, Outcome, Worst};

/// A part of a half round, as its strip's lie is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum StripPart {
    /// From the neck points' part to centre front.
    Front,
    /// A third of the front half and a third of the back half, from the neck point on.
    NeckPoints,
    /// From centre back to the neck points' part.
    Back,
}

/// What the strip does in a part of the half round, at its worst place there.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct PartLies {
    /// Which part.
    pub part: StripPart,
    /// What the strip does there.
    pub outcome: Outcome,
    /// How high the free edge stands off the flat. mm.
    pub stands_off_mm: f64,
    /// Where the strip stands up: how far it leans off the flat. Degrees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leans_deg: Option<f64>,
    /// Whether the line bends nowhere there too sharply for the reckoning to be trusted.
    pub trusted: bool,
    /// By how much a band's pull draws the garment's edge in there, an estimate; none where it is stayed, where the line
    /// bends to less than 0.15 as width over radius in the mean, where it is under 1, and with any other finish. Percent of its
    /// length.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drawn_in_percent: Option<f64>,
}

/// What a part's figures were worked out from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PartBasis {
    /// Where it lies worst; none where it lies flat.
    pub worst: Option<Worst>,
    pub pull: Pull,
}

impl AsSewn<'_> {
    /// What the strip does in each part, and what that was worked out from.
    pub(crate) fn parts(&self) -> Vec<(PartLies, PartBasis)> {
        let [neck, front] = [self.neck_from, self.front_from];
        let parts = [
            (StripPart::Front, front, self.length),
            (StripPart::NeckPoints, neck, front),
            (StripPart::Back, 0.0, neck),
        ];
        let up_to = |s: f64| self.places.partition_point(|here| here.s <= s);
        let lies = |(part, from, to): (StripPart, f64, f64)| {
            let places = if from > 0.0 { up_to(from) } else { 0 }..up_to(to);
            let worst = self.worst(&places);
            let at = PartLies {
                part,
                outcome: self.outcome_of(&places, worst),
                stands_off_mm: self.rise(worst),
                leans_deg: worst.and_then(Worst::leans_deg),
                trusted: self.strip.given.width * self.sharpest(&places) < TRUSTED_BEND,
                // What is stayed there is not known yet.
                drawn_in_percent: None,
            };
            let mean = |of: fn(&Here) -> f64| {
                self.places(&places).map(|(_, here, _)| of(here)).sum::<f64>() / places.len().max(1) as f64
            };
            let strain = mean(|here| 0.5 * (1.0 / here.laid.ratio - 1.0 - here.compression));
            let pull = Pull { from, to, curvature: mean(|here| here.bend), strain };
            (at, PartBasis { worst, pull })
        };
        parts.into_iter().map(lies).collect()
    }
}
