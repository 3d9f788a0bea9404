//! Gauge from a swatch: so many stitches over a measured width, so many rounds over a height.
//! A fraction is kept, never a rounded "per 10 cm".

use serde::{Deserialize, Serialize};

use crate::units::{Length, scaled};

/// What was counted on a washed swatch in stockinette.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Swatch {
    /// Stitches counted.
    pub stitches: u16,
    /// Over this width.
    pub width: Length,
    /// Rounds counted.
    pub rounds: u16,
    /// Over this height.
    pub height: Length,
    /// The same stitches and rounds before washing; none when it was not measured then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unwashed: Option<Unwashed>,
}

/// The swatch as it came off the needles. Decides no count: it says how long the knitting measures
/// while it is on them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Unwashed {
    /// Its width.
    pub width: Length,
    /// Its height.
    pub height: Length,
}

impl Default for Swatch {
    fn default() -> Self {
        Self {
            stitches: 30,
            width: Length::cm(10),
            rounds: 42,
            height: Length::cm(10),
            unwashed: None,
        }
    }
}

impl Swatch {
    /// Rounds that cover a height, rounded to the nearest whole.
    pub fn rounds_in(&self, height: Length) -> u64 {
        scaled(
            height.0.into(),
            self.rounds.into(),
            self.height.0.max(1).into(),
        )
    }

    /// How wide so many stitches lie.
    pub fn width_of(&self, stitches: u16) -> Length {
        let tenths = scaled(
            stitches.into(),
            self.width.0.into(),
            self.stitches.max(1).into(),
        );
        Length(u32::try_from(tenths).unwrap_or(u32::MAX))
    }

    /// How tall so many rounds are.
    pub fn height_of(&self, rounds: u16) -> Length {
        let tenths = scaled(
            rounds.into(),
            self.height.0.into(),
            self.rounds.max(1).into(),
        );
        Length(u32::try_from(tenths).unwrap_or(u32::MAX))
    }

    /// How tall so many rounds are before washing, where that was measured.
    pub fn unwashed_height_of(&self, rounds: u16) -> Option<Length> {
        let height = self.unwashed?.height;
        Some(Self { height, ..*self }.height_of(rounds))
    }

    /// Stitches to 10 cm, in tenths.
    pub fn stitch_gauge_tenths(&self) -> u64 {
        scaled(10_000, self.stitches.into(), self.width.0.max(1).into())
    }

    /// Rounds to 10 cm, in tenths.
    pub fn round_gauge_tenths(&self) -> u64 {
        scaled(10_000, self.rounds.into(), self.height.0.max(1).into())
    }
}
