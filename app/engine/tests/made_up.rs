//! In the made-up language nothing of what the engine says is left in English: what is, was not
//! written in the language's folder.
//!
//! `cargo test --release --features made-up-language --test made_up`
#![cfg(feature = "made-up-language")]
#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

#[allow(dead_code)] // shared with the laws
mod any;

use std::collections::BTreeSet;

use any::any_recipe;
use evenloop_engine::error::{FieldError, Problem};
use evenloop_engine::journal::Jump;
use evenloop_engine::link::{LinkError, read_link};
use evenloop_engine::needle_size::Needle;
use evenloop_engine::needles::{Needles, Origin};
use evenloop_engine::plan::{Caution, Plan, SectionKind, changes, make};
use evenloop_engine::recipe::{NearestFit, Recipe};
use evenloop_engine::tally::{self, seen};
use evenloop_engine::text::{
    self, English, Instructions, KnittingHand, RunStyle, Technique, WordForm, Wording,
};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::wire::read_recipe;
use evenloop_engine::yarn::{budget, read_grams};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

/// Letters that are no words: units, and the names of yarns.
const UNITS: [&str; 11] = ["cm", "in", "mm", "g", "oz", "m", "yd", "A", "B", "C", "D"];

/// Looks at what is said; keeps how much of it there was.
#[derive(Default)]
struct Heard {
    sentences: BTreeSet<String>,
}

impl Heard {
    fn hear(&mut self, said: &str) {
        self.hear_beside(said, "");
    }

    /// What is said beside names that are the same in every language.
    fn hear_beside(&mut self, said: &str, names: &str) {
        if self.sentences.contains(said) {
            return;
        }
        let names: Vec<&str> = names.split(|c: char| !c.is_ascii_alphabetic()).collect();
        let english: Vec<&str> = said
            .split(|c: char| !c.is_ascii_alphabetic())
            .filter(|word| !word.is_empty() && !UNITS.contains(word) && !names.contains(word))
            .collect();
        assert!(english.is_empty(), "{english:?} in {said:?}");
        assert!(
            said.chars().any(char::is_alphabetic) || said.chars().any(|c| c.is_ascii_digit()),
            "nothing is said: {said:?}"
        );
        self.sentences.insert(said.to_owned());
    }

    fn hear_instructions(&mut self, said: &Instructions, english: English) {
        self.hear(said.section);
        self.hear(&said.heading);
        for text in said.shape.into_iter().chain(said.note.as_deref()) {
            self.hear(text);
        }
        let hard = said.lines.iter().flat_map(|line| &line.hard);
        for technique in hard.chain(&said.hard) {
            for hand in [KnittingHand::Right, KnittingHand::Left] {
                self.hear(technique.name(english, hand));
                self.hear(&technique.text(english, hand));
            }
        }
        for line in said.lines.iter().filter(|line| !line.text.is_empty()) {
            self.hear(&line.text);
        }
    }

    fn hear_refused(&mut self, errors: &[FieldError], wording: Wording) {
        for error in errors {
            let said = text::problem(&error.problem, wording);
            self.hear(&said.message);
            self.hear(&said.help);
        }
    }

    /// What is wrong with a recipe document: its fields and words are named as they are written.
    fn hear_refused_document(&mut self, errors: &[FieldError]) {
        for error in errors {
            let said = text::problem(&error.problem, Wording::default());
            let names = error.problem.arguments().to_string();
            self.hear_beside(&said.message, &names);
            self.hear_beside(&said.help, &names);
        }
    }

    fn hear_sock(&mut self, plan: &Plan, trace: &Trace, wordings: &[Wording]) {
        for &wording in wordings {
            for one in text::abbreviations(plan, trace, wording) {
                let short = one.short(wording);
                // A sign has no words.
                if short.contains(char::is_alphanumeric) {
                    self.hear(&short);
                }
                self.hear(&one.meaning(wording));
            }
        }
        let mut at = Position::default();
        while at < trace.end() {
            for &wording in wordings {
                let all = [
                    text::instructions(plan, trace, at, wording),
                    text::instructions_on_paper(plan, trace, at, wording),
                ];
                for said in all.iter().flatten() {
                    self.hear_instructions(said, wording.english);
                }
                self.hear_place(plan, trace, at, wording);
            }
            at = trace.advance(at);
        }
    }

