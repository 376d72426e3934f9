//! Some thousand texts of briefs, good and bad, seeded: realistic and worked ones as they are, others made from the
//! schema, and all kinds of changes to them. For checks of what is accepted.

use std::fs;
use std::path::Path;

use serde_json::{Map, Value, json};

use crate::generated::model::{Field, Kind, Model};
use crate::realistic::{self, Dice};

/// So many texts; the same ones for the same seed.
#[must_use]
pub fn texts(count: u32, seed: u64) -> Vec<String> {
    let model = Model::read(&lieflat::schema::brief().to_value());
    let mut dice = Dice(seed);
    let mut good = worked();
    for _ in 0..count / 40 {
        good.extend(full());
    }
    good.extend(realistic::briefs(count / 5, seed).map(|brief| serde_json::to_value(brief).unwrap_or_default()));
    let mut texts: Vec<String> = good.iter().chain(&refused()).map(Value::to_string).collect();
    for number in 0..count.saturating_sub(u32::try_from(texts.len()).unwrap_or(0)) {
        texts.push(match number % 4 {
            0 => Maker { model: &model, dice: &mut dice, wild: number % 8 == 0 }.root().to_string(),
            _ => changed(&good, &model, &mut dice),
        });
    }
    texts
}

/// The worked briefs and the garments'.
fn worked() -> Vec<Value> {
    read(&["briefs", "garments"])
}

/// The example with the changes for which it is refused.
fn refused() -> Vec<Value> {
    let example = serde_json::to_value(lieflat::example::brief()).unwrap_or_default();
    let with = |case: Value| {
        let mut brief = example.clone();
        for (pointer, value) in case["set"].as_object().into_iter().flatten() {
            let (parent, name) = pointer.rsplit_once('/').unwrap_or_default();
            brief.pointer_mut(parent).into_iter().for_each(|parent| add(parent, name, value.clone()));
        }
        brief
    };
    read(&["briefs/refused"]).into_iter().map(with).collect()
}

fn read(folders: &[&str]) -> Vec<Value> {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = folders
        .iter()
        .flat_map(|folder| fs::read_dir(tests.join(folder)).into_iter().flatten())
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.to_str().is_some_and(|name| name.ends_with(".json") && !name.ends_with(".plan.json")))
        .collect();
    files.sort();
    files
        .iter()
        .map(|file| serde_json::from_str(&fs::read_to_string(file).unwrap_or_default()).unwrap_or_default())
        .collect()
}

/// The example with all that is seldom told: named edges, records, a topstitched facing, square and deep outlines.
fn full() -> Vec<Value> {
    let record = json!({ "finish": "band", "held_line_mm": 500, "strip_mm": 440, "outcome": "stood_away", "by_mm": 8 });
    let edge = json!({ "name": "Invented", "part": "gathered", "length_mm": 200, "gathered_from_mm": 350,
        "direction": "crosswise", "allowance_mm": 10, "pieces": 2 });
    let square = json!({ "drafted": { "half_width_mm": 90, "depth_mm": 120, "shape": { "kind": "square", "corner_radius_mm": 40 } } });
    let v = json!({ "drafted": { "half_width_mm": 90, "depth_mm": 200, "shape": { "kind": "v", "leg_hollow_percent": 2 } } });
    let facing = json!({ "facing": { "width_mm": 40, "topstitch_mm": 30, "edge_allowance_mm": 6 } });
    let bound = json!({ "bound": { "width_mm": 12 } });
    let example = serde_json::to_value(lieflat::example::brief()).unwrap_or_default();
    [(square, facing), (v, bound)]
        .into_iter()
        .map(|(outline, finish)| {
            let mut brief = example.clone();
            brief["neckline"]["front"]["outline"] = outline;
            brief["finish"] = finish;
            brief["stays"]["edges"] = json!([edge]);
            brief["garment_knit"]["learned"] = json!([record]);
            brief
        })
        .collect()
}

/// Makes values of a schema's types.
struct Maker<'a> {
    model: &'a Model,
    dice: &'a mut Dice,
    /// Whether some values are such as the schema does not take.
    wild: bool,
}

