//! A plan as a written pattern: its rounds and rows stitch by stitch, in the trade's notation, without the
//! needles on which they are worked. The reader of patterns reads it back into the same stitches.

use super::language;
use super::line;
use super::messages::PatternLine;
use super::typed::Typed;
use super::wording::{RunStyle, WordForm, Wording};
use crate::plan::{Plan, Section, SectionKind, Step, StepForm, folded};
use crate::stitch::{Count, Op};
use crate::trace::Trace;

/// The whole plan, a line for each round, those that are the same in one. What only the words of her own
/// pattern say stands in it as a note before its counts.
pub fn as_pattern(plan: &Plan, trace: &Trace, wording: Wording) -> String {
    let wording = Wording {
        form: WordForm::Short,
        reach: RunStyle::Counted,
        ..wording
    };
    let mut out = String::with_capacity(8 * 1024);
    let mut steps = trace.steps.iter();
    // an edge stands under the name of what grows from it
    let mut edge = Vec::new();
    for section in &plan.sections {
        let after = steps.by_ref().take(section.steps.len());
        let after: Vec<u16> = after.map(|step| step.after().stitches()).collect();
        let lines = lines(plan, section, &after);
        if section.kind == SectionKind::CastOn {
            edge = lines;
            continue;
        }
        if !out.is_empty() {
            out.push('\n');
        }
        let name = language::section_name(section.kind, wording.english);
        out.push_str(&name.to_uppercase());
        out.push('\n');
        for line in edge.drain(..).chain(lines) {
            out.push_str(&language::pattern_line(&line, wording));
            out.push('\n');
        }
    }
    out
}

/// A section's lines; `after` has the stitches after each of its steps.
fn lines(plan: &Plan, section: &Section, after: &[u16]) -> Vec<PatternLine> {
    let mut out = Vec::with_capacity(section.steps.len());
    let mut number = 0;
    for (step, after) in section.steps.iter().zip(after) {
        number += usize::from(step.form != StepForm::Walk);
        out.extend(before(plan, step));
        let ops: Vec<Op> = step.moves.iter().flat_map(|mv| words(&mv.ops)).collect();
        let joined = all_ops(step).any(|op| *op == Op::Join);
        let casts_on = ops.iter().any(Op::casts_on);
        let pieces = line::alone(&folded(ops));
        match step.form {
            StepForm::Round => {
                if let Some(PatternLine::Rounds {
                    from,
                    times,
                    pieces: last,
                    after: last_after,
                }) = out.last_mut()
                    && (&*last, *last_after, *from + *times) == (&pieces, *after, number)
                {
                    *times += 1;
                    continue;
                }
                out.push(PatternLine::Rounds {
                    from: number,
                    times: 1,
                    pieces,
                    after: *after,
                });
            }
            StepForm::Row(facing) => out.push(PatternLine::Row {
                number,
                facing,
                pieces,
            }),
            StepForm::Walk if casts_on => out.push(PatternLine::CastOn(pieces, joined)),
            StepForm::Walk if pieces.is_empty() => {}
            StepForm::Walk => out.push(PatternLine::Walk(pieces)),
        }
        out.extend(all_ops(step).find_map(|op| match op {
            Op::GraftStart => Some(PatternLine::Graft),
            Op::DrawClosed(_) => Some(PatternLine::Draw),
            _ => None,
        }));
    }
    out
}

fn all_ops(step: &Step) -> impl Iterator<Item = &Op> {
    step.moves.iter().flat_map(|mv| &mv.ops)
}

/// What is to be told before a step's own line.
fn before(plan: &Plan, step: &Step) -> Vec<PatternLine> {
    let told = all_ops(step).filter_map(|op| match op {
        Op::WorkFlat(n) => Some(PatternLine::Flat(n.get())),
        Op::OpenProvisional(n) => Some(PatternLine::UndoChain(n.get())),
        Op::OpenWaste(n) => Some(PatternLine::OpenWaste(n.get())),
        Op::SnipRow(n) => Some(PatternLine::SnipRow(n.get())),
        _ => None,
    });
    let mut out: Vec<PatternLine> = told.collect();
    let by_words = step.moves.iter().filter(|mv| mv.is_by_count());
    let notes = by_words.filter_map(|mv| plan.pattern_line(mv));
    out.extend(notes.map(|line| PatternLine::Note(Typed::new(line.to_owned()))));
    out
}

/// Every stitch of a plan in its order, whatever needles it is worked on: by this a plan that was read from a
/// pattern is compared with the one that was written.
pub fn worked(plan: &Plan) -> Vec<Op> {
    let steps = plan.sections.iter().flat_map(|section| &section.steps);
    let ops = steps
        .flat_map(all_ops)
        .flat_map(|op| words(std::slice::from_ref(op)));
    let mut out: Vec<Op> = Vec::new();
    for op in ops {
        let one = Count::MIN;
        let (single, n) = match op {
            Op::Knit(n) => (Op::Knit(one), n),
            Op::Purl(n) => (Op::Purl(one), n),
            Op::KnitThroughBackLoop(n) => (Op::KnitThroughBackLoop(one), n),
            Op::Slip(n) => (Op::Slip(one), n),
            Op::SlipYarnInFront(n) => (Op::SlipYarnInFront(one), n),
            Op::Rare(stitch, n) => (Op::Rare(stitch, one), n),
            Op::KnitDouble(n) => (Op::KnitDouble(one), n),
            Op::PurlDouble(n) => (Op::PurlDouble(one), n),
            Op::KnitWrapped(n) => (Op::KnitWrapped(one), n),
            Op::PurlWrapped(n) => (Op::PurlWrapped(one), n),
            Op::FoldJoin(n) => (Op::FoldJoin(one), n),
            Op::BindOff(n) => (Op::BindOff(one), n),
            Op::SewDown(n) => (Op::SewDown(one), n),
            Op::PickUp(n) | Op::PickUpAlong(n) => (Op::PickUp(one), n),
            Op::CastOnUneven(back, front) | Op::CastOnTubular(back, front) => {
                (Op::CastOn(back.saturating_add(front.get())), one)
            }
            Op::YarnOverBehind => (Op::YarnOver, one),
            other => (other, one),
        };
        out.extend((0..n.get()).map(|_| single.clone()));
    }
    out
}

/// What is worked, repeats written out: without needle ends and markers, and without what has a line of its own.
fn words(ops: &[Op]) -> Vec<Op> {
    let mut out = Vec::with_capacity(ops.len());
    for op in ops {
        match op {
            Op::Repeat(group, times) => {
                let group = words(group);
                for _ in 0..times.get() {
                    out.extend(group.iter().cloned());
                }
            }
            op if op.only_shifts() => {}
            Op::SlipMarker(_)
            | Op::MotifRow(_)
            | Op::Join
            | Op::WorkFlat(_)
            | Op::WorkFlatBehind(_)
            | Op::NameHeel
            | Op::PatternLine(_)
            | Op::OpenProvisional(_)
            | Op::OpenWaste(_)
            | Op::SnipRow(_)
            | Op::GraftStart
            | Op::Graft(_)
            | Op::GraftEnd
            | Op::DrawClosed(_)
            | Op::FastenOff => {}
            other => out.push(other.clone()),
        }
    }
    out
}
