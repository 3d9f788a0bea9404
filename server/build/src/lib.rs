//! Makes what a browser loads from the app's crate.
//!
//! The crate is compiled and linked as one wasm ([`compile`]), split into the parts that screens load
//! ([`split`]), put into few files ([`bundle`], [`join`]), given its script ([`bind`]) and made small
//! ([`optimise`]). What packing has to know of the files stands beside them ([`manifest`]).
//!
//! May use the tools and the file system; must not know what the app does, nor how it is served.

pub mod bind;
pub mod bundle;
pub mod compile;
pub mod digest;
pub mod front;
pub mod graph;
pub mod join;
pub mod locations;
pub mod manifest;
pub mod optimise;
pub mod prune;
pub mod split;
pub mod watch;
