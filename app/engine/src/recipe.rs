//! The knitter's measurements and choices, and the range each number can have.
//! [`crate::check`] looks at the ranges; whether such a sock can be knitted at all is
//! [`crate::plan::make`]'s business.

use std::ops::RangeInclusive;

use serde::{Deserialize, Serialize};

use crate::foot::Foot;
use crate::swatch::Swatch;
use crate::units::Length;

/// Everything a sock is made from. Lengths are tenths of a millimetre.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Recipe {
    /// Which end is begun with.
    #[serde(default)]
    pub direction: Direction,
    /// The foot.
    pub foot: Foot,
    /// The swatch.
    pub swatch: Swatch,
    /// How close it fits.
    #[serde(default)]
    pub fit: Fit,
    /// The cuff.
    #[serde(default)]
    pub cuff: Cuff,
    /// From the cast-on edge to where the heel flap begins, the cuff included.
    #[serde(default = "default_leg")]
    pub leg: Length,
    /// The heel.
    #[serde(default)]
    pub heel: Heel,
    /// The toe.
    #[serde(default)]
    pub toe: Toe,
    /// The needles, and how stitches sit on them.
    #[serde(default)]
    pub needles: Method,
    /// Stitches around, when the knitter decides them; else worked out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stitches: Option<u16>,
    /// The ball, for grams.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ball: Option<Ball>,
}

const fn default_leg() -> Length {
    Length::cm(16)
}

impl Default for Recipe {
    fn default() -> Self {
        Self {
            direction: Direction::default(),
            foot: Foot {
                length: Length::cm(24),
                circumference: None,
                heel_diagonal: None,
            },
            swatch: Swatch::default(),
            fit: Fit::default(),
            cuff: Cuff::default(),
            leg: default_leg(),
            heel: Heel::default(),
            toe: Toe::default(),
            needles: Method::default(),
            stitches: None,
            ball: None,
        }
    }
}

/// Which end of the sock is begun with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// From the cuff down to the toe.
    #[default]
    CuffDown,
    /// From the toe up to the cuff.
    ToeUp,
}

/// How close the sock fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fit {
    /// How much smaller the sock is than the foot round the ball, in percent.
    pub ease_percent: u8,
    /// How much shorter the sock's foot is than the foot.
    pub length_ease: Length,
}

impl Default for Fit {
    /// 10 % and 1 cm: common practice for adults.
    fn default() -> Self {
        Self {
            ease_percent: 10,
            length_ease: Length::cm(1),
        }
    }
}

/// Which rib.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum Rib {
    /// Knit 1, purl 1.
    #[serde(rename = "1x1")]
    OneByOne,
    /// Knit 2, purl 2.
    #[default]
    #[serde(rename = "2x2")]
    TwoByTwo,
    /// Knit 3, purl 1.
    #[serde(rename = "3x1")]
    ThreeByOne,
    /// Knit 1 through the back loop, purl 1.
    #[serde(rename = "twisted-1x1")]
    Twisted,
}

impl Rib {
    /// Knit stitches, then purl stitches, of one repeat.
    pub const fn repeat(self) -> (u16, u16) {
        match self {
            Self::OneByOne | Self::Twisted => (1, 1),
            Self::TwoByTwo => (2, 2),
            Self::ThreeByOne => (3, 1),
        }
    }
}

/// How the top of the leg is finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Edge {
    /// Rib.
    Rib(Rib),
    /// A hem: a facing, a turning round, and the outside, folded and knitted together.
    Hem {
        /// Whether the turning round makes small points instead of a straight fold.
        picot: bool,
    },
    /// Plain knitting that rolls by itself.
    Rolled,
}

impl Default for Edge {
    fn default() -> Self {
        Self::Rib(Rib::default())
    }
}

impl Edge {
    /// Every edge.
    pub const ALL: [Self; 7] = [
        Self::Rib(Rib::OneByOne),
        Self::Rib(Rib::TwoByTwo),
        Self::Rib(Rib::ThreeByOne),
        Self::Rib(Rib::Twisted),
        Self::Hem { picot: false },
        Self::Hem { picot: true },
        Self::Rolled,
    ];

