//! The top of the leg: rib, a folded hem, or a rolled edge.

use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::rounds::{
    crossing_round, plain_round, rib_round, round_by_turns, round_of, run_repeat,
};
use crate::plan::seating;
use crate::recipe::{Direction, Edge, Recipe, Rib};
use crate::stitch::{Count, Cross, Lean, Op, run};

/// Rounds that knit each kind of stitch by itself at a tubular edge: together as high as one.
const TUBULAR: u16 = 2;

/// From the cast-on edge down, or from the leg up.
pub(in crate::plan) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    if !m.done.seated {
        seating::cuff(m)?;
    }
    for round in m.done.rounds..rounds(m) {
        let (cue, ops) = match m.recipe.cuff.edge {
            Edge::Rib(rib) => round_of_rib(m, rib, round),
            Edge::Rolled => (Cue::Plain, plain_round(&m.needles)),
            Edge::Hem { picot } => hem_round(m, picot, round),
        };
        m.step(Step::round(cue, ops))?;
    }
    Ok(())
}

/// A hem is knitted twice as high as it will be, with a round to fold it. From the cuff down it is
/// knitted together at its end; from the toe up it is sewn down when it is bound off.
fn rounds(m: &Maker<'_>) -> u16 {
    let height = m.numbers.cuff;
    match (m.recipe.cuff.edge, m.recipe.direction) {
        _ if m.recipe.tubular_rib().is_some() => height - 1 + TUBULAR,
        (Edge::Rib(_) | Edge::Rolled, _) => height,
        (Edge::Hem { .. }, Direction::CuffDown) => 2 * height + 2,
        (Edge::Hem { .. }, Direction::ToeUp) => 2 * height + 1,
    }
}

/// The finished height of a cuff of so many rounds.
pub(in crate::plan) fn height(recipe: &Recipe, rounds: u16) -> u16 {
    match (recipe.cuff.edge, recipe.direction) {
        _ if recipe.tubular_rib().is_some() => (rounds + 1).saturating_sub(TUBULAR),
        (Edge::Rib(_) | Edge::Rolled, _) => rounds,
        (Edge::Hem { .. }, Direction::CuffDown) => rounds.saturating_sub(2) / 2,
        (Edge::Hem { .. }, Direction::ToeUp) => rounds.saturating_sub(1) / 2,
    }
}

/// How far from a tubular edge, in rounds and counted from 0, a round of the cuff lies; `None` where the cuff
/// has no such edge.
fn from_the_edge(m: &Maker<'_>, round: u16) -> Option<u16> {
    m.recipe.tubular_rib()?;
    Some(match m.recipe.direction {
        Direction::CuffDown => round,
        Direction::ToeUp => (rounds(m) - 1).saturating_sub(round),
    })
}

/// Rib, or what its tubular edge wants. There knit and purl stitches lie by turns; in a rib of two and two
/// the third and the fourth of every four change places (common practice, no source), so that
/// its rounds begin with one knit stitch.
fn round_of_rib(m: &Maker<'_>, rib: Rib, round: u16) -> (Cue, Vec<Op>) {
    let one = Count::MIN;
    let down = m.recipe.direction == Direction::CuffDown;
    let crosses = m.recipe.tubular_rib() == Some(Rib::TwoByTwo);
    // The loops that are cast on are mounted the other way.
    let knit = if down {
        Op::KnitThroughBackLoop
    } else {
        Op::Knit
    };
    let first = (knit(one), Op::SlipYarnInFront(one));
    let second = (Op::Slip(one), Op::Purl(one));
    match (from_the_edge(m, round), down) {
        (Some(0), true) | (Some(1), false) => {
            (Cue::Tubular, round_by_turns(&m.needles, &first.0, &first.1))
        }
        (Some(1), true) | (Some(0), false) => (
            Cue::Tubular,
            round_by_turns(&m.needles, &second.0, &second.1),
        ),
        (Some(2), _) if crosses => {
            let cross = Cross {
                lean: if down { Lean::Left } else { Lean::Right },
                over: one,
                under: one,
                purl: true,
            };
            (Cue::TubularCross, crossing_round(&m.needles, cross))
        }
        _ => (Cue::Plain, rib_round(&m.needles, rib, u16::from(crosses))),
    }
}

fn hem_round(m: &Maker<'_>, picot: bool, round: u16) -> (Cue, Vec<Op>) {
    let height = m.numbers.cuff;
    if round == height {
        let turning = if picot { points(m) } else { purled(m) };
        (Cue::TurnHem, turning)
    } else if round == 2 * height + 1 {
        let join = round_of(&m.needles, |ops, n| run(ops, Op::FoldJoin, n));
        (Cue::JoinHem, join)
    } else {
        (Cue::Plain, plain_round(&m.needles))
    }
}

fn purled(m: &Maker<'_>) -> Vec<Op> {
    round_of(&m.needles, |ops, n| run(ops, Op::Purl, n))
}

/// A hole every second stitch: folded there, the edge stands in points.
fn points(m: &Maker<'_>) -> Vec<Op> {
    round_of(&m.needles, |ops, n| {
        run_repeat(ops, vec![Op::YarnOver, Op::K2tog], n / 2);
        run(ops, Op::Knit, n % 2);
    })
}
