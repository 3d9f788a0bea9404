//! A part of the pattern made longer or shorter in its text: the number in the last line that asks for so many
//! plain rounds.
//!
//! Knows lines; must not know a gauge.

use super::followed::Part;
use super::page;
use super::piece::Spot;
use super::statement::{Says, heading, statements};

/// The text with another number of plain rounds in a part, and what that number was and is. Nothing where the
/// part has no such line, or the number stays.
pub fn with_plain_rounds(
    text: &str,
    part: Part,
    other: impl Fn(u16) -> u16,
) -> Option<(u16, u16, String)> {
    let mut within = None;
    let mut last = None;
    for line in page::lines(text, None) {
        if let Some(named) = heading(&line.text) {
            within = Some(named);
            continue;
        }
        let said = statements(&line);
        let [statement] = said.as_slice() else {
            continue;
        };
        // only so many rounds of one stitch have pieces that stand nowhere
        if let Says::Work {
            label: Some(label),
            pieces,
        } = &statement.says
            && within == Some(part)
            && pieces.iter().all(|piece| piece.spot == Spot::default())
            && let Some(n) = label.numbers.last()
        {
            last = Some((statement.spot.line, *n));
        }
    }
    let (number, was) = last?;
    let is = other(was).max(1);
    let nth = usize::try_from(number).ok()?.checked_sub(1)?;
    let line = text.lines().nth(nth)?;
    let changed = line.replacen(&was.to_string(), &is.to_string(), 1);
    if is == was || changed == line {
        return None;
    }
    let begin = line.as_ptr() as usize - text.as_ptr() as usize;
    let (before, after) = (&text[..begin], &text[begin + line.len()..]);
    Some((was, is, format!("{before}{changed}{after}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_plain_rounds_of_a_part_are_changed_and_nothing_else() {
        let text = "LEG\r\nRnd 1: Knit.\r\nKnit 50 rnds.\r\nFOOT\r\nKnit 40 rnds.\r\nTOE\r\n";
        let (was, is, new) = with_plain_rounds(text, Part::Foot, |n| n + 4).expect("rounds");
        assert_eq!((was, is), (40, 44));
        assert_eq!(new, text.replace("Knit 40", "Knit 44"));
        let (_, _, leg) = with_plain_rounds(text, Part::Leg, |n| n / 2).expect("rounds");
        assert_eq!(leg, text.replace("Knit 50", "Knit 25"));
        assert_eq!(with_plain_rounds(text, Part::Toe, |n| n + 1), None);
        assert_eq!(with_plain_rounds(text, Part::Foot, |n| n), None);
    }
}
