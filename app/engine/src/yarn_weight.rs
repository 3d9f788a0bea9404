//! Yarn weights: the trade's names of how thick a yarn is. What each gives in socks is guessed in
//! [`crate::first_guess`]. Knows no gauge and no needles.

use serde::{Deserialize, Serialize};

use crate::document_shape::Document;

/// A category by its name. Stored with a sock: names are never changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum WeightName {
    /// Thinner than sock yarn.
    Lace,
    /// What socks are mostly knitted in.
    #[default]
    Fingering,
    /// A little thicker.
    Sport,
    /// For house socks and boots.
    Dk,
    /// For thick socks.
    Worsted,
    /// For slippers.
    Bulky,
}

impl WeightName {
    /// Every one of them, thin to thick.
    pub const ALL: [Self; 6] = [
        Self::Lace,
        Self::Fingering,
        Self::Sport,
        Self::Dk,
        Self::Worsted,
        Self::Bulky,
    ];
}
