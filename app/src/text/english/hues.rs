//! The colours of yarns: each by itself, and within a sentence.

pub(crate) const CHALK: [&str; 2] = ["Chalk", "chalk"];
pub(crate) const STRAW: [&str; 2] = ["Straw", "straw"];
pub(crate) const AMBER: [&str; 2] = ["Amber", "amber"];
pub(crate) const BRICK: [&str; 2] = ["Brick", "brick"];
pub(crate) const BERRY: [&str; 2] = ["Berry", "berry"];
pub(crate) const HEATHER: [&str; 2] = ["Heather", "heather"];
pub(crate) const DUSK: [&str; 2] = ["Dusk", "dusk"];
pub(crate) const LAKE: [&str; 2] = ["Lake", "lake"];
pub(crate) const FERN: [&str; 2] = ["Fern", "fern"];
pub(crate) const PINE: [&str; 2] = ["Pine", "pine"];
pub(crate) const PEAT: [&str; 2] = ["Peat", "peat"];
pub(crate) const COAL: [&str; 2] = ["Coal", "coal"];
