//! The same edge of every size that a drawing holds: each size's outline has its corners near those that were pointed at.

use std::collections::HashSet;

use kurbo::{Point, Rect, Shape, Vec2};

use crate::chain::{Chain, Chains};
use crate::drawing::Drawing;
use crate::edge::{Chosen, Down, Edge, NoEdge, edge};
use crate::order::sorted_by;
use crate::outline::{Outline, path_of};

/// How far another size's corner may lie from the one that was pointed at, mm. Our judgement: twelve sizes of 6 mm.
const CORNER_WITHIN_MM: f64 = 80.0;
/// How unlike another size's edge may be: its length and its width to those of the one that was pointed at.
const ALIKE: [f64; 2] = [0.55, 1.8];
/// How unlike its outline may be, box to box.
const BOX_ALIKE: [f64; 2] = [0.5, 2.0];
/// What is smaller than this share of it, by the longer side, is no other size.
const LEAST_SHARE: f64 = 0.3;
/// A degree that a corner turns otherwise counts as so many mm of distance.
const MM_PER_DEGREE: f64 = 0.5;
/// Most outlines that are looked at.
const MOST: usize = 80;
/// Boxes that share less than this of their area are two pieces side by side, not one in another.
const NESTED_SHARE: f64 = 0.3;

/// One size's edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// The outline's first line, by its place in the drawing.
    pub line: usize,
    /// Its edge.
    pub edge: Edge,
}

/// The edge that was pointed at, of this outline and of all that are like it, the shortest first.
///
/// # Errors
/// Why the one that was pointed at cannot be taken.
pub fn sizes(drawing: &Drawing, mm_per_unit: f64, line: usize, pointed: &Chosen) -> Result<Vec<Size>, NoEdge> {
    let chains = Chains::new(drawing, mm_per_unit);
    let own = Outline::in_chains(&chains, line).ok_or(NoEdge::EndsTogether)?;
    let first = edge(&own, pointed)?;
    let mut used: HashSet<usize> = own.lines.iter().copied().collect();
    let model = Model::of(&own, &first, pointed);
    let mut found = vec![Size { line, edge: first }];
    let mut looked = 0;
    for other in 0..drawing.lines.len() {
        if used.contains(&other) || looked >= MOST || !model.may_be(drawing, mm_per_unit, other) {
            continue;
        }
        let Some(chain) = chains.follow(other) else { continue };
        used.extend(&chain.lines);
        // Most are marks and letters, too small to be a size; their corners need not be looked for.
        if !model.is_as_large(&chain) {
            continue;
        }
        looked += 1;
        if let Some(edge) = Outline::of_chain(chain).and_then(|outline| model.edge(&outline)) {
            found.push(Size { line: other, edge });
        }
    }
    Ok(sorted_by(found, |size| size.edge.length_mm))
}

/// What was pointed at, to be found in other outlines.
struct Model {
    around: Rect,
    /// The ends with how the outline turns there.
    ends: [(Point, f64); 2],
    middle: Point,
    down: Vec2,
    whole: bool,
    length_mm: f64,
    width_mm: f64,
    scale_off: f64,
}

fn around(outline: &Outline) -> Rect {
    path_of(outline.run.segments(), false, 1.0).bounding_box()
}

/// Whether a value is so many times another.
fn alike(value: f64, to: f64, [least, most]: [f64; 2]) -> bool {
    (least * to..=most * to).contains(&value)
}

impl Model {
    fn of(outline: &Outline, edge: &Edge, pointed: &Chosen) -> Self {
        let end = |at: Point| {
            let (along, _) = outline.pointed(at);
            let corner = outline.corners.iter().find(|corner| (corner.at - along).abs() < 1e-6);
            (outline.run.point(along), corner.map_or(0.0, |corner| corner.turn_deg))
        };
        let line = crate::run::Run::new(edge.over.clone(), false);
        Self {
            around: around(outline),
            ends: pointed.ends.map(end),
            middle: line.map_or(Point::ZERO, |line| line.point(line.length() / 2.0)),
            down: edge.down,
            whole: edge.whole,
            length_mm: edge.length_mm,
            width_mm: edge.width_mm,
            scale_off: pointed.scale_off,
        }
    }

    /// Whether a line may be of another size: a closed one by its box, an open one unless it is a mark.
    fn may_be(&self, drawing: &Drawing, mm_per_unit: f64, line: usize) -> bool {
        let Some(line) = drawing.lines.get(line) else { return false };
        if !line.is_closed() {
            return true;
        }
        let own = line.path.bounding_box().scale_from_origin(mm_per_unit);
        alike(own.width(), self.around.width(), BOX_ALIKE) && alike(own.height(), self.around.height(), BOX_ALIKE)
    }

    /// Whether what a line belongs to is as large as another size may be, where of either only a part may have been followed.
    fn is_as_large(&self, chain: &Chain) -> bool {
        let longer = |around: Rect| around.width().max(around.height());
        let own = longer(path_of(&chain.segments, false, 1.0).bounding_box());
        alike(own, longer(self.around), [LEAST_SHARE, BOX_ALIKE[1] / LEAST_SHARE])
    }

    /// The same edge of another outline, where it has one.
    fn edge(&self, outline: &Outline) -> Option<Edge> {
        let own = around(outline);
        // One in the other, sizes lie where they are; side by side they are held middle to middle.
        let shared = self.around.intersect(own).area().max(0.0);
        let nested = shared >= NESTED_SHARE * self.around.area().min(own.area());
        let moved = if nested { Vec2::ZERO } else { own.center() - self.around.center() };
        let [a, b] = self.ends.map(|(at, turn)| corner(outline, at + moved, turn));
        let (a, b) = (a?, b?);
        let pointed = Chosen {
            ends: [a, b],
            via: Some(self.middle + moved),
            down: (!self.whole).then_some(Down::Along(self.down)),
            whole: Some(self.whole),
            scale_off: self.scale_off,
        };
        let found = edge(outline, &pointed).ok()?;
        let is_alike = alike(found.length_mm, self.length_mm, ALIKE) && alike(found.width_mm, self.width_mm, ALIKE);
        is_alike.then_some(found)
    }
}

/// The corner that is most like another.
fn corner(outline: &Outline, near: Point, turn_deg: f64) -> Option<Point> {
    let ranked = outline.corners.iter().filter_map(|corner| {
        let at = outline.run.point(corner.at);
        let off = at.distance(near);
        // An open end turns by nothing that could be held against a corner.
        let unlike =
            if corner.turn_deg >= 180.0 || turn_deg >= 180.0 { 0.0 } else { (corner.turn_deg - turn_deg).abs() };
        (off <= CORNER_WITHIN_MM).then_some((off + MM_PER_DEGREE * unlike, at))
    });
    ranked.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, at)| at)
}
