//! Edges, begun and ended: cast on, picked up, bound off, hems, and what a later heel needs.

use winnow::Parser;
use winnow::ascii::{space0, space1};
use winnow::combinator::{alt, opt, peek, preceded, terminated};
use winnow::token::take_while;

use super::failure::{Parsed, failed};
use super::piece::{Extent, Piece, Stop};
use super::places::to_place;
use super::vocabulary::Expected;
use super::words::{any_of, any_of_prefix, number, stitches, word};

pub(super) fn picked_up(input: &mut &str) -> Parsed<Piece> {
    any_of_prefix(&[
        "pick up and knit",
        "pick up & knit",
        "pick up and k",
        "pick up & k",
        "pick up",
        "puk",
        "pu&k",
        "p/u",
    ])
    .parse_next(input)?;
    space0.parse_next(input)?;
    let n = number(input).map_err(|_| failed(input, Expected::Number))?;
    opt((space0, stitches)).parse_next(input)?;
    if opt((space1, word("in the corner")))
        .parse_next(input)?
        .is_some()
    {
        return Ok(Piece::PickUpCorner);
    }
    where_it_is(input)?;
    Ok(Piece::PickUp(n))
}

/// "knit 1 together with a loop lifted from the corner", "k DS + corner".
pub(super) fn corner(input: &mut &str) -> Parsed<Piece> {
    alt((
        (
            word("knit"),
            space1,
            any_of(&["the double stitch", "1"]),
            space1,
            word("together with a loop lifted from the corner"),
        )
            .void(),
        (
            'k',
            space0,
            any_of(&["ds", "1"]),
            space0,
            '+',
            space0,
            word("corner"),
        )
            .void(),
    ))
    .value(Piece::KnitCorner)
    .parse_next(input)
}

/// "along side of heel flap", "across instep": told for the knitter, no count in it.
pub(super) fn where_it_is(input: &mut &str) -> Parsed<()> {
    let begins = opt(preceded(
        space1,
        peek(any_of(&[
            "along", "across", "over", "down", "up", "on", "from", "of", "evenly", "for",
        ])),
    ))
    .parse_next(input)?;
    if begins.is_some() {
        take_while(0.., |c: char| {
            c.is_ascii_alphabetic() || matches!(c, ' ' | '\'' | '-')
        })
        .void()
        .parse_next(input)?;
    }
    Ok(())
}

pub(super) fn cast_on(input: &mut &str) -> Parsed<Piece> {
    alt((
        preceded(
            (any_of(&["cast on", "co"]), space0),
            terminated(
                (number, space0, '+', space0, number),
                (space0, opt(stitches)),
            ),
        )
        .verify(|(a, _, _, _, b)| a == b)
        .map(|(n, ..)| Piece::CastOnMagic(n)),
        (
            word("lay"),
            space1,
            number,
            space1,
            word("loops on each of the two needles"),
        )
            .map(|((), _, n, _, ())| Piece::CastOnMagic(n)),
        (word("wrap"), space1, (number, space0, '+', space0, number))
            .verify(|((), _, (a, _, _, _, b))| a == b)
            .map(|((), _, (n, ..))| Piece::CastOnWrapped(n)),
        (
            word("wind the yarn"),
            space1,
            number,
            space1,
            word("times round both needles"),
        )
            .map(|((), _, n, _, ())| Piece::CastOnWrapped(n)),
        (
            any_of(&["cast on", "co"]),
            space0,
            number,
            space1,
            any_of(&[
                "knit and purl loops alternately",
                "knit and purl loops by turns",
                "k and p alternately",
                "k and p by turns",
            ]),
        )
            .map(|((), _, n, _, ())| Piece::CastOnTubular(n)),
        (
            any_of(&["chain", "ch"]),
            space0,
            number,
            space1,
            any_of(&[
                "over the needle with the waste yarn",
                "over needle with waste yarn",
            ]),
        )
            .map(|((), _, n, _, ())| Piece::CastOnProvisional(n)),
        preceded(
            (any_of(&["cast on", "co"]), space0),
            terminated(number, (space0, opt(stitches))),
        )
        .map(Piece::CastOn),
    ))
    .parse_next(input)
}

