//! Cables and other crosses, by their letters or in words.

use winnow::Parser;
use winnow::ascii::{space0, space1};
use winnow::combinator::{alt, opt, preceded, terminated};
use winnow::error::{ErrMode, ParserError};
use winnow::token::one_of;

use super::failure::{Failure, Parsed};
use super::piece::Piece;
use super::words::{any_of, any_of_prefix, comma, number, stitches, word, word_or_digit};
use crate::stitch::{Cross, Lean};

pub(super) fn cable(input: &mut &str) -> Parsed<Piece> {
    alt((
        // "2/2 LC", "2/1 RPC"
        (
            number,
            space0,
            '/',
            space0,
            number,
            space0,
            alt((
                word("lpc").value((Lean::Left, true)),
                word("rpc").value((Lean::Right, true)),
                word("lc").value((Lean::Left, false)),
                word("rc").value((Lean::Right, false)),
            )),
        )
            .verify_map(|(over, _, _, _, under, _, (lean, purl))| cross(over, under, lean, purl)),
        // "c4f", "c6b": half of them over the other half
        (
            one_of(['c', 't']),
            number,
            alt((word("f").value(Lean::Left), word("b").value(Lean::Right))),
        )
            .verify_map(|(letter, width, lean): (char, u16, Lean)| {
                if letter == 'c' {
                    (width % 2 == 0).then(|| cross(width / 2, width / 2, lean, false))?
                } else {
                    cross(width.div_ceil(2), width / 2, lean, true)
                }
            }),
        crossed_in_words,
    ))
    .map(Piece::Cross)
    .parse_next(input)
}

/// "slip 2 to the cable needle, hold it in front, purl 1, knit 2 from the cable needle".
fn crossed_in_words(input: &mut &str) -> Parsed<Cross> {
    let held = preceded(
        (alt((word_or_digit("slip"), word_or_digit("sl"))), space0),
        terminated(
            number,
            (
                space0,
                opt((stitches, space0)),
                any_of(&["to", "onto"]),
                space1,
                cable_needle,
                comma,
            ),
        ),
    )
    .parse_next(input)?;
    let front = preceded(
        (word("hold"), space1, opt((word("it"), space1))),
        terminated(
            alt((
                any_of(&["in front", "at front"]).value(true),
                any_of(&["in back", "at back", "behind"]).value(false),
            )),
            comma,
        ),
    )
    .parse_next(input)?;
    let (first_purl, first) = terminated(knit_or_purl, comma).parse_next(input)?;
    let (second_purl, second) =
        terminated(knit_or_purl, (space1, word("from"), space1, cable_needle)).parse_next(input)?;
    let made = if front {
        (second == held && !second_purl)
            .then(|| cross(second, first, Lean::Left, first_purl))
            .flatten()
    } else {
        (second == held && !first_purl)
            .then(|| cross(first, second, Lean::Right, second_purl))
            .flatten()
    };
    made.ok_or_else(|| ErrMode::Backtrack(Failure::from_input(input)))
}

fn cable_needle(input: &mut &str) -> Parsed<()> {
    any_of(&["the cable needle", "cable needle", "cn"]).parse_next(input)
}

/// Whether so many are purled, and how many.
fn knit_or_purl(input: &mut &str) -> Parsed<(bool, u16)> {
    let purl = alt((
        any_of_prefix(&["knit", "k"]).value(false),
        any_of_prefix(&["purl", "p"]).value(true),
    ))
    .parse_next(input)?;
    let n = preceded(space0, number).parse_next(input)?;
    Ok((purl, n))
}

fn cross(over: u16, under: u16, lean: Lean, purl: bool) -> Option<Cross> {
    let cross = Cross {
        over: over.try_into().ok()?,
        under: under.try_into().ok()?,
        lean,
        purl,
    };
    (over <= Cross::MOST && under <= Cross::MOST && cross.width() <= Cross::MOST).then_some(cross)
}
