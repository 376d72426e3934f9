//! What is drawn: each entity as a path, in its block's coordinates, y up.

use core::f64::consts::TAU;

use kurbo::{Affine, Arc, BezPath, Point, Vec2};

use super::pairs::{Pairs, Record};
use super::spline;
use crate::messages::{MOST_SEGMENTS, Refused};
use crate::round::{add_arc, arc_path, whole};

/// What an entity has in common with others.
#[derive(Debug, Clone)]
pub(crate) struct Entity {
    pub(crate) layer: String,
    /// Its colour's number; 256 is the layer's, 0 the insertion's.
    pub(crate) colour: i32,
    pub(crate) linetype: String,
    /// Hundredths of a millimetre; less than zero where it has none of its own.
    pub(crate) weight: i32,
}

/// A block as it is inserted.
#[derive(Debug)]
pub(crate) struct Insert {
    pub(crate) name: String,
    place: Affine,
    /// Columns and rows, and how far apart.
    array: [u32; 2],
    apart: Vec2,
}

/// A thing in a drawing or a block.
#[derive(Debug)]
pub(crate) enum Thing {
    Line(Entity, BezPath),
    Insert(Entity, Insert),
}

/// All things up to what ends them.
pub(crate) fn things(pairs: &mut Pairs<'_>, ends: &str) -> Result<Vec<Thing>, Refused> {
    let mut all = Vec::new();
    while let Some(record) = pairs.record(ends)? {
        let entity = record.entity();
        check_whole(&record)?;
        if record.kind == "INSERT" {
            all.extend(insert(&record)?.map(|insert| Thing::Insert(entity, insert)));
            continue;
        }
        let path = match record.kind {
            "LINE" => line(&record),
            "LWPOLYLINE" => Some(polyline(&record)),
            "POLYLINE" => Some(old_polyline(&record, pairs)?),
            "ARC" => arc(&record),
            "CIRCLE" => circle(&record),
            "ELLIPSE" => ellipse(&record),
            "SPLINE" => spline::path(&record)?,
            _ => None,
        };
        all.extend(path.filter(BezPath::is_finite).map(|path| Thing::Line(entity, flipped(&record) * path)));
        if all.len() > MOST_SEGMENTS {
            return Err(Refused::TooMuch { most: MOST_SEGMENTS });
        }
    }
    Ok(all)
}

/// Refuses a thing that lacks a number it cannot be drawn without, by the published reference: it would be drawn as another, or left
/// out, and nobody told.
fn check_whole(record: &Record<'_>) -> Result<(), Refused> {
    let needed: &[i32] = match record.kind {
        "LINE" => &[10, 20, 11, 21],
        "ARC" => &[10, 20, 40, 50, 51],
        "CIRCLE" => &[10, 20, 40],
        "ELLIPSE" => &[10, 20, 11, 21, 40],
        "INSERT" | "VERTEX" => &[10, 20],
        "LWPOLYLINE" | "SPLINE" => &[],
        _ => return Ok(()),
    };
    let many = |code| record.numbers(code).count();
    let is_whole = needed.iter().all(|code| many(*code) > 0) && many(10) == many(20) && many(11) == many(21);
    if is_whole { Ok(()) } else { Err(record.broken()) }
}

/// Flat entities may be seen from below: then their x runs the other way. Lines, ellipses and splines are told in the drawing's own
/// coordinates all the same.
fn flipped(record: &Record<'_>) -> Affine {
    let is_flat = !matches!(record.kind, "LINE" | "ELLIPSE" | "SPLINE");
    if is_flat && record.number(230).is_some_and(|z| z < 0.0) { Affine::FLIP_X } else { Affine::IDENTITY }
}

fn point(record: &Record<'_>, code: i32) -> Option<Point> {
    Some(Point::new(record.number(code)?, record.number(code + 10)?))
}

fn line(record: &Record<'_>) -> Option<BezPath> {
    let mut path = BezPath::new();
    path.move_to(point(record, 10)?);
    path.line_to(point(record, 11)?);
    Some(path)
}

fn circle(record: &Record<'_>) -> Option<BezPath> {
    let r = record.number(40).filter(|r| *r > 0.0)?;
    Some(whole(point(record, 10)?, Vec2::new(r, r)))
}

/// Counter-clockwise from its start to its end, in degrees.
fn arc(record: &Record<'_>) -> Option<BezPath> {
    let r = record.number(40).filter(|r| *r > 0.0)?;
    let (from, to) = (record.number(50)?.to_radians(), record.number(51)?.to_radians());
    let arc = Arc {
        center: point(record, 10)?,
        radii: Vec2::new(r, r),
        start_angle: from,
        sweep_angle: round(from, to),
        x_rotation: 0.0,
    };
    Some(arc_path(&arc, false))
}

/// From one angle on to the next; all round where they are one.
fn round(from: f64, to: f64) -> f64 {
    let sweep = (to - from).rem_euclid(TAU);
    if sweep > 0.0 { sweep } else { TAU }
}

/// By its middle, its longer half axis as a vector, the ratio of the two, and where it starts and ends by its own parameter.
fn ellipse(record: &Record<'_>) -> Option<BezPath> {
    let axis = point(record, 11)?.to_vec2();
    let ratio = record.number(40)?;
    let (from, to) = (record.number(41).unwrap_or(0.0), record.number(42).unwrap_or(TAU));
    // Seen from below it runs the other way round.
    let below = record.number(230).is_some_and(|z| z < 0.0);
    let radii = Vec2::new(axis.hypot(), axis.hypot() * ratio.abs() * if below { -1.0 } else { 1.0 });
    if radii.x <= 0.0 || radii.y == 0.0 {
        return None;
    }
    let sweep = round(from, to);
    let closed = (sweep - TAU).abs() < 1e-9;
    let arc =
        Arc { center: point(record, 10)?, radii, start_angle: from, sweep_angle: sweep, x_rotation: axis.atan2() };
    Some(arc_path(&arc, closed))
}

