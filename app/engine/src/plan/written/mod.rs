//! A sock by the knitter's own pattern: what its lines come to, seated on her needles. Parts of ours are
//! knitted between its own, for the same stitches.
//!
//! May use what [`crate::pattern`] has read, and sections of ours. Must not read a pattern's text, nor say a sentence.
//!
//! | file | holds |
//! |---|---|
//! | `fold` | the same operations again and again, written once |
//! | `named` | what the names of a pattern's parts stand for |
//! | `reseat` | a line's operations on other needles |
//! | `crossing` | the pattern's pick-up as our own |
//! | `lines` | lines as steps |
//! | `recut` | rounds that begin where the knitter's needles have the beginning |
//! | `back_over` | short rows that go back over the beginning of the round |
//! | `outcome` | what the finished sock comes to |
//! | `takeover` | from a part of the pattern to one of ours, and back |
//! | `sock` | parts in their order |

mod back_over;
mod crossing;
mod fold;
mod lines;
mod named;
mod outcome;
mod recut;
mod reseat;
mod sock;
mod takeover;

pub(crate) use fold::folded;
pub use sock::begun_by_ours;
pub(super) use sock::write;
