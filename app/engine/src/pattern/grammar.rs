//! The grammar of one line of instructions: abbreviations and plain words to pieces.
//!
//! Reads uniform text (lower case, one byte for each character). Knows pieces; must not know needles,
//! nor how lines make up a pattern.

use winnow::Parser;
use winnow::ascii::space0;
use winnow::combinator::{alt, opt, peek, preceded};
use winnow::error::ErrMode;
use winnow::token::{one_of, take_while};

use super::cables::cable;
use super::counts::count;
use super::edges::{bound_off, cast_on, corner, heel_later, hem, opened, picked_up};
use super::failure::{Failure, Parsed, failed};
use super::piece::{Piece, Placed, Spot, Stop, Times};
use super::repeats::{repeat_from_star, repeats_from_star, times, times_of_star};
use super::shaping::{increases, passed_over, together, yarn_over};
use super::single::{charted, markers, motif_round, needle, slipped, turns, with_yarn, worked};
use super::vocabulary::Expected;
use super::words::{separators, word};

/// Most brackets within brackets.
const DEEPEST: u8 = 6;

/// Most pieces of a line.
const MOST_PIECES: usize = 400;

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
        ErrMode::Incomplete(_) => Failure::at_end(),
    })
}

struct Reader<'a> {
    whole: usize,
    spot: &'a dyn Fn(usize) -> Spot,
}

impl Reader<'_> {
    /// Pieces as long as there are some.
    fn pieces(&self, input: &mut &str, depth: u8) -> Parsed<Vec<Placed>> {
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

    fn piece(&self, input: &mut &str, depth: u8) -> Parsed<Piece> {
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
                increases, yarn_over, slipped, heel_later, opened, hem, charted, worked,
            )),
        ))
        .parse_next(input)
        .map_err(|error| match error {
            ErrMode::Backtrack(_) => failed(input, Expected::Instruction),
            other => other,
        })
    }

    fn bracketed(&self, input: &mut &str, open: char, depth: u8) -> Parsed<Piece> {
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

    fn starred(&self, input: &mut &str, depth: u8) -> Parsed<Piece> {
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
            (space0, opt('-'), space0).parse_next(input)?;
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
