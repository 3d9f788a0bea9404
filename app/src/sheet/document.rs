//! The sheet itself: what stands in it and in which order, before it is written down.

use std::collections::BTreeSet;

use evenloop_engine::text::Typed;

use super::facts::Fact;
use super::schematic::Schematic;

/// The whole plan as a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    pub(super) title: Title,
    /// Name and value, in groups with a title each.
    pub(super) facts: Vec<(&'static str, Vec<Fact>)>,
    pub(super) schematic: Schematic,
    pub(super) cautions: Vec<&'static str>,
    /// Section, rounds, height, yarn.
    pub(super) table: Vec<[String; 4]>,
    /// The motif's rounds, the first one first.
    pub(super) motif: Option<MotifPart>,
    pub(super) parts: Vec<Part>,
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
pub(super) struct Part {
    pub(super) name: &'static str,
    pub(super) groups: Vec<Group>,
}

/// Rounds, rows or moves that read the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Group {
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

impl Group {
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

/// The needles that a group's lines with the same words name: "needles 1 and 2" are said once.
pub(super) fn alike(group: &Group) -> Vec<(Vec<u8>, &str, String)> {
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
