//! The words a pattern is written in, for finding the one that was probably meant and for proposing the next one,
//! and what can be expected where reading stops.
//!
//! Knows words only.

/// What would have been readable where a line was not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Expected {
    /// Something to do.
    Instruction,
    /// How many stitches.
    Number,
    /// The bracket that closes a group.
    ClosingBracket,
    /// The star that closes a group, or "repeat from *".
    ClosingStar,
    /// How often a group is worked.
    Times,
    /// The end of the line: it is longer than any instruction.
    End,
}

/// How a word goes on after what stands before it in a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Joins {
    /// At once.
    AtOnce,
    /// After a space: it belongs to what stands before it.
    AfterSpace,
    /// After a comma: something else to do.
    AfterComma,
    /// After a semicolon.
    AfterSemicolon,
    /// After a space, and proposed only once it is begun.
    OnceBegun,
}

/// Words that stand in patterns, and some that stand together: those first that are typed more often.
pub(super) const WORDS: [(&str, Joins); 76] = {
    use Joins::{AfterComma, AfterSemicolon, AfterSpace, AtOnce, OnceBegun};
    [
        ("rep from * to end", AfterSemicolon),
        ("to end", AfterSpace),
        ("to marker", AfterSpace),
        ("to 3 sts before marker", AfterSpace),
        ("to 1 st before gap", AfterSpace),
        ("to last 2 sts", AfterSpace),
        ("]", AtOnce),
        (")", AtOnce),
        ("last 2 rnds", AfterSpace),
        ("2 rnds", AfterSpace),
        ("twice", AfterSpace),
        ("times", AfterSpace),
        ("once", OnceBegun),
        ("*", AfterComma),
        ("knit", AfterComma),
        ("k1", AfterComma),
        ("p1", AfterComma),
        ("k2", AfterComma),
        ("p2", AfterComma),
        ("k2tog", AfterComma),
        ("ssk", AfterComma),
        ("sl1", AfterComma),
        ("yo", AfterComma),
        ("purl", AfterComma),
        ("[", AfterComma),
        ("turn", AfterComma),
        ("slip", OnceBegun),
        ("marker", OnceBegun),
        ("needle", OnceBegun),
        ("repeat", OnceBegun),
        ("round", OnceBegun),
        ("row", OnceBegun),
        ("before", OnceBegun),
        ("end", OnceBegun),
        ("last", OnceBegun),
        ("next", OnceBegun),
        ("together", OnceBegun),
        ("k3tog", AfterComma),
        ("p2tog", AfterComma),
        ("p3tog", AfterComma),
        ("ssp", AfterComma),
        ("sssk", AfterComma),
        ("skp", AfterComma),
        ("skpo", AfterComma),
        ("sk2p", AfterComma),
        ("s2kp", AfterComma),
        ("cdd", AfterComma),
        ("kfb", AfterComma),
        ("pfb", AfterComma),
        ("m1l", AfterComma),
        ("m1r", AfterComma),
        ("m1p", AfterComma),
        ("m1", AfterComma),
        ("yfwd", AfterComma),
        ("yrn", AfterComma),
        ("psso", OnceBegun),
        ("tbl", OnceBegun),
        ("wyif", OnceBegun),
        ("wyib", OnceBegun),
        ("pm", AfterComma),
        ("sm", AfterComma),
        ("rm", AfterComma),
        ("sts", OnceBegun),
        ("stitches", OnceBegun),
        ("rnd", OnceBegun),
        ("rnds", OnceBegun),
        ("work", OnceBegun),
        ("even", OnceBegun),
        ("pick", OnceBegun),
        ("graft", OnceBegun),
        ("bind", OnceBegun),
        ("cast", OnceBegun),
        ("join", AfterComma),
        ("ds", AfterComma),
        ("w&t", AfterComma),
        ("stockinette", OnceBegun),
    ]
};

/// The single words of them.
fn single_words() -> impl Iterator<Item = &'static str> {
    let letters = |word: &&str| word.contains(|c: char| c.is_ascii_alphabetic());
    WORDS
        .iter()
        .map(|(word, _)| *word)
        .filter(move |word| letters(word) && !word.contains(' '))
}

/// A word of patterns, where it is one.
pub(super) fn known_word(word: &str) -> Option<&'static str> {
    single_words().find(|known| *known == word)
}

/// The word of patterns that is nearest to what stands there, where one is near enough.
pub(super) fn nearest(text: &str) -> Option<&'static str> {
    let word: String = text
        .chars()
        .skip_while(|c| !c.is_ascii_alphanumeric())
        .take_while(|c| c.is_ascii_alphanumeric() || *c == '&')
        .take(16)
        .collect();
    if word.len() < 2 || known_word(&word).is_some() {
        return None;
    }
    let most = if word.len() < 5 { 1 } else { 2 };
    let (distance, found) = single_words()
        .map(|known| (distance(&word, known), known))
        .min_by_key(|(distance, _)| *distance)?;
    (distance <= most).then_some(found)
}

/// How many letters have to be changed, added, left out or exchanged with their neighbour.
fn distance(a: &str, b: &str) -> usize {
    let (a, b) = (a.as_bytes(), b.as_bytes());
    let mut rows: Vec<Vec<usize>> = vec![(0..=b.len()).collect()];
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let change = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut least = change.min(rows[i - 1][j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                least = least.min(rows[i - 2][j - 2] + 1);
            }
            row.push(least);
        }
        rows.push(row);
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_pen_has_its_nearest_word() {
        for (written, meant) in [
            ("k2tgo, k1", "k2tog"),
            ("kint 4", "knit"),
            ("skk", "ssk"),
            ("trun", "turn"),
        ] {
            assert_eq!(nearest(written), Some(meant), "{written}");
        }
        assert_eq!(nearest("elephant"), None);
        assert_eq!(nearest("knit"), None);
    }
}
