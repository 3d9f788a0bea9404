//! What was typed, as a draft keeps it: under the ids of the lines. A line that this build does not
//! have is passed over.

use std::collections::BTreeMap;

use evenloop_engine::recipe::NumberField;
use serde::{Deserialize, Deserializer, Serializer};

use crate::screens::measure::fields::{id, number_with_id};

type TypedNumbers = BTreeMap<NumberField, String>;

pub(super) fn serialize<S: Serializer>(
    typed: &TypedNumbers,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    serializer.collect_map(typed.iter().map(|(field, text)| (id(*field), text)))
}

pub(super) fn deserialize<'de, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<TypedNumbers, D::Error> {
    let all = BTreeMap::<String, String>::deserialize(deserializer)?.into_iter();
    Ok(all
        .filter_map(|(id, text)| Some((number_with_id(&id)?, text)))
        .collect())
}
