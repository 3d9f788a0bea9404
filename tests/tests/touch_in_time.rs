//! What a touch of the pad costs the page: where the words are others than ever before, room is looked for, and that
//! must not keep the answer waiting. Reckoned in the time that the page's own thread worked, so that what else the machine
//! does hardly counts; and words that are met for the first time beside those of a plain round, so that it does not
//! matter how fast the machine is.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::Duration;

use evenloop_engine::plan::SectionKind;
use evenloop_engine::trace::Position;
use evenloop_tests::laid::{begun_at, find, lay_out, phone_at, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::json;

/// By then everything that a touch asks for is done, and nothing that is made at rest has begun.
const QUIET: Duration = Duration::from_millis(500);
/// Touches of each kind.
const TOUCHES: usize = 20;
/// The most that seven of ten touches with other words may cost beside one of a plain round. Measured: 2.1. A plain round
/// puts only the groups of the picture into the page anew; before it did, this was 1.2, and 2.3 when every step of making
/// room was tried in turn with each text that differed in a figure.
const BESIDE_PLAIN: f64 = 2.7;
/// The most that looking styles up and laying out may take for one touch, in milliseconds. Measured: 14.
const MOST: f64 = 25.0;

/// Milliseconds that the page's thread has looked styles up and laid the page out so far.
async fn laid_out_for(phone: &Phone) -> f64 {
    let answer = phone.tools("Performance.getMetrics", json!({})).await;
    let metrics = answer["metrics"].as_array().cloned().unwrap_or_default();
    let counted = ["LayoutDuration", "RecalcStyleDuration"];
    let all = metrics
        .iter()
        .filter(|metric| counted.iter().any(|name| metric["name"] == *name));
    1_000.0
        * all
            .filter_map(|metric| metric["value"].as_f64())
            .sum::<f64>()
}

/// What each of some touches costs, the dearest last.
async fn costs(phone: &Phone) -> Vec<f64> {
    // The first one is met by a page that has not settled.
    phone.tap(".pad").await;
    let mut costs = Vec::with_capacity(TOUCHES);
    for _ in 0..TOUCHES {
        tokio::time::sleep(QUIET).await;
        let before = laid_out_for(phone).await;
        phone.tap(".pad").await;
        tokio::time::sleep(QUIET).await;
        costs.push(laid_out_for(phone).await - before);
    }
    costs.sort_by(f64::total_cmp);
    costs
}

#[tokio::test]
async fn words_that_are_new_cost_a_touch_little_more_than_those_of_a_plain_round() {
    let server = Server::start();
    let sock = usual_sock();
    let first = |wanted, nth: usize| -> Position { find(&sock, |kind, _| kind == wanted)[nth] };
    let phone = phone_at(&server, &sock, first(SectionKind::Leg, 10)).await;
    let clock = json!({ "timeDomain": "threadTicks" });
    phone.tools("Performance.enable", clock).await;
    let usual = costs(&phone).await;
    // A heel is turned and its gusset begun: other words with nearly every touch.
    lay_out(
        &phone,
        &sock,
        [&begun_at(first(SectionKind::HeelTurn, 0)), &[]],
    )
    .await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    let new = costs(&phone).await;
    let (plain, most, dearest) = (usual[TOUCHES / 2], new[TOUCHES * 7 / 10], new[TOUCHES - 1]);
    println!(
        "{plain:.1} ms for a touch of a plain round, at most {most:.1} for seven of ten with other words, \
         {dearest:.1} for the dearest"
    );
    assert!(plain > 0.0, "the browser says what it did: {usual:?}");
    assert!(most < BESIDE_PLAIN * plain, "{usual:.1?} {new:.1?}");
    assert!(dearest < MOST, "{new:.1?}");
    phone.put_away().await;
}

/// What room the words on the screen were found to have.
const ROOM: &str = "const now = document.querySelector('.now:not(.first)');
    if (!now) return '';
    return [now.dataset.fit, now.dataset.letters, now.style.getPropertyValue('--room'),
        now.hasAttribute('data-small'), now.hasAttribute('data-picture')].join(' ')";

/// Notes from here on whether room is looked for on the screen itself.
const WATCH: &str = "window.looked = 0;
    new MutationObserver((seen) => { window.looked += seen.length; })
        .observe(document.querySelector('.now:not(.first)'), { attributeFilter: ['data-looking'] })";

#[tokio::test]
async fn room_is_found_before_the_touch_and_is_that_of_the_words_themselves() {
    let server = Server::start();
    let sock = usual_sock();
    let begin = find(&sock, |kind, _| kind == SectionKind::HeelTurn)[0];
    let phone = phone_at(&server, &sock, begin).await;
    let mut looked = 0;
    for touch in 0..10 {
        // The screen is awake and has looked ahead by then.
        tokio::time::sleep(4 * QUIET).await;
        phone.ask(WATCH).await;
        let before = phone.text(".instruction").await;
        phone.tap(".pad").await;
        tokio::time::sleep(QUIET / 2).await;
        assert_ne!(phone.text(".instruction").await, before, "touch {touch}");
        looked += phone
            .ask("return window.looked")
            .await
            .as_i64()
            .unwrap_or(0);
        let found = phone.ask(ROOM).await;
        phone.reload().await;
        phone.find(".pad").await;
        // There it is looked for on the screen itself.
        let itself = format!("return (() => {{ {ROOM} }})() === {found}");
        phone.until("the same room is found", &itself).await;
    }
    assert_eq!(looked, 0, "a touch waited for room to be looked for");
    phone.put_away().await;
}
