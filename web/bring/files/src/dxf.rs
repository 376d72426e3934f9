//! DXF as text, R12 to the current one: lines, arcs, polylines with bulges, ellipses, splines, and blocks where they are inserted.
//!
//! A block is a group: in files for cut patterns each piece is one (ASTM D6673). Group codes and units are those of the published
//! reference of the format. Texts, points, hatches, dimensions and solids are passed over.

mod entity;
mod pairs;
mod spline;

use std::collections::HashMap;

use kurbo::{Affine, BezPath, Rect};
use lieflat_bring::{Drawing, LineOf, Page, Style};

use crate::messages::{MOST_SEGMENTS, Refused};
use entity::{Entity, Insert, Thing, things};
use pairs::{Pairs, Record};

/// Deepest nesting of blocks.
const DEEPEST: usize = 16;
/// Most insertions, those within blocks counted each time.
const MOST_INSERTS: usize = 50_000;
/// The colour of what tells none: white on a screen's black, black on paper.
const NO_COLOUR: i32 = 7;

/// A layer as its table tells.
#[derive(Debug, Clone)]
struct LayerOf {
    name: String,
    on: bool,
    colour: i32,
    linetype: String,
}

/// A block: a piece, or a part of one.
#[derive(Debug, Default)]
struct Block {
    base: (f64, f64),
    things: Vec<Thing>,
}

/// All that a file holds, before blocks are inserted.
#[derive(Debug, Default)]
struct File {
    mm_per_unit: Option<f64>,
    linetypes: HashMap<String, Vec<f64>>,
    layers: HashMap<String, LayerOf>,
    blocks: HashMap<String, Block>,
    /// The blocks' names, in the file's order.
    names: Vec<String>,
    things: Vec<Thing>,
}

/// Reads a file.
///
/// # Errors
/// A [`Refused`] where it is damaged, too much, or holds no lines.
pub fn read(text: &str) -> Result<Drawing, Refused> {
    let file = File::read(&mut Pairs::new(text))?;
    let drawing = Drawing { mm_per_unit: file.mm_per_unit, ..Drawing::default() };
    let mut drawn = Drawn { file: &file, drawing, inserts: 0, segments: 0 };
    drawn.all(&file.things, &Inside::default())?;
    if drawn.drawing.lines.is_empty() {
        // Blocks that nothing inserts are pieces all the same.
        for name in file.names.iter().filter(|name| !name.starts_with('*')) {
            drawn.block(name, &Inside::default())?;
        }
    }
    let mut drawing = drawn.drawing;
    if drawing.lines.is_empty() {
        return Err(Refused::NoLines);
    }
    drawing.pages.push(Page { place: Rect::ZERO, own: Rect::ZERO });
    Ok(drawing)
}

impl File {
    fn read(pairs: &mut Pairs<'_>) -> Result<Self, Refused> {
        let mut file = Self::default();
        let mut sections = 0;
        while let Some(pair) = pairs.next()? {
            match (pair.code, pair.value) {
                (0, "EOF") => break,
                (0, "SECTION") => {
                    let name = pairs.next()?.filter(|pair| pair.code == 2).map(|pair| pair.value);
                    sections += 1;
                    match name {
                        Some("HEADER") => file.header(pairs)?,
                        Some("TABLES") => file.tables(pairs)?,
                        Some("BLOCKS") => file.read_blocks(pairs)?,
                        Some("ENTITIES") => file.things = things(pairs, "ENDSEC")?,
                        _ => while pairs.record("ENDSEC")?.is_some() {},
                    }
                }
                _ => {}
            }
        }
        if sections == 0 { Err(Refused::OtherKind) } else { Ok(file) }
    }

    /// The header: a variable's name, then its value.
    fn header(&mut self, pairs: &mut Pairs<'_>) -> Result<(), Refused> {
        let mut variable = "";
        loop {
            let pair = pairs.next()?.ok_or(Refused::CutShort)?;
            match (pair.code, pair.value) {
                (0, "ENDSEC") => return Ok(()),
                (9, name) => variable = name,
                (70, value) if variable == "$INSUNITS" => {
                    self.mm_per_unit = value.trim().parse().ok().and_then(unit_mm);
                }
                _ => {}
            }
        }
    }

    fn tables(&mut self, pairs: &mut Pairs<'_>) -> Result<(), Refused> {
        while let Some(record) = pairs.record("ENDSEC")? {
            let name = record.text(2).to_owned();
            match record.kind {
                "LAYER" => {
                    let colour = record.integer(62).unwrap_or(NO_COLOUR);
                    let on = colour >= 0 && record.integer(70).unwrap_or(0) & 1 == 0;
                    let linetype = record.text(6).to_owned();
                    let layer = LayerOf { name, on, colour: colour.saturating_abs(), linetype };
                    self.layers.insert(key(&layer.name), layer);
                }
                "LTYPE" => {
                    let dashes = record.numbers(49).map(f64::abs).take(12).collect();
                    self.linetypes.insert(key(&name), dashes);
                }
                _ => {}
            }
        }
        Ok(())
    }

    fn read_blocks(&mut self, pairs: &mut Pairs<'_>) -> Result<(), Refused> {
        while let Some(record) = pairs.record("ENDSEC")? {
            if record.kind != "BLOCK" {
                continue;
            }
            let base = (record.number(10).unwrap_or(0.0), record.number(20).unwrap_or(0.0));
            let name = record.text(2).to_owned();
            let block = Block { base, things: things(pairs, "ENDBLK")? };
            self.blocks.insert(key(&name), block);
            self.names.push(name);
        }
        Ok(())
    }
}

