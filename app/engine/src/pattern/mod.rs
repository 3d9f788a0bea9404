//! A written pattern: read in the trade's notation, knitted by the simulator, checked.
//!
//! May use operations, needles and the simulator. Writes no sentence: what is found is a typed message
//! (`finding`) that [`crate::text`] says. Its files, each using only those above it:
//!
//! | file | holds |
//! |---|---|
//! | `piece`, `vocabulary` | what a line says, as data; the words it may be written in |
//! | `wrapped` | lines that go on in the next one |
//! | `page` | lines as they come from a page |
//! | `failure`, `words` | where reading stops; words and numbers |
//! | `counts`, `places`, `repeats` | counts in brackets; how far; how often |
//! | `shaping`, `cables`, `edges`, `single` | things to do, each kind by itself |
//! | `grammar` | one line of instructions |
//! | `work` | pieces on the needles they meet: operations |
//! | `followed`, `finding` | what a pattern comes to; what can be found |
//! | `knitters_own` | the gauge and needles of who knits it |
//! | `measured`, `statement` | lines that give a height; lines as what they are |
//! | `gauge`, `lengths` | the gauge a pattern is written for; its plain rounds, more or fewer |
//! | `check` | the whole pattern knitted through |
//! | `reading` | the same, a little at a time |
//! | `completion` | what may stand next while it is typed |
//! | `kept` | what was found, as a plan keeps it |

mod cables;
mod check;
mod completion;
mod counts;
mod edges;
mod failure;
mod finding;
mod followed;
mod gauge;
mod grammar;
mod kept;
mod knitters_own;
mod lengths;
mod measured;
mod page;
mod piece;
mod places;
mod reading;
mod repeats;
mod shaping;
mod single;
mod statement;
mod vocabulary;
mod words;
mod work;
mod wrapped;

pub use completion::{Completion, CountInBrackets, completions};
pub use finding::{Finding, FindingKind};
pub use followed::{FollowedLine, FollowedPart, Form, Part, RoundBegins};
pub use gauge::{PatternGauge, gauge};
pub use kept::LineFinding;
pub use knitters_own::KnittersOwn;
pub use lengths::with_plain_rounds;
pub use page::{MOST_CHARACTERS, size_names, sizes};
pub use piece::{Spot, Stop};
pub use reading::{ReadBefore, Reading};
pub use vocabulary::Expected;
pub use wrapped::whole_line;

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

/// Reads one line of instructions as it is worked on these needles: the operations it comes to. A pattern is
/// read as a whole ([`follow`]); by this the tests hold that each line we write is read back as it is meant.
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
    follow(text, size, None, &KnittersOwn::default()).1
}

/// The same, and what the pattern comes to, part by part. Where it gives a height instead of rounds,
/// `own` says how many rounds that is, as it says how stitches lie
/// where it names needles but does not divide them. `begun`: so many stitches lie joined on the needles before the
/// pattern begins.
pub fn follow(
    text: &str,
    size: Option<usize>,
    begun: Option<Count>,
    own: &KnittersOwn,
) -> (Vec<FollowedPart>, Vec<Finding>) {
    Reading::begin(text, size, begun, own).end()
}

/// What was found in a text as its plan keeps it: at the line on which the words begin that it was found in, which
/// may be what another line goes on in.
pub fn kept(text: &str, findings: &[Finding]) -> Vec<LineFinding> {
    if findings.is_empty() {
        return Vec::new();
    }
    let lines = page::lines(text, None).into_iter();
    let begins: Vec<u32> = lines.map(|line| line.spot(0).line).collect();
    let keep = |finding: &Finding| {
        let line = finding.spot.line;
        let after = begins.partition_point(|first| *first <= line);
        let first = after.checked_sub(1).and_then(|at| begins.get(at));
        LineFinding::of(first.copied().unwrap_or(line), &finding.what)
    };
    findings.iter().map(keep).collect()
}

/// Whether a pattern is knitted from the toe up: as the names of its parts follow each other.
pub fn begins_at_toe(text: &str) -> bool {
    let lines = page::lines(text, None);
    let from_cuff = |part| match part {
        Part::Cuff => Some(0),
        Part::Leg => Some(1),
        Part::HeelFlap | Part::HeelTurn | Part::ShortRowHeel => Some(2),
        Part::Foot => Some(3),
        Part::Toe => Some(4),
        Part::HeelPlace
        | Part::LateHeel
        | Part::CastOn
        | Part::PickUp
        | Part::Gusset
        | Part::Close
        | Part::BindOff => None,
    };
    let places: Vec<u8> = lines
        .iter()
        .filter_map(|line| from_cuff(statement::heading(&line.text)?))
        .collect();
    places.first() > places.last()
}
