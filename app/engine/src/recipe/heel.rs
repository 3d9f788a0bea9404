//! Heels.

use serde::{Deserialize, Serialize};

use crate::document_shape::Document;
use crate::units::Length;

choice! {
    /// What a heel flap is knitted in. Every second stitch slipped makes it thick.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
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
}

choice! {
    /// How the heel is turned.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum HeelTurn {
        /// Each row a stitch longer: a rounded cup.
        #[default]
        Round,
        /// A middle third of constant width: the square (Dutch) heel.
        Square,
        /// A constant band under a flap that was narrowed first: rounder than the square one.
        Band,
    }
}

choice! {
    /// How the opening for a heel that is knitted last is made.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum HeelOpening {
        /// A row of waste yarn, knitted in on the way, is drawn out (a forethought heel).
        #[default]
        WasteYarn,
        /// A strand of the finished round is snipped and drawn out (an afterthought heel).
        Snipped,
    }
}

/// The heel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
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
        turn: HeelTurn,
        /// Rows of the flap; when absent as many as it has stitches (a square flap), from the toe
        /// up three quarters of that.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[cfg_attr(feature = "schemars", schemars(extend("multipleOf" = 2)))]
        rows: Option<u16>,
        /// The flap's height, instead of its rows: how high the wearer's heel is.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        height: Option<Length>,
        /// Whether one more stitch is picked up in each corner against holes, from the cuff down.
        #[serde(default = "usually")]
        #[cfg_attr(feature = "schemars", schemars(extend("default" = true)))]
        corners: bool,
    },
    /// Short rows there and back, with double stitches (German short rows); no flap, no gusset.
    ShortRow {
        /// Rounds over all stitches between the two halves, for a high instep.
        #[serde(default)]
        between: u16,
    },
    /// It is knitted last, like a second toe, in an opening between two rounds.
    Afterthought {
        /// How the opening is made.
        #[serde(default, skip_serializing_if = "is_waste_yarn")]
        #[cfg_attr(feature = "schemars", schemars(extend("default" = HeelOpening::default())))]
        opening: HeelOpening,
    },
}

impl Default for Heel {
    fn default() -> Self {
        Self::FlapAndGusset {
            texture: FlapTexture::default(),
            turn: HeelTurn::default(),
            rows: None,
            height: None,
            corners: true,
        }
    }
}

impl Heel {
    /// Whether it is knitted last.
    pub const fn is_knitted_last(self) -> bool {
        matches!(self, Self::Afterthought { .. })
    }
}

const fn usually() -> bool {
    true
}

#[allow(clippy::trivially_copy_pass_by_ref)] // serde's signature
fn is_waste_yarn(opening: &HeelOpening) -> bool {
    *opening == HeelOpening::WasteYarn
}
