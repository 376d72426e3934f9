//! A schema as what is written of it: named types, their fields and choices. Only what the core's schemas use is read;
//! anything else stops the generator, so that nothing is passed over in silence.

use serde_json::{Map, Value};

/// The named types of a schema, its root first.
#[derive(Debug)]
pub struct Model {
    /// In the order in which they are first named.
    pub types: Vec<Named>,
}

/// A type with a name.
#[derive(Debug, PartialEq)]
pub struct Named {
    /// Its name, as in Rust.
    pub name: String,
    /// What it is.
    pub about: String,
    /// What it holds.
    pub kind: Kind,
}

/// What a value may be.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// Text.
    Text,
    /// A number.
    Number,
    /// A whole number.
    Whole,
    /// True or false.
    Truth,
    /// JSON's null.
    Null,
    /// This text or number and no other.
    Exactly(Value),
    /// Any number of one kind.
    List(Box<Kind>),
    /// Two numbers: a point or a direction.
    Pair,
    /// One of the named types.
    Named(String),
    /// An object with these fields.
    Object(Vec<Field>),
    /// One of these.
    Choice(Vec<Variant>),
}

/// One of a choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Variant {
    /// What choosing it means.
    pub about: String,
    /// What it is.
    pub kind: Kind,
}

/// A field of an object.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Its name.
    pub name: String,
    /// What it is.
    pub about: String,
    /// Whether it must be there.
    pub needed: bool,
    /// What its value may be.
    pub kind: Kind,
    /// The least number that is accepted.
    pub least: Option<f64>,
    /// The greatest number that is accepted.
    pub most: Option<f64>,
    /// How many there may be of a list.
    pub most_items: Option<u64>,
    /// What is taken where it is absent.
    pub default: Option<Value>,
}

impl Model {
    /// Reads a schema.
    ///
    /// # Panics
    /// Where the schema says something that is not understood here.
    #[must_use]
    pub fn read(schema: &Value) -> Self {
        let root = object(schema);
        let no_others = Map::new();
        let others = root.get("$defs").map_or(&no_others, object);
        let mut model = Self { types: Vec::new() };
        model.take(text(root, "title"), root, others);
        model
    }

    /// A type, and those it is made of that are not taken yet.
    fn take(&mut self, name: String, schema: &Map<String, Value>, others: &Map<String, Value>) {
        if self.named(&name).is_some() {
            return;
        }
        let kind = kind(schema);
        let within = kind.names();
        self.types.push(Named { name, about: text(schema, "description"), kind });
        within.into_iter().for_each(|name| self.take(name.clone(), object(&others[&name]), others));
    }

    /// Paths of the fields of a value that the schema does not name.
    #[must_use]
    pub fn strays(&self, value: &Value) -> Vec<String> {
        let mut found = Vec::new();
        self.look(value, &[&self.types[0].kind], "", &mut found);
        found
    }

    /// A value that is of one of these kinds.
    fn look(&self, value: &Value, kinds: &[&Kind], path: &str, found: &mut Vec<String>) {
        let kinds = self.spelled_out(kinds);
        match value {
            Value::Object(values) => {
                let fields =
                    kinds.iter().flat_map(|kind| if let Kind::Object(fields) = kind { &fields[..] } else { &[] });
                let fields: Vec<&Field> = fields.collect();
                for (name, value) in values {
                    let at = format!("{path}.{name}");
                    let own: Vec<&Kind> =
                        fields.iter().filter(|field| field.name == *name).map(|field| &field.kind).collect();
                    if own.is_empty() { found.push(at) } else { self.look(value, &own, &at, found) }
                }
            }
            Value::Array(items) => {
                let of = kinds.iter().filter_map(|kind| if let Kind::List(of) = kind { Some(&**of) } else { None });
                let of: Vec<&Kind> = of.collect();
                items.iter().for_each(|item| self.look(item, &of, path, found));
            }
            _ => {}
        }
    }

