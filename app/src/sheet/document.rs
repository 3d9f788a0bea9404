//! What stands in a sheet, and how it is read off a plan.

use std::collections::BTreeSet;

use evenloop_engine::plan::{Move, Plan, Section, SectionOutcome, StepForm};
use evenloop_engine::recipe::Toe;
use evenloop_engine::text::Typed;
use evenloop_engine::text::{self as engine_text, Instructions, Wording};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::Length;

use super::{facts, numbers, schematic};
use crate::fabric::{Detail, Drawing, FabricPicture};
use crate::hue::Hue;
use crate::parts::{Cells, chart_svg};
use crate::text::sheet as says;

/// The whole plan as a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    pub(super) title: Title,
    /// Name and value, in groups with a title each.
    pub(super) facts: Vec<(&'static str, Vec<facts::Fact>)>,
    pub(super) schematic: schematic::Schematic,
    /// The sock itself; none where it cannot be drawn.
    pub(super) fabric: Option<FabricPicture>,
    pub(super) cautions: Vec<&'static str>,
    /// Section, rounds, height, yarn.
    pub(super) table: Vec<[String; 4]>,
    /// The motif's rounds, the first one first.
    pub(super) motif: Option<MotifPart>,
    pub(super) parts: Vec<SheetSection>,
    /// Rounds of the motif's chart; 0 without one.
    pub(super) chart_rounds: u16,
    /// Whether the second sock is a mirror image.
    pub(super) mirrored: bool,
}

/// What the sheet is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Title {
    /// By what the sock is.
    Ours(String),
    /// By the pair's name.
    Typed(Typed),
}

impl Title {
    pub(super) fn as_str(&self) -> &str {
        match self {
            Self::Ours(title) => title,
            Self::Typed(name) => name.as_str(),
        }
    }
}

/// The motif: where it is knitted, its rounds in words, and its chart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct MotifPart {
    pub(super) place: &'static str,
    pub(super) rows: Vec<String>,
    /// SVG; empty where the rounds make no chart.
    pub(super) chart: String,
}

/// One section.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SheetSection {
    pub(super) name: &'static str,
    pub(super) groups: Vec<SheetGroup>,
}

/// Rounds, rows or moves that read the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SheetGroup {
    /// "Rounds 1 to 6", "Move 2 of 8".
    pub(super) heading: String,
    /// Whether they are rows, worked back and forth.
    pub(super) are_rows: bool,
    pub(super) said: Said,
    /// Stitches on each needle named, and on all, after each of them.
    pub(super) counts: Vec<Vec<u16>>,
    /// The numbers to tick off; none for a single move.
    pub(super) ticks: Vec<usize>,
    /// The chart's round worked in each of them, from 1; none where the chart is not worked.
    pub(super) chart: Vec<u16>,
}

/// What is read of a move, its counts left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Said {
    pub(super) shape: Option<&'static str>,
    pub(super) note: Option<String>,
    /// The needle named, and what to do there.
    pub(super) lines: Vec<(Option<u8>, String)>,
}

impl SheetGroup {
    /// What is on the needle of a line (or on all, one past the last line) afterwards: one number
    /// where it stays, else all of them.
    pub(super) fn count(&self, of: usize) -> String {
        let all: Vec<u16> = self
            .counts
            .iter()
            .filter_map(|counts| counts.get(of).copied())
            .collect();
        match all.split_first() {
            Some((first, rest)) if rest.iter().all(|n| n == first) => first.to_string(),
            _ => all
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join(", "),
        }
    }

    /// A number to tick off, and the chart's round that is worked in it.
    pub(super) fn ticks(&self) -> impl Iterator<Item = (usize, Option<u16>)> {
        let rounds = self.chart.iter().copied().map(Some);
        let ticks = self.ticks.iter().copied();
        ticks.zip(rounds.chain(std::iter::repeat(None)))
    }

    /// What is on all needles afterwards.
    pub(super) fn total(&self) -> String {
        self.count(self.said.lines.len())
    }
}

/// Writes a plan's sheet. `name` is what the pair is called, where it has a name; `hues` are the colours of
/// its yarns.
pub fn of(
    plan: &Plan,
    trace: &Trace,
    wording: Wording,
    name: Option<&Typed>,
    hues: [Hue; 4],
) -> Sheet {
    let mut first = 0;
    let mut parts = Vec::with_capacity(plan.sections.len());
    for section in &plan.sections {
        parts.push(SheetSection {
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
        fabric: FabricPicture::of(
            plan,
            trace,
            &Drawing {
                detail: Detail::Strokes,
                hues,
                at: None,
                mirrored: false,
                name: "sheet",
            },
        ),
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
) -> Vec<SheetGroup> {
    let mut groups: Vec<SheetGroup> = Vec::new();
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
                StepForm::Walk => None,
                _ => step.moves.get(mv).and_then(Move::motif_round),
            };
            // Moves of a walk are taken one by one; what is counted is told together.
            let same = number.and_then(|number| {
                let like = |group: &&mut SheetGroup| {
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
                    _ => groups.push(SheetGroup {
                        heading,
                        are_rows: matches!(step.form, StepForm::Row(_)),
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

/// The needles that a group's lines with the same words name: "needles 1 and 2" are said once.
pub(super) fn alike(group: &SheetGroup) -> Vec<(Vec<u8>, &str, String)> {
    let mut out: Vec<(Vec<u8>, &str, String)> = Vec::new();
    let mut seen = BTreeSet::new();
    for (i, (needle, line)) in group.said.lines.iter().enumerate() {
        let count = group.count(i);
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
