//! Counts that a pattern gives for what is on the needles: "(64 sts)", "[32 sts on each needle]".

use winnow::Parser;
use winnow::ascii::{space0, space1};
use winnow::combinator::{alt, opt, preceded, terminated};
use winnow::error::{ErrMode, ParserError};
use winnow::token::one_of;

use super::failure::{Failure, Parsed};
use super::piece::Counted;
use super::words::{any_of, number, stitches, word};

/// "(64 sts)", "[64 sts rem]", "- 64 sts", "= 64 sts", "64 sts", "(16-32-16)", "(64)".
pub(super) fn count(input: &mut &str) -> Parsed<Counted> {
    alt((bracketed_count, open_count)).parse_next(input)
}

fn bracketed_count(input: &mut &str) -> Parsed<Counted> {
    let open = one_of(['(', '[']).parse_next(input)?;
    preceded((space0, opt('='), space0), |i: &mut &str| {
        inner_count(i, true)
    })
    .parse_next(input)
    .and_then(|counted| {
        let close = if open == '(' { ')' } else { ']' };
        (space0, close).parse_next(input)?;
        Ok(counted)
    })
}

fn open_count(input: &mut &str) -> Parsed<Counted> {
    let marked = opt(terminated(one_of(['-', '=', ':']), space0))
        .parse_next(input)?
        .is_some();
    let counted = inner_count(input, marked)?;
    Ok(counted)
}

fn inner_count(input: &mut &str, bare: bool) -> Parsed<Counted> {
    opt((
        any_of(&["total of", "total", "you have", "there are", "now"]),
        opt(':'),
        space0,
    ))
    .parse_next(input)?;
    let first = number(input)?;
    let mut needles = vec![first];
    while let Some(n) = opt(preceded(
        alt((
            (space0, one_of(['-', ',', '/', '+', ':', '|']), space0).void(),
            (space1, word("and"), space1).void(),
        )),
        number,
    ))
    .parse_next(input)?
    {
        if needles.len() > 8 {
            return Err(ErrMode::Backtrack(Failure::from_input(input)));
        }
        needles.push(n);
    }
    space0.parse_next(input)?;
    let named = opt((
        opt(terminated(
            any_of(&["heel", "instep", "sole", "foot", "gusset", "toe"]),
            space0,
        )),
        stitches,
    ))
    .parse_next(input)?
    .is_some();
    if !named && !bare {
        return Err(ErrMode::Backtrack(Failure::from_input(input)));
    }
    // how many the line makes more or fewer is no count
    if let (Some(()), [_]) = (opt(changed).parse_next(input)?, needles.as_slice()) {
        return Ok(Counted::default());
    }
    opt(preceded(
        (space0, opt(','), space0),
        any_of(&[
            "remain on each needle",
            "remain",
            "remaining",
            "rem on needles",
            "rem",
            "left",
            "in total",
            "total",
            "altogether",
            "on needles",
            "on needle",
            "on the needles",
            "around",
            "per needle",
            "on each needle",
        ]),
    ))
    .parse_next(input)?;
    let per_needle = opt(preceded(
        (
            space0,
            opt(one_of([':', ',', ';'])),
            space0,
            opt(one_of(['(', '['])),
            space0,
        ),
        |i: &mut &str| {
            let first = number(i)?;
            let mut all = vec![first];
            while let Some(n) =
                opt(preceded((space0, one_of(['-', ',', '/']), space0), number)).parse_next(i)?
            {
                all.push(n);
                if all.len() > 8 {
                    break;
                }
            }
            if all.len() < 2 {
                return Err(ErrMode::Backtrack(Failure::from_input(i)));
            }
            opt((space0, one_of([')', ']']))).parse_next(i)?;
            Ok(all)
        },
    ))
    .parse_next(input)?;
    if let (Some(per_needle), 1) = (per_needle, needles.len()) {
        return Ok(Counted {
            all: Some(first),
            needles: per_needle,
        });
    }
    Ok(if needles.len() == 1 {
        Counted {
            all: Some(first),
            needles: Vec::new(),
        }
    } else {
        Counted { all: None, needles }
    })
}

/// "dec", "increased".
fn changed(input: &mut &str) -> Parsed<()> {
    preceded(
        space0,
        any_of(&["inc", "dec", "inc'd", "dec'd", "increased", "decreased"]),
    )
    .parse_next(input)
}
