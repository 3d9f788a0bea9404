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
    /// The number by which a needle is called, from 1; its place counts from 0, of so many. On one long
    /// circular or on two there are two needles whatever the stitches lie in: what is left behind on a
    /// cable for a while has no number.
    pub(super) const fn number(self, place: usize, of: usize) -> Option<usize> {
        match (self, of, place) {
            (_, ..=1, _) | (Self::Loop | Self::Pair, _, 2..) => None,
            _ => Some(place + 1),
        }
    }

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
