//! What an empty line means: the leg, its cuff and the ease along the foot, which follow the foot, and
//! the ease round it. Round figures in the knitter's unit. For lines of a form that are left empty; a recipe
//! that leaves them out has the grown foot's, whatever its own.
//!
//! Common practice, no source: on a grown foot a leg of 16 cm with a cuff of 4 and 1 cm of ease along the
//! foot; on a child's, up to 22 cm long, two thirds and a sixth of the foot's length, and half the ease.
//!
//! Pure. May use recipe and foot; must not know the form or what was typed.

use crate::recipe::{
    CUFF_LENGTH, FOOT_LENGTH, LEG_LENGTH, LENGTH_EASE, Number, NumberField, Recipe,
};
use crate::units::{Length, LengthUnit};

/// The longest foot that is a child's.
const CHILD: Length = Length::cm(22);

/// What is usual for a foot of that length, lengths in round figures of `unit`; none for a number that has
/// no usual value.
pub fn usual(field: NumberField, foot: Length, unit: LengthUnit) -> Option<Number> {
    let foot = foot.clamp(*FOOT_LENGTH.start(), *FOOT_LENGTH.end());
    let grown = || field.get(&Recipe::default());
    let length = match field {
        NumberField::EasePercent => return grown(),
        NumberField::Leg | NumberField::CuffLength | NumberField::LengthEase => {
            if foot > CHILD {
                match grown()? {
                    Number::Length(length) => length,
                    Number::Whole(_) => return None,
                }
            } else {
                match field {
                    NumberField::Leg => Length(foot.tenths() * 4 / 6),
                    NumberField::CuffLength => Length(foot.tenths() / 6),
                    _ => Length::mm(5),
                }
            }
        }
        _ => return None,
    };
    let range = match field {
        NumberField::Leg => LEG_LENGTH,
        NumberField::CuffLength => CUFF_LENGTH,
        _ => LENGTH_EASE,
    };
    let round = length.round_figure(unit);
    Some(Number::Length(round.clamp(*range.start(), *range.end())))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lengths(foot: u32, unit: LengthUnit) -> [Length; 3] {
        let following = [
            NumberField::Leg,
            NumberField::CuffLength,
            NumberField::LengthEase,
        ];
        following.map(|field| match usual(field, Length::cm(foot), unit) {
            Some(Number::Length(length)) => length,
            _ => Length::default(),
        })
    }

    #[test]
    fn a_childs_leg_follows_its_foot() {
        let tenths = |foot| lengths(foot, LengthUnit::Cm).map(Length::tenths);
        assert_eq!(tenths(24), [1600, 400, 100]);
        assert_eq!(tenths(17), [1150, 300, 50]);
        assert_eq!(tenths(9), [600, 150, 50]);
        let foot = Length::cm(17);
        assert_eq!(usual(NumberField::Stitches, foot, LengthUnit::Cm), None);
        let ease = usual(NumberField::EasePercent, foot, LengthUnit::Cm);
        assert_eq!(ease, Some(Number::Whole(10)));
    }

    #[test]
    fn what_is_usual_is_round_in_inches_too() {
        let shown = |foot| lengths(foot, LengthUnit::Inch).map(|one| one.show(LengthUnit::Inch));
        assert_eq!(shown(24), ["6¼\u{a0}in", "1½\u{a0}in", "½\u{a0}in"]);
        assert_eq!(shown(17), ["4½\u{a0}in", "1\u{a0}in", "¼\u{a0}in"]);
    }
}
