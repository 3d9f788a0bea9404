//! What is knitted on, as far as it is seen.

use evenloop_engine::recipe::Method;

use crate::text;

/// What the needles look like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// One long circular, its cable pulled out between two halves.
    Loop,
    /// Two circulars, each with its own ends.
    Pair,
    /// Double-pointed needles.
    Points,
    /// One short circular.
    Ring,
}

impl Look {
    /// Its name, as a sentence.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Loop => text::picture::MAGIC_LOOP,
            Self::Pair => text::picture::TWO_CIRCULARS,
            Self::Points => text::picture::DOUBLE_POINTED,
            Self::Ring => text::picture::SHORT_CIRCULAR,
        }
    }
}

impl From<Method> for Look {
    fn from(method: Method) -> Self {
        match method {
            Method::MagicLoop { .. } => Self::Loop,
            Method::TwoCirculars { .. } => Self::Pair,
            Method::FourDpns | Method::FiveDpns => Self::Points,
            Method::ShortCircular { .. } => Self::Ring,
        }
    }
}
