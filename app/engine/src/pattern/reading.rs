//! A pattern read and knitted through a little at a time, for who must not be kept waiting; and again where it became
//! another one, from where that begins.
//!
//! Knows lines, statements and the check; must not know for whom a pattern is read.

use super::check::{KnittedBefore, Knitting};
use super::finding::{Finding, FindingKind};
use super::followed::FollowedPart;
use super::knitters_own::KnittersOwn;
use super::page::{Logical, MOST_CHARACTERS, lines};
use super::piece::Spot;
use super::statement::{Statement, statements};
use crate::stitch::Count;

/// A pattern of which a part is read, or all is read and a part of it knitted.
#[derive(Debug, Clone)]
pub struct Reading {
    lines: Vec<Logical>,
    /// What each line says that is read; lines are read in their order.
    read: Vec<Vec<Statement>>,
    /// What the last lines say, which are those of the text before.
    last: Vec<Vec<Statement>>,
    knitting: Option<Knitting>,
    begun: Option<Count>,
    own: KnittersOwn,
    too_long: bool,
    /// Whether what is read is kept for the next text, and what was knitted of the one before.
    keeps: bool,
    before: Option<KnittedBefore>,
}

/// What was read and knitted of a text, for the next one that is much like it.
#[derive(Debug, Clone, Default)]
pub struct ReadBefore {
    lines: Vec<Logical>,
    /// What each line says, as far as they were read.
    read: Vec<Vec<Statement>>,
    knitted: Option<KnittedBefore>,
}

impl Reading {
    /// Puts the lines of a text together, and reads none of them yet. For the arguments see [`super::follow`].
    pub fn begin(text: &str, size: Option<usize>, begun: Option<Count>, own: &KnittersOwn) -> Self {
        Self {
            lines: lines(text, size),
            read: Vec::new(),
            last: Vec::new(),
            knitting: None,
            begun,
            own: *own,
            too_long: text.len() > MOST_CHARACTERS,
            keeps: false,
            before: None,
        }
    }

    /// The same for a text that was another one before: lines that stand in both, before and after what was changed,
    /// are not read again, and what comes before the change is not knitted again. It comes to the same.
    pub fn begin_after(
        before: ReadBefore,
        text: &str,
        size: Option<usize>,
        begun: Option<Count>,
        own: &KnittersOwn,
    ) -> Self {
        let mut reading = Self::begin(text, size, begun, own);
        reading.keeps = true;
        let ReadBefore {
            lines: old,
            read: mut said,
            knitted,
        } = before;
        reading.before = knitted;
        let new = &reading.lines;
        let first = old.iter().zip(new).take(said.len());
        let first = first.take_while(|(old, new)| old == new).count();
        if said.len() == old.len() {
            let most = old.len().min(new.len()) - first;
            let last = old.iter().rev().zip(new.iter().rev()).take(most);
            let last = last.take_while(|(old, new)| old.says_the_same(new)).count();
            let moved = said.split_off(old.len() - last);
            let at = |lines: &[Logical]| {
                lines
                    .iter()
                    .rev()
                    .nth(last.saturating_sub(1))
                    .map(Logical::line)
            };
            let by = match (at(new), at(&old)) {
                (Some(new), Some(old)) => i64::from(new) - i64::from(old),
                _ => 0,
            };
            let moved = moved.into_iter().map(|line| {
                let all = line.into_iter().map(|statement| statement.moved(by));
                all.collect()
            });
            reading.last = moved.collect();
        }
        said.truncate(first);
        reading.read = said;
        reading
    }

    /// The last line that says something.
    pub(super) fn last_line(&self) -> Option<&Logical> {
        self.lines.last()
    }

    /// Reads so many lines more or, once all are read, knits about so many statements. Says whether anything is left.
    pub fn go_on(&mut self, most: usize) -> bool {
        let fresh = self.lines.len() - self.last.len();
        if let Some(rest) = self.lines.get(self.read.len()..fresh)
            && !rest.is_empty()
        {
            let some = rest.iter().take(most.max(1));
            self.read.extend(some.map(statements));
            return true;
        }
        self.read.append(&mut self.last);
        let Self {
            knitting,
            read,
            begun,
            own,
            keeps,
            before,
            ..
        } = self;
        knitting
            .get_or_insert_with(|| {
                if *keeps {
                    let all = read.iter().flatten().cloned().collect();
                    Knitting::begin(all, *begun, own).after(before.take())
                } else {
                    let all = std::mem::take(read).into_iter().flatten().collect();
                    Knitting::begin(all, *begun, own)
                }
            })
            .go_on(most.max(1))
    }

