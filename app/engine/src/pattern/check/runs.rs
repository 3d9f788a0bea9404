//! What lies on the needles, run by run, and the same needles with more or fewer stitches.
//!
//! Knows needles; must not know a pattern.

use crate::needles::{Item, Needles};
use crate::stitch::{Count, Op};

/// The same needles with so many stitches, where that can be: as many more or fewer in the first run of
/// stitches as in the last, since most shapings lie alike on both sides.
pub(super) fn resized(needles: &Needles, all: u16) -> Needles {
    let last = run_widths(needles).len().saturating_sub(1);
    let now = needles.stitches();
    let half = if all > now {
        now + (all - now).div_ceil(2)
    } else {
        now - (now - all).div_ceil(2)
    };
    needles
        .with_run_resized(0, half)
        .and_then(|n| n.with_run_resized(last, all))
        .or_else(|| (0..=last).find_map(|nth| needles.with_run_resized(nth, all)))
        .unwrap_or_else(|| needles.clone())
}

fn run_widths(needles: &Needles) -> Vec<u16> {
    let runs = needles.items().filter_map(|item| match item {
        Item::Stitches(_, _, n) => Some(n),
        _ => None,
    });
    runs.collect()
}

/// By how many stitches each run differs; where those are not the same runs, the first has it all.
pub(super) fn run_changes(before: &Needles, after: &Needles) -> Vec<i32> {
    let (a, b) = (run_widths(before), run_widths(after));
    if a.len() == b.len() {
        let pairs = a.iter().zip(&b);
        return pairs.map(|(a, b)| i32::from(*b) - i32::from(*a)).collect();
    }
    vec![i32::from(after.stitches()) - i32::from(before.stitches())]
}

/// The same needles with so many stitches more or fewer in each run.
pub(super) fn changed(needles: &Needles, runs: &[i32]) -> Option<Needles> {
    let mut out = needles.clone();
    for (nth, change) in runs.iter().enumerate().filter(|(_, change)| **change != 0) {
        let all = u16::try_from(i32::from(out.stitches()) + change).ok()?;
        out = out.with_run_resized(nth, all)?;
    }
    Some(out)
}

/// Stitches ahead before the edge, or before a gap that comes first.
pub(super) fn ahead_in_row(needles: &Needles, to_gap: bool) -> u16 {
    needles
        .upcoming()
        .take_while(|item| match item {
            Item::Edge { .. } => false,
            Item::Gap => !to_gap,
            _ => true,
        })
        .map(Item::width)
        .sum()
}

/// Whether a row was turned that no round has closed since.
pub(super) fn short_rows(needles: &Needles) -> bool {
    needles
        .items()
        .any(|i| matches!(i, Item::Gap | Item::Double(_) | Item::Wrapped(..)))
}

pub(super) fn has_edges(needles: &Needles) -> bool {
    needles.items().any(|i| matches!(i, Item::Edge { .. }))
}

/// So many stitches become so many, by the pattern's own words.
pub(super) fn as_written(before: u16, after: u16) -> Vec<Op> {
    match (Count::new(before), Count::new(after)) {
        (Some(before), Some(after)) => vec![Op::AsWritten(before, after)],
        _ => Vec::new(),
    }
}
