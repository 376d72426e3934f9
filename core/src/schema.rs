//! JSON Schema (draft 2020-12) of brief, plan and errors, made from their types: names, kinds, descriptions, limits and
//! defaults all stand there. Native only: what is generated of it is kept in the repository, and the wasm goes without.

use std::borrow::Cow;

use schemars::generate::{SchemaGenerator, SchemaSettings};
use schemars::transform::{Transform, transform_subschemas};
use schemars::{JsonSchema, Schema, json_schema};
use serde_json::Value;

use crate::brief::Direction;
use crate::order::{Caution, MarkField, SewingStep, StepCode, StepFigure};
use crate::plan::MarkPlace;
use crate::source::Source;

/// The schema of a brief, as it is read: what has a default may be left out.
#[must_use]
pub fn brief() -> Schema {
    finished::<crate::Brief>(SchemaSettings::draft2020_12().for_deserialize())
}

/// The schema of a plan, as it is written.
#[must_use]
pub fn plan() -> Schema {
    finished::<crate::Plan>(SchemaSettings::draft2020_12().for_serialize())
}

/// The schema of what is said of a brief that cannot be planned.
#[must_use]
pub fn errors() -> Schema {
    finished::<crate::BriefErrors>(SchemaSettings::draft2020_12().for_serialize())
}

fn finished<T: JsonSchema>(settings: SchemaSettings) -> Schema {
    let leaves_out_what_is_none = settings.contract.is_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    Plain.transform(&mut schema);
    if leaves_out_what_is_none {
        NeverNull.transform(&mut schema);
    }
    schema
}

/// Leaves out what JSON Schema does not define (a number's size in memory) and Rust's own marks for links in descriptions.
struct Plain;

impl Transform for Plain {
    fn transform(&mut self, schema: &mut Schema) {
        schema.remove("format");
        if let Some(Value::String(text)) = schema.get_mut("description") {
            *text = text.replace("[`", "`").replace("`]", "`").replace("\n\n", " ").replace('\n', " ");
        }
        transform_subschemas(self, schema);
    }
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
