//! The tiny sock to try things out: offered to whoever is new, knitted touch by touch, thrown away.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::collections::BTreeSet;

use evenloop_engine::plan::{SectionKind, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::trace::Trace;
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out};
use evenloop_tests::phone::Phone;
use evenloop_tests::room_on_now::{cut_off_for_good, resize};
use evenloop_tests::server::Server;
use evenloop_tests::touching::{go, touch, until_shown};
use serde_json::{Value, json};

/// Where it is, and what is said there.
const PLACE: &str = "return [document.querySelector('.now-head .where')?.textContent ?? '',
    document.querySelector('.practice p').textContent,
    document.querySelector('.finished') !== null]";

/// Every key of a pair, and the pair in hand.
const STORED: &str = "return Object.entries(localStorage)
    .filter(([key]) => key.startsWith('evenloop:pair:') || key === 'evenloop:current').sort()";

/// It is neither offered nor in the basket any more.
async fn until_silent(phone: &Phone) {
    let told = "[...document.querySelectorAll('.basket .notice')].some((one) => /tiny sock/.test(one.textContent))";
    let silent =
        format!("return document.querySelector('.card, .basket .empty') !== null && !{told}");
    phone.until("nothing is said of it", &silent).await;
}

#[tokio::test]
async fn the_tiny_sock_is_knitted_in_a_minute_and_thrown_away() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/")).await;
    phone
        .ask("localStorage.setItem('evenloop:told', '1')")
        .await;
    phone.tap(".basket .notice .button.lead").await;
    phone.find(".practice").await;
    // One sock is enough to try things out.
    let both = "[...document.querySelectorAll('.now .offer, .entries .name')]
        .map((one) => one.textContent)";
    assert_eq!(phone.ask(&format!("return {both}")).await, json!([]));
    phone.tap(".to-pause").await;
    phone.find(".entries .entry").await;
    let entries = phone.ask(&format!("return {both}")).await;
    assert_eq!(entries.as_array().map(Vec::len), Some(6), "{entries}");
    assert!(!entries.to_string().contains("Two at a time"), "{entries}");
    phone.tap(".pane-foot .button").await;
    let closed = "return document.querySelector('dialog[open]') === null";
    phone.until("the needles are in hand again", closed).await;
    let (mut touches, mut words, mut sections) = (0, 0, BTreeSet::new());
    let mut cut = Vec::new();
    loop {
        let place = phone.ask(PLACE).await;
        if place[2] == json!(true) {
            break;
        }
        let told = place[1].as_str().expect("a sentence").to_owned();
        if sections.insert(told.clone()) {
            words += told.split_whitespace().count();
            for size in [(320, 568), (360, 640), (360, 740)] {
                resize(&phone, size).await;
                let found = cut_off_for_good(&phone).await;
                if found != json!([]) {
                    cut.push(format!("{size:?} {told}: {found}"));
                }
            }
        }
        touch(&phone).await;
        touches += 1;
        // One every second and a half.
        assert!(touches <= 44, "longer than a minute");
        let before = place[0].to_string();
        let script = format!(
            "return document.querySelector('.finished') !== null
                || document.querySelector('.now-head .where').textContent !== {before}"
        );
        phone.until("a touch is counted", &script).await;
    }
    assert_eq!(cut, Vec::<String>::new());
    assert!(touches >= 25, "{touches}");
    assert!(sections.len() >= 8, "{sections:?}");
    // What is said is read in half of that time.
    assert!(words <= 110, "{words} words");
    phone.tap(".practice .button.lead").await;
    phone
        .until(
            "measuring is next",
            "return location.pathname === '/measure'",
        )
        .await;
    assert_eq!(phone.ask(STORED).await, json!([]), "nothing of it is left");
    go(&phone, "/").await;
    until_silent(&phone).await;
    phone.put_away().await;
}

#[tokio::test]
async fn thrown_away_half_way_it_gives_the_pair_at_hand_back() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    // Settings has it for good.
    phone.open(&server.url("/keep")).await;
    let before = phone.ask(STORED).await;
    let knit = "[...document.querySelectorAll('.settings .button')]
        .find((button) => button.textContent === 'Knit the tiny sock').click()";
    phone.ask(knit).await;
    phone.find(".practice").await;
    phone.tap(".pad").await;
    // Left and taken up again, it is still the tiny sock.
    phone.reload().await;
    phone.find(".practice").await;
    go(&phone, "/").await;
    until_shown(&phone, ".basket .notice", "still in your basket").await;
    go(&phone, "/now").await;
    phone.tap(".practice .button").await;
    phone
        .until("the basket is shown", "return location.pathname === '/'")
        .await;
    until_silent(&phone).await;
    assert_eq!(phone.ask(STORED).await, before);
    go(&phone, "/now").await;
    phone.find(".pad").await;
    assert_eq!(
        phone
            .ask("return document.querySelector('.practice')")
            .await,
        Value::Null
    );
    phone.put_away().await;
}

#[tokio::test]
async fn it_is_not_offered_after_the_first_sock() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    phone.open(&server.url("/")).await;
    until_shown(&phone, ".basket .notice", "New here?").await;
    let plan = make(&Recipe::default()).expect("a sock");
    let end = Trace::of(&plan).expect("it can be knitted").end();
    let cuff = find(&plan, |kind, _| kind == SectionKind::Cuff)[0];
    lay_out(&phone, &plan, [&begun_at(end), &begun_at(cuff)]).await;
    phone.ask("localStorage.removeItem('evenloop:guide')").await;
    // What a card says of a pair is written when the pair is opened.
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    phone.open(&server.url("/")).await;
    phone.find(".card").await;
    until_silent(&phone).await;
    phone.put_away().await;
}
