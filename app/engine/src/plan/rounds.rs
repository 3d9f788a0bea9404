//! Rounds written for whatever lies on the needles.
//!
//! A round is written from the state itself: a run up to each marker or needle's end. So the same
//! section serves every needle method and both seatings. Nothing is knitted here.

use crate::knit::Refusal;
use crate::needles::{Item, Mount, Needles, Origin};
use crate::recipe::Rib;
use crate::stitch::{Count, Cross, Op, run};

/// What one stretch between two stops is made of.
struct RunToStop {
    stitches: u16,
    /// Whether it belongs to the upper half: the instep, or the leg's side of a late heel.
    top: bool,
    /// What ends it.
    stop: Option<Op>,
}

/// The round from the tip as stretches between markers and needle ends.
fn stretches(needles: &Needles) -> Vec<RunToStop> {
    let mut out = Vec::with_capacity(6);
    let mut open = RunToStop {
        stitches: 0,
        top: false,
        stop: None,
    };
    for item in needles.upcoming() {
        let stop = match item {
            // a wrapped stitch is worked like any other
            Item::Stitches(origin, ..) | Item::Wrapped(origin, _) => {
                open.stitches += item.width();
                open.top = matches!(origin, Origin::Instep | Origin::Back);
                continue;
            }
            Item::Marker(m) => Op::SlipMarker(m),
            Item::End => Op::Next,
            Item::Double(_) | Item::Edge { .. } | Item::Gap => continue,
        };
        out.push(RunToStop {
            stop: Some(stop),
            ..open
        });
        open = RunToStop {
            stitches: 0,
            top: false,
            stop: None,
        };
    }
    if open.stitches > 0 {
        out.push(open);
    }
    out
}

/// One round in which every run is worked by `work`: a purl round, a hem's joining round.
pub(super) fn round_of(needles: &Needles, mut work: impl FnMut(&mut Vec<Op>, u16)) -> Vec<Op> {
    let mut ops = Vec::with_capacity(8);
    for stretch in stretches(needles) {
        work(&mut ops, stretch.stitches);
        ops.extend(stretch.stop);
    }
    ops
}

/// What is left of the round in plain knitting; double stitches are closed, and stitches that are
/// mounted the other way come out open.
pub(super) fn plain_round(needles: &Needles) -> Vec<Op> {
    let mut ops = Vec::with_capacity(8);
    let mut open = 0;
    let mut doubles = 0;
    for item in needles.upcoming() {
        let stop = match item {
            Item::Stitches(_, Mount::LeadingLegInFront, _)
            | Item::Wrapped(_, Mount::LeadingLegInFront) => {
                run(&mut ops, Op::KnitDouble, std::mem::take(&mut doubles));
                open += item.width();
                continue;
            }
            Item::Stitches(_, Mount::LeadingLegBehind, _)
            | Item::Wrapped(_, Mount::LeadingLegBehind) => {
                run(&mut ops, Op::KnitDouble, std::mem::take(&mut doubles));
                run(&mut ops, Op::Knit, std::mem::take(&mut open));
                run(&mut ops, Op::KnitThroughBackLoop, item.width());
                continue;
            }
            Item::Double(_) => {
                run(&mut ops, Op::Knit, std::mem::take(&mut open));
                doubles += 1;
                continue;
            }
            Item::Marker(m) => Op::SlipMarker(m),
            Item::End => Op::Next,
            Item::Edge { .. } | Item::Gap => continue,
        };
        run(&mut ops, Op::Knit, std::mem::take(&mut open));
        run(&mut ops, Op::KnitDouble, std::mem::take(&mut doubles));
        ops.push(stop);
    }
    ops
}

/// The same round, its first and last stitch of heel, sole or back each knitted together with a loop out
/// of the corner beside it, against a hole (common practice, no source).
pub(super) fn closing_corners(needles: &Needles, ops: Vec<Op>) -> Result<Vec<Op>, Refusal> {
    let mut needles = needles.clone();
    let mut out = Vec::with_capacity(ops.len() + 4);
    for op in ops {
        let (make, n): (fn(Count) -> Op, u16) = match op {
            Op::Knit(n) => (Op::Knit, n.get()),
            Op::KnitDouble(n) => (Op::KnitDouble, n.get()),
            other => {
                needles.apply(&other)?;
                out.push(other);
                continue;
            }
        };
        let mut plain = 0;
        for _ in 0..n {
            let mut corner = needles.clone();
            if corner.apply(&Op::KnitCorner).is_ok() {
                run(&mut out, make, std::mem::take(&mut plain));
                out.push(Op::KnitCorner);
                needles = corner;
            } else {
                needles.apply(&make(Count::MIN))?;
                plain += 1;
            }
        }
        run(&mut out, make, plain);
    }
    Ok(out)
}