    /// Names and choices told as what they stand for.
    fn spelled_out<'a>(&'a self, kinds: &[&'a Kind]) -> Vec<&'a Kind> {
        let one = |kind: &&'a Kind| match kind {
            Kind::Named(name) => self.named(name).map_or(Vec::new(), |named| self.spelled_out(&[&named.kind])),
            Kind::Choice(variants) => variants.iter().flat_map(|variant| self.spelled_out(&[&variant.kind])).collect(),
            other => vec![*other],
        };
        kinds.iter().flat_map(one).collect()
    }

    /// The type of this name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Named> {
        self.types.iter().find(|one| one.name == name)
    }
}

impl Kind {
    /// The named types in it.
    #[must_use]
    pub fn names(&self) -> Vec<String> {
        match self {
            Self::Named(name) => vec![name.clone()],
            Self::List(of) => of.names(),
            Self::Object(fields) => fields.iter().flat_map(|field| field.kind.names()).collect(),
            Self::Choice(variants) => variants.iter().flat_map(|variant| variant.kind.names()).collect(),
            _ => Vec::new(),
        }
    }
}

fn object(value: &Value) -> &Map<String, Value> {
    value.as_object().unwrap_or_else(|| panic!("a schema is an object: {value}"))
}

fn text(schema: &Map<String, Value>, name: &str) -> String {
    schema.get(name).and_then(Value::as_str).unwrap_or_default().to_owned()
}

fn kind(schema: &Map<String, Value>) -> Kind {
    if let Some(exactly) = schema.get("const") {
        return Kind::Exactly(exactly.clone());
    }
    if let Some(reference) = schema.get("$ref").and_then(Value::as_str) {
        return Kind::Named(reference.trim_start_matches("#/$defs/").to_owned());
    }
    if let Some(choices) =
        ["oneOf", "anyOf"].iter().find_map(|key| schema.get(*key)).filter(|_| !schema.contains_key("properties"))
    {
        return Kind::Choice(list(choices).iter().flat_map(|choice| variants(object(choice))).collect());
    }
    match schema.get("type") {
        Some(Value::String(name)) => plain(name, schema),
        Some(Value::Array(names)) => {
            let names = names.iter().filter_map(Value::as_str);
            Kind::Choice(names.map(|name| Variant { about: String::new(), kind: plain(name, schema) }).collect())
        }
        _ => panic!("a schema says what it is of: {schema:?}"),
    }
}

/// A choice; texts without a description of their own stand together in one.
fn variants(choice: &Map<String, Value>) -> Vec<Variant> {
    let about = text(choice, "description");
    match choice.get("enum") {
        Some(values) => {
            let exactly = |value: &Value| Variant { about: about.clone(), kind: Kind::Exactly(value.clone()) };
            list(values).iter().map(exactly).collect()
        }
        None => vec![Variant { about, kind: kind(choice) }],
    }
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap_or_else(|| panic!("a list: {value}"))
}

fn plain(name: &str, schema: &Map<String, Value>) -> Kind {
    match name {
        "string" => Kind::Text,
        "number" => Kind::Number,
        "integer" => Kind::Whole,
        "boolean" => Kind::Truth,
        "null" => Kind::Null,
        "array" => match kind(object(&schema["items"])) {
            Kind::Number if schema.get("minItems") == schema.get("maxItems") && schema.contains_key("minItems") => {
                Kind::Pair
            }
            of => Kind::List(Box::new(of)),
        },
        "object" => Kind::Object(fields(schema)),
        other => panic!("{other} is no type of JSON Schema"),
    }
}

fn fields(schema: &Map<String, Value>) -> Vec<Field> {
    let needed: Vec<&str> =
        schema.get("required").map(list).unwrap_or_default().iter().filter_map(Value::as_str).collect();
    let properties = schema.get("properties").map(|properties| object(properties).iter()).into_iter().flatten();
    properties
        .map(|(name, schema)| {
            let schema = object(schema);
            Field {
                name: name.clone(),
                about: text(schema, "description"),
                needed: needed.contains(&name.as_str()),
                kind: kind(schema),
                least: schema.get("minimum").and_then(Value::as_f64),
                most: schema.get("maximum").and_then(Value::as_f64),
                most_items: schema.get("maxItems").filter(|_| !schema.contains_key("minItems")).and_then(Value::as_u64),
                default: schema.get("default").cloned(),
            }
        })
        .collect()
}
