//! The seam line of a plan, by halves and whole.

use serde::Serialize;

/// The seam line, by halves and whole.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