/// The same round, plain stitches of these origins knitted through the back loop.
pub(super) fn through_the_back_loop(
    needles: &Needles,
    ops: Vec<Op>,
    wanted: impl Fn(Origin) -> bool,
) -> Result<Vec<Op>, Refusal> {
    let mut needles = needles.clone();
    let mut out = Vec::with_capacity(ops.len() + 4);
    for op in ops {
        let mut left = match op {
            Op::Knit(n) => n.get(),
            other => {
                needles.apply(&other)?;
                out.push(other);
                continue;
            }
        };
        while left > 0 {
            let Some(Item::Stitches(origin, _, here)) = needles.next() else {
                return Err(Refusal::OutOfStitches);
            };
            let now = left.min(here);
            let make = if wanted(origin) {
                Op::KnitThroughBackLoop
            } else {
                Op::Knit
            };
            needles.work(now)?;
            match (out.last_mut(), Count::new(now)) {
                (Some(Op::Knit(before)), Some(more)) if !wanted(origin) => {
                    *before = before.saturating_add(more.get());
                }
                _ => run(&mut out, make, now),
            }
            left -= now;
        }
    }
    Ok(out)
}

/// One round of rib that begins so many stitches into its repeat; it runs on over markers and needle
/// ends.
pub(super) fn rib_round(needles: &Needles, rib: Rib, begins: u16) -> Vec<Op> {
    let mut ops = Vec::with_capacity(8);
    let mut worked = begins;
    for stretch in stretches(needles) {
        rib_run(&mut ops, rib, worked, stretch.stitches);
        worked += stretch.stitches;
        ops.extend(stretch.stop);
    }
    ops
}

/// `n` stitches of rib, `start` stitches into the pattern.
fn rib_run(ops: &mut Vec<Op>, rib: Rib, start: u16, n: u16) {
    let (k, p) = rib.repeat();
    let repeat = k + p;
    let knit = if rib == Rib::Twisted {
        Op::KnitThroughBackLoop
    } else {
        Op::Knit
    };
    // `from..to` within one repeat
    let part = |ops: &mut Vec<Op>, from: u16, to: u16| {
        run(ops, knit, to.min(k).saturating_sub(from));
        run(ops, Op::Purl, to.saturating_sub(from.max(k)));
    };
    let at = start % repeat;
    let head = if at == 0 { 0 } else { (repeat - at).min(n) };
    part(ops, at, at + head);
    let rest = n - head;
    let mut whole = Vec::with_capacity(2);
    part(&mut whole, 0, repeat);
    run_repeat(ops, whole, rest / repeat);
    part(ops, 0, rest % repeat);
}

/// Pushes a repeat, unless it is worked not at all; once is no repeat.
pub(super) fn run_repeat(ops: &mut Vec<Op>, group: Vec<Op>, times: u16) {
    match Count::new(times) {
        None => {}
        Some(once) if once.get() == 1 => ops.extend(group),
        Some(times) => ops.push(Op::Repeat(group, times)),
    }
}

/// One round over knit and purl stitches by turns, each kind worked by `knit` and `purl`.
pub(super) fn round_by_turns(needles: &Needles, knit: &Op, purl: &Op) -> Vec<Op> {
    let mut ops = Vec::with_capacity(8);
    let mut worked = 0;
    for stretch in stretches(needles) {
        let mut n = stretch.stitches;
        if worked % 2 == 1 && n > 0 {
            ops.push(purl.clone());
            n -= 1;
        }
        run_repeat(&mut ops, vec![knit.clone(), purl.clone()], n / 2);
        if n % 2 == 1 {
            ops.push(knit.clone());
        }
        worked += stretch.stitches;
        ops.extend(stretch.stop);
    }
    ops
}

/// One round between knit and purl stitches by turns and a rib of two and two: of every four the first
/// two are worked as they are, the others are crossed.
pub(super) fn crossing_round(needles: &Needles, cross: Cross) -> Vec<Op> {
    let one = Count::MIN;
    let repeat = [Op::Knit(one), Op::Purl(one), Op::Cross(cross)];
    let mut ops = Vec::with_capacity(8);
    let mut worked = 0;
    for stretch in stretches(needles) {
        let mut pairs = stretch.stitches / 2;
        if worked % 4 == 2 && pairs > 0 {
            ops.push(Op::Cross(cross));
            pairs -= 1;
        }
        run_repeat(&mut ops, repeat.to_vec(), pairs / 2);
        if pairs % 2 == 1 {
            ops.extend_from_slice(&repeat[..2]);
        }
        worked += stretch.stitches;
        ops.extend(stretch.stop);
    }
    ops
}

