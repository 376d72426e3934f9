//! JSON Schema (draft 2020-12) of brief, plan, errors and what else the core is asked and answers, made from their types: names, kinds, descriptions, limits and
//! defaults all stand there. Native only: what is generated of it is kept in the repository, and the wasm goes without.

use std::borrow::Cow;

pub use schemars::Schema;
use schemars::generate::{SchemaGenerator, SchemaSettings};
use schemars::transform::{Transform, transform_subschemas};
use schemars::{JsonSchema, json_schema};
use serde_json::{Value, json};

pub use crate::brief::neckline::PATH_SEGMENTS;
use crate::brief::{Direction, ShapeKind};
use crate::limits::number;
use crate::order::{Caution, MarkField, SewingStep, StepCode, StepFigure};
use crate::plan::MarkPlace;
use crate::source::Source;

/// Something asked of a brief that JSON Schema has no words for, or that it is stricter about than the core.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Beyond {
    /// A short name, for tests and links.
    pub name: &'static str,
    /// What it is.
    pub words: &'static str,
}

/// What the core refuses though the schema takes it.
pub const BEYOND_SCHEMA: [Beyond; 11] = [
    Beyond {
        name: "path",
        words: "A drawn path's text: its syntax, one open run from the centre line to the neck point, on its own side of the centre line, not across itself, with no more segments and no larger coordinates than its description says.",
    },
    Beyond {
        name: "no_such_shape",
        words: "Readings that no neckline of the shape has together: a length too short or too long for its width and depth.",
    },
    Beyond {
        name: "moved_line",
        words: "Allowances and widths too wide for the line: moved by so much it folds back on itself, crosses itself, or nothing is left of it.",
    },
    Beyond {
        name: "corner",
        words: "A drafted square's corner radius is at most the lesser of its half width and depth.",
    },
    Beyond { name: "stretched", words: "A stretched length is from the length at rest to 5 times that." },
    Beyond { name: "released", words: "A released length is from the length at rest to the stretched length." },
    Beyond { name: "swatch", words: "A swatch's width, stretched, is a third to the whole of that at rest." },
    Beyond { name: "topstitch", words: "A facing's topstitching is no further from the seam than the facing is wide." },
    Beyond {
        name: "gathered",
        words: "A gathered edge's length before gathering is 1 to 8 times the length it is drawn up to.",
    },
    Beyond {
        name: "record",
        words: "In a record, the strip is 0.6 to 1.3 times as long as the held line, what it was off by at most a quarter of the strip, and its width as sewn a third to 1.1 times that without narrowing.",
    },
    Beyond {
        name: "written",
        words: "How JSON is written: a whole number (`version`, `pieces`) has no decimal point, and no field is named twice in an object.",
    },
];

/// What the core takes though the schema refuses it: other ways to write the same, which nobody should.
pub const BEYOND_CORE: [Beyond; 2] = [
    Beyond {
        name: "null_choice",
        words: "A choice that carries no values as an object with null: `{\"fold\": null}` for `\"fold\"`.",
    },
    Beyond { name: "row", words: "An object as an array of its values, all of them, in the order of the fields." },
];

/// The schema of a brief, as it is read: what has a default may be left out.
#[must_use]
pub fn brief() -> Schema {
    let beyond: Vec<&str> = BEYOND_SCHEMA.iter().map(|beyond| beyond.words).collect();
    let settings = SchemaSettings::draft2020_12().for_deserialize();
    let mut schema = finished::<crate::Brief>(
        settings,
        (crate::brief::SCHEMA, crate::brief::VERSION),
        &format!("Asked of a brief besides: {}", beyond.join(" ")),
    );
    let usual = usual_roundness().map(|(kind, percent)| format!("{} {percent}", kind.as_str().unwrap_or_default()));
    let about = "/$defs/Shape/properties/roundness_percent/description";
    if let Some(Value::String(about)) = schema.pointer_mut(about) {
        *about += &format!(" Usual, where it is absent: {}.", usual.join(", "));
    }
    schema
}

/// The schema of a plan, as it is written.
#[must_use]
pub fn plan() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let mut schema =
        finished::<crate::Plan>(settings, (crate::plan::SCHEMA, crate::plan::VERSION), "Fields may be added.");
    Open.transform(&mut schema);
    schema
}

/// The schema of what is said of a brief that cannot be planned.
#[must_use]
pub fn errors() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    finished::<crate::BriefErrors>(settings, ("lieflat.errors", crate::plan::VERSION), "Fields may be added.")
}

/// The schema of both halves told in every way.
#[must_use]
pub fn told() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    finished::<crate::Told>(settings, ("lieflat.told", crate::plan::VERSION), "Fields may be added.")
}

/// The schema of a table of sizes.
#[must_use]
pub fn sizes() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_deserialize();
    finished::<crate::sizes::SizeSet>(
        settings,
        ("lieflat.sizes", crate::plan::VERSION),
        "How many and how far is checked.",
    )
}

