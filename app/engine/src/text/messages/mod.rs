//! What the engine has to say, as data: enums with arguments. The modules beside this one pick them, the
//! language says them; they know neither.
//!
//! May use the engine's types as arguments, and what the knitter typed. Must not hold a sentence or a wording.

mod abbreviation;
mod diagnosis;
mod not_written;
mod note;
mod pattern_line;
mod piece;
mod place;
mod problem;
mod shape;
mod steps;
mod weighed;

pub use abbreviation::Abbreviation;
pub(crate) use diagnosis::{Diagnosis, Shift};
pub use not_written::NotWritten;
pub(crate) use note::{ClosedCastOn, ContrastPart, MarkerChanges, MarkerPlace, Note};
pub(crate) use pattern_line::PatternLine;
pub(crate) use piece::{GraftNeedle, GraftPass, LinePiece, LineRepeat, Run, Stop};
pub(crate) use place::{Between, NamedPlace};
pub use problem::ProblemText;
pub(crate) use shape::StepShape;
pub(crate) use steps::Steps;
pub(crate) use weighed::{Enough, Weighed};
