//! The server: it packs a build into a site and serves it, and holds no state of its own, so any
//! number of copies may stand behind one address.
//!
//! May use the app (to render pages) and the engine's documents (for the plan endpoint); must not
//! know how a sock is made.
//!
//! - `config`, `start`: what the operator sets, and the way from there to a running server
//! - `pack`: turns the browser build, styles and public files into a site of hashed names
//! - `export`: the site as plain files for a static host
//! - `site`, `pages`: a packed site, and the pages rendered for it
//! - `routes`, `assets`, `plan`: what is answered where
//! - `problem`, `headers`, `limits`: what every answer has in common
//! - `connections`, `shutdown`, `logs`: sockets, signals, logs

pub mod assets;
pub mod config;
pub mod connections;
pub mod export;
pub mod headers;
pub mod limits;
pub mod logs;
pub mod pack;
pub mod pages;
pub mod plan;
pub mod problem;
pub mod routes;
pub mod shutdown;
pub mod site;
pub mod start;
