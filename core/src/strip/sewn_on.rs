//! What a strip is sewn on: the seam line, or a bound edge's own line below it.

use std::rc::Rc;

use serde::Serialize;

use crate::brief::HalfName;
use crate::error::BriefErrors;
use crate::given::Given;
use crate::lines::{Lines, both};
use crate::range::Touches;
use crate::ring::Ring;
use crate::seam_line::Line;

/// The line that a bound edge's strip is sewn on, a finished width below the finished edge.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct StitchLine {
    /// All round. mm.
    pub length_mm: f64,
    /// The front half in its own frame. mm.
    pub front: Vec<[f64; 2]>,
    /// The back half in its own frame. mm.
    pub back: Vec<[f64; 2]>,
}

/// What the strip is sewn on: the seam line, or a bound edge's stitch line with both its halves.
pub(crate) struct SewnOn {
    pub ring: Rc<Ring>,
    pub stitch_line: Option<StitchLine>,
    halves: Option<(Line, Line)>,
}

impl SewnOn {
    pub(crate) fn new(given: &Given<'_>, lines: &Lines, width: f64) -> Result<Self, BriefErrors> {
        if !given.form.goes_round_edge() {
            return Ok(Self { ring: Rc::clone(&lines.ring), stitch_line: None, halves: None });
        }
        let (front, back) = both(|which| given.stitch_line(which, width))?;
        let ring = Rc::new(Ring::new(&front, &back));
        let stitch_line = StitchLine { length_mm: 2.0 * ring.length, front: front.points(), back: back.points() };
        Ok(Self { ring, stitch_line: Some(stitch_line), halves: Some((front, back)) })
    }

    /// The half round where a reading has moved; a line that it does not bear on stays. Fails where there is none.
    pub(crate) fn ring_moved(
        &self,
        lines: &Lines,
        moved: &Given<'_>,
        touches: Touches,
        width: f64,
    ) -> Option<Rc<Ring>> {
        let Some((front, back)) = &self.halves else {
            return lines.ring_moved(moved, touches);
        };
        let line = |which| moved.stitch_line(which, width).ok();
        // A width sewn otherwise moves both halves.
        let touches = if moved.width_off == 0.0 { touches } else { Touches::Both };
        Some(Rc::new(match touches {
            Touches::Neither => return Some(Rc::clone(&self.ring)),
            Touches::Front => Ring::new(&line(HalfName::Front)?, back),
            Touches::Back => Ring::new(front, &line(HalfName::Back)?),
            Touches::Both => Ring::new(&line(HalfName::Front)?, &line(HalfName::Back)?),
        }))
    }
}
