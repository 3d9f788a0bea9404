//! The knitter's measurements and choices, and the range each number can have.
//! `crate::check` looks at the ranges; whether such a sock can be knitted at all is
//! [`crate::plan::make`]'s business.
//!
//! May use foot, swatch, units and operations. Must not know planning, sentences, or how a form asks.

#[macro_use]
mod choice;
mod cuff;
pub(crate) mod earlier;
mod heel;
mod motif;
mod nearest;
mod needles;
mod numbers;
mod ranges;
#[cfg(feature = "schemars")]
mod schema;
mod sock;
mod toe;
mod written;
mod yarns;

pub use cuff::*;
pub use heel::*;
pub use motif::*;
pub use nearest::NearestFit;
pub use needles::*;
pub use numbers::{Number, NumberField, NumberRange, Presence, Unit};
pub use ranges::*;
#[cfg(feature = "schemars")]
pub use schema::schema;
pub use sock::*;
pub use toe::*;
pub use written::*;
pub use yarns::*;
