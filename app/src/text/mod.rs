//! What the app has to say: all its sentences, in one folder a language.
//!
//! Screens and parts ask for a sentence by its name (`text::now::TITLE`) or, where it has arguments or
//! words that differ between varieties of the language, by calling it with them. May use the engine's
//! types as arguments and nothing of the app's, so that any room may ask.
//!
//! The feature `made-up-language` puts another language, made from the English one, in its place;
//! whatever a language lacks does not compile.

mod sentence;
#[cfg(test)]
pub(crate) mod typed_samples;

#[cfg(not(feature = "made-up-language"))]
#[path = "english/mod.rs"]
mod language;

#[cfg(feature = "made-up-language")]
#[allow(missing_docs, clippy::all, clippy::pedantic)] // made from the language that has them
mod language {
    include!(concat!(env!("OUT_DIR"), "/made_up.rs"));
}

pub(crate) use language::*;
pub(crate) use sentence::{Named, NumberText, Sentence};

/// The language of the sentences as browsers and voices call it; a made-up one passes for English.
pub(crate) const TAG: &str = "en";
