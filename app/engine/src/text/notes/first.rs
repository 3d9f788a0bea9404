//! What is said once, on the first round or row of a section. Its numbers are those of the simulator's
//! needles, as the section finds and leaves them.

use crate::needles::{Item, Needles, Origin};
use crate::plan::{Plan, SectionKind};
use crate::recipe::{Direction, Edge, FlapTexture, Heel, Toe};
use crate::stitch::Op;
use crate::text::messages::Note;
use crate::trace::{Position, Trace};

/// The note on a step that is the first round or row of its section.
pub(super) fn first_of_section(plan: &Plan, trace: &Trace, step: usize) -> Option<Note> {
    let seen = trace.steps.get(step)?;
    let section = plan.sections.get(seen.section)?;
    if section.number(seen.index) != Some(1) {
        return None;
    }
    // what the pattern's part is like its own words say
    if plan.follows_pattern(section.kind) {
        return None;
    }
    let direction = plan.recipe.direction;
    let up = direction == Direction::ToeUp;
    let before = &seen.before;
    let end = last_of_section(trace, step)?;
    Some(match section.kind {
        SectionKind::Cuff => match plan.recipe.cuff.edge {
            Edge::Rib(_) => return None,
            Edge::Hem { .. } if up => Note::HemOutside,
            Edge::Hem { .. } => Note::HemInside,
            Edge::Rolled => Note::RolledEdge,
        },
        SectionKind::Leg if plan.recipe.shapes_leg() => Note::ShapedLeg {
            measured: !plan.recipe.calf.is_empty(),
        },
        SectionKind::HeelFlap => Note::Flap {
            direction,
            texture: texture(plan),
            stitches: before.stitches_of(Origin::Heel),
            rows: section.counted(),
            narrows_from: narrows_from(trace, step),
        },
        SectionKind::HeelTurn if up => Note::TurnUp(short_rows_over(trace, step)?),
        SectionKind::HeelTurn => Note::TurnDown(end.stitches_of(Origin::Heel)),
        SectionKind::ShortHeel => Note::ShortRowHeel(short_rows_over(trace, step)?),
        SectionKind::Gusset if up => Note::GussetUp(end.stitches()),
        SectionKind::Gusset => Note::GussetDown {
            left: end.stitches(),
            drawn_close: plan
                .move_at(Position { step, mv: 0 })
                .is_some_and(|(_, mv)| through_the_back(&mv.ops)),
        },
        SectionKind::Toe => match plan.recipe.toe {
            Toe::ShortRow if before.provisional() > 0 => {
                Note::ShortRowToeOverChain(short_rows_over(trace, step)?)
            }
            Toe::ShortRow => Note::ShortRowToe(direction, short_rows_over(trace, step)?),
            Toe::Shaped { foot } if up => Note::ShapedToe(direction, foot, end.stitches()),
            Toe::Shaped { foot } => {
                Note::ShapedToe(direction, foot, end.stitches_of(Origin::Instep))
            }
            Toe::Wedge { .. } | Toe::Round if up => Note::ToeUp(end.stitches()),
            Toe::Wedge { .. } => Note::WedgeToe(end.stitches_of(Origin::Instep)),
            Toe::Round => Note::RoundToe(end.stitches()),
        },
        SectionKind::LateHeel => {
            Note::AfterthoughtHeel(end.per_needle().into_iter().next().unwrap_or_default())
        }
        _ => return None,
    })
}

/// Whether stitches are knitted through the back loop beside a motif's own.
fn through_the_back(ops: &[Op]) -> bool {
    let mut needles = ops.split(|op| matches!(op, Op::Next | Op::SlipMarker(_)));
    needles.any(|part| {
        !part.iter().any(|op| matches!(op, Op::MotifRow(_)))
            && part
                .iter()
                .any(|op| matches!(op, Op::KnitThroughBackLoop(_)))
    })
}

/// The needles when the section of a step is done.
fn last_of_section(trace: &Trace, step: usize) -> Option<&Needles> {
    let section = trace.steps.get(step)?.section;
    let steps = trace.steps.get(step..)?;
    let last = steps.iter().take_while(|s| s.section == section).last()?;
    Some(last.after())
}

/// The number of a flap's first row that takes stitches.
fn narrows_from(trace: &Trace, first: usize) -> Option<usize> {
    let section = trace.steps.get(first)?.section;
    let rows = trace.steps.get(first..)?.iter();
    let mut rows = rows.take_while(|s| s.section == section);
    let nth = rows.position(|s| s.after().stitches() < s.before.stitches())?;
    Some(nth + 1)
}

/// How many stitches short rows lie over: from the double stitch at one end to that at the other, once
/// the first row and the second have made them.
fn short_rows_over(trace: &Trace, first: usize) -> Option<u16> {
    let needles = trace.steps.get(first + 1)?.after();
    let items: Vec<Item> = needles.items().collect();
    let is_double = |item: &Item| matches!(item, Item::Double(_));
    let from = items.iter().position(is_double)?;
    let to = items.iter().rposition(is_double)?;
    Some(items.get(from..=to)?.iter().map(|item| item.width()).sum())
}

fn texture(plan: &Plan) -> FlapTexture {
    match plan.recipe.heel {
        Heel::FlapAndGusset { texture, .. } => texture,
        // no other heel has a flap
        Heel::ShortRow { .. } | Heel::Afterthought { .. } => FlapTexture::default(),
    }
}
