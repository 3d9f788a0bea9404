//! What is said once, on the first round or row of a section.

use crate::plan::{Plan, Section, SectionKind};
use crate::recipe::{Direction, Edge, FlapTexture, Heel, Toe};
use crate::text::messages::Note;

/// Notes on the first rounds of a section.
pub(super) fn first_of_section(plan: &Plan, section: &Section, index: usize) -> Option<Note> {
    if section.number(index) != Some(1) {
        return None;
    }
    let out = &plan.outcome;
    let direction = plan.recipe.direction;
    let up = direction == Direction::ToeUp;
    Some(match section.kind {
        SectionKind::Cuff => match plan.recipe.cuff.edge {
            Edge::Rib(_) => return None,
            Edge::Hem { .. } if up => Note::HemOutside,
            Edge::Hem { .. } => Note::HemInside,
            Edge::Rolled => Note::RolledEdge,
        },
        SectionKind::Leg if plan.recipe.shapes_leg() => Note::ShapedLeg,
        SectionKind::HeelFlap => Note::Flap(direction, texture(plan), out.heel_stitches),
        SectionKind::HeelTurn if up => Note::TurnUp(out.heel_stitches),
        SectionKind::HeelTurn => Note::TurnDown(out.turned),
        SectionKind::ShortHeel => Note::ShortRowHeel(out.heel_stitches),
        SectionKind::Gusset if up => Note::GussetUp(out.peak),
        SectionKind::Gusset => Note::GussetDown(out.stitches),
        SectionKind::Toe => match plan.recipe.toe {
            Toe::ShortRow => Note::ShortRowToe(direction, out.heel_stitches),
            Toe::Shaped { foot } => Note::ShapedToe(direction, foot),
            Toe::Wedge { .. } | Toe::Round if up => Note::ToeUp(out.stitches),
            Toe::Wedge { .. } => Note::WedgeToe(out.graft_pairs),
            Toe::Round => Note::RoundToe(out.toe_left),
        },
        SectionKind::LateHeel => Note::AfterthoughtHeel,
        _ => return None,
    })
}

fn texture(plan: &Plan) -> FlapTexture {
    match plan.recipe.heel {
        Heel::FlapAndGusset { texture, .. } => texture,
        // no other heel has a flap
        Heel::ShortRow { .. } | Heel::Afterthought => FlapTexture::default(),
    }
}
