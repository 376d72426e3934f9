//! Reading a plan back from its JSON. Every name is as it is written: what is missing or unknown is refused, so that no figure
//! is ever taken for zero.

use serde::de::{Error, IgnoredAny};
use serde::{Deserialize, Deserializer};

use super::{SCHEMA, SchemaName, VERSION};
use crate::working::Step;

/// This schema's own name.
pub(super) fn schema<'de, D: Deserializer<'de>>(from: D) -> Result<SchemaName, D::Error> {
    if String::deserialize(from)? == SCHEMA { Ok(SCHEMA) } else { Err(D::Error::custom("another schema")) }
}

/// This version.
pub(super) fn version<'de, D: Deserializer<'de>>(from: D) -> Result<u32, D::Error> {
    if u32::deserialize(from)? == VERSION { Ok(VERSION) } else { Err(D::Error::custom("another version")) }
}

/// The working, which may be absent: whoever reads a plan has no use for it, and its formulas would be compiled in.
pub(super) fn passed_over<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Step>, D::Error> {
    IgnoredAny::deserialize(from).map(|_| Vec::new())
}
