//! What is usual for a foot where nobody says: the leg, its cuff and the ease along the foot. For forms
//! to begin with; a recipe that leaves them out has the grown foot's, whatever its own.
//!
//! Common practice, no source: on a grown foot a leg of 16 cm with a cuff of 4 and 1 cm of ease along the
//! foot; on a child's, up to 22 cm long, two thirds and a sixth of the foot's length, and half the ease.

use crate::recipe::{CUFF_LENGTH, FOOT_LENGTH, LEG_LENGTH, Number, NumberField, Recipe};
use crate::units::Length;

/// The longest foot that is a child's.
const CHILD: Length = Length::cm(22);

/// The numbers of a recipe that follow the foot.
pub const FOLLOWING_THE_FOOT: [NumberField; 3] = [
    NumberField::Leg,
    NumberField::CuffLength,
    NumberField::LengthEase,
];

/// What is usual for a foot of that length; none for a number that does not follow it.
pub fn usual(field: NumberField, foot: Length) -> Option<Number> {
    let foot = foot.clamp(*FOOT_LENGTH.start(), *FOOT_LENGTH.end());
    if foot > CHILD {
        return FOLLOWING_THE_FOOT
            .contains(&field)
            .then(|| field.get(&Recipe::default()))
            .flatten();
    }
    // To half a centimetre.
    let share = |of: u32| Length((foot.tenths() * of / 6 + 25) / 50 * 50);
    Some(Number::Length(match field {
        NumberField::Leg => share(4).clamp(*LEG_LENGTH.start(), *LEG_LENGTH.end()),
        NumberField::CuffLength => share(1).clamp(*CUFF_LENGTH.start(), *CUFF_LENGTH.end()),
        NumberField::LengthEase => Length::mm(5),
        _ => return None,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_childs_leg_follows_its_foot() {
        let lengths = |foot: u32| {
            FOLLOWING_THE_FOOT.map(|field| match usual(field, Length::cm(foot)) {
                Some(Number::Length(length)) => length.tenths(),
                _ => 0,
            })
        };
        assert_eq!(lengths(24), [1600, 400, 100]);
        assert_eq!(lengths(17), [1150, 300, 50]);
        assert_eq!(lengths(9), [600, 150, 50]);
        assert_eq!(usual(NumberField::Stitches, Length::cm(17)), None);
        assert_eq!(usual(NumberField::Stitches, Length::cm(27)), None);
    }
}
