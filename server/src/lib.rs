//! The server: it packs a build into a site and serves it, and holds no state of its own, so any
//! number of copies may run behind one address.
//!
//! May use the app (to render pages) and the engine's documents (for the plan endpoint); must not
//! know how a sock is made.
//!
//! Each room uses only those named before it:
//!
//! - `error`: why the command stopped, in one type
//! - `site`: what a packed site is, how it is made, read and exported; knows nothing of HTTP
//! - `http`: what is answered where, and connections from the first byte to the last
//! - `command`: the command line: settings, logs, signals and the commands themselves

pub mod command;
pub mod error;
pub mod http;
pub mod site;
