//! What is done to single stitches, and between them: knit, purl, slip, turn, markers, needles, yarns.

use winnow::Parser;
use winnow::ascii::{space0, space1};
use winnow::combinator::{alt, eof, not, opt, peek, preceded, terminated};
use winnow::error::ErrMode;
use winnow::token::{one_of, take_while};

use super::edges::where_it_is;
use super::failure::{Failure, Parsed, failed};
use super::piece::{Counted, Extent, Piece, Stitch, Stop};
use super::places::to_place;
use super::vocabulary::Expected;
use super::words::{any_of, any_of_prefix, number, stitches, word, word_or_digit};
use crate::stitch::{RareStitch, Yarn};

pub(super) fn needle(input: &mut &str) -> Parsed<Piece> {
    (
        any_of_prefix(&["needle", "ndl", "n"]),
        space0,
        number,
        space0,
        one_of([':', '-']),
    )
        .map(|((), _, n, _, _)| Piece::Needle(n))
        .parse_next(input)
}

pub(super) fn motif_round(input: &mut &str) -> Parsed<Piece> {
    (
        any_of(&["pattern round", "pattern row", "row", "rnd"]),
        space1,
        number,
        space0,
        ':',
    )
        .map(|((), _, n, _, _)| Piece::MotifRound(n))
        .parse_next(input)
}

pub(super) fn with_yarn(input: &mut &str) -> Parsed<Piece> {
    preceded(
        (
            any_of(&["with", "change to", "join"]),
            space1,
            opt((any_of(&["yarn", "colour", "color"]), space1)),
        ),
        alt((
            any_of(&["a", "mc"]).value(Yarn::A),
            any_of(&["b", "cc"]).value(Yarn::B),
            word("c").value(Yarn::C),
            word("d").value(Yarn::D),
        )),
    )
    .map(Piece::WithYarn)
    .parse_next(input)
}

pub(super) fn markers(input: &mut &str) -> Parsed<Piece> {
    alt((
        // the beginning of the round is known without it
        (
            any_of(&["place a marker", "place marker", "pm"]),
            space1,
            any_of(&["for", "at"]),
            space1,
            opt((word("the"), space1)),
            any_of(&[
                "beginning of the round",
                "beginning of round",
                "beginning of rnd",
                "start of the round",
                "start of round",
                "beg of rnd",
                "bor",
            ]),
        )
            .value(Piece::Count(Counted::default())),
        any_of(&["place a marker", "place marker", "pm"]).value(Piece::PlaceMarker),
        any_of(&[
            "slip the marker",
            "slip marker",
            "sl marker",
            "sl m",
            "slip m",
            "slm",
            "sm",
        ])
        .value(Piece::SlipMarker),
        any_of(&["remove the marker", "remove marker", "rm"]).value(Piece::RemoveMarker),
    ))
    .parse_next(input)
}

pub(super) fn turns(input: &mut &str) -> Parsed<Piece> {
    let comma = |input: &mut &str| (space0, ',', space0).void().parse_next(input);
    alt((
        (
            word("turn"),
            comma,
            any_of(&["make a double stitch", "make double stitch", "mds", "ds"]),
        )
            .value(Piece::TurnDouble),
        (
            word("turn"),
            space1,
            opt((word("and"), space1)),
            any_of(&["make a double stitch", "ds"]),
        )
            .value(Piece::TurnDouble),
        any_of(&[
            "w&t",
            "w & t",
            "wrap and turn",
            "wrap & turn",
            "wrap next st and turn",
            "wrap next stitch and turn",
            "wt",
        ])
        .value(Piece::TurnWrapped),
        (any_of(&["turn work", "turn"])).value(Piece::Turn),
        // at a row's beginning: the turn stands at the end of the row before
        any_of(&[
            "make a double stitch",
            "make double stitch",
            "make ds",
            "mds",
            "ds",
        ])
        .value(Piece::MakeDouble),
    ))
    .parse_next(input)
}

