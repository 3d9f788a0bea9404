//! The text of a pattern as it comes from a page: lines made uniform letter by letter, so that a place
//! in them is a place in the text; lines that were wrapped put together; numbers for several sizes
//! reduced to the one that is knitted.
//!
//! Knows letters only; must not know what a line means.

use super::piece::Spot;
pub(super) use super::wrapped::{HALF, QUARTER, THREE_QUARTERS};
use super::wrapped::{continues, goes_on, uniform};

/// Most characters that are looked at: far above any pattern, a bound against a file put in by mistake.
pub const MOST_CHARACTERS: usize = 200_000;

/// A line as it is read: lower case, plain characters only, a wrapped one whole.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Logical {
    /// ASCII, one byte for each character of the text.
    pub text: String,
    /// As it stands in the text, for whoever follows it by hand.
    pub original: String,
    /// From which byte on it stands on which line, in which column.
    starts: Vec<(usize, Spot)>,
}

impl Logical {
    /// Where a byte of it stands in the text.
    pub(super) fn spot(&self, at: usize) -> Spot {
        let mut found = Spot { line: 1, column: 1 };
        for (from, spot) in &self.starts {
            if *from > at {
                break;
            }
            let further = u32::try_from(at - from).unwrap_or(u32::MAX);
            found = Spot {
                line: spot.line,
                column: spot.column.saturating_add(further),
            };
        }
        found
    }

    /// The line of the text on which it begins.
    pub(super) fn line(&self) -> u32 {
        self.spot(0).line
    }

    /// Whether another one says the same, wherever it stands in its text.
    pub(super) fn says_the_same(&self, other: &Self) -> bool {
        let (here, there) = (self.line(), other.line());
        let lines = self.starts.iter().zip(&other.starts);
        self.text == other.text
            && self.original == other.original
            && self.starts.len() == other.starts.len()
            && lines.into_iter().all(|((from, one), (other_from, other))| {
                from == other_from
                    && one.column == other.column
                    && i64::from(one.line) - i64::from(here)
                        == i64::from(other.line) - i64::from(there)
            })
    }

    fn add(&mut self, line: u32, text: &str, original: &str) {
        let indent = text.len() - text.trim_start().len();
        if !self.text.is_empty() {
            self.text.push(' ');
            self.original.push(' ');
        }
        let column = u32::try_from(indent + 1).unwrap_or(u32::MAX);
        self.starts.push((self.text.len(), Spot { line, column }));
        self.text.push_str(text.trim());
        self.original.push_str(original.trim());
    }
}

/// All lines of a text that say something, wrapped ones put together. `size` is which of several sizes
/// is knitted, from 0; `None` where the pattern has one.
pub(super) fn lines(text: &str, size: Option<usize>) -> Vec<Logical> {
    let mut out: Vec<Logical> = Vec::new();
    let mut open = false;
    let mut read = 0;
    for (nth, original) in text.lines().enumerate() {
        read += original.len() + 1;
        if read > MOST_CHARACTERS {
            break;
        }
        let line = u32::try_from(nth + 1).unwrap_or(u32::MAX);
        let uniform: String = original.chars().map(uniform).collect();
        if uniform.trim().is_empty() {
            open = false;
            continue;
        }
        match out.last_mut() {
            Some(last) if open && (goes_on(&last.text) || continues(&uniform, original)) => {
                last.add(line, &uniform, original);
            }
            _ => {
                let mut fresh = Logical::default();
                fresh.add(line, &uniform, original);
                out.push(fresh);
            }
        }
        open = true;
    }
    if let Some(size) = size {
        for line in &mut out {
            line.text = one_size(&line.text, size);
        }
    }
    out
}

/// Whether a line is a note: never an instruction, whatever it speaks of.
pub(super) fn is_note(uniform: &str) -> bool {
    let rest = uniform.trim_start().strip_prefix("note");
    rest.map(|rest| rest.strip_prefix('s').unwrap_or(rest))
        .is_some_and(|rest| {
            !rest.starts_with(|c: char| c.is_ascii_alphanumeric()) && rest.contains(':')
        })
}

/// How many sizes the text gives numbers for; 1 where it gives none.
pub fn sizes(text: &str) -> usize {
    size_names(text).len().max(1)
}

/// By what a knitter tells the sizes apart: the numbers of the first place that gives one for each. None
/// where the text has one size.
pub fn size_names(text: &str) -> Vec<String> {
    let mut most: Vec<String> = Vec::new();
    for line in text.lines().take(MOST_CHARACTERS / 8) {
        let uniform: String = line.chars().map(uniform).collect();
        if is_note(&uniform) {
            continue;
        }
        each_group(&uniform, &mut |group| {
            if group.numbers.len() > most.len() {
                most = group.numbers.iter().map(|n| (*n).to_owned()).collect();
            }
        });
    }
    most
}

struct Group<'a> {
    start: usize,
    end: usize,
    numbers: Vec<&'a str>,
}

