//! The zones that are stayed, each with its stay tape as it is laid.

use super::choice::{Candidate, STABLE};
use super::zone::{Part, StayReason, StayZone};
use crate::brief::{EdgePart, HalfName, StayEdge};
use crate::curve::tangent;
use crate::given::Given;
use crate::knit::RecoveryVerdict;
use crate::ring::Ring;
use crate::seam_line::{Line, points};
use crate::stay_tape::{Laid, Place, TapeFit};

/// The shoulders' own zone, where they may be stayed and the person names none.
pub(crate) fn shoulder_zone(given: &Given<'_>) -> Option<StayZone> {
    let stays = &given.brief.stays;
    let allowance = given.front.shoulder_allowance.max(given.back.shoulder_allowance);
    let c2 = given.back.slope.cos().powi(2);
    // A shoulder that the person tells of is not taped twice.
    let own = stays.edges.iter().any(|edge| edge.part == EdgePart::Shoulder && named_zone(given, edge).is_some());
    let place = Place::on_seam(allowance, stays);
    (stays.shoulders && !own).then(|| StayZone {
        part: Part::Shoulders,
        name: None,
        reason: StayReason::CarriesTheGarment,
        stretch_percent: 100.0 * given.garment.along(c2),
        from_mm: None,
        to_mm: None,
        tape_each_mm: stays.shoulder_length_mm,
        pieces: 2,
        ..straight(&place)
    })
}

/// A named edge's zone; none where the knit hardly stretches along it and nothing is gathered on it.
pub(crate) fn named_zone(given: &Given<'_>, edge: &StayEdge) -> Option<StayZone> {
    let stretch = given.garment.one_way(edge.direction);
    let gathers = edge.gathered_from_mm.is_some() || edge.part == EdgePart::Gathered;
    let poor = given.garment.verdict() == RecoveryVerdict::Poor;
    let (part, reason) = match edge.part {
        EdgePart::CentreFrontSeam => (Part::CentreFrontSeam, StayReason::StableEdge),
        EdgePart::CentreBackSeam => (Part::CentreBackSeam, StayReason::StableEdge),
        EdgePart::Shoulder => (Part::Shoulders, StayReason::CarriesTheGarment),
        EdgePart::Gathered => (Part::Gathered, StayReason::Gathers),
        EdgePart::Other => (Part::Other, StayReason::StableEdge),
    };
    let reason = match reason {
        _ if gathers => StayReason::Gathers,
        StayReason::StableEdge if poor => StayReason::PoorRecovery,
        other => other,
    };
    (gathers || stretch >= STABLE).then(|| StayZone {
        part,
        name: Some(edge.name.clone()),
        reason,
        stretch_percent: 100.0 * stretch,
        from_mm: None,
        to_mm: None,
        tape_each_mm: Some(edge.length_mm),
        pieces: edge.pieces,
        gathering_ratio: edge.gathered_from_mm.map(|before| before / edge.length_mm),
        ..straight(&Place::on_seam(edge.allowance_mm, &given.brief.stays))
    })
}

/// A tape's place on a straight seam: what every zone starts from.
fn straight(place: &Place) -> StayZone {
    StayZone {
        part: Part::Other,
        name: None,
        reason: StayReason::StableEdge,
        stretch_percent: 0.0,
        from_mm: None,
        to_mm: None,
        tape_each_mm: None,
        pieces: 1,
        measured_from: place.measured_from,
        from_edge_mm: place.near_side(),
        tape_width_mm: place.width(),
        past_stitching_mm: place.past_stitching(),
        widest_tape_mm: place.widest(),
        fit: place.fit(),
        at_centre: None,
        snip_or_bias: false,
        snips: 0,
        gathering_ratio: None,
        line: Vec::new(),
        outline: Vec::new(),
    }
}

/// What a mitre at the centre takes up: the tape's side on the garment is its longest there, q cot(alpha) past the line's
/// own point on each leg.
fn mitre_takes(run: &Laid<'_>, place: &Place) -> f64 {
    run.mitre.map_or(0.0, |alpha| 2.0 * place.past_seam_line() / tangent(alpha))
}

/// A straight tape's far edge must open or close by its width times the turning; each snip takes up as much as a clip does.
fn snips(given: &Given<'_>, run: &Laid<'_>, place: &Place) -> u32 {
    let opens = place.width() * run.turning();
    // At most a whole round's turning times 40 mm over 1 mm.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let snips = (opens / given.brief.rules.clip_opening_mm - 1e-9).ceil() as u32;
    snips
}

impl Candidate {
    pub(crate) fn zone(&self, given: &Given<'_>, ring: &Ring, front: &Line, back: &Line) -> StayZone {
        let place = Place::on_neckline(given);
        let run = self.run(given, ring, front, back);
        let taped = place.fit() != TapeFit::NoneFits;
        let snip_or_bias = taped && run.bends_too_much(place.width());
        let (sides, pieces) = run.sides();
        StayZone {
            part: self.part,
            reason: self.reason,
            stretch_percent: 100.0 * self.stretch.mean,
            from_mm: Some(self.from),
            to_mm: Some(self.to),
            tape_each_mm: Some(sides * (self.to - self.from) + mitre_takes(&run, &place)),
            pieces,
            at_centre: run.at_centre,
            snip_or_bias,
            snips: if snip_or_bias { snips(given, &run, &place) } else { 0 },
            line: self.points(ring, front, back),
            outline: run.outline(&place),
            ..straight(&place)
        }
    }

    /// The zone on its own half of the seam line: front and back are stayed apart, so that no tape turns at the neck point.
    pub(crate) fn run<'a>(&self, given: &Given<'_>, ring: &Ring, front: &'a Line, back: &'a Line) -> Laid<'a> {
        match self.part {
            Part::BackNeckline => Laid::new(given, HalfName::Back, back, (self.from, self.to)),
            _ => Laid::new(given, HalfName::Front, front, (ring.length - self.to, ring.length - self.from)),
        }
    }

    fn points(&self, ring: &Ring, front: &Line, back: &Line) -> Vec<[f64; 2]> {
        let on_back = self.part == Part::BackNeckline;
        let line = if on_back { back } else { front };
        let place = |s: f64| if on_back { s } else { ring.length - s };
        let inside = |s: f64| (self.from - 1e-6..=self.to + 1e-6).contains(&place(s));
        let nodes: Vec<_> = line.nodes.iter().filter(|n| inside(n.s)).copied().collect();
        points(&nodes)
    }
}
