//! The search for words in finished sentences that [`crate::text`] takes the place of, until its last
//! caller is gone.

use std::borrow::Cow;

use crate::text::English;

/// As it is written, British, American. Longer ones first where one begins with another. The table
/// is common practice of both countries' patterns, no source.
const WORDS: [[&str; 3]; 13] = [
    ["bind-off", "cast-off", "bind-off"],
    ["binding off", "casting off", "binding off"],
    ["bind off", "cast off", "bind off"],
    ["bound off", "cast off", "bound off"],
    ["BO", "cast off", "BO"],
    ["gauge", "tension", "gauge"],
    ["stockinette", "stocking stitch", "stockinette"],
    ["seed stitch", "moss stitch", "seed stitch"],
    ["colours", "colours", "colors"],
    ["colour", "colour", "color"],
    ["metres", "metres", "meters"],
    ["metre", "metre", "meter"],
    ["grey", "grey", "gray"],
];

impl English {
    /// Puts a sentence into these words, where that changes it.
    pub fn reword(self, text: &mut String) {
        if let Cow::Owned(other) = self.say(text) {
            *text = other;
        }
    }

    /// A sentence in these words.
    pub fn say(self, text: &str) -> Cow<'_, str> {
        let column = match self {
            Self::AsWritten => return Cow::Borrowed(text),
            Self::British => 1,
            Self::American => 2,
        };
        let mut out = Cow::Borrowed(text);
        for row in &WORDS {
            if row[0] != row[column] && found(&out, row[0], 0).is_some() {
                out = Cow::Owned(replaced(&out, row[0], row[column]));
            }
        }
        out
    }
}

/// Where a word stands on its own, from a place on; a capital at its beginning is the same word.
fn found(text: &str, word: &str, from: usize) -> Option<usize> {
    let (bytes, wanted) = (text.as_bytes(), word.as_bytes());
    let letter = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_alphanumeric);
    (from..=bytes.len().checked_sub(wanted.len())?).find(|&at| {
        bytes[at].eq_ignore_ascii_case(&wanted[0])
            && (bytes[at] == wanted[0] || bytes[at].is_ascii_uppercase())
            && bytes[at + 1..at + wanted.len()] == wanted[1..]
            && !letter(at + wanted.len())
            && at.checked_sub(1).is_none_or(|before| !letter(before))
    })
}

fn replaced(text: &str, word: &str, by: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut done = 0;
    while let Some(at) = found(text, word, done) {
        out.push_str(&text[done..at]);
        let capital = text[at..].starts_with(|c: char| c.is_ascii_uppercase());
        // an abbreviation is no beginning of a sentence
        if capital && word.starts_with(|c: char| c.is_ascii_lowercase()) {
            out.push_str(&by[..1].to_ascii_uppercase());
            out.push_str(&by[1..]);
        } else {
            out.push_str(by);
        }
        done = at + word.len();
    }
    out.push_str(&text[done..]);
    out
}
