//! What is generated of the core's types: JSON Schema, TypeScript declarations, the page's example, words for fuzzing and a
//! reference page. `cargo run -p lieflat-tests --example generate` writes all of it; a check finds what is stale.

mod dictionary;
pub mod model;
mod page;
mod reference;
mod typescript;

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use model::Model;

/// The first line of a generated script.
const SCRIPT_HEAD: &str =
    "// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.\n";

/// A generated file.
#[derive(Debug)]
pub struct File {
    /// From the repository's root.
    pub path: String,
    /// All of its text.
    pub text: String,
}

impl File {
    /// Where it is kept.
    #[must_use]
    pub fn place(&self) -> PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(&self.path)
    }

    /// Whether what is kept is what the types say now.
    #[must_use]
    pub fn is_current(&self) -> bool {
        fs::read_to_string(self.place()).is_ok_and(|kept| kept == self.text)
    }
}

/// The three schemas, as JSON.
#[derive(Debug)]
struct Schemas {
    brief: Value,
    plan: Value,
    errors: Value,
}

impl Schemas {
    fn new() -> Self {
        let [brief, plan, errors] = [lieflat::schema::brief(), lieflat::schema::plan(), lieflat::schema::errors()]
            .map(|schema| schema.to_value());
        Self { brief, plan, errors }
    }
}

/// Every generated file, made anew from the types.
#[must_use]
pub fn files() -> Vec<File> {
    let schemas = Schemas::new();
    let [brief, plan, errors] = [&schemas.brief, &schemas.plan, &schemas.errors].map(Model::read);
    let [told, sizes] =
        [lieflat::schema::told(), lieflat::schema::sizes()].map(|schema| Model::read(schema.as_value()));
    let [in_brief, in_plan] = [("./brief.d.ts", &brief), ("./plan.d.ts", &plan)];
    vec![
        file("core/REFERENCE.md", reference::page(&brief, &plan, &errors)),
        file("tests/fuzz/brief.dict", dictionary::dictionary(&brief)),
        file("tests/generated/shown.json", page::shown_samples()),
        file("web/page/generated/choices.js", page::choices(&brief)),
        file("web/page/generated/defaults.js", page::defaults(&brief)),
        file("web/page/generated/example.js", page::example()),
        file("web/page/generated/fields.js", page::fields(&brief)),
        file("web/page/generated/formulas.js", page::formulas()),
        file("web/page/generated/habits.js", page::habits()),
        file("web/page/generated/lengths.js", page::lengths()),
        file("web/page/generated/limits.js", page::limits(&brief)),
        file("web/page/generated/sheets.js", page::sheets()),
        file("web/page/types/brief.d.ts", typescript::declarations(&brief, &[])),
        file("web/page/types/plan.d.ts", typescript::declarations(&plan, &[in_brief])),
        file("web/page/types/errors.d.ts", typescript::declarations(&errors, &[in_brief, in_plan])),
        file("web/page/types/sizes.d.ts", typescript::declarations(&sizes, &[])),
        file("web/page/types/told.d.ts", typescript::declarations(&told, &[])),
        file(&schema_path("brief", lieflat::brief::VERSION), json(&schemas.brief)),
        file(&schema_path("errors", lieflat::plan::VERSION), json(&schemas.errors)),
        file(&schema_path("plan", lieflat::plan::VERSION), json(&schemas.plan)),
    ]
}

fn file(path: &str, text: String) -> File {
    File { path: path.to_owned(), text }
}

/// Where a schema is kept and, from `schema/` on, published.
fn schema_path(name: &str, version: u32) -> String {
    format!("www/schema/{name}-{version}.json")
}

fn json(schema: &Value) -> String {
    serde_json::to_string_pretty(schema).unwrap_or_default() + "\n"
}
