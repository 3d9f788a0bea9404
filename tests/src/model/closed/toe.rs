//! How a toe (or a heel knitted like one) narrows, round by round.

use evenloop_engine::recipe::{Narrowing, Toe};

use super::nearest;

/// Stitches left to graft in all.
pub(super) fn left_to_graft(around: u32) -> u32 {
    match around {
        0..48 => 12,
        48..=80 => 16,
        81..=100 => 20,
        _ => 24,
    }
}

/// Stitches where the toe ends.
pub(super) fn toe_left(toe: Toe, around: u32) -> u32 {
    match toe {
        Toe::Wedge { .. } => left_to_graft(around),
        Toe::Round => 8,
        Toe::ShortRow | Toe::Shaped { .. } => 0,
    }
}

/// Rounds of the toe.
pub(super) fn toe_rounds(toe: Toe, around: u32) -> u32 {
    match toe {
        Toe::Wedge { narrowing } => wedge_rounds(narrowing, around),
        Toe::Round => wedge_rounds(Narrowing::Rounded, around),
        Toe::ShortRow | Toe::Shaped { .. } => 0,
    }
}

/// Instep stitches (as many as sole stitches) after so many rounds of a toe knitted down.
pub(super) fn instep_by(toe: Toe, around: u32, round: u32) -> u32 {
    match toe {
        Toe::Wedge { narrowing } => around / 2 - 2 * wedge_decreases_by(narrowing, around, round),
        Toe::Round => 2 * round_toe_halves_by(around, round),
        Toe::ShortRow | Toe::Shaped { .. } => 0,
    }
}

/// Instep stitches after so many rounds of a toe knitted up: a plain round, then the rounds of the
/// toe knitted down the other way round, plain rounds before their shaping round.
pub(super) fn instep_up_by(toe: Toe, around: u32, round: u32) -> u32 {
    let left = toe_rounds(toe, around) + 1 - round.max(1);
    instep_by(toe, around, left)
}

/// Rounds of a wedge.
pub(super) fn wedge_rounds(narrowing: Narrowing, around: u32) -> u32 {
    let (third, second) = blocks(narrowing, around);
    (around - left_to_graft(around)) / 4 + second + 2 * third
}

/// Decrease rounds worked in the wedge's first `round` rounds, each block beginning with its
/// decrease round.
fn wedge_decreases_by(narrowing: Narrowing, around: u32, round: u32) -> u32 {
    let (third, second) = blocks(narrowing, around);
    let slow = 3 * third;
    let middle = slow + 2 * second;
    if round <= slow {
        round.div_ceil(3)
    } else if round <= middle {
        third + (round - slow).div_ceil(2)
    } else {
        third + second + (round - middle)
    }
}

/// Decrease rounds of the wedge followed by two plain rounds, and by one; the rest by none.
fn blocks(narrowing: Narrowing, around: u32) -> (u32, u32) {
    let all = (around - left_to_graft(around)) / 4;
    match narrowing {
        Narrowing::Even => (0, all),
        // The last count not below half of the stitches is around - 4 * floor(around / 8).
        Narrowing::Rounded => (0, around / 8),
        Narrowing::Long => (around / 16, around / 8 - around / 16),
    }
}

/// Stitches of two of a round toe's eight wedges after so many of its rounds. It is as long as the
/// rounded wedge toe; the plain rounds after each decrease round are in proportion to the width
/// that is left, the sum so far to the nearest whole. Where eight do not divide the stitches, four
/// go in a first round: until then two wedges are one stitch wider.
fn round_toe_halves_by(around: u32, round: u32) -> u32 {
    let extra = u32::from(!around.is_multiple_of(8));
    let first = around / 8;
    let decreases = first - 1;
    let plain = wedge_rounds(Narrowing::Rounded, around) - extra - decreases;
    if round < extra {
        return 2 * first + 1;
    }
    // Plain rounds after the first i decrease rounds: widths first-1, first-2, ...
    let plain_after = |i: u32| {
        let widths = i * first - i * (i + 1) / 2;
        nearest(plain.into(), widths.into(), (first * decreases / 2).into())
    };
    let begun = |i: u32| extra + i + plain_after(i - 1);
    let done = (1..=decreases).take_while(|&i| begun(i) <= round).count();
    2 * (first - u32::try_from(done).unwrap_or(u32::MAX))
}
