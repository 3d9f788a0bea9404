//! The knitter counted what is on the needles: is that right, and if not, what happened?
//!
//! Two questions. *Count check*: the knitter has counted at a place of the sock; [`check`] says
//! whether the count fits, and else names the likeliest slips and the places that it does fit.
//! *Where was I*: the place is forgotten; [`seen`] lists every stretch of the sock that the count fits
//! and tells one round of it from another by what can be seen in the knitting. Both compare with what
//! the simulator saw, never with a formula. The words for it are in [`crate::text`].
//!
//! May use plans, traces and needles. Must not know the log, nor which sock of a pair it is.

pub mod seen;

use crate::needles::{Needles, Origin};
use crate::plan::{Cue, Plan, SectionKind};
use crate::stitch::Op;
use crate::trace::{Position, Trace};
use crate::within_round::{WithinRound, needles_of_round};

/// What a count may mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finding {
    /// Exactly what should be there.
    Right,
    /// It is what should be there at another place: the knitter is ahead or behind.
    Fits(Position),
    /// It is what should be there in the middle of a round: the work was put down after one of its needles.
    FitsWithin(WithinRound),
    /// One stitch too many on a needle: a decrease of an earlier step was not worked.
    MissedDecrease {
        /// Needle, from 0.
        needle: usize,
        /// The last step that takes stitches away on it.
        step: usize,
    },
    /// One stitch too few on a needle: an increase of an earlier step was not worked.
    MissedIncrease {
        /// Needle, from 0.
        needle: usize,
        /// The last step that makes stitches on it.
        step: usize,
    },
    /// One stitch too many on a needle: one more was picked up along the flap.
    PickedUpOneMore {
        /// Needle, from 0.
        needle: usize,
    },
    /// One stitch too few on a needle: one less was picked up along the flap.
    PickedUpOneLess {
        /// Needle, from 0.
        needle: usize,
    },
    /// One stitch too many on a needle: a yarn over by mistake, or a split stitch.
    ExtraStitch {
        /// Needle, from 0.
        needle: usize,
    },
    /// One stitch too few on a needle: it was dropped, or two were worked together.
    DroppedStitch {
        /// Needle, from 0.
        needle: usize,
    },
    /// The counts are right in sum, but stitches sit on the wrong needle.
    WrongNeedle,
    /// Nothing that one slip explains.
    Unexplained,
}

/// What a count at a place may mean, the likeliest first. `counted` holds one number for each
/// needle in the order in which they are worked from the beginning of the round, before the move at
/// `at` is begun; a single number is the sum over all needles.
pub fn check(plan: &Plan, trace: &Trace, at: Position, counted: &[u16]) -> Vec<Finding> {
    check_within(plan, trace, at.into(), counted)
}

/// The same at a place within a round.
///
/// A round that was put down in the middle is named first where it is the one at hand: a needle that was worked
/// since the last touch is likelier than a slip. Where it is the round before, whose last needle was
/// touched too early, a slip comes first.
pub fn check_within(
    plan: &Plan,
    trace: &Trace,
    place: WithinRound,
    counted: &[u16],
) -> Vec<Finding> {
    let at = place.at;
    let Some(needles) = trace.needles_within(place) else {
        return vec![if counted.iter().all(|n| *n == 0) {
            Finding::Right
        } else {
            Finding::Unexplained
        }];
    };
    let expected = as_counted(needles, counted);
    if expected == counted {
        return vec![Finding::Right];
    }
    let mut found = Vec::with_capacity(4);
    found.extend(within(plan, trace, at, counted));
    if let Some((needle, more)) = one_off(&expected, counted) {
        let here = Slip {
            plan,
            trace,
            at,
            through: at.step + usize::from(needle < place.needles),
            needle,
        };
        if more {
            found.extend(here.one_more());
        } else {
            found.extend(here.one_less());
        }
    } else if expected.len() == counted.len() && sum(&expected) == sum(counted) {
        found.push(Finding::WrongNeedle);
    }
    let before = at.step.checked_sub(1).map(|step| Position { step, mv: 0 });
    found.extend(before.and_then(|before| within(plan, trace, before, counted)));
    let fits = nearest(trace, at, counted).map(Finding::Fits);
    found.extend(fits.filter(|fits| !found.contains(fits)));
    if found.is_empty() {
        found.push(Finding::Unexplained);
    }
    found
}

/// What is on the needles, needle by needle or as one sum, as it was counted.
fn as_counted(needles: &Needles, counted: &[u16]) -> Vec<u16> {
    if counted.len() == 1 {
        vec![needles.stitches()]
    } else {
        needles.per_needle()
    }
}

fn same(needles: &Needles, counted: &[u16]) -> bool {
    as_counted(needles, counted) == counted
}

