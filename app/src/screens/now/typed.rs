//! A pair's name and a note, to the eye and to the ear: byte for byte, whatever the words and units.

use evenloop_engine::journal::tidy_note;
use leptos::prelude::*;
use proptest::prelude::{ProptestConfig, prop_assert, prop_assert_eq, proptest};

use super::announce::{Announced, announce};
use super::head::{Head, HeadProps};
use crate::in_hand::typed::session_with;
use crate::store::Settings;
use crate::text::typed_samples::{lines, names, unescaped, wordings};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_name_and_a_note_come_through_byte_for_byte(
        name in names(),
        typed in lines(),
        wording in wordings(),
        of_the_first in proptest::bool::ANY,
    ) {
        let note = tidy_note(&typed);
        Owner::new().with(|| -> Result<(), proptest::test_runner::TestCaseError> {
            let session = session_with(&name, &note, of_the_first);
            // What is told here is said aloud, too.
            let said = RwSignal::new(String::new());
            let settings = Settings { style: wording, ..Settings::default() };
            announce(session, said, Announced::Next, settings);
            let said = said.get_untracked();
            // Where nothing is left of it there is no note.
            prop_assert!(note.is_empty() || said.contains(&format!("“{note}”")), "{}", said);

            let at_hand = Memo::new(|_| None);
            let head = Head(HeadProps { session, at_hand }).into_view().to_html();
            let shown = head.split_once("class=\"name\"").and_then(|(_, rest)| rest.split_once("<!></span>"));
            let shown = shown.and_then(|(name, _)| name.split_once('>'));
            // The framework writes a blank for an empty text, so that the browser has a node for it.
            let expected = if name.is_empty() { " " } else { &name };
            prop_assert_eq!(shown.map(|(_, name)| unescaped(name)), Some(expected.to_owned()), "{}", head);
            Ok(())
        })?;
    }
}
