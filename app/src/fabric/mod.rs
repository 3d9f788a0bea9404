//! The living sock: pictures of real fabric, every stitch of which the simulator made.
//!
//! `knitting` replays a plan's operations over its trace and gives every stitch with its neighbours, `places` where in
//! the sock it is;
//! `lie` says where a stitch lies when the sock lies on the table, `hanging` where it hangs from the needles; the rest draws, as text of SVG with few
//! nodes. Pure: may use the engine's plans, operations and traces; must not know storage, screens or
//! the browser. The proportions and tones are explained in `style/DESIGN.md`.

mod hanging;
mod knitting;
mod lie;
mod loops;
mod path;
mod places;
mod point;
mod shapes;
mod sock;
mod stitch;
mod svg;
mod yarn_paths;

pub use self::hanging::{HangingFabric, HangingPiece, Hook};
pub use self::sock::SockPicture;
pub use self::svg::{Drawing, FabricPicture, Field, TouchPart};
pub use self::yarn_paths::Detail;

#[cfg(test)]
mod tests;