impl Maker<'_> {
    fn root(&mut self) -> Value {
        let kind = self.model.types[0].kind.clone();
        self.value(&kind, None)
    }

    fn value(&mut self, kind: &Kind, field: Option<&Field>) -> Value {
        if self.wild && self.dice.one_in(60.0) {
            return odd(self.dice);
        }
        match kind {
            Kind::Text => json!(self.dice.pick(&[
                "",
                "Invented",
                "M 0 95 C 50 95 88 60 88 0",
                "M 0 100 L 80 0",
                "M 0 95 C 50 95"
            ])),
            Kind::Number => json!(self.number(field)),
            Kind::Whole => json!(self.dice.pick(&[1, 2, 8])),
            Kind::Truth => json!(self.dice.one_in(2.0)),
            Kind::Null => Value::Null,
            Kind::Exactly(value) => value.clone(),
            Kind::List(of) => {
                let most = if self.wild { 3.0 } else { 2.0 };
                (0..many(self.dice, most)).map(|_| self.value(of, None)).collect()
            }
            Kind::Pair => json!([0, 0]),
            Kind::Named(name) => {
                let kind = self.model.named(name).map_or(Kind::Null, |named| named.kind.clone());
                self.value(&kind, field)
            }
            Kind::Object(fields) => Value::Object(self.object(fields)),
            Kind::Choice(variants) => {
                let place = many(self.dice, variants.len() as f64 - 1.0);
                variants.get(place).map_or(Value::Null, |variant| self.value(&variant.kind, field))
            }
        }
    }

    fn object(&mut self, fields: &[Field]) -> Map<String, Value> {
        let mut object = Map::new();
        for field in fields {
            if field.needed || self.dice.one_in(2.0) {
                object.insert(field.name.clone(), self.value(&field.kind, Some(field)));
            }
        }
        object
    }

    fn number(&mut self, field: Option<&Field>) -> f64 {
        let (least, most) =
            field.map_or((0.0, 100.0), |field| (field.least.unwrap_or(0.0), field.most.unwrap_or(500.0)));
        if self.wild && self.dice.one_in(12.0) {
            return self.dice.pick(&[least, most, least - 1e-6, most + 1e-6, -1.0, 1e9]);
        }
        (self.dice.between(least, most) * 100.0).round() / 100.0
    }
}

/// 0 up to this many.
fn many(dice: &mut Dice, most: f64) -> usize {
    // A handful at most.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let count = dice.whole(0.0, most.max(0.0)) as usize;
    count
}

/// A value that few fields take.
fn odd(dice: &mut Dice) -> Value {
    [
        json!(null),
        json!("text"),
        json!(true),
        json!([]),
        json!({}),
        json!(-1),
        json!(0),
        json!(1e9),
        json!({ "fold": null }),
    ][many(dice, 8.0)]
    .clone()
}

/// A place in a brief: how to come there, and what the schema says of it.
struct Site {
    pointer: String,
    kind: Kind,
    field: Option<Field>,
}

/// Every place in a value that the schema knows.
fn sites(value: &Value, kind: &Kind, field: Option<&Field>, model: &Model, pointer: &str, out: &mut Vec<Site>) {
    let kind = match kind {
        Kind::Named(name) => model.named(name).map_or(Kind::Null, |named| named.kind.clone()),
        other => other.clone(),
    };
    out.push(Site { pointer: pointer.to_owned(), kind: kind.clone(), field: field.cloned() });
    match (&kind, value) {
        (Kind::Object(fields), Value::Object(values)) => {
            for field in fields {
                if let Some(value) = values.get(&field.name) {
                    sites(value, &field.kind, Some(field), model, &format!("{pointer}/{}", field.name), out);
                }
            }
        }
        (Kind::List(of), Value::Array(items)) => {
            for (place, item) in items.iter().enumerate() {
                sites(item, of, None, model, &format!("{pointer}/{place}"), out);
            }
        }
        (Kind::Choice(variants), _) => {
            if let Some(variant) = variants.iter().find(|variant| fits(value, &variant.kind, model)) {
                sites(value, &variant.kind, field, model, pointer, out);
            }
        }
        _ => {}
    }
}

