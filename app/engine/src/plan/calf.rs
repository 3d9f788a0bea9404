//! A leg that follows the calf: how many stitches it has at each height. What it has more than the
//! ankle lies at the back, so that front, instep and foot never change.

use super::layout::round_of;
use super::make::Maker;
use super::{Cue, Step};
use crate::error::{FieldError, Problem};
use crate::knit::Refusal;
use crate::needles::{Needles, Origin};
use crate::recipe::{Direction, Girth, Recipe, TOP_STITCHES};
use crate::stitch::{Op, run};

/// Pairs of stitches more than at the ankle, by height.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Profile {
    /// Rounds above the heel, ascending from 0, and pairs there; straight lines between.
    points: Vec<(u16, u16)>,
}

impl Profile {
    /// Decides the stitches of a leg of so many rounds under the cuff.
    pub(super) fn decide(
        recipe: &Recipe,
        calf: &[Girth],
        around: u16,
        leg: u16,
    ) -> Result<Self, FieldError> {
        let mut points = vec![(0, 0)];
        for girth in calf {
            let (below, pairs_below) = points[points.len() - 1];
            if below == leg {
                break;
            }
            let height = u16::try_from(recipe.swatch.rounds_in(girth.height)).unwrap_or(u16::MAX);
            let pairs = pairs_of(recipe, around, *girth);
            if height <= below {
                return Err(wrong(Problem::GirthsInOneRound {
                    height: girth.height,
                }));
            }
            points.push(if height > leg {
                (leg, between((below, pairs_below), (height, pairs), leg))
            } else {
                (height, pairs)
            });
        }
        let (last, pairs) = points[points.len() - 1];
        if last < leg {
            points.push((leg, pairs));
        }
        // every rib has whole repeats in a multiple of four
        if let Some((_, top)) = points.last_mut() {
            *top = top.next_multiple_of(2);
        }
        let profile = Self { points };
        profile.check(around, leg)?;
        Ok(profile)
    }

    fn check(&self, around: u16, leg: u16) -> Result<(), FieldError> {
        let steep = (1..=leg).find(|r| self.at(*r).abs_diff(self.at(r - 1)) > 1);
        if let Some(round) = steep {
            return Err(wrong(Problem::LegTooSteep { round }));
        }
        let widest = self
            .points
            .iter()
            .map(|(_, pairs)| around + 2 * pairs)
            .max();
        match widest {
            Some(n) if n > *TOP_STITCHES.end() => Err(wrong(Problem::LegTooWide {
                stitches: n,
                most: *TOP_STITCHES.end(),
            })),
            _ => Ok(()),
        }
    }

    /// Pairs at so many rounds above the heel; above the line's end it goes on upright.
    pub(super) fn at(&self, round: u16) -> u16 {
        self.points
            .windows(2)
            .find(|w| (w[0].0..=w[1].0).contains(&round))
            .map_or(self.top(), |w| between(w[0], w[1], round))
    }

    /// Pairs at the cuff.
    pub(super) fn top(&self) -> u16 {
        self.points.last().map_or(0, |(_, pairs)| *pairs)
    }
}

fn wrong(problem: Problem) -> FieldError {
    FieldError::new("calf", problem)
}

/// Pairs that a circumference takes beyond those of the ankle, less the ease; none where the leg is
/// narrower.
fn pairs_of(recipe: &Recipe, around: u16, girth: Girth) -> u16 {
    let swatch = &recipe.swatch;
    let share = u64::from(100 - recipe.fit.ease_percent) * u64::from(swatch.stitches);
    let width = 100 * u64::from(swatch.width.0.max(1));
    let wanted = u64::from(girth.circumference.0) * share;
    let more = wanted.saturating_sub(u64::from(around) * width);
    u16::try_from((more + width) / (2 * width)).unwrap_or(u16::MAX)
}

/// The height `round` on the line between two points, to the nearest whole.
fn between(low: (u16, u16), high: (u16, u16), round: u16) -> u16 {
    let [(x0, y0), (x1, y1)] = [low, high].map(|(x, y)| (i64::from(x), i64::from(y)));
    let length = (x1 - x0).max(1);
    let rise = (y1 - y0) * (i64::from(round) - x0);
    let pairs = y0 + (2 * rise + length).div_euclid(2 * length);
    u16::try_from(pairs).unwrap_or(0)
}

/// The leg, round by round.
pub(super) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
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
        // towards it: nobody makes stitches only to take them away again.
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
type Pair = [(i32, Op, u16); 2];
const DECREASES: Pair = [(-3, Op::K2tog, 2), (1, Op::Ssk, 2)];
const INCREASES: Pair = [(-1, Op::MakeRight, 0), (1, Op::MakeLeft, 0)];

fn at_the_back(needles: &Needles, pair: &Pair) -> Vec<Op> {
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
    use crate::plan::make;
    use crate::recipe::Method;
    use crate::stitch::write_ops;
    use crate::trace::Trace;
    use crate::units::Length;

    fn knee_sock(direction: Direction, needles: Method) -> Recipe {
        let girth = |height, circumference| Girth {
            height: Length::cm(height),
            circumference: Length::cm(circumference),
        };
        Recipe {
            direction,
            needles,
            stitches: Some(64),
            leg: Length::cm(40),
            calf: vec![girth(22, 36), girth(36, 33)],
            ..Recipe::default()
        }
    }

    #[test]
    fn a_knee_sock_is_as_wide_as_the_calf_at_its_height() {
        for direction in [Direction::CuffDown, Direction::ToeUp] {
            for needles in Method::ALL {
                let recipe = knee_sock(direction, needles);
                let plan = make(&recipe).expect("a knee sock");
                let trace = Trace::of(&plan).expect("it can be knitted");
                // 36 cm less 10 % at 30 stitches to 10 cm are 97.2; 33 cm are 89.1
                let widest = trace.steps.iter().map(|s| s.after().stitches()).max();
                assert_eq!(widest, Some(98), "{needles:?}");
                assert_eq!(plan.outcome.cast_on, 92, "{needles:?}");
            }
        }
    }

    #[test]
    fn shaping_lies_in_the_middle_of_the_back() {
        let mut needles = Needles::new();
        let cast = crate::stitch::read_ops("co44+32 lo@22 lo@44 lo@0 join").expect("operations");
        needles.apply_all(&cast).expect("a leg");
        let told = |pair| write_ops(&at_the_back(&needles, pair));
        assert_eq!(told(&DECREASES), "k19 k2tog k1 / k1 ssk k19 / k32 /");
        assert_eq!(told(&INCREASES), "k21 m1r k1 / k1 m1l k21 / k32 /");
    }

    #[test]
    fn a_leg_that_widens_at_once_is_refused() {
        let mut recipe = knee_sock(Direction::CuffDown, Method::default());
        recipe.calf = vec![Girth {
            height: Length::cm(2),
            circumference: Length::cm(50),
        }];
        let refused = make(&recipe).expect_err("too steep");
        assert_eq!(refused[0].field, "calf");
    }
}
