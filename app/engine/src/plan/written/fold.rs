//! The same operations again and again, written once with a number of times.

use crate::stitch::{Count, Op};

/// Longest group that is looked for, in operations.
const LONGEST: usize = 24;

/// Operations with their repeats as groups. A group lies within one needle: what moves ends, markers or
/// the beginning stands outside.
pub(crate) fn folded(ops: Vec<Op>) -> Vec<Op> {
    let ops = merged(ops);
    let mut out = Vec::with_capacity(ops.len());
    let mut at = 0;
    while at < ops.len() {
        match best(&ops[at..]) {
            Some((length, times)) if times.get() > 1 => {
                out.push(Op::Repeat(ops[at..at + length].to_vec(), times));
                at += length * usize::from(times.get());
            }
            _ => {
                out.push(ops[at].clone());
                at += 1;
            }
        }
    }
    out
}

/// The group that covers most from here on, and how often it stands there.
fn best(ops: &[Op]) -> Option<(usize, Count)> {
    let inside = ops.iter().take_while(|op| repeats(op)).count();
    let lengths = 2..=LONGEST.min(inside / 2);
    let covered = lengths.filter_map(|length| {
        let group = &ops[..length];
        let times = ops[..inside]
            .chunks_exact(length)
            .take_while(|chunk| *chunk == group)
            .count();
        let times = Count::new(u16::try_from(times).ok()?)?;
        (times.get() > 1).then_some((length, times))
    });
    // the shortest of those that cover as much
    covered.max_by_key(|(length, times)| {
        (
            length * usize::from(times.get()),
            std::cmp::Reverse(*length),
        )
    })
}

const fn repeats(op: &Op) -> bool {
    !op.only_shifts() && !matches!(op, Op::Repeat(..) | Op::SlipMarker(_) | Op::PatternLine(_))
}

/// Neighbouring runs of one kind as one.
fn merged(ops: Vec<Op>) -> Vec<Op> {
    let mut out: Vec<Op> = Vec::with_capacity(ops.len());
    for op in ops {
        let both = match (out.last(), &op) {
            (Some(Op::Knit(a)), Op::Knit(b)) => sum(*a, *b).map(Op::Knit),
            (Some(Op::Purl(a)), Op::Purl(b)) => sum(*a, *b).map(Op::Purl),
            (Some(Op::KnitThroughBackLoop(a)), Op::KnitThroughBackLoop(b)) => {
                sum(*a, *b).map(Op::KnitThroughBackLoop)
            }
            _ => None,
        };
        if let Some(both) = both {
            out.pop();
            out.push(both);
        } else {
            out.push(op);
        }
    }
    out
}

fn sum(a: Count, b: Count) -> Option<Count> {
    a.checked_add(b.get())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::written_ops::{read_ops, write_ops};

    #[test]
    fn repeats_are_groups_within_a_needle() {
        let ops = |text| read_ops(text).expect("operations");
        let fold = |text| write_ops(&folded(ops(text)));
        assert_eq!(
            fold("k2 p2 k2 p2 k2 p2 / k2 p2 k2 p2"),
            "[k2 p2]3 / [k2 p2]2"
        );
        assert_eq!(fold("k3 k4 p1"), "k7 p1");
        assert_eq!(fold("k1 p1 k1"), "k1 p1 k1");
        assert_eq!(fold("k1 yo k2tog k1 yo k2tog k4"), "[k1 yo k2tog]2 k4");
    }
}
