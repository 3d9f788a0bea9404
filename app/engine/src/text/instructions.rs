//! What is said about one move: what to do on which needle, what follows, and what is hard in it.
//!
//! Numbers in here come from operations and from the simulator's needles; which lines and notes there
//! are is decided here and in [`mod@line`] and [`notes`], how they are said by the language.

use super::language;
use super::line::Beside;
use super::messages::{GraftNeedle, LinePiece, Note, StepShape};
use super::technique::Technique;
use super::technique::{first_steps, hard, last_steps};
use super::wording::{RunStyle, WordForm, Wording};
use super::{line, notes};
use crate::hand::in_hand;
use crate::needles::{Facing, Item};
use crate::plan::{Cue, Move, Plan, Section, SectionKind, Step, StepForm};
use crate::recipe::{Motif, Row};
use crate::stitch::Op;
use crate::trace::{MoveTrace, Position, Trace};

/// What to do on one needle, and how many stitches are on it afterwards.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The needle's number from 1; `None` where one short circular holds everything.
    pub needle: Option<u8>,
    /// What to do; empty where a move only shifts stitches.
    pub text: String,
    /// Where in the text each thing to do begins, but the first.
    begins: Vec<usize>,
    /// Stitches on that needle when it is done.
    pub count_after: u16,
    /// What is hard in it, in the order met.
    pub hard: Vec<Technique>,
}

impl Line {
    /// The text thing by thing, with what stands between two of them at the end of the first.
    pub fn things(&self) -> impl Iterator<Item = &str> {
        let ends = self.begins.iter().copied().chain([self.text.len()]);
        let begins = std::iter::once(0).chain(self.begins.iter().copied());
        begins
            .zip(ends)
            .filter_map(|(begin, end)| self.text.get(begin..end))
            .filter(|thing| !thing.is_empty())
    }
}

/// Everything a screen says about the move at hand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Instructions {
    /// The section's name.
    pub section: &'static str,
    /// "Round 3 of 18", "Row 5 of 32", "Step 2 of 8".
    pub heading: String,
    /// What kind of round or move it is, where that matters: "decrease round", "wrong side", "joining".
    pub shape: Option<&'static str>,
    /// Why and how, for walked moves and hard places.
    pub note: Option<String>,
    /// Whether the note is read before the lines, because it tells what is done before them.
    pub note_first: bool,
    /// Whether the note asks to measure the sock or to try it on: if it is not as said there, the rest can
    /// be replanned.
    pub measure: bool,
    /// Needle by needle, in the order worked.
    pub lines: Vec<Line>,
    /// Which move of a walk this is, from 1, and of how many.
    pub move_of: Option<(usize, usize)>,
    /// What is hard about the move as a whole, beyond its lines.
    pub hard: Vec<Technique>,
    /// Stitches on all needles when it is done.
    pub total_after: u16,
}

/// The instructions for a position; `None` when the sock is finished.
pub fn instructions(
    plan: &Plan,
    trace: &Trace,
    at: Position,
    style: Wording,
) -> Option<Instructions> {
    instructions_beside(plan, trace, at, style, Beside::default())
}

/// The same for a sheet that shows the motif's chart, the yarns' order and a key of abbreviations beside the
/// rounds. Rounds and rows say where the chart is worked and how often, not what it is, and name no yarn. Which
/// of the chart's rounds is worked says [`Move::motif_round`], with which yarn the needles afterwards; what the
/// key holds, [`super::abbreviations()`].
pub fn instructions_on_paper(
    plan: &Plan,
    trace: &Trace,
    at: Position,
    style: Wording,
) -> Option<Instructions> {
    let (style, beside) = on_paper(plan, trace, at, style)?;
    instructions_beside(plan, trace, at, style, beside)
}

/// How a move is said on paper, and what stands beside it there.
fn on_paper<'a>(
    plan: &'a Plan,
    trace: &Trace,
    at: Position,
    style: Wording,
) -> Option<(Wording, Beside<'a>)> {
    let (step, _) = plan.move_at(at)?;
    let kind = trace.steps.get(at.step)?.kind;
    let counted = step.form != StepForm::Walk;
    let motif = plan.recipe.motif.as_ref().filter(|_| counted);
    let beside = Beside {
        chart: motif.map(|motif| &motif.rows[..]),
        balance: motif.map_or(0, Motif::balancing),
        yarns: counted,
        key: true,
        shaped_back: counted && plan.recipe.shapes_leg() && kind == SectionKind::Leg,
    };
    let style = if beside.shaped_back {
        Wording {
            reach: RunStyle::ToMarker,
            ..style
        }
    } else {
        style
    };
    Some((style, beside))
}

