//! Lines that give a height instead of a number of rounds: "work even for 15 cm", "continue in rib until
//! the cuff measures 2 in".
//!
//! Knows the grammar of words; must not know needles nor a gauge.

use winnow::Parser;
use winnow::ascii::{digit1, space0, space1};
use winnow::combinator::{alt, opt, preceded, terminated};
use winnow::error::{ErrMode, ParserError};
use winnow::token::{one_of, take_while};

use super::failure::{Failure, Parsed};
use super::page::{HALF, QUARTER, THREE_QUARTERS};
use super::piece::Stitch;
use super::words::{any_of, word};
use crate::units::Length;

/// Work to a height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Measured {
    /// What every stitch is; `None` for the rounds that are set.
    pub stitch: Option<Stitch>,
    /// The height.
    pub height: Length,
    /// It is measured from the sock's edge.
    pub from_edge: bool,
    /// It is measured from the back of the heel.
    pub from_heel: bool,
    /// It is measured over the whole part, with what of it is knitted already.
    pub whole_part: bool,
}

/// Reads such a line.
pub(super) fn measured(input: &mut &str) -> Parsed<Measured> {
    let stitch = worked(input)?;
    let fabric = opt(terminated(fabric, space1)).parse_next(input)?;
    let whole_part = alt((word("for").value(false), until.value(true))).parse_next(input)?;
    space1.parse_next(input)?;
    let more = any_of(&["about", "approx", "another", "a further"]);
    opt((more, space0, opt('.'), space0)).parse_next(input)?;
    let height = length(input)?;
    let from_heel = opt((
        (
            space0,
            opt((word("measured"), space1)),
            word("from"),
            space1,
        ),
        opt((word("the"), space1)),
        any_of(&["back of the heel", "back of heel", "heel"]),
    ))
    .parse_next(input)?
    .is_some();
    let from_edge = opt(preceded((space0, opt(','), space0), from)).parse_next(input)?;
    // what else it may be is the knitter's to choose
    opt((
        space0,
        opt(','),
        space0,
        word("or"),
        take_while(0.., |c: char| c != '.'),
    ))
    .parse_next(input)?;
    Ok(Measured {
        stitch: stitch.or(fabric.flatten()),
        height,
        from_edge: from_edge.unwrap_or(false),
        from_heel,
        whole_part,
    })
}

/// "Knit", "work even", "continue".
fn worked(input: &mut &str) -> Parsed<Option<Stitch>> {
    let stitch = alt((
        any_of(&["knit", "k"]).value(Some(Stitch::Knit)),
        word("purl").value(Some(Stitch::Purl)),
        any_of(&["work", "continue", "cont", "rep", "repeat", "keep"]).value(None),
    ))
    .parse_next(input)?;
    space1.parse_next(input)?;
    opt((any_of(&["working", "repeating", "knitting"]), space1)).parse_next(input)?;
    opt((any_of(&["even", "straight", "plain"]), space1)).parse_next(input)?;
    let all = any_of(&[
        "every round",
        "every rnd",
        "each round",
        "each rnd",
        "all rounds",
        "all rnds",
    ]);
    opt((all, space1)).parse_next(input)?;
    Ok(stitch)
}

/// "as set", "in rib", "in stockinette stitch".
fn fabric(input: &mut &str) -> Parsed<Option<Stitch>> {
    let as_set = any_of(&[
        "as set",
        "as established",
        "in pattern as set",
        "in patt as set",
        "in pattern",
        "in patt",
        "this way",
        "in rib",
        "in ribbing",
        "in the rib",
        "rib",
        "in twisted rib",
        "in the pattern",
        "these two rounds",
        "these two rnds",
        "these rounds",
        "these rnds",
        "this round",
        "this rnd",
    ]);
    let plain = any_of(&[
        "in st st",
        "in stockinette stitch",
        "in stockinette",
        "in stocking stitch",
    ]);
    let round = (
        any_of(&["round", "rnd", "row", "rounds", "rnds", "rows"]),
        space1,
        digit1,
        opt((
            space0,
            alt((
                word("and").void(),
                '-'.void(),
                '&'.void(),
                word("to").void(),
            )),
            space0,
            digit1,
        )),
    );
    alt((
        as_set.value(None),
        plain.value(Some(Stitch::Knit)),
        round.value(None),
    ))
    .parse_next(input)
}

/// "until the leg measures".
fn until(input: &mut &str) -> Parsed<()> {
    (any_of(&["until", "till", "to where", "so that"]), space1).parse_next(input)?;
    opt((any_of(&["the", "your"]), space1)).parse_next(input)?;
    let what = any_of(&[
        "leg",
        "cuff",
        "foot",
        "sock",
        "piece",
        "work",
        "it",
        "ribbing",
        "rib",
        "heel flap",
        "flap",
    ]);
    opt((what, space1)).parse_next(input)?;
    any_of(&["measures", "is", "meas"]).parse_next(input)
}

/// "from the cast-on edge", or "in all".
fn from(input: &mut &str) -> Parsed<bool> {
    let edge = any_of(&[
        "cast-on edge",
        "cast on edge",
        "cast-on",
        "cast on",
        "beginning",
        "beg",
        "edge",
        "start",
        "tip of the toe",
        "tip of toe",
        "toe",
    ]);
    alt((
        (
            opt((word("measured"), space1)),
            word("from"),
            space1,
            opt((word("the"), space1)),
            edge,
        )
            .value(true),
        any_of(&["in all", "in total", "long", "high"]).value(false),
    ))
    .parse_next(input)
}

/// "15 cm", "6.5cm", "6 in", "2 1/2 inches", "2½\"", "35 mm".
pub(super) fn length(input: &mut &str) -> Parsed<Length> {
    let whole: u32 = opt(digit1.verify_map(|d: &str| d.parse().ok()))
        .parse_next(input)?
        .unwrap_or(0);
    // thousandths of the unit
    let part: u32 = opt(alt((
        preceded(one_of(['.', ',']), digit1.verify_map(thousandths)),
        preceded(space0, one_of([HALF]).value(500)),
        preceded(space0, one_of([QUARTER]).value(250)),
        preceded(space0, one_of([THREE_QUARTERS]).value(750)),
        preceded(
            (space0, opt('-')),
            alt(("1/2".value(500), "1/4".value(250), "3/4".value(750))),
        ),
    )))
    .parse_next(input)?
    .unwrap_or(0);
    let amount = whole.saturating_mul(1000).saturating_add(part);
    space0.parse_next(input)?;
    // tenths of a millimetre
    let unit: u32 = alt((
        any_of(&["cm", "cms", "centimetres", "centimeters"]).value(100),
        any_of(&["mm", "millimetres", "millimeters"]).value(10),
        any_of(&["inches", "inch", "ins", "in"]).value(254),
        '"'.value(254),
    ))
    .parse_next(input)?;
    let tenths = u64::from(amount) * u64::from(unit) / 1000;
    match u32::try_from(tenths) {
        Ok(tenths) if tenths > 0 && tenths <= MOST => Ok(Length(tenths)),
        _ => Err(ErrMode::Backtrack(Failure::from_input(input))),
    }
}

/// Longest height that a line may give: a metre, far above any sock.
const MOST: u32 = 10_000;

fn thousandths(digits: &str) -> Option<u32> {
    let three: String = digits.chars().chain("000".chars()).take(3).collect();
    three.parse().ok()
}
