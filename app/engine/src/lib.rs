//! Pure sock knowledge: from a measured foot and a swatch to every stitch of a sock.
//!
//! Nothing in here knows of a screen, a clock, a random number, a file or a network: values go in,
//! values come out, and the phone and the server get the same bytes for the same recipe.
//!
//! Where to look, in the order a sock is made:
//!
//! | module | holds |
//! |---|---|
//! | [`units`] | lengths (tenths of a millimetre), parsing and showing them |
//! | [`foot`], [`shoe`], [`swatch`] | what the knitter measured, or a size instead |
//! | [`recipe`] | what the knitter chose, and in which ranges |
//! | [`stitch`] | the vocabulary of operations |
//! | [`needles`] | live stitches, markers, edges and loops as they lie on the needles |
//! | [`knit`] | the simulator: operations applied to needles, the impossible refused |
//! | [`plan`] | recipe to sections, steps and operations |
//! | [`trace`] | a plan knitted through: every count that is ever shown |
//! | [`tally`] | what a knitter counted: right, a slip, or another place |
//! | [`text`] | operations as a knitter reads them; all sentences of a language |
//! | [`yarn`], [`yarn_weight`] | metres and grams; which yarn a gauge is usual for |
//! | [`needle_size`] | millimetres and their American and British labels |
//! | [`pace`] | how fast somebody knits, and what is left at that pace |
//! | [`journal`] | what has been knitted: an append-only log and its replay |
//! | [`together`] | two socks at a time: whose turn it is |
//! | [`refused`] | what is wrong with a recipe, as it is sent |
//! | [`wire`], [`link`] | versioned stored and sent forms; a recipe in an address |
#![forbid(unsafe_code)]

mod check;
pub mod error;
pub mod foot;
pub mod journal;
pub mod knit;
pub mod leg_length;
pub mod link;
pub mod needle_size;
pub mod needles;
pub mod pace;
pub mod plan;
pub mod recipe;
pub mod refused;
pub mod shoe;
pub mod stitch;
pub mod swatch;
pub mod tally;
pub mod text;
pub mod together;
pub mod trace;
pub mod units;
pub mod wire;
pub mod yarn;
pub mod yarn_weight;
