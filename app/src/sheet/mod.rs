//! The whole plan of a sock as a document to read, print or save: what it measures, what it takes,
//! and every section with the rounds that are worked alike told together.
//!
//! Pure: a plan in, a [`Sheet`] out; [`html()`] and [`text()`] write the same sheet down in two ways.
//! May use the engine's words and the chart's drawing; must not know a browser, a screen or how counts are made.

mod document;
mod facts;
mod html;
mod numbers;
mod schematic;
#[cfg(test)]
#[cfg(not(feature = "made-up-language"))]
mod tests;
mod text;
#[cfg(test)]
mod typed;

use evenloop_engine::plan::{Form, Move, Plan, Section, SectionOutcome};
use evenloop_engine::recipe::Toe;
use evenloop_engine::text as engine_text;
use evenloop_engine::text::Typed;
use evenloop_engine::text::{Instructions, Wording};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::Length;

use self::document::{Group, MotifPart, Part, Said, Title};
use crate::parts::{Cells, chart_svg};
use crate::text::sheet as says;

pub use self::document::Sheet;
pub use self::html::{html, paragraphs};
pub use self::text::text;

/// Writes a plan's sheet. `name` is what the pair is called, where it has a name.
pub fn of(plan: &Plan, trace: &Trace, wording: Wording, name: Option<&Typed>) -> Sheet {
    let mut first = 0;
    let mut parts = Vec::with_capacity(plan.sections.len());
    for section in &plan.sections {
        parts.push(Part {
            name: engine_text::section_name(section.kind, wording.english),
            groups: groups(plan, trace, section, first, wording),
        });
        first += section.steps.len();
    }
    let outcome = &plan.outcome;
    Sheet {
        title: name.map_or_else(
            || Title::Ours(says::title(outcome.stitches)),
            |name| Title::Typed(name.clone()),
        ),
        facts: facts::of(plan, wording),
        schematic: schematic::of(plan, wording.unit),
        cautions: outcome
            .cautions
            .iter()
            .map(|caution| engine_text::caution(*caution))
            .collect(),
        table: outcome
            .sections
            .iter()
            .map(|section| row(section, wording))
            .collect(),
        motif: plan.recipe.motif.as_ref().map(|motif| MotifPart {
            place: says::place(motif.place),
            rows: motif
                .rows
                .iter()
                .map(|row| engine_text::motif_row(row, wording.form))
                .collect(),
            chart: Cells::of(&motif.rows)
                .map_or_else(String::new, |cells| chart_svg(&cells, says::CHART)),
        }),
        parts,
        chart_rounds: plan
            .recipe
            .motif
            .as_ref()
            .map_or(0, |motif| u16::try_from(motif.rows.len()).unwrap_or(0)),
        mirrored: matches!(plan.recipe.toe, Toe::Shaped { .. }),
    }
}

fn row(section: &SectionOutcome, wording: Wording) -> [String; 4] {
    let height = if section.length == Length::default() {
        String::new()
    } else {
        section.length.show(wording.unit)
    };
    [
        engine_text::section_name(section.kind, wording.english).to_owned(),
        section.steps.to_string(),
        height,
        match section.yarn_dm {
            0 => String::new(),
            decimetres => says::metres(decimetres.div_ceil(10)),
        },
    ]
}

/// A section's moves in their order, those that read the same told with the first of them.
fn groups(
    plan: &Plan,
    trace: &Trace,
    section: &Section,
    first: usize,
    style: Wording,
) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (index, step) in section.steps.iter().enumerate() {
        for mv in 0..step.moves.len() {
            let at = Position {
                step: first + index,
                mv,
            };
            let Some(told) = engine_text::instructions_by_chart(plan, trace, at, style) else {
                continue;
            };
            let number = section.number(index);
            let heading = told.heading.clone();
            let (said, counts) = read(told);
            let chart = match step.form {
                Form::Walk => None,
                _ => step.moves.get(mv).and_then(Move::motif_round),
            };
            // Moves of a walk are taken one by one; what is counted is told together.
            let same = number.and_then(|number| {
                let like = |group: &&mut Group| {
                    !group.ticks.is_empty()
                        && group.said == said
                        && group.chart.is_empty() == chart.is_none()
                };
                groups.iter_mut().find(like).map(|group| (group, number))
            });
            match same {
                Some((group, number)) => {
                    group.ticks.push(number);
                    group.chart.extend(chart);
                    group.counts.push(counts);
                }
                None => match groups.last_mut() {
                    // One pair after the other is grafted alike.
                    Some(last) if mv > 0 && last.said == said => {
                        last.counts.push(counts);
                        last.heading =
                            says::moves(mv + 2 - last.counts.len(), mv + 1, step.moves.len());
                    }
                    _ => groups.push(Group {
                        heading,
                        are_rows: matches!(step.form, Form::Row(_)),
                        said,
                        counts: vec![counts],
                        ticks: number.into_iter().collect(),
                        chart: chart.into_iter().collect(),
                    }),
                },
            }
        }
    }
    for group in &mut groups {
        if !group.ticks.is_empty() {
            // Where rows and rounds are counted in one sequence: the first one's own word.
            group.heading = numbers::heading(group.are_rows, &group.ticks);
        }
    }
    groups
}

fn read(told: Instructions) -> (Said, Vec<u16>) {
    let counts = told.lines.iter().map(|line| line.count_after);
    let counts = counts.chain([told.total_after]).collect();
    let said = Said {
        shape: told.shape,
        note: told.note,
        lines: told
            .lines
            .into_iter()
            .map(|line| (line.needle, line.text))
            .collect(),
    };
    (said, counts)
}
