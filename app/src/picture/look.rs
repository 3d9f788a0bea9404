//! What is knitted on, as far as it is seen.

use evenloop_engine::recipe::Method;

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

impl From<Method> for Look {
    fn from(method: Method) -> Self {
        match method {
            Method::MagicLoop { .. } => Self::Loop,
            Method::TwoCirculars { .. } => Self::Pair,
            Method::FourDpns | Method::FiveDpns => Self::Points,
            Method::ShortCircular => Self::Ring,
        }
    }
}
