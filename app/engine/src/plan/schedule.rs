//! Shaped parts as a list of rounds, so that one that has been begun can go on anywhere.

use super::rounds::Shaping;

/// Rounds in order; a round that is not shaped is plain.
pub(super) type Schedule = Vec<Option<Shaping>>;

/// A shaping round and so many plain ones after it, so many times.
pub(super) fn spaced(
    shaping: Shaping,
    times: u16,
    plain: u16,
) -> impl Iterator<Item = Option<Shaping>> {
    let one = std::iter::once(Some(shaping)).chain(std::iter::repeat_n(None, plain.into()));
    std::iter::repeat_n(one, times.into()).flatten()
}
