//! SVG: shapes, transforms, units, `use`, and as much of CSS as tells one kind of line from another.
//!
//! Only what is drawn is read, by the published standard (SVG 2, CSS 2); attributes that belong to a program are passed over, as is
//! text. What is not displayed is read all the same: its layer is off.

mod scan;
mod style;

use std::collections::HashMap;

use kurbo::{Affine, Arc, BezPath, Point, Rect, Vec2};
use lieflat::path::{PathStop, read_path_of};
use lieflat_bring::{Drawing, LineOf, Page, Style, filled};
use roxmltree::{Document, Node, ParsingOptions, TextPos};

use crate::messages::{MOST_SEGMENTS, Refused};
use crate::round::{add_arc, whole};
use scan::{Scan, transform, with_unit};
use style::{Look, Sheet, told};

/// Most elements that are visited, those that `use` shows again counted again.
const MOST_VISITED: usize = 200_000;
/// Deepest nesting, `use` counted.
const DEEPEST: usize = 200;
/// Most named groups around a line that are told apart, from the outermost.
const MOST_GROUPS: usize = 8;
/// Most nodes of the text itself.
const MOST_NODES: u32 = 1_500_000;

/// A millimetre, in CSS pixels of 1/96 inch.
const PX_PER_MM: f64 = 96.0 / 25.4;

/// A unit's length in CSS pixels; none for units that hang on something else.
fn px(unit: &str) -> Option<f64> {
    match unit {
        "" | "px" => Some(1.0),
        "mm" => Some(PX_PER_MM),
        "cm" => Some(10.0 * PX_PER_MM),
        "q" => Some(PX_PER_MM / 4.0),
        "in" => Some(96.0),
        "pt" => Some(96.0 / 72.0),
        "pc" => Some(16.0),
        _ => None,
    }
}

/// Reads a file.
///
/// # Errors
/// A [`Refused`] where it is no SVG, is damaged, or is too much.
pub fn read(text: &str) -> Result<Drawing, Refused> {
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|e| refused(&e))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(Refused::OtherKind);
    }
    let mut sheet = Sheet::default();
    for node in root.descendants().filter(|node| node.tag_name().name() == "style") {
        for text in node.children().filter_map(|child| child.text()) {
            sheet.read(text)?;
        }
    }
    let named = root.descendants().filter_map(|node| Some((node.attribute("id")?, node))).collect();
    let mut reader = Reader {
        sheet,
        named,
        drawing: Drawing::default(),
        groups: Vec::new(),
        of_line: Vec::new(),
        visited: 0,
        segments: 0,
        pictures: false,
    };
    let view = View::of_root(root);
    reader.drawing.mm_per_unit = view.mm_per_unit;
    let place = Rect::from_origin_size(Point::ZERO, (view.width, view.height));
    reader.drawing.pages.push(Page { place, own: place });
    let look = reader.sheet.look(root, &Look::default());
    let to_drawing = moved(root, &look)? * view.to_drawing;
    let inside = Inside { to_drawing, look, size: view.size, depth: 0 };
    reader.children(root, &inside)?;
    let pictures = reader.pictures;
    let drawing = reader.finished();
    match (drawing.lines.is_empty(), pictures) {
        (false, _) => Ok(drawing),
        (true, true) => Err(Refused::ScanOnly),
        (true, false) => Err(Refused::NoLines),
    }
}

fn broken_at(place: TextPos) -> Refused {
    usize::try_from(place.row).map_or(Refused::Broken, |line| Refused::BrokenAt { line })
}

fn refused(error: &roxmltree::Error) -> Refused {
    use roxmltree::Error;
    match error {
        Error::UnclosedRootNode | Error::UnexpectedEndOfStream => Refused::CutShort,
        Error::NodesLimitReached | Error::EntityReferenceLoop(_) | Error::AttributesLimitReached => {
            Refused::TooMuch { most: MOST_SEGMENTS }
        }
        other => broken_at(other.pos()),
    }
}

/// How the root's user units come to lie in the drawing.
struct View {
    mm_per_unit: Option<f64>,
    /// The drawing's own.
    width: f64,
    height: f64,
    to_drawing: Affine,
    /// What percentages are of, in user units.
    size: Vec2,
}

