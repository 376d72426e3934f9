//! What a page draws, followed through its content and the forms that it uses.

use hayro_syntax::content::{Instruction, UntypedIter};
use hayro_syntax::object::{Array, Dict, Name, Number, Object, Stream};
use hayro_syntax::page::{Page as PdfPage, Resources};
use kurbo::{Affine, BezPath, PathEl, Point};
use lieflat_bring::{Drawing, LineOf, Style, filled};

use super::layers::Layers;
use super::numbers;
use crate::byte::byte;
use crate::messages::{MOST_SEGMENTS, Refused};

/// Deepest nesting of forms.
const DEEPEST_FORMS: usize = 16;
/// Most forms, counted each time they are used.
const MOST_FORMS: usize = 20_000;
/// Most states that are kept at once.
const MOST_STATES: usize = 1000;
/// Most instructions in all.
const MOST_INSTRUCTIONS: usize = 6_000_000;
/// Most bytes of content in all, forms counted each time they are used.
const MOST_CONTENT: usize = 96_000_000;
/// Most dashes and gaps that are told apart.
const MOST_DASHES: usize = 12;

/// How things are drawn.
#[derive(Debug, Clone)]
struct State {
    to_drawing: Affine,
    stroke: [u8; 3],
    fill: [u8; 3],
    width: f64,
    dash: Vec<f64>,
}

/// What has been drawn so far.
pub(super) struct Drawn {
    pub(super) drawing: Drawing,
    pub(super) has_pictures: bool,
    layers: Layers,
    instructions: usize,
    content: usize,
    forms: usize,
    segments: usize,
}

/// What is being followed: a page, or a form on it.
struct Following<'r, 'a> {
    resources: &'r Resources<'a>,
    state: State,
    kept: Vec<State>,
    path: BezPath,
    /// Where the path is, and where its part began.
    at: Point,
    began: Point,
    /// The layers that marked content is in, one for each mark; none for a mark that is no layer.
    marks: Vec<Option<usize>>,
    /// The layer of the form itself.
    layer: Option<usize>,
    depth: usize,
}

impl Drawn {
    pub(super) fn new(layers: Layers) -> Self {
        Self {
            drawing: Drawing::default(),
            has_pictures: false,
            layers,
            instructions: 0,
            content: 0,
            forms: 0,
            segments: 0,
        }
    }

    /// Follows a page.
    pub(super) fn page(&mut self, page: &PdfPage<'_>, to_drawing: Affine) -> Result<(), Refused> {
        let state = State { to_drawing, stroke: [0; 3], fill: [0; 3], width: 1.0, dash: Vec::new() };
        let mut following = Following::new(page.resources(), state, None, 0);
        let Some(content) = page.page_stream() else { return Ok(()) };
        self.follow(content, &mut following)
    }

    fn follow(&mut self, content: &[u8], following: &mut Following<'_, '_>) -> Result<(), Refused> {
        let too_much = Err(Refused::TooMuch { most: MOST_SEGMENTS });
        self.content += content.len();
        if self.content > MOST_CONTENT {
            return too_much;
        }
        let mut instructions = UntypedIter::new(content);
        while let Some(instruction) = instructions.next() {
            self.instructions += 1;
            if self.instructions > MOST_INSTRUCTIONS
                || self.segments > MOST_SEGMENTS
                || following.path.elements().len() > MOST_SEGMENTS
            {
                return too_much;
            }
            self.act(&instruction, following)?;
        }
        Ok(())
    }

    fn act(&mut self, instruction: &Instruction<'_, '_>, on: &mut Following<'_, '_>) -> Result<(), Refused> {
        let operator: &[u8] = instruction.operator;
        match operator {
            b"S" | b"s" | b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*" | b"n" => self.paint(operator, on),
            b"BDC" | b"BMC" => {
                if on.marks.len() >= MOST_STATES {
                    return Err(Refused::TooMuch { most: MOST_SEGMENTS });
                }
                let layer = self.marked(instruction, on);
                on.marks.push(layer);
            }
            b"EMC" => {
                on.marks.pop();
            }
            b"BI" | b"sh" => self.has_pictures |= operator == b"BI",
            b"Do" => return self.object(instruction, on),
            b"gs" => on.graphics_state(instruction),
            b"q" | b"Q" | b"cm" | b"w" | b"d" => return on.set(operator, instruction),
            b"m" | b"l" | b"c" | b"v" | b"y" | b"h" | b"re" => return on.draw(operator, instruction),
            _ => on.colour(operator, instruction),
        }
        Ok(())
    }

