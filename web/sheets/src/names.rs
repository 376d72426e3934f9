//! Brief and plan from JSON values by the derives of the core's own types.
//!
//! An object is read by its names alone and never as a list in their order. What is wrong is not said: the page has shown the
//! core's own messages by then, and their texts would be a third of what reading weighs.

use core::fmt::{Display, Formatter, Result as Written};

use serde::de::value::{MapDeserializer, SeqDeserializer, StrDeserializer};
use serde::de::{
    DeserializeOwned, DeserializeSeed, Deserializer, EnumAccess, Error, IntoDeserializer, VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;
use serde_json::Value;

/// Reads a text of JSON; none where it is no JSON, or not of this type name for name.
pub(crate) fn from_text<T: DeserializeOwned>(text: &str) -> Option<T> {
    let value: Value = serde_json::from_str(text).ok()?;
    T::deserialize(Node(&value)).ok()
}

/// Something is not of the type.
#[derive(Debug)]
struct Refused;

impl Display for Refused {
    fn fmt(&self, f: &mut Formatter<'_>) -> Written {
        f.write_str("refused")
    }
}

impl core::error::Error for Refused {}

impl Error for Refused {
    fn custom<T: Display>(_: T) -> Self {
        Self
    }
}

/// A value to be read.
#[derive(Clone, Copy)]
struct Node<'de>(&'de Value);

impl<'de> Node<'de> {
    fn text(self) -> Result<&'de str, Refused> {
        self.0.as_str().ok_or(Refused)
    }

    fn fields<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        let fields = self.0.as_object().ok_or(Refused)?;
        visitor.visit_map(MapDeserializer::new(fields.iter().map(|(name, value)| (name.as_str(), Node(value)))))
    }

    fn items<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        let mut items = SeqDeserializer::new(self.0.as_array().ok_or(Refused)?.iter().map(Node));
        let read = visitor.visit_seq(&mut items)?;
        items.end()?;
        Ok(read)
    }
}

impl<'de> IntoDeserializer<'de, Refused> for Node<'de> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for Node<'de> {
    type Error = Refused;

    /// Nothing in brief or plan takes whatever comes.
    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Refused> {
        Err(Refused)
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        visitor.visit_bool(self.0.as_bool().ok_or(Refused)?)
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_u64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        visitor.visit_u64(self.0.as_u64().ok_or(Refused)?)
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        visitor.visit_f64(self.0.as_f64().ok_or(Refused)?)
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        visitor.visit_str(self.text()?)
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        visitor.visit_str(self.text()?)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        if self.0.is_null() { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        self.items(visitor)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Refused> {
        self.items(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        self.fields(visitor)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refused> {
        self.fields(visitor)
    }

    /// A choice: its name, or an object whose one name it is.
    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refused> {
        let (name, with) = match self.0 {
            Value::String(name) => (name, &Value::Null),
            Value::Object(fields) if fields.len() == 1 => fields.iter().next().ok_or(Refused)?,
            _ => return Err(Refused),
        };
        visitor.visit_enum(Choice { name, with: Node(with) })
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refused> {
        visitor.visit_unit()
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i64 i128 u8 u16 u128 f32 char bytes byte_buf unit unit_struct newtype_struct tuple_struct identifier
    }
}

/// A choice by its name and what comes with it; nothing where it comes alone.
struct Choice<'de> {
    name: &'de str,
    with: Node<'de>,
}

impl<'de> EnumAccess<'de> for Choice<'de> {
    type Error = Refused;
    type Variant = Node<'de>;

    fn variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<(S::Value, Node<'de>), Refused> {
        let name: StrDeserializer<'de, Refused> = self.name.into_deserializer();
        Ok((seed.deserialize(name)?, self.with))
    }
}

impl<'de> VariantAccess<'de> for Node<'de> {
    type Error = Refused;

    fn unit_variant(self) -> Result<(), Refused> {
        if self.0.is_null() { Ok(()) } else { Err(Refused) }
    }

    fn newtype_variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<S::Value, Refused> {
        seed.deserialize(self)
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, _: V) -> Result<V::Value, Refused> {
        Err(Refused)
    }

    fn struct_variant<V: Visitor<'de>>(self, _: &'static [&'static str], visitor: V) -> Result<V::Value, Refused> {
        self.fields(visitor)
    }
}