    /// Stitches of one repeat: whole repeats sit on each of three needles.
    pub const fn repeat(self) -> u16 {
        match self {
            Self::Rib(rib) => {
                let (k, p) = rib.repeat();
                k + p
            }
            Self::Hem { .. } => 2,
            Self::Rolled => 1,
        }
    }
}

/// The cuff.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cuff {
    /// How it is finished.
    #[serde(default)]
    pub edge: Edge,
    /// How tall; for a hem, its folded height.
    pub length: Length,
}

impl Default for Cuff {
    fn default() -> Self {
        Self {
            edge: Edge::default(),
            length: Length::cm(4),
        }
    }
}

/// What a heel flap is knitted in. Every second stitch slipped makes it thick.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FlapTexture {
    /// Slipped stitches above each other: a ribbed look.
    #[default]
    SlippedStitch,
    /// Slipped stitches between each other: eye of partridge.
    EyeOfPartridge,
    /// Slipped stitches above each other, three stitches of garter at both edges.
    GarterEdge,
}

impl FlapTexture {
    /// Every texture.
    pub const ALL: [Self; 3] = [Self::SlippedStitch, Self::EyeOfPartridge, Self::GarterEdge];
}

/// How the heel is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Turn {
    /// Each row a stitch longer: a rounded cup.
    #[default]
    Round,
    /// A middle third of constant width: the square (Dutch) heel.
    Square,
    /// A constant band under a flap that was narrowed first: rounder than the square one.
    Band,
}

impl Turn {
    /// Every turn.
    pub const ALL: [Self; 3] = [Self::Round, Self::Square, Self::Band];
}

/// The heel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Heel {
    /// Heel flap, turn, gusset. From the toe up the gusset is increased, the turn is worked in
    /// short rows with double stitches, and the flap takes the gusset up again.
    FlapAndGusset {
        /// What the flap is knitted in.
        #[serde(default)]
        texture: FlapTexture,
        /// How the heel is turned, from the cuff down.
        #[serde(default)]
        turn: Turn,
        /// Rows of the flap; when absent as many as it has stitches (a square flap), from the toe
        /// up three quarters of that.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        rows: Option<u16>,
        /// Whether one more stitch is picked up in each corner against holes, from the cuff down.
        #[serde(default)]
        corners: bool,
    },
    /// Short rows there and back, with double stitches (German short rows); no flap, no gusset.
    ShortRow {
        /// Rounds over all stitches between the two halves, for a high instep.
        #[serde(default)]
        between: u16,
    },
    /// A waste yarn marks its place; it is knitted last, like a second toe.
    Afterthought,
}

impl Default for Heel {
    fn default() -> Self {
        Self::FlapAndGusset {
            texture: FlapTexture::default(),
            turn: Turn::default(),
            rows: None,
            corners: false,
        }
    }
}

/// How fast the toe narrows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Narrowing {
    /// Every second round all the way: a long straight wedge.
    Even,
    /// Every second round to half the stitches, then every round: the usual round outline.
    #[default]
    Rounded,
    /// Every third round to three quarters, every second to half, then every round: for long toes.
    Long,
}

/// The toe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Toe {
    /// Decreases at both sides of instep and sole, the rest grafted.
    Wedge {
        /// How fast it narrows.
        #[serde(default)]
        narrowing: Narrowing,
    },
    /// Decreases spread evenly round, the last stitches drawn closed.
    Round,
}

impl Toe {
    /// Every toe.
    pub const ALL: [Self; 4] = [
        Self::Wedge {
            narrowing: Narrowing::Even,
        },
        Self::Wedge {
            narrowing: Narrowing::Rounded,
        },
        Self::Wedge {
            narrowing: Narrowing::Long,
        },
        Self::Round,
    ];
}

impl Default for Toe {
    fn default() -> Self {
        Self::Wedge {
            narrowing: Narrowing::default(),
        }
    }
}

