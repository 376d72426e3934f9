//! Tiled pages made one drawing: by lines that they share, by the places that the file gives them, or by hand.

use std::collections::HashMap;

use kurbo::{Affine, BezPath, Line as Straight, ParamCurve, PathSeg, Point, Rect, Shape, Vec2};

use crate::drawing::{Drawing, Line};
use crate::order::sorted;
use crate::outline::path_of;

/// How near two copies of a line must lie, mm: a file's rounding, twice.
const COPY_MM: f64 = 0.02;
/// How much of shared line tells where a page belongs, mm.
const SHARED_MM: f64 = 100.0;
/// The gap between pages that are laid side by side, as a share of a page's width.
const GAP_SHARE: f64 = 0.05;
/// Pages that overlap by less than this share of their area are tiles of one plane.
const OVERLAP_SHARE: f64 = 0.25;
/// Most pages that are held against each other.
const MOST_PAGES: usize = 200;

/// How pages came together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Laid {
    /// There is one.
    One,
    /// By lines that pages share, taken once.
    Copies,
    /// By the file's own places.
    OwnPlaces,
    /// By hand.
    ByHand,
    /// Not: side by side.
    Apart,
}

/// Lays pages together as the file itself tells, else side by side. Lines are given by each page's own top left corner.
pub fn lay(drawing: &mut Drawing) -> Laid {
    let pages = drawing.pages.len();
    if pages < 2 {
        return Laid::One;
    }
    if pages <= MOST_PAGES && by_shared_lines(drawing) {
        return Laid::Copies;
    }
    if by_own_places(drawing) {
        return Laid::OwnPlaces;
    }
    let mut x = 0.0;
    let places: Vec<Option<Vec2>> = drawing
        .pages
        .iter()
        .map(|page| {
            let place = Vec2::new(x, 0.0);
            x += page.own.width() * (1.0 + GAP_SHARE);
            Some(place)
        })
        .collect();
    place(drawing, &places);
    Laid::Apart
}

/// Lays pages by hand: each page's top left corner, in the drawing's units; one without a place is left out. Where two pages lie over
/// each other each keeps its half of what they share.
pub fn lay_by_hand(drawing: &mut Drawing, places: &[Option<Vec2>]) {
    let rects: Vec<Option<Rect>> = drawing
        .pages
        .iter()
        .enumerate()
        .map(|(i, page)| places.get(i).copied().flatten().map(|at| page.own.with_origin(at.to_point())))
        .collect();
    let kept: Vec<Option<Rect>> =
        rects.iter().enumerate().map(|(i, own)| own.map(|own| own_part(own, i, &rects))).collect();
    place(drawing, places);
    let lines = core::mem::take(&mut drawing.lines);
    for line in lines {
        let Some(Some(kept)) = kept.get(line.page) else { continue };
        for path in inside(&line.path, *kept) {
            drawing.lines.push(Line { path, ..line.clone() });
        }
    }
}

/// What of a page is its own: up to the middle of each overlap with another.
fn own_part(own: Rect, i: usize, all: &[Option<Rect>]) -> Rect {
    let mut kept = own;
    for other in all.iter().enumerate().filter(|(j, _)| *j != i).filter_map(|(_, other)| *other) {
        let shared = own.intersect(other);
        if shared.width() <= 0.0 || shared.height() <= 0.0 {
            continue;
        }
        let middle = shared.center();
        if shared.width() <= shared.height() {
            if other.center().x > own.center().x {
                kept.x1 = kept.x1.min(middle.x);
            } else {
                kept.x0 = kept.x0.max(middle.x);
            }
        } else if other.center().y > own.center().y {
            kept.y1 = kept.y1.min(middle.y);
        } else {
            kept.y0 = kept.y0.max(middle.y);
        }
    }
    kept
}

/// Moves each page and its lines to its place; a page without one keeps its lines no longer.
fn place(drawing: &mut Drawing, places: &[Option<Vec2>]) {
    for (i, page) in drawing.pages.iter_mut().enumerate() {
        let at = places.get(i).copied().flatten();
        page.place = at.map_or(Rect::ZERO, |at| page.own.with_origin(at.to_point()));
    }
    drawing.lines.retain_mut(|line| {
        let Some(Some(at)) = places.get(line.page) else { return false };
        line.path.apply_affine(Affine::translate(*at));
        true
    });
}

