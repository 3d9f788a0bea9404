//! English: every sentence of the engine. A translation is another folder like this one.
//!
//! In here stands text and nothing else: no name that is stored, sent or looked up.

mod abbreviations;
mod as_pattern;
mod changes;
mod documents;
mod findings;
mod lengths;
mod line;
mod links;
mod lists;
mod names;
mod needle_sizes;
mod notes;
mod patterns;
mod places;
mod problems;
mod refit;
mod sides;
mod techniques;
mod terms;
mod weighed;

// For callers of the engine.
pub use as_pattern::not_written;
pub use lengths::length_expected;
pub use links::link_error;
pub use lists::counts;
pub use names::{caution, origin_name, section_in_text, section_name};
pub use patterns::pattern_finding;
pub use places::sign;
pub use problems::problem;
pub use refit::advice;
pub use weighed::grams;

// For the messages of `text`.
pub(crate) use abbreviations::abbreviated;
pub(crate) use as_pattern::{pattern_line, pattern_title};
pub(crate) use changes::change;
pub(crate) use findings::diagnosis;
pub(crate) use line::{line, part_of_line};
pub(crate) use names::{heading, shape};
pub(crate) use notes::notes;
pub(crate) use places::{jumped, parts, place, place_with_shape, way, way_within, within_round};
pub(crate) use weighed::weighed;
