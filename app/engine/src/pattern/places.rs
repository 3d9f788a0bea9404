//! How far something is worked: "to 3 sts before marker", "to the end of the needle".

use winnow::Parser;
use winnow::ascii::{space0, space1};
use winnow::combinator::{alt, opt, preceded, terminated};

use super::failure::Parsed;
use super::piece::Stop;
use super::words::{any_of, number, stitches, word};

/// "to end", "to last 3 sts", "to 3 sts before marker", "around".
pub(super) fn to_place(input: &mut &str) -> Parsed<(u16, Stop)> {
    alt((
        (
            word("across"),
            space1,
            opt((any_of(&["the", "all"]), space1)),
            opt((word("the"), space1)),
            any_of(&["heel", "sole"]),
            opt((space1, stitches)),
        )
            .value((0, Stop::End)),
        any_of(&[
            "around",
            "round",
            "across",
            "all round",
            "all around",
            "all sts",
            "all stitches",
            "every st",
            "every stitch",
        ])
        .value((0, Stop::End)),
        preceded(
            (
                alt((word("to within"), word("until"), word("up to"), word("to"))),
                space1,
            ),
            alt((to_last, to_before, place.map(|stop| (0, stop)))),
        ),
    ))
    .parse_next(input)
}

/// "last 3 sts", "last 3 sts of needle", "3 sts rem".
fn to_last(input: &mut &str) -> Parsed<(u16, Stop)> {
    let last = (opt((word("the"), space1)), word("last"), space1);
    let n = alt((
        preceded(
            last,
            alt((
                terminated(number, (space0, opt(stitches))),
                stitches.value(1),
            )),
        ),
        terminated(
            number,
            (
                space0,
                opt(stitches),
                space0,
                any_of(&[
                    "remain",
                    "rem",
                    "are left",
                    "left",
                    "from end",
                    "from the end",
                ]),
            ),
        ),
    ))
    .parse_next(input)?;
    let needle = opt((
        space0,
        any_of(&["of", "on"]),
        space1,
        opt((word("the"), space1)),
        alt((
            any_of(&["needle", "ndl"]).value(Stop::NeedleEnd),
            any_of(&["round", "rnd", "row", "heel"]).value(Stop::End),
        )),
    ))
    .parse_next(input)?;
    Ok((n, needle.map_or(Stop::End, |(_, (), _, _, stop)| stop)))
}

/// "3 sts before marker".
fn to_before(input: &mut &str) -> Parsed<(u16, Stop)> {
    let n = number(input)?;
    (
        space0,
        opt(stitches),
        space0,
        any_of(&["before", "from", "of"]),
        space1,
    )
        .parse_next(input)?;
    Ok((n, place(input)?))
}

fn place(input: &mut &str) -> Parsed<Stop> {
    opt((any_of(&["the", "next", "first", "second"]), space1)).parse_next(input)?;
    opt((any_of(&["next", "first", "second", "last"]), space1)).parse_next(input)?;
    alt((
        preceded(
            (word("end"), opt((space1, word("of")))),
            opt(preceded(
                (space1, opt((word("the"), space1))),
                alt((
                    any_of(&["needle", "ndl"]).value(Stop::NeedleEnd),
                    (any_of(&["needle", "ndl", "n"]), space0, number).value(Stop::NeedleEnd),
                    any_of(&["this sock"]).value(Stop::NeedleEnd),
                    any_of(&["round", "rnd", "row", "instep", "heel", "sole"]).value(Stop::End),
                )),
            )),
        )
        .map(|stop| stop.unwrap_or(Stop::End)),
        any_of(&[
            "start marker",
            "round's marker",
            "bor marker",
            "bor m",
            "bor",
            "beginning of round",
            "beg of rnd",
        ])
        .value(Stop::RoundMarker),
        any_of(&["marker", "mkr", "mk", "m"]).value(Stop::Marker),
        any_of(&["gap"]).value(Stop::Gap),
        any_of(&["double stitch", "double st", "ds"]).value(Stop::Double),
        any_of(&["wrapped stitch", "wrapped st"]).value(Stop::Wrapped),
    ))
    .parse_next(input)
}
