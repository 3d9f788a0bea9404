//! The words a pattern is written in, for finding the one that was probably meant, and what can be
//! expected where reading stops.
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

/// Words that stand in patterns.
const WORDS: [&str; 58] = [
    "knit",
    "purl",
    "slip",
    "turn",
    "marker",
    "needle",
    "repeat",
    "round",
    "row",
    "times",
    "twice",
    "once",
    "before",
    "end",
    "last",
    "next",
    "together",
    "k2tog",
    "k3tog",
    "p2tog",
    "p3tog",
    "ssk",
    "ssp",
    "sssk",
    "skp",
    "skpo",
    "sk2p",
    "s2kp",
    "cdd",
    "kfb",
    "pfb",
    "m1l",
    "m1r",
    "m1p",
    "m1",
    "yo",
    "yfwd",
    "yrn",
    "psso",
    "tbl",
    "wyif",
    "wyib",
    "pm",
    "sm",
    "rm",
    "sts",
    "stitches",
    "rnd",
    "work",
    "even",
    "pick",
    "graft",
    "bind",
    "cast",
    "join",
    "ds",
    "w&t",
    "stockinette",
];

/// A word of patterns, where it is one.
pub(super) fn known_word(word: &str) -> Option<&'static str> {
    WORDS.into_iter().find(|known| *known == word)
}

/// The word of patterns that is nearest to what stands there, where one is near enough.
pub(super) fn nearest(text: &str) -> Option<&'static str> {
    let word: String = text
        .chars()
        .skip_while(|c| !c.is_ascii_alphanumeric())
        .take_while(|c| c.is_ascii_alphanumeric() || *c == '&')
        .take(16)
        .collect();
    if word.len() < 2 || WORDS.contains(&word.as_str()) {
        return None;
    }
    let most = if word.len() < 5 { 1 } else { 2 };
    let (distance, found) = WORDS
        .iter()
        .map(|known| (distance(&word, known), *known))
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