impl View {
    /// With a physical width or height the drawing is in mm; else in user units, whose size is not known.
    fn of_root(root: Node<'_, '_>) -> Self {
        // A style's own measure goes over the attribute's.
        let styled = told(root.attribute("style").unwrap_or_default());
        let side = |name: &str| {
            let of_style = styled.iter().rev().find(|(one, _)| one == name).and_then(|(_, value)| with_unit(value));
            of_style.or_else(|| root.attribute(name).and_then(with_unit))
        };
        let physical = |side: &Option<(f64, String)>| {
            let (value, unit) = side.as_ref()?;
            let is_screens = matches!(unit.as_str(), "" | "px");
            Some(value * px(unit)? / PX_PER_MM).filter(|mm| !is_screens && *mm > 0.0)
        };
        let (width, height) = (side("width"), side("height"));
        let known = physical(&width).or_else(|| physical(&height)).is_some();
        // Beside a physical side the other's pixels are CSS's, of 1/96 inch.
        let in_mm = |side: &Option<(f64, String)>| {
            physical(side).or_else(|| {
                let (value, unit) = side.as_ref()?;
                Some(value * px(unit)? / PX_PER_MM).filter(|mm| known && *mm > 0.0)
            })
        };
        let (width_mm, height_mm) = (in_mm(&width), in_mm(&height));
        let view_box = view_box(root);
        let plain = |side: &Option<(f64, String)>| {
            side.as_ref().filter(|(v, unit)| *v > 0.0 && px(unit).is_some()).map(|(v, _)| *v)
        };
        let Some(shown) = view_box else {
            // Without a viewBox a user unit is a CSS pixel.
            let scale = if known { 1.0 / PX_PER_MM } else { 1.0 };
            let [w, h] = [(width_mm, &width), (height_mm, &height)]
                .map(|(mm, side)| if known { mm } else { plain(side) }.unwrap_or(0.0));
            let size = Vec2::new(w, h) / scale;
            return Self {
                mm_per_unit: known.then_some(1.0),
                width: w,
                height: h,
                to_drawing: Affine::scale(scale),
                size,
            };
        };
        let size = Vec2::new(shown.width(), shown.height());
        if !known {
            // Of what size it is does not matter, but where it is stretched its shape does.
            let stretched = root.attribute("preserveAspectRatio").unwrap_or_default().contains("none");
            let pixels = plain(&width).zip(plain(&height)).filter(|_| stretched);
            let (w, h) = pixels.unwrap_or((size.x, size.y));
            return Self { mm_per_unit: None, width: w, height: h, to_drawing: fitted(root, shown, w, h), size };
        }
        // A side that is not told follows the other, as the picture keeps its shape.
        let w = width_mm.unwrap_or_else(|| height_mm.unwrap_or(0.0) * size.x / size.y);
        let h = height_mm.unwrap_or(w * size.y / size.x);
        let to_drawing = fitted(root, shown, w, h);
        Self { mm_per_unit: Some(1.0), width: w, height: h, to_drawing, size }
    }
}

fn view_box(node: Node<'_, '_>) -> Option<Rect> {
    let numbers = Scan::new(node.attribute("viewBox")?).numbers();
    let [x, y, w, h] = numbers.as_slice() else { return None };
    (*w > 0.0 && *h > 0.0).then(|| Rect::new(*x, *y, x + w, y + h))
}

/// A viewBox as it is fitted into a place of this size at the origin.
fn fitted(node: Node<'_, '_>, shown: Rect, width: f64, height: f64) -> Affine {
    let how = node.attribute("preserveAspectRatio").unwrap_or_default();
    let (mut x, mut y) = (width / shown.width(), height / shown.height());
    if !how.contains("none") {
        let both = if how.contains("slice") { x.max(y) } else { x.min(y) };
        (x, y) = (both, both);
    }
    let share = |least: &str, most: &str| {
        if how.contains(least) {
            0.0
        } else if how.contains(most) {
            1.0
        } else {
            0.5
        }
    };
    let spare = Vec2::new(
        (width - shown.width() * x) * share("xMin", "xMax"),
        (height - shown.height() * y) * share("YMin", "YMax"),
    );
    Affine::translate(spare) * Affine::scale_non_uniform(x, y) * Affine::translate(-shown.origin().to_vec2())
}

