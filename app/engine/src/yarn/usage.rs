//! How much yarn operations take, and what that weighs.

use std::cmp::Ordering;

use crate::plan::{Move, Plan, Section, SectionKind};
use crate::recipe::Ball;
use crate::stitch::{Op, Yarn};
use crate::swatch::Swatch;
use crate::trace::Position;

/// Munden's ks for the wet-relaxed state (dimensionless, lengths in cm).
pub const KS_WET: f64 = 21.6;

/// Yarn in one stitch, in centimetres.
pub fn loop_length_cm(swatch: &Swatch) -> f64 {
    let wales = f64::from(swatch.stitches) / swatch.width.as_cm();
    let courses = f64::from(swatch.rounds) / swatch.height.as_cm();
    (KS_WET / (wales * courses)).sqrt()
}

/// What a section asks of hands and ball.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Usage {
    /// Single operations: stitches worked, slipped, made, joined, grafted.
    pub worked: u32,
    /// Loops of yarn laid down, in hundredths of a plain stitch.
    pub loops_percent: u32,
}

/// Counts a section's operations. Factors (common practice, no source): a slipped stitch carries
/// half a stitch's yarn past itself; a ribbed stitch takes a twentieth more than a plain one.
pub fn usage(section: &Section) -> Usage {
    let mut sum = Usage::default();
    for mv in section.steps.iter().flat_map(|s| &s.moves) {
        add(&mut sum, &mv.ops, per_stitch(section.kind), 1);
    }
    sum
}

/// The same for each yarn over all sections, in the order of [`Yarn::ALL`].
pub fn usage_by_yarn(sections: &[Section]) -> [Usage; Yarn::ALL.len()] {
    let mut sums = [Usage::default(); Yarn::ALL.len()];
    let mut yarn = Yarn::default();
    for section in sections {
        for mv in section.steps.iter().flat_map(|s| &s.moves) {
            if let Some(Op::Yarn(other)) = mv.ops.first() {
                yarn = *other;
            }
            let sum = &mut sums[yarn as usize];
            add(sum, &mv.ops, per_stitch(section.kind), 1);
        }
    }
    sums
}

/// What one move asks for; nothing past the end.
pub fn usage_at(plan: &Plan, at: Position) -> Usage {
    let mut sum = Usage::default();
    each_move(plan, |here, _, kind, mv| {
        if here == at {
            add(&mut sum, &mv.ops, per_stitch(kind), 1);
        }
    });
    sum
}

/// Every move with its place and the yarn it is worked with.
fn each_move(plan: &Plan, mut look: impl FnMut(Position, Yarn, SectionKind, &Move)) {
    let mut yarn = Yarn::default();
    let mut step = 0;
    for section in &plan.sections {
        for one in &section.steps {
            for (mv, done) in one.moves.iter().enumerate() {
                if let Some(Op::Yarn(other)) = done.ops.first() {
                    yarn = *other;
                }
                look(Position { step, mv }, yarn, section.kind, done);
            }
            step += 1;
        }
    }
}

/// Of one yarn, or of all as one: what is asked for from a place to the end of the sock, and what the
/// move at that place asks for.
pub(crate) fn usage_of(plan: &Plan, at: Position, which: Option<Yarn>) -> (Usage, Usage) {
    let (mut rest, mut here) = (Usage::default(), Usage::default());
    each_move(plan, |place, yarn, kind, mv| {
        if which.is_none_or(|which| which == yarn) && place >= at {
            add(&mut rest, &mv.ops, per_stitch(kind), 1);
            if place == at {
                add(&mut here, &mv.ops, per_stitch(kind), 1);
            }
        }
    });
    (rest, here)
}

/// What is asked for from a place to the end of the sock.
pub fn usage_from(plan: &Plan, at: Position) -> Usage {
    let mut sum = Usage::default();
    let mut step = 0;
    for section in &plan.sections {
        for one in &section.steps {
            let done = match step.cmp(&at.step) {
                Ordering::Less => one.moves.len(),
                Ordering::Equal => at.mv,
                Ordering::Greater => 0,
            };
            for mv in one.moves.iter().skip(done) {
                add(&mut sum, &mv.ops, per_stitch(section.kind), 1);
            }
            step += 1;
        }
    }
    sum
}

