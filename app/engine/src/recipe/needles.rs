//! Needle methods, and the seating where there is one to choose.

use serde::{Deserialize, Serialize};

use crate::document_shape::Document;
use crate::units::Length;

choice! {
    /// Which stitches sit on which needle after the heel turn, on two needle halves.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum Seating {
        /// The round begins at the middle of the sole and both halves carry the same number.
        #[default]
        EvenHalves,
        /// Instep on one needle; sole and gussets on the other.
        InstepAndSole,
    }
}

choice! {
    /// How long a short circular needle is, tip to tip: the lengths that are sold.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    pub enum CircularLength {
        /// 20 cm, 8 inches.
        #[serde(rename = "20-cm")]
        Cm20,
        /// 23 cm, 9 inches.
        #[default]
        #[serde(rename = "23-cm")]
        Cm23,
        /// 25 cm, 10 inches.
        #[serde(rename = "25-cm")]
        Cm25,
        /// 30 cm, 12 inches.
        #[serde(rename = "30-cm")]
        Cm30,
    }
}

impl CircularLength {
    /// From tip to tip.
    pub const fn length(self) -> Length {
        Length::cm(match self {
            Self::Cm20 => 20,
            Self::Cm23 => 23,
            Self::Cm25 => 25,
            Self::Cm30 => 30,
        })
    }

    /// The narrowest tube that stitches on it reach round, spread to a quarter more than they lie
    /// (common practice, no source).
    pub const fn narrowest_tube(self) -> Length {
        Length(self.length().0 * 4 / 5)
    }
}

/// The needles. A seating can only be chosen where there are two halves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
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
    ShortCircular {
        /// How long it is, tip to tip; none where it is not given, as in recipes of an earlier Evenloop.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        length: Option<CircularLength>,
    },
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
        Self::ShortCircular { length: None },
    ];

    /// The seating, where there is one to choose.
    pub const fn seating(self) -> Option<Seating> {
        match self {
            Self::MagicLoop { seating } | Self::TwoCirculars { seating } => Some(seating),
            Self::FourDpns | Self::FiveDpns | Self::ShortCircular { .. } => None,
        }
    }
}
