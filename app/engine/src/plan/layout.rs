//! Which stitches sit on which needle, and rounds written for whatever lies on the needles.
//!
//! A round is written from the state itself: a run up to each marker or needle's end. So the same
//! section serves every needle method and both seatings.

use crate::needles::{Item, Needles, Origin};
use crate::recipe::{Method, Rib};
use crate::stitch::{Op, run};

/// Stitches on each needle in the leg. Two halves; thirds in whole repeats of the cuff, the larger
/// first; or quarters. One short circular has no divisions.
pub(super) fn leg_sizes(method: Method, around: u16, repeat: u16) -> Vec<u16> {
    match method {
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => vec![around / 2; 2],
        Method::FourDpns => {
            let repeats = around / repeat;
            (0..3)
                .map(|i| (repeats / 3 + u16::from(i < repeats % 3)) * repeat)
                .collect()
        }
        Method::FiveDpns => vec![around / 4; 4],
        Method::ShortCircular => Vec::new(),
    }
}

/// The operations that move needle ends from `old` sizes to `new` ones, the tip at the beginning
/// of the round. Stitches keep their order: only ends move.
pub(super) fn reseat(old: &[u16], new: &[u16]) -> Vec<Op> {
    let ends = |sizes: &[u16]| -> Vec<u16> {
        sizes
            .iter()
            .scan(0, |sum, n| {
                *sum += n;
                Some(*sum)
            })
            .collect()
    };
    let (old, new) = (ends(old), ends(new));
    let gone = old
        .iter()
        .filter(|e| !new.contains(e))
        .map(|e| Op::LoopIn(*e));
    let come = new
        .iter()
        .filter(|e| !old.contains(e))
        .map(|e| Op::LoopOut(*e));
    gone.chain(come).collect()
}

/// What one stretch between two stops is made of.
struct Stretch {
    stitches: u16,
    /// Whether it belongs to the top of the foot.
    instep: bool,
    /// What ends it.
    stop: Option<Op>,
}

/// The round from the tip as stretches between markers and needle ends.
fn stretches(needles: &Needles) -> Vec<Stretch> {
    let mut out = Vec::with_capacity(6);
    let mut open = Stretch {
        stitches: 0,
        instep: false,
        stop: None,
    };
    for item in needles.upcoming() {
        let stop = match item {
            Item::Stitches(origin, n) => {
                open.stitches += n;
                open.instep = origin == Origin::Instep;
                continue;
            }
            Item::Marker(m) => Op::SlipMarker(m),
            Item::End => Op::Next,
            Item::Edge { .. } | Item::Gap => continue,
        };
        out.push(Stretch {
            stop: Some(stop),
            ..open
        });
        open = Stretch {
            stitches: 0,
            instep: false,
            stop: None,
        };
    }
    if open.stitches > 0 {
        out.push(open);
    }
    out
}

/// One round in which every run is worked by `work`: a purl round, a hem's joining round.
pub(super) fn round_of(needles: &Needles, work: impl Fn(&mut Vec<Op>, u16)) -> Vec<Op> {
    let mut ops = Vec::with_capacity(8);
    for stretch in stretches(needles) {
        work(&mut ops, stretch.stitches);
        ops.extend(stretch.stop);
    }
    ops
}

/// One round of plain knitting.
pub(super) fn plain_round(needles: &Needles) -> Vec<Op> {
    round_of(needles, |ops, n| run(ops, Op::Knit, n))
}

/// One round of rib; the pattern runs on over markers and needle ends.
pub(super) fn rib_round(needles: &Needles, rib: Rib) -> Vec<Op> {
    let mut ops = Vec::with_capacity(8);
    let mut worked = 0;
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
        Op::KnitTwisted
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
    match crate::stitch::Count::new(times) {
        None => {}
        Some(once) if once.get() == 1 => ops.extend(group),
        Some(times) => ops.push(Op::Repeat(group, times)),
    }
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

/// Where a shaping round takes stitches away.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Shaping {
    /// On the sole side of both borders between instep and sole: the gusset.
    SoleOnly,
    /// On both sides of both borders: the toe.
    BothSides,
}

/// One decrease round: one stitch stays plain beside each border, decreases lean away from it
/// (k2tog before it, ssk after it).
pub(super) fn shaping_round(needles: &Needles, shaping: Shaping) -> Vec<Op> {
    let all = stretches(needles);
    let mut ops = Vec::with_capacity(16);
    for (i, stretch) in all.iter().enumerate() {
        let before = &all[(i + all.len() - 1) % all.len()];
        let after = &all[(i + 1) % all.len()];
        let shaped = shaping == Shaping::BothSides || !stretch.instep;
        let at_start = shaped && before.instep != stretch.instep;
        let at_end = shaped && after.instep != stretch.instep;
        let mut plain = stretch.stitches;
        if at_start {
            run(&mut ops, Op::Knit, 1);
            ops.push(Op::Ssk);
            plain = plain.saturating_sub(3);
        }
        if at_end {
            run(&mut ops, Op::Knit, plain.saturating_sub(3));
            ops.push(Op::K2tog);
            run(&mut ops, Op::Knit, 1);
        } else {
            run(&mut ops, Op::Knit, plain);
        }
        ops.extend(stretch.stop.clone());
    }
    ops
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stitch::write_ops;

    #[test]
    fn rib_runs_on_over_needle_ends() {
        let mut ops = Vec::new();
        rib_run(&mut ops, Rib::TwoByTwo, 0, 30);
        rib_run(&mut ops, Rib::TwoByTwo, 30, 30);
        rib_run(&mut ops, Rib::OneByOne, 3, 4);
        rib_run(&mut ops, Rib::TwoByTwo, 3, 1);
        assert_eq!(write_ops(&ops), "[k2 p2]7 k2 p2 [k2 p2]7 p1 k1 p1 k1 p1");
    }

    #[test]
    fn reseating_moves_ends_only() {
        assert_eq!(
            write_ops(&reseat(&[24, 20, 20], &[32, 16, 16])),
            "lc@24 lc@44 lo@32 lo@48"
        );
        assert!(reseat(&[32, 32], &[32, 32]).is_empty());
    }
}
