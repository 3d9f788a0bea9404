//! The parts of a sock of ours, section by section, in the order in which they are knitted.
//!
//! Knows the sections; must not know who decides the numbers.

use super::error::PlanBug;
use super::maker::Maker;
use super::model::Section;
use super::numbers::HeelNumbers;
use super::section_kind::SectionKind;
use super::sections::{
    afterthought_heel, bind_off, cast_on, close, cuff, foot, gusset, heel_flap, heel_turn, leg,
    pick_up, short_row_heel, toe, toe_up_heel,
};
use crate::recipe::{Direction, Heel, HeelOpening, Recipe, SockPart};

/// The parts in the order in which a sock of that direction is knitted. A heel that is knitted last has its
/// place kept where it belongs.
pub(super) const fn order(direction: Direction) -> [SockPart; 5] {
    use SockPart::{Cuff, Foot, Heel, Leg, Toe};
    match direction {
        Direction::CuffDown => [Cuff, Leg, Heel, Foot, Toe],
        Direction::ToeUp => [Toe, Foot, Heel, Leg, Cuff],
    }
}

/// Writes a part.
pub(super) fn part(m: &mut Maker<'_>, recipe: &Recipe, part: SockPart) -> Result<(), PlanBug> {
    match (part, recipe.direction) {
        (SockPart::Cuff, Direction::CuffDown) => {
            m.section(SectionKind::CastOn, cast_on::at_the_cuff)?;
            m.section(SectionKind::Cuff, cuff::write)
        }
        (SockPart::Cuff, Direction::ToeUp) => {
            m.section(SectionKind::Cuff, cuff::write)?;
            m.section(SectionKind::BindOff, bind_off::write)
        }
        (SockPart::Leg, _) => m.section(SectionKind::Leg, leg::write),
        (SockPart::Heel, _) => heel(m, recipe),
        (SockPart::Foot, _) => m.section(SectionKind::Foot, foot::write),
        (SockPart::Toe, Direction::CuffDown) => {
            m.section(SectionKind::Toe, |m| toe::decrease(m, recipe.toe))?;
            m.section(SectionKind::Close, |m| close::write(m, recipe.toe))
        }
        (SockPart::Toe, Direction::ToeUp) => {
            m.section(SectionKind::CastOn, cast_on::at_the_toe)?;
            m.section(SectionKind::Toe, |m| toe::increase(m, recipe.toe))
        }
    }
}

fn heel(m: &mut Maker<'_>, recipe: &Recipe) -> Result<(), PlanBug> {
    match (m.numbers.shape, recipe.heel) {
        (HeelNumbers::Flap(numbers), Heel::FlapAndGusset { texture, .. }) => {
            m.section(SectionKind::HeelFlap, |m| {
                heel_flap::write(m, texture, numbers)
            })?;
            m.section(SectionKind::HeelTurn, |m| heel_turn::write(m, numbers.turn))?;
            m.section(SectionKind::PickUp, |m| pick_up::write(m, numbers))?;
            m.section(SectionKind::Gusset, |m| gusset::decrease(m, numbers.gusset))
        }
        (HeelNumbers::ToeUpFlap(numbers), Heel::FlapAndGusset { texture, .. }) => {
            m.section(SectionKind::Gusset, |m| gusset::increase(m, numbers.gusset))?;
            m.section(SectionKind::HeelTurn, |m| toe_up_heel::turn(m, numbers))?;
            m.section(SectionKind::HeelFlap, |m| {
                toe_up_heel::flap(m, texture, numbers)
            })
        }
        (HeelNumbers::ShortRow { rows, between }, _) => m.section(SectionKind::ShortHeel, |m| {
            short_row_heel::write(m, rows, between)
        }),
        _ => {
            let opening = match recipe.heel {
                Heel::Afterthought { opening } => opening,
                Heel::FlapAndGusset { .. } | Heel::ShortRow { .. } => HeelOpening::default(),
            };
            m.section(SectionKind::HeelPlace, |m| {
                afterthought_heel::keep_place(m, opening)
            })
        }
    }
}

/// A heel that was only given its place is knitted now.
pub(super) fn late_heel(m: &mut Maker<'_>) -> Result<(), PlanBug> {
    let kept = |section: &Section| section.kind == SectionKind::HeelPlace;
    let knitted = |section: &Section| section.kind == SectionKind::LateHeel;
    if m.sections.iter().any(kept) && !m.sections.iter().any(knitted) {
        m.section(SectionKind::LateHeel, afterthought_heel::write)?;
        m.section(SectionKind::LateClose, close::graft)?;
    }
    Ok(())
}
