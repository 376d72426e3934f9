//! The page's catalogue of words, as it is handed over.

use core::fmt;

use serde::de::{MapAccess, Visitor};
use serde::{Deserialize, Deserializer};

/// A text, or a block of them by name: in JSON a string, or an object of more of the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Catalogue {
    /// A text.
    Text(String),
    /// Names with what they hold.
    Block(Vec<(String, Self)>),
}

impl Catalogue {
    /// The text at a dotted path of names, where there is one.
    pub(crate) fn find(&self, key: &str) -> Option<&str> {
        match key.split('.').try_fold(self, Self::named)? {
            Self::Text(text) => Some(text),
            Self::Block(_) => None,
        }
    }

    fn named(&self, name: &str) -> Option<&Self> {
        match self {
            Self::Text(_) => None,
            Self::Block(names) => names.iter().find(|(one, _)| one == name).map(|(_, held)| held),
        }
    }
}

impl<'de> Deserialize<'de> for Catalogue {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(Either)
    }
}

struct Either;

impl<'de> Visitor<'de> for Either {
    type Value = Catalogue;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a text or an object of texts")
    }

    fn visit_str<E>(self, text: &str) -> Result<Catalogue, E> {
        Ok(Catalogue::Text(text.to_owned()))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut names: A) -> Result<Catalogue, A::Error> {
        let mut held = Vec::new();
        while let Some(entry) = names.next_entry()? {
            held.push(entry);
        }
        Ok(Catalogue::Block(held))
    }
}
