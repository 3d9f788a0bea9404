//! How many rounds a height takes, where a pattern gives heights instead of rounds.
//!
//! Knows numbers only.

use crate::swatch::Swatch;
use crate::units::Length;

/// Rounds by height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Heights(Swatch);

impl Heights {
    /// By the knitter's own gauge.
    pub const fn of(swatch: Swatch) -> Self {
        Self(swatch)
    }

    /// Rounds that cover a height, to the nearest whole.
    pub(super) fn rounds_in(&self, height: Length) -> u16 {
        u16::try_from(self.0.rounds_in(height)).unwrap_or(u16::MAX)
    }
}

/// By the gauge that is assumed where nobody has measured one.
impl Default for Heights {
    fn default() -> Self {
        Self(Swatch::default())
    }
}
