//! What replanning changes, for the knitter to look at before accepting it.

use super::model::{Plan, StepForm};
use super::outcome::Outcome;
use super::section_kind::SectionKind;
use crate::recipe::Method;
use crate::units::Length;

/// One thing that is not as it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// Stitches are moved to other needles before anything else is knitted.
    Needles {
        /// Those they are on.
        from: Method,
        /// Those they move to.
        to: Method,
    },
    /// A section has more or fewer rounds, rows or moves; one that is new had none before, one that
    /// goes has none after.
    Section {
        /// Which.
        kind: SectionKind,
        /// How many it had.
        before: usize,
        /// How many it has.
        after: usize,
    },
    /// The finished foot.
    Foot {
        /// As it would have been.
        before: Length,
        /// As it will be.
        after: Length,
    },
    /// The finished leg with its cuff.
    Leg {
        /// As it would have been.
        before: Length,
        /// As it will be.
        after: Length,
    },
    /// Metres of yarn for one sock.
    Yarn {
        /// As they would have been.
        before: u32,
        /// As they will be.
        after: u32,
    },
}

/// Everything that differs between a plan and the one that takes its place, in the order of the
/// knitting, and what that comes to.
pub fn changes(old: &Plan, new: &Plan) -> Vec<Change> {
    let mut all = Vec::new();
    let (from, to) = (old.recipe.needles, new.recipe.needles);
    if from != to {
        all.push(Change::Needles { from, to });
    }
    let kinds =
        |plan: &Plan| -> Vec<SectionKind> { plan.sections.iter().map(|s| s.kind).collect() };
    let mut in_order = kinds(new);
    in_order.extend(kinds(old).into_iter().filter(|k| !kinds(new).contains(k)));
    for kind in in_order {
        let [before, after] = [old, new].map(|plan| parts(plan, kind));
        if before != after {
            all.push(Change::Section {
                kind,
                before,
                after,
            });
        }
    }
    let outcomes = [&old.outcome, &new.outcome];
    let [before, after] = outcomes.map(|o| o.foot_length);
    if before != after {
        all.push(Change::Foot { before, after });
    }
    let [before, after] = outcomes.map(|o| o.leg_length);
    if before != after {
        all.push(Change::Leg { before, after });
    }
    let [before, after] = outcomes.map(|o: &Outcome| o.metres);
    if before != after {
        all.push(Change::Yarn { before, after });
    }
    all
}

/// Rounds and rows of a section; of one that has none, the moves that are walked, but not those that
/// only move stitches between the needles.
fn parts(plan: &Plan, kind: SectionKind) -> usize {
    let Some(section) = plan.sections.iter().find(|s| s.kind == kind) else {
        return 0;
    };
    match section.counted() {
        0 => section
            .steps
            .iter()
            .filter(|s| s.form == StepForm::Walk)
            .map(|s| s.moves.len())
            .sum(),
        counted => counted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{make, replan};
    use crate::recipe::{Adjust, Heel, Recipe};

    #[test]
    fn a_longer_foot_and_other_needles_are_told() {
        let recipe = Recipe::default();
        let old = make(&recipe).expect("a sock");
        let wish = Recipe {
            needles: Method::FourDpns,
            adjust: Adjust { leg: 0, foot: 5 },
            ..recipe
        };
        let new = replan(&old, 40, &wish).expect("it can be changed");
        let said = changes(&old, &new);
        assert_eq!(
            said[0],
            Change::Needles {
                from: old.recipe.needles,
                to: Method::FourDpns
            }
        );
        let foot = said.iter().find_map(|c| match c {
            Change::Section {
                kind: SectionKind::Foot,
                before,
                after,
            } => Some(after - before),
            _ => None,
        });
        assert_eq!(foot, Some(5));
        assert!(
            said.iter()
                .any(|c| matches!(c, Change::Foot { before, after } if after > before))
        );
        assert_eq!(changes(&old, &old), []);
    }

    #[test]
    fn another_heel_goes_and_comes() {
        let recipe = Recipe::default();
        let old = make(&recipe).expect("a sock");
        let wish = Recipe {
            heel: Heel::ShortRow { between: 0 },
            ..recipe
        };
        let new = replan(&old, 40, &wish).expect("the heel is not begun");
        let said = changes(&old, &new);
        let told = |kind, gone: bool| {
            said.iter().any(|c| match c {
                Change::Section {
                    kind: k,
                    before,
                    after,
                } => *k == kind && (if gone { *after } else { *before }) == 0,
                _ => false,
            })
        };
        assert!(told(SectionKind::ShortHeel, false));
        assert!(told(SectionKind::HeelFlap, true) && told(SectionKind::PickUp, true));
    }
}
