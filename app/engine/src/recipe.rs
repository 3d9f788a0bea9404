//! The knitter's measurements and choices, and whether numbers are in range.
//! Whether such a sock can be knitted at all is [`crate::plan::make`]'s business.

use std::fmt;
use std::ops::RangeInclusive;

use serde::{Deserialize, Serialize};

use crate::error::FieldError;
use crate::foot::Foot;
use crate::swatch::Swatch;
use crate::units::Length;

/// Everything a sock is made from. Lengths are tenths of a millimetre.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Recipe {
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
}

impl Rib {
    /// Knit stitches, then purl stitches, of one repeat.
    pub const fn repeat(self) -> (u16, u16) {
        match self {
            Self::OneByOne => (1, 1),
            Self::TwoByTwo => (2, 2),
        }
    }
}

/// The cuff.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cuff {
    /// Which rib.
    pub rib: Rib,
    /// How tall.
    pub length: Length,
}

impl Default for Cuff {
    fn default() -> Self {
        Self {
            rib: Rib::default(),
            length: Length::cm(4),
        }
    }
}

/// The heel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Heel {
    /// Slipped-stitch flap, round turn, gusset.
    FlapAndGusset {
        /// Rows of the flap; as many as it has stitches (a square flap) when absent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        rows: Option<u16>,
        /// Whether one more stitch is picked up in each corner against holes.
        #[serde(default)]
        corners: bool,
    },
}

impl Default for Heel {
    fn default() -> Self {
        Self::FlapAndGusset {
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
/// Rows of the heel flap.
pub const FLAP_ROWS: RangeInclusive<u16> = 8..=80;
/// Measured width or height of a swatch.
pub const SWATCH_SIZE: RangeInclusive<Length> = Length::cm(2)..=Length::cm(30);
/// Grams in a ball.
pub const BALL_GRAMS: RangeInclusive<u16> = 5..=1000;
/// Metres in a ball.
pub const BALL_METRES: RangeInclusive<u16> = 10..=5000;

impl Recipe {
    /// Checks every number against its range.
    ///
    /// # Errors
    /// All fields out of range, each with the range and what would help.
    pub fn check(&self) -> Result<(), Vec<FieldError>> {
        let mut wrong = Vec::new();
        let mut see = |e: Option<FieldError>| wrong.extend(e);
        see(outside(
            "foot.length",
            "The foot's length",
            self.foot.length,
            &FOOT_LENGTH,
            "Measure from the back of the heel to the longest toe, standing on a sheet of paper.",
        ));
        if let Some(c) = self.foot.circumference {
            see(outside(
                "foot.circumference",
                "The foot's circumference",
                c,
                &FOOT_CIRCUMFERENCE,
                "Measure round the ball of the foot, where it is widest; leave it empty to estimate it.",
            ));
        }
        if let Some(d) = self.foot.heel_diagonal {
            see(outside(
                "foot.heel_diagonal",
                "The measure round heel and instep",
                d,
                &HEEL_DIAGONAL,
                "Measure from under the heel over the bend of the ankle; leave it empty to estimate it.",
            ));
        }
        see(outside(
            "swatch.width",
            "The swatch's measured width",
            self.swatch.width,
            &SWATCH_SIZE,
            "Measure over at least 5 cm, better 10.",
        ));
        see(outside(
            "swatch.height",
            "The swatch's measured height",
            self.swatch.height,
            &SWATCH_SIZE,
            "Measure over at least 5 cm, better 10.",
        ));
        see(outside_gauge(
            "swatch.stitches",
            "stitches",
            self.swatch.stitch_gauge_tenths(),
            &STITCH_GAUGE,
            "Count again over the measured width; sock yarn usually gives 28 to 36.",
        ));
        see(outside_gauge(
            "swatch.rounds",
            "rounds",
            self.swatch.round_gauge_tenths(),
            &ROUND_GAUGE,
            "Count again over the measured height; sock yarn usually gives 38 to 50.",
        ));
        see(outside(
            "fit.ease_percent",
            "The ease round the foot",
            self.fit.ease_percent,
            &EASE_PERCENT,
            "10 % suits most plain socks.",
        ));
        see(outside(
            "fit.length_ease",
            "The ease along the foot",
            self.fit.length_ease,
            &LENGTH_EASE,
            "1 cm suits most adults, half a centimetre small children.",
        ));
        see(outside(
            "cuff.length",
            "The cuff's height",
            self.cuff.length,
            &CUFF_LENGTH,
            "3 to 5 cm is usual.",
        ));
        see(outside(
            "leg",
            "The leg from cast-on to heel flap",
            self.leg,
            &LEG_LENGTH,
            "15 to 18 cm reaches mid-calf on most adults.",
        ));
        if self.leg < self.cuff.length {
            see(Some(FieldError::new(
                "leg",
                format!(
                    "The leg ({}) is shorter than its cuff ({}).",
                    self.leg, self.cuff.length
                ),
                "The leg is measured from the cast-on edge and includes the cuff.",
            )));
        }
        let Heel::FlapAndGusset { rows, .. } = self.heel;
        if let Some(rows) = rows {
            see(outside(
                "heel.rows",
                "The flap's rows",
                rows,
                &FLAP_ROWS,
                "As many rows as the flap has stitches makes it square.",
            ));
            if rows % 2 == 1 {
                see(Some(FieldError::new(
                    "heel.rows",
                    format!("The flap's rows ({rows}) are an odd number."),
                    "A flap ends with a wrong-side row: take one row more or less.",
                )));
            }
        }
        if let Some(n) = self.stitches {
            see(outside(
                "stitches",
                "Stitches around",
                n,
                &STITCHES,
                "Leave it empty to have it worked out from foot and swatch.",
            ));
            if n % 4 != 0 {
                see(Some(FieldError::new(
                    "stitches",
                    format!("{n} stitches around cannot be quartered."),
                    format!(
                        "Heel and toe want a multiple of 4: {} or {}.",
                        n / 4 * 4,
                        n / 4 * 4 + 4
                    ),
                )));
            }
        }
        if let Some(ball) = self.ball {
            see(outside(
                "ball.grams",
                "Grams in a ball",
                ball.grams,
                &BALL_GRAMS,
                "It is printed on the band.",
            ));
            see(outside(
                "ball.metres",
                "Metres in a ball",
                ball.metres,
                &BALL_METRES,
                "It is printed on the band.",
            ));
        }
        if wrong.is_empty() { Ok(()) } else { Err(wrong) }
    }
}

fn outside<T: PartialOrd + fmt::Display>(
    field: &str,
    what: &str,
    value: T,
    range: &RangeInclusive<T>,
    help: &str,
) -> Option<FieldError> {
    (!range.contains(&value)).then(|| {
        FieldError::new(
            field,
            format!(
                "{what} is {value}; it can be {} to {}.",
                range.start(),
                range.end()
            ),
            help,
        )
    })
}

fn outside_gauge(
    field: &str,
    what: &str,
    tenths: u64,
    range: &RangeInclusive<u16>,
    help: &str,
) -> Option<FieldError> {
    let (low, high) = (u64::from(*range.start()), u64::from(*range.end()));
    (!(low * 10..=high * 10).contains(&tenths)).then(|| {
        FieldError::new(
            field,
            format!(
                "The swatch comes to {}.{} {what} to 10 cm; it can be {low} to {high}.",
                tenths / 10,
                tenths % 10
            ),
            help,
        )
    })
}
