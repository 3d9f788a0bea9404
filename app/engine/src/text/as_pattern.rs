//! A plan as a written pattern: its rounds and rows stitch by stitch, in the trade's notation, without the
//! needles on which they are worked. The reader of patterns reads it back into the same stitches.

use super::language;
use super::line;
use super::messages::{NotWritten, PatternLine};
use super::typed::Typed;
use super::wording::{RunStyle, WordForm, Wording};
use crate::plan::{Move, Plan, Section, SectionKind, Step, StepForm, folded};
use crate::recipe::Written;
use crate::stitch::{Count, Op};
use crate::trace::Trace;

/// The whole plan, a line for each round; those that are the same as earlier ones are told in one. A sock that follows
/// the knitter's own pattern from end to end is written down as she typed it. `name` is what the pair is called.
///
/// Whether it is read back into the same stitches, [`crate::read_back::pattern`] says.
///
/// # Errors
/// Why it cannot be written down.
pub fn as_pattern(
    plan: &Plan,
    trace: &Trace,
    name: Option<&Typed>,
    wording: Wording,
) -> Result<String, NotWritten> {
    if let Some(written) = plan.recipe.written.as_ref().filter(|w| w.ours.is_empty()) {
        return Ok(written.text.clone());
    }
    let wording = Wording {
        form: WordForm::Short,
        reach: RunStyle::Counted,
        ..wording
    };
    let steps = plan.sections.iter().flat_map(|section| &section.steps);
    if steps.flat_map(|step| &step.moves).any(Move::is_by_count) {
        return Err(NotWritten::OwnWords);
    }
    let mut out = String::with_capacity(8 * 1024);
    // a line of its own, which no other goes on in
    if let Some(name) = name.filter(|name| !name.as_str().contains(char::is_control)) {
        out.push_str(&language::pattern_title(name));
        out.push('\n');
    }
    let mut steps = trace.steps.iter();
    // an edge stands under the name of what grows from it
    let mut edge = Vec::new();
    for section in &plan.sections {
        let after = steps.by_ref().take(section.steps.len());
        let after: Vec<u16> = after.map(|step| step.after().stitches()).collect();
        let lines = again(lines(section, &after));
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
    let (characters, most) = (out.chars().count(), Written::MOST_CHARACTERS);
    if characters > most {
        return Err(NotWritten::TooLong { characters, most });
    }
    Ok(out)
}

/// A section's lines; `after` has the stitches after each of its steps.
fn lines(section: &Section, after: &[u16]) -> Vec<PatternLine> {
    let mut out = Vec::with_capacity(section.steps.len());
    let mut number = 0;
    for (step, after) in section.steps.iter().zip(after) {
        number += usize::from(step.form != StepForm::Walk);
        out.extend(before(step));
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

/// Lines in which rounds that were told before are told by their numbers.
fn again(lines: Vec<PatternLine>) -> Vec<PatternLine> {
    let mut out = Vec::with_capacity(lines.len());
    let mut at = 0;
    while at < lines.len() {
        if let Some((line, used)) = told_before(&lines, at) {
            out.push(line);
            at += used;
        } else {
            out.push(lines[at].clone());
            at += 1;
        }
    }
    out
}

/// Longer than this, a round is told by the number of an earlier one even where it stands alone.
const FEW_PIECES: usize = 3;

/// The most lines from `at` on that are the same as earlier ones, as one, and how many those are; nothing where it
/// would say no less.
fn told_before(lines: &[PatternLine], at: usize) -> Option<(PatternLine, usize)> {
    let alike = |from: usize| {
        let pairs = lines[from..at].iter().zip(&lines[at..]);
        pairs.take_while(|(a, b)| a.is_again(b)).count()
    };
    let whole = |from: usize, many: usize| {
        let follows = |pair: &[PatternLine]| pair[0].goes_on(&pair[1]);
        let (a, b) = (&lines[from..from + many], &lines[at..at + many]);
        a.windows(2).chain(b.windows(2)).all(follows)
    };
    let (from, many) = (0..at)
        .map(|from| (from, alike(from)))
        .filter(|(from, many)| *many > 0 && whole(*from, *many))
        .max_by_key(|(from, many)| (*many, std::cmp::Reverse(*from)))?;
    let (Some(first), Some(last)) = (lines.get(at), lines.get(at + many - 1)) else {
        return None;
    };
    match (&lines[from], first, last) {
        (
            PatternLine::Rounds { from: as_from, .. },
            PatternLine::Rounds { from, pieces, .. },
            PatternLine::Rounds {
                from: last,
                times,
                after,
                ..
            },
        ) if many > 1 || pieces.len() > FEW_PIECES => {
            let line = PatternLine::Again {
                from: *from,
                to: last + times - 1,
                as_from: *as_from,
                after: *after,
            };
            Some((line, many))
        }
        _ => None,
    }
}

/// What is to be told before a step's own line.
fn before(step: &Step) -> Vec<PatternLine> {
    let told = all_ops(step).filter_map(|op| match op {
        Op::WorkFlat(n) => Some(PatternLine::Flat(n.get())),
        Op::OpenProvisional(n) => Some(PatternLine::UndoChain(n.get())),
        Op::OpenWaste(n) => Some(PatternLine::OpenWaste(n.get())),
        Op::SnipRow(n) => Some(PatternLine::SnipRow(n.get())),
        _ => None,
    });
    told.collect()
}

fn all_ops(step: &Step) -> impl Iterator<Item = &Op> {
    step.moves.iter().flat_map(|mv| &mv.ops)
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
