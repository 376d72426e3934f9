//! What the page takes from the core's types: limits, defaults, the fields it knows, the example.

use lieflat::habits::{HABITS, Habit, System, rounding};
use lieflat::length::LengthUnit;
use lieflat::plan::Rule;
use lieflat::shown;
use lieflat_sheets::{Paper, PieceForm, Sheet, StripForm};
use serde::Serialize;
use serde_json::{Map, Value};

use super::SCRIPT_HEAD;
use super::model::{Field, Kind, Model};

/// One object for each type that has limits: its fields' least and greatest, both of them taken. A bundle keeps only those that
/// are asked for.
pub(super) fn limits(brief: &Model) -> String {
    let within = |field: &Field| {
        let ends = match field.most_items {
            Some(most) => [Value::from(0), Value::from(most)],
            None => [field.least?, field.most?].map(whole),
        };
        Some((field.name.clone(), Value::from(ends.to_vec())))
    };
    let about = "// The least and the greatest that a field takes, of a list how many it takes, by its type in types/brief.d.ts.\n";
    let [least, most] = lieflat::schema::PATH_SEGMENTS;
    format!(
        "{SCRIPT_HEAD}{about}\n{}\n/** How many segments a drawn path has. */\nexport const PATH_SEGMENTS = [{least}, {most}];\n",
        objects(brief, &within)
    )
}

/// The same for what is taken where a field is absent.
pub(super) fn defaults(brief: &Model) -> String {
    let taken = |field: &Field| {
        let value = field.default.clone().filter(|value| !value.is_object() && !value.is_null())?;
        Some((field.name.clone(), value))
    };
    let about = "// What is taken where a field is absent, by its type in types/brief.d.ts.\n";
    let usual = lieflat::schema::usual_roundness()
        .map(|(kind, percent)| format!("{}: {percent}", kind.as_str().unwrap_or_default()));
    format!(
        "{SCRIPT_HEAD}{about}\n{}\n/** By the kind of a shape. Percent. */\nexport const ROUNDNESS = {{ {} }};\n",
        objects(brief, &taken),
        usual.join(", ")
    )
}

fn objects(model: &Model, of: &dyn Fn(&Field) -> Option<(String, Value)>) -> String {
    let mut out = String::new();
    for one in &model.types {
        for (name, fields) in parts(&one.name, &one.kind) {
            let entries: Vec<String> =
                fields.iter().filter_map(of).map(|(name, value)| format!("{name}: {}", literal(&value))).collect();
            if !entries.is_empty() {
                out += &format!("export const {name} = {{ {} }};\n", entries.join(", "));
            }
        }
    }
    out
}

/// The objects of a type: itself, or those of a choice, `Stretch.readings` as `StretchReadings`.
fn parts<'a>(name: &str, kind: &'a Kind) -> Vec<(String, &'a [Field])> {
    match kind {
        Kind::Object(fields) => vec![(name.to_owned(), fields)],
        Kind::Choice(variants) => variants
            .iter()
            .filter_map(|variant| match &variant.kind {
                Kind::Object(fields) => Some(fields),
                _ => None,
            })
            .flat_map(|fields| {
                let inner = fields.iter().filter_map(|field| match &field.kind {
                    Kind::Object(fields) => Some((format!("{name}{}", capital(&field.name)), fields.as_slice())),
                    _ => None,
                });
                let own = fields
                    .iter()
                    .any(|field| field.least.is_some())
                    .then(|| (format!("{name}{}", capital(&fields[0].name)), fields.as_slice()));
                own.into_iter().chain(inner)
            })
            .collect(),
        _ => Vec::new(),
    }
}

fn capital(name: &str) -> String {
    name.split('_').map(|word| word[..1].to_uppercase() + &word[1..]).collect()
}

fn whole(number: f64) -> Value {
    number.to_string().parse::<Value>().unwrap_or_default()
}

fn literal(value: &Value) -> String {
    match value {
        Value::String(text) => format!("'{text}'"),
        Value::Array(items) => format!("[{}]", items.iter().map(literal).collect::<Vec<_>>().join(", ")),
        other => other.to_string(),
    }
}

/// The names of every choice of a brief that has several, in the order the core has them. A bundle keeps only those that are
/// asked for.
pub(super) fn choices(brief: &Model) -> String {
    let mut out = format!("{SCRIPT_HEAD}// What may be chosen, by its type in types/brief.d.ts.\n\n");
    for one in &brief.types {
        let Kind::Choice(variants) = &one.kind else { continue };
        let names: Vec<String> = variants.iter().filter_map(|variant| name_of(&variant.kind)).collect();
        if names.len() == variants.len() {
            out += &list(&one.name, &names);
        }
    }
    out
}

