//! Values to JSON text.

use serde::Serialize;
use serde::ser::{self, Serializer};

/// A value that has no JSON, which no type of a plan is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unwritten;

impl core::fmt::Display for Unwritten {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("a value that has no JSON")
    }
}

impl core::error::Error for Unwritten {}

impl ser::Error for Unwritten {
    fn custom<T: core::fmt::Display>(_: T) -> Self {
        Self
    }
}

/// Writes a value, its numbers as [`lieflat::decimal::write`] does. What is no finite number is null.
///
/// # Errors
/// [`Unwritten`] where the value's own [`Serialize`] refuses, or it has bytes. The names of a map must be texts.
pub fn write(value: &impl Serialize) -> Result<String, Unwritten> {
    let mut writer = Writer { text: String::new() };
    value.serialize(&mut writer)?;
    Ok(writer.text)
}

struct Writer {
    text: String,
}

impl Writer {
    /// Before an item or a field: a comma, unless it is the first. No text ends in a bracket, as texts end in quotes.
    #[inline(never)]
    fn part(&mut self) {
        if !matches!(self.text.as_bytes().last(), Some(b'[' | b'{')) {
            self.text.push(',');
        }
    }

    /// A field's or a choice's name: plain letters, as all names of fields are.
    #[inline(never)]
    fn name(&mut self, name: &str) {
        self.text.push('"');
        self.text.push_str(name);
        self.text.push_str("\":");
    }

    /// The start of a choice that holds something: an object of its one name.
    fn choice(&mut self, name: &str) {
        self.text.push('{');
        self.name(name);
    }

    #[inline(never)]
    fn string(&mut self, text: &str) {
        self.text.push('"');
        for letter in text.chars() {
            match letter {
                '"' | '\\' => {
                    self.text.push('\\');
                    self.text.push(letter);
                }
                '\0'..='\x1f' => {
                    self.text.push_str("\\u00");
                    for shift in [4, 0] {
                        self.text.push(char::from_digit((u32::from(letter) >> shift) & 15, 16).unwrap_or('0'));
                    }
                }
                _ => self.text.push(letter),
            }
        }
        self.text.push('"');
    }

    #[inline(never)]
    fn number(&mut self, value: f64) {
        if value.is_finite() {
            lieflat::decimal::write_to(&mut self.text, value);
        } else {
            self.text.push_str("null");
        }
    }
}

macro_rules! numbers {
    ($($name:ident: $kind:ty)*) => {$(
        fn $name(self, value: $kind) -> Result<(), Unwritten> {
            // Counts are far below what a double holds whole.
            self.number(value as f64);
            Ok(())
        }
    )*};
}

impl<'a> Serializer for &'a mut Writer {
    type Ok = ();
    type Error = Unwritten;
    type SerializeSeq = Parts<'a>;
    type SerializeTuple = Parts<'a>;
    type SerializeTupleStruct = Parts<'a>;
    type SerializeTupleVariant = Parts<'a>;
    type SerializeMap = Parts<'a>;
    type SerializeStruct = Parts<'a>;
    type SerializeStructVariant = Parts<'a>;

    numbers! {
        serialize_u8: u8 serialize_u16: u16 serialize_u32: u32 serialize_u64: u64
        serialize_i8: i8 serialize_i16: i16 serialize_i32: i32 serialize_i64: i64 serialize_f32: f32
    }

    fn serialize_f64(self, value: f64) -> Result<(), Unwritten> {
        self.number(value);
        Ok(())
    }

    fn serialize_bool(self, value: bool) -> Result<(), Unwritten> {
        self.text.push_str(if value { "true" } else { "false" });
        Ok(())
    }

    fn serialize_char(self, value: char) -> Result<(), Unwritten> {
        self.string(value.encode_utf8(&mut [0; 4]));
        Ok(())
    }

    fn serialize_str(self, value: &str) -> Result<(), Unwritten> {
        self.string(value);
        Ok(())
    }

    fn serialize_bytes(self, _: &[u8]) -> Result<(), Unwritten> {
        Err(Unwritten)
    }

    fn serialize_none(self) -> Result<(), Unwritten> {
        self.serialize_unit()
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), Unwritten> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), Unwritten> {
        self.text.push_str("null");
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<(), Unwritten> {
        self.serialize_unit()
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, name: &'static str) -> Result<(), Unwritten> {
        self.string(name);
        Ok(())
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Result<(), Unwritten> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
        value: &T,
    ) -> Result<(), Unwritten> {
        self.choice(name);
        value.serialize(&mut *self)?;
        self.text.push('}');
        Ok(())
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Parts<'a>, Unwritten> {
        self.text.push('[');
        Ok(Parts { writer: self, end: "]" })
    }

    fn serialize_tuple(self, _: usize) -> Result<Parts<'a>, Unwritten> {
        self.serialize_seq(None)
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Parts<'a>, Unwritten> {
        self.serialize_seq(None)
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
        _: usize,
    ) -> Result<Parts<'a>, Unwritten> {
        self.choice(name);
        self.text.push('[');
        Ok(Parts { writer: self, end: "]}" })
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Parts<'a>, Unwritten> {
        self.text.push('{');
        Ok(Parts { writer: self, end: "}" })
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Parts<'a>, Unwritten> {
        self.text.push('{');
        Ok(Parts { writer: self, end: "}" })
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
        _: usize,
    ) -> Result<Parts<'a>, Unwritten> {
        self.choice(name);
        self.text.push('{');
        Ok(Parts { writer: self, end: "}}" })
    }
}

/// A list or an object while its parts are written.
struct Parts<'a> {
    writer: &'a mut Writer,
    end: &'static str,
}

impl Parts<'_> {
    fn item<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Unwritten> {
        self.writer.part();
        value.serialize(&mut *self.writer)
    }

    fn field<T: Serialize + ?Sized>(&mut self, name: &str, value: &T) -> Result<(), Unwritten> {
        self.writer.part();
        self.writer.name(name);
        value.serialize(&mut *self.writer)
    }

    fn close(self) -> Result<(), Unwritten> {
        self.writer.text.push_str(self.end);
        Ok(())
    }
}

macro_rules! lists {
    ($($of:ident $item:ident)*) => {$(
        impl ser::$of for Parts<'_> {
            type Ok = ();
            type Error = Unwritten;

            fn $item<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Unwritten> {
                self.item(value)
            }

            fn end(self) -> Result<(), Unwritten> {
                self.close()
            }
        }
    )*};
}

macro_rules! objects {
    ($($of:ident)*) => {$(
        impl ser::$of for Parts<'_> {
            type Ok = ();
            type Error = Unwritten;

            fn serialize_field<T: Serialize + ?Sized>(
                &mut self,
                name: &'static str,
                value: &T,
            ) -> Result<(), Unwritten> {
                self.field(name, value)
            }

            fn end(self) -> Result<(), Unwritten> {
                self.close()
            }
        }
    )*};
}

lists! {
    SerializeSeq serialize_element
    SerializeTuple serialize_element
    SerializeTupleStruct serialize_field
    SerializeTupleVariant serialize_field
}
objects! { SerializeStruct SerializeStructVariant }

impl ser::SerializeMap for Parts<'_> {
    type Ok = ();
    type Error = Unwritten;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, name: &T) -> Result<(), Unwritten> {
        self.item(name)
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Unwritten> {
        self.writer.text.push(':');
        value.serialize(&mut *self.writer)
    }

    fn end(self) -> Result<(), Unwritten> {
        self.close()
    }
}