/// Yarn of a worked stitch, in hundredths of a plain one.
const fn per_stitch(kind: SectionKind) -> u32 {
    match kind {
        SectionKind::Cuff => 105,
        _ => 100,
    }
}

fn add(sum: &mut Usage, ops: &[Op], per_stitch: u32, times: u32) {
    for op in ops {
        let (worked, loops) = match op {
            Op::Rare(stitch, n) if stitch.slipped() => (u32::from(n.get()), 50),
            Op::Knit(n)
            | Op::Rare(_, n)
            | Op::KnitWrapped(n)
            | Op::PurlWrapped(n)
            | Op::AsWritten(_, n)
            | Op::Purl(n)
            | Op::KnitThroughBackLoop(n)
            | Op::FoldJoin(n)
            | Op::KnitDouble(n)
            | Op::PurlDouble(n)
            | Op::BindOff(n)
            | Op::SewDown(n)
            | Op::KnitToSnip(n)
            | Op::PickUp(n)
            | Op::PickUpAlong(n)
            | Op::CastOn(n)
            // the second time with the working yarn
            | Op::Waste(n)
            | Op::Graft(n) => (u32::from(n.get()), per_stitch),
            Op::Slip(n) | Op::SlipYarnInFront(n) => (u32::from(n.get()), 50),
            // the stitch and the new one
            Op::Increase(increase) => (u32::from(increase.takes()) + 1, per_stitch),
            Op::K2tog
            | Op::Decrease(_)
            | Op::Ssk
            | Op::P2tog
            | Op::YarnOver
            | Op::YarnOverBehind
            | Op::MakeLeft
            | Op::MakeRight
            | Op::PickUpCorner
            | Op::KnitCorner
            | Op::GraftEnd => (1, per_stitch),
            Op::CastOnUneven(back, front) | Op::CastOnTubular(back, front) => {
                (u32::from(back.get()) + u32::from(front.get()), per_stitch)
            }
            // loops on both needles
            Op::CastOnWrapped(n) | Op::CastOnMagic(n) => (2 * u32::from(n.get()), per_stitch),
            Op::TurnDouble | Op::TurnWrapped => (1, 50),
            Op::Cross(cross) => (u32::from(cross.width()), per_stitch),
            Op::Repeat(inner, n) => {
                add(sum, inner, per_stitch, times * u32::from(n.get()));
                continue;
            }
            _ => continue,
        };
        sum.worked += worked * times;
        sum.loops_percent += worked * loops * times;
    }
}

/// Decimetres of yarn for a section, without allowance.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // finite, positive, far below u32
pub fn decimetres(usage: &Usage, loop_cm: f64) -> u32 {
    let cm = f64::from(usage.loops_percent) / 100.0 * loop_cm;
    (cm / 10.0 + 0.5) as u32
}

/// Whole metres with a tenth more for tails, swatch and doubt.
pub const fn with_allowance(decimetres: u32) -> u32 {
    (decimetres * 11).div_ceil(100)
}

/// Whole grams for so many metres, by the ball's band, rounded up.
pub fn grams(metres: u32, ball: Ball) -> u32 {
    (metres * u32::from(ball.grams)).div_ceil(u32::from(ball.metres.max(1)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::Recipe;

    #[test]
    fn parts_of_a_sock_add_up_to_the_sections() {
        let plan = make(&Recipe::default()).expect("a sock");
        let all: u32 = plan.sections.iter().map(|s| usage(s).loops_percent).sum();
        assert_eq!(usage_from(&plan, Position::default()).loops_percent, all);
        let mut left = all;
        for step in 0..20 {
            let moves = plan.step(step).expect("a step").moves.len();
            for mv in 0..moves {
                left -= usage_at(&plan, Position { step, mv }).loops_percent;
            }
            assert_eq!(
                usage_from(
                    &plan,
                    Position {
                        step: step + 1,
                        mv: 0
                    }
                )
                .loops_percent,
                left
            );
        }
        assert_eq!(
            usage_from(&plan, Position { step: 9_999, mv: 0 }),
            Usage::default()
        );
        assert_eq!(
            usage_at(&plan, Position { step: 9_999, mv: 0 }),
            Usage::default()
        );
    }
}
