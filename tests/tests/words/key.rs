//! The key of abbreviations on paper, read by somebody who knows plain words only: she asks about every word in the
//! lines that no plain sentence has, and finds each in the key; and whatever the key explains, the lines hold.

use std::collections::BTreeSet;

use evenloop_engine::plan::Plan;
use evenloop_engine::plan::make;
use evenloop_engine::text::{
    Abbreviation, English, KnittingHand, RunStyle, WordForm, Wording, abbreviations,
    instructions_on_paper, motif_row,
};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::write_recipe;
use evenloop_tests::model::recipes::{asked_for, seeded};

/// How many socks.
const SOCKS: usize = 300;

/// Every line of the words of a sock on paper, its motif's rounds included; its notes apart.
fn lines(plan: &Plan, trace: &Trace, wording: Wording) -> (Vec<String>, Vec<String>) {
    let (mut lines, mut notes) = (Vec::new(), Vec::new());
    let mut at = Position::default();
    while at < trace.end() {
        if let Some(said) = instructions_on_paper(plan, trace, at, wording) {
            lines.extend(said.lines.into_iter().map(|line| line.text));
            notes.extend(said.note);
        }
        at = trace.advance(at);
    }
    let rows = plan.recipe.motif.iter().flat_map(|motif| &motif.rows);
    lines.extend(rows.map(|row| motif_row(row, wording)));
    (lines, notes)
}

/// The words of a line: "k14," is "k", "2/2 LC" is one.
fn words(line: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut cross = None;
    for word in line.split([' ', '\u{a0}']) {
        let word = word.trim_matches([',', '*', ':', ';', '.', '(', ')']);
        if word.split('/').count() == 2 && word.chars().all(|c| c.is_ascii_digit() || c == '/') {
            cross = Some(word.to_owned());
            continue;
        }
        let bare = word.trim_end_matches(|c: char| c.is_ascii_digit());
        let bare = if bare.is_empty() { continue } else { bare };
        match cross.take() {
            Some(counts) => out.push(format!("{counts} {bare}")),
            None => out.push(bare.to_owned()),
        }
    }
    out
}

/// Words that stand in a plain sentence of these socks, in small letters.
fn plain_words(socks: &[(Plan, Trace)]) -> BTreeSet<String> {
    let mut known = BTreeSet::new();
    for (plan, trace) in socks {
        for reach in [RunStyle::Counted, RunStyle::ToMarker] {
            for english in [English::British, English::American] {
                let wording = Wording {
                    form: WordForm::Plain,
                    reach,
                    english,
                    ..Wording::default()
                };
                let (lines, notes) = lines(plan, trace, wording);
                let all = lines.iter().chain(&notes);
                known.extend(
                    all.flat_map(|line| words(line))
                        .map(|word| word.to_lowercase()),
                );
            }
        }
    }
    known
}

#[test]
fn whoever_reads_plain_words_finds_all_others_in_the_key_and_nothing_else_there() {
    let many = asked_for("EVENLOOP_WORDS").unwrap_or(SOCKS);
    let socks: Vec<(Plan, Trace)> = seeded(4 * many)
        .filter_map(|recipe| make(&recipe).ok())
        .take(many)
        .map(|plan| {
            let trace = Trace::of(&plan).expect("it was knitted before");
            (plan, trace)
        })
        .collect();
    assert_eq!(socks.len(), many);
    let mut known = plain_words(&socks);
    // a yarn's letter, the plus of two things done at once, and a whole word that plain lines have otherwise
    known.extend(["a", "b", "c", "d", "+", "wrap"].map(str::to_owned));
    let mut met = BTreeSet::new();
    for (nth, (plan, trace)) in socks.iter().enumerate() {
        let wording = Wording {
            form: WordForm::Short,
            reach: [RunStyle::Counted, RunStyle::ToMarker][nth % 2],
            english: [English::British, English::American, English::AsWritten][nth % 3],
            hand: [KnittingHand::Right, KnittingHand::Left][nth / 2 % 2],
            ..Wording::default()
        };
        let key = abbreviations(plan, trace, wording);
        let explained: BTreeSet<String> = key.iter().map(|one| one.short(wording)).collect();
        assert_eq!(explained.len(), key.len(), "one is there twice: {key:?}");
        let (lines, notes) = lines(plan, trace, wording);
        let said: BTreeSet<String> = lines.iter().flat_map(|line| words(line)).collect();
        let what = || write_recipe(&plan.recipe);
        for word in &said {
            // one letter may be a yarn's or a verb's: verbs are small
            let verb = word.len() == 1 && word.chars().all(|c| c.is_ascii_lowercase());
            let plain = known.contains(&word.to_lowercase()) && !verb;
            assert!(
                explained.contains(word) || plain,
                "{word} is not explained: {explained:?}\n{}",
                what()
            );
            assert!(
                !explained.contains(word) || !known.contains(word) || word.len() == 1,
                "{word} is explained, and is a word\n{}",
                what()
            );
        }
        for one in &key {
            let short = one.short(wording);
            let there = match one {
                Abbreviation::Repeat => lines.iter().any(|line| line.contains('*')),
                _ => said.contains(&short),
            };
            assert!(there, "{short} is explained and not said\n{}", what());
            assert!(!one.meaning(wording).is_empty());
        }
        for note in &notes {
            for word in words(note) {
                // what a note names in brackets is in the lines as well
                assert!(
                    word != "DS" || explained.contains("DS"),
                    "{note}\n{}",
                    what()
                );
            }
        }
        met.extend(explained);

        let plain = Wording {
            form: WordForm::Plain,
            ..wording
        };
        let key = abbreviations(plan, trace, plain);
        assert!(
            key.iter().all(|one| *one == Abbreviation::Repeat),
            "plain words are abbreviated: {key:?}\n{}",
            what()
        );
        let (_, plain_notes) = self::lines(plan, trace, plain);
        for note in &plain_notes {
            assert!(
                words(note).iter().all(|word| word != "DS"),
                "plain words are abbreviated: {note}\n{}",
                what()
            );
        }
    }
    for one in [
        "k", "p", "sl", "k2tog", "ssk", "p2tog", "tbl", "wyif", "yo", "m1l", "m1r", "DS", "m",
        "pm", "sm", "CO", "BO", "ch", "sts", "2/2 LC", "* … *",
    ] {
        assert!(met.contains(one), "{one} was not met: {met:?}");
    }
}
