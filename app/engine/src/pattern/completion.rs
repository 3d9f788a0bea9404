//! What may stand next while a pattern is typed: the reader's own words, names of parts, the number of the next round,
//! and the count that the simulator gets.
//!
//! Knows lines, words and what reads them, and asks them what goes where: there is no second list of that. Must not
//! know a screen.

use super::followed::Part;
use super::knitters_own::KnittersOwn;
use super::page::{Logical, lines};
use super::reading::Reading;
use super::statement::{PART_NAMES, Says, heading, label_of, statements};
use super::vocabulary::{Joins, WORDS};
use super::wrapped::{goes_on, uniform};
use crate::needles::Facing;
use crate::stitch::Count;

/// Most that is proposed at once: a few large buttons.
const MOST: usize = 6;

/// Most of them that end what is said, where there are other things to do.
const MOST_ENDS: usize = 3;

/// So many lines before the one that is typed are looked at: it may be what they go on in.
const WRAPPED: usize = 3;

/// So many lines before it tell how rounds are numbered, and which words the pattern uses.
const NUMBERED: usize = 40;

/// Something that may stand next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Completion {
    /// So many bytes before the cursor are what it is begun with: it takes their place.
    pub begun: usize,
    /// What stands there then.
    pub text: String,
}

impl Completion {
    /// Its words, without what joins them to those before.
    pub fn words(&self) -> &str {
        self.text.trim_start_matches([' ', ',', ';']).trim_end()
    }
}

/// What may stand next at a place of the text, in bytes: few, the likelier ones first. Each of them is read, or is the
/// beginning of something that is.
pub fn completions(text: &str, cursor: usize) -> Vec<Completion> {
    let (Some(before), Some(after)) = (text.get(..cursor), text.get(cursor..)) else {
        return Vec::new();
    };
    if after.starts_with(char::is_alphanumeric) {
        return Vec::new();
    }
    let mut proposals = Proposals {
        near: last_lines(before, WRAPPED),
        all: Vec::new(),
    };
    let line = before.rsplit('\n').next().unwrap_or_default();
    let waits = last_lines(before, 1)
        .strip_suffix(line)
        .is_some_and(|above| !above.trim().is_empty() && goes_on(&uniform_of(above)));
    if !waits {
        for beginning in beginnings(before, line) {
            let typed = line.trim_start();
            let is_begun = beginning
                .get(..typed.len())
                .is_some_and(|begin| begin.eq_ignore_ascii_case(typed));
            if is_begun && beginning.len() > typed.len() {
                proposals.propose(typed.len(), beginning);
            }
        }
    }
    if waits || !line.trim().is_empty() {
        proposals.words(before, line);
    }
    proposals.all
}

/// The count in brackets after the round that ends at a place of the text, as the simulator gets it: the text before is
/// read and knitted through a little at a time.
#[derive(Debug, Clone)]
pub struct CountInBrackets {
    before: String,
    /// The line on which the round begins, from 1.
    number: u32,
    reading: Reading,
}

impl CountInBrackets {
    /// Begins at a place of the text, in bytes; nothing where there is a count already, or no round. What is knitted is
    /// said as to [`super::follow`].
    pub fn begin(
        text: &str,
        cursor: usize,
        size: Option<usize>,
        begun: Option<Count>,
        own: &KnittersOwn,
    ) -> Option<Self> {
        let (before, after) = (text.get(..cursor)?, text.get(cursor..)?);
        let rest = after.lines().next().unwrap_or_default();
        let line = before.rsplit('\n').next()?.trim_end();
        if !rest.trim().is_empty() || line.is_empty() || line.ends_with([')', ']', ',', ';']) {
            return None;
        }
        let reading = Reading::begin(before, size, begun, own);
        let last = reading.last_line()?;
        let rounds = match &statements(last).last()?.says {
            Says::Work { label, .. } => label.is_some(),
            Says::As { .. } | Says::Again { .. } => true,
            _ => false,
        };
        let number = last.spot(0).line;
        rounds.then(|| Self {
            before: before.to_owned(),
            number,
            reading,
        })
    }

    /// Reads so many lines more or, once all are read, knits about so many statements. Says whether anything is left.
    pub fn go_on(&mut self, most: usize) -> bool {
        self.reading.go_on(most)
    }

    /// The count; nothing where the round does not come out. What is left is knitted now.
    pub fn end(self) -> Option<Completion> {
        let (parts, findings) = self.reading.end();
        let worked = parts.last()?.lines.last()?;
        let sound = worked.line == self.number && !worked.unread && worked.after > 0;
        if !sound || findings.iter().any(|found| found.spot.line >= self.number) {
            return None;
        }
        let before = &self.before;
        let blanks = before.len() - before.trim_end_matches(' ').len();
        let counted = Completion {
            begun: blanks,
            text: format!(" ({} sts)", worked.after),
        };
        let near = last_lines(before, WRAPPED);
        reads(near, &counted).then_some(counted)
    }
}

