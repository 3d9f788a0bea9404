//! What the engine has to say, as data until it is shown: typed messages (`messages`), the modules that
//! pick them, one language's sentences, and [`Wording`] to choose between the ways of saying them.
//!
//! May use everything the engine knows. No other module of the engine writes a sentence: they return
//! messages (enums with arguments) and this one renders them, last. Nothing searches or replaces in a
//! finished sentence; words that differ between varieties of a language are terms, asked for while
//! rendering, and what the knitter typed is an argument, [`Typed`], that passes through untouched.
//!
//! All sentences of a language lie in one folder. The feature `made-up-language` puts another
//! language, made from the English one, in its place; whatever a language lacks does not compile.

mod abbreviations;
mod as_pattern;
mod budget;
mod changes;
mod findings;
mod instructions;
mod knitting_hand;
mod line;
mod messages;
mod notes;
mod places;
mod technique;
mod typed;
mod variety;
mod wording;

pub use abbreviations::abbreviations;
pub use as_pattern::{as_pattern, worked};
pub use budget::budget;
pub use changes::change;
pub use findings::{FindingText, finding, spot};
pub use instructions::{
    Instructions, Line, instructions, instructions_on_paper, motif_row, one_line,
};
pub use knitting_hand::KnittingHand;
pub use language::{
    advice, caution, counts, grams, length_expected, link_error, not_written, origin_name,
    pattern_finding, problem, section_in_text, section_name, sign,
};
pub use messages::{Abbreviation, NotWritten, ProblemText};
pub use notes::CARRIED;
pub use places::{Way, jump, place, way, within_round};
pub use technique::Technique;
pub use typed::Typed;
pub use variety::English;
pub use wording::{RunStyle, WordForm, Wording};

#[cfg(not(feature = "made-up-language"))]
#[path = "english/mod.rs"]
mod language;

#[cfg(feature = "made-up-language")]
#[allow(missing_docs, clippy::all, clippy::pedantic)] // made from the language that has them
mod language {
    include!(concat!(env!("OUT_DIR"), "/made_up.rs"));
}
