//! What stands in a recipe document where it cannot stand, and what could.

use serde_json::{Value as Json, json};

use crate::needle_size::SIZES;
use crate::recipe::{NumberField, NumberRange};

/// What was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    /// `null`.
    Nothing,
    /// `true` or `false`.
    Switch(bool),
    /// A number, as it is written.
    Number(String),
    /// A text, or its beginning.
    Text(String),
    /// A list.
    List,
    /// An object.
    Fields,
}

/// What can stand there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Wanted {
    /// A number of the table.
    Number(NumberField),
    /// A needle's size.
    NeedleSize,
    /// `true` or `false`.
    Switch,
    /// One of these words.
    Words(Vec<&'static str>),
    /// One of these words, or an object with one of these fields.
    WordOrField {
        /// The words.
        words: Vec<&'static str>,
        /// The fields.
        fields: Vec<&'static str>,
    },
    /// A round of a motif.
    MotifRound,
    /// Any text.
    Text,
    /// A small whole number, from 0.
    PatternSize,
    /// A list.
    List,
    /// An object with these fields.
    Fields(Vec<&'static str>),
}

impl Found {
    /// For programs: the value as text where it is short, else its kind.
    pub(super) fn argument(&self) -> String {
        match self {
            Self::Nothing => "null".to_owned(),
            Self::Switch(on) => on.to_string(),
            Self::Number(text) | Self::Text(text) => text.clone(),
            Self::List => "array".to_owned(),
            Self::Fields => "object".to_owned(),
        }
    }
}

impl Wanted {
    /// For programs: the kind, and what is possible.
    pub(super) fn arguments(&self) -> Json {
        match self {
            Self::Number(field) => match written_range(*field) {
                Some((least, most)) => json!({"kind": "number", "least": least, "most": most}),
                None => json!({"kind": "number"}),
            },
            Self::NeedleSize => {
                let sizes = SIZES.each_ref().map(|size| size.hundredths);
                json!({"kind": "number", "one_of": sizes})
            }
            Self::Switch => json!({"kind": "boolean"}),
            Self::Words(words) => json!({"kind": "string", "one_of": words}),
            Self::WordOrField { words, fields } => {
                json!({"kind": "string or object", "one_of": words, "fields": fields})
            }
            Self::MotifRound | Self::Text => json!({"kind": "string"}),
            Self::PatternSize => json!({"kind": "number", "least": 0, "most": u8::MAX}),
            Self::List => json!({"kind": "array"}),
            Self::Fields(fields) => json!({"kind": "object", "fields": fields}),
        }
    }
}

/// From what to what a number can be as it is written in a document; none where that depends on
/// another number.
fn written_range(field: NumberField) -> Option<(i64, i64)> {
    match field.range() {
        NumberRange::Length(range) => {
            Some((range.start().tenths().into(), range.end().tenths().into()))
        }
        NumberRange::Whole(range) => Some((*range.start(), *range.end())),
        NumberRange::Gauge(_) => None,
    }
}
