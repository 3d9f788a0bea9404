//! Any plan document is read, knitted and said, or refused; nothing falls over.
#![no_main]

use std::sync::LazyLock;

use arbitrary::Unstructured;
use evenloop_engine::plan::Plan;
use evenloop_engine::sequence::passages;
use evenloop_engine::tally::check;
use evenloop_engine::tally::seen::stretches;
use evenloop_engine::text::{
    English, RunStyle, WordForm, Wording, finding, instructions, one_line, way,
};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::{read_plan, write_plan};
use evenloop_engine::yarn::{budget, usage_from};
use evenloop_fuzz::{PLANS, spoiled, values};
use libfuzzer_sys::fuzz_target;
use serde_json::Value;

static VALUES: LazyLock<Vec<Value>> = LazyLock::new(|| values(&PLANS));

fuzz_target!(|data: &[u8]| {
    match data {
        [0, raw @ ..] => {
            if let Ok(text) = std::str::from_utf8(raw) {
                look_at(text, raw.len());
            }
        }
        [n, rest @ ..] => {
            if let Ok(text) = spoiled(&VALUES, &mut Unstructured::new(rest)) {
                look_at(&text, usize::from(*n));
            }
        }
        [] => {}
    }
});

fn look_at(text: &str, odd: usize) {
    let Ok(plan) = read_plan(text) else { return };
    assert_eq!(read_plan(&write_plan(&plan)).as_ref(), Ok(&plan));
    if let Ok(trace) = Trace::of(&plan) {
        say(&plan, &trace, odd);
    }
}

/// What the yarn says at a place.
fn weigh(plan: &Plan, at: Position) {
    let weighed = [(Position::default(), 900), (at, 450)];
    let _ = usage_from(plan, at);
    let _ = budget([(plan, &weighed[..1]), (plan, &[])]);
    let _ = budget([(plan, &weighed), (plan, &[])]);
    let _ = budget([(plan, &[]), (plan, &weighed[1..])]);
}

fn say(plan: &Plan, trace: &Trace, odd: usize) {
    let style = Wording {
        form: if odd & 1 == 0 {
            WordForm::Plain
        } else {
            WordForm::Short
        },
        reach: if odd & 2 == 0 {
            RunStyle::Counted
        } else {
            RunStyle::ToMarker
        },
        ..Wording::default()
    };
    for section in &plan.sections {
        let told: usize = passages(&section.steps).iter().map(|s| s.len()).sum();
        assert_eq!(told, section.steps.len());
    }
    let mut at = Position::default();
    // Enough of a damaged plan; a sock of ours has some hundred moves.
    for i in 0..600 {
        if at == trace.end() {
            break;
        }
        let said = instructions(plan, trace, at, style).expect("there are words for every move");
        assert!(!said.heading.is_empty());
        assert!(one_line(plan, trace, at, style).is_some() || said.note.is_none());
        let counted = trace.needles_at(at).expect("before the end").per_needle();
        if i % 32 == odd % 32 {
            assert!(!check(plan, trace, at, &counted).is_empty());
            let far = [7, u16::MAX];
            for found in check(plan, trace, at, &far) {
                let _ = finding(plan, trace, at, &far, found, style);
            }
            for stretch in stretches(plan, trace, &counted) {
                let _ = stretch.by(plan, trace, counted.len().try_into().unwrap_or(0));
            }
            let _ = way(plan, trace, at, Position::default(), English::AsWritten);
            let _ = plan.section_progress(at);
            weigh(plan, at);
        }
        at = trace.advance(at);
    }
    assert_eq!(instructions(plan, trace, trace.end(), style), None);
}
