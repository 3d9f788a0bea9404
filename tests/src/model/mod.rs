//! A second opinion on every count: an independent model of the sock, in both directions.
//!
//! Two ways that share no code with the engine and little with each other:
//!
//! * [`closed`]: closed forms. A recipe goes in, plain integer arithmetic says how many stitches
//!   lie on which needle, and of which part of the sock, at the end of every round and row.
//! * [`hands`]: a naive knitter. Each stitch is a thing of its own with a number and parents, each
//!   needle a list; the written operations of a plan are worked one stitch at a time, in the most
//!   literal way, and whatever hands could not do is refused.
//!
//! [`panel`] says how a motif lies, [`chart`] expands its rows stitch by stitch, [`page`] reads the written plan for both (its
//! own reader of the operations' text), [`compare`] lays the two and the engine's trace beside each
//! other after every move (`lie`) and looks at the fabric (`fabric`) and at what the plan promises
//! (`outcome`), `loose` looks for yarn overs that nothing holds, [`replanned`] does so for socks replanned half-way, [`recipes`] makes up socks.
//!
//! This room may use the engine's recipe (as plain data), its written plan and its trace. It must
//! not know how the engine generates or simulates anything.

pub mod chart;
pub mod closed;
pub mod compare;
mod fabric;
pub mod hands;
mod lie;
mod loose;
mod outcome;
pub mod page;
pub mod panel;
pub mod recipes;
pub mod replanned;
