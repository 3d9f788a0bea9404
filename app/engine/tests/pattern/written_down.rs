//! Plans of ours written down as patterns, and read again.

use evenloop_engine::pattern::{begins_at_toe, sizes};
use evenloop_engine::plan::{Plan, make};
use evenloop_engine::read_back::reads_back;
use evenloop_engine::recipe::{Method, Recipe, SockPart};
use evenloop_engine::sock::{self, by_pattern};
use evenloop_engine::text::{NotWritten, Typed, Wording, as_pattern};
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::read_recipe;

use crate::socks::socks;

fn written(plan: &Plan, name: Option<&str>) -> Result<String, NotWritten> {
    let trace = Trace::of(plan).expect("a plan that was made");
    let name = name.map(Typed::new);
    as_pattern(plan, &trace, name.as_ref(), Wording::default())
}

/// Socks that once were read back otherwise: motifs of many rounds, cables where back and front meet, corners of toes in
/// short rows, yarn overs at the end of a needle.
#[test]
fn what_was_read_back_otherwise_is_read_back() {
    let mut wrong = Vec::new();
    let recipes: Vec<&str> = include_str!("written_down.txt").lines().collect();
    assert_eq!(recipes.len(), 13);
    for recipe in recipes {
        let plan = make(&read_recipe(recipe).expect("a recipe")).expect("a sock");
        let text = written(&plan, None).expect("none is too long");
        if !reads_back(&plan, &text) {
            wrong.push(recipe);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Whatever a pair is called: none of it is taken for a line of the pattern.
#[test]
fn a_name_that_speaks_like_a_pattern_is_no_part_of_it() {
    let plan = make(&Recipe::default()).expect("a sock");
    for name in [
        "Rnd 1: k2tog, k1",
        "TOE",
        "Cast on 64 sts",
        "56 (64, 72)",
        "Gauge: 20 sts and 30 rnds to 10 cm",
        "socks (for the",
        "*k2, p2; rep from",
        "Knit to",
        "note",
        "“Quoted” & [more",
        "",
        "a\nRnd 1: k2tog",
    ] {
        let text = written(&plan, Some(name)).expect("a text");
        assert!(reads_back(&plan, &text), "{name:?}\n{text}");
        assert_eq!(sizes(&text), 1, "{name:?}");
        assert!(!begins_at_toe(&text), "{name:?}");
        let told = text.lines().next().expect("a line").contains(name);
        assert_eq!(told, !name.contains('\n'), "{name:?}");
    }
}

/// A sock by her own pattern is written down as she typed it; one that is mixed with ours stitch by stitch.
#[test]
fn a_pattern_of_her_own_is_written_as_it_was_typed() {
    let (mut mixed, mut own_words) = (0, 0);
    for (name, text) in socks() {
        for needles in Method::ALL {
            let mut recipe = by_pattern(&text, needles);
            let plan = sock::make(&recipe).expect(name);
            assert_eq!(written(&plan, Some(name)), Ok(text.clone()));
            if let Some(written) = &mut recipe.written {
                written.ours = vec![SockPart::Heel];
            }
            let plan = sock::make(&recipe).expect(name);
            let text = written(&plan, Some(name)).expect(name);
            assert!(reads_back(&plan, &text), "{name}, {needles:?}\n{text}");
            mixed += 1;
        }
        // A line that cannot be read has no stitches to be written down.
        let mut recipe = by_pattern(
            &text.replacen("Rnd", "Rnd 1: Wobble.\nRnd", 1),
            Method::default(),
        );
        if let Some(written) = &mut recipe.written {
            written.ours = vec![SockPart::Heel];
        }
        if let Ok(plan) = sock::make(&recipe) {
            assert_eq!(
                written(&plan, Some(name)),
                Err(NotWritten::OwnWords),
                "{name}"
            );
            own_words += 1;
        }
    }
    assert!(mixed > 12 && own_words > 0, "{mixed}, {own_words}");
}

/// One that is longer than a pattern may be is refused with its length.
#[test]
fn what_is_too_long_is_not_written_down() {
    let mut seed = 1_u32;
    let mut stitch = || {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        if seed >> 31 == 0 { "k1" } else { "p1" }
    };
    let mut row = || {
        let words: Vec<&str> = (0..24).map(|_| stitch()).collect();
        format!("\"{}\"", words.join(" "))
    };
    let rows: Vec<String> = (0..48).map(|_| row()).collect();
    let recipe = format!(
        r#"{{"foot":{{"length":2600}},"swatch":{{"stitches":30,"width":1000,"rounds":60,"height":1000}},"stitches":96,"leg":3000,"motif":{{"rows":[{}],"place":"all-round"}}}}"#,
        rows.join(",")
    );
    let plan = make(&read_recipe(&recipe).expect("a recipe")).expect("a sock");
    let refused = written(&plan, None);
    assert!(
        matches!(refused, Err(NotWritten::TooLong { characters, most: 12_000 }) if characters > 12_000),
        "{refused:?}"
    );
}