/// A corner of a polyline, and how far what follows bulges.
#[derive(Debug, Clone, Copy)]
struct Vertex {
    at: Point,
    bulge: f64,
}

fn polyline(record: &Record<'_>) -> BezPath {
    let mut vertices: Vec<Vertex> = Vec::new();
    for pair in &record.pairs {
        let value = || pair.real.unwrap_or(f64::NAN);
        match (pair.code, vertices.last_mut()) {
            (10, _) => vertices.push(Vertex { at: Point::new(value(), 0.0), bulge: 0.0 }),
            (20, Some(last)) => last.at.y = value(),
            (42, Some(last)) => last.bulge = value(),
            _ => {}
        }
    }
    through(&vertices, record.integer(70).unwrap_or(0) & 1 != 0)
}

/// A polyline as it was written up to R12: its corners are things of their own, up to one that ends them.
fn old_polyline(record: &Record<'_>, pairs: &mut Pairs<'_>) -> Result<BezPath, Refused> {
    let flags = record.integer(70).unwrap_or(0);
    let mut vertices = Vec::new();
    while let Some(vertex) = pairs.record("SEQEND")? {
        // Of a smoothed one the frame is passed over; what was smoothed is there as well.
        let is_frame = vertex.integer(70).unwrap_or(0) & 16 != 0;
        check_whole(&vertex)?;
        if vertex.kind == "VERTEX"
            && !is_frame
            && let Some(at) = point(&vertex, 10)
        {
            vertices.push(Vertex { at, bulge: vertex.number(42).unwrap_or(0.0) });
        }
    }
    // What follows the end is its own: a layer, nothing that is drawn. A mesh is no line.
    Ok(if flags & (16 | 64) != 0 { BezPath::new() } else { through(&vertices, flags & 1 != 0) })
}

/// A path through corners, bulges as arcs: a bulge is the tangent of a quarter of the arc's angle, positive to the left.
fn through(vertices: &[Vertex], closed: bool) -> BezPath {
    let mut path = BezPath::new();
    let Some(first) = vertices.first() else { return path };
    path.move_to(first.at);
    for pair in vertices.windows(2) {
        bulged(&mut path, pair[0], pair[1].at);
    }
    if let (true, Some(last)) = (closed && vertices.len() > 1, vertices.last()) {
        if last.bulge != 0.0 {
            bulged(&mut path, *last, first.at);
        }
        path.close_path();
    }
    path
}

fn bulged(path: &mut BezPath, from: Vertex, to: Point) {
    let chord = to - from.at;
    let bulge = from.bulge;
    if bulge.abs() < 1e-9 || chord.hypot() == 0.0 {
        path.line_to(to);
        return;
    }
    // The middle lies aside of the chord's, by the chord times (1 - b^2) / 4b, to the left where the arc runs counter-clockwise.
    let aside = Vec2::new(-chord.y, chord.x) * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let center = from.at.midpoint(to) + aside;
    let start = from.at - center;
    let radii = Vec2::new(start.hypot(), start.hypot());
    let arc = Arc { center, radii, start_angle: start.atan2(), sweep_angle: 4.0 * bulge.atan(), x_rotation: 0.0 };
    add_arc(path, &arc);
    // The arc ends where it was said to, to the last digit.
    if let Some(kurbo::PathEl::CurveTo(a, b, _)) = path.pop() {
        path.curve_to(a, b, to);
    }
}

/// Most columns and rows of one insertion.
const MOST_ARRAY: u32 = 1000;

fn insert(record: &Record<'_>) -> Result<Option<Insert>, Refused> {
    let Some(at) = point(record, 10) else { return Ok(None) };
    let scale = |code| record.number(code).unwrap_or(1.0);
    let turn = record.number(50).unwrap_or(0.0).to_radians();
    let place = flipped(record) * Affine::translate(at.to_vec2()) * Affine::rotate(turn);
    let many = |code| match u32::try_from(record.integer(code).unwrap_or(1)).unwrap_or(1).max(1) {
        n if n > MOST_ARRAY => Err(Refused::TooMuch { most: MOST_SEGMENTS }),
        n => Ok(n),
    };
    let sized = Affine::scale_non_uniform(scale(41), scale(42));
    let insert = Insert {
        name: record.text(2).to_owned(),
        place: place * sized,
        array: [many(70)?, many(71)?],
        apart: Vec2::new(record.number(44).unwrap_or(0.0) / scale(41), record.number(45).unwrap_or(0.0) / scale(42)),
    };
    Ok(insert.place.is_finite().then_some(insert))
}

impl Insert {
    /// Where it is inserted: once, or in columns and rows.
    pub(crate) fn places(&self) -> impl Iterator<Item = Affine> + '_ {
        let [columns, rows] = self.array;
        let cells = (0..rows).flat_map(move |row| (0..columns).map(move |column| (column, row)));
        cells.map(|(column, row)| {
            self.place * Affine::translate((self.apart.x * f64::from(column), self.apart.y * f64::from(row)))
        })
    }
}
