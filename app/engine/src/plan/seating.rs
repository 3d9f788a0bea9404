//! Seatings after the heel and before it, as steps: which stitches sit on which needle, and where
//! the round begins. All of them knit some stitches plain and then only move needle ends, markers
//! and the beginning; stitches keep their order.

use super::division::leg_sizes;
use super::maker::Maker;
use super::model::{Cue, Step};
use super::numbers::Panel;
use crate::knit::Refusal;
use crate::needles::{Item, Needles, Origin};
use crate::recipe::{Method, Seating};
use crate::stitch::{Count, Marker, Op, run};

/// A seating to be reached: sizes of the needles from the beginning of the round (none on a short
/// circular), and markers with the stitches that lie before them.
pub(super) struct SeatingGoal {
    pub sizes: Vec<u16>,
    pub markers: Vec<(Marker, u16)>,
}

/// Works `n` stitches of the round, lets it begin there, and moves ends and markers to where they
/// are wanted. Nothing is to be done when everything lies there already.
pub(super) fn move_to(
    m: &mut Maker<'_>,
    n: u16,
    wanted: &SeatingGoal,
    cues: (Cue, Cue),
) -> Result<(), Refusal> {
    match moved(&m.needles, n, wanted, cues) {
        Some(step) => m.step(step),
        None => Ok(()),
    }
}

fn moved(needles: &Needles, n: u16, wanted: &SeatingGoal, cues: (Cue, Cue)) -> Option<Step> {
    let around = needles.stitches();
    let reach = work(needles, n, &wanted.markers);
    // Where ends and markers lie as seen from the new beginning.
    let seen = |at: u16| if at <= n { at + around - n } else { at - n };
    let mut ends = Vec::new();
    let mut markers = Vec::new();
    let mut passed = 0;
    for item in needles.items() {
        passed += item.width();
        match item {
            Item::End => ends.push(seen(passed)),
            Item::Marker(m) => markers.push((m, seen(passed))),
            Item::Stitches(..)
            | Item::Double(_)
            | Item::Wrapped(..)
            | Item::Edge { .. }
            | Item::Gap => {}
        }
    }
    let wanted_ends: Vec<u16> = wanted
        .sizes
        .iter()
        .scan(0, |sum, size| {
            *sum += size;
            Some(*sum)
        })
        .collect();
    let come = |at: &&(Marker, u16)| !markers.contains(at);
    let mut shift = Vec::with_capacity(12);
    shift.extend(
        markers
            .iter()
            .filter(|m| !wanted.markers.contains(m))
            .map(|(m, _)| Op::Remove(*m)),
    );
    // What is to lie at the beginning itself is put there before the beginning moves.
    let before = shift.len();
    if n == 0 && needles.tip() == 0 && needles.next() == Some(Item::End) {
        // a needle that ends at the beginning ends before it
        let last = needles
            .items()
            .filter(|item| !matches!(item, Item::Marker(_)));
        if last.last() == Some(Item::End) {
            shift.push(Op::LoopIn(0));
        } else {
            shift.extend([Op::Next, Op::BeginHere]);
        }
    }
    if wanted_ends.last() == Some(&around) && !ends.contains(&around) {
        shift.extend([Op::LoopOut(0), Op::Next]);
    }
    shift.extend(
        wanted
            .markers
            .iter()
            .filter(come)
            .filter(|(_, at)| *at == around)
            .map(|(m, _)| Op::Place(*m)),
    );
    if n > 0 || shift.len() > before {
        shift.push(Op::BeginHere);
    }
    shift.extend(
        ends.iter()
            .filter(|e| !wanted_ends.contains(e))
            .map(|e| Op::LoopIn(*e)),
    );
    shift.extend(
        wanted_ends
            .iter()
            .filter(|e| **e != around && !ends.contains(e))
            .map(|e| Op::LoopOut(*e)),
    );
    shift.extend(
        wanted
            .markers
            .iter()
            .filter(come)
            .filter(|(_, at)| *at != around)
            .map(|(m, at)| Op::Hang(*m, *at)),
    );
    let moves: Vec<_> = [(cues.0, reach), (cues.1, shift)]
        .into_iter()
        .filter(|(_, ops)| !ops.is_empty())
        .collect();
    (!moves.is_empty()).then(|| Step::walk(moves))
}

