//! The needle picture: what is on the needles right now, as a knitter holding them sees it.
//!
//! A pure function of the simulator's state: [`Picture::of`] lays it out, [`say()`] puts the same into
//! words for the ear, [`NeedlePicture`] draws it. Every number in it is a count of the state.
//!
//! May use the engine's needles and leptos; must not know plans, storage or any screen.

mod cells;
mod course;
mod layout;
mod names;
mod say;
mod scene;
mod seats;
mod shapes;
mod side_by_side;
mod spread;
mod view;

use evenloop_engine::recipe::Method;

pub use say::say;
pub use scene::Picture;
pub use side_by_side::say_two;
pub use view::{NeedlePicture, Patterns};

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
    const fn name(self) -> &'static str {
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
            Method::ShortCircular => Self::Ring,
        }
    }
}