fn sum(counts: &[u16]) -> u32 {
    counts.iter().map(|n| u32::from(*n)).sum()
}

/// The one needle that has one stitch more or less than it should; `true` for more.
fn one_off(expected: &[u16], counted: &[u16]) -> Option<(usize, bool)> {
    if expected.len() != counted.len() {
        return None;
    }
    let mut off = expected
        .iter()
        .zip(counted)
        .enumerate()
        .filter(|(_, (e, c))| e != c);
    let (needle, (e, c)) = off.next()?;
    (off.next().is_none() && e.abs_diff(*c) == 1).then_some((needle, c > e))
}

/// The place in the middle of a round that a count fits, and that alone: before and after the round it is
/// another.
fn within(plan: &Plan, trace: &Trace, at: Position, counted: &[u16]) -> Option<Finding> {
    let seen = trace.steps.get(at.step)?;
    if same(&seen.before, counted) || same(seen.after(), counted) {
        return None;
    }
    (1..needles_of_round(plan, trace, at))
        .map(|needles| WithinRound { at, needles })
        .find(|place| fits(trace, *place, counted))
        .map(Finding::FitsWithin)
}

/// Whether these counts are on the needles at a place.
pub fn fits(trace: &Trace, place: WithinRound, counted: &[u16]) -> bool {
    let there = trace.needles_within(place);
    there.is_some_and(|there| same(there, counted))
}

/// The place nearest to `at` that a count fits.
fn nearest(trace: &Trace, at: Position, counted: &[u16]) -> Option<Position> {
    trace
        .steps
        .iter()
        .enumerate()
        .filter(|(_, step)| same(&step.before, counted))
        .min_by_key(|(i, _)| i.abs_diff(at.step))
        .map(|(step, _)| Position { step, mv: 0 })
}

/// One needle is off by one at a place.
struct Slip<'a> {
    plan: &'a Plan,
    trace: &'a Trace,
    at: Position,
    /// The first step that this needle has not been worked in.
    through: usize,
    needle: usize,
}