/// What is proposed so far.
struct Proposals<'a> {
    /// The line that is typed, with those that it may go on from.
    near: &'a str,
    all: Vec<Completion>,
}

impl Proposals<'_> {
    /// Takes something that the reader accepts there, where there is room for it and it is not there yet.
    fn propose(&mut self, begun: usize, text: String) {
        let new = Completion { begun, text };
        let is_there = self.all.iter().any(|one| one.words() == new.words());
        if self.all.len() < MOST && !is_there && reads(self.near, &new) {
            self.all.push(new);
        }
    }

    /// Words of the vocabulary: those that end what is said, those that are begun, and then what else can be done.
    fn words(&mut self, before: &str, line: &str) {
        let typed = line.trim_end();
        if typed.ends_with("sts)") || typed.ends_with("stitches)") || line.ends_with('.') {
            return;
        }
        let said = lines(self.near, None).pop();
        if said.as_ref().is_some_and(says_all) {
            return;
        }
        let ends = |joins| !matches!(joins, Joins::AfterComma | Joins::OnceBegun);
        for (word, joins) in WORDS.into_iter().filter(|(_, joins)| ends(*joins)) {
            if self.all.len() >= MOST_ENDS {
                break;
            }
            if let Some((begun, text)) = begun_word(line, word).or_else(|| next(line, word, joins))
            {
                self.propose(begun, text);
            }
        }
        for (word, _) in WORDS {
            if let Some((begun, text)) = begun_word(line, word) {
                self.propose(begun, text);
            }
        }
        if !is_accepted(said.as_ref()) && !typed.is_empty() {
            return;
        }
        let used = last_lines(before, NUMBERED).to_ascii_lowercase();
        let things = || {
            WORDS
                .into_iter()
                .filter(|(_, joins)| *joins == Joins::AfterComma)
        };
        let (known, others): (Vec<_>, Vec<_>) = things().partition(|(word, _)| used.contains(word));
        for (word, joins) in known.into_iter().chain(others) {
            // a group within a group is rare
            let nested = matches!(word, "*" | "[") && typed.contains(['*', '[', '(']);
            // twice the same would be one
            let same = ends_with_word(typed, word);
            if nested || same {
                continue;
            }
            if let Some((begun, text)) = next(line, word, joins) {
                self.propose(begun, text);
            }
        }
    }
}

/// Whether the line is read with something at its end, or only ends before it says all.
fn reads(near: &str, next: &Completion) -> bool {
    let Some(before) = near.len().checked_sub(next.begun) else {
        return false;
    };
    let typed = format!("{}{}", near.get(..before).unwrap_or_default(), next.text);
    is_accepted(lines(&typed, None).pop().as_ref())
}

/// Whether a line tells how the work is joined or closed: whatever follows is a remark.
fn says_all(line: &Logical) -> bool {
    let said = statements(line);
    let last = said.last().map(|said| &said.says);
    matches!(
        last,
        Some(Says::Join | Says::Graft | Says::Draw | Says::Close)
    )
}

fn is_accepted(line: Option<&Logical>) -> bool {
    line.is_some_and(|line| {
        statements(line).iter().all(|said| match said.says {
            Says::Unread { begun, .. } => begun,
            Says::Remark => false,
            _ => true,
        })
    })
}

/// The word with the letters that are typed of it, where it is begun.
fn begun_word(line: &str, word: &str) -> Option<(usize, String)> {
    let begun = (1..word.len()).rev().find(|begun| {
        let (Some(at), Some(begin)) = (line.len().checked_sub(*begun), word.get(..*begun)) else {
            return false;
        };
        let (Some(before), Some(typed)) = (line.get(..at), line.get(at..)) else {
            return false;
        };
        typed.eq_ignore_ascii_case(begin) && !before.ends_with(char::is_alphanumeric)
    })?;
    let typed = line.get(line.len() - begun..)?;
    let large = typed.starts_with(|c: char| c.is_ascii_uppercase());
    Some((
        begun,
        if large {
            capital(word)
        } else {
            word.to_owned()
        },
    ))
}

fn ends_with_word(typed: &str, word: &str) -> bool {
    let at = typed.len().checked_sub(word.len());
    let end = at.and_then(|at| typed.get(at..));
    end.is_some_and(|end| end.eq_ignore_ascii_case(word))
}

