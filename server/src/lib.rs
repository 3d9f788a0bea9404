//! The server: it packs a build into a site and serves it, and holds no state of its own, so any
//! number of copies may stand behind one address.
//!
//! May use the app (to render pages) and the engine's documents (for the plan endpoint); must not
//! know how a sock is made.
//!
//! - `config`, `start`: what the operator sets, and the way from there to a running server
//! - `pack`: turns the browser build, styles and public files into a site of hashed names
//! - `export`: the site as plain files for a static host
//! - `source`, `bundle`: where a packed site is read from: a folder, or the server's own executable
//! - `site`, `pages`, `stored`, `encoding`: all that is answered with, held in memory in every form
//! - `retire`: the way to end the service workers of phones
//! - `routes`, `assets`, `plan`, `description`: what is answered where
//! - `problem`, `headers`, `limits`: what every answer has in common
//! - `connections`, `tls`, `farewell`, `signals`, `logs`: sockets from the first byte to the last
//! - `address`: where a phone finds it, as a code for the terminal too

pub mod address;
pub mod assets;
pub mod bundle;
pub mod config;
pub mod connections;
pub mod description;
pub mod encoding;
pub mod export;
mod farewell;
pub mod headers;
pub mod limits;
pub mod logs;
pub mod pack;
pub mod pages;
pub mod plan;
pub mod problem;
pub mod retire;
pub mod routes;
pub mod signals;
pub mod site;
pub mod source;
pub mod start;
pub mod stored;
pub mod tls;
