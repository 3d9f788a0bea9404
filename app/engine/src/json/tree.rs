//! JSON as it was written, with names in their order, also those that stand twice.

use std::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::Number;

/// One value.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Json {
    /// `null`.
    Nothing,
    /// `true` or `false`.
    Switch(bool),
    /// A number, whole or not.
    Number(Number),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Json>),
    /// Names and their values, in the order in which they stand there.
    Group(Vec<(String, Json)>),
}

impl<'de> Deserialize<'de> for Json {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        d.deserialize_any(Any)
    }
}

struct Any;

impl<'de> Visitor<'de> for Any {
    type Value = Json;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_unit<E>(self) -> Result<Json, E> {
        Ok(Json::Nothing)
    }

    fn visit_bool<E>(self, on: bool) -> Result<Json, E> {
        Ok(Json::Switch(on))
    }

    fn visit_u64<E>(self, number: u64) -> Result<Json, E> {
        Ok(Json::Number(number.into()))
    }

    fn visit_i64<E>(self, number: i64) -> Result<Json, E> {
        Ok(Json::Number(number.into()))
    }

    fn visit_f64<E>(self, number: f64) -> Result<Json, E> {
        // JSON has none that is not finite.
        Ok(Number::from_f64(number).map_or(Json::Nothing, Json::Number))
    }

    fn visit_str<E>(self, text: &str) -> Result<Json, E> {
        Ok(Json::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut all: A) -> Result<Json, A::Error> {
        let mut list = Vec::new();
        while let Some(one) = all.next_element()? {
            list.push(one);
        }
        Ok(Json::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut all: A) -> Result<Json, A::Error> {
        let mut group = Vec::new();
        while let Some(entry) = all.next_entry()? {
            group.push(entry);
        }
        Ok(Json::Group(group))
    }
}
