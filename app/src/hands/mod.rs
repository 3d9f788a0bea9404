//! Hands busy with needles: touches that come twice, keys and pedals, a screen that must not go
//! dark, a buzz and a voice, and spoken words.
//!
//! May talk to the browser and to leptos; must not know any screen. What a device cannot do is left
//! out: nothing here is needed to knit, and each room can be asked whether it is able.

mod awake;
mod buzz;
mod guard;
mod keys;
mod listening;
mod voice;

pub use awake::{can_stay_awake, keep_awake};
pub use buzz::{buzz, can_buzz};
pub use guard::{BOUNCE, Contact, Guard, HELD, LIFTED, SPOT, Touch};
pub use keys::{Act, CONTROLS, OWN, listen};
pub use listening::{Listening, Spoken, can_hear, hear};
pub use voice::{be_silent, can_speak, say};
