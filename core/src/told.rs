//! A half told in all three ways: what a tape would read, what a draft would say, and the path itself. A person
//! who changes from one way to another keeps what they have.

use kurbo::Point;
use serde::Serialize;

use crate::brief::{Brief, HalfName};
use crate::error::BriefErrors;
use crate::given::Given;
use crate::outline::length;
use crate::path::point_text as point;

/// The line a half is known by (the brief's `readings_at` says which), in every way it can be told.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ToldHalf {
    /// Along the line, from the centre to the shoulder edge. mm.
    pub half_length_mm: f64,
    /// From the line's own centre out to the neck point, as the brief's. mm.
    pub half_width_mm: f64,
    /// From the neck point down to the centre. mm.
    pub depth_mm: f64,
    /// The line as an SVG path from the centre to the neck point. mm.
    pub path_mm: String,
}

/// Both halves of a neckline, told.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Told {
    /// Centre front to neck point.
    pub front: ToldHalf,
    /// Centre back to neck point.
    pub back: ToldHalf,
}

/// Tells both halves of a brief's neckline in all three ways.
///
/// ```
/// let brief = lieflat::example::brief();
/// let told = lieflat::told(&brief)?;
/// assert!((told.front.half_length_mm - 154.0).abs() < 0.01, "the example's front was measured as 154 mm");
/// assert!(told.front.path_mm.starts_with("M0"), "its path starts on the centre line");
/// # Ok::<(), lieflat::BriefErrors>(())
/// ```
///
/// # Errors
/// Every problem of the brief that keeps a half from being drawn.
pub fn told(brief: &Brief) -> Result<Told, BriefErrors> {
    let given = Given::new(brief)?;
    Ok(Told { front: half(&given, HalfName::Front)?, back: half(&given, HalfName::Back)? })
}

fn half(given: &Given<'_>, which: HalfName) -> Result<ToldHalf, BriefErrors> {
    let (arcs, _) = given.known(which)?;
    let mut path_mm = String::new();
    for curve in arcs.iter().map(crate::curve::Arc::curve) {
        let command = if path_mm.is_empty() { ["M", &point(curve.p0), " C"].concat() } else { " ".to_owned() };
        path_mm += &command;
        path_mm += &[curve.p1, curve.p2, curve.p3].map(point).join(" ");
    }
    let (start, end) = match (arcs.first(), arcs.last()) {
        (Some(first), Some(last)) => (first.point(0.0), last.point(1.0)),
        _ => (Point::ZERO, Point::ZERO),
    };
    Ok(ToldHalf { half_length_mm: length(arcs), half_width_mm: end.x, depth_mm: start.y - end.y, path_mm })
}
