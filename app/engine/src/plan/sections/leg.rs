//! The leg, straight or as wide as the calf. What it has more than the ankle lies at the back, so
//! that front, instep and foot never change.

use crate::knit::Refusal;
use crate::needles::{Needles, Origin};
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Move, Step};
use crate::plan::rounds::{closing_corners, round_of};
use crate::plan::seating;
use crate::recipe::{Direction, Heel, Motif, MotifPlacement};
use crate::stitch::{Op, run};

pub(in crate::plan) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    if !m.done.seated {
        seating::leg(m)?;
    }
    shaped(m)
}

/// Whether a flap from the toe up ends here: where it meets the instep the fabric is pulled apart. A
/// motif that goes all round leaves no plain stitch to close the corners with.
fn opens_corners(m: &Maker<'_>) -> bool {
    let all_round = |motif: &Motif| motif.place == MotifPlacement::AllRound;
    m.recipe.direction == Direction::ToeUp
        && matches!(m.recipe.heel, Heel::FlapAndGusset { .. })
        && !m.recipe.motif.as_ref().is_some_and(all_round)
}

fn closed(needles: &Needles, step: Step) -> Result<Step, Refusal> {
    let moves = step.moves.into_iter().map(|mv| {
        let ops = closing_corners(needles, mv.ops)?;
        Ok(Move { ops, ..mv })
    });
    let moves = moves.collect::<Result<_, Refusal>>()?;
    Ok(Step { moves, ..step })
}

/// As wide as the calf, round by round.
fn shaped(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let leg = m.numbers.leg;
    for round in m.done.rounds + 1..=leg {
        let height = match m.recipe.direction {
            Direction::CuffDown => leg - round,
            Direction::ToeUp => round,
        };
        let back = m.needles.stitches_of(Origin::Back);
        let wide = |height| m.numbers.heel + 2 * m.numbers.calf.at(height);
        let wanted = wide(height);
        // A leg that was begun by another gauge may lie off its line. It waits for a line that comes
        // towards it: no stitches are made only to be taken away again.
        let towards = match m.recipe.direction {
            Direction::CuffDown => wanted > back && wanted <= wide(height + 1),
            Direction::ToeUp => wanted < back && wanted >= wide(height - 1),
        };
        let step = match if towards { back } else { wanted }.cmp(&back) {
            std::cmp::Ordering::Equal => Step::round(
                Cue::Plain,
                round_of(&m.needles, |ops, n| run(ops, Op::Knit, n)),
            ),
            std::cmp::Ordering::Less => {
                Step::round(Cue::Shape, at_the_back(&m.needles, &DECREASES))
            }
            std::cmp::Ordering::Greater => {
                Step::round(Cue::Shape, at_the_back(&m.needles, &INCREASES))
            }
        };
        let step = if round == 1 && opens_corners(m) {
            closed(&m.needles, step)?
        } else {
            step
        };
        m.step(step)?;
    }
    let end = match m.recipe.direction {
        Direction::CuffDown => m.numbers.heel,
        Direction::ToeUp => m.numbers.top_back(),
    };
    // a leg that was begun for another height may have too few rounds left
    if m.needles.stitches_of(Origin::Back) == end {
        Ok(())
    } else {
        Err(Refusal::RoundsMissing)
    }
}

/// What happens beside the middle of the back: how far from it (before it first), the operation, and
/// the stitches it takes. Two stitches in the middle stay plain.
type BackShaping = [(i32, Op, u16); 2];
const DECREASES: BackShaping = [(-3, Op::K2tog, 2), (1, Op::Ssk, 2)];
const INCREASES: BackShaping = [(-1, Op::MakeRight, 0), (1, Op::MakeLeft, 0)];

fn at_the_back(needles: &Needles, pair: &BackShaping) -> Vec<Op> {
    let middle = needles.stitches_of(Origin::Back) / 2;
    let place = |off: i32| u16::try_from(i32::from(middle) + off).unwrap_or(0);
    let mut next = pair.iter().peekable();
    let mut at = 0;
    round_of(needles, |ops, n| {
        let end = at + n;
        while let Some((off, op, takes)) = next.next_if(|(off, ..)| place(*off) < end) {
            run(ops, Op::Knit, place(*off).saturating_sub(at));
            ops.push(op.clone());
            at = place(*off) + takes;
        }
        run(ops, Op::Knit, end.saturating_sub(at));
        at = end;
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::written_ops::{read_ops, write_ops};

    #[test]
    fn shaping_lies_in_the_middle_of_the_back() {
        let mut needles = Needles::new();
        let cast = read_ops("co44+32 lo@22 lo@44 lo@0 join").expect("operations");
        needles.apply_all(&cast).expect("a leg");
        let told = |pair| write_ops(&at_the_back(&needles, pair));
        assert_eq!(told(&DECREASES), "k19 k2tog k1 / k1 ssk k19 / k32 /");
        assert_eq!(told(&INCREASES), "k21 m1r k1 / k1 m1l k21 / k32 /");
    }
}
