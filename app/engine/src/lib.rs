//! Pure sock knowledge.
#![forbid(unsafe_code)]
pub mod wire;
