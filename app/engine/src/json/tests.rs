//! Reading through the tree beside reading at once, as `serde_json` does it.

use proptest::prelude::*;
use serde::Deserialize;
use serde_json::Value;

use super::*;
use crate::plan::make;
use crate::recipe::Recipe;
use crate::wire::{write_plan, write_recipe};

/// As the general reader reads it.
fn general<T: DeserializeOwned>(text: &str) -> Option<T> {
    serde_json::from_str(text).ok()
}

fn ours<T: DeserializeOwned>(text: &str) -> Option<T> {
    from_json(text).ok()
}

/// Whether a value has a number that this reader does not know.
fn has_fraction(value: &Value) -> bool {
    match value {
        Value::Number(number) => !number.is_i64() && !number.is_u64(),
        Value::Array(all) => all.iter().any(has_fraction),
        Value::Object(all) => all.values().any(has_fraction),
        _ => false,
    }
}

#[derive(Debug, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Kind {
    Plain,
    Of(u8),
    With { on: bool },
    Two(i8, i8),
}

#[test]
fn every_kind_of_value_is_read() {
    for text in [
        "null",
        " true ",
        "false",
        "0",
        "-1",
        "18446744073709551615",
        "-9223372036854775808",
        r#""""#,
        r#""a\"\\\/\b\f\n\r\t\u00e9\ud83e\udde6 ß""#,
        "[]",
        "[ 1 , [ ] , { } ]",
        r#"{"a":1,"b":{"c":[null,true]},"":""}"#,
    ] {
        assert_eq!(ours::<Value>(text), general(text), "{text}");
        assert!(ours::<Value>(text).is_some(), "{text}");
    }
}

#[test]
fn a_fraction_is_passed_over_where_nobody_asks_for_it() {
    #[derive(Debug, PartialEq, Deserialize)]
    struct One {
        one: u8,
    }
    let text = r#"{"later":[1.5,{"x":-2e-3,"y":1E+9}],"one":1}"#;
    assert_eq!(ours(text), Some(One { one: 1 }));
    for text in ["1.0", "1e0", "-0", "99999999999999999999"] {
        assert_eq!(ours::<u64>(text), None, "{text}");
        assert_eq!(general::<u64>(text), None, "{text}");
    }
}

#[test]
fn each_kind_of_choice_is_read() {
    for text in [
        r#""plain""#,
        r#"{"plain":null}"#,
        r#"{"of":7}"#,
        r#"{"with":{"on":true}}"#,
        r#"{"two":[1,-2]}"#,
    ] {
        assert!(ours::<Kind>(text).is_some(), "{text}");
        assert_eq!(ours::<Kind>(text), general(text), "{text}");
    }
    for text in [
        r#""of""#,
        r#"{"plain":1}"#,
        r#"{"of":256}"#,
        r#"{"of":7,"with":{"on":true}}"#,
        r#"{"two":[1]}"#,
        r#"{"two":[1,2,3]}"#,
        "{}",
        "7",
    ] {
        assert_eq!(ours::<Kind>(text), None, "{text}");
        assert_eq!(general::<Kind>(text), None, "{text}");
    }
}

