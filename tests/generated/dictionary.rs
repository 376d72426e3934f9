//! Words for fuzzing: every name and choice of a brief, its limits, and what upsets readers of JSON.

use std::collections::BTreeSet;

use super::model::{Field, Kind, Model};

/// What readers of JSON and of numbers trip over.
const ODD: [&str; 14] = ["null", "true", "false", "1e308", "-1", "0.0", "-0", "1e-300", "2.0", ":", "{", "}", "[", "]"];

/// A dictionary as fuzzers read it: a word to a line, in quotes.
pub(super) fn dictionary(brief: &Model) -> String {
    let mut words = Words::default();
    brief.types.iter().for_each(|one| words.of(&one.kind));
    let names = words.names.iter().map(|name| format!("\"\\\"{name}\\\"\"\n"));
    let numbers = words.numbers.iter().map(|number| format!("\"{number}\"\n"));
    let odd = ODD.iter().filter(|word| !words.numbers.contains(**word)).map(|word| format!("\"{word}\"\n"));
    "# Generated of the core's types by `cargo run -p lieflat-tests --example generate`.\n".to_owned()
        + &names.chain(numbers).chain(odd).collect::<String>()
}

#[derive(Default)]
struct Words {
    names: BTreeSet<String>,
    numbers: BTreeSet<String>,
}

impl Words {
    fn of(&mut self, kind: &Kind) {
        match kind {
            Kind::Exactly(value) => drop(value.as_str().map(|text| self.names.insert(text.to_owned()))),
            Kind::List(of) => self.of(of),
            Kind::Object(fields) => fields.iter().for_each(|field| self.field(field)),
            Kind::Choice(variants) => variants.iter().for_each(|variant| self.of(&variant.kind)),
            Kind::Text | Kind::Number | Kind::Whole | Kind::Truth | Kind::Null | Kind::Pair | Kind::Named(_) => {}
        }
    }

    fn field(&mut self, field: &Field) {
        self.names.insert(field.name.clone());
        self.numbers.extend([field.least, field.most].into_iter().flatten().map(|number| number.to_string()));
        self.of(&field.kind);
    }
}
