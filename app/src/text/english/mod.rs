//! English: every sentence of the app. A translation is another folder like this one.
//!
//! In here stands text and nothing else: no name that is stored, sent or looked up.

pub(crate) mod bars;
pub(crate) mod basket;
pub(crate) mod bring_in;
pub(crate) mod chart;
pub(crate) mod device;
pub(crate) mod frame;
pub(crate) mod hues;
pub(crate) mod map;
pub(crate) mod measure;
pub(crate) mod mistake;
pub(crate) mod moves;
pub(crate) mod now;
pub(crate) mod parts;
pub(crate) mod pattern;
pub(crate) mod pause;
pub(crate) mod permanence;
pub(crate) mod picture;
pub(crate) mod plan;
pub(crate) mod practice;
pub(crate) mod recovery;
pub(crate) mod settings;
pub(crate) mod sheet;
#[cfg(feature = "ssr")]
pub(crate) mod shell;
pub(crate) mod starters;