    /// Ends a path and paints it; one that only clips is dropped.
    fn paint(&mut self, operator: &[u8], on: &mut Following<'_, '_>) {
        let mut path = core::mem::take(&mut on.path);
        let strokes = matches!(operator, b"S" | b"s" | b"B" | b"B*" | b"b" | b"b*");
        if operator == b"n" || path.elements().is_empty() {
            return;
        }
        if matches!(operator, b"s" | b"b" | b"b*") && !matches!(path.elements().last(), Some(PathEl::ClosePath)) {
            path.close_path();
        }
        let State { to_drawing, stroke, fill, width, dash } = &on.state;
        let size = to_drawing.determinant().abs().sqrt();
        let style = if strokes {
            Style { colour: *stroke, width: width * size, dash: dash.iter().map(|v| v * size).collect() }
        } else {
            Style { colour: *fill, width: 0.0, dash: Vec::new() }
        };
        let style = self.drawing.style(&style);
        let layer = on.marks.iter().rev().find_map(|mark| *mark).or(on.layer);
        let page = self.drawing.pages.len().saturating_sub(1);
        // What is filled is closed by that.
        let path = if strokes { path } else { filled(&path) };
        self.segments += self.drawing.add(&path, &LineOf { layer, style, group: None, page });
    }

    /// The layer of marked content: named in the page's resources, or told in place.
    fn marked(&mut self, instruction: &Instruction<'_, '_>, on: &Following<'_, '_>) -> Option<usize> {
        let mut operands = instruction.operands();
        let Some(Object::Name(tag)) = operands.next() else { return None };
        if tag.as_str() != "OC" {
            return None;
        }
        match operands.next()? {
            Object::Name(name) => {
                let properties = &on.resources.properties;
                let content = properties.get::<Dict<'_>>(name)?;
                self.layers.layer(&mut self.drawing, &content, properties.get_ref(name).map(Into::into))
            }
            Object::Dict(content) => self.layers.layer(&mut self.drawing, content, None),
            _ => None,
        }
    }

    /// A form, which is followed, or a picture.
    fn object(&mut self, instruction: &Instruction<'_, '_>, on: &Following<'_, '_>) -> Result<(), Refused> {
        let Some(Object::Name(name)) = instruction.operands().next() else { return Ok(()) };
        let Some(stream) = on.resources.get_x_object(name) else { return Ok(()) };
        let dict = stream.dict();
        match dict.get::<Name<'_>>("Subtype").as_ref().map(Name::as_str) {
            Some("Image") => self.has_pictures = true,
            Some("Form") => return self.form(&stream, dict, on),
            _ => {}
        }
        Ok(())
    }

    fn form(&mut self, stream: &Stream<'_>, dict: &Dict<'_>, on: &Following<'_, '_>) -> Result<(), Refused> {
        self.forms += 1;
        if on.depth >= DEEPEST_FORMS || self.forms > MOST_FORMS {
            return Err(Refused::TooMuch { most: MOST_SEGMENTS });
        }
        let content = stream.decoded_data().map_err(|_| BROKEN)?;
        let mut state = on.state.clone();
        if let Some(matrix) = dict.get::<Array<'_>>("Matrix") {
            let by = numbers(&matrix).try_into().map_err(|_| BROKEN)?;
            state.to_drawing *= Affine::new(by);
        }
        let own = dict.get::<Dict<'_>>("OC");
        let own =
            own.and_then(|content| self.layers.layer(&mut self.drawing, &content, dict.get_ref("OC").map(Into::into)));
        let layer = own.or_else(|| on.marks.iter().rev().find_map(|mark| *mark)).or(on.layer);
        let resources = dict.get::<Dict<'_>>("Resources").map(Resources::new);
        // Old files leave a form's resources to the page.
        let resources = resources.as_ref().unwrap_or(on.resources);
        self.follow(&content, &mut Following::new(resources, state, layer, on.depth + 1))
    }
}

/// What draws or moves a line without its numbers: passed over it would leave the line another one.
const BROKEN: Refused = Refused::Broken;

/// The numbers that an instruction is given, all of them.
fn given<const N: usize>(instruction: &Instruction<'_, '_>) -> Result<[f64; N], Refused> {
    let mut all = [0.0; N];
    give(instruction, &mut all)?;
    Ok(all)
}

/// The same for any count: made once.
#[inline(never)]
fn give(instruction: &Instruction<'_, '_>, all: &mut [f64]) -> Result<(), Refused> {
    let mut operands = instruction.operands();
    for value in all {
        let Some(Object::Number(number)) = operands.next() else { return Err(BROKEN) };
        *value = number.as_f64();
    }
    Ok(())
}

impl<'r, 'a> Following<'r, 'a> {
    fn new(resources: &'r Resources<'a>, state: State, layer: Option<usize>, depth: usize) -> Self {
        Self {
            resources,
            state,
            kept: Vec::new(),
            path: BezPath::new(),
            at: Point::ZERO,
            began: Point::ZERO,
            marks: Vec::new(),
            layer,
            depth,
        }
    }

