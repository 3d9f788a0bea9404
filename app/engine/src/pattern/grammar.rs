//! The grammar of one line of instructions: abbreviations and plain words to pieces.
//!
//! Reads uniform text (lower case, one byte for each character). Knows pieces; must not know needles,
//! nor how lines make up a pattern.

use winnow::ascii::{digit1, space0, space1};
use winnow::combinator::{alt, eof, not, opt, peek, preceded, terminated};
use winnow::error::{ErrMode, ParserError};
use winnow::token::{one_of, take_while};
use winnow::{ModalResult, Parser};

use super::piece::{Counted, Extent, Piece, Placed, Spot, Stitch, Stop, Times, Together};
use super::vocabulary::Expected;
use crate::stitch::{Cross, Decrease, Increase, Lean, RareStitch, Yarn};

/// Most brackets within brackets.
const DEEPEST: u8 = 6;

/// Most pieces of a line.
const MOST_PIECES: usize = 400;

/// Where reading stopped, and what would have been readable there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Failure {
    /// Bytes of the text that were left.
    left: usize,
    pub expected: Expected,
}

impl Failure {
    /// The byte of the text at which it is.
    pub(super) const fn at(self, text: &str) -> usize {
        text.len().saturating_sub(self.left)
    }
}

impl ParserError<&str> for Failure {
    type Inner = Self;

    fn from_input(input: &&str) -> Self {
        Self {
            left: input.len(),
            expected: Expected::Instruction,
        }
    }

    fn into_inner(self) -> Result<Self, Self> {
        Ok(self)
    }

    /// Of two ways that fail, the one that came further.
    fn or(self, other: Self) -> Self {
        if other.left <= self.left { other } else { self }
    }
}

type Read<T> = ModalResult<T, Failure>;

/// Reads a whole line of instructions; `spot` tells where a byte of it stands in the pattern.
pub(super) fn instructions(
    text: &str,
    spot: &dyn Fn(usize) -> Spot,
) -> Result<Vec<Placed>, Failure> {
    let mut input = text;
    let reader = Reader {
        whole: text.len(),
        spot,
    };
    let read = reader.pieces(&mut input, 0).and_then(|pieces| {
        separators(&mut input)?;
        if input.is_empty() {
            Ok(pieces)
        } else {
            Err(failed(input, Expected::Instruction))
        }
    });
    read.map_err(|error| match error {
        ErrMode::Backtrack(failure) | ErrMode::Cut(failure) => failure,
        ErrMode::Incomplete(_) => Failure {
            left: 0,
            expected: Expected::Instruction,
        },
    })
}

const fn failed(input: &str, expected: Expected) -> ErrMode<Failure> {
    ErrMode::Cut(Failure {
        left: input.len(),
        expected,
    })
}

struct Reader<'a> {
    whole: usize,
    spot: &'a dyn Fn(usize) -> Spot,
}

