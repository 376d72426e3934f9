//! The lines beside a facing's two edges: its raw edges and its stitching.

use crate::brief::HalfName;
use crate::curve::Arc;
use crate::given::Given;
use crate::seam_line::{CORNER, Line, MoveError, Outside, TakeOff};

/// How far understitching stops short of a point or a corner, where the foot cannot reach, mm: from memory, about an inch.
pub(crate) const UNDERSTITCH_STOPS_MM: f64 = 25.0;

/// A half piece's lines beside its two edges.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stitching {
    pub raw_neck: Line,
    pub raw_outer: Line,
    pub understitch: Line,
    /// The runs that are understitched, mm along the line from the centre.
    pub understitched: Vec<(f64, f64)>,
    pub topstitch: Option<Line>,
}

impl Stitching {
    /// The raw edges and the lines of stitching, both measured from the seam line.
    pub(crate) fn new(
        given: &Given<'_>,
        which: HalfName,
        (arcs, off): (&[Arc], TakeOff),
        (seam, neck_turn): (&Line, f64),
    ) -> Result<Self, MoveError> {
        let (half, form) = (given.half(which), &given.form);
        let raw_neck = TakeOff {
            neckline: off.neckline - given.allowance,
            centre: off.centre - half.centre_allowance,
            shoulder: off.shoulder - half.shoulder_allowance,
            slope: off.slope,
        };
        let outside =
            Outside { more: form.turned_under, centre: half.centre_allowance, shoulder: half.shoulder_allowance };
        let sewn = |width: f64| Line::beside(arcs, seam, off, width, Outside::default());
        let understitch = sewn(form.understitch.unwrap_or_default().min(form.width))?;
        Ok(Self {
            raw_neck: Line::moved_with_loops(arcs, raw_neck)?,
            raw_outer: Line::beside(arcs, seam, off, form.width, outside)?,
            understitched: understitched(&understitch, neck_turn),
            understitch,
            topstitch: form.topstitch.map(sewn).transpose()?,
        })
    }

    /// How long the understitching of this half is, mm.
    pub(crate) fn understitch_length(&self) -> f64 {
        self.understitched.iter().map(|(from, to)| to - from).sum()
    }

    /// Whether it stops short anywhere.
    pub(crate) fn stops_short(&self) -> bool {
        self.understitch.length() - self.understitch_length() > 1e-9
    }
}

/// What of a line of understitching is sewn: all but what lies within reach of a point or a corner, whichever way that
/// turns, or of a corner where front and back meet.
fn understitched(line: &Line, neck_turn: f64) -> Vec<(f64, f64)> {
    let is_corner = |turn: f64| turn.abs() > CORNER;
    let mut corners: Vec<f64> = Vec::new();
    corners.extend(is_corner(2.0 * line.half_turn_at_centre()).then_some(0.0));
    corners.extend(line.bends().filter(|bend| bend.length == 0.0 && is_corner(bend.theta)).map(|bend| bend.s));
    corners.extend(is_corner(neck_turn).then_some(line.length()));
    let (mut runs, mut from) = (Vec::new(), 0.0);
    for corner in corners {
        runs.push((from, corner - UNDERSTITCH_STOPS_MM));
        from = corner + UNDERSTITCH_STOPS_MM;
    }
    runs.push((from, line.length()));
    runs.retain(|(from, to)| to > from);
    runs
}
