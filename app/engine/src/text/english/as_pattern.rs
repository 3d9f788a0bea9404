//! A plan as a written pattern, in the trade's abbreviations. The reader of patterns reads these lines back.

use super::line::part_of_line;
use crate::needles::Facing;
use crate::text::messages::{NotWritten, PatternLine};
use crate::text::typed::Typed;
use crate::text::wording::Wording;

/// Above all else: which pair's it is. A note is never read as something to do.
pub(crate) fn pattern_title(name: &Typed) -> String {
    format!("Note: the plan of “{name}”, written down stitch by stitch.")
}

/// Why a plan is not written down.
pub fn not_written(why: NotWritten) -> String {
    match why {
        NotWritten::TooLong { characters, most } => format!(
            "It would come to {characters} characters, and a pattern may have {most}: its stitch pattern has too many rounds that differ. Save it as plain text, which has every round and is not read again."
        ),
        NotWritten::ReadOtherwise => "Written down as a pattern, some of its stitches would be read back otherwise on these needles. Save it as plain text, which has every round and is not read again.".into(),
        NotWritten::OwnWords => "Some of its lines are worked by your pattern’s own words, and by no stitches that could be written down. Save the text of your pattern instead.".into(),
    }
}

/// One line of it.
pub(crate) fn pattern_line(line: &PatternLine, wording: Wording) -> String {
    let words = |pieces| part_of_line(pieces, wording);
    match line {
        PatternLine::Rounds {
            from,
            times: 1,
            pieces,
            after,
        } => format!("Rnd {from}: {}. ({after} sts)", words(pieces)),
        PatternLine::Rounds {
            from,
            times,
            pieces,
            after,
        } => format!(
            "Rnds {from}-{}: {}. ({after} sts)",
            from + times - 1,
            words(pieces)
        ),
        PatternLine::Again {
            from,
            to,
            as_from,
            after,
        } if from == to => format!("Rnd {from}: as rnd {as_from}. ({after} sts)"),
        PatternLine::Again {
            from,
            to,
            as_from,
            after,
        } => {
            let as_to = as_from + (to - from);
            format!("Rnds {from}-{to}: as rnds {as_from}-{as_to}. ({after} sts)")
        }
        PatternLine::Row {
            number,
            facing,
            pieces,
        } => {
            let side = match facing {
                Facing::RightSide => "RS",
                Facing::WrongSide => "WS",
            };
            format!("Row {number} ({side}): {}.", words(pieces))
        }
        PatternLine::Flat(n) => format!("Work back and forth on the next {n} sts."),
        PatternLine::Walk(pieces) | PatternLine::CastOn(pieces, false) => {
            format!("{}.", begun(&words(pieces)))
        }
        PatternLine::CastOn(pieces, true) => {
            format!("{}. Join in the round.", begun(&words(pieces)))
        }
        PatternLine::UndoChain(n) => format!("Undo the chain: {n} sts."),
        PatternLine::OpenWaste(n) => format!("Take out the waste yarn: {n} sts."),
        PatternLine::SnipRow(n) => format!("Snip the row: {n} sts."),
        PatternLine::Graft => "Graft the last stitches.".to_owned(),
        PatternLine::Draw => "Cut the yarn and draw it through the last stitches.".to_owned(),
    }
}

/// With a capital letter: a line without one is what the line above goes on in.
fn begun(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|c| c.to_ascii_uppercase());
    first.into_iter().chain(letters).collect()
}