#[test]
fn what_lies_too_deep_is_refused_before_the_stack_ends() {
    for (open, close) in [("[", "]"), (r#"{"a":"#, "}")] {
        let deep = |depth| open.repeat(depth) + "1" + &close.repeat(depth);
        assert!(ours::<Value>(&deep(127)).is_some());
        assert_eq!(ours::<Value>(&deep(128)), None);
        assert_eq!(general::<Value>(&deep(128)), None);
        assert_eq!(ours::<Value>(&open.repeat(1_000_000)), None);
        assert!(ours::<serde::de::IgnoredAny>(&open.repeat(1_000_000)).is_none());
    }
}

#[test]
fn a_value_is_read_before_whatever_comes_after_it() {
    let name = |text| from_beginning::<String>(text).ok();
    assert_eq!(name(r#" "a\"b", "rest"#).as_deref(), Some("a\"b"));
    assert_eq!(name(r#""a"#), None);
    assert_eq!(name("7"), None);
}

#[test]
fn it_is_said_why_a_text_cannot_be_read() {
    let place = |line, column| Unreadable::NoJson { line, column };
    for (text, why) in [
        ("x", place(1, 1)),
        ("[1,\n 2,\nx]", place(3, 1)),
        ("[1]\n]", place(2, 1)),
        (r#"{"a":1}"#, Unreadable::OtherForm),
    ] {
        assert_eq!(from_json::<Vec<u8>>(text), Err(why), "{text}");
    }
}

/// Documents of ours, among them every kind of heel, toe and needles.
fn documents() -> Vec<String> {
    let mut all: Vec<String> = [
        r#"{"foot":{"length":2450,"circumference":2250,"heel_diagonal":null},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000,"unwashed":{"width":990,"height":1010},"needle":225},"leg":1600}"#,
        r#"{"direction":"toe-up","foot":{"length":2500},"swatch":{"stitches":32,"width":1000,"rounds":44,"height":1000},"cuff":{"edge":{"hem":{"picot":true}},"length":200},"heel":{"kind":"short-row","between":4},"toe":{"kind":"short-row"},"needles":{"method":"short-circular","length":"25-cm"},"stitches":64}"#,
        r#"{"foot":{"length":2350},"swatch":{"stitches":32,"width":1000,"rounds":44,"height":1000},"cuff":{"edge":"rolled","length":200},"heel":{"kind":"afterthought"},"toe":{"kind":"shaped","foot":"left"},"needles":{"method":"four-dpns"},"yarns":{"stripes":[{"yarn":"A","rounds":4},{"yarn":"B","rounds":2}],"heel":"C"},"adjust":{"leg":-3}}"#,
        r#"{"foot":{"length":2350},"swatch":{"stitches":32,"width":1000,"rounds":44,"height":1000},"heel":{"texture":"garter-edge","kind":"flap-and-gusset","turn":"band","rows":30,"corners":false},"toe":{"kind":"wedge","narrowing":"long"},"needles":{"seating":"instep-and-sole","method":"magic-loop"},"motif":{"rows":["k1 yo ssk k5"],"place":"front"},"calf":[{"height":1000,"circumference":3000}],"ball":{"grams":50,"metres":210}}"#,
    ]
    .map(str::to_owned)
    .into();
    let recipe = Recipe::default();
    all.push(write_recipe(&recipe));
    all.push(write_plan(&make(&recipe).expect("a sock")));
    all
}

#[test]
fn our_documents_are_read_as_the_general_reader_reads_them() {
    for text in documents() {
        assert_eq!(ours::<Value>(&text), general(&text), "{text}");
        assert_eq!(ours::<Recipe>(&text), general(&text), "{text}");
        if !text.contains("\"evenloop\"") {
            assert!(ours::<Recipe>(&text).is_some(), "{text}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn changed_documents_are_read_as_the_general_reader_reads_them(
        which in 0_usize..6,
        changes in prop::collection::vec((any::<prop::sample::Index>(), 0_usize..12), 1..4),
    ) {
        let mut text = documents().swap_remove(which);
        text.truncate(1_500);
        for (place, change) in changes {
            // All of it is ASCII.
            let at = place.index(text.len());
            let with = ["", "\"", "{", "}", "[", "]", ",", ":", "0", "-", "\\", "null"][change];
            text.replace_range(at..=at, with);
        }
        let value = general::<Value>(&text);
        if !value.as_ref().is_some_and(has_fraction) {
            prop_assert_eq!(ours::<Value>(&text), value);
        }
        let recipe = general::<Recipe>(&text);
        // The general one also takes a list for fields.
        if recipe.is_none() || !text.contains(":[") {
            prop_assert_eq!(ours::<Recipe>(&text), recipe);
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in r#"[\[\]{}",:0-9eE.+\\ untrlsfa\n-]{0,24}"#) {
        let value = general::<Value>(&text);
        if !value.as_ref().is_some_and(has_fraction) {
            prop_assert_eq!(ours::<Value>(&text), value);
        }
    }
}
