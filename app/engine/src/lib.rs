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
//! | [`yarn`], [`yarn_amount`] | metres and grams; how they are written, in yards and ounces too |
//! | [`yarn_weight`], [`first_guess`] | which yarn a gauge is usual for; a gauge where there is no swatch yet |
//! | [`reach`] | how long the knitting is by now, and how long it is to be |
//! | [`materials`] | what has to be at hand for a pair |
//! | [`needle_size`] | millimetres and their American and British labels |
//! | [`pattern`] | a written pattern, read and checked by the simulator |
//! | [`pace`] | how fast somebody knits, and what is left at that pace |
//! | [`journal`] | what has been knitted: an append-only log and its replay |
//! | [`together`] | two socks at a time: whose turn it is |
//! | [`refused`] | what is wrong with a recipe, as it is sent |
//! | [`wire`], [`link`] | versioned stored and sent forms; a recipe in an address |
//! | [`json`] | how those forms are read |
//!
//! # From a recipe to words
//!
//! ```
//! use evenloop_engine::foot::Foot;
//! use evenloop_engine::plan::{SectionKind, make};
//! use evenloop_engine::recipe::Recipe;
//! use evenloop_engine::text::{Wording, one_line};
//! use evenloop_engine::trace::{Position, Trace};
//! use evenloop_engine::units::Length;
//!
//! let recipe = Recipe {
//!     foot: Foot { length: Length::cm(26), ..Recipe::default().foot },
//!     stitches: Some(64),
//!     ..Recipe::default()
//! };
//! let plan = make(&recipe)?;
//! assert_eq!(plan.sections[1].kind, SectionKind::Cuff);
//! assert_eq!(plan.outcome.turned, 18);
//!
//! // knitted through once, then looked up
//! let trace = Trace::of(&plan)?;
//! let first_round = Position { step: 1, mv: 0 };
//! let said = one_line(&plan, &trace, first_round, Wording::default());
//! assert_eq!(said.as_deref(), Some("*Knit 2, purl 2* to the end of the needle"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! What cannot be is refused with the field that says so:
//!
//! ```
//! use evenloop_engine::plan::{PlanError, make};
//! use evenloop_engine::recipe::Recipe;
//! use evenloop_engine::text::{Wording, problem};
//!
//! let recipe = Recipe { stitches: Some(63), ..Recipe::default() };
//! let Err(PlanError::Impossible(fields)) = make(&recipe) else {
//!     panic!("no sock has 63 stitches");
//! };
//! assert_eq!(fields[0].field, "stitches");
//! let said = problem(&fields[0].problem, Wording::default());
//! assert_eq!(said.message, "63 stitches around cannot be divided by 4.");
//! ```
#![forbid(unsafe_code)]

mod check;
mod document;
mod document_shape;
pub mod error;
pub mod first_guess;
pub mod foot;
mod hand;
pub mod journal;
pub mod json;
pub mod knit;
pub mod leg_length;
pub mod link;
pub mod materials;
pub mod merge;
pub mod needle_size;
pub mod needles;
pub mod pace;
pub mod pattern;
pub mod plan;
pub mod reach;
pub mod read_back;
pub mod recipe;
pub mod refit;
pub mod refused;
pub mod sequence;
pub mod shoe;
pub mod sock;
pub mod sort;
pub mod stitch;
pub mod swatch;
pub mod tally;
pub mod text;
pub mod together;
pub mod touch;
pub mod trace;
pub mod units;
pub mod usual;
pub mod wire;
pub mod within_round;
pub mod written_ops;
pub mod yarn;
pub mod yarn_amount;
pub mod yarn_weight;
