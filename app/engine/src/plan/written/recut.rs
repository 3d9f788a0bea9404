//! Rounds that begin elsewhere than the pattern's: the same stitches in the same order, cut into rounds where
//! the knitter's needles have the beginning.
//!
//! A sock in the round is one long spiral. After the pick-up our seatings begin the round in the middle of the
//! heel, or at the instep's end; a pattern may begin it anywhere.

use super::crossing::{Crossing, crossing};
use super::named::of_sock;
use super::reseat::{bare, extent};

use crate::pattern::{FollowedLine, FollowedPart, Form, Part};
use crate::recipe::{Method, Seating, SockPart};
use crate::stitch::{Count, Op};

/// A line and the part it stands in.
type Placed = (Option<Part>, FollowedLine);

/// The pattern's parts with their rounds cut anew from the pick-up on. Where they cannot be cut there,
/// they stay as they are. `ours`: what of the sock is knitted by sections of ours instead; those begin the round where
/// the needles do, so that what is cut ends before them and begins anew after them.
pub(super) fn recut(
    parts: Vec<FollowedPart>,
    needles: Method,
    ours: &dyn Fn(SockPart) -> bool,
) -> Vec<FollowedPart> {
    let mut of = None;
    let mut replaced = Vec::new();
    let mut lines: Vec<Placed> = Vec::new();
    for part in &parts {
        // what has no name of its own goes on with what was
        of = part.part.map(of_sock).or(of);
        for line in &part.lines {
            lines.push((part.part, line.clone()));
            replaced.push(of.is_some_and(ours));
        }
    }
    match cut(&lines, &replaced, needles) {
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
                begins: None,
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
pub(super) fn divided(op: &Op, n: u16) -> Option<Op> {
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

/// `replaced`: which lines are not knitted, since a section of ours is instead.
fn cut(lines: &[Placed], replaced: &[bool], needles: Method) -> Option<Vec<Placed>> {
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
    let mut at = from + used;
    at += rounds_into(&mut rest, &lines[at..], &replaced[at..]);
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
    loop {
        let ours_next = replaced.get(at).copied().unwrap_or(false);
        cut_rounds(&mut spiral, &mut stitches, ours_next, &mut out)?;
        if !at_the_side || !ours_next {
            break;
        }
        let ours = replaced[at..].iter().take_while(|ours| **ours).count();
        out.extend(lines[at..at + ours].iter().cloned());
        at += ours;
        // ours ends at the side; the pattern goes on from its own beginning, so far into the sole
        let Some((part, next)) = lines.get(at) else {
            break;
        };
        let sole = stitches.checked_sub(crossing.instep)?;
        let into = sole.checked_sub(crossing.heel)? / 2 + knitted;
        let to_beginning = Count::new(into).map(Op::Knit);
        let mut rest: Vec<_> = to_beginning
            .map(|op| (*part, next.line, op))
            .into_iter()
            .collect();
        let many = rounds_into(&mut rest, &lines[at..], &replaced[at..]);
        if many == 0 {
            break;
        }
        at += many;
        spiral = Spiral { rest, at: 0 };
    }
    out.extend(lines[at..].iter().cloned());
    Some(out)
}

/// Adds what the rounds work that come first, up to those that ours are knitted instead of; how many lines those are.
fn rounds_into(
    rest: &mut Vec<(Option<Part>, u32, Op)>,
    lines: &[Placed],
    replaced: &[bool],
) -> usize {
    let rounds = lines.iter().zip(replaced);
    let rounds: Vec<&Placed> = rounds
        .take_while(|((_, line), ours)| line.form == Form::Round && !line.unread && !**ours)
        .map(|(placed, _)| placed)
        .collect();
    for (part, line) in &rounds {
        let ops = bare(&line.ops).into_iter();
        rest.extend(
            ops.filter(|op| *op != Op::BeginHere)
                .map(|op| (*part, line.line, op)),
        );
    }
    rounds.len()
}

/// Cuts rounds of so many stitches until what is left is none. With that the pattern's own beginning is reached, unless
/// a section of ours comes next, which goes on from where the needles begin.
fn cut_rounds(
    spiral: &mut Spiral,
    stitches: &mut u16,
    ours_next: bool,
    out: &mut Vec<Placed>,
) -> Option<()> {
    while spiral.at < spiral.rest.len() {
        let before = (spiral.at, spiral.rest[spiral.at].2.clone());
        let Some(round) = spiral.take(*stitches) else {
            // the last round is not whole
            spiral.at = before.0;
            spiral.rest[before.0].2 = before.1;
            let last: Vec<_> = spiral.rest.split_off(spiral.at);
            let left: u16 = last.iter().map(|(.., op)| extent(op).0).sum();
            if left >= *stitches {
                return None;
            }
            if !ours_next {
                let mut line = line_of(&last, Form::Walk)?;
                line.1.ops.push(Op::BeginHere);
                out.push(line);
            }
            break;
        };
        for (.., op) in &round {
            let (takes, makes, _) = extent(op);
            *stitches = (*stitches + makes).checked_sub(takes)?;
        }
        let mut line = line_of(&round, Form::Round)?;
        line.1.after = *stitches;
        out.push(line);
    }
    Some(())
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
            back_over: 0,
            unread: false,
        },
    ))
}
