//! A section's rounds, rows and moves in the order in which they are knitted: what stays the same told
//! once, what repeats told as a repeat. What was told before in the section is referred to.
//!
//! Every number comes from the engine; nothing is counted here but how often something is said.

use std::collections::BTreeSet;

use evenloop_engine::plan::{Cue, Move, Plan, Section, SectionKind, Step, StepForm};
use evenloop_engine::sequence::{Passage, passages};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::text::{self as engine_text, Instructions, KnittingHand, Wording};
use evenloop_engine::trace::{Position, Trace};

use super::numbers;
use crate::hue::Hue;
use crate::picture::{Look, still};
use crate::text::sheet as says;

/// Rounds and rows from one on to another, or moves of a walk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SheetBlock {
    /// "Rounds 1 to 6", "Rounds 2 to 15: rounds 2 and 3, 7 times", "Step 2 of 8".
    pub(super) heading: String,
    /// In the order worked; a repeat has several.
    pub(super) items: Vec<SheetItem>,
    /// The boxes to tick off, in the order worked; none for moves.
    pub(super) ticks: Vec<Tick>,
}

/// One thing to do, over one or more rounds in a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SheetItem {
    /// Which rounds of a repeat it is, the first time; none where it is the whole block.
    pub(super) heading: Option<String>,
    /// The round that reads the same, where it was told before in the section.
    pub(super) like: Option<String>,
    pub(super) said: Said,
    /// Stitches on each needle named, and on all, after each time it is worked.
    pub(super) counts: Vec<Vec<u16>>,
    /// Whether they are said: beside rounds that change them, those that do not need not.
    pub(super) counted: bool,
    /// The needles afterwards as SVG, where the move is one that puts stitches on other needles or leaves an edge open.
    pub(super) still: Option<String>,
}

/// A box.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Tick {
    /// The number of its round or row.
    pub(super) number: usize,
    /// The chart's round that is worked in it, from 1.
    pub(super) chart: Option<u16>,
    /// The yarn it is worked with, where there are several.
    pub(super) yarn: Option<Yarn>,
}

/// What is read of a move, its counts left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Said {
    pub(super) shape: Option<&'static str>,
    pub(super) note: Option<String>,
    /// The needle named, and what to do there.
    pub(super) lines: Vec<(Option<u8>, String)>,
}

impl SheetItem {
    /// What is on the needle of a line (or on all, one past the last line) afterwards: one number
    /// where it stays, else one after the other.
    pub(super) fn count(&self, of: usize) -> String {
        let all: Vec<u16> = self
            .counts
            .iter()
            .filter_map(|counts| counts.get(of).copied())
            .collect();
        numbers::counts(&all)
    }

    /// What is on all needles afterwards.
    pub(super) fn total(&self) -> String {
        self.count(self.said.lines.len())
    }

    /// The needles that lines with the same words name: "needles 1 and 2" are said once.
    pub(super) fn alike(&self) -> Vec<(Vec<u8>, &str, String)> {
        let mut out: Vec<(Vec<u8>, &str, String)> = Vec::new();
        let mut seen = BTreeSet::new();
        for (i, (needle, line)) in self.said.lines.iter().enumerate() {
            let count = self.count(i);
            // A needle that is worked twice in a move keeps its order.
            let fresh = needle.is_none_or(|needle| seen.insert(needle));
            match out.last_mut() {
                Some((needles, text, after))
                    if fresh && *text == line && *after == count && needle.is_some() =>
                {
                    needles.extend(needle);
                }
                _ => out.push((needle.iter().copied().collect(), line, count)),
            }
        }
        out
    }
}

/// A round or row as it is read.
struct Round {
    form: StepForm,
    said: Said,
    counts: Vec<u16>,
    tick: Tick,
}

/// What makes two rounds read alike: a section's first round has a note that the others need not have.
#[derive(PartialEq)]
struct ComparedRound<'a> {
    form: StepForm,
    shape: Option<&'static str>,
    note: Option<&'a String>,
    lines: &'a [(Option<u8>, String)],
    chart: bool,
}

impl Round {
    fn read(&self) -> ComparedRound<'_> {
        ComparedRound {
            form: self.form,
            shape: self.said.shape,
            note: self.said.note.as_ref().filter(|_| self.tick.number > 1),
            lines: &self.said.lines,
            chart: self.tick.chart.is_some(),
        }
    }
}

