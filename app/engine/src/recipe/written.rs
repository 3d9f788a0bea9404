//! A pattern of the knitter's own, followed in place of sections of ours.

use serde::{Deserialize, Serialize};

use crate::document_shape::Document;
/// A pattern that was typed or pasted, and what of the sock is knitted by it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Written {
    /// Its text, as it was typed.
    pub text: String,
    /// Which of its sizes is knitted, from 0; none where it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[document(PatternSize)]
    pub size: Option<u8>,
    /// Parts that are knitted by our own sections, for the same stitches: instead of the pattern's, or
    /// where it has none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ours: Vec<SockPart>,
}

impl Written {
    /// Whether our own sections knit that part.
    pub fn is_ours(&self, part: SockPart) -> bool {
        self.ours.contains(&part)
    }
}

choice! {
    /// A part of a sock that can come from a pattern or from us.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum SockPart {
        /// The edge and the cuff.
        #[default]
        Cuff,
        /// The leg.
        Leg,
        /// The heel, from its first row to the gusset's last round.
        Heel,
        /// The foot.
        Foot,
        /// The toe, and how it is closed or begun.
        Toe,
    }
}
