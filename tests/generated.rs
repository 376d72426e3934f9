//! What is generated of the core's types: JSON Schema, TypeScript declarations, the page's example, words for fuzzing and a
//! reference page. `cargo run -p lieflat-tests --example generate` writes all of it; a check finds what is stale.

pub mod model;
mod typescript;

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use model::Model;

/// A generated file.
#[derive(Debug)]
pub struct File {
    /// From the repository's root.
    pub path: &'static str,
    /// All of its text.
    pub text: String,
}

impl File {
    /// Where it is kept.
    #[must_use]
    pub fn place(&self) -> PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(self.path)
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
    vec![
        File { path: "web/page/types/brief.d.ts", text: typescript::declarations(&brief, &[]) },
        File { path: "web/page/types/plan.d.ts", text: typescript::declarations(&plan, &[("./brief.d.ts", &brief)]) },
        File {
            path: "web/page/types/errors.d.ts",
            text: typescript::declarations(&errors, &[("./brief.d.ts", &brief), ("./plan.d.ts", &plan)]),
        },
    ]
}
