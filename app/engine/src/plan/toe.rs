//! The toe. Wedge: four stitches away in a decrease round, two at each side, ever more often.
//! Round: eight away, spread evenly, until eight are left to be drawn closed.

use super::layout::{Shaping, increase_round, plain_rounds, shaping_round, spread_round};
use super::make::Maker;
use super::seat;
use super::{Cue, Step};
use crate::knit::Refusal;
use crate::recipe::{Method, Narrowing, Seating, Toe};

/// Stitches that a round toe is drawn closed over.
const DRAWN: u16 = 8;

/// Live stitches when the toe ends.
pub(super) const fn left(around: u16, toe: Toe) -> u16 {
    match toe {
        Toe::Wedge { .. } => to_graft(around),
        Toe::Round => DRAWN,
    }
}

/// Stitches left for the graft, both needles together: a multiple of 4, more for a wider sock
/// (common practice, no source).
const fn to_graft(around: u16) -> u16 {
    match around {
        0..48 => 12,
        48..84 => 16,
        84..104 => 20,
        _ => 24,
    }
}

/// Rounds of the toe.
pub(super) fn rounds(around: u16, toe: Toe) -> u16 {
    match toe {
        Toe::Wedge { narrowing } => wedge(around, narrowing).rounds(),
        Toe::Round => round_toe(around).rounds(),
    }
}

/// The needles of a toe: a short circular does not reach round it.
const fn needles(method: Method) -> Method {
    match method {
        Method::ShortCircular => Method::MagicLoop {
            seating: Seating::EvenHalves,
        },
        other => other,
    }
}

/// From the foot to the toe's end.
pub(super) fn decrease(m: &mut Maker<'_>, toe: Toe) -> Result<(), Refusal> {
    if m.recipe.needles == Method::ShortCircular {
        seat::change_needles(m, needles(m.recipe.needles), Cue::ChangeNeedles)?;
    }
    narrow(m, m.numbers.around, toe)
}

/// From the closed cast-on to the foot: the wedge the other way round.
pub(super) fn increase(m: &mut Maker<'_>, toe: Toe) -> Result<(), Refusal> {
    let Toe::Wedge { narrowing } = toe else {
        return Err(Refusal::NotAtTheStart);
    };
    plain_rounds(m, 1)?;
    seat::foot(m, needles(m.recipe.needles))?;
    let spread = wedge(m.numbers.around, narrowing);
    for (times, plain_before) in [(spread.every, 0), (spread.seconds, 1), (spread.thirds, 2)] {
        for _ in 0..times {
            plain_rounds(m, plain_before)?;
            let widen = increase_round(&m.needles, Shaping::BothSides);
            m.step(Step::round(Cue::Shape, widen))?;
        }
    }
    if m.recipe.needles == Method::ShortCircular {
        seat::change_needles(m, m.recipe.needles, Cue::ToShortCircular)?;
    }
    Ok(())
}

/// Takes stitches away from `around` to what is closed.
pub(super) fn narrow(m: &mut Maker<'_>, around: u16, toe: Toe) -> Result<(), Refusal> {
    match toe {
        Toe::Wedge { narrowing } => write_wedge(m, &wedge(around, narrowing)),
        Toe::Round => write_round(m, around, &round_toe(around)),
    }
}

/// How many decrease rounds stand in every third, every second and every round.
struct Wedge {
    thirds: u16,
    seconds: u16,
    every: u16,
}

impl Wedge {
    const fn rounds(&self) -> u16 {
        3 * self.thirds + 2 * self.seconds + self.every
    }
}

/// Spreads the decrease rounds down to what is grafted.
fn wedge(around: u16, narrowing: Narrowing) -> Wedge {
    let all = (around - to_graft(around)) / 4;
    // decrease rounds that leave at least `floor` stitches
    let down_to = |floor: u16| around.saturating_sub(floor) / 4;
    let (thirds, seconds) = match narrowing {
        Narrowing::Even => (0, all),
        Narrowing::Rounded => (0, down_to(around / 2).min(all)),
        Narrowing::Long => {
            let thirds = down_to(around * 3 / 4).min(all);
            (thirds, down_to(around / 2).min(all) - thirds)
        }
    };
    Wedge {
        thirds,
        seconds,
        every: all - thirds - seconds,
    }
}

fn write_wedge(m: &mut Maker<'_>, spread: &Wedge) -> Result<(), Refusal> {
    for (times, plain_after) in [(spread.thirds, 2), (spread.seconds, 1), (spread.every, 0)] {
        for _ in 0..times {
            let shape = shaping_round(&m.needles, Shaping::BothSides);
            m.step(Step::round(Cue::Shape, shape))?;
            plain_rounds(m, plain_after)?;
        }
    }
    Ok(())
}

/// A round toe: eight wedges of `group` stitches each, and the plain rounds after each decrease
/// round. It is as long as the rounded wedge toe, its plain rounds shared out by width.
struct RoundToe {
    /// Stitches around that do not divide by 8: four go in a round of their own first.
    evened: bool,
    group: u16,
    plain_after: Vec<u16>,
}

impl RoundToe {
    fn rounds(&self) -> u16 {
        let plain: u16 = self.plain_after.iter().sum();
        u16::from(self.evened) + (self.group - 1) + plain
    }
}

fn round_toe(around: u16) -> RoundToe {
    let evened = !around.is_multiple_of(DRAWN);
    let group = around / DRAWN;
    let shapings = group - 1;
    let length = wedge(around, Narrowing::Rounded).rounds();
    let plain = length.saturating_sub(shapings + u16::from(evened));
    let weight: u16 = group * shapings / 2;
    let mut passed = 0;
    let mut given = 0;
    let plain_after = (1..group)
        .rev()
        .map(|wide| {
            passed += wide;
            // all plain rounds that belong up to here, to the nearest whole
            let due = (2 * plain * passed + weight) / (2 * weight);
            let now = due - given;
            given = due;
            now
        })
        .collect();
    RoundToe {
        evened,
        group,
        plain_after,
    }
}

fn write_round(m: &mut Maker<'_>, around: u16, toe: &RoundToe) -> Result<(), Refusal> {
    if toe.evened {
        let even = spread_round(&m.needles, around / 4);
        m.step(Step::round(Cue::Shape, even))?;
    }
    for (group, plain) in (2..=toe.group).rev().zip(&toe.plain_after) {
        let shape = spread_round(&m.needles, group);
        m.step(Step::round(Cue::Shape, shape))?;
        plain_rounds(m, *plain)?;
    }
    Ok(())
}