    fn hear_place(&mut self, plan: &Plan, trace: &Trace, at: Position, wording: Wording) {
        let english = wording.english;
        self.hear(&text::place(plan, trace, at, english));
        self.hear(&text::spot(plan, trace, at.step, english));
        let per_needle = trace
            .needles_at(at)
            .map(Needles::per_needle)
            .unwrap_or_default();
        for first in [0, 1, 2, 3] {
            let mut counted = per_needle.clone();
            if let Some(one) = counted.first_mut() {
                *one = (*one + first).saturating_sub(1);
            }
            for found in tally::check(plan, trace, at, &counted) {
                let said = text::finding(plan, trace, at, &counted, found, wording);
                self.hear(&said.what);
                self.hear(&said.mend);
            }
        }
        let home = Position::default();
        if let Some(way) = text::way(plan, trace, at, home, english) {
            self.hear(&way.told);
            for text in way.parts.iter().chain(&way.needles) {
                self.hear(text);
            }
        }
        if let Some(way) = text::way(plan, trace, at, trace.end(), english) {
            self.hear(&way.told);
        }
        let jump = Jump { from: home, to: at };
        self.hear(&text::jump(plan, trace, jump, english));
    }

    fn hear_around(&mut self, plan: &Plan, trace: &Trace, wording: Wording) {
        for stretch in seen::whole(plan, trace) {
            self.hear(&text::sign(&stretch, wording.english));
        }
        if let Some(motif) = &plan.recipe.motif {
            for row in &motif.rows {
                self.hear(&text::motif_row(row, wording));
            }
        }
        let weighed = [(Position::default(), 1_000), (trace.end(), 400)];
        let halfway = Position {
            step: trace.steps.len() / 2,
            mv: 0,
        };
        for all in [
            vec![weighed[0]],
            weighed.to_vec(),
            vec![weighed[0], (halfway, 900)],
            vec![weighed[0], (halfway, 999)],
            // hardly noticed by the scale
            vec![weighed[0], (halfway, 990)],
        ] {
            if let Some(budget) = budget([(plan, &all), (plan, &[])]) {
                for text in text::budget(plan, &budget, wording) {
                    self.hear(&text);
                }
            }
        }
        let usual = make(&Recipe::default()).expect("a sock");
        for (old, new) in [(plan, &usual), (&usual, plan)] {
            for change in changes(old, new) {
                self.hear(&text::change(change, new, wording));
            }
        }
    }
}

fn wordings() -> Vec<Wording> {
    let mut all = Vec::new();
    for form in [WordForm::Plain, WordForm::Short, WordForm::Spoken] {
        for reach in [RunStyle::Counted, RunStyle::ToMarker] {
            for (english, unit) in [
                (English::AsWritten, LengthUnit::Cm),
                (English::British, LengthUnit::Inch),
                (English::American, LengthUnit::Cm),
            ] {
                all.push(Wording {
                    form,
                    reach,
                    english,
                    unit,
                    hand: if reach == RunStyle::Counted {
                        KnittingHand::Left
                    } else {
                        KnittingHand::Right
                    },
                    two_socks: form == WordForm::Spoken,
                });
            }
        }
    }
    all
}

#[test]
fn nothing_that_is_said_of_any_sock_is_english() {
    let mut runner = TestRunner::deterministic();
    let recipes = any_recipe();
    let wordings = wordings();
    let mut heard = Heard::default();
    let (mut socks, mut refused) = (0, 0);
    for nth in 0..600_usize {
        let recipe = recipes.new_tree(&mut runner).expect("a recipe").current();
        match make(&recipe) {
            Ok(plan) if socks < 80 => {
                socks += 1;
                let trace = Trace::of(&plan).expect("it can be knitted");
                // each wording comes often enough; all of them at every place would take minutes
                let of_this = [wordings[nth % wordings.len()]];
                heard.hear_sock(&plan, &trace, &of_this);
                heard.hear_around(&plan, &trace, of_this[0]);
            }
            Ok(_) => {}
            Err(error) => {
                refused += 1;
                for &wording in &wordings {
                    heard.hear_refused(error.fields(), wording);
                }
            }
        }
    }
    assert!(
        socks == 80 && refused > 50,
        "{socks} socks, {refused} refused"
    );
    assert!(heard.sentences.len() > 2_000, "{}", heard.sentences.len());
}