/// By the boxes that the file gives its pages, where these are tiles of one plane.
fn by_own_places(drawing: &mut Drawing) -> bool {
    let own: Vec<Rect> = drawing.pages.iter().map(|page| page.own).collect();
    if own.len() > MOST_PAGES {
        return false;
    }
    for (i, a) in own.iter().enumerate() {
        for b in own.iter().skip(i + 1) {
            let shared = a.intersect(*b);
            let area = shared.width().max(0.0) * shared.height().max(0.0);
            if area > OVERLAP_SHARE * a.area().min(b.area()) {
                return false;
            }
        }
    }
    let all = own.iter().copied().reduce(|all, one| all.union(one)).unwrap_or_default();
    let places: Vec<_> = own.iter().map(|one| Some(one.origin() - all.origin())).collect();
    place(drawing, &places);
    true
}

/// What two copies of a line have in common wherever they lie: its segments' count and its box's size, in steps of the rounding.
type Likeness = (usize, i64, i64);

/// By lines that pages share: each page shows another part of one drawing. False, and nothing is changed, where one shares none.
fn by_shared_lines(drawing: &mut Drawing) -> bool {
    let scale = drawing.mm_per_unit.unwrap_or(1.0);
    let near = COPY_MM / scale;
    let mut shapes: HashMap<Likeness, Vec<usize>> = HashMap::new();
    let boxes: Vec<Rect> = drawing.lines.iter().map(|line| line.path.bounding_box()).collect();
    let shape = |line: &Line, around: &Rect| {
        (line.path.elements().len(), steps(around.width(), near), steps(around.height(), near))
    };
    for (i, (line, around)) in drawing.lines.iter().zip(&boxes).enumerate() {
        shapes.entry(shape(line, around)).or_default().push(i);
    }
    let mut places: Vec<Option<Vec2>> = vec![None; drawing.pages.len()];
    let mut by_page: Vec<Vec<usize>> = vec![Vec::new(); places.len()];
    for (i, line) in drawing.lines.iter().enumerate() {
        if let Some(own) = by_page.get_mut(line.page) {
            own.push(i);
        }
    }
    let with_lines: Vec<usize> = (0..places.len()).filter(|page| !by_page[*page].is_empty()).collect();
    let Some(first) = with_lines.first() else { return false };
    places[*first] = Some(Vec2::ZERO);
    // Each page is held against those that have a place, until none is left that finds one.
    let next = |places: &[Option<Vec2>]| {
        with_lines.iter().filter(|page| places[**page].is_none()).find_map(|page| {
            let found = shared_place(drawing, &boxes, &shapes, places, &by_page[*page], near, SHARED_MM / scale)?;
            Some((*page, found))
        })
    };
    while let Some((page, at)) = next(&places) {
        places[page] = Some(at);
    }
    // A page that shares nothing, such as a cover, lies beside the others; two at least are to share.
    let placed = places.iter().flatten().count();
    if placed < 2 || placed * 2 < with_lines.len() {
        return false;
    }
    let least = places.iter().flatten().fold(Vec2::ZERO, |least, at| Vec2::new(least.x.min(at.x), least.y.min(at.y)));
    let right = drawing
        .pages
        .iter()
        .zip(&places)
        .filter_map(|(page, at)| Some(page.own.width() + (*at)?.x))
        .fold(0.0, f64::max);
    let mut x = right - least.x;
    for (page, at) in drawing.pages.iter().zip(places.iter_mut()) {
        *at = Some(at.map_or_else(|| Vec2::new(x + page.own.width() * GAP_SHARE, 0.0), |at| at - least));
        x = x.max(at.map_or(0.0, |at| at.x + page.own.width()));
    }
    place(drawing, &places);
    take_once(drawing, near);
    true
}

#[expect(clippy::cast_possible_truncation, reason = "what is beyond the last step is like nothing else")]
fn steps(v: f64, step: f64) -> i64 {
    (v / step).round() as i64
}