/// Whether a value looks like one of this kind, by its own form alone.
fn fits(value: &Value, kind: &Kind, model: &Model) -> bool {
    match (kind, value) {
        (Kind::Named(name), _) => model.named(name).is_some_and(|named| fits(value, &named.kind, model)),
        (Kind::Object(fields), Value::Object(values)) => {
            fields.iter().all(|field| !field.needed || values.contains_key(&field.name))
        }
        (Kind::Choice(variants), _) => variants.iter().any(|variant| fits(value, &variant.kind, model)),
        (Kind::Exactly(exactly), _) => exactly == value,
        (Kind::Number | Kind::Whole, Value::Number(_)) | (Kind::Text, Value::String(_)) => true,
        (Kind::Truth, Value::Bool(_)) | (Kind::List(_), Value::Array(_)) | (Kind::Null, Value::Null) => true,
        _ => false,
    }
}

/// One of the good briefs with one or two changes.
fn changed(good: &[Value], model: &Model, dice: &mut Dice) -> String {
    let mut brief = good[many(dice, good.len() as f64 - 1.0)].clone();
    let changes = if dice.one_in(3.0) { 2 } else { 1 };
    for _ in 0..changes {
        let mut places = Vec::new();
        sites(&brief, &model.types[0].kind, None, model, "", &mut places);
        let site = &places[many(dice, places.len() as f64 - 1.0)];
        change(&mut brief, site, model, dice);
    }
    let text = brief.to_string();
    if dice.one_in(60.0) { text.replacen('{', "{\"title\":\"Invented: named twice\",", 1) } else { text }
}

fn change(brief: &mut Value, site: &Site, model: &Model, dice: &mut Dice) {
    let Some(value) = brief.pointer_mut(&site.pointer) else { return };
    match many(dice, 10.0) {
        0 => drop(remove(brief, &site.pointer)),
        1 => *value = odd(dice),
        2 => *value = Maker { model, dice, wild: false }.value(&site.kind, site.field.as_ref()),
        3 => add(value, "unheard_of", json!(1)),
        4 => in_another_form(value, &site.kind),
        5 => longer(value, site.field.as_ref()),
        6 => fill_in(value, &site.kind, model, dice),
        _ => nudge(value, site.field.as_ref(), dice),
    }
}

fn remove(brief: &mut Value, pointer: &str) -> Option<Value> {
    let (parent, name) = pointer.rsplit_once('/')?;
    brief.pointer_mut(parent)?.as_object_mut()?.remove(name)
}

fn add(value: &mut Value, name: &str, with: Value) {
    if let Value::Object(fields) = value {
        fields.insert(name.to_owned(), with);
    }
}

/// The same written otherwise: an object as a row of its values, a choice as an object, a whole number with a point.
fn in_another_form(value: &mut Value, kind: &Kind) {
    *value = match (&*value, kind) {
        (Value::Object(values), Kind::Object(fields)) => fields
            .iter()
            .map(|field| values.get(&field.name).or(field.default.as_ref()).cloned().unwrap_or_default())
            .collect(),
        (Value::String(text), Kind::Exactly(_) | Kind::Choice(_)) => json!({ text.clone(): null }),
        (Value::Number(number), Kind::Whole) => json!(number.as_f64()),
        (other, _) => other.clone(),
    };
}

/// A list with one more than it may have.
fn longer(value: &mut Value, field: Option<&Field>) {
    let most = field.and_then(|field| field.most_items).and_then(|most| usize::try_from(most).ok());
    if let (Value::Array(items), Some(most)) = (value, most)
        && let Some(last) = items.last().cloned()
    {
        items.resize(most + 1, last);
    }
}

/// A field that may be left out, where it is.
fn fill_in(value: &mut Value, kind: &Kind, model: &Model, dice: &mut Dice) {
    let (Value::Object(values), Kind::Object(fields)) = (value, kind) else { return };
    let absent: Vec<&Field> = fields.iter().filter(|field| !values.contains_key(&field.name)).collect();
    if absent.is_empty() {
        return;
    }
    let field = absent[many(dice, absent.len() as f64 - 1.0)];
    values.insert(field.name.clone(), Maker { model, dice, wild: false }.value(&field.kind, Some(field)));
}

/// A number at or just beyond an end of what is accepted, or moved a little.
fn nudge(value: &mut Value, field: Option<&Field>, dice: &mut Dice) {
    let Some(number) = value.as_f64() else { return };
    let ends = field.and_then(|field| Some((field.least?, field.most?))).unwrap_or((0.0, number));
    let share = dice.pick(&[0.2, 0.5, 0.9, 1.1, 2.0, 4.0]);
    *value = json!(dice.pick(&[ends.0, ends.1, ends.0 - 1e-6, ends.1 + 1e-6, number * share, -number]));
}
