//! What a number of a brief may be. The limits themselves stand beside their fields.

/// The least and the greatest number that a field takes, both of them taken.
pub(crate) type Limits = [f64; 2];

#[cfg(feature = "schema")]
pub(crate) use in_schema::{at_least, has_none, has_number, number, within};

/// What a limit comes to in the JSON Schema of a field.
#[cfg(feature = "schema")]
mod in_schema {
    use schemars::Schema;
    use schemars::transform::Transform;
    use serde_json::{Value, json};

    use crate::limits::Limits;

    /// A number within these limits, both of them taken.
    pub(crate) fn within([least, most]: Limits) -> impl Transform {
        move |schema: &mut Schema| {
            schema.insert("minimum".to_owned(), number(least));
            schema.insert("maximum".to_owned(), number(most));
        }
    }

    /// A number of at least this.
    pub(crate) fn at_least(least: f64) -> impl Transform {
        move |schema: &mut Schema| drop(schema.insert("minimum".to_owned(), number(least)))
    }

    pub(crate) fn has_number(field: &str) -> Value {
        json!({ "required": [field], "properties": { field: { "type": "number" } } })
    }

    pub(crate) fn has_none(field: &str) -> Value {
        json!({ "properties": { field: { "type": "null" } } })
    }

    /// A number as people write it: 6 and not 6.0.
    pub(crate) fn number(value: f64) -> Value {
        // Whole numbers of this size are exact either way.
        #[allow(clippy::cast_possible_truncation)]
        if value.fract() == 0.0 && value.abs() < 1e9 { json!(value as i64) } else { json!(value) }
    }
}
