//! What the knitter typed, on the page and in the text: byte for byte, whatever the words and units.

use evenloop_engine::plan::{Plan, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::text::{English, Typed, Wording};
use evenloop_engine::trace::Trace;
use evenloop_engine::units::LengthUnit;
use proptest::prelude::*;

use super::document::*;
use super::*;
use crate::hue::Hue;

/// Every word that differs between varieties, as each of them has it.
fn terms() -> Vec<String> {
    let methods: [fn(English) -> &'static str; 23] = [
        English::bind_off,
        English::bind_off_capital,
        English::binding_off,
        English::binding_off_capital,
        English::bound_off,
        English::bind_off_noun,
        English::bind_off_noun_capital,
        English::bind_off_short,
        English::gauge,
        English::gauge_capital,
        English::stockinette,
        English::stockinette_capital,
        English::seed_stitch,
        English::seed_stitch_capital,
        English::colour,
        English::colour_capital,
        English::colours,
        English::colours_capital,
        English::metre,
        English::metres,
        English::metres_capital,
        English::grey,
        English::grey_capital,
    ];
    let each = |term: &fn(English) -> &'static str| {
        ENGLISHES.map(|english| term(english).to_owned()).to_vec()
    };
    methods.iter().flat_map(each).collect()
}

const ENGLISHES: [English; 3] = [English::AsWritten, English::British, English::American];

/// What is written, escaped or read in a way of its own somewhere, and what is hard to write.
const ODD: [&str; 24] = [
    "‹500›",
    "‹900+›",
    "‹3400-›",
    "‹2000~›",
    "‹315#›",
    "‹#›",
    "‹",
    "›",
    "&amp;",
    "&",
    "<b>",
    "</h2>",
    ">",
    "\"",
    "'",
    "“",
    "”",
    "{name}",
    "{}",
    "*",
    "🧦",
    "e\u{301}\u{323}",
    "\u{202e}גרב\u{202c}",
    "\u{a0}",
];

/// Names of words and oddities, some longer than a line of paper.
fn names() -> impl Strategy<Value = String> {
    let odd = ODD.iter().map(|&odd| odd.to_owned());
    let pieces: Vec<String> = terms().into_iter().chain(odd).collect();
    let piece = (proptest::sample::select(pieces), "[ -]?").prop_map(|(piece, gap)| piece + &gap);
    proptest::collection::vec(piece, 1..12).prop_map(|pieces| pieces.concat().trim().to_owned())
}

fn read(html: &str) -> String {
    let entities = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&amp;", "&"),
    ];
    entities
        .iter()
        .fold(html.to_owned(), |text, (entity, c)| text.replace(entity, c))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn a_name_comes_through_byte_for_byte(
        name in names(),
        english in proptest::sample::select(&ENGLISHES[..]),
        unit in proptest::sample::select(&[LengthUnit::Cm, LengthUnit::Inch][..]),
    ) {
        static SOCK: std::sync::OnceLock<(Plan, Trace)> = std::sync::OnceLock::new();
        let (plan, trace) = SOCK.get_or_init(|| {
            let plan = make(&Recipe::default()).expect("a sock");
            let trace = Trace::of(&plan).expect("it can be knitted");
            (plan, trace)
        });
        let wording = Wording { english, unit, ..Wording::default() };
        let sheet = of(plan, trace, wording, Some(&Typed::new(&*name)), Hue::USUAL);
        let page = html(&sheet);
        let title = page.strip_prefix("<h2>").and_then(|rest| rest.split_once("</h2>"));
        prop_assert_eq!(title.map(|(title, _)| read(title)), Some(name.clone()));
        let text = text(&sheet);
        prop_assert_eq!(text.split('\n').next(), Some(&*name));
    }
}
