//! Words and numbers of a line, and what may stand between two things to do.
//!
//! Knows letters and how reading fails; must not know what a word means.

use winnow::Parser;
use winnow::ascii::{digit1, space0, space1};
use winnow::combinator::{not, opt};
use winnow::error::{ErrMode, ParserError};
use winnow::token::{one_of, take_while};

use super::failure::{Failure, Parsed};

/// Text that is not followed by another letter or digit; spaces in it may be any spaces.
pub(super) fn word(text: &'static str) -> impl FnMut(&mut &str) -> Parsed<()> {
    move |input| {
        let start = *input;
        let mut parts = text.split(' ');
        if let Some(first) = parts.next() {
            first.void().parse_next(input)?;
        }
        for part in parts {
            let next = (space1, part).void().parse_next(input);
            if next.is_err() {
                *input = start;
            }
            next?;
        }
        let ends = not(one_of(|c: char| c.is_ascii_alphanumeric())).parse_next(input);
        if ends.is_err() {
            *input = start;
        }
        ends
    }
}

/// One of several words.
pub(super) fn any_of(texts: &'static [&'static str]) -> impl FnMut(&mut &str) -> Parsed<()> {
    move |input| {
        for text in texts {
            if opt(word(text)).parse_next(input)?.is_some() {
                return Ok(());
            }
        }
        Err(ErrMode::Backtrack(Failure::from_input(input)))
    }
}

/// A number that counts something, in digits or as a word.
pub(super) fn number(input: &mut &str) -> Parsed<u16> {
    const WORDS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    if let Some(n) = opt(digit1.verify_map(|digits: &str| digits.parse().ok())).parse_next(input)? {
        return Ok(n);
    }
    for (n, text) in (1..).zip(WORDS) {
        if opt(word(text)).parse_next(input)?.is_some() {
            return Ok(n);
        }
    }
    Err(ErrMode::Backtrack(Failure::from_input(input)))
}

pub(super) fn separators(input: &mut &str) -> Parsed<()> {
    loop {
        let before = input.len();
        take_while(0.., [' ', ',', ';', '.', '\t', '|']).parse_next(input)?;
        opt(any_of(&["and", "then", "&"])).parse_next(input)?;
        if input.len() == before {
            return Ok(());
        }
    }
}

pub(super) fn stitches(input: &mut &str) -> Parsed<()> {
    any_of(&["stitches", "stitch", "sts", "st"]).parse_next(input)
}

/// A word that may be followed by a digit at once.
pub(super) fn any_of_prefix(texts: &'static [&'static str]) -> impl FnMut(&mut &str) -> Parsed<()> {
    move |input| {
        for text in texts {
            if input.starts_with(text) {
                *input = &input[text.len()..];
                return Ok(());
            }
        }
        Err(ErrMode::Backtrack(Failure::from_input(input)))
    }
}

pub(super) fn word_or_digit(text: &'static str) -> impl FnMut(&mut &str) -> Parsed<()> {
    move |input| {
        (text, not(one_of(|c: char| c.is_ascii_alphabetic())))
            .void()
            .parse_next(input)
    }
}

pub(super) fn comma(input: &mut &str) -> Parsed<()> {
    (space0, ',', space0).void().parse_next(input)
}
