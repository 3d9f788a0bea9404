//! The needle picture: what is on the needles right now, as a knitter holding them sees it.
//!
//! A pure function of the simulator's state: [`Picture::of`] lays it out, [`say()`] puts the same into
//! words for the ear, [`NeedlePicture`] shows it on a page, [`still()`] writes it into a document. Every number in it is a count of the state.
//!
//! What the groups are knitted of, whoever shows the picture knows: it is given the places where stitches hang.
//!
//! May use the engine's needles and leptos; must not know plans, storage or any screen.

mod cells;
mod course;
mod layout;
mod look;
mod markup;
mod names;
mod say;
mod scene;
mod seats;
mod shapes;
mod side_by_side;
mod spread;
mod view;

pub use look::Look;
pub use markup::{Knitted, still, textures};
pub use say::say;
pub use scene::{Picture, StitchBand};
pub use side_by_side::say_two;
pub use view::{GroupFabric, NeedlePicture};
