//! From a part of the pattern to one of ours, and back: each leaves the needles as the other expects them.
//!
//! Knows needles and seatings; must not know lines of a pattern, nor what a section of ours does.

use crate::knit::Refusal;
use crate::needles::{Facing, Item, Needles};
use crate::pattern::RoundBegins;
use crate::plan::division::leg_sizes;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::rounds::plain_round;
use crate::plan::seating::{self, SeatingGoal, move_to};
use crate::recipe::{Direction, Method, Seating};
use crate::stitch::{Count, Marker, Op};

/// Whether an edge of rows is open: what lies on the needles is no round until it is picked up from.
pub(super) fn has_open_edge(needles: &Needles) -> bool {
    needles
        .items()
        .any(|item| matches!(item, Item::Edge { .. }))
}

/// Whether a section of ours can begin on these needles: a round is whole, and no turned row is left in it.
pub(super) fn is_whole(needles: &Needles) -> bool {
    let turned = |item| matches!(item, Item::Gap | Item::Double(_));
    needles.facing() == Facing::RightSide && needles.tip() == 0 && !needles.items().any(turned)
}

/// Works what the pattern has left of a round, or of turned rows, and closes those.
pub(super) fn to_a_whole_round(m: &mut Maker<'_>) -> Result<(), Refusal> {
    for _ in 0..2 {
        if is_whole(&m.needles) || !m.needles.joined() || m.needles.stitches() == 0 {
            return Ok(());
        }
        let turn = m.needles.facing() == Facing::WrongSide;
        let mut needles = m.needles.clone();
        let mut ops = Vec::with_capacity(8);
        if turn {
            ops.push(Op::Turn);
            needles.apply(&Op::Turn)?;
        }
        let plain = plain_round(&needles);
        if needles.clone().apply_all(&plain).is_ok() {
            ops.extend(plain);
        } else {
            ops.extend(by_count(&needles));
        }
        m.step(Step::walk(vec![(Cue::Plain, ops)]))?;
    }
    Ok(())
}

/// What is left of the round, over the gaps of turned rows as well.
fn by_count(needles: &Needles) -> Vec<Op> {
    let mut ops = Vec::with_capacity(8);
    let mut open = 0;
    for item in needles.upcoming() {
        let stop = match item {
            Item::Marker(marker) => Op::SlipMarker(marker),
            Item::End => Op::Next,
            other => {
                open += other.width();
                continue;
            }
        };
        let here = Count::new(std::mem::take(&mut open));
        ops.extend(here.map(|n| Op::AsWritten(n, n)));
        ops.push(stop);
    }
    let last = Count::new(open);
    ops.extend(last.map(|n| Op::AsWritten(n, n)));
    ops
}

/// Goes on to where the sole begins, where the round begins elsewhere.
pub(super) fn to_the_side(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let (instep, sole) = seating::halves(&m.needles);
    match RoundBegins::of(&m.needles) {
        Some(begins) if begins.after > 0 => {
            let goal = at_the_side(m, sole, instep);
            let on = begins.of - begins.after + instep;
            move_to(m, on, &goal, (Cue::ReachSide, Cue::SeatApart))
        }
        _ => Ok(()),
    }
}

/// Begins the round where the pattern does; where that is not known, at the side from the toe up, and else where it
/// begins by now.
pub(super) fn begin_as_the_pattern(
    m: &mut Maker<'_>,
    begins: Option<RoundBegins>,
) -> Result<(), Refusal> {
    let widens = m.recipe.direction == Direction::ToeUp;
    let begun = m.done.lines > 0 || m.needles.stitches() == 0 || m.needles.tip() > 0;
    let known = widens || begins.is_some();
    let Some(ours) = RoundBegins::of(&m.needles).filter(|_| known && !begun) else {
        return Ok(());
    };
    let (instep, sole) = seating::halves(&m.needles);
    let after = match begins {
        // As far into the sole as in the pattern, whose sole may have another number of stitches.
        Some(theirs) => scaled(theirs.after, theirs.of, sole),
        None => 0,
    };
    let on = match after.checked_sub(ours.after) {
        Some(0) => return Ok(()),
        Some(on) => on,
        None => sole - ours.after + instep + after,
    };
    let (goal, cues) = if after == 0 {
        let goal = at_the_side(m, sole, instep);
        (goal, (Cue::ReachSide, Cue::SeatApart))
    } else {
        let goal = within_the_sole(m, after, sole, instep);
        (goal, (Cue::ReachMiddle, Cue::SeatMiddle))
    };
    move_to(m, on, &goal, cues)
}

/// The same part of so many stitches.
fn scaled(part: u16, of: u16, all: u16) -> u16 {
    let part = u32::from(part) * u32::from(all) / u32::from(of.max(1));
    u16::try_from(part).map_or(all, |part| part.min(all))
}

fn at_the_side(m: &Maker<'_>, sole: u16, instep: u16) -> SeatingGoal {
    let sizes = leg_sizes(m.recipe, None, sole, instep);
    let markers = if sizes.is_empty() {
        vec![(Marker::Right, sole + instep)]
    } else {
        Vec::new()
    };
    SeatingGoal { sizes, markers }
}

/// The round begins so many stitches into the sole.
fn within_the_sole(m: &Maker<'_>, after: u16, sole: u16, instep: u16) -> SeatingGoal {
    let method = m.recipe.needles;
    let apart = method.seating() == Some(Seating::InstepAndSole);
    let middle = seating::middle(method, sole, instep, instep / 2);
    match (method, middle) {
        (Method::ShortCircular { .. }, _) => at_the_side(m, sole, instep),
        (_, Some(middle)) if after == sole.div_ceil(2) => middle,
        (Method::FourDpns | Method::FiveDpns, _) => at_the_side(m, sole, instep),
        // the sole's needle goes on over the beginning of the round
        _ if apart || after < sole => SeatingGoal {
            sizes: vec![sole - after, instep],
            markers: Vec::new(),
        },
        _ => SeatingGoal {
            sizes: vec![instep, sole],
            markers: Vec::new(),
        },
    }
}