/// What the lines of a move are made of on paper, needle by needle: none where nothing is worked.
pub(super) fn pieces_on_paper(
    plan: &Plan,
    trace: &Trace,
    at: Position,
    style: Wording,
) -> Vec<Vec<LinePiece>> {
    let lines = || {
        let (step, mv) = plan.move_at(at)?;
        let done = trace.steps.get(at.step)?.moves.get(at.mv)?;
        let (style, beside) = on_paper(plan, trace, at, style)?;
        let reach = reach(step, style);
        let passes = done.passes.iter().filter(|_| works(mv));
        let pieces = passes.filter_map(|pass| {
            let part = mv.ops.get(pass.ops.clone())?;
            Some(line::pieces(part, &pass.before, reach, beside))
        });
        let grafted = GRAFT_NEEDLES.map(|needle| line::grafted(&mv.ops, needle));
        Some(pieces.chain(grafted).collect())
    };
    lines().unwrap_or_default()
}

/// How far runs go: walked moves need the number itself.
fn reach(step: &Step, style: Wording) -> RunStyle {
    match step.form {
        StepForm::Walk => style.counted().reach,
        StepForm::Round | StepForm::Row(_) => style.reach,
    }
}

/// The needles of a graft as they are numbered: the first is held in front.
const GRAFT_NEEDLES: [GraftNeedle; 2] = [GraftNeedle::Front, GraftNeedle::Back];

/// Whether anything is worked in a move: where nothing is, the note tells what moves.
fn works(mv: &Move) -> bool {
    mv.ops.iter().any(|op| !op.only_shifts())
}

fn instructions_beside(
    plan: &Plan,
    trace: &Trace,
    at: Position,
    style: Wording,
    beside: Beside<'_>,
) -> Option<Instructions> {
    let (step, mv) = plan.move_at(at)?;
    let seen = trace.steps.get(at.step)?;
    let done = seen.moves.get(at.mv)?;
    let walked = step.form == StepForm::Walk;
    let held = in_hand(plan.recipe.needles, step.form, mv.cue, &done.after);
    let lines = lines(
        done,
        mv,
        &held.per_needle,
        Wording {
            reach: reach(step, style),
            ..style
        },
        beside,
    );
    let mut notes = notes::notes(plan, trace, at);
    if beside.yarns {
        // the order of the yarns says it all, and how long the leg is stands beside the drawing
        let shown = |note: &Note| {
            matches!(
                note,
                Note::YarnChange { .. } | Note::Stripes { .. } | Note::Carry | Note::MeasureLeg(..)
            )
        };
        notes.retain(|note| !shown(note));
    }
    if style.form == WordForm::Short && !beside.key {
        notes.extend(crosses(&mv.ops));
    }
    let mut hard = hard(&mv.ops, mv.cue);
    hard.extend(first_steps(&plan.recipe, &mv.ops));
    hard.extend(last_steps(&plan.recipe, &mv.ops));
    hard.retain(|one| lines.iter().all(|line| !line.hard.contains(one)));
    Some(Instructions {
        section: language::section_name(seen.kind, style.english),
        heading: heading(plan.sections.get(seen.section)?, seen.index, step, at.mv),
        shape: shape(seen.kind, step, mv.cue).map(language::shape),
        measure: notes.iter().any(Note::asks_to_measure),
        note: (!notes.is_empty()).then(|| language::notes(&notes, style)),
        note_first: mv.cue == Cue::GraftStart,
        lines,
        hard,
        move_of: walked.then_some((at.mv + 1, step.moves.len())),
        total_after: done.after.stitches(),
    })
}

/// One line about a position, for what comes next or for a list; `None` when the sock is finished.
pub fn one_line(plan: &Plan, trace: &Trace, at: Position, style: Wording) -> Option<String> {
    Some(instructions(plan, trace, at, style)?.one_line())
}

impl Instructions {
    /// What to do, in one line: needles that do the same are said once; where nothing is worked, its note.
    pub fn one_line(&self) -> String {
        let mut texts: Vec<&str> = Vec::with_capacity(self.lines.len());
        for line in &self.lines {
            if !line.text.is_empty() && texts.last() != Some(&line.text.as_str()) {
                texts.push(&line.text);
            }
        }
        if texts.is_empty() {
            return self.note.clone().unwrap_or_default();
        }
        texts.join(" · ")
    }
}

/// The crosses that a move's lines abbreviate, each once.
fn crosses(ops: &[Op]) -> Option<Note> {
    let mut found = Vec::new();
    let mut left: Vec<&Op> = ops.iter().rev().collect();
    while let Some(op) = left.pop() {
        match op {
            Op::Cross(cross) if !found.contains(cross) => found.push(*cross),
            Op::Repeat(inner, _) => left.extend(inner.iter().rev()),
            _ => {}
        }
    }
    (!found.is_empty()).then_some(Note::Crosses(found))
}

