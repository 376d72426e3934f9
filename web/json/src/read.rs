//! JSON text to values.

use std::borrow::Cow;

use serde::Deserialize;
use serde::de::value::U32Deserializer;
use serde::de::{
    self, DeserializeSeed, EnumAccess, Expected, MapAccess, SeqAccess, Unexpected, VariantAccess, Visitor,
};

/// How closely a text must fit the type that is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// A field that the type does not have is passed over, as a brief of a later version may carry it. `"NaN"`, `"Infinity"`
    /// and `"-Infinity"` where a number is wanted are those numbers, which JSON cannot write: whoever checks numbers then
    /// names the field.
    Loose,
    /// A field that the type does not have is refused, as a name that does not fit hides a figure, and only a number is one.
    Exact,
}

/// Why a text was not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrong {
    /// The text is no JSON.
    NoJson,
    /// A value is of another kind than is wanted there.
    OtherKind,
    /// A choice is none of those that there are.
    UnknownChoice,
    /// A field that is needed is not there.
    MissingField,
    /// A field is there that the type does not have.
    UnknownField,
}

impl Wrong {
    /// In English.
    #[must_use]
    pub const fn text(&self) -> &'static str {
        match self {
            Self::NoJson => "no JSON",
            Self::OtherKind => "another kind of value than is wanted",
            Self::UnknownChoice => "a choice that there is not",
            Self::MissingField => "a field is missing",
            Self::UnknownField => "a field that is not known",
        }
    }
}

impl core::fmt::Display for Wrong {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.text())
    }
}

impl core::error::Error for Wrong {}

// A code for each problem: the wordings that serde makes of what was found would weigh more than the whole reader.
impl de::Error for Wrong {
    fn custom<T: core::fmt::Display>(_: T) -> Self {
        Self::OtherKind
    }

    fn invalid_type(_: Unexpected<'_>, _: &dyn Expected) -> Self {
        Self::OtherKind
    }

    fn invalid_value(_: Unexpected<'_>, _: &dyn Expected) -> Self {
        Self::OtherKind
    }

    // A struct's fields are handed over as a list: see `Reader::fields`.
    fn invalid_length(_: usize, _: &dyn Expected) -> Self {
        Self::MissingField
    }

    fn unknown_variant(_: &str, _: &'static [&'static str]) -> Self {
        Self::UnknownChoice
    }

    fn unknown_field(_: &str, _: &'static [&'static str]) -> Self {
        Self::UnknownField
    }

    fn missing_field(_: &'static str) -> Self {
        Self::MissingField
    }

    fn duplicate_field(_: &'static str) -> Self {
        Self::UnknownField
    }
}

/// Reads one value that fills the whole text. An optional field that is not there is none, as null is.
///
/// # Errors
/// What was wrong at the first place where the text is no such value.
pub fn read<'de, T: Deserialize<'de>>(text: &'de str, fit: Fit) -> Result<T, Wrong> {
    let mut reader = Reader { text, at: 0, fit };
    let value = T::deserialize(&mut reader)?;
    if reader.peek() == END { Ok(value) } else { Err(Wrong::NoJson) }
}

/// What stands at the end of the text, where no byte does: JSON has no zero byte outside its strings.
const END: u8 = 0;

struct Reader<'de> {
    text: &'de str,
    at: usize,
    fit: Fit,
}

impl<'de> Reader<'de> {
    fn byte(&self) -> u8 {
        self.text.as_bytes().get(self.at).copied().unwrap_or(END)
    }

    /// The next byte that is no white space.
    #[inline(never)]
    fn peek(&mut self) -> u8 {
        while matches!(self.byte(), b' ' | b'\n' | b'\r' | b'\t') {
            self.at += 1;
        }
        self.byte()
    }

    /// Takes this byte where it is the next.
    #[inline(never)]
    fn takes(&mut self, byte: u8) -> bool {
        let found = self.peek() == byte;
        self.at += usize::from(found);
        found
    }

    #[inline(never)]
    fn expect(&mut self, byte: u8) -> Result<(), Wrong> {
        if self.takes(byte) { Ok(()) } else { Err(Wrong::NoJson) }
    }

