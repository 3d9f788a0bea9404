//! How many stitches carry whole repeats, and whether needles divide an instep.

use evenloop_engine::recipe::{Method, Seating};

/// The least number of stitches around that carries whole repeats on both halves and is divisible
/// by four.
pub(super) fn multiple(wide: u32) -> u32 {
    let two = 2 * wide;
    if two.is_multiple_of(4) { two } else { 2 * two }
}

/// Whether an instep lies on two needles in the foot.
pub(super) fn divides_instep(method: Method) -> bool {
    method.seating() == Some(Seating::EvenHalves) || method == Method::FiveDpns
}
