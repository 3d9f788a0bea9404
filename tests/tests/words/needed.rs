//! The list of what a pair needs, read by somebody who has read the words: what they tell her to take up is on the list,
//! and what is on the list is taken up somewhere.

use evenloop_engine::materials::{Material, materials};
use evenloop_engine::needle_size::Needle;
use evenloop_engine::plan::{Plan, make};
use evenloop_engine::recipe::Method;
use evenloop_engine::text::{English, WordForm, Wording, instructions};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::write_recipe;
use evenloop_tests::model::recipes::{asked_for, seeded};

/// How many socks.
const SOCKS: usize = 400;

/// All words of a sock.
fn words(plan: &Plan, trace: &Trace) -> String {
    let wording = Wording {
        form: WordForm::Plain,
        english: English::American,
        ..Wording::default()
    };
    let mut all = String::new();
    let mut at = Position::default();
    while at < trace.end() {
        if let Some(said) = instructions(plan, trace, at, wording) {
            for line in said.lines {
                all.push_str(&line.text);
                all.push('\n');
            }
            all.push_str(&said.note.unwrap_or_default());
            all.push('\n');
        }
        at = trace.advance(at);
    }
    all
}

/// What is on the list, and by which words it is taken up.
fn named(one: Material) -> Vec<(&'static str, bool, &'static [&'static str])> {
    match one {
        Material::Yarn { .. } | Material::Needles(..) => Vec::new(),
        Material::ForTheToe => vec![("for the toe", true, FOR_THE_TOE)],
        Material::ToBindOff(_) => vec![("to bind off", true, TO_BIND_OFF)],
        Material::Markers(_) => vec![("markers", true, MARKERS)],
        Material::SafetyPin => vec![("pin", true, PIN)],
        Material::CableNeedle => vec![("cable needle", true, CABLE)],
        Material::WasteYarn { heel, cast_on } => vec![
            ("waste yarn, heel", heel, WASTE_HEEL),
            ("waste yarn, cast-on", cast_on, WASTE_CAST_ON),
        ],
        Material::CrochetHook => vec![("hook", true, HOOK)],
        Material::DarningNeedle { graft, draw, sew } => vec![
            ("graft", graft, GRAFT),
            ("draw", draw, DRAW),
            ("sew", sew, SEW),
        ],
        Material::ReinforcingThread => vec![("thread", true, THREAD)],
    }
}

const FOR_THE_TOE: &[&str] = &["long circular", "reaches round the short circular now"];
const TO_BIND_OFF: &[&str] = &["with a larger needle"];
const MARKERS: &[&str] = &["marker"];
const PIN: &[&str] = &["safety pin"];
const CABLE: &[&str] = &["cable needle"];
const WASTE_HEEL: &[&str] = &["with the waste yarn, slide them back"];
const WASTE_CAST_ON: &[&str] = &["over the needle with the waste yarn"];
const HOOK: &[&str] = &["crochet hook"];
const GRAFT: &[&str] = &["Kitchener"];
const DRAW: &[&str] = &["draw it twice through"];
const SEW: &[&str] = &[
    "Sewn bind-off",
    "Tubular bind-off",
    "Fold the hem inside along",
];
const THREAD: &[&str] = &["reinforcing thread"];

const ALL: [(&str, &[&str]); 12] = [
    ("for the toe", FOR_THE_TOE),
    ("to bind off", TO_BIND_OFF),
    ("markers", MARKERS),
    ("pin", PIN),
    ("cable needle", CABLE),
    ("waste yarn, heel", WASTE_HEEL),
    ("waste yarn, cast-on", WASTE_CAST_ON),
    ("hook", HOOK),
    ("graft", GRAFT),
    ("draw", DRAW),
    ("sew", SEW),
    ("thread", THREAD),
];

#[test]
fn what_the_words_take_up_is_on_the_list_and_nothing_else_is() {
    let many = asked_for("EVENLOOP_WORDS").unwrap_or(SOCKS);
    let plans = seeded(4 * many).filter_map(|recipe| make(&recipe).ok());
    let mut met = [[0_usize; 2]; ALL.len()];
    let mut socks = 0;
    for plan in plans.take(many) {
        socks += 1;
        let trace = Trace::of(&plan).expect("it was knitted before");
        let words = words(&plan, &trace);
        let list = materials(&plan, &trace);
        let on_list: Vec<_> = list.iter().copied().flat_map(named).collect();
        for (nth, (name, taken_up)) in ALL.iter().enumerate() {
            let listed = on_list.iter().any(|(one, used, _)| one == name && *used);
            let told = taken_up.iter().any(|words_of| words.contains(words_of));
            assert_eq!(
                listed,
                told,
                "{name}: {list:?}\n{}",
                write_recipe(&plan.recipe)
            );
            met[nth][usize::from(told)] += 1;
        }
        yarn_and_needles(&plan, &list);
    }
    assert_eq!(socks, many);
    for ((name, _), times) in ALL.iter().zip(met) {
        // a heel is in every sock
        let without = *name == "thread" || times[0] > 5;
        assert!(times[1] > 5 && without, "{name}: {times:?}");
    }
}

/// Twice what one sock takes, of each yarn; the needles first, then what is thicker than they are.
fn yarn_and_needles(plan: &Plan, list: &[Material]) {
    let outcome = &plan.outcome;
    let mut one_sock: Vec<(u32, Option<u32>)> = outcome
        .yarns
        .iter()
        .map(|one| (one.metres, one.grams))
        .collect();
    if one_sock.is_empty() {
        one_sock.push((outcome.metres, outcome.grams));
    }
    let bought = list.iter().filter_map(|one| match one {
        Material::Yarn {
            metres,
            grams,
            balls,
            ..
        } => Some((*metres, *grams, *balls)),
        _ => None,
    });
    let bought: Vec<_> = bought.collect();
    assert_eq!(bought.len(), one_sock.len());
    for ((metres, grams, balls), (one_metres, one_grams)) in bought.into_iter().zip(one_sock) {
        assert_eq!(metres, 2 * one_metres);
        assert_eq!(grams, one_grams.map(|grams| 2 * grams));
        if let (Some(balls), Some(ball)) = (balls, plan.recipe.ball) {
            assert!(balls * u32::from(ball.metres) >= metres);
            assert!((balls - 1) * u32::from(ball.metres) < metres);
        } else {
            assert_eq!(balls, None);
        }
    }
    let size = plan.recipe.swatch.needle;
    assert!(list.contains(&Material::Needles(plan.recipe.needles, size)));
    let short = matches!(plan.recipe.needles, Method::ShortCircular { .. });
    assert!(short || !list.contains(&Material::ForTheToe));
    let hundredths = |needle: Needle| needle.size().hundredths;
    for one in list {
        if let Material::ToBindOff(Some(thicker)) = one {
            assert!(size.is_some_and(|size| hundredths(size) < hundredths(*thicker)));
        }
    }
}
