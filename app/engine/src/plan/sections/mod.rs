//! The sections of a sock, each with its arithmetic and its writing.
//!
//! A section writes steps for what lies on the needles and hands them to the maker, which knits them
//! at once. It may use rounds, seatings and the decided numbers; it must not know what comes before or
//! after it.

pub(super) mod afterthought_heel;
pub(super) mod bind_off;
pub(super) mod cast_on;
pub(super) mod close;
pub(super) mod cuff;
pub(super) mod foot;
pub(super) mod gusset;
pub(super) mod heel_flap;
pub(super) mod heel_turn;
pub(super) mod leg;
pub(super) mod pick_up;
pub(super) mod short_row_heel;
pub(super) mod toe;
pub(super) mod toe_up_heel;