/// One round that takes away one stitch in every group of `group`, at the group's end. Groups begin
/// anew at each marker and needle's end; what is left over stays plain.
pub(super) fn spread_round(needles: &Needles, group: u16) -> Vec<Op> {
    round_of(needles, |ops, n| {
        let mut one = Vec::with_capacity(2);
        run(&mut one, Op::Knit, group - 2);
        one.push(Op::K2tog);
        run_repeat(ops, one, n / group);
        run(ops, Op::Knit, n % group);
    })
}

/// Where a shaping round takes stitches away or adds them.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Shaping {
    /// On the sole side of both borders between instep and sole: the gusset.
    SoleOnly,
    /// On both sides of these borders: the toe.
    BothSides(Borders),
}

/// Which borders between sole and instep.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Borders {
    /// Both.
    Both,
    /// Where the instep begins.
    Start,
    /// Where the instep ends.
    End,
}

/// What a shaping round does at both ends of one stretch.
struct Ends {
    at_start: bool,
    at_end: bool,
}

/// Writes a round stretch by stretch, telling which ends of it are shaped.
fn shaped(needles: &Needles, shaping: Shaping, write: fn(&mut Vec<Op>, u16, &Ends)) -> Vec<Op> {
    let all = stretches(needles);
    let mut ops = Vec::with_capacity(16);
    for (i, stretch) in all.iter().enumerate() {
        let before = &all[(i + all.len() - 1) % all.len()];
        let after = &all[(i + 1) % all.len()];
        // `top` lies after the border: there the instep begins
        let here = |other: &RunToStop, top: bool| {
            other.top != stretch.top
                && match shaping {
                    Shaping::SoleOnly => !stretch.top,
                    Shaping::BothSides(Borders::Both) => true,
                    Shaping::BothSides(Borders::Start) => top,
                    Shaping::BothSides(Borders::End) => !top,
                }
        };
        let ends = Ends {
            at_start: here(before, stretch.top),
            at_end: here(after, after.top),
        };
        write(&mut ops, stretch.stitches, &ends);
        ops.extend(stretch.stop.clone());
    }
    ops
}

/// One decrease round: one stitch stays plain beside each border, decreases lean away from it
/// (k2tog before it, ssk after it).
pub(super) fn shaping_round(needles: &Needles, shaping: Shaping) -> Vec<Op> {
    shaped(needles, shaping, |ops, n, ends| {
        let mut plain = n;
        if ends.at_start {
            run(ops, Op::Knit, 1);
            ops.push(Op::Ssk);
            plain = plain.saturating_sub(3);
        }
        if ends.at_end {
            run(ops, Op::Knit, plain.saturating_sub(3));
            ops.push(Op::K2tog);
            run(ops, Op::Knit, 1);
        } else {
            run(ops, Op::Knit, plain);
        }
    })
}

/// One increase round: one stitch stays plain beside each border, the new ones lean towards it.
pub(super) fn increase_round(needles: &Needles, shaping: Shaping) -> Vec<Op> {
    shaped(needles, shaping, |ops, n, ends| {
        let mut plain = n;
        if ends.at_start {
            run(ops, Op::Knit, 1);
            ops.push(Op::MakeLeft);
            plain = plain.saturating_sub(1);
        }
        if ends.at_end {
            run(ops, Op::Knit, plain.saturating_sub(1));
            ops.push(Op::MakeRight);
            run(ops, Op::Knit, 1);
        } else {
            run(ops, Op::Knit, plain);
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::written_ops::write_ops;

    #[test]
    fn rib_runs_on_over_needle_ends() {
        let mut ops = Vec::new();
        rib_run(&mut ops, Rib::TwoByTwo, 0, 30);
        rib_run(&mut ops, Rib::TwoByTwo, 30, 30);
        rib_run(&mut ops, Rib::OneByOne, 3, 4);
        rib_run(&mut ops, Rib::TwoByTwo, 3, 1);
        assert_eq!(write_ops(&ops), "[k2 p2]7 k2 p2 [k2 p2]7 p1 k1 p1 k1 p1");
    }
}