    /// Takes this word where it is the next.
    #[inline(never)]
    fn takes_word(&mut self, word: &str) -> bool {
        self.peek();
        let found = self.text.get(self.at..).is_some_and(|rest| rest.starts_with(word));
        self.at += if found { word.len() } else { 0 };
        found
    }

    /// Before an item of a list that ends with `end`: whether there is one.
    #[inline(never)]
    fn has_item(&mut self, first: &mut bool, end: u8) -> Result<bool, Wrong> {
        if self.takes(end) {
            return Ok(false);
        }
        if !core::mem::replace(first, false) {
            self.expect(b',')?;
        }
        Ok(true)
    }

    #[inline(never)]
    fn number(&mut self) -> Result<f64, Wrong> {
        if self.peek() == b'"' && self.fit == Fit::Loose {
            return match &*self.string()? {
                "NaN" => Ok(f64::NAN),
                "Infinity" => Ok(f64::INFINITY),
                "-Infinity" => Ok(f64::NEG_INFINITY),
                _ => Err(Wrong::OtherKind),
            };
        }
        let from = self.at;
        while matches!(self.byte(), b'0'..=b'9' | b'-' | b'+' | b'.' | b'e' | b'E') {
            self.at += 1;
        }
        self.text.get(from..self.at).and_then(lieflat::decimal::read).ok_or(Wrong::OtherKind)
    }

    #[inline(never)]
    fn string(&mut self) -> Result<Cow<'de, str>, Wrong> {
        if !self.takes(b'"') {
            return Err(Wrong::OtherKind);
        }
        let mut read = Cow::Borrowed("");
        loop {
            let from = self.at;
            while !matches!(self.byte(), b'"' | b'\\' | END..=0x1f) {
                self.at += 1;
            }
            // Only ASCII bytes end a run, so that a run is whole letters.
            read += self.text.get(from..self.at).ok_or(Wrong::NoJson)?;
            self.at += 1;
            match self.text.as_bytes().get(self.at - 1) {
                Some(b'"') => return Ok(read),
                Some(b'\\') => read.to_mut().push(self.escaped()?),
                _ => return Err(Wrong::NoJson),
            }
        }
    }

    /// The letter that an escape stands for, past its backslash. Half a pair of surrogates, which browsers let a text have,
    /// is the replacement character.
    fn escaped(&mut self) -> Result<char, Wrong> {
        self.at += 1;
        Ok(match self.text.as_bytes().get(self.at - 1) {
            Some(b'n') => '\n',
            Some(b't') => '\t',
            Some(b'r') => '\r',
            Some(b'b') => '\u{8}',
            Some(b'f') => '\u{c}',
            Some(&byte @ (b'"' | b'\\' | b'/')) => char::from(byte),
            Some(b'u') => {
                let high = self.unit()?;
                let from = self.at;
                if (0xd800..0xdc00).contains(&high) && self.takes_word("\\u") {
                    let low = self.unit()?;
                    if (0xdc00..0xe000).contains(&low) {
                        return char::from_u32(0x1_0000 + ((high - 0xd800) << 10) + (low - 0xdc00))
                            .ok_or(Wrong::NoJson);
                    }
                    self.at = from;
                }
                char::from_u32(high).unwrap_or(char::REPLACEMENT_CHARACTER)
            }
            _ => return Err(Wrong::NoJson),
        })
    }

    /// Four hexadecimal digits.
    fn unit(&mut self) -> Result<u32, Wrong> {
        let digits = self.text.get(self.at..self.at + 4).ok_or(Wrong::NoJson)?;
        self.at += 4;
        digits.chars().try_fold(0, |sum, digit| Some(sum * 16 + digit.to_digit(16)?)).ok_or(Wrong::NoJson)
    }

    /// Passes over a value, however deep it is.
    #[inline(never)]
    fn pass_over(&mut self) -> Result<(), Wrong> {
        let mut depth = 0_usize;
        loop {
            match self.peek() {
                b'"' => drop(self.string()?),
                END => return Err(Wrong::NoJson),
                byte => {
                    self.at += 1;
                    match byte {
                        b'[' | b'{' => depth += 1,
                        b']' | b'}' => depth = depth.checked_sub(1).ok_or(Wrong::NoJson)?,
                        // A comma or a colon parts values; what else there is is a letter or digit of one.
                        _ => {}
                    }
                }
            }
            if depth == 0 && matches!(self.peek(), b',' | b'}' | b']' | END) {
                return Ok(());
            }
        }
    }

    /// After a field's value, which was passed over before: that it was all that stood there, at the text's end nothing.
    #[inline(never)]
    fn ended(&mut self) -> Result<(), Wrong> {
        if matches!(self.peek(), b',' | b'}' | END) { Ok(()) } else { Err(Wrong::NoJson) }
    }

    /// Which of these choices comes next, by its place among them; past its colon where it holds something.
    #[inline(never)]
    fn choice(&mut self, choices: &[&str], holds: bool) -> Result<u32, Wrong> {
        let name = self.string()?;
        if holds {
            self.expect(b':')?;
        }
        let found = choices.iter().position(|choice| *choice == name).ok_or(Wrong::UnknownChoice)?;
        u32::try_from(found).map_err(|_| Wrong::UnknownChoice)
    }

    /// Where the values of these fields begin in the object that comes next, none for one that is not there; the reader is
    /// then past the object. Of two fields of one name the last counts, as in a browser.
    #[inline(never)]
    fn places(&mut self, fields: &[&str]) -> Result<Vec<Option<usize>>, Wrong> {
        if !self.takes(b'{') {
            return Err(Wrong::OtherKind);
        }
        let mut places = vec![None; fields.len()];
        let mut first = true;
        while self.has_item(&mut first, b'}')? {
            let name = self.string()?;
            self.expect(b':')?;
            match places.iter_mut().zip(fields).find(|(_, field)| **field == name) {
                Some((place, _)) => *place = Some(self.at),
                None if self.fit == Fit::Exact => return Err(Wrong::UnknownField),
                None => {}
            }
            self.pass_over()?;
        }
        Ok(places)
    }

    /// Reads an object's fields in the order the type has them, as compact formats do: the type's own code then looks for no
    /// names, and weighs half.
    fn fields<V: Visitor<'de>>(&mut self, fields: &'static [&'static str], visitor: V) -> Result<V::Value, Wrong> {
        let places = self.places(fields)?;
        let end = self.at;
        let value = visitor.visit_seq(Fields { reader: self, places: places.iter() })?;
        self.at = end;
        Ok(value)
    }

    fn items<V: Visitor<'de>>(&mut self, visitor: V) -> Result<V::Value, Wrong> {
        if !self.takes(b'[') {
            return Err(Wrong::OtherKind);
        }
        let mut items = Items { reader: self, first: true, over: false };
        let value = visitor.visit_seq(&mut items)?;
        // A pair asks for two items and leaves the list's end.
        if items.over || items.reader.takes(b']') { Ok(value) } else { Err(Wrong::OtherKind) }
    }
}

