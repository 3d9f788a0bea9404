//! The gauge that a pattern is written for, where it says one: "Gauge: 32 sts and 44 rnds to 10 cm".
//!
//! Knows words and lengths; must not know what the pattern is knitted with.

use winnow::Parser;
use winnow::ascii::space0;

use super::measured::length;
use super::page;
use super::words::{any_of, number, stitches};
use crate::units::Length;

/// Stitches and rounds over a length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PatternGauge {
    /// Stitches, where they are said.
    pub stitches: Option<u16>,
    /// Rounds or rows, where they are said.
    pub rounds: Option<u16>,
    /// Over this width or height.
    pub over: Length,
}

/// What is counted from bottom to top.
const ROUNDS: &[&str] = &["rnds", "rnd", "rounds", "round", "rows", "row"];

/// The first gauge that the text says in a line of its own.
pub fn gauge(text: &str) -> Option<PatternGauge> {
    let lines = page::lines(text, None);
    lines.iter().find_map(|line| {
        let mut input = line.text.as_str();
        any_of(&["gauge", "tension"]).parse_next(&mut input).ok()?;
        read(input)
    })
}

fn read(text: &str) -> Option<PatternGauge> {
    let (mut many, mut high, mut over) = (None, None, None);
    let begins = text
        .char_indices()
        .zip(std::iter::once(' ').chain(text.chars()))
        .filter(|((_, c), before)| {
            c.is_ascii_digit() && !before.is_ascii_digit() && !matches!(before, '.' | ',' | '/')
        });
    for ((at, _), _) in begins {
        let mut counted = &text[at..];
        let mut measured = counted;
        if let Ok(length) = length(&mut measured) {
            over = over.or(Some(length));
        } else if let Ok((n, _)) = (number, space0).parse_next(&mut counted) {
            let (mut a, mut b) = (counted, counted);
            if stitches(&mut a).is_ok() {
                many = many.or(Some(n));
            } else if any_of(ROUNDS)(&mut b).is_ok() {
                high = high.or(Some(n));
            }
        }
    }
    let said = many.is_some() || high.is_some();
    Some(PatternGauge {
        stitches: many,
        rounds: high,
        over: over.filter(|_| said)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gauge_is_read_as_patterns_print_it() {
        let of = |text| gauge(text).map(|g| (g.stitches, g.rounds, g.over));
        let cm10 = Length::cm(10);
        assert_eq!(
            of("SOCKS\nGauge: 32 sts and 44 rnds to 10 cm in stockinette\nCO 64 sts."),
            Some((Some(32), Some(44), cm10))
        );
        assert_eq!(
            of("Tension: 30 stitches x 42 rows = 10 cm / 4 in"),
            Some((Some(30), Some(42), cm10))
        );
        assert_eq!(
            of("GAUGE\u{a0}8 sts = 1 in"),
            Some((Some(8), None, Length(254)))
        );
        assert_eq!(of("Gauge is not important here."), None);
        assert_eq!(of("CO 64 sts. Knit 4 cm."), None);
    }
}
