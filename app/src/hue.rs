//! The colours a knitter can give to yarns A to D. Named after nothing but themselves; a colour
//! never stands without the yarn's letter and its hatching.
//!
//! Must not know where a colour is used.

use evenloop_engine::stitch::Yarn;
use serde::{Deserialize, Serialize};

use crate::text;

/// A colour of yarn. What it looks like is in the style sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Hue {
    /// Nearly white.
    Chalk,
    /// Light yellow.
    Straw,
    /// Yellow to brown.
    Amber,
    /// Brownish red.
    Brick,
    /// Dark red.
    Berry,
    /// Light violet.
    Heather,
    /// Dark blue.
    Dusk,
    /// Blue.
    Lake,
    /// Light green.
    Fern,
    /// Dark green.
    Pine,
    /// Brown.
    Peat,
    /// Nearly black.
    Coal,
}

impl Hue {
    /// Every colour, in the order in which they are offered.
    pub const ALL: [Self; 12] = [
        Self::Chalk,
        Self::Straw,
        Self::Amber,
        Self::Brick,
        Self::Berry,
        Self::Heather,
        Self::Dusk,
        Self::Lake,
        Self::Fern,
        Self::Pine,
        Self::Peat,
        Self::Coal,
    ];

    /// The colours of yarns A to D until the knitter chooses.
    pub const USUAL: [Self; 4] = [Self::Lake, Self::Chalk, Self::Brick, Self::Amber];

    /// The colour of a yarn among those of A to D.
    pub const fn of(yarn: Yarn, hues: [Self; 4]) -> Self {
        let [a, b, c, d] = hues;
        match yarn {
            Yarn::A => a,
            Yarn::B => b,
            Yarn::C => c,
            Yarn::D => d,
        }
    }

    /// Its name, by itself.
    pub const fn name(self) -> &'static str {
        self.names()[0]
    }

    /// Its name within a sentence.
    pub const fn name_in_text(self) -> &'static str {
        self.names()[1]
    }

    const fn names(self) -> [&'static str; 2] {
        match self {
            Self::Chalk => text::hues::CHALK,
            Self::Straw => text::hues::STRAW,
            Self::Amber => text::hues::AMBER,
            Self::Brick => text::hues::BRICK,
            Self::Berry => text::hues::BERRY,
            Self::Heather => text::hues::HEATHER,
            Self::Dusk => text::hues::DUSK,
            Self::Lake => text::hues::LAKE,
            Self::Fern => text::hues::FERN,
            Self::Pine => text::hues::PINE,
            Self::Peat => text::hues::PEAT,
            Self::Coal => text::hues::COAL,
        }
    }

    /// Its class in the style sheet.
    pub const fn class(self) -> &'static str {
        match self {
            Self::Chalk => "hue-chalk",
            Self::Straw => "hue-straw",
            Self::Amber => "hue-amber",
            Self::Brick => "hue-brick",
            Self::Berry => "hue-berry",
            Self::Heather => "hue-heather",
            Self::Dusk => "hue-dusk",
            Self::Lake => "hue-lake",
            Self::Fern => "hue-fern",
            Self::Pine => "hue-pine",
            Self::Peat => "hue-peat",
            Self::Coal => "hue-coal",
        }
    }
}
