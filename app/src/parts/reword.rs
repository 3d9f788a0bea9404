//! The search for words and lengths in finished sentences, until the last sentence of the app is
//! rendered with its wording instead.

use std::borrow::Cow;

use evenloop_engine::swatch::Gauge;
use evenloop_engine::text::English;
use evenloop_engine::units::{Length, LengthUnit};

const OPEN: char = '‹';
const CLOSE: char = '›';

/// A sentence with its lengths in a unit; what only looks like a length stays as it stands.
pub(super) fn in_unit(sentence: &str, unit: LengthUnit) -> Cow<'_, str> {
    if !sentence.contains(OPEN) {
        return sentence.into();
    }
    let mut out = String::with_capacity(sentence.len());
    let mut rest = sentence;
    while let Some((before, after)) = rest.split_once(OPEN) {
        out.push_str(before);
        let told = after
            .split_once(CLOSE)
            .and_then(|(told, tail)| Some((length(told, unit)?, tail)));
        if let Some((length, tail)) = told {
            out.push_str(&length);
            rest = tail;
        } else {
            out.push(OPEN);
            rest = after;
        }
    }
    out.push_str(rest);
    out.into()
}

fn length(told: &str, unit: LengthUnit) -> Option<String> {
    if told == "#" {
        return Some(Gauge::over(unit).show(unit));
    }
    let gauge = |digits: &str| digits.parse().ok().map(Gauge);
    if let Some(least) = told.strip_suffix("#+") {
        return Some(gauge(least)?.show_least(unit));
    }
    if let Some(most) = told.strip_suffix("#-") {
        return Some(gauge(most)?.show_most(unit));
    }
    if let Some(it) = told.strip_suffix('#') {
        return Some(gauge(it)?.show(unit));
    }
    let read = |digits: &str| digits.parse().ok().map(Length);
    Some(if let Some(least) = told.strip_suffix('+') {
        read(least)?.show_least(unit)
    } else if let Some(most) = told.strip_suffix('-') {
        read(most)?.show_most(unit)
    } else if let Some(about) = told.strip_suffix('~') {
        read(about)?.show_about(unit)
    } else {
        read(told)?.show(unit)
    })
}

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

/// A sentence in these words.
pub(super) fn say(english: English, text: &str) -> Cow<'_, str> {
    let column = match english {
        English::AsWritten => return Cow::Borrowed(text),
        English::British => 1,
        English::American => 2,
    };
    let mut out = Cow::Borrowed(text);
    for row in &WORDS {
        if row[0] != row[column] && found(&out, row[0], 0).is_some() {
            out = Cow::Owned(replaced(&out, row[0], row[column]));
        }
    }
    out
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
