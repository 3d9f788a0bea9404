//! A sheet as plain text, for any device and any printer. Lines are kept short enough for paper.

use evenloop_engine::text::KnittingHand;

use super::blocks::{SheetBlock, SheetItem};
use super::document::{MotifPart, Sheet, Title};
use super::numbers;
use crate::text::sheet as says;

/// Longest line, in characters.
const WIDTH: usize = 76;

/// The sheet's text, with a line feed after each line.
pub fn text(sheet: &Sheet) -> String {
    let mut out = Lines(String::with_capacity(8 * 1024));
    match &sheet.title {
        Title::Ours(title) => out.heading(title, '='),
        Title::Typed(name) => out.typed(name.as_str(), '='),
    }
    for (title, facts) in &sheet.facts {
        out.heading(title, '-');
        for (name, value) in facts {
            out.line("", &says::fact(name, value));
        }
        out.empty();
    }
    out.heading(says::SCHEMATIC, '-');
    for (_, name, value) in &sheet.schematic.measures {
        out.line("", &says::fact(name, value));
    }
    out.empty();
    out.heading(says::NEEDED, '-');
    for (name, which) in &sheet.needed {
        out.line("", &says::fact(name, which));
    }
    out.empty();
    if !sheet.cautions.is_empty() {
        out.heading(says::MIND, '-');
        for caution in &sheet.cautions {
            out.line("* ", caution);
        }
        out.empty();
    }
    out.heading(says::TABLE, '-');
    out.row(&says::COLUMNS);
    for row in &sheet.table {
        out.row(&row.each_ref().map(String::as_str));
    }
    out.line("", says::YARN_NOTE);
    out.empty();
    if !sheet.yarns.is_empty() {
        out.heading(says::YARNS, '-');
        for line in &sheet.yarns {
            out.line("", line);
        }
        out.empty();
    }
    if let Some(MotifPart { place, rows, .. }) = &sheet.motif {
        out.heading(&says::motif(place), '-');
        out.line("", &says::motif_note(sheet.hand));
        for (number, row) in (1..).zip(rows) {
            out.line(&format!("{number:>2}  "), row);
        }
        out.empty();
    }
    if !sheet.key.is_empty() {
        out.heading(says::KEY, '-');
        for (short, meaning) in &sheet.key {
            out.line("", &says::fact(short, meaning));
        }
        out.empty();
    }
    out.heading(says::KNITTING, '-');
    if sheet.hand == KnittingHand::Left {
        out.line("", says::LEFT_HANDED);
    }
    out.line("", sheet.second());
    out.empty();
    if sheet.chart_rounds > 0 {
        out.line("", says::CHART_TICKS);
        out.empty();
    }
    for part in &sheet.parts {
        out.line("== ", part.name);
        out.empty();
        for block in &part.blocks {
            out.block(block, sheet.chart_rounds);
        }
    }
    if let Some(pattern) = &sheet.pattern {
        out.heading(says::PATTERN, '-');
        out.0.push_str(pattern.as_str().trim());
        out.empty();
    }
    out.0
}

impl Sheet {
    /// Whether needles are drawn in it.
    pub(super) fn has_stills(&self) -> bool {
        let blocks = self.parts.iter().flat_map(|part| &part.blocks);
        blocks
            .flat_map(|block| &block.items)
            .any(|item| item.still.is_some())
    }

    /// How the second sock follows.
    pub(super) const fn second(&self) -> &'static str {
        if self.mirrored {
            says::KNIT_MIRRORED
        } else {
            says::KNIT_TWO
        }
    }
}

struct Lines(String);

impl Lines {
    fn empty(&mut self) {
        self.0.push('\n');
    }

    fn heading(&mut self, text: &str, under: char) {
        self.line("", text);
        self.underline(text, under);
    }

    /// What was typed, on one line however long it is: as it was typed.
    fn typed(&mut self, text: &str, under: char) {
        self.0.push_str(text);
        self.0.push('\n');
        self.underline(text, under);
    }

    fn underline(&mut self, text: &str, under: char) {
        let width = text.chars().count().min(WIDTH);
        self.0.extend(std::iter::repeat_n(under, width));
        self.0.push('\n');
    }

    /// A text broken between words; every line after the first begins under the first's text.
    fn line(&mut self, first: &str, text: &str) {
        let margin = first.chars().count();
        let mut at = margin;
        self.0.push_str(first);
        for (i, word) in text.split(' ').enumerate() {
            let length = word.chars().count();
            if i > 0 {
                if at + 1 + length > WIDTH {
                    self.0.push('\n');
                    self.0.extend(std::iter::repeat_n(' ', margin));
                    at = margin;
                } else {
                    self.0.push(' ');
                    at += 1;
                }
            }
            self.0.push_str(word);
            at += length;
        }
        self.0.push('\n');
    }

    fn row(&mut self, [name, rounds, height, yarn]: &[&str; 4]) {
        let row = format!("{name:<24}{rounds:>8}{height:>12}{yarn:>12}");
        self.0.push_str(row.trim_end());
        self.0.push('\n');
    }

    fn block(&mut self, block: &SheetBlock, of_chart: u16) {
        let shape = match block.items.as_slice() {
            [only] => only.said.shape,
            _ => None,
        };
        self.line("", &with_shape(&block.heading, shape));
        for item in &block.items {
            self.item(item);
        }
        let chart: Vec<u16> = block.ticks.iter().filter_map(|tick| tick.chart).collect();
        if let Some(rounds) = numbers::of_chart(&chart, of_chart) {
            self.line("  ", &rounds);
        }
        if !block.ticks.is_empty() {
            // a number stays with its box
            let ticks: Vec<String> = block
                .ticks
                .iter()
                .map(|tick| {
                    let beside = says::beside(tick.chart, tick.yarn);
                    if beside.is_empty() {
                        format!("[\u{a0}]\u{a0}{}", tick.number)
                    } else {
                        format!("[\u{a0}]\u{a0}{}\u{a0}({beside})", tick.number)
                    }
                })
                .collect();
            self.line("  ", &ticks.join(" "));
        }
        self.empty();
    }

    fn item(&mut self, item: &SheetItem) {
        if let Some(heading) = &item.heading {
            self.line("  ", &with_shape(heading, item.said.shape));
        }
        if let Some(note) = &item.said.note {
            self.line("  ", note);
        }
        match &item.like {
            Some(like) => self.line("  - ", like),
            None => {
                for (numbers, text, after) in item.alike() {
                    if text.is_empty() {
                        continue;
                    }
                    let name = says::needles_of_lines(&numbers);
                    if name.is_empty() {
                        self.line("  - ", text);
                    } else if !item.counted {
                        self.line("  - ", &format!("{name} {text}"));
                    } else {
                        self.line("  - ", &format!("{name} {text} ({after})"));
                    }
                }
            }
        }
        if item.counted {
            self.line("  ", &says::on_all(&item.total()));
        }
    }
}

fn with_shape(heading: &str, shape: Option<&'static str>) -> String {
    match shape {
        Some(shape) => says::with_shape(heading, shape),
        None => heading.to_owned(),
    }
}
