//! The word of a line at which something was found.
//!
//! Works on the text as it was typed; knows nothing of what was found.

/// A line in three pieces: what stands before a word, the word, what stands after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Marked<'a> {
    /// Before it.
    pub(super) before: &'a str,
    /// The word; empty where there is none.
    pub(super) word: &'a str,
    /// After it.
    pub(super) after: &'a str,
}

/// The word that begins at a character of the line, counted from 1, or behind what is no letter there. A column beyond the
/// line marks nothing.
pub(super) fn marked(line: &str, column: u32) -> Marked<'_> {
    let wanted = usize::try_from(column).unwrap_or(usize::MAX).max(1) - 1;
    // Without the tables of all alphabets, which weigh more than all of this screen's findings.
    let is_of_word = |c: char| c.is_ascii_alphanumeric() || c == '&' || !c.is_ascii();
    let start = line
        .char_indices()
        .skip(wanted)
        .find(|(_, c)| is_of_word(*c))
        .map_or(line.len(), |(at, _)| at);
    let (before, rest) = line.split_at(start);
    let length = rest.find(|c| !is_of_word(c)).unwrap_or(rest.len());
    let (word, after) = rest.split_at(length);
    Marked {
        before,
        word,
        after,
    }
}

/// A word of patterns as it is written in the place of a typed one: with a capital where that has one.
pub(super) fn in_place_of(typed: &str, meant: &str) -> String {
    let capital = typed.starts_with(|c: char| c.is_ascii_uppercase());
    let mut written = meant.to_owned();
    if let Some(first) = written.get_mut(..1).filter(|_| capital) {
        first.make_ascii_uppercase();
    }
    written
}

/// The text with another word in the place of that one; `None` where it does not stand there any more. The line is counted
/// from 1.
pub(super) fn with_word(
    text: &str,
    line: u32,
    column: u32,
    typed: &str,
    meant: &str,
) -> Option<String> {
    let before = usize::try_from(line).ok()?.checked_sub(1)?;
    let start: usize = text.split_inclusive('\n').take(before).map(str::len).sum();
    let rest = text.get(start..)?;
    let here = rest.split(['\r', '\n']).next().unwrap_or_default();
    let found = marked(here, column);
    (found.word == typed && !typed.is_empty()).then(|| {
        let head = &text[..start + found.before.len()];
        let tail = &text[start + found.before.len() + typed.len()..];
        format!("{head}{}{tail}", in_place_of(typed, meant))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_marked_where_it_stands() {
        let pieces = |line, column| {
            let Marked {
                before,
                word,
                after,
            } = marked(line, column);
            [before, word, after]
        };
        assert_eq!(
            pieces("Rnd 1: kint 4, p2", 8),
            ["Rnd 1: ", "kint", " 4, p2"]
        );
        // a column between two words means the next one, and letters may be longer than a byte
        assert_eq!(pieces("Größe: kint", 7), ["Größe: ", "kint", ""]);
        assert_eq!(pieces("k2", 9), ["k2", "", ""]);
        assert_eq!(pieces("", 0), ["", "", ""]);
    }

    #[test]
    fn another_word_takes_its_place_and_nothing_else_changes() {
        let text = "CO 8 sts.\r\nKint 4, kint 4\nk8";
        assert_eq!(
            with_word(text, 2, 1, "Kint", "knit").as_deref(),
            Some("CO 8 sts.\r\nKnit 4, kint 4\nk8")
        );
        assert_eq!(
            with_word(text, 2, 9, "kint", "knit").as_deref(),
            Some("CO 8 sts.\r\nKint 4, knit 4\nk8")
        );
        // what was typed since is left as it is
        assert_eq!(with_word(text, 3, 1, "kint", "knit"), None);
        assert_eq!(with_word(text, 9, 1, "kint", "knit"), None);
    }
}