impl Slip<'_> {
    fn one_more(&self) -> Vec<Finding> {
        let mut found = Vec::with_capacity(2);
        let needle = self.needle;
        let picked_up = self.picked_up();
        let shaped = self.last_shaping(|before, after| after < before);
        // Right after the pick-up nothing has been decreased yet; later a decrease is missed more
        // easily than a stitch too many is overlooked since then.
        if let Some(step) = shaped {
            found.push(Finding::MissedDecrease { needle, step });
        }
        if picked_up {
            found.push(Finding::PickedUpOneMore { needle });
        }
        if found.len() < 2 {
            found.push(Finding::ExtraStitch { needle });
        }
        found
    }

    fn one_less(&self) -> Vec<Finding> {
        let needle = self.needle;
        let mut found = vec![Finding::DroppedStitch { needle }];
        if self.picked_up() {
            found.push(Finding::PickedUpOneLess { needle });
        }
        if let Some(step) = self.last_shaping(|before, after| after > before) {
            found.push(Finding::MissedIncrease { needle, step });
        }
        found
    }

    /// Whether stitches were picked up onto this needle not long before.
    fn picked_up(&self) -> bool {
        let Some(here) = self.trace.steps.get(self.at.step) else {
            return false;
        };
        let gusset = |o| matches!(o, Origin::GussetLeft | Origin::GussetRight);
        matches!(here.kind, SectionKind::PickUp | SectionKind::Gusset)
            && here.before.holds(self.needle, gusset)
    }

    /// The last step before the place, in the same section, that changed this needle's count by
    /// shaping in the wanted direction.
    fn last_shaping(&self, wanted: fn(u16, u16) -> bool) -> Option<usize> {
        let here = self.trace.steps.get(self.at.step)?;
        // At a section's first step the section before it is the one to look into.
        let section = if here.index == 0 && self.through == self.at.step {
            here.section.checked_sub(1)?
        } else {
            here.section
        };
        (0..self.through)
            .rev()
            .take_while(|i| {
                self.trace
                    .steps
                    .get(*i)
                    .is_some_and(|s| s.section == section)
            })
            .find(|i| self.shapes(*i, wanted))
    }

    fn shapes(&self, step: usize, wanted: fn(u16, u16) -> bool) -> bool {
        let (Some(done), Some(seen)) = (self.plan.step(step), self.trace.steps.get(step)) else {
            return false;
        };
        let shaping = done
            .moves
            .iter()
            .any(|m| m.cue == Cue::Shape && !m.ops.contains(&Op::TurnDouble));
        let before = seen.before.per_needle().get(self.needle).copied();
        let after = seen.after().per_needle().get(self.needle).copied();
        shaping && before.zip(after).is_some_and(|(b, a)| wanted(b, a))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::Recipe;

    fn sock() -> (Plan, Trace) {
        let recipe = Recipe {
            stitches: Some(64),
            ..Recipe::default()
        };
        let plan = make(&recipe).expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        (plan, trace)
    }

    fn first(trace: &Trace, kind: SectionKind) -> usize {
        trace
            .steps
            .iter()
            .position(|s| s.kind == kind)
            .expect("there is such a section")
    }

    #[test]
    fn a_right_count_is_right_at_every_step() {
        let (plan, trace) = sock();
        for (step, seen) in trace.steps.iter().enumerate() {
            let at = Position { step, mv: 0 };
            assert_eq!(
                check(&plan, &trace, at, &seen.before.per_needle()),
                [Finding::Right]
            );
        }
    }

    #[test]
    fn a_sum_over_all_needles_is_compared_with_their_sum() {
        let (plan, trace) = sock();
        let toe = first(&trace, SectionKind::Toe);
        let at = Position { step: toe, mv: 0 };
        assert_eq!(check(&plan, &trace, at, &[64]), [Finding::Right]);
        assert!(
            check(&plan, &trace, at, &[60])
                .iter()
                .any(|f| matches!(f, Finding::Fits(_)))
        );
    }

    #[test]
    fn a_missed_decrease_is_the_first_thing_named() {
        let (plan, trace) = sock();
        let gusset = first(&trace, SectionKind::Gusset);
        let at = Position {
            step: gusset + 1,
            mv: 0,
        };
        let found = check(&plan, &trace, at, &[42, 41]);
        assert_eq!(
            found[0],
            Finding::MissedDecrease {
                needle: 0,
                step: gusset
            }
        );
    }

    #[test]
    fn the_round_before_is_found_when_the_touch_came_too_early() {
        let (plan, trace) = sock();
        let toe = first(&trace, SectionKind::Toe);
        let at = Position {
            step: toe + 3,
            mv: 0,
        };
        let found = check(&plan, &trace, at, &[30, 30]);
        assert_eq!(
            found,
            [Finding::Fits(Position {
                step: toe + 2,
                mv: 0
            })]
        );
    }

    #[test]
    fn a_round_put_down_in_the_middle_is_named_first() {
        let (plan, trace) = sock();
        let at = Position {
            step: first(&trace, SectionKind::Gusset),
            mv: 0,
        };
        // 42 and 42 before the round, 41 and 42 once needle 1 is decreased
        let half = WithinRound { at, needles: 1 };
        let found = check(&plan, &trace, at, &[41, 42]);
        assert_eq!(found[0], Finding::FitsWithin(half));
        assert_eq!(found[1], Finding::DroppedStitch { needle: 0 });
        // and where it was touched, it is what should be there
        assert_eq!(
            check_within(&plan, &trace, half, &[41, 42]),
            [Finding::Right]
        );
        // not so on needle 2, which is worked last
        let found = check(&plan, &trace, at, &[42, 41]);
        assert_eq!(found[0], Finding::DroppedStitch { needle: 1 });
    }

    #[test]
    fn a_round_touched_before_its_last_needle_is_named_after_the_slip() {
        let (plan, trace) = sock();
        let round = Position {
            step: first(&trace, SectionKind::Gusset),
            mv: 0,
        };
        let at = trace.advance(round);
        let found = check(&plan, &trace, at, &[41, 42]);
        let missed = Finding::MissedDecrease {
            needle: 1,
            step: round.step,
        };
        assert_eq!(found[0], missed);
        let half = WithinRound {
            at: round,
            needles: 1,
        };
        assert!(found.contains(&Finding::FitsWithin(half)), "{found:?}");
    }

    #[test]
    fn within_a_round_slips_are_told_of_the_needles_as_they_are() {
        let (plan, trace) = sock();
        let at = Position {
            step: first(&trace, SectionKind::Gusset),
            mv: 0,
        };
        let half = WithinRound { at, needles: 1 };
        // the decrease of the round at hand, on the needle that is done
        assert_eq!(
            check_within(&plan, &trace, half, &[42, 42]),
            [
                Finding::MissedDecrease {
                    needle: 0,
                    step: at.step
                },
                Finding::PickedUpOneMore { needle: 0 },
                Finding::Fits(at),
            ]
        );
    }

    #[test]
    fn one_more_right_after_the_pick_up_was_picked_up() {
        let (plan, trace) = sock();
        let at = Position {
            step: first(&trace, SectionKind::Gusset),
            mv: 0,
        };
        assert_eq!(
            check(&plan, &trace, at, &[42, 43])[..1],
            [Finding::PickedUpOneMore { needle: 1 }]
        );
    }
}
