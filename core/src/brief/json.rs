//! Reading a brief from JSON text.

use super::{Brief, SCHEMA, VERSION};
use crate::error::{Accepted, AcceptedCode, BriefError, BriefErrors, Problem};

impl Brief {
    /// Reads a brief from JSON text.
    ///
    /// # Errors
    /// The place, the problem and what is accepted: text that is no JSON, another schema or version,
    /// an unknown field by its name, a missing field, or a value of the wrong kind.
    pub fn from_json(text: &str) -> Result<Self, BriefErrors> {
        // Some editors begin a file with a byte-order mark, which a reader may pass over (RFC 8259, section 8.1).
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let mut reader = serde_json::Deserializer::from_str(text);
        let brief: Self = serde_path_to_error::deserialize(&mut reader).map_err(|e| {
            let field = e.path().to_string();
            unreadable(&field, &e.into_inner().to_string())
        })?;
        reader.end().map_err(|e| unreadable(".", &e.to_string()))?;
        brief.check_schema()?;
        Ok(brief)
    }

    /// Whether the brief carries this schema's name and version.
    ///
    /// # Errors
    /// [`Problem::OtherSchema`] at `schema` or `version`.
    pub fn check_schema(&self) -> Result<(), BriefErrors> {
        let other = |field: &str, found: String, accepted: String| {
            let accepted = Accepted::words(AcceptedCode::ThisSchema, accepted);
            BriefErrors::from(BriefError::new(field, Some(found), Problem::OtherSchema, accepted))
        };
        if self.schema != SCHEMA {
            return Err(other("schema", self.schema.clone(), SCHEMA.to_owned()));
        }
        if self.version != VERSION {
            return Err(other("version", self.version.to_string(), VERSION.to_string()));
        }
        Ok(())
    }
}

/// Sorts a reader's message into an unknown field, a missing one, or a value of the wrong kind.
fn unreadable(path: &str, message: &str) -> BriefErrors {
    let quoted = message.split('`').nth(1).unwrap_or_default();
    // The reader says "found, expected what at line l column c"; the field's path serves people better.
    let said = message.rsplit_once(" at line ").map_or(message, |(said, _)| said);
    let (found, expected) = said.split_once(", expected ").unwrap_or((said, "a brief in JSON"));
    let expected = if expected == "f64" { "a number" } else { expected };
    let (problem, field, value) = if message.starts_with("unknown field") {
        (Problem::UnknownField, join(path, quoted), Some(quoted))
    } else if message.starts_with("missing field") {
        return BriefError::new(join(path, quoted), None, Problem::Missing, Accepted::code(AcceptedCode::AValue))
            .into();
    } else {
        (Problem::Unreadable, path.to_owned(), Some(found))
    };
    BriefError::new(field, value.map(str::to_owned), problem, Accepted::words(AcceptedCode::OtherText, expected)).into()
}

fn join(path: &str, last: &str) -> String {
    match path {
        "." | "" => last.to_owned(),
        _ if path == last || path.ends_with(&format!(".{last}")) => path.to_owned(),
        _ => format!("{path}.{last}"),
    }
}
