//! Both halves' lines, the half round they make, and what a plan says of the seam line.

use std::rc::Rc;

use serde::Serialize;

use crate::brief::HalfName;
use crate::clip::places::Round;
use crate::error::{BriefError, BriefErrors};
use crate::given::Given;
use crate::range::Touches;
use crate::ring::Ring;
use crate::seam_line::Line;

/// The seam line, by halves and whole.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct SeamLine {
    /// Centre front to neck point.
    pub front: HalfLine,
    /// Centre back to neck point.
    pub back: HalfLine,
    /// Both halves of front and back: the whole round. mm.
    pub whole_length_mm: f64,
    /// Turning of the whole round, front and back laid flat and joined at the shoulders, less points. Degrees.
    pub whole_turning_deg: f64,
    /// Turning at each neck point, where front and back meet. Degrees; 0 where they meet square to the shoulder.
    pub neck_point_turning_deg: f64,
}

/// One half's lines.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct HalfLine {
    /// Length of the cut edge as it is drawn: without the loops of an edge set back further than its radius. mm.
    pub cut_edge_length_mm: f64,
    /// Length of the seam line. mm.
    pub length_mm: f64,
    /// Turning of the seam line. Degrees.
    pub turning_deg: f64,
    /// The opening's half width at the seam line, from the finished centre line to the neck point. mm.
    pub half_width_mm: f64,
    /// The opening's depth at the seam line. mm.
    pub depth_mm: f64,
    /// The tightest radius that curves round the opening; none on a straight line. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tightest_radius_mm: Option<f64>,
    /// Half the angle of a point at the centre; none where the line crosses the centre smoothly. Degrees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub point_half_angle_deg: Option<f64>,
    /// Where the finished centre line stands in the half's own frame: x there is read as the brief's outline is, from the
    /// centre's edge as cut or from its seam line, so that this is a centre seam's allowance where readings are of the
    /// cut edge, and 0 on a fold or where they are of the seam line. mm.
    pub centre_line_x_mm: f64,
    /// The cut edge in the half's own frame (x outward, y down from the neck point): points, centre first. mm.
    pub cut_edge: Vec<[f64; 2]>,
    /// The seam line in the same frame. mm.
    pub seam_line: Vec<[f64; 2]>,
    /// The shoulder's direction from the neck point: a unit vector in the same frame.
    pub shoulder_direction: [f64; 2],
}

/// Both halves' known and seam lines, and the half round they make.
pub(crate) struct Lines {
    /// The front's known line and its seam line.
    pub front: (Line, Line),
    /// The back's.
    pub back: (Line, Line),
    pub ring: Rc<Ring>,
}

impl Lines {
    pub(crate) fn new(given: &Given<'_>) -> Result<Self, BriefErrors> {
        let (front, back) = both(|which| given.lines(which))?;
        let ring = Rc::new(Ring::new(&front.1, &back.1));
        Ok(Self { front, back, ring })
    }

    /// The half round where a reading has moved: the same where that does not bear on it. None where no neckline has the moved
    /// reading.
    pub(crate) fn ring_moved(&self, moved: &Given<'_>, touches: Touches) -> Option<Rc<Ring>> {
        let (front, back) = match touches {
            Touches::Neither => return Some(Rc::clone(&self.ring)),
            Touches::Front => (&moved.seam_line(HalfName::Front).ok()?, &self.back.1),
            Touches::Back => (&self.front.1, &moved.seam_line(HalfName::Back).ok()?),
            Touches::Both => (&moved.seam_line(HalfName::Front).ok()?, &moved.seam_line(HalfName::Back).ok()?),
        };
        Some(Rc::new(Ring::new(front, back)))
    }

    /// The seam line all round, as clips see it.
    pub(crate) fn round(&self) -> Round<'_> {
        Round { ring: &self.ring, front: &self.front.1, back: &self.back.1 }
    }

    pub(crate) fn report(&self, given: &Given<'_>) -> SeamLine {
        SeamLine {
            front: half_line(given.centre_taken_off(HalfName::Front), &self.front),
            back: half_line(given.centre_taken_off(HalfName::Back), &self.back),
            whole_length_mm: 2.0 * self.ring.length,
            whole_turning_deg: 2.0 * self.ring.turning.to_degrees(),
            neck_point_turning_deg: self.ring.neck_turn.to_degrees(),
        }
    }
}

/// Something of both halves, front first; the problems of both where either fails.
pub(crate) fn both<T>(of: impl Fn(HalfName) -> Result<T, BriefErrors>) -> Result<(T, T), BriefErrors> {
    match (of(HalfName::Front), of(HalfName::Back)) {
        (Ok(front), Ok(back)) => Ok((front, back)),
        (front, back) => {
            let failed = front.err().into_iter().chain(back.err());
            let mut errors: Vec<BriefError> = failed.flat_map(|e| e.errors).collect();
            errors.dedup();
            Err(BriefErrors { errors })
        }
    }
}

fn half_line(centre: f64, (known, seam): &(Line, Line)) -> HalfLine {
    let (cut_edge, cut_edge_length_mm) = known.without_loops();
    HalfLine {
        cut_edge_length_mm,
        length_mm: seam.length(),
        turning_deg: seam.turning().to_degrees(),
        half_width_mm: seam.half_width(),
        depth_mm: seam.depth(),
        tightest_radius_mm: seam.tightest_radius(),
        point_half_angle_deg: seam.point_half_angle().map(f64::to_degrees),
        centre_line_x_mm: centre,
        cut_edge,
        seam_line: seam.points(),
        shoulder_direction: [seam.shoulder.x, seam.shoulder.y],
    }
}
