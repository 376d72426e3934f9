//! An outline to point at: followed, freed of notches, with its corners.

use kurbo::{Affine, BezPath, ParamCurve, PathSeg, Point};

use crate::chain::{Chain, Chains};
use crate::corner::{Corner, corners};
use crate::drawing::Drawing;
use crate::notch;
use crate::run::Run;

/// A corner this near to what was pointed at is meant, mm.
const CORNER_NEAR_MM: f64 = 2.0;

/// An outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// The lines that it is made of, by their place in the drawing.
    pub lines: Vec<usize>,
    /// Its curve, in mm, notches passed over.
    pub run: Run,
    /// Its corners.
    pub corners: Vec<Corner>,
    /// The middle of each notch, mm.
    pub notches: Vec<Point>,
}

impl Outline {
    /// The outline that a line of a drawing belongs to; none where there is no such line.
    #[must_use]
    pub fn of(drawing: &Drawing, mm_per_unit: f64, line: usize) -> Option<Self> {
        Self::in_chains(&Chains::new(drawing, mm_per_unit), line)
    }

    /// The same, where the drawing's ends were looked at before.
    pub(crate) fn in_chains(chains: &Chains<'_>, line: usize) -> Option<Self> {
        Self::of_chain(chains.follow(line)?)
    }

    /// The same of a chain that was followed.
    pub(crate) fn of_chain(chain: Chain) -> Option<Self> {
        let (segments, notches) = notch::passed(&chain.segments, chain.closed);
        let run = Run::new(segments, chain.closed)?;
        Some(Self { lines: chain.lines, corners: corners(&run), run, notches })
    }

    /// How far along the outline a place is meant, and how far off that is: at the corner where one is near.
    #[must_use]
    pub fn pointed(&self, at: Point) -> (f64, f64) {
        let near = self.corners.iter().map(|corner| (corner.at, self.run.point(corner.at).distance(at)));
        let corner = near.filter(|(_, off)| *off <= CORNER_NEAR_MM).min_by(|a, b| a.1.total_cmp(&b.1));
        corner.unwrap_or_else(|| self.run.nearest(at))
    }
}

/// Segments as one path, sized by a factor.
#[must_use]
pub fn path_of(segments: &[PathSeg], closed: bool, by: f64) -> BezPath {
    let mut path = BezPath::new();
    for segment in segments {
        if path.elements().is_empty() {
            path.move_to(segment.start());
        }
        path.push(segment.as_path_el());
    }
    if closed && !path.elements().is_empty() {
        path.close_path();
    }
    path.apply_affine(Affine::scale(by));
    path
}
