//! What knitters might type, for the tests of what becomes of it: every word that varieties of English say
//! differently, and what is hard to write, to escape or to read.

use evenloop_engine::text::{English, Wording};
use evenloop_engine::units::LengthUnit;
use proptest::prelude::*;

/// Every word that differs between varieties, as each of them has it.
fn terms() -> Vec<String> {
    let methods: [fn(English) -> &'static str; 22] = [
        English::bind_off,
        English::bind_off_capital,
        English::binding_off,
        English::binding_off_capital,
        English::bound_off,
        English::bind_off_noun,
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

fn pieces() -> impl Strategy<Value = String> {
    let odd = ODD.iter().map(|&odd| odd.to_owned());
    proptest::sample::select(terms().into_iter().chain(odd).collect::<Vec<String>>())
}

/// Names of words and oddities, some longer than a line of paper.
pub(crate) fn names() -> impl Strategy<Value = String> {
    let piece = (pieces(), "[ -]?").prop_map(|(piece, gap)| piece + &gap);
    proptest::collection::vec(piece, 1..12).prop_map(|pieces| pieces.concat().trim().to_owned())
}

/// The same in several lines, with gaps of any kind.
pub(crate) fn lines() -> impl Strategy<Value = String> {
    let piece = (pieces(), "[ \n\t-]{0,3}").prop_map(|(piece, gap)| piece + &gap);
    proptest::collection::vec(piece, 1..12).prop_map(|pieces| pieces.concat().trim().to_owned())
}

/// How everything else is worded meanwhile.
pub(crate) fn wordings() -> impl Strategy<Value = Wording> {
    let english = proptest::sample::select(&ENGLISHES[..]);
    let unit = proptest::sample::select(&[LengthUnit::Cm, LengthUnit::Inch][..]);
    (english, unit).prop_map(|(english, unit)| Wording {
        english,
        unit,
        ..Wording::default()
    })
}

/// Markup as a browser reads it.
pub(crate) fn unescaped(html: &str) -> String {
    let entities = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&#x27;", "'"),
        ("&#39;", "'"),
        ("&amp;", "&"),
    ];
    entities
        .iter()
        .fold(html.to_owned(), |text, (entity, c)| text.replace(entity, c))
}
