//! How often something is worked: "rep from * to end", "4 times", "twice".

use winnow::Parser;
use winnow::ascii::{space0, space1};
use winnow::combinator::{alt, opt, preceded, terminated};
use winnow::token::take_while;

use super::failure::Parsed;
use super::piece::Times;
use super::places::to_place;
use super::words::{any_of, number, word};

pub(super) fn repeats_from_star(input: &str) -> bool {
    let mut ahead = input;
    repeat_from_star(&mut ahead).is_ok()
}

pub(super) fn repeat_from_star(input: &mut &str) -> Parsed<()> {
    (
        any_of(&["repeat", "rep"]),
        space0,
        opt(terminated(any_of(&["from", "between"]), space0)),
        take_while(1..=2, '*'),
        opt((
            space0,
            alt((word("to"), word("and"))),
            space0,
            take_while(1..=2, '*'),
        )),
    )
        .void()
        .parse_next(input)
}

/// How often, after a group.
pub(super) fn times(input: &mut &str) -> Parsed<Times> {
    alt((
        preceded(opt((word("a total of"), space1)), counted_times).map(Times::Counted),
        preceded(
            opt((any_of(&["repeat", "rep", "repeated"]), space1)),
            to_place,
        )
        .map(|(before, stop)| Times::To(before, stop)),
    ))
    .parse_next(input)
}

/// How often, after "repeat from *": once more is twice.
pub(super) fn times_of_star(input: &mut &str) -> Parsed<Times> {
    let more = |input: &mut &str| {
        let n = counted_times(input)?;
        (
            space0,
            opt(any_of(&["more"])),
            space0,
            opt(any_of(&["times", "more"])),
        )
            .parse_next(input)?;
        Ok(n)
    };
    alt((
        more.map(|n: u16| Times::Counted(n.saturating_add(1))),
        to_place.map(|(before, stop)| Times::To(before, stop)),
    ))
    .parse_next(input)
}

pub(super) fn counted_times(input: &mut &str) -> Parsed<u16> {
    alt((
        word("once").value(1),
        word("twice").value(2),
        preceded(('x', space0), number),
        terminated(number, (space0, 'x')),
        terminated(
            number,
            (
                space0,
                opt(word("more")),
                space0,
                any_of(&["times", "time"]),
            ),
        ),
    ))
    .parse_next(input)
}