impl Reader<'_> {
    /// Pieces as long as there are some.
    fn pieces(&self, input: &mut &str, depth: u8) -> Read<Vec<Placed>> {
        let mut out = Vec::new();
        loop {
            separators(input)?;
            if input.is_empty() || input.starts_with([')', ']', '}', '*']) && depth > 0 {
                return Ok(out);
            }
            if depth > 0 && repeats_from_star(input) {
                return Ok(out);
            }
            if out.len() >= MOST_PIECES {
                return Err(failed(input, Expected::End));
            }
            let spot = (self.spot)(self.whole - input.len());
            let piece = self.piece(input, depth)?;
            out.push(Placed { spot, piece });
        }
    }

    fn piece(&self, input: &mut &str, depth: u8) -> Read<Piece> {
        if let Some(count) = opt(count).parse_next(input)? {
            return Ok(Piece::Count(count));
        }
        if let Some(open) = opt(one_of(['(', '[', '{'])).parse_next(input)? {
            return self.bracketed(input, open, depth);
        }
        if opt(take_while(1..=2, '*')).parse_next(input)?.is_some() {
            return self.starred(input, depth);
        }
        if opt((
            alt((word("repeat"), word("rep"))),
            space0,
            peek(one_of(['(', '['])),
        ))
        .parse_next(input)?
        .is_some()
        {
            return self.piece(input, depth);
        }
        alt((
            alt((
                needle,
                motif_round,
                with_yarn,
                markers,
                turns,
                passed_over,
                corner,
            )),
            alt((picked_up, cast_on, bound_off, cable, together)),
            alt((
                increases, yarn_over, slipped, heel_later, hem, charted, worked,
            )),
        ))
        .parse_next(input)
        .map_err(|error| match error {
            ErrMode::Backtrack(_) => failed(input, Expected::Instruction),
            other => other,
        })
    }

    fn bracketed(&self, input: &mut &str, open: char, depth: u8) -> Read<Piece> {
        if depth >= DEEPEST {
            return Err(failed(input, Expected::ClosingBracket));
        }
        let inner = self.pieces(input, depth + 1)?;
        let close = match open {
            '(' => ')',
            '[' => ']',
            _ => '}',
        };
        if inner.is_empty() {
            return Err(failed(input, Expected::Instruction));
        }
        if !input.starts_with(close) {
            return Err(failed(input, Expected::ClosingBracket));
        }
        *input = &input[1..];
        let times = opt(preceded((space0, opt(one_of([',', ';'])), space0), times))
            .parse_next(input)?
            .unwrap_or(Times::Counted(1));
        Ok(Piece::Repeat(inner, times))
    }

    fn starred(&self, input: &mut &str, depth: u8) -> Read<Piece> {
        if depth >= DEEPEST {
            return Err(failed(input, Expected::ClosingStar));
        }
        let inner = self.pieces(input, depth + 1)?;
        if inner.is_empty() {
            return Err(failed(input, Expected::Instruction));
        }
        // a repeat whose end is not said goes on to the end
        let mut how_often = Times::To(0, Stop::End);
        let closed = opt(take_while(1..=2, '*')).parse_next(input)?.is_some();
        separators(input)?;
        if repeats_from_star(input) {
            repeat_from_star(input)?;
            space0.parse_next(input)?;
            let more = opt(times_of_star).parse_next(input)?;
            match more {
                Some(times) => how_often = times,
                None if input.is_empty() || input.starts_with(['.', '(', '[', ',', ';']) => {}
                None => return Err(failed(input, Expected::Times)),
            }
        } else if closed {
            space0.parse_next(input)?;
            if let Some(times) = opt(times).parse_next(input)? {
                how_often = times;
            } else if !(input.is_empty() || input.starts_with(['.', '(', '['])) {
                return Err(failed(input, Expected::Times));
            }
        } else if !input.is_empty() && !input.starts_with('.') {
            return Err(failed(input, Expected::ClosingStar));
        }
        Ok(Piece::Repeat(inner, how_often))
    }
}

// ---------------------------------------------------------------- words and numbers