    /// What is kept for the next text, whether all of this one was read or not.
    pub fn kept(&mut self) -> ReadBefore {
        let fresh = self.knitting.as_mut().and_then(Knitting::kept);
        ReadBefore {
            lines: self.lines.clone(),
            read: self.read.clone(),
            // of a text that was not knitted at all the one before it is kept
            knitted: fresh.or_else(|| self.before.take()),
        }
    }

    /// What the pattern comes to, and what was found in the order of its lines. What is left is read and knitted now.
    pub fn end(mut self) -> (Vec<FollowedPart>, Vec<Finding>) {
        while self.go_on(usize::MAX) {}
        let (parts, mut findings) = self.knitting.map(Knitting::end).unwrap_or_default();
        if self.too_long {
            findings.push(Finding {
                spot: Spot { line: 1, column: 1 },
                what: FindingKind::TooLong(MOST_CHARACTERS),
            });
        }
        (parts, findings)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SOCK: &str = include_str!("../../tests/pattern/small_sock.txt");

    fn own() -> KnittersOwn {
        KnittersOwn::default()
    }

    #[test]
    fn however_little_is_read_at_a_time_it_comes_to_the_same() {
        let wrong = SOCK.replace("k2tog", "k3tog");
        let unread = format!("{SOCK}\nRnd 1: knot one round\n\nRep rnds 7 and 9.");
        for text in ["", SOCK, &wrong, &unread] {
            let all = Reading::begin(text, None, None, &own()).end();
            for most in [0, 1, 2, 7] {
                let mut reading = Reading::begin(text, None, None, &own());
                let mut slices = 0;
                while reading.go_on(most) {
                    slices += 1;
                    assert!(slices < 10_000, "it comes to an end");
                }
                assert!(!reading.go_on(most));
                assert_eq!(reading.end(), all, "{most} of {text}");
            }
            // left in the middle
            let mut begun = Reading::begin(text, None, None, &own());
            begun.go_on(3);
            assert_eq!(begun.end(), all);
        }
    }

    #[test]
    fn a_slice_reads_no_more_than_was_asked_for() {
        let mut reading = Reading::begin(SOCK, None, None, &own());
        let lines = reading.lines.len();
        for read in 1..=lines {
            assert!(reading.go_on(1));
            assert_eq!(reading.read.len(), read);
            assert!(reading.knitting.is_none());
        }
    }

    /// Letter by letter, also where the one before was not read to its end: it comes to what the text comes to by itself.
    #[test]
    fn what_is_read_after_another_text_comes_to_the_same() {
        let mut kept = ReadBefore::default();
        let mut seed = 7_u32;
        let mut dice = |below: usize| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (seed >> 8) as usize % below.max(1)
        };
        let mut text: Vec<char> = SOCK.chars().collect();
        for nth in 0..400 {
            if nth % 50 == 49 {
                text = SOCK.chars().collect();
            }
            let at = dice(text.len());
            match dice(6) {
                0 => text.insert(at, '\n'),
                1 => {
                    text.remove(at);
                }
                2 => text[at] = char::from(b'0' + u8::try_from(dice(10)).unwrap_or(0)),
                3 => text.extend("\nRnd 1: K".chars()),
                4 => {
                    let part: Vec<char> = text[at..].iter().take(60).copied().collect();
                    text.splice(at..at, part);
                }
                _ => text.insert(at, 'k'),
            }
            let new: String = text.iter().collect();
            let begun = Count::new([0, 8][dice(8) / 7]);
            let mut reading = Reading::begin_after(kept, &new, None, begun, &own());
            if dice(3) == 0 {
                for _ in 0..dice(40) {
                    reading.go_on(2);
                }
                kept = reading.kept();
                continue;
            }
            while reading.go_on(4) {}
            kept = reading.kept();
            let fresh = Reading::begin(&new, None, begun, &own()).end();
            assert_eq!(reading.end(), fresh, "{new}");
        }
    }

    /// A letter at the end of a long text has only the last lines read and knitted again.
    #[test]
    fn only_what_changed_and_what_follows_is_read_and_knitted_again() {
        let remark = "This sentence says nothing that is knitted.\n";
        let text = format!("{SOCK}\n{}", remark.repeat(200));
        let mut first = Reading::begin_after(ReadBefore::default(), &text, None, None, &own());
        let mut slices = 0;
        while first.go_on(1) {
            slices += 1;
        }
        let longer = format!("{text}Rnd 1: K");
        let mut next = Reading::begin_after(first.kept(), &longer, None, None, &own());
        let mut again = 0;
        while next.go_on(1) {
            again += 1;
        }
        assert!(slices > 400 && again < 40, "{slices}, {again}");
        // in the middle, lines after it are not read again
        let middle = longer.replacen("This sentence", "That sentence", 1);
        let next = Reading::begin_after(next.kept(), &middle, None, None, &own());
        assert_eq!(next.read.len() + 1 + next.last.len(), next.lines.len());
    }
}
