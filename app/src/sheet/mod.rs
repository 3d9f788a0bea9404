//! The whole plan of a sock as a document to read, print or save: what it measures, what it takes,
//! and every section in the order in which it is knitted.
//!
//! Pure: a plan in, a [`Sheet`] out; [`html()`] and [`text()`] write the same sheet down in two ways.
//! May use the engine's words, the chart's drawing and the needles' picture; must not know a browser, a screen or how counts are made.

mod blocks;
mod document;
mod facts;
mod html;
mod numbers;
mod schematic;
#[cfg(test)]
#[cfg(not(feature = "made-up-language"))]
mod tests;
mod text;
#[cfg(test)]
mod typed;

pub use self::document::{Sheet, of};
pub use self::html::{html, paragraphs};
pub use self::text::text;
