//! Where to stay the neckline and other edges, and with how much tape.
//!
//! A tape or a facing wants a stable edge, a band or a bound edge a live one. Common practice, no published source:
//! stay the legs and the point of a V and the back neckline of a taped or faced finish, and an edge that receives
//! gathers. Published: shoulders first (an N.C. extension leaflet on tailoring, and a photo handbook's chapter on
//! stretch seams), and necklines from shoulder to centre before they are handled (the same leaflet).

pub(crate) mod choice;
pub(crate) mod laying;
pub(crate) mod zone;

use serde::Serialize;

use crate::given::Given;
use crate::lines::Lines;
use crate::stay_tape::TapeFit;
use choice::Candidate;
pub use choice::GivenUp;
use laying::{named_zone, shoulder_zone};
use zone::StayZone;

/// What to stay.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct StayPlan {
    /// Parts to stay.
    pub zones: Vec<StayZone>,
    /// Parts that would gain by staying but were given up so that the head passes, first given up first.
    pub given_up: Vec<GivenUp>,
    /// Named edges that are stable by themselves and want no stay.
    pub stable: Vec<StableEdge>,
    /// Stay tape in all, of every zone whose length is known and where a stay tape fits. mm.
    pub total_tape_mm: f64,
}

/// A named edge that is stable by itself.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct StableEdge {
    /// The person's name for it.
    pub name: String,
    /// The knit's stretch along it. Percent.
    pub stretch_percent: f64,
}

/// The zones: the chosen parts of the neckline, the shoulders and the edges that the person names.
pub(crate) fn stays(given: &Given<'_>, lines: &Lines, kept: &[Candidate], given_up: Vec<GivenUp>) -> StayPlan {
    let (front, back) = (&lines.front.1, &lines.back.1);
    let mut zones: Vec<StayZone> = shoulder_zone(given).into_iter().collect();
    zones.extend(kept.iter().map(|candidate| candidate.zone(given, &lines.ring, front, back)));
    let mut stable = Vec::new();
    for edge in &given.brief.stays.edges {
        match named_zone(given, edge) {
            Some(zone) => zones.push(zone),
            None => stable.push(StableEdge {
                name: edge.name.clone(),
                stretch_percent: 100.0 * given.garment.one_way(edge.direction),
            }),
        }
    }
    let total_tape_mm = taped(&zones).fold(0.0, |sum, mm| sum + mm);
    StayPlan { zones, given_up, stable, total_tape_mm }
}

/// How much stay tape each zone takes whose length is known and where one fits, mm.
pub(crate) fn taped(zones: &[StayZone]) -> impl Iterator<Item = f64> {
    let taped = zones.iter().filter(|zone| zone.fit != TapeFit::NoneFits);
    taped.filter_map(|zone| Some(zone.tape_each_mm? * f64::from(zone.pieces)))
}