/// Plain knitting over `n` stitches of the round, and past what lies right there: a needle's end,
/// and a marker that is to hang at the new beginning.
fn work(needles: &Needles, n: u16, kept: &[(Marker, u16)]) -> Vec<Op> {
    let mut ops = Vec::with_capacity(6);
    let mut left = n;
    let around = needles.stitches();
    let mut hanging = Vec::new();
    for item in needles.items() {
        match item {
            _ if n == 0 => break,
            Item::End => {
                // a marker before a needle's end is passed with it
                ops.append(&mut hanging);
                ops.push(Op::Next);
            }
            Item::Marker(m) if left > 0 || kept.contains(&(m, around)) => {
                ops.append(&mut hanging);
                ops.push(Op::SlipMarker(m));
            }
            Item::Marker(m) => hanging.push(Op::SlipMarker(m)),
            // a wrapped stitch is worked like any other
            Item::Stitches(..) | Item::Wrapped(..) if left > 0 => {
                let here = item.width();
                let now = here.min(left);
                knit_on(&mut ops, now);
                left -= now;
                if now < here {
                    break;
                }
            }
            Item::Stitches(..) | Item::Wrapped(..) => break,
            // a seating is changed on whole, plain rounds only
            Item::Double(_) | Item::Edge { .. } | Item::Gap => {}
        }
    }
    ops
}

/// Adds to a run of knit stitches that went on over a change of origin.
fn knit_on(ops: &mut Vec<Op>, n: u16) {
    if let (Some(Op::Knit(before)), Some(more)) = (ops.last(), Count::new(n))
        && let Some(both) = before.checked_add(more.get())
    {
        ops.pop();
        ops.push(Op::Knit(both));
    } else {
        run(ops, Op::Knit, n);
    }
}

/// The seating of foot and toe, the round beginning in the middle of a sole of `sole` stitches.
/// A needle that ends on the instep does so after `half` stitches.
pub(super) fn middle(method: Method, sole: u16, instep: u16, half: u16) -> Option<SeatingGoal> {
    let (near, far) = (sole / 2, sole.div_ceil(2));
    // after a misprint the instep may be narrower than it was decided
    let half = half.min(instep);
    let borders = vec![(Marker::Left, near), (Marker::Right, near + instep)];
    Some(match method {
        Method::MagicLoop {
            seating: Seating::EvenHalves,
        }
        | Method::TwoCirculars {
            seating: Seating::EvenHalves,
        } => SeatingGoal {
            sizes: vec![near + half, instep - half + far],
            markers: borders,
        },
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => return None,
        Method::FourDpns => SeatingGoal {
            sizes: vec![near, instep, far],
            markers: Vec::new(),
        },
        Method::FiveDpns => SeatingGoal {
            sizes: vec![near, half, instep - half, far],
            markers: Vec::new(),
        },
        Method::ShortCircular { .. } => {
            let mut markers = borders;
            markers.push((Marker::Round, sole + instep));
            SeatingGoal {
                sizes: Vec::new(),
                markers,
            }
        }
    })
}

/// Stitches of instep and front of leg, and all the others.
pub(super) fn halves(needles: &Needles) -> (u16, u16) {
    let top = needles.stitches_of(Origin::Instep) + needles.stitches_of(Origin::Front);
    (top, needles.stitches() - top)
}

/// From a round that begins at the sole's side to one that begins in its middle, where the method
/// and seating want that; the needle that ends on the instep does not cut the motif. `on` are the
/// needles it is knitted on.
pub(super) fn foot(m: &mut Maker<'_>, on: Method) -> Result<(), Refusal> {
    let half = m.numbers.half_top();
    to_the_middle(m, on, half)
}

/// The same for a toe, which carries no motif.
pub(super) fn toe(m: &mut Maker<'_>, on: Method) -> Result<(), Refusal> {
    let half = halves(&m.needles).0 / 2;
    to_the_middle(m, on, half)
}

fn to_the_middle(m: &mut Maker<'_>, on: Method, half: u16) -> Result<(), Refusal> {
    let (instep, sole) = halves(&m.needles);
    let Some(seat) = middle(on, sole, instep, half) else {
        return instep_and_sole_apart(m);
    };
    let (after, middle) = (after_the_instep(&m.needles), sole.div_ceil(2));
    if begins_in_the_middle(&m.needles) && after.abs_diff(middle) <= 1 {
        return move_to(m, 0, &seat, (Cue::SeatMotif, Cue::SeatMotif));
    }
    let ahead = match middle.checked_sub(after) {
        Some(ahead) => ahead,
        None => to_the_side(&m.needles) + middle,
    };
    move_to(m, ahead, &seat, (Cue::ReachMiddle, Cue::SeatMiddle))
}

