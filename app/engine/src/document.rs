//! Why a recipe document cannot be read: each field that is missing, unknown, given twice or of the wrong
//! kind, by its dotted path, with what is possible there.
//!
//! Used when reading has failed already ([`crate::wire`]), so it costs nothing otherwise. Knows how a
//! recipe is written ([`crate::document_shape`]), not what its numbers mean for a sock, and no sentences.

use crate::document_shape::{Document, DocumentShape, Field, Presence, has_numbers_at};
use crate::error::{FieldError, Found, Problem, Wanted};
use crate::json::Json;
use crate::needle_size::Needle;
use crate::recipe::{NumberField, Recipe, Row};

const _: () = assert!(
    has_numbers_at(&Recipe::SHAPE, NumberField::PATHS),
    "a number of the recipe has no row in recipe/numbers.rs, or a row's path leads to no number"
);

/// What is wrong with a document that was not read as a recipe; nothing where this finds no fault.
///
/// # Errors
/// It is no JSON at all.
pub(crate) fn faults(document: &str) -> Result<Vec<FieldError>, serde_json::Error> {
    let json: Json = serde_json::from_str(document)?;
    let mut faults = Faults(Vec::new());
    faults.look("", &Recipe::SHAPE, &json);
    Ok(faults.0)
}

struct Faults(Vec<FieldError>);

impl Faults {
    fn add(&mut self, path: &str, problem: Problem) {
        let path = if path.is_empty() { "recipe" } else { path };
        self.0.push(FieldError::new(path.to_owned(), problem));
    }

    fn wrong(&mut self, path: &str, wanted: Wanted, json: &Json) {
        let found = json.found();
        self.add(path, Problem::ValueUnreadable { wanted, found });
    }

    fn look(&mut self, path: &str, shape: &DocumentShape, json: &Json) {
        let wanted = || wanted(path, shape);
        match (shape, json) {
            (DocumentShape::Number, Json::Number(number)) => {
                if !NumberField::at(&placed(path)).is_some_and(|field| holds(field, number)) {
                    self.wrong(path, wanted(), json);
                }
            }
            (DocumentShape::NeedleSize, Json::Number(number)) => {
                if !number.as_u64().is_some_and(is_needle) {
                    self.wrong(path, wanted(), json);
                }
            }
            (DocumentShape::Switch, Json::Switch(_)) | (DocumentShape::Text, Json::Text(_)) => {}
            (DocumentShape::PatternSize, Json::Number(number)) => {
                if number
                    .as_u64()
                    .and_then(|size| u8::try_from(size).ok())
                    .is_none()
                {
                    self.wrong(path, wanted(), json);
                }
            }
            (DocumentShape::Words(words), Json::Text(text)) => {
                if !words.contains(&text.as_str()) {
                    self.wrong(path, wanted(), json);
                }
            }
            (DocumentShape::MotifRound, Json::Text(text)) => {
                if text.parse::<Row>().is_err() {
                    self.wrong(path, wanted(), json);
                }
            }
            (DocumentShape::List(inner), Json::List(all)) => {
                for (place, one) in all.iter().enumerate() {
                    self.look(&below(path, &place.to_string()), inner, one);
                }
            }
            (DocumentShape::Group(fields), Json::Group(all)) => self.group(path, fields, all),
            (DocumentShape::Kinds { tag, kinds }, Json::Group(all)) => {
                self.kinds(path, tag, kinds, all);
            }
            (DocumentShape::Either { words, groups }, _) => match json {
                Json::Text(text) if words.contains(&text.as_str()) => {}
                Json::Group(all) if all.is_empty() => self.wrong(path, wanted(), json),
                Json::Group(all) => {
                    self.twice(path, all);
                    for (nth, (name, inner)) in all.iter().enumerate() {
                        match groups.iter().find(|field| field.name == name) {
                            Some(field) if nth == 0 => {
                                self.look(&below(path, name), &field.shape, inner);
                            }
                            // one field only
                            Some(_) => self.wrong(path, wanted(), json),
                            None => self.unknown(path, name, names(groups)),
                        }
                    }
                }
                _ => self.wrong(path, wanted(), json),
            },
            _ => self.wrong(path, wanted(), json),
        }
    }

