//! Rounds that begin elsewhere than the pattern's: the same stitches in the same order, cut into rounds where
//! the knitter's needles have the beginning.
//!
//! A sock in the round is one long spiral. After the pick-up our seatings begin the round in the middle of the
//! heel, or at the instep's end; a pattern may begin it anywhere.

use super::crossing::{Crossing, crossing};
use super::reseat::{bare, extent};
use crate::pattern::{FollowedLine, FollowedPart, Form, Part};
use crate::recipe::{Method, Seating};
use crate::stitch::{Count, Op};

/// A line and the part it stands in.
type Placed = (Option<Part>, FollowedLine);

/// The pattern's parts with their rounds cut anew from the pick-up on. Where they cannot be cut there,
/// they stay as they are.
pub(super) fn recut(parts: Vec<FollowedPart>, needles: Method) -> Vec<FollowedPart> {
    let lines: Vec<Placed> = parts
        .iter()
        .flat_map(|part| part.lines.iter().map(|line| (part.part, line.clone())))
        .collect();
    match cut(&lines, needles) {
        Some(lines) => in_parts(lines),
        None => parts,
    }
}

fn in_parts(lines: Vec<Placed>) -> Vec<FollowedPart> {
    let mut parts: Vec<FollowedPart> = Vec::new();
    for (part, line) in lines {
        match parts.last_mut() {
            Some(last) if last.part == part => last.lines.push(line),
            _ => parts.push(FollowedPart {
                part,
                lines: vec![line],
            }),
        }
    }
    parts
}

/// What is worked after the pick-up, operation by operation.
struct Spiral {
    rest: Vec<(Option<Part>, u32, Op)>,
    at: usize,
}

impl Spiral {
    /// Takes operations over so many stitches.
    fn take(&mut self, stitches: u16) -> Option<Vec<(Option<Part>, u32, Op)>> {
        let mut left = stitches;
        let mut out = Vec::new();
        while left > 0 {
            let (part, line, op) = self.rest.get(self.at)?.clone();
            let (takes, _, whole) = extent(&op);
            if takes <= left {
                left -= takes;
                self.at += 1;
                out.push((part, line, op));
                continue;
            }
            if whole {
                return None;
            }
            let now = divided(&op, left)?;
            self.rest[self.at].2 = divided(&op, takes - left)?;
            out.push((part, line, now));
            left = 0;
        }
        Some(out)
    }
}

/// So many stitches of a run.
fn divided(op: &Op, n: u16) -> Option<Op> {
    let n = Count::new(n)?;
    Some(match op {
        Op::Knit(_) => Op::Knit(n),
        Op::Purl(_) => Op::Purl(n),
        Op::KnitThroughBackLoop(_) => Op::KnitThroughBackLoop(n),
        Op::Slip(_) => Op::Slip(n),
        Op::SlipYarnInFront(_) => Op::SlipYarnInFront(n),
        Op::Rare(stitch, _) => Op::Rare(*stitch, n),
        Op::AsWritten(from, to) if from == to => Op::AsWritten(n, n),
        _ => return None,
    })
}

fn cut(lines: &[Placed], needles: Method) -> Option<Vec<Placed>> {
    let from = lines
        .iter()
        .position(|(_, line)| super::lines::picks_up(&bare(&line.ops)))?;
    let rows: Vec<FollowedLine> = lines[from..].iter().map(|(_, line)| line.clone()).collect();
    let (all, used) = super::lines::pick_up_lines(&rows);
    let (crossing, after) = crossing(&all)?;
    let at_the_side = needles.seating() == Some(Seating::InstepAndSole);
    let around = crossing.heel
        + crossing.along.0
        + crossing.instep
        + crossing.along.1
        + 2 * u16::from(crossing.corners);
    let begins = if at_the_side {
        crossing.heel + crossing.along.0 + u16::from(crossing.corners) + crossing.instep
    } else {
        crossing.heel.div_ceil(2)
    };
    // in the middle of the heel on either side of an odd stitch: as the pattern has it
    let knitted = after
        .iter()
        .take_while(|op| matches!(op, Op::Knit(_)))
        .map(|op| extent(op).0)
        .sum::<u16>();
    let begins = if !at_the_side && knitted == crossing.heel / 2 && all_plain(&after) {
        knitted
    } else {
        begins
    };

    let (part, first) = lines.get(from)?;
    let mut rest: Vec<(Option<Part>, u32, Op)> = after
        .iter()
        .map(|op| (*part, first.line, op.clone()))
        .collect();
    let rounds_from = from + used;
    let mut rounds_to = rounds_from;
    for (part, line) in &lines[rounds_from..] {
        if line.form != Form::Round || line.unread {
            break;
        }
        rounds_to += 1;
        let ops = bare(&line.ops).into_iter();
        rest.extend(
            ops.filter(|op| *op != Op::BeginHere)
                .map(|op| (*part, line.line, op)),
        );
    }
    let mut spiral = Spiral { rest, at: 0 };
    let mut out = lines[..from].to_vec();
    out.push((
        *part,
        crossed(
            first,
            &crossing,
            around,
            if at_the_side { 0 } else { begins },
        ),
    ));
    let head = spiral.take(begins)?;
    if at_the_side {
        let mut line = line_of(&head, Form::Walk)?;
        line.1.ops.push(Op::BeginHere);
        out.push(line);
    } else if !head.iter().all(|(.., op)| matches!(op, Op::Knit(_))) {
        return None;
    }
    let mut stitches = around;
    for (.., op) in &head {
        let (takes, makes, _) = extent(op);
        stitches = (stitches + makes).checked_sub(takes)?;
    }
    while spiral.at < spiral.rest.len() {
        let before = (spiral.at, spiral.rest[spiral.at].2.clone());
        let Some(round) = spiral.take(stitches) else {
            // the last round is not whole: the pattern's beginning is reached first
            spiral.at = before.0;
            spiral.rest[before.0].2 = before.1;
            let last: Vec<_> = spiral.rest.split_off(spiral.at);
            let left: u16 = last.iter().map(|(.., op)| extent(op).0).sum();
            if left >= stitches {
                return None;
            }
            let mut line = line_of(&last, Form::Walk)?;
            line.1.ops.push(Op::BeginHere);
            out.push(line);
            break;
        };
        for (.., op) in &round {
            let (takes, makes, _) = extent(op);
            stitches = (stitches + makes).checked_sub(takes)?;
        }
        let mut line = line_of(&round, Form::Round)?;
        line.1.after = stitches;
        out.push(line);
    }
    out.extend(lines[rounds_to..].iter().cloned());
    Some(out)
}

fn all_plain(ops: &[Op]) -> bool {
    ops.iter().all(|op| matches!(op, Op::Knit(_)))
}

/// The pick-up up to our beginning of the round.
fn crossed(first: &FollowedLine, crossing: &Crossing, around: u16, then: u16) -> FollowedLine {
    let mut ops = crossing.ops();
    ops.extend(Count::new(then).map(Op::Knit));
    FollowedLine {
        form: Form::Walk,
        ops,
        after: around,
        ..first.clone()
    }
}

fn line_of(ops: &[(Option<Part>, u32, Op)], form: Form) -> Option<Placed> {
    // the line that most of it stands in is the one that the knitter looks at
    let (part, line, _) = ops.iter().max_by_key(|(.., op)| extent(op).0)?;
    let first = ops.first().map_or(*part, |(part, ..)| *part);
    Some((
        first,
        FollowedLine {
            line: *line,
            form,
            ops: ops.iter().map(|(.., op)| op.clone()).collect(),
            after: 0,
            unread: false,
        },
    ))
}