/// A choice's name, where it has one: its text, or the first field of its object.
fn name_of(kind: &Kind) -> Option<String> {
    match kind {
        Kind::Exactly(Value::String(name)) => Some(name.clone()),
        Kind::Object(fields) => fields.first().map(|field| field.name.clone()),
        _ => None,
    }
}

fn list(name: &str, names: &[String]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("'{name}'")).collect();
    format!("export const {name} = /** @type {{const}} */ ([{}]);\n", names.join(", "))
}

/// The choices about the sheets.
pub(super) fn sheets() -> String {
    let about = "// What may be chosen about the sheets, by its type in web/sheets/src/options.rs.\n\n";
    [
        list("Sheet", &names(Sheet::ALL)),
        list("Paper", &names(Paper::ALL)),
        list("StripForm", &names(StripForm::ALL)),
        list("PieceForm", &names(PieceForm::ALL)),
    ]
    .into_iter()
    .fold(format!("{SCRIPT_HEAD}{about}"), |out, list| out + &list)
}

/// What each rule of the working is with its symbols, alike in every language: the page looks it up where it shows the working.
pub(super) fn formulas() -> String {
    let about = "// Each rule of the working with its symbols.\n\n";
    let mut out = format!("{SCRIPT_HEAD}{about}/** @type {{Record<import('../types/plan.d.ts').Rule, string>}} */\n");
    out += "export const formulas = {\n";
    for (rule, name) in Rule::ALL.into_iter().zip(names(Rule::ALL)) {
        let quote = if rule.formula().contains('\'') { '"' } else { '\'' };
        out += &format!("  {name}: {quote}{}{quote},\n", rule.formula());
    }
    out + "};\n"
}

/// As they are written in JSON.
fn names<const N: usize>(all: [impl Serialize; N]) -> Vec<String> {
    let text = |one| serde_json::to_value(one).ok().and_then(|value| value.as_str().map(str::to_owned));
    all.into_iter().filter_map(text).collect()
}

/// The fields of every type, for telling which of a brief this version does not know: a plain value is 0.
pub(super) fn fields(brief: &Model) -> String {
    let about =
        "// The fields of a brief by its types: 0 is a plain value, a name another type, a list what is in the list.\n";
    let mut out = format!("{SCRIPT_HEAD}{about}\n");
    // A type stands after those it is made of.
    let mut written: Vec<&str> = Vec::new();
    for one in &brief.types {
        declare(brief, &one.name, &mut written, &mut out);
    }
    out
}

fn declare<'a>(model: &'a Model, name: &str, written: &mut Vec<&'a str>, out: &mut String) {
    let Some(one) = model.named(name) else { return };
    if written.contains(&one.name.as_str()) || is_plain(model, &one.kind) {
        return;
    }
    one.kind.names().iter().for_each(|name| declare(model, name, written, out));
    written.push(&one.name);
    *out += &format!("export const {} = {};\n", one.name, tree(model, &one.kind));
}

fn is_plain(model: &Model, kind: &Kind) -> bool {
    match kind {
        Kind::Object(_) | Kind::List(_) => false,
        Kind::Named(name) => model.named(name).is_none_or(|named| is_plain(model, &named.kind)),
        Kind::Choice(variants) => variants.iter().all(|variant| is_plain(model, &variant.kind)),
        _ => true,
    }
}

fn tree(model: &Model, kind: &Kind) -> String {
    match kind {
        _ if is_plain(model, kind) => "0".to_owned(),
        Kind::Named(name) => name.clone(),
        Kind::List(of) => format!("[{}]", tree(model, of)),
        Kind::Object(fields) => format!("{{ {} }}", entries(model, fields).join(", ")),
        Kind::Choice(variants) => {
            let objects: Vec<&Kind> =
                variants.iter().map(|one| &one.kind).filter(|kind| !is_plain(model, kind)).collect();
            match &objects[..] {
                [only] => tree(model, only),
                _ => {
                    let all = objects.iter().flat_map(|kind| match kind {
                        Kind::Object(fields) => entries(model, fields),
                        _ => Vec::new(),
                    });
                    format!("{{ {} }}", all.collect::<Vec<_>>().join(", "))
                }
            }
        }
        _ => "0".to_owned(),
    }
}

fn entries(model: &Model, fields: &[Field]) -> Vec<String> {
    fields.iter().map(|field| format!("{}: {}", field.name, tree(model, &field.kind))).collect()
}

