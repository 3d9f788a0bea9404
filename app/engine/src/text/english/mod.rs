//! English: every sentence of the engine. A translation is another folder like this one.
//!
//! In here stands text and nothing else: no name that is stored, sent or looked up.

mod lengths;
mod links;
mod problems;
mod terms;

pub use lengths::length_expected;
pub use links::link_error;
pub use problems::problem;
