//! How things are said: the knitter's choices that no sentence decides for itself.

use serde::{Deserialize, Serialize};

use super::knitting_hand::KnittingHand;
use super::variety::English;
use crate::units::LengthUnit;

/// Long or short words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WordForm {
    /// "knit 14, knit 2 together".
    #[default]
    Plain,
    /// "k14, k2tog".
    Short,
    /// As they are read to the ear: the stars of a repeat are a word. Nobody chooses it, so it is never stored.
    #[serde(skip)]
    Spoken,
}

/// How far a run goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RunStyle {
    /// "knit 14".
    Counted,
    /// "knit to 3 before the marker".
    #[default]
    ToMarker,
}

/// How instructions are said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub struct Wording {
    /// Long or short words.
    pub form: WordForm,
    /// How far a run goes.
    pub reach: RunStyle,
    /// Whose words, where they differ.
    #[serde(default)]
    pub english: English,
    /// In which unit lengths are told.
    #[serde(default)]
    pub unit: LengthUnit,
    /// Which hand knits. The left one makes the mirror image of the same operations, so sides and leans are
    /// told the other way round; no count changes.
    #[serde(default)]
    pub hand: KnittingHand,
    /// Whether two socks hang on each needle, so that a sock's stitches end before the needle does. Follows
    /// from the pair, so it is never stored.
    #[serde(skip)]
    pub two_socks: bool,
}

impl Wording {
    /// The same words with every run counted: walked moves need the number itself.
    pub(crate) const fn counted(self) -> Self {
        Self {
            reach: RunStyle::Counted,
            ..self
        }
    }
}
