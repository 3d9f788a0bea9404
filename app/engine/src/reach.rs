//! How long the knitting is by now and how long it is to be, where a knitter lays the tape measure: a leg from
//! the cast-on edge, a foot from the back of the heel or from the tip of the toe. Rounds are the simulator's
//! counts; their height is the swatch's, unwashed where that was measured: what is on the needles is unwashed.
//!
//! Uses plans; decides nothing and has no words.

use crate::plan::{Plan, SectionKind};
use crate::recipe::{Direction, Edge, Toe};
use crate::trace::{Position, ProgressUnit, SectionProgress};
use crate::units::Length;

/// Where the tape measure begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ReachFrom {
    /// At the cast-on edge of the cuff.
    CastOnEdge,
    /// At the back of the heel.
    BackOfHeel,
    /// At the tip of the toe.
    TipOfToe,
    /// Where the leg begins above the heel, from the toe up.
    AboveHeel,
    /// Where this part of the sock begins.
    BeginningOfPart,
}

/// A length that grows with the rounds of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reach {
    /// How long it is before the step at hand is worked.
    pub done: Length,
    /// How long it is when the part ends.
    pub due: Length,
    /// From where.
    pub from: ReachFrom,
}

/// The length that the step at hand adds to; `None` where it adds to none, in rows and walks and on a hem,
/// which is folded, and where a written pattern may not know it.
pub fn reach(plan: &Plan, at: Position) -> Option<Reach> {
    if plan.recipe.written.is_some() {
        return None;
    }
    let all = plan.section_progress(at);
    let mut begun = all.iter().filter(|section| section.of > 0);
    let here = begun.rfind(|section| section.first <= at.step)?;
    if here.counted != ProgressUnit::Rounds || plan.step(at.step).is_none() {
        return None;
    }
    if here.kind == SectionKind::Cuff && matches!(plan.recipe.cuff.edge, Edge::Hem { .. }) {
        return None;
    }
    let sock = PlanLengths { plan, all: &all };
    let (due, from) = sock.due(here.kind);
    let left = sock.tall(here.kind, here.of - here.done);
    Some(Reach {
        done: due.less(left),
        due,
        from,
    })
}

struct PlanLengths<'a> {
    plan: &'a Plan,
    all: &'a [SectionProgress],
}

