//! A sock's instructions as one text: every heading, shape, note, line and count, in plain words
//! and in abbreviations, steps worked alike told together.

use std::fmt::Write as _;

use evenloop_engine::plan::{Plan, make};
use evenloop_engine::sequence::passages;
use evenloop_engine::text::{
    English, Instructions, KnittingHand, RunStyle, WordForm, Wording, instructions,
};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::LengthUnit;
use evenloop_engine::wire::write_recipe;

use crate::socks::Sock;

const fn style(form: WordForm, reach: RunStyle) -> Wording {
    Wording {
        form,
        reach,
        english: English::AsWritten,
        unit: LengthUnit::Cm,
        hand: KnittingHand::Right,
        two_socks: false,
    }
}

/// Plain words first; a style that says a line like the one before it is left out there.
const STYLES: [Wording; 4] = [
    style(WordForm::Plain, RunStyle::ToMarker),
    style(WordForm::Plain, RunStyle::Counted),
    style(WordForm::Short, RunStyle::ToMarker),
    style(WordForm::Short, RunStyle::Counted),
];

pub(crate) fn of(sock: &Sock) -> String {
    let plan = make(&sock.recipe).unwrap_or_else(|e| panic!("{}: {e:?}", sock.file()));
    let trace = Trace::of(&plan).unwrap_or_else(|e| panic!("{}: {e}", sock.file()));
    let mut out = format!("{}\n", write_recipe(&sock.recipe));
    let mut first = 0;
    for section in &plan.sections {
        let mut told = Vec::new();
        let mut rounds = Vec::new();
        for (index, step) in section.steps.iter().enumerate() {
            let at = |mv| Position {
                step: first + index,
                mv,
            };
            if section.number(index).is_some() {
                rounds.push(read(at(0), &plan, &trace, sock.hand));
            } else {
                in_order(&mut told, &mut rounds);
                let moves = (0..step.moves.len()).map(|mv| read(at(mv), &plan, &trace, sock.hand));
                told.extend(together(moves));
            }
        }
        in_order(&mut told, &mut rounds);
        let _ = write!(out, "\n== {}\n", told[0].section);
        for one in told {
            one.write(&mut out);
        }
        first += section.steps.len();
    }
    out
}

/// Rounds and rows in the order knitted: those of a repeat told with the first of their kind.
fn in_order(told: &mut Vec<Told>, rounds: &mut Vec<(Instructions, Said)>) {
    let mut rounds = std::mem::take(rounds);
    let said: Vec<&Said> = rounds.iter().map(|(_, said)| said).collect();
    for passage in passages(&said) {
        let rest = rounds.split_off(passage.len());
        told.extend(together(std::mem::replace(&mut rounds, rest)));
    }
}

/// Steps or moves that read the same but for what they leave on the needles.
struct Told {
    section: &'static str,
    /// "Round 2 of 18" of the first of them.
    heading: String,
    /// The numbers of the others.
    also: Vec<String>,
    said: Said,
    /// Stitches on each needle named, and on all, after each of them.
    counts: Vec<Vec<u16>>,
}

/// What is read of a move, the counts left out.
#[derive(PartialEq)]
struct Said {
    shape: Option<&'static str>,
    note: Option<String>,
    /// The note with what abbreviations stand for.
    explained: Option<String>,
    /// The needle named, and what to do in every style.
    lines: Vec<(Option<u8>, [String; 4])>,
}

impl Told {
    fn of(plain: &Instructions, said: Said) -> Self {
        Self {
            section: plain.section,
            heading: plain.heading.clone(),
            also: Vec::new(),
            said,
            counts: vec![counts(plain)],
        }
    }

    fn add(&mut self, plain: &Instructions) {
        let number = plain.heading.split(' ').nth(1).unwrap_or_default();
        self.also.push(number.to_owned());
        self.counts.push(counts(plain));
    }

    fn write(&self, out: &mut String) {
        out.push_str(&self.heading);
        if !self.also.is_empty() {
            let _ = write!(out, " (also {})", self.also.join(", "));
        }
        if let Some(shape) = self.said.shape {
            let _ = write!(out, ", {shape}");
        }
        if let Some(note) = &self.said.note {
            let _ = write!(out, "\n  ! {note}");
        }
        if let Some(note) = &self.said.explained {
            let _ = write!(out, "\n  !! {note}");
        }
        for (i, (needle, texts)) in self.said.lines.iter().enumerate() {
            let needle = needle.map_or("-".to_owned(), |n| n.to_string());
            let [plain, others @ ..] = texts;
            let shown = if plain.is_empty() { "·" } else { plain };
            let _ = write!(out, "\n  {needle} {shown} = {}", self.count(i));
            let mut before = plain;
            for text in others {
                if text != before {
                    let _ = write!(out, "\n    {text}");
                }
                before = text;
            }
        }
        let all = self.count(self.said.lines.len());
        let _ = writeln!(out, "\n  all = {all}");
    }

    /// One number where it stays, else all of them.
    fn count(&self, of: usize) -> String {
        let mut all: Vec<String> = self.counts.iter().map(|c| c[of].to_string()).collect();
        if all.iter().all(|n| *n == all[0]) {
            all.truncate(1);
        }
        all.join(", ")
    }
}

fn counts(plain: &Instructions) -> Vec<u16> {
    let lines = plain.lines.iter().map(|line| line.count_after);
    lines.chain([plain.total_after]).collect()
}

/// What is read at a position.
fn read(at: Position, sock: &Plan, trace: &Trace, hand: KnittingHand) -> (Instructions, Said) {
    let each_way = STYLES.map(|style| {
        let style = Wording { hand, ..style };
        instructions(sock, trace, at, style).unwrap_or_else(|| panic!("no words at {at:?}"))
    });
    let said = said(&each_way);
    let [plain, ..] = each_way;
    (plain, said)
}

/// What is read in its order, what reads the same told with the first of its kind.
fn together(all: impl IntoIterator<Item = (Instructions, Said)>) -> Vec<Told> {
    let mut out: Vec<Told> = Vec::new();
    for (plain, said) in all {
        match out.iter_mut().find(|told| told.said == said) {
            Some(told) => told.add(&plain),
            None => out.push(Told::of(&plain, said)),
        }
    }
    out
}

fn said(each_way: &[Instructions; 4]) -> Said {
    let [plain, others @ ..] = each_way;
    for other in others {
        // Crosses and double stitches are explained with their abbreviations where those are used; else notes are the
        // same in every style.
        let explained = other
            .note
            .as_ref()
            .is_some_and(|note| note.contains(" cn, ") || note.contains(" (DS)"));
        assert!(
            explained || other.note == plain.note,
            "a note depends on the style"
        );
        assert_eq!(counts(other), counts(plain), "a count depends on the style");
    }
    let line = |i: usize| each_way.each_ref().map(|one| one.lines[i].text.clone());
    Said {
        shape: plain.shape,
        note: plain.note.clone(),
        explained: others
            .last()
            .and_then(|o| o.note.clone())
            .filter(|n| n.contains(" cn, ")),
        lines: plain
            .lines
            .iter()
            .enumerate()
            .map(|(i, l)| (l.needle, line(i)))
            .collect(),
    }
}
