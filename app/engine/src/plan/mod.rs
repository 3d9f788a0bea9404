//! From a recipe to every operation of the sock.
//!
//! A plan is sections of steps; a step is one round, one row, or a walk of single moves through a
//! hard place. May use the simulator, the needles and what yarn comes to; knows no words and nothing
//! that is stored. Its files, each using only those above it:
//!
//! | file | holds |
//! |---|---|
//! | `section_kind`, `outcome`, `model`, `error` | what everything else speaks of |
//! | `loose_ends` | yarn overs that nothing holds |
//! | `numbers`, `rounds`, `short_rows`, `schedule`, `division` | numbers, and rounds written for given needles |
//! | `motif_and_stripes`, `maker` | steps as they are added, and knitted at once |
//! | `work`, `seating` | rounds one after another; stitches moved between needles |
//! | `sections` | each section's arithmetic and writing |
//! | `parts` | the sections of each part, in their order |
//! | `decide`, `totals` | all numbers before the first stitch; what the finished plan comes to |
//! | `written` | a sock by the knitter's own pattern |
//! | `make`, `replan`, `changes` | a whole sock, the rest of a begun one, and how the two differ |

mod changes;
mod decide;
mod division;
mod error;
mod loose_ends;
mod make;
mod maker;
mod model;
mod motif_and_stripes;
mod numbers;
mod outcome;
mod parts;
mod replan;
mod rounds;
mod schedule;
mod seating;
mod section_kind;
mod sections;
mod short_rows;
mod totals;
mod work;
mod written;

pub use changes::{Change, changes};
pub use error::{PlanBug, PlanError, Unknittable};
pub use make::{make, make_followed};
pub(crate) use model::end_move;
pub use model::{Cue, Move, Plan, Section, Step, StepForm};
pub use numbers::{count_that_fits, is_good_fit};
pub use outcome::{Caution, Outcome, SectionOutcome, YarnOutcome};
pub use replan::{replan, replan_followed, replan_second};
pub use section_kind::SectionKind;
pub(crate) use section_kind::section_key;
pub use sections::heel_turn::turned_count;
pub use written::begun_by_ours;
pub(crate) use written::folded;