impl PlanLengths<'_> {
    /// The height of a number of rounds of a part, as they are on the needles.
    fn tall(&self, part: SectionKind, rounds: usize) -> Length {
        let rounds = u16::try_from(rounds).unwrap_or(u16::MAX);
        self.plan.rounds_on_needles(part, rounds)
    }

    /// The height of some parts together.
    fn long(&self, parts: &[SectionKind]) -> Length {
        let of_these = self
            .all
            .iter()
            .filter(|section| parts.contains(&section.kind));
        of_these.fold(Length::default(), |sum, section| {
            let more = self.tall(section.kind, section.of);
            Length(sum.0.saturating_add(more.0))
        })
    }

    /// How long the sock is where a part ends.
    fn due(&self, part: SectionKind) -> (Length, ReachFrom) {
        use SectionKind::{Cuff, Foot, Gusset, Leg};

        let Plan {
            recipe, outcome, ..
        } = self.plan;
        let leg = outcome.leg_on_needles.unwrap_or(outcome.leg_length);
        let foot = outcome.foot_on_needles.unwrap_or(outcome.foot_length);
        // A toe in short rows is no number of rounds tall.
        let toe_is_rounds = recipe.toe != Toe::ShortRow;
        match (recipe.direction, part) {
            (Direction::CuffDown, Leg) => (leg, ReachFrom::CastOnEdge),
            (Direction::CuffDown, Cuff) => (self.long(&[Cuff]), ReachFrom::CastOnEdge),
            (Direction::CuffDown, Gusset | Foot | SectionKind::Toe)
                if !recipe.heel.is_knitted_last() && toe_is_rounds =>
            {
                let after: &[SectionKind] = match part {
                    Gusset => &[Foot, SectionKind::Toe],
                    Foot => &[SectionKind::Toe],
                    _ => &[],
                };
                (foot.less(self.long(after)), ReachFrom::BackOfHeel)
            }
            (Direction::ToeUp, SectionKind::Toe | Foot | Gusset) if toe_is_rounds => {
                let until: &[SectionKind] = match part {
                    Gusset => &[SectionKind::Toe, Foot, Gusset],
                    Foot => &[SectionKind::Toe, Foot],
                    _ => &[SectionKind::Toe],
                };
                (self.long(until), ReachFrom::TipOfToe)
            }
            (Direction::ToeUp, Leg) => (self.long(&[Leg]), ReachFrom::AboveHeel),
            (Direction::ToeUp, Cuff) => (leg, ReachFrom::AboveHeel),
            _ => (self.long(&[part]), ReachFrom::BeginningOfPart),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::{Heel, HeelOpening, Recipe};
    use crate::swatch::{Swatch, Unwashed};
    use crate::trace::Trace;

    fn along(plan: &Plan) -> Vec<(SectionKind, Reach)> {
        let trace = Trace::of(plan).expect("it can be knitted");
        let places = (0..trace.steps.len()).map(|step| Position { step, mv: 0 });
        places
            .filter_map(|at| Some((trace.steps[at.step].kind, reach(plan, at)?)))
            .collect()
    }

    fn last(all: &[(SectionKind, Reach)], part: SectionKind) -> Reach {
        all.iter()
            .rfind(|(kind, _)| *kind == part)
            .expect("it is there")
            .1
    }

    #[test]
    fn a_leg_is_measured_from_the_edge_and_a_foot_from_the_heel() {
        let plan = make(&Recipe::default()).expect("a sock");
        let all = along(&plan);
        let (kind, first) = all[0];
        assert_eq!(kind, SectionKind::Cuff);
        assert_eq!(
            (first.done, first.from),
            (Length::default(), ReachFrom::CastOnEdge)
        );
        let leg = last(&all, SectionKind::Leg);
        assert_eq!(leg.due, plan.outcome.leg_length);
        let toe = last(&all, SectionKind::Toe);
        assert_eq!(
            (toe.due, toe.from),
            (plan.outcome.foot_length, ReachFrom::BackOfHeel)
        );
        // one part goes on where the one before it ends
        let foot = last(&all, SectionKind::Foot);
        let begins = all.iter().find(|(kind, _)| *kind == SectionKind::Toe);
        let begins = begins.expect("a toe").1.done;
        assert!(begins.0.abs_diff(foot.due.0) <= 1, "{begins} {}", foot.due);
        let step = plan.sections.iter().map(|s| s.steps.len()).sum();
        assert_eq!(reach(&plan, Position { step, mv: 0 }), None);
    }

    #[test]
    fn every_round_makes_it_longer_by_a_round() {
        let up = Recipe {
            direction: Direction::ToeUp,
            ..Recipe::default()
        };
        let late = Recipe {
            heel: Heel::Afterthought {
                opening: HeelOpening::default(),
            },
            ..Recipe::default()
        };
        let short = Recipe {
            toe: Toe::ShortRow,
            ..Recipe::default()
        };
        for recipe in [Recipe::default(), up, late, short] {
            let plan = make(&recipe).expect("a sock");
            let round = plan.recipe.swatch.height_of(1);
            let all = along(&plan);
            assert!(!all.is_empty());
            for pair in all.windows(2) {
                let [(part, before), (next, now)] = pair else {
                    unreachable!()
                };
                assert!(now.done < now.due, "{next:?} {now:?}");
                if part == next && before.done != now.done {
                    let grown = now.done.less(before.done).0;
                    assert!(grown.abs_diff(round.0) <= 1, "{part:?} {before:?} {now:?}");
                }
            }
        }
    }

    #[test]
    fn what_is_on_the_needles_is_measured_unwashed() {
        let recipe = Recipe {
            swatch: Swatch {
                unwashed: Some(Unwashed {
                    width: Length::mm(97),
                    height: Length::mm(110),
                }),
                ..Swatch::default()
            },
            ..Recipe::default()
        };
        let plan = make(&recipe).expect("a sock");
        let leg = last(&along(&plan), SectionKind::Leg);
        assert_eq!(Some(leg.due), plan.outcome.leg_on_needles);
        assert!(leg.due > plan.outcome.leg_length);
    }

    #[test]
    fn a_folded_hem_is_measured_when_it_is_folded() {
        let mut recipe = Recipe::default();
        recipe.cuff.edge = Edge::Hem { picot: true };
        let plan = make(&recipe).expect("a sock");
        let all = along(&plan);
        assert!(all.iter().all(|(kind, _)| *kind != SectionKind::Cuff));
        assert_eq!(last(&all, SectionKind::Leg).due, plan.outcome.leg_length);
    }
}
