//! Gauge from a swatch: so many stitches over a measured width, so many rounds over a height.
//! A fraction is kept, never a rounded "per 10 cm".
//!
//! Pure. May use lengths; must not know a foot or a sock.

use serde::{Deserialize, Serialize};

use crate::document_shape::Document;
use crate::needle_size::Needle;
use crate::units::{Length, LengthUnit, scaled};
use crate::yarn_weight::WeightName;

/// What was counted on a washed swatch in stockinette.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Swatch {
    /// Stitches counted.
    pub stitches: u16,
    /// Over this width they were counted.
    pub width: Length,
    /// Rounds counted.
    pub rounds: u16,
    /// Over this height they were counted.
    pub height: Length,
    /// The same stitches and rounds before washing; none when it was not measured then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unwashed: Option<Unwashed>,
    /// The motif's own fabric, where a second swatch was knitted in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pattern: Option<PatternSwatch>,
    /// The rounds of the same swatch, where they were counted too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pattern_rounds: Option<PatternRounds>,
    /// Rows of a heel flap, measured on one that is knitted: its slipped stitches draw it together.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flap: Option<FlapSwatch>,
    /// The needles that gave it, where the knitter noted them. They decide no count.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub needle: Option<Needle>,
    /// What stitches and rounds were guessed from, where nothing was knitted yet; none for a real swatch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guess: Option<FirstGuess>,
}

/// What a gauge was guessed from, beside the needles that the swatch notes. The guess itself is made by
/// [`crate::first_guess`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct FirstGuess {
    /// The yarn's weight.
    pub yarn: WeightName,
    /// Stitches to 10 cm by the ball's band, where the knitter has read them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub band_stitches: Option<u16>,
}

/// What was counted on a washed swatch in the motif.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PatternSwatch {
    /// Stitches counted.
    pub stitches: u16,
    /// Over this width they were counted.
    pub width: Length,
}

/// The rounds of a washed swatch in the motif.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PatternRounds {
    /// Rounds counted.
    pub rounds: u16,
    /// Over this height they were counted.
    pub height: Length,
}

/// What was counted on a knitted heel flap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct FlapSwatch {
    /// Rows counted.
    pub rows: u16,
    /// Over this height they were counted.
    pub height: Length,
}

/// Stitches or rounds, in tenths to 10 cm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Gauge(pub u32);

impl Gauge {
    /// The gauge of so many to 10 cm.
    pub const fn to_10_cm(many: u16) -> Self {
        Self(many as u32 * 10)
    }

    /// Tenths to 10 cm.
    pub const fn tenths(self) -> u32 {
        self.0
    }

    /// What a gauge is counted over where lengths are in that unit.
    pub const fn over(unit: LengthUnit) -> Length {
        match unit {
            LengthUnit::Cm => Length::cm(10),
            LengthUnit::Inch => Length(4 * 254),
        }
    }

    /// So many over [`Gauge::over`] that unit, to the nearest tenth.
    pub fn show(self, unit: LengthUnit) -> String {
        self.show_rounded(unit, 1)
    }

    /// The same, never fewer than there are.
    pub fn show_least(self, unit: LengthUnit) -> String {
        self.show_rounded(unit, 2)
    }

    /// The same, never more than there are.
    pub fn show_most(self, unit: LengthUnit) -> String {
        self.show_rounded(unit, 0)
    }

    /// Rounds down with 0, to the nearest with 1, up with 2.
    fn show_rounded(self, unit: LengthUnit, halves: u64) -> String {
        let whole = 2 * u64::from(Self::over(LengthUnit::Cm).0);
        let tenths = (2 * u64::from(self.0) * u64::from(Self::over(unit).0) + halves * (whole / 2)
            - u64::from(halves == 2))
            / whole;
        match (tenths / 10, tenths % 10) {
            (whole, 0) => whole.to_string(),
            (whole, tenth) => format!("{whole}.{tenth}"),
        }
    }
}

/// The swatch as it came off the needles. Decides no count: it says how long the knitting measures
/// while it is on them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
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
            pattern: None,
            pattern_rounds: None,
            flap: None,
            needle: None,
            guess: None,
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
