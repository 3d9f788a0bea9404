//! The top of the leg: its edge, how it is cast on or bound off, and how far that stretches.

use serde::{Deserialize, Serialize};

use crate::document_shape::Document;
use crate::units::Length;

choice! {
    /// Which rib.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
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

choice! {
    /// How the cuff of a sock from the cuff down is cast on. The stitches are the same; stretch and the
    /// yarn's tail are not. Only a tubular one has rounds of its own.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum CastOn {
        /// The usual one: firm enough, stretchy enough.
        #[default]
        LongTail,
        /// Long-tail with a twist in each loop (also called German or old Norwegian): the stretchiest.
        TwistedLongTail,
        /// Each loop knitted out of the one before: needs no long tail.
        KnittedOn,
        /// Each stitch a slip knot: an edge that stretches as far as the rib, without a long tail.
        SlipKnot,
        /// Knit and purl loops by turns, and two rounds that knit each kind by itself: the rib rolls
        /// round the edge. Only under a rib of knit 1, purl 1 or knit 2, purl 2.
        Tubular,
    }
}

choice! {
    /// How the cuff of a sock from the toe up is bound off.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum BindOff {
        /// Each stitch lifted over the next, on a needle a size larger.
        Plain,
        /// Sewn with a tapestry needle: soft and stretchy.
        Sewn,
        /// Two rounds that knit the knit and the purl stitches by themselves, then both kinds grafted
        /// to each other: the rib rolls round the edge. Only over a rib of knit 1, purl 1 or knit 2,
        /// purl 2.
        Tubular,
        /// Two stitches worked together through the back loop, the new one slipped back, and so on: firm
        /// and stretchy.
        WorkedTogether,
        /// A yarn over before each stitch, lifted over with it: the stretchiest, and the usual one.
        #[default]
        YarnOver,
    }
}

/// How far an edge stretches beside the cuff that it ends, from the least to the most. Common practice,
/// no source: no one has measured it for all of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stretch {
    /// Less than plain knitting, unless it is worked loosely.
    Firm,
    /// As plain knitting does.
    Usual,
    /// As a rib does.
    AsRib,
    /// Farther than the cuff needs.
    Most,
}

impl CastOn {
    /// The one for legs that must not be bound.
    pub const FOR_TENDER_LEGS: Self = Self::TwistedLongTail;

    /// How far the edge stretches.
    pub const fn stretch(self) -> Stretch {
        match self {
            Self::KnittedOn => Stretch::Firm,
            Self::LongTail => Stretch::Usual,
            Self::Tubular => Stretch::AsRib,
            Self::TwistedLongTail | Self::SlipKnot => Stretch::Most,
        }
    }
}

impl BindOff {
    /// The one for legs that must not be bound.
    pub const FOR_TENDER_LEGS: Self = Self::YarnOver;

    /// How far the edge stretches.
    pub const fn stretch(self) -> Stretch {
        match self {
            Self::Plain => Stretch::Firm,
            Self::WorkedTogether => Stretch::Usual,
            Self::Sewn | Self::Tubular => Stretch::AsRib,
            Self::YarnOver => Stretch::Most,
        }
    }
}

impl Rib {
    /// Whether an edge that knits the knit and the purl stitches by themselves can end it.
    pub const fn can_be_tubular(self) -> bool {
        matches!(self, Self::OneByOne | Self::TwoByTwo | Self::Twisted)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The edge of a sock from the toe up is the last thing that passes the heel, and nothing can be
    /// done about it later.
    #[test]
    fn the_usual_bind_off_and_the_edge_for_tender_legs_stretch_most() {
        let most = BindOff::ALL.map(BindOff::stretch).into_iter().max();
        assert_eq!(Some(BindOff::default().stretch()), most);
        let most = CastOn::ALL.map(CastOn::stretch).into_iter().max();
        assert_eq!(Some(CastOn::FOR_TENDER_LEGS.stretch()), most);
    }
}