/// What holds inside an element.
#[derive(Clone)]
struct Inside {
    to_drawing: Affine,
    look: Look,
    /// What percentages are of, in user units.
    size: Vec2,
    depth: usize,
}

struct Reader<'a, 'input> {
    sheet: Sheet<'a>,
    named: HashMap<&'a str, Node<'a, 'input>>,
    drawing: Drawing,
    /// The groups with a name that the walk is in, the outermost first: name, and whether it is shown.
    groups: Vec<(String, bool)>,
    /// The same of each line, and whether the line itself is shown.
    of_line: Vec<Vec<(String, bool)>>,
    visited: usize,
    segments: usize,
    pictures: bool,
}

impl<'a, 'input> Reader<'a, 'input> {
    fn children(&mut self, node: Node<'a, 'input>, inside: &Inside) -> Result<(), Refused> {
        for child in node.children().filter(Node::is_element) {
            self.element(child, inside)?;
        }
        Ok(())
    }

    fn element(&mut self, node: Node<'a, 'input>, outside: &Inside) -> Result<(), Refused> {
        // Each is held against every rule of the style sheets.
        self.visited += 1 + self.sheet.weight();
        if self.visited > MOST_VISITED || outside.depth > DEEPEST {
            return Err(Refused::TooMuch { most: MOST_SEGMENTS });
        }
        let name = node.tag_name().name();
        if matches!(
            name,
            "defs"
                | "symbol"
                | "clipPath"
                | "mask"
                | "marker"
                | "pattern"
                | "text"
                | "style"
                | "title"
                | "desc"
                | "metadata"
        ) {
            return Ok(());
        }
        let mut inside = outside.clone();
        inside.depth += 1;
        inside.look = self.sheet.look(node, &outside.look);
        inside.to_drawing *= moved(node, &inside.look)?;
        check_measures(node)?;
        match name {
            "g" | "a" | "switch" => self.group(node, &inside),
            "svg" => self.nested(node, node, &inside),
            "use" => self.used(node, &inside),
            "image" => {
                self.pictures = true;
                Ok(())
            }
            _ => match shape(node, inside.size)? {
                Some(path) => self.line(&path, &inside),
                None => Ok(()),
            },
        }
    }

    /// A group; one with a title or an id may be a layer.
    fn group(&mut self, node: Node<'a, 'input>, inside: &Inside) -> Result<(), Refused> {
        let title = node.children().find(|child| child.tag_name().name() == "title").and_then(|title| title.text());
        let name = title.map(str::trim).filter(|title| !title.is_empty()).or_else(|| node.attribute("id"));
        if let Some(name) = name {
            self.groups.push((name.chars().take(80).collect(), inside.look.on));
        }
        self.children(node, inside)?;
        if name.is_some() {
            self.groups.pop();
        }
        Ok(())
    }

    /// An `svg` in another, or a `symbol`: it has a place and a viewBox of its own. Its place is what `placed` says.
    fn nested(&mut self, node: Node<'a, 'input>, placed: Node<'a, 'input>, inside: &Inside) -> Result<(), Refused> {
        let mut inner = inside.clone();
        let [x, y] =
            [length(placed, "x", inside.size.x).unwrap_or(0.0), length(placed, "y", inside.size.y).unwrap_or(0.0)];
        let side =
            |name, of| length(placed, name, of).or_else(|| length(node, name, of)).filter(|v| *v > 0.0).unwrap_or(of);
        let (width, height) = (side("width", inside.size.x), side("height", inside.size.y));
        inner.to_drawing *= Affine::translate((x, y));
        if let Some(shown) = view_box(node) {
            inner.to_drawing *= fitted(node, shown, width, height);
            inner.size = Vec2::new(shown.width(), shown.height());
        } else {
            inner.size = Vec2::new(width, height);
        }
        self.children(node, &inner)
    }

    fn used(&mut self, node: Node<'a, 'input>, inside: &Inside) -> Result<(), Refused> {
        let href = node.attribute("href").or_else(|| node.attribute(("http://www.w3.org/1999/xlink", "href")));
        let Some(target) = href.and_then(|href| self.named.get(href.strip_prefix('#')?)).copied() else {
            return Ok(());
        };
        if matches!(target.tag_name().name(), "svg" | "symbol") {
            let mut inner = inside.clone();
            inner.look = self.sheet.look(target, &inside.look);
            inner.to_drawing *= moved(target, &inner.look)?;
            return self.nested(target, node, &inner);
        }
        let mut placed = inside.clone();
        let [x, y] = [length(node, "x", inside.size.x).unwrap_or(0.0), length(node, "y", inside.size.y).unwrap_or(0.0)];
        placed.to_drawing *= Affine::translate((x, y));
        self.element(target, &placed)
    }