/// Which stitches sit on which needle after the heel turn, on two needle halves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seating {
    /// The round begins at the middle of the sole and both halves carry the same number.
    #[default]
    EvenHalves,
    /// Instep on one needle; sole and gussets on the other.
    InstepAndSole,
}

/// The needles. A seating can only be chosen where there are two halves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(tag = "method", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Method {
    /// One long circular, its cable pulled out between two halves.
    MagicLoop {
        /// Where stitches sit after the turn.
        #[serde(default)]
        seating: Seating,
    },
    /// Two circular needles, each working its own half.
    TwoCirculars {
        /// Where stitches sit after the turn.
        #[serde(default)]
        seating: Seating,
    },
    /// Four double-pointed needles: three hold, one works.
    FourDpns,
    /// Five double-pointed needles: four hold, one works.
    FiveDpns,
    /// One short circular all the way round; the toe moves to other needles.
    ShortCircular,
}

impl Default for Method {
    fn default() -> Self {
        Self::MagicLoop {
            seating: Seating::EvenHalves,
        }
    }
}

impl Method {
    /// Every method with every seating it has.
    pub const ALL: [Self; 7] = [
        Self::MagicLoop {
            seating: Seating::EvenHalves,
        },
        Self::MagicLoop {
            seating: Seating::InstepAndSole,
        },
        Self::TwoCirculars {
            seating: Seating::EvenHalves,
        },
        Self::TwoCirculars {
            seating: Seating::InstepAndSole,
        },
        Self::FourDpns,
        Self::FiveDpns,
        Self::ShortCircular,
    ];

    /// The seating, where there is one to choose.
    pub const fn seating(self) -> Option<Seating> {
        match self {
            Self::MagicLoop { seating } | Self::TwoCirculars { seating } => Some(seating),
            Self::FourDpns | Self::FiveDpns | Self::ShortCircular => None,
        }
    }
}

/// One ball of the yarn, from its band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ball {
    /// Grams in a ball.
    pub grams: u16,
    /// Metres in a ball.
    pub metres: u16,
}

/// Stitches around that the plans reach.
pub const STITCHES: RangeInclusive<u16> = 32..=120;
/// Stitch gauge, stitches to 10 cm.
pub const STITCH_GAUGE: RangeInclusive<u16> = 15..=48;
/// Round gauge, rounds to 10 cm.
pub const ROUND_GAUGE: RangeInclusive<u16> = 18..=80;
/// Foot length.
pub const FOOT_LENGTH: RangeInclusive<Length> = Length::cm(9)..=Length::cm(34);
/// Round the ball of the foot.
pub const FOOT_CIRCUMFERENCE: RangeInclusive<Length> = Length::cm(9)..=Length::cm(36);
/// Round heel and instep.
pub const HEEL_DIAGONAL: RangeInclusive<Length> = Length::cm(10)..=Length::cm(50);
/// Ease round the foot, percent.
pub const EASE_PERCENT: RangeInclusive<u8> = 0..=25;
/// Ease along the foot.
pub const LENGTH_EASE: RangeInclusive<Length> = Length::cm(0)..=Length::cm(3);
/// Height of the cuff.
pub const CUFF_LENGTH: RangeInclusive<Length> = Length::mm(5)..=Length::cm(25);
/// Cast-on edge to heel flap.
pub const LEG_LENGTH: RangeInclusive<Length> = Length::cm(1)..=Length::cm(45);
/// Rounds between the halves of a short-row heel.
pub const BETWEEN: RangeInclusive<u16> = 0..=6;
/// Rows of the heel flap.
pub const FLAP_ROWS: RangeInclusive<u16> = 8..=80;
/// Measured width or height of a swatch.
pub const SWATCH_SIZE: RangeInclusive<Length> = Length::cm(2)..=Length::cm(30);
/// Grams in a ball.
pub const BALL_GRAMS: RangeInclusive<u16> = 5..=1000;
/// Metres in a ball.
pub const BALL_METRES: RangeInclusive<u16> = 10..=5000;
