//! A touch a needle: which needle is on is shown and taken back, the rounds count as ever, half a round is found by
//! its count, and two socks at a time are worked so too.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::journal::Event;
use evenloop_engine::plan::{Plan, SectionKind, make};
use evenloop_engine::recipe::{Method, Recipe, Seating};
use evenloop_engine::trace::Position;
use evenloop_tests::laid::{THEN, begun_at, cast_on, find, lay_out, phone_at, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{done, put, touch, until_place, until_shown};
use serde_json::{Value, json};
use thirtyfour::Key;

/// Which needles are marked done and which as the one that is on, in their order.
const MARKS: &str = "
    return [...document.querySelectorAll('.instruction .needle')]
        .map((one) => one.classList.contains('done') ? 'done' : one.classList.contains('on') ? 'on' : '')";

async fn until_marks(phone: &Phone, marks: Value) {
    let marked =
        format!("return JSON.stringify((() => {{ {MARKS} }})()) === JSON.stringify({marks})");
    phone.until(&marks.to_string(), &marked).await;
}

/// Switches a touch a needle on, as Settings does.
async fn by_needle(phone: &Phone, server: &Server) {
    phone.open(&server.url("/keep")).await;
    phone.tap("label:has([name='needle'])").await;
    phone
        .until(
            "it is stored",
            "return JSON.parse(localStorage.getItem('evenloop:settings') ?? '{}').by_needle === true",
        )
        .await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
}

fn gusset(plan: &Plan) -> Position {
    find(plan, |kind, _| kind == SectionKind::Gusset)[0]
}

#[tokio::test]
async fn a_touch_a_needle_shows_which_is_on_and_counts_the_same_rounds() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = phone_at(&server, &plan, gusset(&plan)).await;
    until_marks(&phone, json!(["", ""])).await;
    by_needle(&phone, &server).await;
    let before = done(&phone).await;
    until_marks(&phone, json!(["on", ""])).await;
    until_shown(&phone, ".pad .label", "touch after needle 1").await;
    touch(&phone).await;
    until_marks(&phone, json!(["done", "on"])).await;
    until_shown(&phone, ".pad .label", "touch after the round").await;
    until_place(&phone, "Round 1 of").await;
    assert_eq!(done(&phone).await, before, "half a round is no round");
    touch(&phone).await;
    until_place(&phone, "Round 2 of").await;
    assert_eq!(done(&phone).await, before + 1);
    // Undo takes the second needle back, then the first.
    phone.tap(".undo").await;
    until_place(&phone, "Round 1 of").await;
    until_marks(&phone, json!(["done", "on"])).await;
    // It is there when the work is taken up again.
    phone.reload().await;
    until_marks(&phone, json!(["done", "on"])).await;
    tokio::time::sleep(evenloop_tests::touching::BOUNCE).await;
    phone.tap(".undo").await;
    until_marks(&phone, json!(["on", ""])).await;
    phone.put_away().await;
}

/// Types a count into a check.
async fn count(phone: &Phone, css: &str, stitches: &str) {
    let line = phone.find(css).await;
    let chosen = line.send_keys(Key::Control + "a").await;
    chosen.expect("all of it is chosen");
    let typed = line.send_keys(stitches).await;
    typed.expect("it can be typed into");
}

#[tokio::test]
async fn half_a_round_is_named_first_and_gone_to() {
    let server = Server::start();
    let plan = usual_sock();
    // 42 and 42 before the round, 41 and 42 after its needle 1
    let phone = phone_at(&server, &plan, gusset(&plan)).await;
    for (check, number, needle) in [("count", 1, "#count-0"), ("lost", 2, "#lost-0")] {
        phone.tap(".to-pause").await;
        phone
            .tap(&format!(".entries .entry:nth-of-type({number})"))
            .await;
        phone.find(".steppers").await;
        count(&phone, needle, "41").await;
        let first = if check == "count" {
            ".findings .notice:first-child strong"
        } else {
            ".stretches .stretch:first-child"
        };
        until_shown(&phone, first, "Needle 1 of round 1 of the gusset is done.").await;
        let go = if check == "count" {
            ".findings .button.lead"
        } else {
            ".stretches .stretch .button.lead"
        };
        phone.tap(go).await;
        until_marks(&phone, json!(["done", "on"])).await;
        until_place(&phone, "Round 1 of").await;
        phone.tap(".undo").await;
        until_marks(&phone, json!(["", ""])).await;
        tokio::time::sleep(evenloop_tests::touching::BOUNCE).await;
    }
    phone.put_away().await;
}

#[tokio::test]
async fn two_at_a_time_work_a_needle_of_both() {
    let server = Server::start();
    let plan = make(&Recipe {
        needles: Method::MagicLoop {
            seating: Seating::InstepAndSole,
        },
        stitches: Some(64),
        ..Recipe::default()
    })
    .expect("a sock");
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[3];
    let first = [
        Event::Begin(THEN),
        Event::Together(THEN, true),
        Event::GoTo(THEN + 60, leg),
    ];
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    lay_out(&phone, &plan, [&first, &begun_at(leg)]).await;
    put(&phone, "evenloop:settings", r#"{"by_needle":true}"#).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    let on = |nth: usize| {
        format!(
            "return document.querySelectorAll('.instruction .needle')[{nth}].classList.contains('on')"
        )
    };
    phone.until("needle 1 is on", &on(0)).await;
    touch(&phone).await;
    phone.until("needle 2 is on", &on(1)).await;
    until_shown(&phone, ".pad .of", "Both socks").await;
    until_place(&phone, "Round 4 of").await;
    touch(&phone).await;
    until_place(&phone, "Round 5 of").await;
    let logs = phone
        .ask(
            "return [1, 2].map((sock) => Object.entries({ ...localStorage })
                .filter(([key]) => key.includes(`:log:${sock}:`))
                .map(([, text]) => text.replace(/[0-9]/g, '')).join())",
        )
        .await;
    for log in logs.as_array().expect("two logs") {
        let log = log.as_str().expect("text");
        assert_eq!(log.matches(",m").count(), 1, "{log}");
        assert_eq!(log.matches(",d").count(), 1, "{log}");
    }
    phone.put_away().await;
}
