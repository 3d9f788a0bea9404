//! Outside checks of the whole: the engine against an independent count, the server over HTTP,
//! the app in a real browser at the size of a phone.
//!
//! Helpers here panic where a test cannot go on: that is how a test says so.

#![allow(
    clippy::expect_used,
    clippy::missing_panics_doc,
    reason = "a helper of tests stops where the test cannot go on"
)]

pub mod at_rest;
pub mod description;
pub mod engine;
pub mod flood;
pub mod knitter;
pub mod laid;
pub mod line;
pub mod model;
pub mod phone;
pub mod plain;
mod processes;
pub mod room_on_now;
pub mod server;
pub mod site;
pub mod stocked;
pub mod touching;
pub mod worker_model;
pub mod worker_traces;
