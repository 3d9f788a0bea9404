//! HTTP: what is answered where, and connections from the first byte to the last.
//!
//! May use `site` (what is served) and `error`; must not know the command line or the settings.
//!
//! - `routes`: which handler answers which address
//! - `static_site`, `static_response`, `conditions`: answers that are the same for everybody
//! - `rendered`: those that are made for one request
//! - `content_negotiation`: in which encoding an answer is sent
//! - `plan`, `openapi`: the plan endpoint and its description
//! - `problem`, `headers`, `limits`, `request_bodies`, `request_log`: what every answer has in common
//! - `connections`, `tls`, `drain`: sockets, and how they are closed when the server stops
//! - `activity`, `open_connections`: what a connection is doing, and which are closed for others' sake

mod activity;
pub mod conditions;
pub mod connections;
pub mod content_negotiation;
mod drain;
pub mod headers;
pub mod limits;
pub mod open_connections;
pub mod openapi;
pub mod plan;
pub mod problem;
pub mod rendered;
pub mod request_bodies;
pub mod request_log;
pub mod routes;
pub mod static_response;
pub mod static_site;
pub mod tls;
