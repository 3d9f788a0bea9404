//! Stripes on the drawing: a band for the rounds of each yarn, from where the first of them begins to
//! where the last one ends. Which yarn a round is knitted with was seen by the simulator.

use evenloop_engine::plan::{Plan, SectionKind, StepForm};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::trace::{ProgressUnit, SectionProgress, Trace};

use super::measures::{Measures, stretch};
use super::points::{part, path};

/// Everything in one section that is, or will be, knitted with one yarn.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::screens::map) struct YarnArea {
    /// Which yarn.
    pub yarn: Yarn,
    /// Whether it is knitted already.
    pub knitted: bool,
    /// Where it lies: one piece for each stripe.
    pub area: String,
}

/// The bands of a section: at most two for each yarn.
pub(super) fn of(
    m: &Measures,
    plan: &Plan,
    trace: &Trace,
    section: usize,
    progress: &SectionProgress,
) -> Vec<YarnArea> {
    let mut bands: Vec<YarnArea> = Vec::new();
    let yarns = yarns(plan, trace, section, progress);
    let mut begin = 0;
    for stripe in yarns.chunk_by(|a, b| a == b) {
        let end = begin + stripe.len();
        let done = progress.done.clamp(begin, end);
        for (from, to, knitted) in [(begin, done, true), (done, end, false)] {
            if from < to {
                let piece = piece(m, progress.kind, (from, to), yarns.len());
                add(&mut bands, stripe[0], knitted, &piece);
            }
        }
        begin = end;
    }
    bands
}

/// The yarn of every round or row of a section.
fn yarns(plan: &Plan, trace: &Trace, section: usize, progress: &SectionProgress) -> Vec<Yarn> {
    let Some(section) = plan.sections.get(section) else {
        return Vec::new();
    };
    if progress.counted == ProgressUnit::Moves {
        return Vec::new();
    }
    let knitted = trace.steps.iter().skip(progress.first);
    section
        .steps
        .iter()
        .zip(knitted)
        .filter(|(step, _)| step.form != StepForm::Walk)
        .map(|(_, seen)| seen.after().yarn())
        .collect()
}

fn piece(m: &Measures, kind: SectionKind, (from, to): (usize, usize), of: usize) -> String {
    path(&stretch(m, kind, part(from, of), part(to, of)), true)
}

fn add(bands: &mut Vec<YarnArea>, yarn: Yarn, knitted: bool, piece: &str) {
    match bands
        .iter_mut()
        .find(|b| b.yarn == yarn && b.knitted == knitted)
    {
        Some(band) => band.area.push_str(piece),
        None => bands.push(YarnArea {
            yarn,
            knitted,
            area: piece.to_owned(),
        }),
    }
}
