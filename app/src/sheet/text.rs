//! A sheet as plain text, for any device and any printer. Lines are kept short enough for paper.

use super::{Group, MotifPart, Sheet, alike, copy, numbers};

/// Longest line, in characters.
const WIDTH: usize = 76;

/// The sheet's text, with a line feed after each line.
pub fn text(sheet: &Sheet) -> String {
    let mut out = Lines(String::with_capacity(8 * 1024));
    out.heading(&sheet.title, '=');
    for (title, facts) in &sheet.facts {
        out.heading(title, '-');
        for (name, value) in facts {
            out.line("", &format!("{name}: {value}"));
        }
        out.empty();
    }
    out.heading(copy::SCHEMATIC, '-');
    for (_, name, value) in &sheet.schematic.measures {
        out.line("", &format!("{name}: {value}"));
    }
    out.empty();
    if !sheet.cautions.is_empty() {
        out.heading(copy::MIND, '-');
        for caution in &sheet.cautions {
            out.line("* ", caution);
        }
        out.empty();
    }
    out.heading(copy::TABLE, '-');
    out.row(&copy::COLUMNS);
    for row in &sheet.table {
        out.row(&row.each_ref().map(String::as_str));
    }
    out.line("", copy::YARN_NOTE);
    out.empty();
    if let Some(MotifPart { place, rows, .. }) = &sheet.motif {
        out.heading(&format!("{}, {place}", copy::MOTIF), '-');
        out.line("", copy::MOTIF_NOTE);
        for (number, row) in (1..).zip(rows) {
            out.line(&format!("{number:>2}  "), row);
        }
        out.empty();
    }
    out.heading(copy::KNITTING, '-');
    out.line("", sheet.second());
    out.empty();
    if sheet.chart_rounds > 0 {
        out.line("", copy::CHART_TICKS);
        out.empty();
    }
    for part in &sheet.parts {
        out.line("== ", part.name);
        out.empty();
        for group in &part.groups {
            out.group(group, sheet.chart_rounds);
        }
    }
    out.0
}

/// What lines' needles are called: "Needle 1:", "Needles 1 and 2:"; nothing where none is named.
pub(super) fn needles(numbers: &[u8]) -> String {
    match numbers {
        [] => String::new(),
        [one] => format!("{} {one}:", copy::NEEDLE),
        [many @ .., last] => {
            let many: Vec<String> = many.iter().map(ToString::to_string).collect();
            format!("{} {} and {last}:", copy::NEEDLES, many.join(", "))
        }
    }
}

impl Sheet {
    /// How the second sock follows.
    pub(super) const fn second(&self) -> &'static str {
        if self.mirrored {
            copy::KNIT_MIRRORED
        } else {
            copy::KNIT_TWO
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

    fn group(&mut self, group: &Group, of_chart: u16) {
        let heading = match group.said.shape {
            Some(shape) => format!("{}, {shape}", group.heading),
            None => group.heading.clone(),
        };
        self.line("", &heading);
        if let Some(note) = &group.said.note {
            self.line("  ", note);
        }
        for (numbers, text, after) in alike(group) {
            if text.is_empty() {
                continue;
            }
            let name = needles(&numbers);
            if name.is_empty() {
                self.line("  - ", text);
            } else {
                self.line("  - ", &format!("{name} {text} ({after})"));
            }
        }
        if let Some(rounds) = numbers::of_chart(&group.chart, of_chart) {
            self.line("  ", &rounds);
        }
        self.line("  ", &format!("{}: {}", copy::ALL, group.total()));
        if !group.ticks.is_empty() {
            let ticks: Vec<String> = group
                .ticks()
                // a number stays with its box
                .map(|(n, round)| match round {
                    Some(round) => format!("[\u{a0}]\u{a0}{n}\u{a0}({round})"),
                    None => format!("[\u{a0}]\u{a0}{n}"),
                })
                .collect();
            self.line("  ", &ticks.join(" "));
        }
        self.empty();
    }
}
