//! A begun sock whose rest is changed: other needles, a longer foot, a heel chosen late. What is
//! knitted stays, and so does the place in it.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::plan::{SectionKind, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::swatch::{FirstGuess, Swatch};
use evenloop_engine::trace::Trace;
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out, phone_at, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{ask_for_more_rounds, open_change};

async fn knit_on_like_this(phone: &Phone) {
    phone.tap(".at-hand .button.lead").await;
    phone
        .until("Now is open", "return location.pathname === '/now'")
        .await;
    phone.find(".pad").await;
}

#[tokio::test]
async fn a_longer_foot_and_other_needles_from_here_on() {
    let server = Server::start();
    let plan = usual_sock();
    let at = find(&plan, |kind, _| kind == SectionKind::Gusset)[4];
    let phone = phone_at(&server, &plan, at).await;
    let before = phone.text(".now-head .where").await;

    open_change(&phone).await;
    let said = phone.text(".beside").await;
    assert!(said.contains("Nothing is different yet"), "{said}");
    // a leg that is knitted cannot lose rounds
    let least = phone
        .ask("return Number(document.querySelector('#rounds-leg').min)")
        .await;
    assert!(least.as_u64().is_some_and(|n| n > 20), "{least}");

    ask_for_more_rounds(&phone, "Foot", 3).await;
    let said = phone.text(".beside").await;
    assert!(said.contains("The foot comes to"), "{said}");

    knit_on_like_this(&phone).await;
    let after = phone.text(".now-head .where").await;
    assert_eq!(before, after, "the place in the sock stays");

    phone.reload().await;
    phone.find(".pad").await;
    open_change(&phone).await;
    let rounds = phone
        .ask("return Number(document.querySelector('#rounds-foot').value)")
        .await;
    let planned = plan
        .sections
        .iter()
        .find(|s| s.kind == SectionKind::Foot)
        .map(evenloop_engine::plan::Section::counted);
    assert_eq!(
        rounds.as_u64().map(|n| n - 3),
        planned.and_then(|n| u64::try_from(n).ok()),
        "the change was kept"
    );
    assert!(phone.complaints().await.is_empty());
    phone.put_away().await;
}

#[tokio::test]
async fn a_longer_leg_of_the_second_sock_alone() {
    let server = Server::start();
    let plan = usual_sock();
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[4];
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let end = Trace::of(&plan).expect("the plan can be knitted").end();
    lay_out(&phone, &plan, [&begun_at(end), &begun_at(leg)]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    let before = phone.text(".now-head .where").await;

    open_change(&phone).await;
    ask_for_more_rounds(&phone, "Leg", 1).await;
    knit_on_like_this(&phone).await;
    let after = phone.text(".now-head .where").await;
    let number = |said: &str| -> Vec<u32> {
        let parts = said.split(|c: char| !c.is_ascii_digit());
        parts.filter_map(|part| part.parse().ok()).collect()
    };
    let (before, after) = (number(&before), number(&after));
    assert_eq!(before.len(), 2, "round of rounds: {before:?}");
    assert_eq!(after, [before[0], before[1] + 1], "the leg alone is longer");
    let stored = phone
        .ask(
            "return Object.keys(localStorage).filter(key => /:plan(:\\d)?$/.test(key)).map(key => key.replace(/.*:plan/, 'plan')).sort()",
        )
        .await;
    assert_eq!(
        stored,
        serde_json::json!(["plan", "plan:2"]),
        "the first sock keeps its own"
    );
    assert!(phone.complaints().await.is_empty());
    phone.put_away().await;
}

/// A gauge that was guessed is asked for where there is enough of the leg to measure it, and what was measured
/// takes its place.
#[tokio::test]
async fn a_guess_gives_way_to_what_is_measured_in_the_leg() {
    let server = Server::start();
    let guessed = Recipe {
        swatch: FirstGuess::default().swatch(Swatch::default()),
        ..Recipe::default()
    };
    let plan = make(&guessed).expect("a sock");
    // 22 rounds are 5 cm by the guess
    let at = find(&plan, |kind, _| kind == SectionKind::Leg)[22];
    let phone = phone_at(&server, &plan, at).await;
    let before = phone.text(".now-head .count").await;
    let said = phone.text(".instruction .note").await;
    assert!(said.starts_with("Measure now"), "{said}");
    assert!(said.contains("the 22 rounds of the leg about 5"), "{said}");

    phone.tap(".instruction a.change").await;
    phone
        .until(
            "the sock stands in the form, as a guess",
            "return document.querySelector('#rounds-foot') !== null
                 && document.querySelector('.measure').textContent.includes('was a first guess')",
        )
        .await;
    phone
        .ask("document.querySelector('input[name=gauge-by]').click()")
        .await;
    for (id, text) in [
        ("swatch-stitches", "31"),
        ("swatch-width", "10"),
        ("swatch-rounds", "22"),
        ("swatch-height", "5.5"),
    ] {
        phone.write(&format!("#{id}"), text).await;
    }
    phone
        .until(
            "the leg has fewer rounds",
            "return /Leg: \\d+ rounds instead of \\d+/.test(document.querySelector('.beside').textContent)",
        )
        .await;
    knit_on_like_this(&phone).await;
    let after = phone.text(".now-head .count").await;
    let begins = |said: &str| said.split(" of ").next().map(str::to_owned);
    assert_eq!(begins(&before), begins(&after), "the place stays");
    assert_ne!(before, after, "the leg is another");
    let said = phone.text(".instruction").await;
    assert!(!said.contains("guess"), "{said}");
    phone.put_away().await;
}

#[tokio::test]
async fn a_sock_that_is_not_there_is_said_kindly() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/measure?change=none")).await;
    phone
        .until(
            "it is said",
            "return document.querySelector('main').textContent.includes('could not be opened for a change')",
        )
        .await;
    phone.put_away().await;
}