/// Finds "56 (64, 72)" and "56 [64: 72]": a number and in brackets the numbers of the other sizes.
fn each_group<'a>(text: &'a str, tell: &mut dyn FnMut(Group<'a>)) {
    let bytes = text.as_bytes();
    let number_end = |mut at: usize| {
        while at < bytes.len()
            && (bytes[at].is_ascii_digit()
                || bytes[at] == b'.' && bytes.get(at + 1).is_some_and(u8::is_ascii_digit)
                || (1..=3).contains(&bytes[at]))
        {
            at += 1;
        }
        at
    };
    let mut at = 0;
    while at < bytes.len() {
        if !bytes[at].is_ascii_digit() {
            at += 1;
            continue;
        }
        let start = at;
        at = number_end(at);
        let first = &text[start..at];
        let mut next = at;
        while bytes.get(next) == Some(&b' ') {
            next += 1;
        }
        let close = match bytes.get(next) {
            Some(b'(') => b')',
            Some(b'[') => b']',
            _ => continue,
        };
        let Some(length) = text[next..].find(char::from(close)) else {
            continue;
        };
        let inside = &text[next + 1..next + length];
        let parts: Vec<&str> = inside.split([',', ':', ';', '/']).map(str::trim).collect();
        let numbers = parts.iter().all(|p| {
            let end = p.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.' || c < ' ');
            !p.is_empty() && end.is_empty()
        });
        if numbers {
            let all = std::iter::once(first).chain(parts).collect();
            at = next + length + 1;
            tell(Group {
                start,
                end: at,
                numbers: all,
            });
        }
    }
}

/// The numbers of one size in the place of those of all, as long as before.
fn one_size(text: &str, size: usize) -> String {
    let mut out = String::with_capacity(text.len());
    let mut done = 0;
    each_group(text, &mut |group| {
        // a size that this number is not given for keeps the first
        let number = group.numbers.get(size).or(group.numbers.first());
        let number = number.copied().unwrap_or_default();
        out.push_str(&text[done..group.start]);
        out.push_str(number);
        let width = group.end - group.start;
        out.extend(std::iter::repeat_n(' ', width.saturating_sub(number.len())));
        done = group.end;
    });
    out.push_str(&text[done..]);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_in_a_line_is_a_place_in_the_text() {
        let text = "Cuff\n\n  Rnd 1: K2, p2,\n    k4, p4\nRnd 2: Knit";
        let read = lines(text, None);
        assert_eq!(read.len(), 3);
        assert_eq!(read[1].text, "rnd 1: k2, p2, k4, p4");
        let at = |needle: &str| read[1].spot(read[1].text.find(needle).expect("it is there"));
        assert_eq!(at("rnd"), Spot { line: 3, column: 3 });
        assert_eq!(
            at("p2"),
            Spot {
                line: 3,
                column: 14
            }
        );
        assert_eq!(at("p4"), Spot { line: 4, column: 9 });
    }

    #[test]
    fn one_of_several_sizes_is_taken() {
        let text = "CO 56 (64, 72) sts. Work 5½ [6: 6¾] in. (k2, p2) 4 times";
        assert_eq!(sizes(text), 3);
        assert_eq!(size_names(text), ["56", "64", "72"]);
        let told = |size| {
            lines(text, Some(size))[0]
                .text
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        };
        assert_eq!(told(1), "co 64 sts. work 6 in. (k2, p2) 4 times");
        assert_eq!(told(2), "co 72 sts. work 6\u{3} in. (k2, p2) 4 times");
        assert_eq!(lines(text, Some(2))[0].text.len(), text.chars().count());
        assert_eq!(sizes("Rnd 1: k2 (k2tog, yo) twice (64 sts)"), 1);
        assert_eq!(sizes("Note: knitted for shoes 38 (39, 40)\nCO 64 sts"), 1);
    }

    #[test]
    fn wrapped_lines_are_one_and_others_are_not() {
        let text = "Rnd 1: *K2, p2; rep from\n* to end.\nRnd 2: [k1,\np1] 4 times\nRnd 3:\nN1: Knit\nN2: Purl\nWork even\nuntil it is long enough.\nLEG\nKnit 4 rnds.";
        let squeezed = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        for line in lines(text, None) {
            let number = usize::try_from(line.spot(0).line).expect("a small number");
            let shown = super::super::wrapped::whole_line(text, number);
            assert_eq!(shown.map(squeezed), Some(squeezed(&line.original)));
        }
        let texts: Vec<String> = lines(text, None).into_iter().map(|l| l.text).collect();
        assert_eq!(
            texts,
            [
                "rnd 1: *k2, p2; rep from * to end.",
                "rnd 2: [k1, p1] 4 times",
                "rnd 3: n1: knit n2: purl",
                "work even until it is long enough.",
                "leg",
                "knit 4 rnds."
            ]
        );
    }
}
