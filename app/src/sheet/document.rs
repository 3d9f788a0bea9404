//! What stands in a sheet, and how it is read off a plan.

use evenloop_engine::materials::materials;
use evenloop_engine::plan::{Plan, Section, SectionOutcome};
use evenloop_engine::recipe::Toe;
use evenloop_engine::text::{self as engine_text, KnittingHand, Typed, Wording};
use evenloop_engine::trace::Trace;
use evenloop_engine::units::Length;
use evenloop_engine::yarn_amount::show_metres;

use super::blocks::{self, SheetBlock};
use super::{facts, schematic};
use crate::fabric::{Detail, Drawing, FabricPicture};
use crate::hue::Hue;
use crate::parts::{Cells, chart_svg};
use crate::text::parts::section_alone;
use crate::text::sheet as says;

/// The whole plan as a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    pub(super) title: Title,
    /// Name and value, in groups with a title each.
    pub(super) facts: Vec<(&'static str, Vec<facts::Fact>)>,
    pub(super) schematic: schematic::Schematic,
    /// What the pair needs.
    pub(super) needed: Vec<facts::Fact>,
    /// The sock itself; none where it cannot be drawn.
    pub(super) fabric: Option<FabricPicture>,
    pub(super) cautions: Vec<String>,
    /// Section, rounds, height, yarn.
    pub(super) table: Vec<[String; 4]>,
    /// In which yarns it is knitted, where there are several.
    pub(super) yarns: Vec<String>,
    /// The motif's rounds, the first one first.
    pub(super) motif: Option<MotifPart>,
    /// What is abbreviated in the words, and what it stands for.
    pub(super) key: Vec<(String, String)>,
    pub(super) parts: Vec<SheetSection>,
    /// Rounds of the motif's chart; 0 without one.
    pub(super) chart_rounds: u16,
    /// The knitter's own pattern, where it follows one.
    pub(super) pattern: Option<Typed>,
    /// The hand that knits.
    pub(super) hand: KnittingHand,
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
    pub(super) place: String,
    pub(super) rows: Vec<String>,
    /// SVG; empty where the rounds make no chart.
    pub(super) chart: String,
    /// Each symbol of the chart as SVG, and its name.
    pub(super) symbols: Vec<(String, String)>,
}

/// One section.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SheetSection {
    pub(super) name: &'static str,
    pub(super) blocks: Vec<SheetBlock>,
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
            blocks: blocks::of(plan, trace, section, first, wording, hues),
        });
        first += section.steps.len();
    }
    let outcome = &plan.outcome;
    let has_gusset = outcome.has_gusset();
    Sheet {
        title: name.map_or_else(
            || Title::Ours(says::title(outcome.stitches)),
            |name| Title::Typed(name.clone()),
        ),
        facts: facts::of(plan, trace, wording),
        schematic: schematic::of(plan, wording.unit),
        needed: materials(plan, trace)
            .into_iter()
            .map(|one| says::material(one, wording))
            .collect(),
        fabric: FabricPicture::of(
            plan,
            trace,
            &Drawing {
                detail: Detail::Strokes,
                hues,
                at: None,
                name: "sheet",
            },
        ),
        cautions: outcome
            .cautions
            .iter()
            .map(|caution| engine_text::caution(*caution, wording.english))
            .collect(),
        table: plan
            .sections
            .iter()
            .zip(&outcome.sections)
            .map(|(section, outcome)| row(section, outcome, has_gusset, wording))
            .collect(),
        yarns: plan
            .recipe
            .yarns
            .as_ref()
            .map_or_else(Vec::new, says::yarns_in_order),
        motif: plan.recipe.motif.as_ref().map(|motif| {
            let cells = Cells::of(&motif.rows);
            let symbols = cells.as_ref().map_or_else(Vec::new, Cells::used);
            MotifPart {
                place: says::lies(motif),
                rows: motif
                    .rows
                    .iter()
                    .map(|row| engine_text::motif_row(row, wording))
                    .collect(),
                chart: cells.map_or_else(String::new, |cells| chart_svg(&cells, says::CHART)),
                symbols: symbols
                    .into_iter()
                    .map(|symbol| (symbol.svg(), symbol.name(wording.hand)))
                    .collect(),
            }
        }),
        key: engine_text::abbreviations(plan, trace, wording)
            .into_iter()
            .map(|one| (one.short(wording), one.meaning(wording)))
            .collect(),
        parts,
        chart_rounds: plan
            .recipe
            .motif
            .as_ref()
            .map_or(0, |motif| u16::try_from(motif.rows.len()).unwrap_or(0)),
        pattern: plan
            .recipe
            .written
            .as_ref()
            .map(|written| Typed::new(&*written.text)),
        hand: wording.hand,
        mirrored: matches!(plan.recipe.toe, Toe::Shaped { .. }),
    }
}

/// Rounds and rows are counted in the plan itself: the outcome of one that was pinned long ago counted
/// walks too.
fn row(
    section: &Section,
    outcome: &SectionOutcome,
    has_gusset: bool,
    wording: Wording,
) -> [String; 4] {
    let height = if outcome.length == Length::default() {
        String::new()
    } else {
        outcome.length.show_small(wording.unit)
    };
    [
        section_alone(section.kind, has_gusset)
            .unwrap_or(engine_text::section_name(section.kind, wording.english))
            .to_owned(),
        match section.counted() {
            0 => String::new(),
            counted => counted.to_string(),
        },
        height,
        match outcome.yarn_dm {
            0 => String::new(),
            decimetres => show_metres(decimetres.div_ceil(10), wording.unit),
        },
    ]
}
