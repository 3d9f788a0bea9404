//! Hands a tree to serde. All that serde knows by itself is left to it (`serde::de::value`): lists,
//! objects, and what belongs to one of several kinds.

use std::fmt::Display;

use serde::de::value::{MapAccessDeserializer, MapDeserializer, SeqDeserializer};
use serde::de::{self, Deserializer, Expected, IntoDeserializer, Unexpected, Visitor};
use serde::forward_to_deserialize_any;

use super::tree::Json;

/// A value is of another form than was asked for. Which one is not said: see [`super`].
#[derive(Debug, Clone, Copy)]
pub(super) struct Refused;

impl Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("this cannot be read")
    }
}

impl std::error::Error for Refused {}

// Each of these would write a message otherwise.
impl de::Error for Refused {
    fn custom<T: Display>(_: T) -> Self {
        Self
    }

    fn invalid_type(_: Unexpected<'_>, _: &dyn Expected) -> Self {
        Self
    }

    fn invalid_value(_: Unexpected<'_>, _: &dyn Expected) -> Self {
        Self
    }

    fn invalid_length(_: usize, _: &dyn Expected) -> Self {
        Self
    }

    fn unknown_variant(_: &str, _: &'static [&'static str]) -> Self {
        Self
    }

    fn unknown_field(_: &str, _: &'static [&'static str]) -> Self {
        Self
    }

    fn missing_field(_: &'static str) -> Self {
        Self
    }

    fn duplicate_field(_: &'static str) -> Self {
        Self
    }
}

type ReadResult<T> = Result<T, Refused>;

/// A name with its value.
type Entry = (String, Json);

/// What serde asks for the entries of an object.
type Entries<'j> = MapDeserializer<
    'j,
    std::iter::Map<std::slice::Iter<'j, Entry>, fn(&'j Entry) -> (&'j str, Value<'j>)>,
    Refused,
>;

fn entries(group: &[Entry]) -> Entries<'_> {
    fn split((name, value): &Entry) -> (&str, Value<'_>) {
        (name, Value(value))
    }
    MapDeserializer::new(group.iter().map(split as fn(&Entry) -> (&str, Value<'_>)))
}

/// A value of a tree, to be read.
#[derive(Debug, Clone, Copy)]
pub(super) struct Value<'j>(pub(super) &'j Json);

impl<'j> IntoDeserializer<'j, Refused> for Value<'j> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

fn elements<'j, V: Visitor<'j>>(list: &'j [Json], visitor: V) -> ReadResult<V::Value> {
    let mut all = SeqDeserializer::new(list.iter().map(Value));
    let value = visitor.visit_seq(&mut all)?;
    all.end()?;
    Ok(value)
}

/// Asked for with this, a number is a whole one.
macro_rules! whole_numbers {
    ($($ask:ident)*) => {$(
        fn $ask<V: Visitor<'j>>(self, visitor: V) -> ReadResult<V::Value> {
            let Json::Number(number) = self.0 else { return Err(Refused) };
            match (number.as_u64(), number.as_i64()) {
                (Some(number), _) => visitor.visit_u64(number),
                (None, Some(number)) => visitor.visit_i64(number),
                (None, None) => Err(Refused),
            }
        }
    )*};
}

/// Asked for with this, a text is handed on.
macro_rules! texts {
    ($($ask:ident)*) => {$(
        fn $ask<V: Visitor<'j>>(self, visitor: V) -> ReadResult<V::Value> {
            let Json::Text(text) = self.0 else { return Err(Refused) };
            visitor.visit_str(text)
        }
    )*};
}

/// Asked for with this, a list is handed on.
macro_rules! lists {
    ($($ask:ident($($more:ty),*))*) => {$(
        fn $ask<V: Visitor<'j>>(self, $(_: $more,)* visitor: V) -> ReadResult<V::Value> {
            let Json::List(list) = self.0 else { return Err(Refused) };
            elements(list, visitor)
        }
    )*};
}

/// Asked for with this, an object is handed on.
macro_rules! groups {
    ($($ask:ident($($more:ty),*))*) => {$(
        fn $ask<V: Visitor<'j>>(self, $(_: $more,)* visitor: V) -> ReadResult<V::Value> {
            let Json::Group(group) = self.0 else { return Err(Refused) };
            visitor.visit_map(entries(group))
        }
    )*};
}

impl<'j> Deserializer<'j> for Value<'j> {
    type Error = Refused;

    fn deserialize_any<V: Visitor<'j>>(self, visitor: V) -> ReadResult<V::Value> {
        match self.0 {
            Json::Nothing => visitor.visit_unit(),
            Json::Switch(on) => visitor.visit_bool(*on),
            Json::Number(_) => self.deserialize_u64(visitor),
            Json::Text(text) => visitor.visit_str(text),
            Json::List(list) => elements(list, visitor),
            Json::Group(group) => visitor.visit_map(entries(group)),
        }
    }

    fn deserialize_bool<V: Visitor<'j>>(self, visitor: V) -> ReadResult<V::Value> {
        let Json::Switch(on) = self.0 else {
            return Err(Refused);
        };
        visitor.visit_bool(*on)
    }

    whole_numbers! {
        deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64
        deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64
    }

    texts! { deserialize_str deserialize_string deserialize_identifier }

    lists! { deserialize_seq() deserialize_tuple(usize) }

    groups! { deserialize_map() deserialize_struct(&'static str, &'static [&'static str]) }

    fn deserialize_option<V: Visitor<'j>>(self, visitor: V) -> ReadResult<V::Value> {
        match self.0 {
            Json::Nothing => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_unit<V: Visitor<'j>>(self, visitor: V) -> ReadResult<V::Value> {
        let Json::Nothing = self.0 else {
            return Err(Refused);
        };
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'j>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> ReadResult<V::Value> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'j>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> ReadResult<V::Value> {
        match self.0 {
            Json::Text(kind) => visitor.visit_enum(kind.as_str().into_deserializer()),
            Json::Group(group) if group.len() == 1 => {
                visitor.visit_enum(MapAccessDeserializer::new(entries(group)))
            }
            _ => Err(Refused),
        }
    }

    fn deserialize_ignored_any<V: Visitor<'j>>(self, visitor: V) -> ReadResult<V::Value> {
        visitor.visit_unit()
    }

    forward_to_deserialize_any! {
        <V: Visitor<'j>>
        i128 u128 f32 f64 char bytes byte_buf unit_struct tuple_struct
    }
}