    /// A choice with fields of its own. Beside one without, other fields are passed over.
    fn kinds(
        &mut self,
        path: &str,
        tag: &'static str,
        kinds: &[(&'static str, &[Field])],
        all: &[(String, Json)],
    ) {
        let tag_path = below(path, tag);
        let words = || kinds.iter().map(|(name, _)| *name).collect();
        match all.iter().find(|(name, _)| name == tag) {
            None => self.add(
                &tag_path,
                Problem::FieldMissing {
                    wanted: Wanted::Words(words()),
                },
            ),
            Some((_, json)) => {
                let word = match json {
                    Json::Text(text) => Some(text.as_str()),
                    _ => None,
                };
                match kinds.iter().find(|(name, _)| Some(*name) == word) {
                    None => self.wrong(&tag_path, Wanted::Words(words()), json),
                    Some((_, fields)) => {
                        self.twice(path, all);
                        if !fields.is_empty() {
                            let others = all.iter().filter(|(name, _)| name != tag);
                            self.fields(path, fields, &others.collect::<Vec<_>>());
                        }
                    }
                }
            }
        }
    }

    fn group(&mut self, path: &str, fields: &[Field], all: &[(String, Json)]) {
        self.twice(path, all);
        self.fields(path, fields, &all.iter().collect::<Vec<_>>());
    }

    fn twice(&mut self, path: &str, all: &[(String, Json)]) {
        for (nth, (name, _)) in all.iter().enumerate() {
            if all[..nth].iter().any(|(earlier, _)| earlier == name) {
                self.add(&below(path, name), Problem::FieldTwice);
            }
        }
    }

    fn fields(&mut self, path: &str, fields: &[Field], all: &[&(String, Json)]) {
        for (name, json) in all {
            match fields.iter().find(|field| field.name == name) {
                None => self.unknown(path, name, names(fields)),
                Some(field) if field.presence == Presence::Open && *json == Json::Nothing => {}
                Some(field) => self.look(&below(path, name), &field.shape, json),
            }
        }
        for field in fields {
            if field.presence == Presence::Needed && !all.iter().any(|(name, _)| name == field.name)
            {
                let path = below(path, field.name);
                let wanted = wanted(&path, &field.shape);
                self.add(&path, Problem::FieldMissing { wanted });
            }
        }
    }

    fn unknown(&mut self, path: &str, name: &str, possible: Vec<&'static str>) {
        // Whatever was written there, the path stays one that can be read.
        let short: String = name.chars().take(40).collect();
        self.add(&below(path, &short), Problem::FieldUnknown { possible });
    }
}

fn names(fields: &[Field]) -> Vec<&'static str> {
    fields.iter().map(|field| field.name).collect()
}

fn below(path: &str, name: &str) -> String {
    if path.is_empty() {
        name.to_owned()
    } else {
        format!("{path}.{name}")
    }
}

/// The path of the same field at the first place of its list: what a number can be does not depend on
/// the place.
fn placed(path: &str) -> String {
    let first = |part: &str| match part.parse::<usize>() {
        Ok(_) => "0".to_owned(),
        Err(_) => part.to_owned(),
    };
    path.split('.').map(first).collect::<Vec<_>>().join(".")
}

/// Whether a recipe can hold that number there at all; its range is looked at later.
fn holds(field: NumberField, number: &serde_json::Number) -> bool {
    use crate::recipe::{Number, Unit};
    use crate::units::Length;

    let held = match field.unit() {
        Unit::Length => number
            .as_u64()
            .and_then(|tenths| u32::try_from(tenths).ok())
            .map(|tenths| Number::Length(Length(tenths))),
        _ => number.as_i64().map(Number::Whole),
    };
    held.is_some_and(|held| field.can_hold(held))
}

fn is_needle(hundredths: u64) -> bool {
    u16::try_from(hundredths).is_ok_and(|hundredths| Needle::try_from(hundredths).is_ok())
}

fn wanted(path: &str, shape: &DocumentShape) -> Wanted {
    match shape {
        DocumentShape::Number => match NumberField::at(&placed(path)) {
            Some(field) => Wanted::Number(field),
            // Every number is in the table, as the assertion above holds.
            None => Wanted::Fields(Vec::new()),
        },
        DocumentShape::NeedleSize => Wanted::NeedleSize,
        DocumentShape::Switch => Wanted::Switch,
        DocumentShape::Words(words) => Wanted::Words(words.to_vec()),
        DocumentShape::MotifRound => Wanted::MotifRound,
        DocumentShape::Text => Wanted::Text,
        DocumentShape::PatternSize => Wanted::PatternSize,
        DocumentShape::List(_) => Wanted::List,
        DocumentShape::Group(fields) => Wanted::Fields(names(fields)),
        DocumentShape::Kinds { tag, .. } => Wanted::Fields(vec![tag]),
        DocumentShape::Either { words, groups } => Wanted::WordOrField {
            words: words.to_vec(),
            fields: names(groups),
        },
    }
}

impl Json {
    /// What it is, short enough to be said.
    fn found(&self) -> Found {
        match self {
            Self::Nothing => Found::Nothing,
            Self::Switch(on) => Found::Switch(*on),
            Self::Number(number) => Found::Number(number.to_string()),
            Self::Text(text) => Found::Text(text.chars().take(40).collect()),
            Self::List(_) => Found::List,
            Self::Group(_) => Found::Fields,
        }
    }
}
