//! The ranges of a recipe that more than one place asks for; a range that only its number has stands in the
//! number's row (`numbers`). Knows no field and no recipe.

use std::ops::RangeInclusive;

use crate::units::Length;

/// Stitches around that the plans reach.
pub const STITCHES: RangeInclusive<u16> = 32..=120;
/// Stitch gauge, stitches to 10 cm.
pub const STITCH_GAUGE: RangeInclusive<u16> = 15..=48;
/// Round gauge, rounds to 10 cm.
pub const ROUND_GAUGE: RangeInclusive<u16> = 18..=80;
/// Foot length.
pub const FOOT_LENGTH: RangeInclusive<Length> = Length::cm(9)..=Length::cm(34);
/// Cast-on edge to heel flap.
pub const LEG_LENGTH: RangeInclusive<Length> = Length::cm(1)..=Length::cm(45);
/// Measured width or height of a swatch.
pub const SWATCH_SIZE: RangeInclusive<Length> = Length::cm(2)..=Length::cm(30);
/// Stitches around at the top of a shaped leg.
pub const TOP_STITCHES: RangeInclusive<u16> = 32..=240;
/// Most places at which a leg is measured round.
pub const MOST_GIRTHS: usize = 4;
/// Stitches of a motif's repeat.
pub const MOTIF_WIDTH: RangeInclusive<u16> = 1..=24;
/// Rounds of a motif's repeat.
pub const MOTIF_ROWS: RangeInclusive<u16> = 1..=48;
/// Stripes of a sequence.
pub const STRIPES: RangeInclusive<u16> = 1..=MOST_STRIPES as u16;
/// Most stripes of a sequence.
pub const MOST_STRIPES: u8 = 12;
/// Rounds added to leg or foot, or left out.
pub const ADJUST: RangeInclusive<i16> = -99..=99;
/// Ease round the foot, percent.
pub const EASE_PERCENT: RangeInclusive<u8> = 0..=25;
/// Ease along the foot.
pub const LENGTH_EASE: RangeInclusive<Length> = Length::cm(0)..=Length::cm(3);
/// Height of the cuff.
pub const CUFF_LENGTH: RangeInclusive<Length> = Length::mm(5)..=Length::cm(25);
/// Rows of the heel flap.
pub const FLAP_ROWS: RangeInclusive<u16> = 8..=80;
/// Height of the heel flap.
pub const FLAP_HEIGHT: RangeInclusive<Length> = Length::cm(2)..=Length::cm(15);
