//! What the knitter typed, on the page and in the text: byte for byte, whatever the words and units.

use evenloop_engine::plan::{Plan, make};
use evenloop_engine::recipe::{Recipe, Written};
use evenloop_engine::text::Typed;
use evenloop_engine::trace::Trace;
use proptest::prelude::*;

use super::document::*;
use super::*;
use crate::hue::Hue;
use crate::text::typed_samples::{lines, names, unescaped, wordings};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn a_name_and_a_pattern_come_through_byte_for_byte(
        name in names(),
        pattern in lines(),
        wording in wordings(),
    ) {
        static SOCK: std::sync::OnceLock<(Plan, Trace)> = std::sync::OnceLock::new();
        let (plan, trace) = SOCK.get_or_init(|| {
            let plan = make(&Recipe::default()).expect("a sock");
            let trace = Trace::of(&plan).expect("it can be knitted");
            (plan, trace)
        });
        // The stitches are those of another sock; the text is only shown.
        let mut plan = plan.clone();
        plan.recipe.written = Some(Written { text: pattern.clone(), size: None, ours: Vec::new() });
        let sheet = of(&plan, trace, wording, Some(&Typed::new(&*name)), Hue::USUAL);
        let page = html(&sheet);
        let title = page.strip_prefix("<h2>").and_then(|rest| rest.split_once("</h2>"));
        prop_assert_eq!(title.map(|(title, _)| unescaped(title)), Some(name.clone()));
        let typed = page.split_once("class=\"typed-pattern\">").and_then(|(_, rest)| rest.split_once("</p>"));
        prop_assert_eq!(typed.map(|(typed, _)| unescaped(typed)), Some(pattern.clone()));
        let text = text(&sheet);
        prop_assert_eq!(text.split('\n').next(), Some(&*name));
        prop_assert!(text.contains(&pattern), "{text}");
    }
}