pub(super) fn slipped(input: &mut &str) -> Parsed<Piece> {
    (
        alt((
            word_or_digit("slip"),
            word_or_digit("sl"),
            word_or_digit("s"),
        )),
        space0,
        opt((any_of(&["next", "first", "the next"]), space1)),
    )
        .parse_next(input)?;
    let n = alt((number, stitches.value(1))).parse_next(input)?;
    opt((space0, stitches)).parse_next(input)?;
    let (mut knitwise, mut yarn) = (false, Stitch::Slip);
    loop {
        let more = opt(preceded(
            space0,
            alt((
                any_of(&["purlwise", "pwise", "p-wise", "as if to purl"]).value(None),
                any_of(&["knitwise", "kwise", "k-wise", "as if to knit"])
                    .value(Some(Stitch::Rare(RareStitch::SlipKnitwise))),
                any_of(&["wyif", "with the yarn in front", "with yarn in front"])
                    .value(Some(Stitch::SlipYarnInFront)),
                any_of(&["wyib", "with the yarn in back", "with yarn in back"])
                    .value(Some(Stitch::Rare(RareStitch::SlipYarnInBack))),
            )),
        ))
        .parse_next(input)?;
        match more {
            Some(Some(Stitch::Rare(RareStitch::SlipKnitwise))) => knitwise = true,
            Some(Some(other)) => yarn = other,
            Some(None) => {}
            None => break,
        }
    }
    // where the yarn is held changes nothing for the count; which leg leads does for the next row
    let stitch = if knitwise {
        Stitch::Rare(RareStitch::SlipKnitwise)
    } else {
        yarn
    };
    Ok(Piece::Run(stitch, Extent::Counted(n)))
}

/// Stitches that are worked by a chart or by words elsewhere: only their count is known.
pub(super) fn charted(input: &mut &str) -> Parsed<Piece> {
    alt((
        (
            any_of(&["work", "patt", "follow"]),
            take_while(0.., |c: char| {
                c.is_ascii_alphanumeric() || matches!(c, ' ' | '-')
            })
            .verify(|words: &str| words.contains("chart") || words.contains("patt"))
            .take()
            .verify_map(last_count),
        )
            .map(|((), n)| Piece::AsWritten(n, n)),
        (
            any_of(&["work"]),
            space1,
            number,
            space1,
            word("as the pattern says, leaving"),
            space1,
            number,
        )
            .map(|((), _, from, _, (), _, to)| Piece::AsWritten(from, to)),
        (
            any_of(&["work"]),
            space1,
            number,
            space1,
            word("as in the pattern, to"),
            space1,
            number,
        )
            .map(|((), _, from, _, (), _, to)| Piece::AsWritten(from, to)),
        (any_of_prefix(&["patt"]), space0, number).map(|((), _, n)| Piece::AsWritten(n, n)),
        // over the whole round
        (
            any_of(&["work", "follow"]),
            take_while(0.., |c: char| {
                c.is_ascii_alphanumeric() || matches!(c, ' ' | '-')
            })
            .verify(|words: &str| words.contains("chart") && last_count(words).is_none()),
        )
            .value(Piece::Charted),
    ))
    .parse_next(input)
}

/// The number before "sts" at the end of "work row 3 of chart a over next 24 sts".
fn last_count(words: &str) -> Option<u16> {
    let words: Vec<&str> = words.split_whitespace().collect();
    match words.as_slice() {
        [.., n, "sts" | "stitches"] => n.parse().ok(),
        _ => None,
    }
}

