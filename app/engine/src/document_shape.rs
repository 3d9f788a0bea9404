//! How a recipe is written: its fields, and what can stand in each. Every type of a recipe says it of itself
//! (`#[derive(Document)]`), by the same attributes by which serde reads and writes it.
//!
//! May use the types of single values. Must not know which fields a recipe has, nor their ranges.

pub(crate) use evenloop_engine_derive::Document;

use crate::needle_size::Needle;
use crate::units::Length;

/// A type with a form in a recipe document.
pub(crate) trait Document {
    /// How it is written.
    const SHAPE: DocumentShape;
    /// Whether `null` stands for one that is not there.
    const NULLABLE: bool = false;
}

/// How a value is written.
pub(crate) enum DocumentShape {
    /// A number of the table of numbers.
    Number,
    /// A needle's size in hundredths of a millimetre.
    NeedleSize,
    /// On or off.
    Switch,
    /// One of these words.
    Words(&'static [&'static str]),
    /// A round of a motif in its written form.
    MotifRound,
    /// Any text.
    Text,
    /// Which size of a written pattern, from 0.
    PatternSize,
    /// A list of such.
    List(&'static DocumentShape),
    /// Fields.
    Group(&'static [Field]),
    /// Fields, which ones depending on the word at `tag`.
    Kinds {
        /// The field with the word.
        tag: &'static str,
        /// The words, each with its fields.
        kinds: &'static [(&'static str, &'static [Field])],
    },
    /// One of these words, or exactly one of these fields.
    Either {
        /// The words.
        words: &'static [&'static str],
        /// The fields.
        groups: &'static [Field],
    },
}

/// Whether a field has to be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Presence {
    /// Always.
    Needed,
    /// It can be left out.
    Usual,
    /// It can be left out or be `null`.
    Open,
}

/// A field and what stands in it.
pub(crate) struct Field {
    pub(crate) name: &'static str,
    pub(crate) presence: Presence,
    pub(crate) shape: DocumentShape,
}

impl Field {
    /// A field that holds such a type.
    pub(crate) const fn of<T: Document>(name: &'static str, has_default: bool) -> Self {
        Self {
            name,
            presence: match (T::NULLABLE, has_default) {
                (true, _) => Presence::Open,
                (false, true) => Presence::Usual,
                (false, false) => Presence::Needed,
            },
            shape: T::SHAPE,
        }
    }

    /// A field that has to be there.
    pub(crate) const fn needed(name: &'static str, shape: DocumentShape) -> Self {
        Self {
            name,
            presence: Presence::Needed,
            shape,
        }
    }

    /// The same field, written otherwise than others of its type.
    pub(crate) const fn written_as(self, shape: DocumentShape) -> Self {
        Self { shape, ..self }
    }
}

impl<T: Document> Document for Option<T> {
    const SHAPE: DocumentShape = T::SHAPE;
    const NULLABLE: bool = true;
}

impl<T: Document> Document for Vec<T> {
    const SHAPE: DocumentShape = DocumentShape::List(&T::SHAPE);
}

macro_rules! written {
    ($($kind:ty: $shape:ident),+) => {$(
        impl Document for $kind {
            const SHAPE: DocumentShape = DocumentShape::$shape;
        }
    )+};
}
written!(u8: Number, u16: Number, i16: Number, Length: Number, Needle: NeedleSize, bool: Switch, String: Text);

/// Whether every one of these paths leads to a number, and every number has one of them. In a path, `#` is
/// a place in a list.
pub(crate) const fn has_numbers_at(shape: &DocumentShape, paths: &[&str]) -> bool {
    let mut nth = 0;
    while nth < paths.len() {
        if !is_number_at(shape, paths[nth].as_bytes()) {
            return false;
        }
        nth += 1;
    }
    count_numbers(shape) == paths.len()
}

const fn count_numbers(shape: &DocumentShape) -> usize {
    match shape {
        DocumentShape::Number => 1,
        DocumentShape::List(inner) => count_numbers(inner),
        DocumentShape::Group(fields) | DocumentShape::Either { groups: fields, .. } => {
            count_in_fields(fields)
        }
        DocumentShape::Kinds { kinds, .. } => {
            let (mut found, mut nth) = (0, 0);
            while nth < kinds.len() {
                found += count_in_fields(kinds[nth].1);
                nth += 1;
            }
            found
        }
        _ => 0,
    }
}

const fn count_in_fields(fields: &[Field]) -> usize {
    let (mut found, mut nth) = (0, 0);
    while nth < fields.len() {
        found += count_numbers(&fields[nth].shape);
        nth += 1;
    }
    found
}

/// How many choices between words, and switches, there are.
pub(crate) const fn count_choices(shape: &DocumentShape) -> usize {
    match shape {
        DocumentShape::Words(_) | DocumentShape::Switch | DocumentShape::Either { .. } => 1,
        DocumentShape::List(inner) => count_choices(inner),
        DocumentShape::Group(fields) => count_choices_in_fields(fields),
        DocumentShape::Kinds { kinds, .. } => {
            let (mut found, mut nth) = (1, 0);
            while nth < kinds.len() {
                found += count_choices_in_fields(kinds[nth].1);
                nth += 1;
            }
            found
        }
        _ => 0,
    }
}

const fn count_choices_in_fields(fields: &[Field]) -> usize {
    let (mut found, mut nth) = (0, 0);
    while nth < fields.len() {
        found += count_choices(&fields[nth].shape);
        nth += 1;
    }
    found
}

const fn is_number_at(shape: &DocumentShape, path: &[u8]) -> bool {
    match shape {
        DocumentShape::Number => path.is_empty(),
        DocumentShape::List(inner) => match path {
            [b'#', b'.', rest @ ..] | [b'#', rest @ ..] => is_number_at(inner, rest),
            _ => false,
        },
        DocumentShape::Group(fields) | DocumentShape::Either { groups: fields, .. } => {
            is_number_in_fields(fields, path)
        }
        DocumentShape::Kinds { kinds, .. } => {
            let mut nth = 0;
            while nth < kinds.len() {
                if is_number_in_fields(kinds[nth].1, path) {
                    return true;
                }
                nth += 1;
            }
            false
        }
        _ => false,
    }
}

const fn is_number_in_fields(fields: &[Field], path: &[u8]) -> bool {
    let mut nth = 0;
    while nth < fields.len() {
        let field = &fields[nth];
        if let Some(rest) = below(path, field.name.as_bytes())
            && is_number_at(&field.shape, rest)
        {
            return true;
        }
        nth += 1;
    }
    false
}

/// What follows a field's name in a path.
const fn below<'p>(path: &'p [u8], name: &[u8]) -> Option<&'p [u8]> {
    let mut nth = 0;
    while nth < name.len() {
        if nth == path.len() || path[nth] != name[nth] {
            return None;
        }
        nth += 1;
    }
    match path.split_at(nth).1 {
        [] => Some(&[]),
        [b'.', rest @ ..] => Some(rest),
        _ => None,
    }
}
