//! How far a band draws the garment's edge in: a stretched ring pulls inward on the edge it is sewn to.

use crate::finish::form::Side;
use crate::finish::shared::Layers;
use crate::girth::Run;
use crate::given::Given;

/// What pulls on a part of the seam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pull {
    /// Where the part begins and ends, mm from centre back.
    pub from: f64,
    pub to: f64,
    /// The line's mean curvature toward the free edge, 1/mm.
    pub curvature: f64,
    /// Strain of seam edge and free edge, in the mean of both and along the part. Fraction.
    pub strain: f64,
}

/// From this width over radius on it is told: under it the edge gives by 3 percent and less.
const TOLD_FROM: f64 = 0.15;

/// What is drawn in by less does not show. Our judgement.
const SHOWS_PERCENT: f64 = 1.0;

/// How much less an edge gives than a sheet's hole does by the law for small strains: fitted to a plane model at large ones.
const GIVES_LESS: f64 = 0.74;

/// One and Poisson's ratio of the garment's knit, taken as in that model.
const ONE_AND_POISSON: f64 = 1.4;

impl Pull {
    /// By how much the edge is drawn in, a fraction: 0.74 e g/(1 + g) with g = n (w/R) (1 + nu).
    ///
    /// A ring of n layers and tension n w e presses on a hole of radius R in a sheet of one such layer with n w e/R, and the hole
    /// shrinks by (1 + nu) times that, by which the ring slackens (Lame's solution for a hole in a plate; any text on elasticity).
    /// A plane model of a folded band of the same knit has 2.0, 3.5 and 5.1 percent at w/R 0.1, 0.15 and 0.2; within 0.2 points.
    pub(crate) fn draws_in(self, layers: f64, width: f64) -> f64 {
        let gives = layers * self.curvature * width * ONE_AND_POISSON;
        GIVES_LESS * self.strain * gives / (1.0 + gives)
    }
}

/// How many layers of its knit a band pulls with.
pub(crate) fn layers(given: &Given<'_>) -> f64 {
    if given.form.layers == Layers::Folded { 2.0 } else { 1.0 }
}

/// By how much a band draws the edge in along a part, percent, by what is stayed of the half round: where less than half of the part
/// is. None with another finish: a bound edge is held by the cloth inside it, a facing strip hardly pulls.
pub(crate) fn drawn_in_percent(given: &Given<'_>, pull: Pull, stayed: &[Run]) -> Option<f64> {
    let (length, width) = (pull.to - pull.from, given.form.width);
    let held = stayed.iter().map(|(from, to)| (to.min(pull.to) - from.max(pull.from)).max(0.0)).sum::<f64>();
    let bends = given.form.side == Side::TowardNeck && width * pull.curvature >= TOLD_FROM;
    let percent = 100.0 * pull.draws_in(layers(given), width);
    (bends && held < 0.5 * length && percent >= SHOWS_PERCENT).then_some(percent)
}

#[cfg(test)]
mod tests {
    use super::Pull;

    /// A band of 15 mm, folded, with a hold of 6.32 percent by the rule on a circle on which it bends so much.
    fn draws_in(bend: f64) -> f64 {
        let (free, width) = (0.0632, 15.0);
        let seam = (1.0 + free) / (1.0 - bend) - 1.0;
        let curvature = bend / width;
        let strain = 0.5 * (seam + free);
        100.0 * Pull { from: 0.0, to: 100.0, curvature, strain }.draws_in(2.0, width)
    }

    #[test]
    fn an_edge_is_drawn_in_as_a_plane_model_has_it() {
        // A round hole in an isotropic sheet with a folded band of the same knit, Poisson's ratio 0.4, by finite elements at large
        // strains; worked out apart from this project.
        for (bend, percent) in [(0.1, 2.0), (0.15, 3.5), (0.2, 5.1)] {
            let got = draws_in(bend);
            assert!((got - percent).abs() < 0.2, "w/R {bend}: {got} and not {percent} percent");
        }
    }
}