macro_rules! whole_numbers {
    ($($name:ident)*) => {$(
        fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
            let number = self.number()?;
            // What is no whole number, or too large for one, is none when it is made a number again.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "looked at in the next line")]
            let whole = number as u64;
            if whole as f64 == number { visitor.visit_u64(whole) } else { Err(Wrong::OtherKind) }
        }
    )*};
}

macro_rules! texts {
    ($($name:ident)*) => {$(
        fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
            visitor.visit_str(&self.string()?)
        }
    )*};
}

/// No type of a brief or a plan is one of these.
macro_rules! never_asked {
    ($($name:ident)*) => {$(
        fn $name<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Wrong> {
            Err(Wrong::OtherKind)
        }
    )*};
}

impl<'de> de::Deserializer<'de> for &mut Reader<'de> {
    type Error = Wrong;

    whole_numbers! { deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64 }
    texts! { deserialize_str deserialize_string }
    never_asked! {
        deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_char
        deserialize_bytes deserialize_byte_buf deserialize_unit deserialize_identifier
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        match self.peek() {
            b'"' => self.deserialize_str(visitor),
            b'{' => self.deserialize_map(visitor),
            b'[' => self.items(visitor),
            b't' | b'f' => self.deserialize_bool(visitor),
            _ if self.takes_word("null") => visitor.visit_unit(),
            _ => self.deserialize_f64(visitor),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        if self.takes_word("true") {
            visitor.visit_bool(true)
        } else if self.takes_word("false") {
            visitor.visit_bool(false)
        } else {
            Err(Wrong::OtherKind)
        }
    }

    fn deserialize_f32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        self.deserialize_f64(visitor)
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        visitor.visit_f64(self.number()?)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        // At the end for a field that is not there: see `Fields`.
        if self.peek() == END || self.takes_word("null") { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(self, _: &'static str, _: V) -> Result<V::Value, Wrong> {
        Err(Wrong::OtherKind)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, Wrong> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        self.items(visitor)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Wrong> {
        self.items(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        self.items(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        if !self.takes(b'{') {
            return Err(Wrong::OtherKind);
        }
        visitor.visit_map(Entries { reader: self, first: true })
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        self.fields(fields, visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        choices: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        let holds = self.takes(b'{');
        let value = visitor.visit_enum(Choice { reader: self, choices, holds })?;
        if holds {
            self.expect(b'}')?;
        }
        Ok(value)
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        self.pass_over()?;
        visitor.visit_unit()
    }
}

/// The items of a list.
struct Items<'a, 'de> {
    reader: &'a mut Reader<'de>,
    first: bool,
    over: bool,
}

impl<'de> SeqAccess<'de> for &mut Items<'_, 'de> {
    type Error = Wrong;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Wrong> {
        self.over = !self.reader.has_item(&mut self.first, b']')?;
        if self.over { Ok(None) } else { seed.deserialize(&mut *self.reader).map(Some) }
    }
}

/// An object's entries as they stand, for a type that looks at their names itself.
struct Entries<'a, 'de> {
    reader: &'a mut Reader<'de>,
    first: bool,
}

impl<'de> MapAccess<'de> for Entries<'_, 'de> {
    type Error = Wrong;

    fn next_key_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Wrong> {
        if self.reader.has_item(&mut self.first, b'}')? {
            seed.deserialize(&mut *self.reader).map(Some)
        } else {
            Ok(None)
        }
    }

    fn next_value_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<T::Value, Wrong> {
        self.reader.expect(b':')?;
        seed.deserialize(&mut *self.reader)
    }
}

/// An object's fields, in the type's order.
struct Fields<'a, 'de> {
    reader: &'a mut Reader<'de>,
    places: core::slice::Iter<'a, Option<usize>>,
}

impl<'de> SeqAccess<'de> for Fields<'_, 'de> {
    type Error = Wrong;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Wrong> {
        let Some(place) = self.places.next() else { return Ok(None) };
        self.reader.at = place.unwrap_or(self.reader.text.len());
        match seed.deserialize(&mut *self.reader) {
            Ok(value) => self.reader.ended().map(|()| Some(value)),
            // Nothing is read at the text's end, which is a value where it is optional. Else the type has a default, or the
            // field is missing.
            Err(_) if place.is_none() => Ok(None),
            Err(wrong) => Err(wrong),
        }
    }
}

/// One of several: a name alone, or an object of one name and what it holds.
struct Choice<'a, 'de> {
    reader: &'a mut Reader<'de>,
    choices: &'static [&'static str],
    holds: bool,
}

impl<'de> EnumAccess<'de> for Choice<'_, 'de> {
    type Error = Wrong;
    type Variant = Self;

    fn variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<(T::Value, Self), Wrong> {
        let which = self.reader.choice(self.choices, self.holds)?;
        Ok((seed.deserialize(U32Deserializer::new(which))?, self))
    }
}

impl<'de> VariantAccess<'de> for Choice<'_, 'de> {
    type Error = Wrong;

    fn unit_variant(self) -> Result<(), Wrong> {
        // A choice that holds nothing may still come as an object, with null in it.
        if !self.holds || self.reader.takes_word("null") { Ok(()) } else { Err(Wrong::OtherKind) }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Wrong> {
        if self.holds { seed.deserialize(self.reader) } else { Err(Wrong::OtherKind) }
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Wrong> {
        if self.holds { self.reader.items(visitor) } else { Err(Wrong::OtherKind) }
    }

    fn struct_variant<V: Visitor<'de>>(self, fields: &'static [&'static str], visitor: V) -> Result<V::Value, Wrong> {
        if self.holds { self.reader.fields(fields, visitor) } else { Err(Wrong::OtherKind) }
    }
}
