//! English: every sentence of the app. A translation is another folder like this one.
//!
//! In here stands text and nothing else: no name that is stored, sent or looked up.

pub(crate) mod frame;
#[cfg(feature = "ssr")]
pub(crate) mod shell;