/// The word after what stands before it: so many blanks give way to what joins it.
fn next(line: &str, word: &str, joins: Joins) -> Option<(usize, String)> {
    let typed = line.trim_end_matches(' ');
    let blanks = line.len() - typed.len();
    let last = typed.chars().next_back();
    let opens = last.is_some_and(|last| matches!(last, '[' | '(' | '{' | '*'));
    let joined = opens || last.is_none_or(|last| matches!(last, ',' | ';' | ':' | '.'));
    let between = match joins {
        Joins::OnceBegun => return None,
        Joins::AtOnce => "",
        _ if opens || line.is_empty() => "",
        _ if joined => " ",
        Joins::AfterSpace => " ",
        Joins::AfterComma => ", ",
        Joins::AfterSemicolon => "; ",
    };
    let begins = last.is_some_and(|last| matches!(last, ':' | '.'));
    let word = match joins {
        Joins::AfterComma if begins => capital(word),
        _ => word.to_owned(),
    };
    Some((blanks, format!("{between}{word}")))
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    let first = letters.next().map(|first| first.to_ascii_uppercase());
    first.into_iter().chain(letters).collect()
}

fn uniform_of(text: &str) -> String {
    text.chars().map(uniform).collect()
}

/// The line that is typed, with so many before it.
fn last_lines(before: &str, more: usize) -> &str {
    let begin = before.rmatch_indices('\n').nth(more);
    let begin = begin.map_or(0, |(at, _)| at + 1);
    before.get(begin..).unwrap_or_default()
}

// ------------------------------------------------------------ how a line begins

/// The parts of a sock, in the order in which one is knitted from the cuff.
const PARTS: [Part; 7] = [
    Part::Cuff,
    Part::Leg,
    Part::HeelFlap,
    Part::HeelTurn,
    Part::Gusset,
    Part::Foot,
    Part::Toe,
];

/// How a line may begin: the next round's number, plain rounds, the names of the parts that come next; once it is
/// begun, of any part.
fn beginnings(before: &str, line: &str) -> Vec<String> {
    let above = before.strip_suffix(line).unwrap_or(before);
    let mut out = Vec::new();
    let is_begun = !line.trim().is_empty();
    out.extend(next_label(above).or_else(|| is_begun.then(|| "Rnd 1: ".to_owned())));
    let named = named_parts(above);
    if named.is_empty() && above.trim().is_empty() {
        out.push("Cast on".to_owned());
    } else {
        out.push("Knit".to_owned());
    }
    let large = named.last().is_some_and(|(name, _)| {
        name.chars().any(char::is_alphabetic) && !name.contains(char::is_lowercase)
    });
    let in_style = |name: &str| {
        if large {
            name.to_ascii_uppercase()
        } else {
            capital(name)
        }
    };
    let usual = |part: Part| PART_NAMES.iter().find(|(_, of)| *of == part);
    let coming = parts_to_come(&named).into_iter().filter_map(usual);
    let all = PART_NAMES.iter().filter(|_| is_begun);
    out.extend(coming.chain(all).map(|(name, _)| in_style(name)));
    out
}

/// The parts that are named in a text, in its order, each with its name as it stands there.
fn named_parts(text: &str) -> Vec<(&str, Part)> {
    let longest = PART_NAMES.iter().map(|(name, _)| name.len()).max();
    let short = |line: &&str| line.trim().len() <= longest.unwrap_or(0) + 1;
    let named = |line: &'_ str| heading(uniform_of(line).trim());
    text.lines()
        .filter(short)
        .filter_map(|line| Some((line, named(line)?)))
        .collect()
}

/// The two parts that come next, from whichever end the sock is begun; both ends where none is named.
fn parts_to_come(named: &[(&str, Part)]) -> Vec<Part> {
    let place = |part: Part| PARTS.iter().position(|one| *one == part);
    let known: Vec<usize> = named.iter().filter_map(|(_, part)| place(*part)).collect();
    let (Some(first), Some(last)) = (known.first(), known.last()) else {
        return vec![Part::Cuff, Part::Toe];
    };
    let from_toe = PARTS.get(*first) == Some(&Part::Toe) || last < first;
    if from_toe {
        PARTS.iter().take(*last).rev().take(2).copied().collect()
    } else {
        PARTS.iter().skip(last + 1).take(2).copied().collect()
    }
}