    fn line(&mut self, path: &BezPath, inside: &Inside) -> Result<(), Refused> {
        let Look { stroke, fill, width, dash, .. } = &inside.look;
        let Some(colour) = stroke.or(*fill) else { return Ok(()) };
        let size = inside.to_drawing.determinant().abs().sqrt();
        let width = if stroke.is_some() { width * size } else { 0.0 };
        let dash = if stroke.is_some() { dash.iter().map(|v| v * size).collect() } else { Vec::new() };
        let style = self.drawing.style(&Style { colour, width, dash });
        // What is filled is closed by that.
        let path = if stroke.is_some() { inside.to_drawing * path } else { inside.to_drawing * filled(path) };
        self.segments += self.drawing.add(&path, &LineOf { style, ..LineOf::default() });
        let mut groups: Vec<_> = self.groups.iter().take(MOST_GROUPS).cloned().collect();
        if let Some(last) = groups.last_mut() {
            last.1 = inside.look.on;
        }
        self.of_line.resize(self.drawing.lines.len(), groups);
        if self.segments > MOST_SEGMENTS { Err(Refused::TooMuch { most: MOST_SEGMENTS }) } else { Ok(()) }
    }

    /// Makes layers of groups: of the outermost that do not hold everything.
    fn finished(mut self) -> Drawing {
        let first = self.of_line.first().map(Vec::as_slice).unwrap_or_default();
        let same = |depth: &usize| {
            let name = first.get(*depth).map(|(name, _)| name);
            self.of_line.iter().all(|groups| groups.get(*depth).map(|(name, _)| name) == name)
        };
        let common = (0..first.len()).take_while(same).count();
        // All in one group: that one is the layer.
        let depth = if common == first.len() { common.saturating_sub(1) } else { common };
        for i in 0..self.drawing.lines.len() {
            let Some((name, on)) = self.of_line.get(i).and_then(|groups| groups.get(depth)).cloned() else { continue };
            let layer = self.drawing.layer(&name, on);
            if let Some(line) = self.drawing.lines.get_mut(i) {
                line.layer = Some(layer);
            }
        }
        self.drawing
    }
}

/// A length of an element in user units; a percentage is of `whole`.
fn length(node: Node<'_, '_>, name: &str, whole: f64) -> Option<f64> {
    let (value, unit) = with_unit(node.attribute(name)?)?;
    if unit == "%" { Some(value / 100.0 * whole) } else { px(&unit).map(|px| value * px) }
}

