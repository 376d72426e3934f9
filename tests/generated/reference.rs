//! The reference page: every field, choice and code of brief, plan and errors as a table.

use std::collections::BTreeSet;

use lieflat::schema::{BEYOND_CORE, BEYOND_SCHEMA, Beyond};
use serde_json::Value;

use super::model::{Field, Kind, Model, Named, Variant};

/// The whole page.
pub(super) fn page(brief: &Model, plan: &Model, errors: &Model) -> String {
    let mut writer = Writer { out: HEAD.to_owned(), told: BTreeSet::new() };
    writer.out += BRIEF;
    writer.all(brief);
    writer.out += "\n## What a schema cannot say\n\n";
    writer.out += "`www/schema/brief-1.json` takes what the core takes, but for these. The core refuses besides:\n\n";
    BEYOND_SCHEMA.iter().for_each(|beyond| writer.out += &row(beyond));
    writer.out += "\nThe core takes besides, and nobody should write:\n\n";
    BEYOND_CORE.iter().for_each(|beyond| writer.out += &row(beyond));
    writer.out += PLAN;
    writer.all(plan);
    writer.out += ERRORS;
    writer.out += &format!("```json\n{}\n```\n", example_of_errors());
    writer.all(errors);
    writer.out
}

const HEAD: &str = "# Brief, plan and errors: the reference

Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited. The same as JSON Schema stands in
`www/schema`, which is published with the site, and as TypeScript declarations in `web/page/types`.

Lengths are millimetres; names carry their units (`_mm`, `_percent`, `_deg`, `_points`, `_months`). A half's frame is x outward from the
centre line and y down from the neck point. Ranges include their ends.
";

const BRIEF: &str = "
## A brief: `lieflat.brief`, version 1

All that a person tells. Fields that are not known are refused everywhere. A field that is neither needed nor has a default may be left out.
";

const PLAN: &str = "
## A plan: `lieflat.plan`, version 1

All that is worked out. Fields that do not apply are left out.
";

const ERRORS: &str = "
## Errors

All values out of range are reported together; so are both halves' outlines that cannot be drawn or moved. JSON that does not read (a missing
or unknown field, a value of the wrong kind) is reported at its first problem. `BriefError::describe(unit)` words an error in the person's unit.
The command line (`core/examples/plan.rs`) writes them to standard error with such a `message`, in mm, and exits with code 2; a file that cannot be
read gives a `message` alone. With a band 0 mm wide and a head of 5000 mm:

";

fn row(beyond: &Beyond) -> String {
    format!("- `{}`: {}\n", beyond.name, beyond.words)
}

/// The errors of a brief with two values out of range, as the core gives them.
fn example_of_errors() -> String {
    let mut brief = lieflat::example::brief();
    brief.finish = crate::band(0.0);
    brief.head.girth = lieflat::brief::HeadGirth::OwnMm(5000.0);
    let errors = lieflat::plan(&brief).expect_err("two values are out of range");
    serde_json::to_string_pretty(&errors).unwrap_or_default()
}

struct Writer {
    out: String,
    told: BTreeSet<String>,
}

impl Writer {
    /// Every type of a model that has not been told yet.
    fn all(&mut self, model: &Model) {
        for one in &model.types {
            if self.told.insert(one.name.clone()) {
                self.section(one);
            }
        }
    }

    fn section(&mut self, one: &Named) {
        self.out += &format!("\n### {}\n\n{}\n\n", one.name, one.about);
        match &one.kind {
            Kind::Object(fields) => self.fields("", fields),
            Kind::Choice(variants) => self.choice(variants),
            other => self.out += &format!("{}\n", accepted(other, None)),
        }
    }

    fn fields(&mut self, within: &str, fields: &[Field]) {
        self.out += "| field | what | accepted | default |\n|---|---|---|---|\n";
        for field in fields {
            let name = format!("{within}{}", field.name);
            let row = [format!("`{name}`"), field.about.clone(), accepted(&field.kind, Some(field)), taken(field)];
            self.out += &format!("| {} |\n", row.map(|cell| cell.replace('|', "\\|")).join(" | "));
        }
    }

    fn choice(&mut self, variants: &[Variant]) {
        self.out += "| one of | what | holds |\n|---|---|---|\n";
        for variant in variants {
            let (name, holds) = match &variant.kind {
                Kind::Exactly(value) => (written(value), String::new()),
                Kind::Object(fields) => match &fields[..] {
                    [only] => (format!("`{}`", only.name), holds(only)),
                    _ => (String::new(), accepted(&variant.kind, None)),
                },
                other => (accepted(other, None), String::new()),
            };
            self.out += &format!("| {name} | {} | {holds} |\n", variant.about.replace('|', "\\|"));
        }
    }
}

/// What a choice carries: the fields of an object, or a value.
fn holds(field: &Field) -> String {
    match &field.kind {
        Kind::Object(fields) => {
            let parts = fields.iter().map(|field| {
                let about =
                    [field.about.trim_end_matches('.').to_owned(), accepted(&field.kind, Some(field)), taken(field)];
                let about: Vec<String> = about.into_iter().filter(|part| !part.is_empty()).collect();
                format!("`{}` ({})", field.name, about.join("; "))
            });
            parts.collect::<Vec<_>>().join("<br>").replace('|', "\\|")
        }
        other => accepted(other, Some(field)),
    }
}

fn taken(field: &Field) -> String {
    match &field.default {
        _ if field.needed => "needed".to_owned(),
        Some(Value::Object(_) | Value::Null) | None => String::new(),
        Some(value) => written(value),
    }
}

fn written(value: &Value) -> String {
    value.as_str().map_or_else(|| format!("`{value}`"), |text| format!("`{text}`"))
}

fn accepted(kind: &Kind, field: Option<&Field>) -> String {
    let range = field.and_then(|field| match (field.least, field.most) {
        (Some(least), Some(most)) => Some(format!(", {least} to {most}")),
        (Some(least), None) if least > 0.0 => Some(format!(", at least {least}")),
        _ => None,
    });
    let range = range.unwrap_or_default();
    match kind {
        Kind::Text => "text".to_owned(),
        Kind::Number => format!("number{range}"),
        Kind::Whole => format!("whole number{range}"),
        Kind::Truth => "`true`, `false`".to_owned(),
        Kind::Null => "`null`".to_owned(),
        Kind::Exactly(value) => written(value),
        Kind::Pair => "two numbers".to_owned(),
        Kind::Named(name) => format!("[{name}](#{})", name.to_lowercase()),
        Kind::List(of) => {
            let most = field.and_then(|field| field.most_items).map(|most| format!(", at most {most}"));
            format!("list of {}{}", accepted(of, None), most.unwrap_or_default())
        }
        Kind::Object(fields) => fields.iter().map(|field| format!("`{}`", field.name)).collect::<Vec<_>>().join(", "),
        Kind::Choice(variants) => {
            let kinds = variants.iter().filter(|variant| variant.kind != Kind::Null);
            kinds.map(|variant| accepted(&variant.kind, field)).collect::<Vec<_>>().join(" or ")
        }
    }
}