/// The blocks of a section whose first step is that one of the sock.
pub(super) fn of(
    plan: &Plan,
    trace: &Trace,
    section: &Section,
    first: usize,
    style: Wording,
    hues: [Hue; 4],
) -> Vec<SheetBlock> {
    let shaped = section.kind == SectionKind::Leg && plan.recipe.shapes_leg();
    let mut blocks = Vec::new();
    let mut told: Vec<Round> = Vec::new();
    let mut open: Vec<Round> = Vec::new();
    for (index, step) in section.steps.iter().enumerate() {
        let step_number = first + index;
        if let Some(number) = section.number(index) {
            let at = Position {
                step: step_number,
                mv: 0,
            };
            let read = engine_text::instructions_on_paper(plan, trace, at, style);
            open.extend(read.map(|read| round(plan, trace, step, at, number, read)));
        } else {
            in_order(&mut blocks, &mut told, std::mem::take(&mut open), shaped);
            blocks.extend(walk(plan, trace, step, step_number, style, hues));
        }
    }
    in_order(&mut blocks, &mut told, open, shaped);
    blocks
}

fn round(
    plan: &Plan,
    trace: &Trace,
    step: &Step,
    at: Position,
    number: usize,
    read: Instructions,
) -> Round {
    let (said, counts) = text_and_counts(read);
    let yarn = plan.recipe.yarns.as_ref().and(trace.steps.get(at.step));
    Round {
        form: step.form,
        said,
        counts,
        tick: Tick {
            number,
            chart: step.moves.first().and_then(Move::motif_round),
            yarn: yarn.map(|seen| seen.after().yarn()),
        },
    }
}

/// A leg that is shaped now and then and has more passages than these is told as one.
const FEW: usize = 3;

/// Adds rounds that follow one another; `told` are those of the section that were told already, `shaped`
/// whether they are a leg that widens or narrows.
fn in_order(blocks: &mut Vec<SheetBlock>, told: &mut Vec<Round>, rounds: Vec<Round>, shaped: bool) {
    let read: Vec<ComparedRound<'_>> = rounds.iter().map(Round::read).collect();
    let passages = passages(&read);
    drop(read);
    // The first round may close the heel's corners.
    let together = || (0..2).find_map(|apart| Some((apart, now_and_then(rounds.get(apart..)?)?)));
    let many = shaped && passages.len() > FEW;
    if let Some((apart, others)) = many.then(together).flatten() {
        let first = (0..apart).map(|first| Passage {
            first,
            every: 1,
            times: 1,
        });
        blocks.extend(first.map(|passage| block(&rounds, passage, told)));
        blocks.push(others);
    } else {
        blocks.extend(passages.into_iter().map(|p| block(&rounds, p, told)));
    }
    told.extend(rounds);
}

/// Rounds of which all that are not shaped read alike, and all that are shaped in one way do: which are,
/// and all others. `None` where they are not so.
fn now_and_then(rounds: &[Round]) -> Option<SheetBlock> {
    let mut kinds: Vec<Vec<&Round>> = Vec::new();
    for round in rounds {
        let same = |kind: &&mut Vec<&Round>| kind.iter().any(|one| one.read() == round.read());
        match kinds.iter_mut().find(same) {
            Some(kind) => kind.push(round),
            None => kinds.push(vec![round]),
        }
    }
    let (mut even, shaped): (Vec<_>, Vec<_>) = kinds
        .into_iter()
        .partition(|kind| kind.iter().all(|round| round.said.shape.is_none()));
    let (Some(even), true) = (even.pop(), even.is_empty()) else {
        return None;
    };
    let counts = |kind: &[&Round]| kind.iter().map(|round| round.counts.clone()).collect();
    let number = |round: &&Round| round.tick.number;
    let mut items: Vec<SheetItem> = shaped
        .iter()
        .map(|kind| {
            let numbers: Vec<usize> = kind.iter().map(number).collect();
            SheetItem {
                heading: Some(numbers::heading(false, &numbers)),
                like: None,
                said: kind[0].said.clone(),
                counts: counts(kind),
                counted: true,
                still: None,
            }
        })
        .collect();
    items.push(SheetItem {
        heading: Some(says::ALL_OTHER_ROUNDS.into()),
        like: None,
        said: even[0].said.clone(),
        counts: counts(&even),
        counted: false,
        still: None,
    });
    let numbers: Vec<usize> = rounds.iter().map(|round| round.tick.number).collect();
    Some(SheetBlock {
        heading: numbers::heading(false, &numbers),
        items,
        ticks: rounds.iter().map(|round| round.tick).collect(),
    })
}