pub(super) fn bound_off(input: &mut &str) -> Parsed<Piece> {
    let extent = preceded(
        (any_of(&["bind off", "cast off", "bo"]), space0),
        alt((
            preceded(
                opt((word("all"), space1)),
                terminated(number, (space0, opt(stitches))),
            )
            .map(Extent::Counted),
            any_of(&["all stitches", "all sts", "all"]).value(Extent::To(0, Stop::End)),
            to_place.map(|(n, stop)| Extent::To(n, stop)),
        )),
    )
    .parse_next(input)?;
    // how it is done is told for the knitter
    let how = &[
        "loosely",
        "in rib",
        "in ribbing",
        "in pattern",
        "in patt",
        "knitwise",
    ];
    while opt(preceded(space1, any_of(how)))
        .parse_next(input)?
        .is_some()
    {}
    Ok(Piece::BindOff(extent))
}

/// What a heel that is knitted last asks for on the way.
pub(super) fn heel_later(input: &mut &str) -> Parsed<Piece> {
    alt((waste, to_snip)).parse_next(input)
}

fn to_snip(input: &mut &str) -> Parsed<Piece> {
    let knit = |input: &mut &str| any_of_prefix(&["knit", "k"]).parse_next(input);
    preceded(
        (knit, space0),
        terminated(number, (space1, word("and pin the middle one"))),
    )
    .map(Piece::KnitToSnip)
    .parse_next(input)
}

fn waste(input: &mut &str) -> Parsed<Piece> {
    let knit = |input: &mut &str| any_of_prefix(&["knit", "k"]).parse_next(input);
    preceded(
        (knit, space0),
        terminated(
            number,
            (
                space1,
                alt((
                    word(
                        "with the waste yarn, slide them back and knit them with the working yarn",
                    ),
                    word("with waste yarn, slide back, k again with working yarn"),
                )),
            ),
        ),
    )
    .map(Piece::Waste)
    .parse_next(input)
}

/// What was cast on or knitted only to be opened again.
pub(super) fn opened(input: &mut &str) -> Parsed<Piece> {
    let loops = |input: &mut &str| -> Parsed<u16> {
        (space0, ':', space0).void().parse_next(input)?;
        let n = number.parse_next(input)?;
        (space0, opt(stitches)).void().parse_next(input)?;
        Ok(n)
    };
    let chain = any_of(&["undo the provisional cast-on", "undo the chain"]);
    let waste = any_of(&["take out the waste yarn", "remove the waste yarn"]);
    let row = any_of(&["snip the row and draw it out", "snip the row"]);
    alt((
        preceded(chain, loops).map(Piece::UndoChain),
        preceded(waste, loops).map(Piece::OpenWaste),
        preceded(row, loops).map(Piece::SnipRow),
    ))
    .parse_next(input)
}

pub(super) fn hem(input: &mut &str) -> Parsed<Piece> {
    alt((joined_hem, sewn_hem)).parse_next(input)
}

fn sewn_hem(input: &mut &str) -> Parsed<Piece> {
    (
        word("sew down"),
        space1,
        number,
        opt((space1, word("inside"))),
    )
        .map(|((), _, n, _)| Piece::SewDown(n))
        .parse_next(input)
}

fn joined_hem(input: &mut &str) -> Parsed<Piece> {
    alt((
        (word("join hem over"), space1, number).map(|((), _, n)| n),
        (
            word("knit"),
            space1,
            number,
            ", ",
            word("each together with the cast-on loop below it"),
        )
            .map(|((), _, n, _, ())| n),
    ))
    .map(Piece::FoldJoin)
    .parse_next(input)
}