/// "Rnd 5: " after round 4, "Row 2 (WS): " after a row of the right side; "Next rnd: " where no number follows.
fn next_label(above: &str) -> Option<String> {
    let above = last_lines(above, NUMBERED);
    let lines = lines(above, None);
    let last = lines.last()?;
    let word = |rows: bool| {
        let labelled = |line: &Logical| {
            let label = label_of(&line.text)?;
            let word: String = line
                .original
                .chars()
                .take_while(|c| c.is_alphabetic())
                .collect();
            let one = word.strip_suffix(['s', 'S']).unwrap_or(&word).to_owned();
            (label.row == rows && !label.numbers.is_empty()).then_some(one)
        };
        let used = lines.iter().rev().find_map(labelled);
        used.unwrap_or_else(|| if rows { "Row" } else { "Rnd" }.to_owned())
    };
    let side = |facing: Facing| match facing {
        Facing::RightSide => " (RS)",
        Facing::WrongSide => " (WS)",
    };
    if let Some(part) = heading(&last.text) {
        let rows = matches!(part, Part::HeelFlap | Part::HeelTurn | Part::ShortRowHeel);
        let facing = if rows { side(Facing::RightSide) } else { "" };
        return Some(format!("{} 1{facing}: ", word(rows)));
    }
    let part = lines.iter().rev().find_map(|line| heading(&line.text));
    let Some(label) = label_of(&last.text) else {
        let rows = matches!(
            part,
            Some(Part::HeelFlap | Part::HeelTurn | Part::ShortRowHeel)
        );
        let flat = last.text.contains("back and forth");
        let next = |word: String| format!("Next {}: ", word.to_ascii_lowercase());
        return Some(match (flat, rows) {
            (true, _) => format!("{} 1 (RS): ", word(true)),
            (false, true) => next(word(true)),
            (false, false) if last.text.contains("join") => format!("{} 1: ", word(false)),
            (false, false) => next(word(false)),
        });
    };
    let after = label.numbers.iter().max()?.checked_add(1)?;
    let facing = match label.facing {
        Some(Facing::RightSide) => side(Facing::WrongSide),
        Some(Facing::WrongSide) => side(Facing::RightSide),
        None => "",
    };
    Some(format!("{} {after}{facing}: ", word(label.row)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pattern::check;

    fn words(text: &str) -> Vec<String> {
        let all = completions(text, text.len()).into_iter();
        all.map(|one| one.words().to_owned()).collect()
    }

    fn taken(text: &str, wanted: &str) -> String {
        let all = completions(text, text.len());
        let one = all.iter().find(|one| one.words() == wanted);
        let one = one.unwrap_or_else(|| panic!("{text:?}: {wanted:?} is not among {all:?}"));
        with(text, one)
    }

    /// The text with what is taken at its end.
    fn with(text: &str, one: &Completion) -> String {
        format!("{}{}", &text[..text.len() - one.begun], one.text)
    }

    #[test]
    fn what_is_begun_is_completed() {
        assert_eq!(words("Rnd 1: K2, k2t"), ["k2tog"]);
        assert_eq!(words("Rnd 1: K2, ss"), ["ssk", "ssp", "sssk"]);
        assert_eq!(taken("Rnd 1: K2, k2t", "k2tog"), "Rnd 1: K2, k2tog");
        assert_eq!(taken("Rnd 1: Ss", "Ssk"), "Rnd 1: Ssk");
        assert_eq!(taken("Rnd 1: K t", "to end"), "Rnd 1: K to end");
        assert_eq!(taken("Rn", "Rnd 1:"), "Rnd 1: ");
        assert_eq!(
            taken("Rnd 1: Knit.\nRep la", "last 2 rnds"),
            "Rnd 1: Knit.\nRep last 2 rnds"
        );
        assert_eq!(taken("CUFF\nHee", "HEEL FLAP"), "CUFF\nHEEL FLAP");
        assert!(words("Wobble wob").is_empty());
        assert!(words("It is warm and k").is_empty());
    }

    #[test]
    fn what_can_be_done_next_is_joined_on() {
        assert_eq!(taken("Rnd 1: ", "K2"), "Rnd 1: K2");
        assert_eq!(taken("Rnd 1:", "K2"), "Rnd 1: K2");
        assert_eq!(taken("Rnd 1: K2", "p2"), "Rnd 1: K2, p2");
        assert_eq!(taken("Rnd 1: K2 ", "p2"), "Rnd 1: K2, p2");
        assert_eq!(taken("Rnd 1: K2,", "p2"), "Rnd 1: K2, p2");
        assert_eq!(
            taken("Rnd 1: *K2, p2", "rep from * to end"),
            "Rnd 1: *K2, p2; rep from * to end"
        );
        assert_eq!(taken("Rnd 1: [K2, p2", "]"), "Rnd 1: [K2, p2]");
        assert_eq!(
            taken("Rnd 1: [K2, p2] 4", "times"),
            "Rnd 1: [K2, p2] 4 times"
        );
        assert!(!words("Rnd 1: K2, p2").contains(&"rep from * to end".to_owned()));
        assert!(!words("Rnd 1: K2, p2").contains(&"]".to_owned()));
        assert!(words("Rnd 1: Knit (64 sts)").is_empty());
        // in the middle of a word nothing is proposed
        assert!(completions("Rnd 1: knit", 9).is_empty());
    }

    #[test]
    fn a_line_begins_with_the_next_number_or_the_next_part() {
        assert_eq!(words(""), ["Cast on", "Cuff", "Toe"]);
        assert_eq!(words("CUFF\n")[0], "Rnd 1:");
        assert_eq!(words("Rnd 1: Knit.\nRnds 2-16: Rep rnd 1.\n")[0], "Rnd 17:");
        assert_eq!(words("Round 1: Knit.\n")[0], "Round 2:");
        assert_eq!(words("HEEL FLAP\n")[0], "Row 1 (RS):");
        assert_eq!(words("Row 1 (RS): Knit, turn.\n")[0], "Row 2 (WS):");
        assert_eq!(words("LEG\nKnit 4 rnds.\n")[0], "Next rnd:");
        let after_leg = words("CUFF\nRnd 1: Knit.\nLEG\nRnd 1: Knit.\n");
        assert_eq!(after_leg, ["Rnd 2:", "Knit", "HEEL FLAP", "HEEL TURN"]);
        let up = words("Toe\nRnd 1: Knit.\n");
        assert_eq!(up, ["Rnd 2:", "Knit", "Foot", "Gusset"]);
        // a line that goes on in the next one
        assert_eq!(taken("Rnd 1: K2,\n", "p2"), "Rnd 1: K2,\np2");
    }

    /// Whatever is proposed is read as it stands, or is gone on with by what is proposed then, or by a number, until it
    /// is: in every place of a sock that is typed letter by letter.
    #[test]
    fn every_completion_leads_to_a_line_that_is_read() {
        let sock = include_str!("../../tests/pattern/small_sock.txt");
        let mut tried = std::collections::BTreeSet::new();
        for (cursor, _) in sock.char_indices() {
            let all = completions(&sock[..cursor], cursor);
            assert!(all.len() <= MOST);
            for one in all {
                let line = last_lines(&with(&sock[..cursor], &one), WRAPPED).to_owned();
                if tried.insert(line.clone()) {
                    assert!(can_be_read(&line, 4), "{line:?}");
                }
            }
        }
        assert!(tried.len() > 300, "{}", tried.len());
    }

    fn can_be_read(text: &str, more: u8) -> bool {
        let said = lines(text, None).pop().map(|line| statements(&line));
        let read = said.is_some_and(|said| {
            said.iter()
                .all(|said| !matches!(said.says, Says::Unread { .. } | Says::Remark))
        });
        let number = || can_be_read(&format!("{text} 8"), more - 1);
        read || more > 0 && (number() || any_can_be_read(text, more - 1))
    }

    fn any_can_be_read(text: &str, more: u8) -> bool {
        completions(text, text.len())
            .iter()
            .any(|one| can_be_read(&with(text, one), more))
    }

    #[test]
    fn the_count_is_the_simulators() {
        let count = |text: &str| {
            let by = CountInBrackets::begin(text, text.len(), None, None, &KnittersOwn::default());
            by?.end().map(|one| one.text)
        };
        let cuff = "CO 64 sts. Join.\nRnd 1: *K2, p2; rep from * to end.";
        assert_eq!(count(cuff), Some(" (64 sts)".to_owned()));
        let toe = format!("{cuff}\nRnd 2: *K6, k2tog; rep from * to end");
        assert_eq!(count(&toe), Some(" (56 sts)".to_owned()));
        assert_eq!(count(&format!("{toe} (56 sts)")), None);
        // a round that does not come out has none
        assert_eq!(
            count(&format!("{cuff}\nRnd 2: *K6, p3; rep from * to end")),
            None
        );
        assert_eq!(count("CO 64 sts. Join."), None);
        assert_eq!(count("CUFF"), None);
        // and with it every line is right
        let mut typed = String::new();
        for line in include_str!("../../tests/pattern/small_sock.txt").lines() {
            typed.push_str(&line.replace("to last 4 sts, k2, p1", "to end"));
            if let Some(count) = count(&typed) {
                typed.push_str(&count);
            }
            typed.push('\n');
        }
        assert!(typed.matches(" sts)").count() > 10, "{typed}");
        assert_eq!(check(&typed, None), []);
    }
}
