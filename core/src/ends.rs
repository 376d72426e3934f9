//! How a strip's ends meet, and what is added to its relaxed length at each of them.

use serde::Serialize;

use crate::brief::{Centre, HalfName};
use crate::curve::tangent;
use crate::finish::form::AtPoint;
use crate::given::Given;
use crate::ring::Ring;
use crate::strip::marks::MarkPlace;

/// How a strip's ends meet.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
#[serde(rename_all = "snake_case")]
pub enum Ends {
    /// Joined into a ring, the join at centre back.
    Ring,
    /// Mitred at the point.
    Mitre {
        /// Angle of the mitre seam to the strip's edge. Degrees.
        angle_deg: f64,
        /// How much shorter the free edge is at each end. mm.
        free_edge_shorter_mm: f64,
    },
    /// One end over the other at the point.
    Lap {
        /// Width of the lap along the other leg's seam line. mm.
        lap_width_mm: f64,
        /// How far short of the point the two free edges cross, on each side. mm.
        free_edge_shorter_mm: f64,
    },
    /// Open ends that run past the point and are caught in the centre seam.
    Overhang {
        /// How far each end runs past the point. mm.
        overhang_mm: f64,
    },
}

/// Least sine taken for a lap's slant, so that a very wide point does not ask for an endless lap: our judgement.
const LEAST_SINE: f64 = 0.05;

/// Least half angle taken for a point, so that a slit, which has none, does not ask for endless ends. Radians, a degree:
/// our judgement.
const LEAST_ANGLE: f64 = core::f64::consts::PI / 180.0;

/// One place where ends meet. mm and radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Joint {
    pub ends: Ends,
    /// Past the relaxed length at each end.
    pub extra: f64,
    /// How much shorter the free edge is at each end: where two free edges meet short of the point.
    pub shorter: f64,
    /// Half angle of the point; none in a ring.
    pub alpha: Option<f64>,
    /// Allowance of the join or of the seam that catches an open end.
    pub join: f64,
}

/// All joints of a strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Joints {
    pub main: Joint,
    /// At centre back, where front and back both have a point.
    pub back: Option<Joint>,
    pub at: MarkPlace,
}

impl Joints {
    pub(crate) fn new(given: &Given<'_>, ring: &Ring) -> Self {
        let joint = |alpha, which| Joint::new(given, alpha, which);
        match (ring.front_point, ring.back_point) {
            (Some(_), Some(_)) => Self {
                main: joint(ring.front_point, HalfName::Front),
                back: Some(joint(ring.back_point, HalfName::Back)),
                at: MarkPlace::CentreFront,
            },
            (Some(_), None) => {
                Self { main: joint(ring.front_point, HalfName::Front), back: None, at: MarkPlace::CentreFront }
            }
            (None, point) => Self { main: joint(point, HalfName::Back), back: None, at: MarkPlace::CentreBack },
        }
    }

    /// How many strips.
    pub(crate) fn pieces(&self) -> u32 {
        if self.back.is_some() { 2 } else { 1 }
    }

    /// How much shorter than its seam edge the strip's free edge is all round, mm.
    pub(crate) fn free_edge_shorter(&self) -> f64 {
        2.0 * (self.main.shorter + self.back.map_or(0.0, |joint| joint.shorter))
    }

    /// Length to cut each strip for a relaxed half round, mm.
    pub(crate) fn cut_length(&self, half: f64) -> f64 {
        let back = self.back.map_or(0.0, |joint| joint.extra);
        2.0 * (half + self.main.extra + back) / f64::from(self.pieces())
    }
}

impl Joint {
    /// At a point of half angle alpha a mitre runs at alpha to the strip's edge: its allowance j takes
    /// j / sin(alpha) along the edge, and the seam allowance a below the seam line another a / tan(alpha).
    /// A lapped end is caught in the other leg's seam, at 2 alpha to it; the two free edges cross where a mitre's would
    /// meet, w / tan(alpha) short of the point on each side. An open end of a facing strip runs
    /// w / tan(alpha) + c / sin(alpha) past the point, to be caught in the centre seam.
    fn new(given: &Given<'_>, alpha: Option<f64>, which: HalfName) -> Self {
        let join = given.form.join;
        let alpha = alpha.map(|angle| angle.max(LEAST_ANGLE));
        let Some(angle) = alpha else { return Self { ends: Ends::Ring, extra: join, shorter: 0.0, alpha, join } };
        // Ends are as much wider or narrower as the strip is sewn.
        let width = given.sewn_width(given.form.width);
        // A strip that goes round the edge is sewn a width from its raw edge.
        let allowance = if given.form.goes_round_edge() { width } else { given.allowance };
        match given.form.at_point {
            AtPoint::Mitred => Self {
                ends: Ends::Mitre { angle_deg: angle.to_degrees(), free_edge_shorter_mm: width / tangent(angle) },
                extra: join / angle.sin() + allowance / tangent(angle),
                shorter: width / tangent(angle),
                alpha,
                join,
            },
            AtPoint::Lapped => {
                let (sine, shorter) = (lap_sine(angle), width / tangent(angle));
                let ends = Ends::Lap { lap_width_mm: width / sine, free_edge_shorter_mm: shorter };
                Self { ends, extra: allowance / sine + lap_past(width, angle), shorter, alpha, join }
            }
            AtPoint::Open => {
                let centre = match which.of(&given.brief.neckline).centre {
                    Centre::Seam { .. } => given.half(which).centre_allowance,
                    Centre::Fold => join,
                };
                let overhang_mm = width / tangent(angle) + centre / angle.sin();
                let ends = Ends::Overhang { overhang_mm };
                Self { ends, extra: overhang_mm, shorter: 0.0, alpha, join: centre }
            }
        }
    }
}

/// Sine of the angle between a lapped end and the leg that catches it.
fn lap_sine(alpha: f64) -> f64 {
    (2.0 * alpha).sin().max(LEAST_SINE)
}

/// How far a lap's far corner lies past the point where the legs stand wider than square to each other, mm.
pub(crate) fn lap_past(width: f64, alpha: f64) -> f64 {
    (-width / tangent(2.0 * alpha)).max(0.0)
}
