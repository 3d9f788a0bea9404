//! Shaped parts as a list of rounds, so that one that has been begun can go on anywhere.

use super::layout::{Shaping, plain_round};
use super::make::Maker;
use super::{Cue, Step};
use crate::knit::Refusal;
use crate::needles::Needles;
use crate::stitch::Op;

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

/// Works the rounds that are still to be worked.
pub(super) fn work(
    m: &mut Maker<'_>,
    rounds: impl IntoIterator<Item = Option<Shaping>>,
    shape: fn(&Needles, Shaping) -> Vec<Op>,
) -> Result<(), Refusal> {
    let done = usize::from(m.done.rounds);
    rounds.into_iter().skip(done).try_for_each(|round| {
        let step = match round {
            Some(shaping) => Step::round(Cue::Shape, shape(&m.needles, shaping)),
            None => Step::round(Cue::Plain, plain_round(&m.needles)),
        };
        m.step(step)
    })
}