/// Where a page belongs by the lines that it shares with pages that have a place: where most of its line lies over theirs.
fn shared_place(
    drawing: &Drawing,
    boxes: &[Rect],
    shapes: &HashMap<Likeness, Vec<usize>>,
    places: &[Option<Vec2>],
    own_lines: &[usize],
    near: f64,
    least: f64,
) -> Option<Vec2> {
    let mut votes: HashMap<(i64, i64), (f64, Vec2)> = HashMap::new();
    for (line, own) in own_lines.iter().filter_map(|i| Some((drawing.lines.get(*i)?, boxes.get(*i)?))) {
        let size = own.width().max(own.height());
        let (count, w, h) = (line.path.elements().len(), steps(own.width(), near), steps(own.height(), near));
        // A box's rounding may fall to either side.
        let around =
            (-1..=1).flat_map(|dw| (-1..=1).map(move |dh| (count, w.saturating_add(dw), h.saturating_add(dh))));
        let alike: Vec<usize> = around.filter_map(|shape| shapes.get(&shape)).flatten().copied().collect();
        // What is there many times over, as a dash or a cross, tells no place.
        if alike.len() > 4 * places.len() {
            continue;
        }
        for other in alike {
            let Some(at) = drawing.lines.get(other).and_then(|other| places.get(other.page).copied().flatten()) else {
                continue;
            };
            let moved = boxes[other].origin() - own.origin();
            // A page's own border lies in the same place on every page.
            if moved.hypot() <= near {
                continue;
            }
            let at = at + moved;
            let vote = votes.entry((steps(at.x, 10.0 * near), steps(at.y, 10.0 * near))).or_insert((0.0, at));
            vote.0 += size;
        }
    }
    // Of places with as much, the first: the same file is put together the same way each time.
    let (_, most) = votes.iter().max_by(|(a_at, a), (b_at, b)| a.0.total_cmp(&b.0).then_with(|| b_at.cmp(a_at)))?;
    (most.0 >= least).then_some(most.1)
}

/// Leaves one of lines that lie over each other.
fn take_once(drawing: &mut Drawing, near: f64) {
    let mut seen: HashMap<Likeness, Vec<Rect>> = HashMap::new();
    drawing.lines.retain(|line| {
        let own = line.path.bounding_box();
        let (count, w, h) = (line.path.elements().len(), steps(own.width(), near), steps(own.height(), near));
        let same = |one: &Rect| one.origin().distance(own.origin()) <= 10.0 * near;
        let around =
            (-1..=1).flat_map(|dw| (-1..=1).map(move |dh| (count, w.saturating_add(dw), h.saturating_add(dh))));
        let again = around.into_iter().any(|shape| seen.get(&shape).is_some_and(|boxes| boxes.iter().any(same)));
        if !again {
            seen.entry((count, w, h)).or_default().push(own);
        }
        !again
    });
}

/// The parts of a path that lie in a rectangle, cut exactly at its borders.
fn inside(path: &BezPath, rect: Rect) -> Vec<BezPath> {
    let own = path.control_box();
    if rect.contains_rect(own) {
        return vec![path.clone()];
    }
    let grown = rect.inflate(1e-6, 1e-6);
    let mut parts: Vec<Vec<PathSeg>> = vec![Vec::new()];
    for segment in path.segments() {
        for piece in cut(&segment, rect) {
            let is_in = grown.contains(piece.eval(0.5));
            match parts.last_mut() {
                Some(last) if is_in => last.push(piece),
                Some(last) if !last.is_empty() => parts.push(Vec::new()),
                _ => {}
            }
        }
    }
    parts.into_iter().filter(|part| !part.is_empty()).map(|part| path_of(&part, false, 1.0)).collect()
}

/// A segment cut wherever it crosses a border's line.
fn cut(segment: &PathSeg, rect: Rect) -> Vec<PathSeg> {
    let far = 1e6;
    let borders = [
        (Point::new(rect.x0, -far), Point::new(rect.x0, far)),
        (Point::new(rect.x1, -far), Point::new(rect.x1, far)),
        (Point::new(-far, rect.y0), Point::new(far, rect.y0)),
        (Point::new(-far, rect.y1), Point::new(far, rect.y1)),
    ];
    let crossed = borders.into_iter().flat_map(|(a, b)| segment.intersect_line(Straight::new(a, b)));
    let mut stops: Vec<f64> = crossed.map(|hit| hit.segment_t).filter(|t| *t > 1e-9 && *t < 1.0 - 1e-9).collect();
    stops.push(0.0);
    stops.push(1.0);
    let stops = sorted(&stops);
    stops.windows(2).filter(|pair| pair[1] > pair[0]).map(|pair| segment.subsegment(pair[0]..pair[1])).collect()
}