fn finished<T: JsonSchema>(settings: SchemaSettings, (name, version): (&str, u32), comment: &str) -> Schema {
    let leaves_out_what_is_none = settings.contract.is_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    Plain.transform(&mut schema);
    if leaves_out_what_is_none {
        NeverNull.transform(&mut schema);
    }
    // What it is stands first.
    let mut named = json_schema!({
        "$schema": schema.get("$schema"),
        "$id": format!("urn:{}:{version}", name.replace('.', ":")),
        "$comment": comment,
    });
    schema.as_object().into_iter().flatten().for_each(|(key, value)| drop(named.insert(key.clone(), value.clone())));
    named
}

/// How full the curved shapes are where nothing is said: to a tenth of a percent, which no line shows.
#[must_use]
pub fn usual_roundness() -> [(Value, f64); 3] {
    ShapeKind::CURVED.map(|kind| (json!(kind), (1000.0 * crate::outline::usual_roundness(kind)).round() / 10.0))
}

/// Leaves out what JSON Schema does not define (a number's size in memory) and Rust's own marks for links in descriptions.
struct Plain;

impl Transform for Plain {
    fn transform(&mut self, schema: &mut Schema) {
        schema.remove("format");
        if let Some(default) = schema.get_mut("default") {
            whole_numbers(default);
        }
        if let Some(Value::String(text)) = schema.get_mut("description") {
            *text = text.replace("[`", "`").replace("`]", "`").replace("\n\n", " ").replace('\n', " ");
        }
        transform_subschemas(self, schema);
    }
}

fn whole_numbers(value: &mut Value) {
    match value {
        Value::Number(given) => *value = given.as_f64().map_or(Value::Null, number),
        Value::Object(fields) => fields.values_mut().for_each(whole_numbers),
        Value::Array(items) => items.iter_mut().for_each(whole_numbers),
        _ => {}
    }
}

/// Fields may be added to a plan, though the sheets, which are built with the core, read only those they know: its objects are open,
/// but for a choice's, whose one name says what was chosen.
struct Open;

impl Transform for Open {
    fn transform(&mut self, schema: &mut Schema) {
        // What is read where it is absent is no value to fill in.
        schema.ensure_object().retain(|name, _| name != "additionalProperties" && name != "default");
        let choices: Vec<_> =
            schema.get("oneOf").and_then(Value::as_array).into_iter().flatten().map(one_name).collect();
        transform_subschemas(self, schema);
        if let Some(Value::Array(items)) = schema.get_mut("oneOf") {
            for (item, one_name) in items.iter_mut().zip(choices) {
                if let (Value::Object(item), true) = (item, one_name) {
                    item.insert("additionalProperties".to_owned(), json!(false));
                }
            }
        }
    }
}

/// Whether a choice is an object of one name.
fn one_name(choice: &Value) -> bool {
    choice.get("additionalProperties").is_some_and(|open| open == false)
}

/// What is none is left out where something is written, and never null.
struct NeverNull;

impl Transform for NeverNull {
    fn transform(&mut self, schema: &mut Schema) {
        if let Some(Value::Array(types)) = schema.get_mut("type") {
            types.retain(|one| one != "null");
            if let [only] = &types[..] {
                let only = only.clone();
                schema.insert("type".to_owned(), only);
            }
        }
        if let Some(Value::Array(choices)) = schema.get_mut("anyOf") {
            choices.retain(|one| one.get("type").is_none_or(|of| of != "null"));
            if let [Value::Object(only)] = &choices[..] {
                let only = only.clone();
                schema.remove("anyOf");
                only.into_iter().for_each(|(name, value)| drop(schema.insert(name, value)));
            }
        }
        transform_subschemas(self, schema);
    }
}

/// One step of the work; its figures stand beside its other fields.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "only its schema is of use")]
struct StepFields {
    /// What is done.
    step: StepCode,
    /// What its place in the order rests on.
    source: Source,
    /// How many pieces to cut, or clips to make.
    #[schemars(skip_serializing_if = "Option::is_none")]
    count: Option<usize>,
    /// How a strip's length runs in its knit.
    #[schemars(skip_serializing_if = "Option::is_none")]
    direction: Option<Direction>,
    /// Which centre it is about.
    #[schemars(skip_serializing_if = "Option::is_none")]
    at: Option<MarkPlace>,
    /// The strip's marks are to be made, each where this field of it says.
    #[schemars(skip_serializing_if = "Option::is_none")]
    places: Option<MarkField>,
    /// Parts to stay, by their index in the stays' zones; none where it is absent.
    #[schemars(skip_serializing_if = "Vec::is_empty")]
    zones: Vec<usize>,
    /// What to take care of, said once each, where it first comes up; nothing where it is absent.
    #[schemars(skip_serializing_if = "Vec::is_empty")]
    cautions: Vec<Caution>,
}

/// Its figures stand beside its other fields, as it is written.
impl JsonSchema for SewingStep {
    fn schema_name() -> Cow<'static, str> {
        "SewingStep".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let mut schema = StepFields::json_schema(generator);
        if let Some(Value::Object(fields)) = schema.get_mut("properties") {
            for figure in StepFigure::ALL {
                fields.insert(figure.name().to_owned(), json_schema!({ "type": "number" }).to_value());
            }
        }
        schema
    }
}