    fn set(&mut self, operator: &[u8], instruction: &Instruction<'_, '_>) -> Result<(), Refused> {
        match operator {
            b"q" if self.kept.len() >= MOST_STATES => return Err(Refused::TooMuch { most: MOST_SEGMENTS }),
            b"q" => self.kept.push(self.state.clone()),
            b"Q" => {
                if let Some(state) = self.kept.pop() {
                    self.state = state;
                }
            }
            b"cm" => self.state.to_drawing *= Affine::new(given(instruction)?),
            b"w" => {
                let [width] = given(instruction)?;
                self.state.width = width.abs();
            }
            b"d" => {
                if let Some(Object::Array(dash)) = instruction.operands().next() {
                    self.state.dash = dashes(dash);
                }
            }
            _ => {}
        }
        Ok(())
    }

    /// What a named set of parameters says of lines.
    fn graphics_state(&mut self, instruction: &Instruction<'_, '_>) {
        let Some(Object::Name(name)) = instruction.operands().next() else { return };
        let Some(set) = self.resources.get_ext_g_state(name) else { return };
        if let Some(width) = set.get::<Number>("LW") {
            self.state.width = width.as_f64().abs();
        }
        if let Some(dash) = set.get::<Array<'_>>("D").and_then(|d| d.iter::<Array<'_>>().next()) {
            self.state.dash = dashes(&dash);
        }
    }

    fn draw(&mut self, operator: &[u8], instruction: &Instruction<'_, '_>) -> Result<(), Refused> {
        let by = self.state.to_drawing;
        let is_open = !self.path.elements().is_empty();
        match operator {
            b"m" => {
                let [x, y] = given(instruction)?;
                self.at = Point::new(x, y);
                self.began = self.at;
                self.path.move_to(by * self.at);
            }
            b"l" if is_open => {
                let [x, y] = given(instruction)?;
                self.at = Point::new(x, y);
                self.path.line_to(by * self.at);
            }
            b"c" if is_open => {
                let [a, b, c, d, x, y] = given(instruction)?;
                self.curve([Point::new(a, b), Point::new(c, d), Point::new(x, y)]);
            }
            b"v" if is_open => {
                let [c, d, x, y] = given(instruction)?;
                self.curve([self.at, Point::new(c, d), Point::new(x, y)]);
            }
            b"y" if is_open => {
                let [a, b, x, y] = given(instruction)?;
                let end = Point::new(x, y);
                self.curve([Point::new(a, b), end, end]);
            }
            b"h" if is_open && !matches!(self.path.elements().last(), Some(PathEl::ClosePath)) => {
                self.path.close_path();
                self.at = self.began;
            }
            b"re" => {
                let [x, y, w, h] = given(instruction)?;
                self.at = Point::new(x, y);
                self.began = self.at;
                self.path.move_to(by * self.at);
                for corner in [(x + w, y), (x + w, y + h), (x, y + h)] {
                    self.path.line_to(by * Point::from(corner));
                }
                self.path.close_path();
            }
            _ => {}
        }
        Ok(())
    }

    fn curve(&mut self, [a, b, to]: [Point; 3]) {
        let by = self.state.to_drawing;
        self.at = to;
        self.path.curve_to(by * a, by * b, by * to);
    }

    /// A colour in grey, red-green-blue or ink; of other spaces it is the one that has as many parts.
    fn colour(&mut self, operator: &[u8], instruction: &Instruction<'_, '_>) {
        let strokes = match operator {
            b"G" | b"RG" | b"K" | b"SC" | b"SCN" => true,
            b"g" | b"rg" | b"k" | b"sc" | b"scn" => false,
            _ => return,
        };
        let part = |n: &Object<'_>| if let Object::Number(n) = n { Some(Number::as_f64(n)) } else { None };
        let parts: Vec<f64> = instruction.operands().filter_map(part).collect();
        let mixed = match parts.as_slice() {
            [grey] => [*grey; 3],
            [r, g, b] => [*r, *g, *b],
            [c, m, y, k] => [c, m, y].map(|ink| (1.0 - ink) * (1.0 - k)),
            _ => return,
        };
        let colour = mixed.map(|v| byte(v * 255.0).unwrap_or(0));
        if strokes { self.state.stroke = colour } else { self.state.fill = colour }
    }
}

fn dashes(array: &Array<'_>) -> Vec<f64> {
    let dash: Vec<f64> = numbers(array).into_iter().take(MOST_DASHES).collect();
    if dash.iter().any(|v| *v > 0.0) { dash } else { Vec::new() }
}
