//! The range each number of a recipe can have.

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
/// Round the ball of the foot.
pub const FOOT_CIRCUMFERENCE: RangeInclusive<Length> = Length::cm(9)..=Length::cm(36);
/// Round heel and instep.
pub const HEEL_DIAGONAL: RangeInclusive<Length> = Length::cm(10)..=Length::cm(50);
/// Ease round the foot, percent.
pub const EASE_PERCENT: RangeInclusive<u8> = 0..=25;
/// Ease along the foot.
pub const LENGTH_EASE: RangeInclusive<Length> = Length::cm(0)..=Length::cm(3);
/// Height of the cuff.
pub const CUFF_LENGTH: RangeInclusive<Length> = Length::mm(5)..=Length::cm(25);
/// Cast-on edge to heel flap.
pub const LEG_LENGTH: RangeInclusive<Length> = Length::cm(1)..=Length::cm(45);
/// Rounds between the halves of a short-row heel.
pub const BETWEEN: RangeInclusive<u16> = 0..=6;
/// Rows of the heel flap.
pub const FLAP_ROWS: RangeInclusive<u16> = 8..=80;
/// Measured width or height of a swatch.
pub const SWATCH_SIZE: RangeInclusive<Length> = Length::cm(2)..=Length::cm(30);
/// Stitches to 10 cm that a ball's band prints.
pub const BAND_STITCHES: RangeInclusive<u16> = 10..=50;
/// Stitches counted on a swatch in the motif.
pub const PATTERN_STITCHES: RangeInclusive<u16> = 4..=200;
/// Rounds counted on a swatch in the motif.
pub const PATTERN_ROUNDS: RangeInclusive<u16> = 4..=240;
/// Balancing stitches of a motif; always fewer than its repeat.
pub const MOTIF_BALANCE: RangeInclusive<u16> = 0..=*MOTIF_WIDTH.end() - 1;
/// Edge stitches on each side of a motif.
pub const MOTIF_EDGE: RangeInclusive<u16> = 0..=4;
/// Rows counted on a heel flap.
pub const MEASURED_FLAP_ROWS: RangeInclusive<u16> = 4..=100;
/// Measured height of a heel flap.
pub const MEASURED_FLAP_HEIGHT: RangeInclusive<Length> = Length::cm(1)..=Length::cm(20);
/// Grams in a ball.
pub const BALL_GRAMS: RangeInclusive<u16> = 5..=1000;
/// Metres in a ball.
pub const BALL_METRES: RangeInclusive<u16> = 10..=5000;
/// Stitches around at the top of a shaped leg.
pub const TOP_STITCHES: RangeInclusive<u16> = 32..=240;
/// Most places at which a leg is measured round.
pub const MOST_GIRTHS: usize = 4;
/// How high above the heel a leg is measured round.
pub const GIRTH_HEIGHT: RangeInclusive<Length> = Length::cm(1)..=Length::cm(45);
/// Round the leg.
pub const GIRTH: RangeInclusive<Length> = Length::cm(12)..=Length::cm(60);
/// Height of the heel flap.
pub const FLAP_HEIGHT: RangeInclusive<Length> = Length::cm(2)..=Length::cm(15);
/// Stitches of a motif's repeat.
pub const MOTIF_WIDTH: RangeInclusive<u16> = 1..=24;
/// Rounds of a motif's repeat.
pub const MOTIF_ROWS: RangeInclusive<u16> = 1..=48;
/// Stripes of a sequence.
pub const STRIPES: RangeInclusive<u16> = 1..=MOST_STRIPES as u16;
/// Most stripes of a sequence.
pub const MOST_STRIPES: u8 = 12;
/// Rounds of a stripe.
pub const STRIPE_ROUNDS: RangeInclusive<u16> = 1..=60;
/// Rounds added to leg or foot, or left out.
pub const ADJUST: RangeInclusive<i16> = -99..=99;
