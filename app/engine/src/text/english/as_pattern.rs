//! A plan as a written pattern, in the trade's abbreviations. The reader of patterns reads these lines back.

use super::line::part_of_line;
use crate::needles::Facing;
use crate::text::messages::PatternLine;
use crate::text::wording::Wording;

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
        PatternLine::Note(words) => format!("Note: {words}"),
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