#[test]
fn nothing_that_is_said_by_itself_is_english() {
    let mut heard = Heard::default();
    for english in [English::AsWritten, English::British, English::American] {
        for kind in SectionKind::ALL {
            heard.hear(text::section_name(kind, english));
            heard.hear(text::section_in_text(kind, english));
        }
        for technique in Technique::ALL {
            for hand in [KnittingHand::Right, KnittingHand::Left] {
                heard.hear(technique.name(english, hand));
                heard.hear(&technique.text(english, hand));
            }
        }
        for term in [
            english.bind_off(),
            english.binding_off_capital(),
            english.bound_off(),
            english.gauge_capital(),
            english.stockinette(),
            english.seed_stitch_capital(),
            english.colours(),
            english.metre(),
            english.grey(),
        ] {
            heard.hear(term);
        }
    }
    for caution in [
        Caution::HardToPutOn,
        Caution::FirmEdge,
        Caution::LittleEase,
        Caution::MuchEase,
        Caution::GussetEveryRound,
        Caution::SmallChild,
        Caution::CircumferenceEstimated,
        Caution::GaugeGuessed,
        Caution::LargerThanFoot(None),
        Caution::LargerThanFoot(Some(NearestFit {
            stitches: 64,
            front_only: false,
        })),
        Caution::RepeatDecides(Some(NearestFit {
            stitches: 64,
            front_only: true,
        })),
        Caution::PatternNotMeasured(13),
        Caution::TenderLegs,
    ] {
        heard.hear(&text::caution(caution, English::default()));
    }
    for origin in [
        Origin::Back,
        Origin::Front,
        Origin::Heel,
        Origin::GussetLeft,
        Origin::Instep,
        Origin::GussetRight,
        Origin::Sole,
    ] {
        heard.hear(text::origin_name(origin));
    }
    for needle in Needle::all() {
        heard.hear(&needle.to_string());
    }
    for link in ["", "9abc", "1Z", "1Zm9v"] {
        let error = read_link(link).expect_err("no recipe");
        heard.hear(text::link_error(&error));
    }
    heard.hear(text::link_error(&LinkError::TooLong));
    for typed in ["abc", "999999999999"] {
        for unit in [LengthUnit::Cm, LengthUnit::Inch] {
            if let Err(error) = Length::parse(typed, unit) {
                heard.hear(text::length_expected(error));
            }
        }
    }
    let wording = Wording::default();
    let error = read_grams("many").expect_err("no weight");
    heard.hear_refused(&[error], wording);
    for problem in [
        Problem::DirectionOfBegun,
        Problem::TubularEdgeRib { cast_on: true },
        Problem::TubularEdgeRib { cast_on: false },
        Problem::ProvisionalToe,
        Problem::LegRoundsMissing,
        Problem::MotifRoundUnreadable,
        Problem::RecipeTooLong { bytes: 1, most: 2 },
    ] {
        heard.hear_refused(&[FieldError::new("recipe", problem)], wording);
    }
    for document in [
        "{",
        "7",
        "{\"foot\": {\"length\": null, \"girth\": 1}, \"toe\": {}, \"fit\": {\"high_instep\": 1}}",
        "{\"swatch\": {\"stitches\": -1, \"width\": 1, \"width\": 2, \"needle\": 1}, \"stitches\": []}",
        "{\"cuff\": {\"edge\": {}}, \"motif\": {\"rows\": [true, {}]}, \"calf\": \"wide\"}",
    ] {
        let errors = read_recipe(document).expect_err("no recipe");
        heard.hear_refused_document(&errors);
    }
    heard.hear(&text::counts(&[32, 16, 16]));
}
