//! A note as it is told beside the work: byte for byte, whatever the words and units.

use std::sync::{Arc, OnceLock};

use evenloop_engine::journal::{Digest, Event, Journal, tidy_note};
use evenloop_engine::plan::make;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::trace::{Position, Trace};
use leptos::prelude::*;
use proptest::prelude::{ProptestConfig, prop_assert, prop_assert_eq, proptest};

use super::remarks::remarks_at;
use super::rounds::rows;
use super::session::Session;
use crate::store::{KnittedPlan, OpenPair, PairHead, PairId, PairProgress};
use crate::text::typed_samples::{lines, wordings};

/// A round in the leg.
const NOTED: Position = Position { step: 30, mv: 0 };

fn plan() -> Arc<KnittedPlan> {
    static PLAN: OnceLock<Arc<KnittedPlan>> = OnceLock::new();
    let plan = PLAN.get_or_init(|| {
        let plan = make(&Recipe::default()).expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        Arc::new(KnittedPlan { plan, trace })
    });
    Arc::clone(plan)
}

/// A pair with that name, with a note at the round at hand: of the sock itself, or of the first one while the second
/// is in that round.
pub(crate) fn session_with(name: &str, note: &str, of_the_first: bool) -> Session {
    let plan = plan();
    let digest = Digest::of("");
    let journal = |events: &[Event]| Journal::replay(events, &plan.trace);
    let there = [Event::Begin(1), Event::GoTo(2, NOTED)];
    let noted = [
        there[0].clone(),
        there[1].clone(),
        Event::Note(3, NOTED, note.to_owned()),
    ];
    let end = plan.trace.end();
    let knitted = [noted.as_slice(), &[Event::GoTo(4, end)]].concat();
    let journals = if of_the_first {
        [journal(&knitted), journal(&there)]
    } else {
        [journal(&noted), journal(&[])]
    };
    Session::of(OpenPair {
        head: PairHead {
            id: PairId::read("pair").expect("an id"),
            name: name.to_owned(),
            named: 0,
            created: 1,
            progress: PairProgress {
                sock: 1,
                done: 0,
                total: 1,
                section: String::new(),
                finished: false,
                both: None,
            },
            readable: true,
        },
        meant: Arc::clone(&plan),
        patterns: [Arc::clone(&plan), plan],
        plan_digests: [digest, digest],
        plan_texts: Arc::default(),
        journals,
        device: None,
        trouble: None,
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn a_note_comes_through_byte_for_byte(
        typed in lines(),
        wording in wordings(),
        of_the_first in proptest::bool::ANY,
    ) {
        let note = tidy_note(&typed);
        let wanted = format!("“{note}”");
        Owner::new().with(|| -> Result<(), proptest::test_runner::TestCaseError> {
            let session = session_with("A pair", &note, of_the_first);
            prop_assert_eq!(session.at_untracked(), NOTED);
            let here = remarks_at(session, NOTED, wording);
            // Where nothing is left of it there is no note.
            if note.is_empty() {
                prop_assert!(!here.iter().any(|line| line.contains('“')), "{:?}", here);
                return Ok(());
            }
            // Where the first one went on elsewhere is told after its note.
            prop_assert!(here[0].ends_with(&wanted), "{:?}", here);
            let section = session.with(|pair| pair.trace.steps[NOTED.step].section);
            let rows = rows(session, section, wording);
            let told: Vec<&String> = rows.iter().flat_map(|row| &row.remarks).collect();
            prop_assert!(told.len() == 1 && told[0].ends_with(&wanted), "{:?}", told);
            Ok(())
        })?;
    }
}