/// Knitting and purling.
pub(super) fn worked(input: &mut &str) -> Parsed<Piece> {
    let purl = alt((
        word_or_digit("knit").value(false),
        word_or_digit("purl").value(true),
        word_or_digit("k").value(false),
        word_or_digit("p").value(true),
    ))
    .parse_next(input)?;
    space0.parse_next(input)?;
    if let Some(wrapped) = opt(wrapped_or_double).parse_next(input)? {
        let (double, n) = wrapped;
        let stitch = match (double, purl) {
            (true, false) => Stitch::KnitDouble,
            (true, true) => Stitch::PurlDouble,
            (false, false) => Stitch::KnitWrapped,
            (false, true) => Stitch::PurlWrapped,
        };
        return Ok(Piece::Run(stitch, Extent::Counted(n)));
    }
    let plain = if purl { Stitch::Purl } else { Stitch::Knit };
    let twisted = if purl {
        Stitch::Rare(RareStitch::PurlThroughBackLoop)
    } else {
        Stitch::KnitThroughBackLoop
    };
    opt((any_of(&["the next", "next", "first", "last"]), space1)).parse_next(input)?;
    let extent = alt((
        number.map(Extent::Counted),
        to_place.map(|(n, stop)| Extent::To(n, stop)),
        (any_of(&["st", "stitch"])).value(Extent::Counted(1)),
        // the whole round
        peek(alt((
            eof.void(),
            one_of(['.', ',', ';', '(', '[', ')', ']', '|']).void(),
            (one_of(['-', '=']), space0, number).void(),
            needle.void(),
        )))
        .value(Extent::To(0, Stop::End)),
    ))
    .parse_next(input)
    .map_err(|_: ErrMode<Failure>| failed(input, Expected::Number))?;
    opt((space0, not((stitches, space0, any_of(&["rem"]))), stitches)).parse_next(input)?;
    let back = opt((
        space0,
        any_of(&[
            "tbl",
            "through the back loop",
            "through back loop",
            "through back loops",
        ]),
    ))
    .parse_next(input)?;
    if matches!(extent, Extent::To(..)) {
        opt((
            space0,
            ',',
            space0,
            any_of(&[
                "slipping the marker",
                "slipping markers",
                "slipping m as they come",
                "slipping m",
            ]),
        ))
        .parse_next(input)?;
    }
    let wraps = opt(preceded((space0, opt(','), space0), taking_wraps)).parse_next(input)?;
    where_it_is(input)?;
    let stitch = match (back, wraps, purl) {
        (Some(_), ..) => twisted,
        (None, None, _) => plain,
        (None, Some(()), false) => Stitch::KnitWrapped,
        (None, Some(()), true) => Stitch::PurlWrapped,
    };
    Ok(Piece::Run(stitch, extent))
}

/// "picking up the wraps as you come to them", "working the wraps together with their stitches".
fn taking_wraps(input: &mut &str) -> Parsed<()> {
    (
        any_of(&["picking up", "knitting", "purling", "working", "lifting"]),
        space1,
        opt((
            any_of(&["the remaining", "the", "all", "any", "remaining"]),
            space1,
        )),
        any_of(&["wraps", "wrap"]),
    )
        .void()
        .parse_next(input)?;
    opt((
        space1,
        opt((word("together"), space1)),
        word("with"),
        space1,
        any_of(&["their", "the", "its"]),
        space1,
        stitches,
    ))
    .parse_next(input)?;
    let when = any_of(&[
        "as you come to them",
        "as you come to it",
        "as they come",
        "as you go",
        "on the way",
    ]);
    opt((space1, when)).void().parse_next(input)
}

/// "DS", "the double stitch", "2 DS", "1 with wraps", "2 wrapped stitches with their wraps": whether they
/// are double ones, and how many.
fn wrapped_or_double(input: &mut &str) -> Parsed<(bool, u16)> {
    opt((word("the"), space1)).parse_next(input)?;
    let n = opt(terminated(number, space0)).parse_next(input)?;
    let double = alt((
        any_of(&[
            "double stitches",
            "double stitch",
            "double sts",
            "double st",
            "ds",
        ])
        .value(true),
        (
            any_of(&[
                "wrapped stitches",
                "wrapped stitch",
                "wrapped sts",
                "wrapped st",
            ]),
            opt((space1, word("together"))),
            opt((
                space1,
                any_of(&[
                    "with their wraps",
                    "with its wrap",
                    "with wraps",
                    "with wrap",
                ]),
            )),
        )
            .value(false),
        any_of(&["with wraps", "with wrap"]).value(false),
        (
            any_of(&["it", "this st", "this stitch"]),
            space1,
            opt((word("together"), space1)),
            any_of(&["with its wrap", "with its wraps", "with the wrap"]),
        )
            .value(false),
    ))
    .parse_next(input)?;
    Ok((double, n.unwrap_or(1)))
}
