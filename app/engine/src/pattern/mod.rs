//! A written pattern: read in the trade's notation, knitted by the simulator, checked.
//!
//! May use operations, needles and the simulator. Writes no sentence: what is found is a typed message
//! (`finding`) that [`crate::text`] says. Its files, each using only those above it:
//!
//! | file | holds |
//! |---|---|
//! | `piece`, `vocabulary` | what a line says, as data; the words it may be written in |
//! | `page` | lines as they come from a page |
//! | `grammar` | one line of instructions |
//! | `work` | pieces on the needles they meet: operations |
//! | `followed`, `finding` | what a pattern comes to; what can be found |
//! | `heights` | rounds that a height takes |
//! | `measured`, `statement` | lines that give a height; lines as what they are |
//! | `check` | the whole pattern knitted through |

mod check;
mod finding;
mod followed;
mod grammar;
mod heights;
mod measured;
mod page;
mod piece;
mod statement;
mod vocabulary;
mod work;

pub use finding::{Finding, Found};
pub use followed::{FollowedLine, FollowedPart, Form, Part};
pub use heights::Heights;
pub use page::{MOST_CHARACTERS, sizes};
pub use piece::{Spot, Stop};
pub use vocabulary::Expected;

use crate::needles::Needles;
use crate::stitch::{Count, Op};

pub use work::Trouble;

/// Why one line of instructions cannot be worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineError {
    /// It could not be read.
    Unread {
        /// Where reading stopped.
        spot: Spot,
        /// What would have been readable there.
        expected: Expected,
        /// The word that was probably meant.
        nearest: Option<&'static str>,
    },
    /// It was read, but the needles do not allow it.
    Unworkable {
        /// The piece that cannot be worked.
        spot: Spot,
        /// Why.
        trouble: Trouble,
    },
}

/// Reads one line of instructions as it is worked on these needles: the operations it comes to.
///
/// # Errors
/// See [`LineError`].
pub fn read_line(text: &str, needles: &Needles) -> Result<Vec<Op>, LineError> {
    let mut ops = Vec::new();
    let mut worker = work::Worker::new(needles.clone(), false);
    for line in page::lines(text, None) {
        let pieces = grammar::instructions(&line.text, &|at| line.spot(at)).map_err(|failure| {
            let at = failure.at(&line.text);
            LineError::Unread {
                spot: line.spot(at),
                expected: failure.expected,
                nearest: vocabulary::nearest(line.text.get(at..).unwrap_or_default()),
            }
        })?;
        worker
            .work(&pieces)
            .map_err(|stopped| LineError::Unworkable {
                spot: stopped.spot,
                trouble: stopped.trouble,
            })?;
    }
    ops.append(&mut worker.ops);
    Ok(ops)
}

/// Reads a pattern, knits it through on the simulator's needles and tells what does not come out, in
/// the order of its lines. `size` is which of several sizes is knitted, from 0; `None` where the pattern
/// has one.
pub fn check(text: &str, size: Option<usize>) -> Vec<Finding> {
    follow(text, size, None, &Heights::default()).1
}

/// The same, and what the pattern comes to, part by part. Where it gives a height instead of rounds,
/// `heights` says how many rounds that is. `begun`: so many stitches lie joined on the needles before the
/// pattern begins.
pub fn follow(
    text: &str,
    size: Option<usize>,
    begun: Option<Count>,
    heights: &Heights,
) -> (Vec<FollowedPart>, Vec<Finding>) {
    let lines = page::lines(text, size);
    let statements: Vec<statement::Statement> =
        lines.iter().flat_map(statement::statements).collect();
    let (parts, mut findings) = check::knit(&statements, begun, heights);
    if text.len() > MOST_CHARACTERS {
        findings.push(Finding {
            spot: Spot { line: 1, column: 1 },
            what: Found::TooLong(MOST_CHARACTERS),
        });
    }
    (parts, findings)
}
