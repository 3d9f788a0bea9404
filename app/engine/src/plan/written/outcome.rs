//! What a sock by a pattern comes to, read from its steps.

use crate::needles::{Needles, Origin};
use crate::plan::model::{Section, end_move};
use crate::plan::numbers::Numbers;
use crate::plan::outcome::Outcome;
use crate::plan::section_kind::SectionKind;
use crate::plan::totals;
use crate::recipe::{Recipe, SockPart};
use crate::stitch::Op;

/// Reads the finished steps: counts are those that the needles carry, never those of a heel of ours that is not
/// knitted.
pub(super) fn outcome(
    recipe: &Recipe,
    numbers: &Numbers,
    sections: &[Section],
    peak: u16,
) -> Outcome {
    let mut outcome = totals::outcome(recipe, numbers, sections, peak);
    let seen = CountedFigures::of(sections);
    let rounds = |kinds: &[SectionKind]| -> u16 {
        let counted = sections
            .iter()
            .filter(|s| kinds.contains(&s.kind))
            .map(Section::counted)
            .sum::<usize>();
        u16::try_from(counted).unwrap_or(u16::MAX)
    };
    let leg = rounds(&[SectionKind::Cuff, SectionKind::Leg]);
    let foot = rounds(&[
        SectionKind::HeelTurn,
        SectionKind::Gusset,
        SectionKind::Foot,
        SectionKind::Toe,
    ]) + u16::from(seen.picked_up > 0);
    let heel_is_ours = recipe
        .written
        .as_ref()
        .is_some_and(|written| written.is_ours(SockPart::Heel));
    if seen.heel > 0 || !heel_is_ours {
        outcome.heel_stitches = seen.heel;
    }
    outcome.flap_rows = if seen.picked_up > 0 {
        rounds(&[SectionKind::HeelFlap])
    } else {
        0
    };
    outcome.turned = seen.turned;
    outcome.picked_up = seen.picked_up;
    outcome.toe_left = seen.toe_left;
    outcome.graft_pairs = if seen.grafted { seen.toe_left / 2 } else { 0 };
    outcome.leg_length = recipe.swatch.height_of(leg);
    outcome.foot_length = recipe.swatch.height_of(foot);
    outcome.leg_on_needles = recipe.swatch.unwashed_height_of(leg);
    outcome.foot_on_needles = recipe.swatch.unwashed_height_of(foot);
    outcome.cautions.clear();
    outcome
}

#[derive(Default)]
struct CountedFigures {
    heel: u16,
    turned: u16,
    picked_up: u16,
    toe_left: u16,
    grafted: bool,
}

impl CountedFigures {
    fn of(sections: &[Section]) -> Self {
        let mut seen = Self::default();
        let mut needles = Needles::new();
        for section in sections {
            section.kind.rename(&mut needles);
            if section.kind == SectionKind::Close {
                seen.toe_left = needles.stitches();
            }
            if section.kind == SectionKind::PickUp {
                seen.turned = needles.stitches_of(Origin::Heel);
            }
            for step in &section.steps {
                for (nth, mv) in step.moves.iter().enumerate() {
                    for op in &mv.ops {
                        seen.one(op);
                    }
                    // what was knitted a moment ago is not refused now
                    let known = needles.apply_all(&mv.ops).is_ok()
                        && end_move(&mut needles, step.form, nth + 1 == step.moves.len()).is_ok();
                    debug_assert!(known);
                }
                if section.kind == SectionKind::PickUp && seen.picked_up == 0 {
                    seen.picked_up = needles.stitches_of(Origin::GussetLeft);
                }
            }
        }
        seen
    }

    fn one(&mut self, op: &Op) {
        match op {
            Op::WorkFlat(n) | Op::WorkFlatBehind(n) if self.heel == 0 => self.heel = n.get(),
            Op::GraftStart => self.grafted = true,
            _ => {}
        }
    }
}