/// The invented example that the page opens on, in each system of measures.
pub(super) fn example() -> String {
    let text = |system| {
        let brief = serde_json::to_value(lieflat::example::brief_in(system)).unwrap_or_default();
        serde_json::to_string_pretty(&tidy(brief)).unwrap_or_default()
    };
    let (metric, inches) = (text(System::Metric), text(System::Inch));
    let typed = "/** @type {import('../types/brief.d.ts').Brief} */\n";
    format!(
        "{SCRIPT_HEAD}// The invented example that the page opens on: in metric, and in inches.\n\n{typed}export const metric = {metric};\n\n{typed}export const inches = {inches};\n"
    )
}

/// What a new brief begins with, in metric and in inches.
pub(super) fn habits() -> String {
    let mut out = format!(
        "{SCRIPT_HEAD}// What a new brief begins with, in metric and in inches, by its type in types/brief.d.ts.\n\n"
    );
    let both = |habit: &Habit| {
        let [metric, inch] = [System::Metric, System::Inch].map(|system| round(habit.mm(system)));
        format!("{}: [{metric}, {inch}]", habit.field)
    };
    for (i, first) in HABITS.iter().enumerate() {
        if HABITS[..i].iter().all(|before| before.of != first.of) {
            let fields: Vec<String> = HABITS.iter().filter(|habit| habit.of == first.of).map(both).collect();
            out += &format!("export const {} = {{ {} }};\n", first.of, fields.join(", "));
        }
    }
    let [metric, inch] = names([System::Metric, System::Inch].map(rounding)).try_into().unwrap_or_default();
    out + &format!("export const Brief = {{ rounding: /** @type {{const}} */ (['{metric}', '{inch}']) }};\n")
}

/// How lengths are shown: the steps of each unit, finest first, as the least length in mm and the parts of the unit.
pub(super) fn lengths() -> String {
    let units = [LengthUnit::Millimetre, LengthUnit::Centimetre, LengthUnit::Inch];
    let all =
        |of: &dyn Fn(LengthUnit) -> String| units.map(|unit| format!("{}: {}", unit.symbol(), of(unit))).join(", ");
    let in_mm = all(&|unit| unit.in_mm().to_string());
    let steps = all(&|unit| {
        let steps = shown::steps(unit).iter().map(|step| format!("[{}, {}]", round(step.from_mm), step.parts));
        format!("[{}]", steps.collect::<Vec<_>>().join(", "))
    });
    format!(
        "{SCRIPT_HEAD}// How lengths are shown.\n\n\
        /** mm in one of each unit. */\nexport const UNIT_MM = {{ {in_mm} }};\n\
        /** The steps that each unit is shown in, finest first: the least length shown so, mm, and the parts of the unit. */\n\
        export const STEPS = {{ {steps} }};\n\
        /** The finest parts of an inch that are shown where a length is exactly so many. */\nexport const EXACT_INCH_PARTS = {};\n\
        /** A fraction of an inch that is this near is the length. mm. */\nexport const CLOSE_MM = {};\n\
        /** What is less than this is nothing. mm. */\nexport const NOTHING_MM = {};\n\
        /** Two lengths this near are one. mm. */\nexport const SAME_MM = {};\n",
        shown::EXACT_INCH_PARTS,
        shown::CLOSE_MM,
        shown::NOTHING_MM,
        shown::SAME_MM,
    )
}

/// Lengths as the core shows them, for the check that the page shows them alike: the unit, mm, and what is shown in English.
pub(super) fn shown_samples() -> String {
    let sizes = (0..220).map(|i| {
        let i = f64::from(i);
        // Whole steps of every unit, and what lies between them; small ones closer together.
        [i * 3.175, i * 1.5875, i * 0.396_875, i * 0.5, i * 0.0173, 0.37 * i * i, -1.3 * i]
    });
    let lines = sizes.flatten().flat_map(|mm| {
        let mm = round(mm);
        [LengthUnit::Millimetre, LengthUnit::Centimetre, LengthUnit::Inch]
            .map(|unit| format!("  [\"{}\", {mm}, \"{}\"]", unit.symbol(), shown::shown(mm, unit)))
    });
    format!("[\n{}\n]\n", lines.collect::<Vec<_>>().join(",\n"))
}

/// Without the last digits of a product, which are rounding.
fn round(mm: f64) -> f64 {
    (mm * 1e6).round() / 1e6
}

/// Whole numbers without a point.
fn tidy(value: Value) -> Value {
    match value {
        Value::Number(number) => number.as_f64().map_or(Value::Null, |number| whole(round(number))),
        Value::Array(items) => items.into_iter().map(tidy).collect(),
        Value::Object(fields) => {
            Value::Object(fields.into_iter().map(|(name, value)| (name, tidy(value))).collect::<Map<_, _>>())
        }
        other => other,
    }
}