/// One repeat of a motif's round.
pub fn motif_row(row: &Row, wording: Wording) -> String {
    language::part_of_line(&line::alone(row.ops()), wording)
}

fn heading(section: &Section, index: usize, step: &Step, mv: usize) -> String {
    let (number, of) = match step.form {
        StepForm::Round | StepForm::Row(_) => {
            (section.number(index).unwrap_or(0), section.counted())
        }
        StepForm::Walk => (mv + 1, step.moves.len()),
    };
    language::heading(step.form, number, of)
}

/// Whether a step makes stitches.
fn widens(step: &Step) -> bool {
    step.moves
        .iter()
        .flat_map(|m| &m.ops)
        .any(|op| matches!(op, Op::MakeLeft | Op::MakeRight | Op::PickUpCorner))
}

pub(super) fn shape(kind: SectionKind, step: &Step, cue: Cue) -> Option<StepShape> {
    match (step.form, cue, kind) {
        (StepForm::Row(Facing::RightSide), ..) => Some(StepShape::RightSide),
        (StepForm::Row(Facing::WrongSide), ..) => Some(StepShape::WrongSide),
        (StepForm::Round, Cue::Shape, _) if widens(step) => Some(StepShape::Increase),
        (StepForm::Round, Cue::Shape, _) => Some(StepShape::Decrease),
        (
            StepForm::Round,
            Cue::Plain,
            SectionKind::Gusset | SectionKind::Toe | SectionKind::LateHeel,
        ) => Some(StepShape::Plain),
        (StepForm::Walk, cue, _) => walked_shape(cue),
        _ => None,
    }
}

/// What kind of move it is, where the name of its section does not say it.
const fn walked_shape(cue: Cue) -> Option<StepShape> {
    Some(match cue {
        Cue::Divide => StepShape::Divide,
        Cue::Join => StepShape::Join,
        Cue::SeatMiddle
        | Cue::SeatHeel
        | Cue::SeatMotif
        | Cue::SeatApart
        | Cue::SeatLeg
        | Cue::SeatForGraft
        | Cue::ChangeNeedles
        | Cue::ToShortCircular => StepShape::Seat,
        Cue::PickUpLeft | Cue::PickUpRight => StepShape::PickUp,
        Cue::GraftStart | Cue::GraftPair | Cue::GraftEnd => StepShape::Graft,
        Cue::DrawClosed => StepShape::DrawClosed,
        Cue::FastenOff => StepShape::FastenOff,
        _ => return None,
    })
}

/// `held` is what can be counted on each needle when the move is done.
fn lines(
    done: &MoveTrace,
    mv: &Move,
    held: &[u16],
    style: Wording,
    beside: Beside<'_>,
) -> Vec<Line> {
    // Binding off or sewing down goes over all needles: none is named.
    let over_all = matches!(mv.cue, Cue::BindOff | Cue::SewHem);
    let divided = !over_all && done.after.items().any(|i| i == Item::End);
    let number = |needle: usize| {
        if divided {
            u8::try_from(needle + 1).ok()
        } else {
            None
        }
    };
    let mut worked: Vec<Line> = done
        .passes
        .iter()
        .enumerate()
        .filter(|_| works(mv))
        .filter_map(|(nth, pass)| {
            let last = nth + 1 == done.passes.len();
            let held = held.get(pass.needle).filter(|_| last);
            let part = mv.ops.get(pass.ops.clone())?;
            let (text, begins) = line::text(part, &pass.before, style, beside);
            (!text.is_empty()).then(|| Line {
                needle: number(pass.needle),
                text,
                begins,
                count_after: held.copied().unwrap_or(pass.count_after),
                hard: hard(part, Cue::Plain),
            })
        })
        .collect();
    if mv.cue == Cue::CastOnClosed {
        // One pass lays the loops on both needles.
        let others = held.iter().enumerate().skip(1);
        worked.extend(others.map(|(i, n)| Line {
            needle: number(i),
            text: String::new(),
            begins: Vec::new(),
            count_after: *n,
            hard: Vec::new(),
        }));
    }
    let under_way = matches!(mv.cue, Cue::Join | Cue::CrossBegin | Cue::FastenOff);
    if !worked.is_empty() || under_way {
        return worked;
    }
    // Stitches were grafted, needle by needle, or only shifted: say where everything lies now.
    held.iter()
        .enumerate()
        .map(|(i, n)| {
            let graft = GRAFT_NEEDLES.get(i).copied();
            let pieces = graft.map_or_else(Vec::new, |needle| line::grafted(&mv.ops, needle));
            let (text, begins) = language::line(&pieces, style);
            Line {
                needle: number(i),
                text,
                begins,
                count_after: *n,
                hard: Vec::new(),
            }
        })
        .collect()
}
