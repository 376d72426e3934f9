//! The facing: front and back pieces from the seam line.
//!
//! The seam edge is drawn in from the opening by the turn of cloth, so that the seam rolls inside; the outer
//! edge is the seam line moved by the finished width. Both are trimmed at the shoulder seam and the centre,
//! which a facing shares with the garment.

use crate::curve::Arc;
use crate::seam_line::{Line, MoveError, TakeOff};

/// The moved lines of half a facing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct HalfFacing {
    pub seam_edge: Line,
    pub outer_edge: Line,
}

impl HalfFacing {
    /// From the half's known line and what is taken off it down to the seam line.
    pub(crate) fn new(arcs: &[Arc], off: TakeOff, favour: f64, width: f64) -> Result<Self, MoveError> {
        let moved = |more: f64| Line::moved(arcs, TakeOff { neckline: off.neckline + more, ..off });
        Ok(Self { seam_edge: moved(favour)?, outer_edge: moved(width)? })
    }
}
