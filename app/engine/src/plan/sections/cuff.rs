//! The top of the leg: rib, a folded hem, or a rolled edge.

use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::rounds::{plain_round, rib_round, round_of, run_repeat};
use crate::plan::seating;
use crate::recipe::{Direction, Edge, Recipe};
use crate::stitch::{Op, run};

/// From the cast-on edge down, or from the leg up.
pub(in crate::plan) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    if !m.done.seated {
        seating::cuff(m)?;
    }
    for round in m.done.rounds..rounds(m) {
        let (cue, ops) = match m.recipe.cuff.edge {
            Edge::Rib(rib) => (Cue::Plain, rib_round(&m.needles, rib)),
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
        (Edge::Rib(_) | Edge::Rolled, _) => height,
        (Edge::Hem { .. }, Direction::CuffDown) => 2 * height + 2,
        (Edge::Hem { .. }, Direction::ToeUp) => 2 * height + 1,
    }
}

/// The finished height of a cuff of so many rounds.
pub(in crate::plan) fn height(recipe: &Recipe, rounds: u16) -> u16 {
    match (recipe.cuff.edge, recipe.direction) {
        (Edge::Rib(_) | Edge::Rolled, _) => rounds,
        (Edge::Hem { .. }, Direction::CuffDown) => rounds.saturating_sub(2) / 2,
        (Edge::Hem { .. }, Direction::ToeUp) => rounds.saturating_sub(1) / 2,
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