/// Text that is not followed by another letter or digit; spaces in it may be any spaces.
pub(super) fn word(text: &'static str) -> impl FnMut(&mut &str) -> Read<()> {
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
pub(super) fn any_of(texts: &'static [&'static str]) -> impl FnMut(&mut &str) -> Read<()> {
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
pub(super) fn number(input: &mut &str) -> Read<u16> {
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

fn separators(input: &mut &str) -> Read<()> {
    loop {
        let before = input.len();
        take_while(0.., [' ', ',', ';', '.', '\t', '|']).parse_next(input)?;
        opt(any_of(&["and", "then", "&"])).parse_next(input)?;
        if input.len() == before {
            return Ok(());
        }
    }
}

pub(super) fn stitches(input: &mut &str) -> Read<()> {
    any_of(&["stitches", "stitch", "sts", "st"]).parse_next(input)
}

// ---------------------------------------------------------------- counts in brackets

/// "(64 sts)", "[64 sts rem]", "- 64 sts", "= 64 sts", "64 sts", "(16-32-16)", "(64)".
fn count(input: &mut &str) -> Read<Counted> {
    alt((bracketed_count, open_count)).parse_next(input)
}

fn bracketed_count(input: &mut &str) -> Read<Counted> {
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

fn open_count(input: &mut &str) -> Read<Counted> {
    let marked = opt(terminated(one_of(['-', '=', ':']), space0))
        .parse_next(input)?
        .is_some();
    let counted = inner_count(input, marked)?;
    Ok(counted)
}

fn inner_count(input: &mut &str, bare: bool) -> Read<Counted> {
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
            "inc",
            "dec",
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

// ---------------------------------------------------------------- repeats

fn repeats_from_star(input: &str) -> bool {
    let mut ahead = input;
    repeat_from_star(&mut ahead).is_ok()
}

fn repeat_from_star(input: &mut &str) -> Read<()> {
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
fn times(input: &mut &str) -> Read<Times> {
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
fn times_of_star(input: &mut &str) -> Read<Times> {
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

pub(super) fn counted_times(input: &mut &str) -> Read<u16> {
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

// ---------------------------------------------------------------- how far

/// "to end", "to last 3 sts", "to 3 sts before marker", "around".
pub(super) fn to_place(input: &mut &str) -> Read<(u16, Stop)> {
    alt((
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
fn to_last(input: &mut &str) -> Read<(u16, Stop)> {
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
fn to_before(input: &mut &str) -> Read<(u16, Stop)> {
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

fn place(input: &mut &str) -> Read<Stop> {
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

// ---------------------------------------------------------------- single pieces

fn needle(input: &mut &str) -> Read<Piece> {
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

/// A word that may be followed by a digit at once.
fn any_of_prefix(texts: &'static [&'static str]) -> impl FnMut(&mut &str) -> Read<()> {
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

fn motif_round(input: &mut &str) -> Read<Piece> {
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

fn with_yarn(input: &mut &str) -> Read<Piece> {
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

fn markers(input: &mut &str) -> Read<Piece> {
    alt((
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

fn turns(input: &mut &str) -> Read<Piece> {
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
    ))
    .parse_next(input)
}

/// Decreases in which a slipped stitch is passed over; written as one word or with commas.
fn passed_over(input: &mut &str) -> Read<Piece> {
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

fn word_or_digit(text: &'static str) -> impl FnMut(&mut &str) -> Read<()> {
    move |input| {
        (text, not(one_of(|c: char| c.is_ascii_alphabetic())))
            .void()
            .parse_next(input)
    }
}

fn picked_up(input: &mut &str) -> Read<Piece> {
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
fn corner(input: &mut &str) -> Read<Piece> {
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
fn where_it_is(input: &mut &str) -> Read<()> {
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

fn cast_on(input: &mut &str) -> Read<Piece> {
    alt((
        preceded(
            (any_of(&["cast on", "co"]), space0),
            (number, space0, '+', space0, number),
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
            any_of(&["knit and purl loops by turns", "k and p by turns"]),
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

fn bound_off(input: &mut &str) -> Read<Piece> {
    preceded(
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
    .map(Piece::BindOff)
    .parse_next(input)
}

fn cable(input: &mut &str) -> Read<Piece> {
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
fn crossed_in_words(input: &mut &str) -> Read<Cross> {
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

fn comma(input: &mut &str) -> Read<()> {
    (space0, ',', space0).void().parse_next(input)
}

fn cable_needle(input: &mut &str) -> Read<()> {
    any_of(&["the cable needle", "cable needle", "cn"]).parse_next(input)
}

/// Whether so many are purled, and how many.
fn knit_or_purl(input: &mut &str) -> Read<(bool, u16)> {
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

fn together(input: &mut &str) -> Read<Piece> {
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

fn increases(input: &mut &str) -> Read<Piece> {
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

fn yarn_over(input: &mut &str) -> Read<Piece> {
    any_of(&["yarn over", "yo", "yfwd", "yfd", "yrn", "yon", "yf"])
        .value(Piece::YarnOver)
        .parse_next(input)
}

fn slipped(input: &mut &str) -> Read<Piece> {
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

/// What a heel that is knitted last asks for on the way.
fn heel_later(input: &mut &str) -> Read<Piece> {
    alt((waste, to_snip)).parse_next(input)
}

fn to_snip(input: &mut &str) -> Read<Piece> {
    let knit = |input: &mut &str| any_of_prefix(&["knit", "k"]).parse_next(input);
    preceded(
        (knit, space0),
        terminated(number, (space1, word("and pin the middle one"))),
    )
    .map(Piece::KnitToSnip)
    .parse_next(input)
}

fn waste(input: &mut &str) -> Read<Piece> {
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

fn hem(input: &mut &str) -> Read<Piece> {
    alt((joined_hem, sewn_hem)).parse_next(input)
}

fn sewn_hem(input: &mut &str) -> Read<Piece> {
    (
        word("sew down"),
        space1,
        number,
        opt((space1, word("inside"))),
    )
        .map(|((), _, n, _)| Piece::SewDown(n))
        .parse_next(input)
}

fn joined_hem(input: &mut &str) -> Read<Piece> {
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

/// Stitches that are worked by a chart or by words elsewhere: only their count is known.
fn charted(input: &mut &str) -> Read<Piece> {
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
fn worked(input: &mut &str) -> Read<Piece> {
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
    where_it_is(input)?;
    Ok(Piece::Run(
        if back.is_some() { twisted } else { plain },
        extent,
    ))
}

/// "DS", "the double stitch", "2 DS", "1 with wraps", "2 wrapped stitches with their wraps": whether they
/// are double ones, and how many.
fn wrapped_or_double(input: &mut &str) -> Read<(bool, u16)> {
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
    ))
    .parse_next(input)?;
    Ok((double, n.unwrap_or(1)))
}
