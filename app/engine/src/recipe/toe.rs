//! Toes.

use serde::{Deserialize, Serialize};

use crate::document_shape::Document;
choice! {
    /// How fast the toe narrows.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
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
}

choice! {
    /// How a toe from the toe up is cast on.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum ToeCastOn {
        /// The magic cast-on: loops laid by turns round two needles, which show no seam.
        #[default]
        Magic,
        /// The yarn wound round two needles like a spring (the Turkish cast-on): quicker, its loops are
        /// drawn up afterwards.
        Wrapped,
        /// A chain of waste yarn crocheted over one needle and undone later, when its loops are put on
        /// the other one. Only for a toe in short rows, which is worked over one needle.
        Provisional,
    }
}

/// The toe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Toe {
    /// Decreases at both sides of instep and sole, the rest grafted.
    Wedge {
        /// How fast it narrows.
        #[serde(default)]
        narrowing: Narrowing,
    },
    /// Decreases spread evenly round, the last stitches drawn closed. Only from the cuff down.
    Round,
    /// Short rows over the sole's half, forth and back like a heel.
    ShortRow,
    /// For one foot of a pair: the side of the little toe narrows twice as fast.
    Shaped {
        /// Which foot it is for.
        foot: LeftRight,
    },
}

choice! {
    /// Which foot.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum LeftRight {
        /// The left foot.
        Left,
        /// The right foot.
        Right,
    }
}

impl LeftRight {
    /// The other foot of the pair.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

impl Toe {
    /// Every toe.
    pub const ALL: [Self; 7] = [
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
        Self::ShortRow,
        Self::Shaped {
            foot: LeftRight::Left,
        },
        Self::Shaped {
            foot: LeftRight::Right,
        },
    ];
}

impl Default for Toe {
    fn default() -> Self {
        Self::Wedge {
            narrowing: Narrowing::default(),
        }
    }
}