/// Attributes that say where a shape lies and how large it is.
const MEASURES: [&str; 13] = ["x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "rx", "ry", "width", "height"];

/// That an element's measures can all be read: one that cannot would leave the shape elsewhere.
fn check_measures(node: Node<'_, '_>) -> Result<(), Refused> {
    let is_read = |text: &str| {
        text.trim() == "auto" || with_unit(text).is_some_and(|(_, unit)| unit == "%" || px(&unit).is_some())
    };
    if MEASURES.iter().filter_map(|name| node.attribute(*name)).all(is_read) { Ok(()) } else { Err(broken(node)) }
}

/// What an element's style or its attribute moves it by.
fn moved(node: Node<'_, '_>, look: &Look) -> Result<Affine, Refused> {
    let moved = look.transform.as_deref().or_else(|| node.attribute("transform"));
    transform(moved.unwrap_or_default()).ok_or_else(|| broken(node))
}

/// The file is damaged where this element stands.
fn broken(node: Node<'_, '_>) -> Refused {
    broken_at(node.document().text_pos_at(node.range().start))
}

/// The curve of a path: all of it, where it can be read.
fn path(node: Node<'_, '_>) -> Result<Option<BezPath>, Refused> {
    match node.attribute("d").filter(|text| text.trim() != "none").map(|text| read_path_of(text, MOST_SEGMENTS)) {
        None => Ok(None),
        Some(Ok(path)) => Ok(Some(path)),
        Some(Err(PathStop::TooLong { .. })) => Err(Refused::TooMuch { most: MOST_SEGMENTS }),
        Some(Err(_)) => Err(broken(node)),
    }
}

/// The curve of a basic shape or a path; none of what is no shape, or of no size.
fn shape(node: Node<'_, '_>, size: Vec2) -> Result<Option<BezPath>, Refused> {
    let points =
        |closed| node.attribute("points").map(|text| polyline(text, closed).ok_or_else(|| broken(node))).transpose();
    match node.tag_name().name() {
        "path" => path(node),
        "polyline" => points(false),
        "polygon" => points(true),
        _ => Ok(basic(node, size)),
    }
}

/// The curve of a shape that is told by its measures.
fn basic(node: Node<'_, '_>, size: Vec2) -> Option<BezPath> {
    let across = |name| length(node, name, size.x);
    let down = |name| length(node, name, size.y);
    let round = |name| length(node, name, size.hypot() / core::f64::consts::SQRT_2).filter(|v| *v >= 0.0);
    let centre = || Point::new(across("cx").unwrap_or(0.0), down("cy").unwrap_or(0.0));
    match node.tag_name().name() {
        "line" => {
            let mut path = BezPath::new();
            path.move_to((across("x1").unwrap_or(0.0), down("y1").unwrap_or(0.0)));
            path.line_to((across("x2").unwrap_or(0.0), down("y2").unwrap_or(0.0)));
            Some(path)
        }
        "circle" => Some(round("r").map(|r| whole(centre(), Vec2::new(r, r)))?),
        "ellipse" => {
            let (rx, ry) = (across("rx").or_else(|| down("ry"))?, down("ry").or_else(|| across("rx"))?);
            Some(whole(centre(), Vec2::new(rx, ry)))
        }
        "rect" => {
            let (w, h) = (across("width").filter(|v| *v > 0.0)?, down("height").filter(|v| *v > 0.0)?);
            let origin = Point::new(across("x").unwrap_or(0.0), down("y").unwrap_or(0.0));
            let (rx, ry) = (across("rx").or_else(|| down("ry")), down("ry").or_else(|| across("rx")));
            Some(rectangle(
                origin,
                w,
                h,
                rx.unwrap_or(0.0).min(w / 2.0).max(0.0),
                ry.unwrap_or(0.0).min(h / 2.0).max(0.0),
            ))
        }
        _ => None,
    }
}

/// Straight lines through points; none where they are not pairs of numbers to the end.
fn polyline(points: &str, closed: bool) -> Option<BezPath> {
    let mut path = BezPath::new();
    let mut scan = Scan::new(points);
    while !scan.is_over() {
        let to = Point::new(scan.number()?, scan.number()?);
        if path.elements().is_empty() { path.move_to(to) } else { path.line_to(to) }
    }
    if closed && !path.elements().is_empty() {
        path.close_path();
    }
    Some(path)
}

/// A rectangle whose corners are rounded by quarters of ellipses.
fn rectangle(origin: Point, w: f64, h: f64, rx: f64, ry: f64) -> BezPath {
    let mut path = BezPath::new();
    let at = |x, y| origin + Vec2::new(x, y);
    if rx <= 0.0 || ry <= 0.0 {
        path.extend([
            kurbo::PathEl::MoveTo(origin),
            kurbo::PathEl::LineTo(at(w, 0.0)),
            kurbo::PathEl::LineTo(at(w, h)),
        ]);
        path.line_to(at(0.0, h));
        path.close_path();
        return path;
    }
    let quarter = core::f64::consts::FRAC_PI_2;
    path.move_to(at(rx, 0.0));
    let corners = [
        (at(w - rx, 0.0), at(w - rx, ry)),
        (at(w, h - ry), at(w - rx, h - ry)),
        (at(rx, h), at(rx, h - ry)),
        (at(0.0, ry), at(rx, ry)),
    ];
    for ((start, center), turn) in corners.into_iter().zip([-1.0, 0.0, 1.0, 2.0]) {
        path.line_to(start);
        let arc = Arc {
            center,
            radii: Vec2::new(rx, ry),
            start_angle: turn * quarter,
            sweep_angle: quarter,
            x_rotation: 0.0,
        };
        add_arc(&mut path, &arc);
    }
    path.close_path();
    path
}