/// The length of an insertion unit by its code, mm, in the published reference of the format.
fn unit_mm(code: i32) -> Option<f64> {
    match code {
        1 => Some(25.4),
        2 => Some(304.8),
        4 => Some(1.0),
        5 => Some(10.0),
        6 => Some(1000.0),
        8 => Some(25.4e-6),
        9 => Some(25.4e-3),
        10 => Some(914.4),
        13 => Some(1e-3),
        14 => Some(100.0),
        _ => None,
    }
}

/// What holds inside a block where it is inserted.
#[derive(Clone)]
struct Inside {
    to_drawing: Affine,
    group: Option<usize>,
    layer: Option<String>,
    colour: i32,
    depth: usize,
}

impl Default for Inside {
    fn default() -> Self {
        // A drawing's y runs up in a DXF.
        Self { to_drawing: Affine::FLIP_Y, group: None, layer: None, colour: NO_COLOUR, depth: 0 }
    }
}

struct Drawn<'a> {
    file: &'a File,
    drawing: Drawing,
    inserts: usize,
    segments: usize,
}

impl Drawn<'_> {
    fn all(&mut self, things: &[Thing], inside: &Inside) -> Result<(), Refused> {
        for thing in things {
            match thing {
                Thing::Line(entity, path) => self.line(entity, path, inside)?,
                Thing::Insert(entity, insert) => self.insert(entity, insert, inside)?,
            }
        }
        Ok(())
    }

    /// A block by itself, as a piece.
    fn block(&mut self, name: &str, inside: &Inside) -> Result<(), Refused> {
        let Some(block) = self.file.blocks.get(&key(name)) else { return Ok(()) };
        let group = inside.group.or_else(|| Some(self.group(name)));
        let to_drawing = inside.to_drawing * Affine::translate((-block.base.0, -block.base.1));
        self.all(&block.things, &Inside { to_drawing, group, depth: inside.depth + 1, ..inside.clone() })
    }

    fn group(&mut self, name: &str) -> usize {
        let groups = &mut self.drawing.groups;
        groups.iter().position(|group| group == name).unwrap_or_else(|| {
            groups.push(name.to_owned());
            groups.len() - 1
        })
    }

    fn insert(&mut self, entity: &Entity, insert: &Insert, inside: &Inside) -> Result<(), Refused> {
        for place in insert.places() {
            self.inserts += 1;
            if self.inserts > MOST_INSERTS || inside.depth > DEEPEST {
                return Err(Refused::TooMuch { most: MOST_SEGMENTS });
            }
            let within = Inside {
                to_drawing: inside.to_drawing * place,
                layer: Some(layer_of(entity, inside)),
                colour: self.colour(entity, inside),
                ..inside.clone()
            };
            self.block(&insert.name, &within)?;
        }
        Ok(())
    }

    /// A colour by its number: an own one, the layer's (256), or that of the block's insertion (0).
    fn colour(&self, entity: &Entity, inside: &Inside) -> i32 {
        match entity.colour {
            0 => inside.colour,
            256 => self.file.layers.get(&key(&layer_of(entity, inside))).map_or(NO_COLOUR, |layer| layer.colour),
            own => own,
        }
    }

    fn line(&mut self, entity: &Entity, path: &BezPath, inside: &Inside) -> Result<(), Refused> {
        let name = layer_of(entity, inside);
        let told = self.file.layers.get(&key(&name));
        let layer =
            Some(self.drawing.layer(told.map_or(&name, |layer| &layer.name), told.is_none_or(|layer| layer.on)));
        let linetype = if entity.linetype.is_empty() || entity.linetype.eq_ignore_ascii_case("BYLAYER") {
            told.map_or("", |layer| layer.linetype.as_str())
        } else {
            entity.linetype.as_str()
        };
        let dash = self.file.linetypes.get(&key(linetype)).cloned().unwrap_or_default();
        // Line weights are in hundredths of a millimetre on paper; below zero they are the layer's.
        let width = f64::from(entity.weight.max(0)) / 100.0 / self.drawing.mm_per_unit.unwrap_or(1.0);
        let colour = rgb(self.colour(entity, inside));
        let style = self.drawing.style(&Style { colour, width, dash });
        let like = LineOf { layer, style, group: inside.group, page: 0 };
        self.segments += self.drawing.add(&(inside.to_drawing * path), &like);
        if self.segments > MOST_SEGMENTS { Err(Refused::TooMuch { most: MOST_SEGMENTS }) } else { Ok(()) }
    }
}

/// What a name of a table is found by: in the format large and small letters are one.
fn key(name: &str) -> String {
    name.to_ascii_uppercase()
}

/// What is on layer 0 of a block is on the layer that the block is inserted on.
fn layer_of(entity: &Entity, inside: &Inside) -> String {
    match &inside.layer {
        Some(outer) if entity.layer == "0" => outer.clone(),
        _ => entity.layer.clone(),
    }
}

/// A colour by its number: the first seven by name, the others told apart by a grey of their own.
fn rgb(colour: i32) -> [u8; 3] {
    match colour {
        1 => [255, 0, 0],
        2 => [255, 255, 0],
        3 => [0, 255, 0],
        4 => [0, 255, 255],
        5 => [0, 0, 255],
        6 => [255, 0, 255],
        7 => [0, 0, 0],
        other => {
            let grey = u8::try_from(other.rem_euclid(256)).unwrap_or(128);
            [grey / 2, grey / 2 + 40, grey / 2 + 80]
        }
    }
}

impl Record<'_> {
    /// What an entity has in common with others.
    fn entity(&self) -> Entity {
        Entity {
            layer: self.text(8).to_owned(),
            colour: self.integer(62).unwrap_or(256),
            linetype: self.text(6).to_owned(),
            weight: self.integer(370).unwrap_or(-1),
        }
    }
}
