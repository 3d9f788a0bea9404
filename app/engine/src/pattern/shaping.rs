//! Decreases, increases and yarn overs.

use winnow::Parser;
use winnow::ascii::{space0, space1};
use winnow::combinator::{alt, not, opt};
use winnow::token::take_while;

use super::failure::Parsed;
use super::piece::{Piece, Together};
use super::words::{any_of, word, word_or_digit};
use crate::stitch::{Decrease, Increase};

/// Decreases in which a slipped stitch is passed over; written as one word or with commas.
pub(super) fn passed_over(input: &mut &str) -> Parsed<Piece> {
    let sep = |input: &mut &str| take_while(0.., [' ', ',', '-']).void().parse_next(input);
    let slip = |n: &'static str| {
        move |input: &mut &str| {
            (
                alt((
                    word_or_digit("slip"),
                    word_or_digit("sl"),
                    word_or_digit("s"),
                )),
                space0,
                n,
                opt((
                    space0,
                    any_of(&[
                        "knitwise",
                        "kwise",
                        "k-wise",
                        "tog kwise",
                        "tog knitwise",
                        "together knitwise",
                    ]),
                )),
            )
                .void()
                .parse_next(input)
        }
    };
    let over = |input: &mut &str| {
        any_of(&[
            "psso",
            "p2sso",
            "pass slipped stitch over",
            "pass slipped st over",
            "pass the slipped stitch over",
        ])
        .parse_next(input)
    };
    alt((
        (
            slip("1"),
            sep,
            alt((word("k2tog"), word("knit 2 together"))),
            sep,
            over,
        )
            .value(Piece::Decrease(Decrease::Sk2p)),
        (slip("1"), sep, alt((word("k1"), word("knit 1"))), sep, over)
            .value(Piece::Decrease(Decrease::Skp)),
        (slip("2"), sep, alt((word("k1"), word("knit 1"))), sep, over)
            .value(Piece::Decrease(Decrease::S2kp)),
        any_of(&["skpo", "skp"]).value(Piece::Decrease(Decrease::Skp)),
        any_of(&["sk2po", "sk2p"]).value(Piece::Decrease(Decrease::Sk2p)),
        any_of(&["s2kpo", "s2kp2", "s2kp", "cdd", "sl2-k1-p2sso"])
            .value(Piece::Decrease(Decrease::S2kp)),
    ))
    .parse_next(input)
}

pub(super) fn together(input: &mut &str) -> Parsed<Piece> {
    let tog = |verb: &'static str, n: &'static str| {
        move |input: &mut &str| {
            (alt((
                (
                    verb,
                    space0,
                    n,
                    space0,
                    alt((word("tog"), word("together"))),
                )
                    .void(),
                (
                    if verb == "k" { "knit" } else { "purl" },
                    space1,
                    n,
                    space1,
                    alt((word("together"), word("tog"))),
                )
                    .void(),
            )))
            .parse_next(input)
        }
    };
    let tbl = |input: &mut &str| {
        (
            space0,
            any_of(&[
                "tbl",
                "through the back loops",
                "through back loops",
                "through the back loop",
            ]),
        )
            .void()
            .parse_next(input)
    };
    alt((
        (tog("k", "3"), not(tbl)).value(Piece::Decrease(Decrease::K3tog)),
        tog("p", "3").value(Piece::Decrease(Decrease::P3tog)),
        (tog("k", "2"), tbl).value(Piece::Decrease(Decrease::K2togThroughBackLoops)),
        (tog("p", "2"), tbl).value(Piece::Decrease(Decrease::P2togThroughBackLoops)),
        tog("k", "2").value(Piece::Together(Together::K2tog)),
        tog("p", "2").value(Piece::Together(Together::P2tog)),
        any_of(&["sssk"]).value(Piece::Decrease(Decrease::Sssk)),
        any_of(&["ssk", "slip-slip-knit", "slip, slip, knit"])
            .value(Piece::Together(Together::Ssk)),
        any_of(&["ssp"]).value(Piece::Decrease(Decrease::Ssp)),
    ))
    .parse_next(input)
}

pub(super) fn increases(input: &mut &str) -> Parsed<Piece> {
    alt((
        any_of(&["m1l", "make 1 left", "make one left", "m1 left"]).value(Piece::MakeLeft),
        any_of(&["m1r", "make 1 right", "make one right", "m1 right"]).value(Piece::MakeRight),
        any_of(&["m1p", "make 1 purlwise", "make one purlwise", "m1 purlwise"])
            .value(Piece::Increase(Increase::MakePurl)),
        // one that is not told how leans left (common practice, no source)
        any_of(&["m1", "make 1", "make one"]).value(Piece::MakeLeft),
        any_of(&[
            "kfb",
            "k1f&b",
            "kf&b",
            "knit into the front and back",
            "knit into front and back",
        ])
        .value(Piece::Increase(Increase::Kfb)),
        any_of(&[
            "pfb",
            "pf&b",
            "purl into the front and back",
            "purl into front and back",
        ])
        .value(Piece::Increase(Increase::Pfb)),
    ))
    .parse_next(input)
}

pub(super) fn yarn_over(input: &mut &str) -> Parsed<Piece> {
    any_of(&["yarn over", "yo", "yfwd", "yfd", "yrn", "yon", "yf"])
        .value(Piece::YarnOver)
        .parse_next(input)
}