fn block(rounds: &[Round], passage: Passage, told: &[Round]) -> SheetBlock {
    let all = &rounds[passage.first..passage.first + passage.len()];
    let (once, _) = all.split_at(passage.every);
    let before: Vec<&Round> = told.iter().chain(&rounds[..passage.first]).collect();
    let mut items = Vec::new();
    let mut at = 0;
    for run in once.chunk_by(|a, b| a.read() == b.read()) {
        // where all of a block is alike, it is one run
        let length = if passage.every == 1 {
            all.len()
        } else {
            run.len()
        };
        let counts = all
            .iter()
            .enumerate()
            .filter(|(i, _)| (at..at + length).contains(&(i % passage.every.max(length))))
            .map(|(_, round)| round.counts.clone());
        let lead = &run[0];
        let like = before.iter().find(|round| round.read() == lead.read());
        let numbers: Vec<usize> = run.iter().map(|round| round.tick.number).collect();
        items.push(SheetItem {
            heading: (passage.every > 1).then(|| numbers::heading(is_row(lead), &numbers)),
            like: like.map(|round| says::like(is_row(round), round.tick.number)),
            said: lead.said.clone(),
            counts: counts.collect(),
            counted: true,
            still: None,
        });
        at += length;
    }
    let numbers: Vec<usize> = all.iter().map(|round| round.tick.number).collect();
    let rows = all.iter().any(is_row);
    let heading = if passage.every == 1 {
        numbers::heading(rows, &numbers)
    } else {
        numbers::repeated(rows, &numbers, passage.every, passage.times)
    };
    SheetBlock {
        heading,
        items,
        ticks: all.iter().map(|round| round.tick).collect(),
    }
}

const fn is_row(round: &Round) -> bool {
    matches!(round.form, StepForm::Row(_))
}

/// Moves one by one; those that read the same one after the other, such as pairs that are grafted,
/// are listed together.
fn walk(
    plan: &Plan,
    trace: &Trace,
    step: &Step,
    step_number: usize,
    style: Wording,
    hues: [Hue; 4],
) -> Vec<SheetBlock> {
    let mut blocks: Vec<SheetBlock> = Vec::new();
    for mv in 0..step.moves.len() {
        let at = Position {
            step: step_number,
            mv,
        };
        let Some(read) = engine_text::instructions_on_paper(plan, trace, at, style) else {
            continue;
        };
        let heading = read.heading.clone();
        let (said, counts) = text_and_counts(read);
        match blocks
            .last_mut()
            .map(|block| (&mut block.heading, block.items.as_mut_slice()))
        {
            Some((heading, [item])) if item.said == said => {
                item.counts.push(counts);
                let first = mv + 2 - item.counts.len();
                *heading = says::moves(first, mv + 1, step.moves.len());
            }
            _ => blocks.push(SheetBlock {
                heading,
                items: vec![SheetItem {
                    heading: None,
                    like: None,
                    said,
                    counts: vec![counts],
                    counted: true,
                    still: drawn_after(plan, trace, at, style.hand, hues),
                }],
                ticks: Vec::new(),
            }),
        }
    }
    blocks
}

/// The needles after a move, as they are drawn on Now when it is done; only where stitches come onto other needles or
/// an edge is open, which words alone tell badly.
fn drawn_after(
    plan: &Plan,
    trace: &Trace,
    at: Position,
    hand: KnittingHand,
    hues: [Hue; 4],
) -> Option<String> {
    let (_, mv) = plan.move_at(at)?;
    let drawn = matches!(
        mv.cue,
        Cue::CrossBegin
            | Cue::PickUpLeft
            | Cue::CrossInstepFirst
            | Cue::PickUpRight
            | Cue::CrossClose
            | Cue::CrossSole
            | Cue::SeatMiddle
            | Cue::SeatHeel
            | Cue::SeatApart
            | Cue::SeatLeg
            | Cue::ChangeNeedles
            | Cue::SeatForGraft
    );
    let after = &trace.steps.get(at.step)?.moves.get(at.mv)?.after;
    drawn.then(|| {
        let mut needles = after.clone();
        needles.rename(|origin| hand.sees(origin));
        let yarn = Hue::of(after.yarn(), hues).class();
        still(&needles, Look::from(plan.recipe.needles), yarn)
    })
}

fn text_and_counts(read: Instructions) -> (Said, Vec<u16>) {
    let counts = read.lines.iter().map(|line| line.count_after);
    let counts = counts.chain([read.total_after]).collect();
    let said = Said {
        shape: read.shape,
        note: read.note,
        lines: read
            .lines
            .into_iter()
            .map(|line| (line.needle, line.text))
            .collect(),
    };
    (said, counts)
}
