//! The lists in the form: how many places each has, and the parts of a sock that have a yarn of their own.

use evenloop_engine::recipe::{MOST_GIRTHS, MOST_STRIPES};
use evenloop_engine::stitch::Yarn;
use serde::{Deserialize, Serialize};

/// Places at which the leg can be measured round.
#[allow(clippy::cast_possible_truncation)] // it is four
pub(in crate::screens::measure) const GIRTHS: u8 = MOST_GIRTHS as u8;
/// Stripes that a sequence can have.
pub(in crate::screens::measure) const STRIPES: u8 = MOST_STRIPES;

/// The parts of a sock with a yarn of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub(in crate::screens::measure) struct Parts {
    /// Cuff.
    pub(in crate::screens::measure) cuff: Yarn,
    /// Heel.
    pub(in crate::screens::measure) heel: Yarn,
    /// Toe.
    pub(in crate::screens::measure) toe: Yarn,
}
