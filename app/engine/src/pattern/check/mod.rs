//! A pattern knitted by the simulator, line by line: what does not come out is found at its line.
//!
//! Knows statements, pieces on needles and findings; must not know how a line is written. Its files, each importing
//! only from those above it:
//!
//! | file | holds |
//! |---|---|
//! | `pieces` | what pieces ask for, whatever lies on the needles |
//! | `numbers` | numbers that do not come next |
//! | `body` | a round or row, wherever it is worked |
//! | `runs` | what lies on the needles, and more or fewer of it |
//! | `knitter` | what is on the needles, worked and found so far |
//! | `goes_on` | how the pattern goes on after what does not come out |
//! | `causes` | where the cause lies of what does not come out |
//! | `division` | stitches divided over needles that the pattern only names |
//! | `lines` | one line on the needles |
//! | `rounds` | rounds by their numbers, again, and up to a height |
//! | `statements` | the whole pattern |

mod body;
mod causes;
mod division;
mod goes_on;
mod knitter;
mod lines;
mod numbers;
mod pieces;
mod rounds;
mod runs;
mod statements;

pub(super) use statements::{KnittedBefore, Knitting};