/// Stitches of the sole that are worked last in the round, after the instep's.
fn after_the_instep(needles: &Needles) -> u16 {
    let mut after = 0;
    for item in needles.items() {
        match item {
            Item::Stitches(origin, ..) | Item::Double(origin) | Item::Wrapped(origin, _)
                if matches!(origin, Origin::Instep | Origin::Front) =>
            {
                after = 0;
            }
            other => after += other.width(),
        }
    }
    after
}

/// Stitches before the place where the sole begins; none where the round begins there.
fn to_the_side(needles: &Needles) -> u16 {
    let (instep, sole) = halves(needles);
    match after_the_instep(needles) {
        0 => 0,
        after => sole.saturating_sub(after) + instep,
    }
}

/// Whether the round's last stitch belongs to the sole: then it does not begin at a side.
pub(super) fn begins_in_the_middle(needles: &Needles) -> bool {
    let last = needles.items().filter_map(|i| match i {
        Item::Stitches(o, ..) | Item::Double(o) | Item::Wrapped(o, _) => Some(o),
        _ => None,
    });
    !matches!(last.last(), Some(Origin::Instep | Origin::Front))
}

/// The heel's half on one needle, the round beginning at its side. `fenced`: on a short circular a
/// marker hangs at the heel's far end too, where rows are turned.
pub(super) fn heel(m: &mut Maker<'_>, on: Method, fenced: bool) -> Result<(), Refusal> {
    let (instep, heel) = halves(&m.needles);
    let half = m.numbers.half_top().min(instep);
    let seat = match on {
        // Of four needles two hold, so that a crossing later still has one to work with.
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } | Method::FourDpns => SeatingGoal {
            sizes: vec![heel, instep],
            markers: Vec::new(),
        },
        Method::FiveDpns => SeatingGoal {
            sizes: vec![heel, half, instep - half],
            markers: Vec::new(),
        },
        Method::ShortCircular { .. } => {
            let mut markers = vec![(Marker::Right, heel + instep)];
            if fenced {
                markers.push((Marker::Left, heel));
            }
            SeatingGoal {
                sizes: Vec::new(),
                markers,
            }
        }
    };
    // From the middle of the sole the round goes on to the end of the instep.
    let ahead = to_the_side(&m.needles);
    move_to(m, ahead, &seat, (Cue::ReachHeel, Cue::SeatHeel))
}

/// Sole and instep on a needle each, the round beginning at the sole's side.
pub(super) fn instep_and_sole_apart(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let (instep, sole) = halves(&m.needles);
    let ahead = to_the_side(&m.needles);
    let seat = SeatingGoal {
        sizes: vec![sole, instep],
        markers: Vec::new(),
    };
    move_to(m, ahead, &seat, (Cue::ReachSide, Cue::SeatApart))
}

/// From the halves of a toe to the short circular.
pub(super) fn to_short_circular(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let (instep, sole) = halves(&m.needles);
    let ahead = if begins_in_the_middle(&m.needles) {
        0
    } else {
        sole.div_ceil(2)
    };
    let Some(seat) = middle(
        Method::ShortCircular { length: None },
        sole,
        instep,
        instep / 2,
    ) else {
        return Ok(());
    };
    move_to(m, ahead, &seat, (Cue::ReachMiddle, Cue::ToShortCircular))
}

/// The leg's own division.
pub(super) fn leg(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let panel = m.numbers.panel;
    divide(m, panel)
}

/// The cuff's division after the leg.
pub(super) fn cuff(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let panel = m.numbers.cuff_panel(m.recipe);
    divide(m, panel)
}

fn divide(m: &mut Maker<'_>, panel: Option<Panel>) -> Result<(), Refusal> {
    let around = m.needles.stitches();
    let front = m.needles.stitches_of(Origin::Front);
    let sizes = leg_sizes(m.recipe, panel, around - front, front);
    let markers = if sizes.is_empty() {
        vec![(Marker::Right, around)]
    } else {
        Vec::new()
    };
    move_to(
        m,
        0,
        &SeatingGoal { sizes, markers },
        (Cue::ReachMiddle, Cue::SeatLeg),
    )
}

/// From one short circular to the two halves that a toe needs.
pub(super) fn change_needles(m: &mut Maker<'_>, to: Method, cue: Cue) -> Result<(), Refusal> {
    let (instep, sole) = halves(&m.needles);
    let Some(seat) = middle(to, sole, instep, instep / 2) else {
        return Ok(());
    };
    move_to(m, 0, &seat, (cue, cue))
}

/// The operations that take every marker off: none may hang where the last stitches leave the needles.
pub(super) fn markers_off(needles: &Needles) -> Vec<Op> {
    let hung = needles.items().filter_map(|item| match item {
        Item::Marker(marker) => Some(Op::Remove(marker)),
        _ => None,
    });
    hung.collect()
}
