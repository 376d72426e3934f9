//! TypeScript declarations of a schema's types.

use serde_json::Value;

use super::SCRIPT_HEAD;
use super::model::{Field, Kind, Model, Named, Variant};

/// All types of a model as one module. What another module has alike is taken from there.
pub(super) fn declarations(model: &Model, others: &[(&str, &Model)]) -> String {
    let mut out = SCRIPT_HEAD.to_owned();
    let mut own = Vec::new();
    let mut taken: Vec<(&str, Vec<&str>)> = others.iter().map(|(from, _)| (*from, Vec::new())).collect();
    for one in &model.types {
        let place = others.iter().position(|(_, other)| other.named(&one.name) == Some(one));
        match place {
            Some(place) => taken[place].1.push(&one.name),
            None => own.push(one),
        }
    }
    for (from, names) in taken.iter().filter(|(_, names)| !names.is_empty()) {
        let names = names.join(", ");
        out += &format!("\nimport type {{ {names} }} from '{from}';\nexport type {{ {names} }} from '{from}';\n");
    }
    own.iter().for_each(|one| declare(one, &mut out));
    out
}

fn declare(one: &Named, out: &mut String) {
    out.push('\n');
    comment(&one.about, "", out);
    match &one.kind {
        Kind::Object(fields) => {
            *out += &format!("export interface {} {{\n", one.name);
            fields.iter().for_each(|field| member(field, "  ", out));
            *out += "}\n";
        }
        Kind::Choice(variants) => {
            *out += &format!("export type {} =", one.name);
            for (place, variant) in variants.iter().enumerate() {
                out.push('\n');
                comment(&variant.about, "  ", out);
                *out += &format!("  | {}", alternative(variants, place));
            }
            *out += ";\n";
        }
        other => *out += &format!("export type {} = {};\n", one.name, written(other)),
    }
}

fn comment(about: &str, indent: &str, out: &mut String) {
    if !about.is_empty() {
        *out += &format!("{indent}/** {} */\n", about.replace("*/", "* /"));
    }
}

fn member(field: &Field, indent: &str, out: &mut String) {
    comment(&about(field), indent, out);
    let mark = if field.needed { "" } else { "?" };
    *out += &format!("{indent}{}{mark}: {};\n", field.name, written(&field.kind));
}

/// What a field is, with its limits and default.
fn about(field: &Field) -> String {
    let mut parts = vec![field.about.clone()];
    match (field.least, field.most) {
        (Some(least), Some(most)) => parts.push(format!("From {least} to {most}.")),
        _ => parts.extend(field.most_items.map(|most| format!("At most {most}."))),
    }
    parts.extend(
        field
            .default
            .as_ref()
            .filter(|value| !value.is_object() && !value.is_null())
            .map(|value| format!("Default: {}.", plain(value))),
    );
    parts.retain(|part| !part.is_empty());
    parts.join(" ")
}

/// A value as people write it: 6 and not 6.0.
fn plain(value: &Value) -> String {
    value.as_f64().map_or_else(|| value.to_string(), |number| number.to_string())
}

fn written(kind: &Kind) -> String {
    match kind {
        Kind::Text => "string".to_owned(),
        Kind::Number | Kind::Whole => "number".to_owned(),
        Kind::Truth => "boolean".to_owned(),
        Kind::Null => "null".to_owned(),
        Kind::Exactly(value) => value.as_str().map_or_else(|| value.to_string(), |text| format!("'{text}'")),
        Kind::List(of) => match written(of) {
            of if of.contains(" | ") => format!("({of})[]"),
            of => format!("{of}[]"),
        },
        Kind::Pair => "[number, number]".to_owned(),
        Kind::Named(name) => name.clone(),
        Kind::Object(fields) => {
            let members = fields.iter().map(|field| {
                format!("{}{}: {}", field.name, if field.needed { "" } else { "?" }, written(&field.kind))
            });
            format!("{{ {} }}", members.collect::<Vec<_>>().join("; "))
        }
        Kind::Choice(variants) => {
            let all: Vec<String> = (0..variants.len()).map(|place| alternative(variants, place)).collect();
            all.join(" | ")
        }
    }
}

/// One of a choice. Objects name the others' fields as absent, so that asking which it is reads plainly.
fn alternative(variants: &[Variant], place: usize) -> String {
    let Kind::Object(own) = &variants[place].kind else { return written(&variants[place].kind) };
    let is_own = |name: &str| own.iter().any(|field| field.name == name);
    let mut others: Vec<&str> = Vec::new();
    for variant in variants {
        let Kind::Object(fields) = &variant.kind else { continue };
        others.extend(fields.iter().map(|field| field.name.as_str()).filter(|name| !is_own(name)));
    }
    let own = written(&variants[place].kind);
    let absent: Vec<String> = others.iter().map(|name| format!("{name}?: undefined")).collect();
    match own.strip_suffix(" }") {
        Some(open) if !absent.is_empty() => format!("{open}; {} }}", absent.join("; ")),
        _ => own,
    }
}
