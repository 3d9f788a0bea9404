//! A phone that dies in the middle of a burst of touches: the whole browser at once, or only the
//! pages. All that was counted is there when it is switched on again; of the very last touch nobody
//! can know whether it still was one.
//!
//! `EVENLOOP_KILLS=50` kills the browser so many times; `EVENLOOP_NO_ECHO=1` shows what the browser's
//! own storage loses when nothing echoes it.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::Duration;

use evenloop_engine::plan::{Plan, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::trace::Position;
use evenloop_engine::units::Length;
use evenloop_tests::laid::{begun_at, cast_on, lay_out};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{DONE, done, go, place, touch, until_shown};

fn given(name: &str) -> Option<u32> {
    std::env::var(name)
        .ok()
        .map(|text| text.parse().expect("a number"))
}

/// A sock with a leg that outlasts every burst.
fn long_sock() -> Plan {
    make(&Recipe {
        leg: Length::cm(45),
        ..Recipe::default()
    })
    .expect("a sock")
}

/// Touches the pad and waits until that is counted.
async fn counted(phone: &Phone) -> (u64, String) {
    let before = done(phone).await;
    touch(phone).await;
    phone
        .until("the touch is counted", &format!("return {DONE} > {before}"))
        .await;
    (done(phone).await, place(phone).await)
}

/// The same so often; what was counted and shown at last.
async fn counted_often(phone: &Phone, times: u32) -> (u64, String) {
    let mut last = (0, String::new());
    for _ in 0..times {
        last = counted(phone).await;
    }
    last
}

async fn with_long_sock(server: &Server) -> Phone {
    let phone = Phone::unpack().await;
    cast_on(&phone, server).await;
    let begun = begun_at(Position { step: 2, mv: 0 });
    lay_out(&phone, &long_sock(), [&begun, &[]]).await;
    phone.open(&server.url("/now")).await;
    phone
}

/// Puts away what was laid out past the app: a browser that is closed writes everything.
async fn close_and_open(phone: Phone, server: &Server) -> Phone {
    let phone = Phone::switched_on(phone.close().await).await;
    phone.open(&server.url("/now")).await;
    phone
}

#[tokio::test]
async fn a_browser_killed_in_a_burst_of_touches_loses_the_last_one_at_most() {
    let server = Server::start();
    let mut phone = close_and_open(with_long_sock(&server).await, &server).await;
    let kills = given("EVENLOOP_KILLS").unwrap_or(1);
    let silent = given("EVENLOOP_NO_ECHO").is_some();
    let mut gone = Vec::new();
    for kill in 0..kills {
        if silent {
            phone.ask("evenloopEcho.put = () => {}").await;
        }
        phone.find(".pad").await;
        let mut last = (0, String::new());
        for _ in 0..2 + kill % 4 {
            last = counted(&phone).await;
        }
        phone.tap(".pad").await;
        tokio::time::sleep(Duration::from_millis(u64::from(kill * 13 % 60))).await;
        phone = Phone::switched_on(phone.kill()).await;
        phone.open(&server.url("/now")).await;
        phone.find(".pad").await;
        let there = done(&phone).await;
        let (before, shown) = last;
        if there == before {
            assert_eq!(place(&phone).await, shown);
        }
        gone.push(before + 1 - there);
    }
    println!("touches lost at each of {kills} kills: {gone:?}");
    assert!(gone.iter().all(|lost| (0..=1).contains(lost)) || silent);
    phone.put_away().await;
}

#[tokio::test]
async fn a_pair_that_was_just_cast_on_outlives_a_killed_browser() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let (_, shown) = counted(&phone).await;
    let phone = Phone::switched_on(phone.kill()).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    assert_eq!(place(&phone).await, shown);
    phone.open(&server.url("/")).await;
    phone.find(".card").await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_page_that_crashes_in_a_burst_of_touches_loses_nothing() {
    let server = Server::start();
    let phone = with_long_sock(&server).await;
    let knitting = phone.window().await;
    let other = phone.open_window().await;
    phone.look_at(&knitting).await;
    let last = counted_often(&phone, 3).await;
    phone.crash_page().await;
    phone.look_at(&other).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    assert_eq!((done(&phone).await, place(&phone).await), last);
    phone.put_away().await;
}

/// As when the browser's storage process ends: every use of an open connection is refused.
const LOSE_CONNECTION: &str = "IDBDatabase.prototype.transaction = () => {
    throw new DOMException('The database connection is closing.', 'InvalidStateError');
}";

#[tokio::test]
async fn a_lost_connection_brings_no_older_round_back() {
    let server = Server::start();
    let phone = close_and_open(with_long_sock(&server).await, &server).await;
    phone.find(".pad").await;
    let last = counted_often(&phone, 3).await;
    let phone = close_and_open(phone, &server).await;
    phone.find(".pad").await;
    assert_eq!((done(&phone).await, place(&phone).await), last);
    phone.ask(LOSE_CONNECTION).await;
    let last = counted_often(&phone, 4).await;
    let phone = close_and_open(phone, &server).await;
    phone.find(".pad").await;
    assert_eq!((done(&phone).await, place(&phone).await), last);
    phone.put_away().await;
}

/// As when the browser's own settings clear a site's storage while it is open, or only one of both stores.
const CLEAR: &str = "localStorage.clear()";

#[tokio::test]
async fn what_is_cleared_under_an_open_now_is_stored_again() {
    let server = Server::start();
    let phone = close_and_open(with_long_sock(&server).await, &server).await;
    phone.find(".pad").await;
    let (before, _) = counted_often(&phone, 3).await;
    // By then the second copy has all.
    tokio::time::sleep(Duration::from_secs(7)).await;
    let stored = "return Object.keys(localStorage)
        .filter((key) => key.startsWith('evenloop:') && key !== 'evenloop:number').sort()";
    let keys = phone.ask(stored).await;
    phone.ask(CLEAR).await;
    let last = counted_often(&phone, 2).await;
    assert_eq!(last.0, before + 2);
    until_shown(&phone, ".notes .recovered", "was cleared while this page").await;
    assert_eq!(
        phone
            .ask("return document.querySelectorAll('.notes .notice').length")
            .await,
        1,
        "no other cause is told"
    );
    phone
        .until(
            "all that was stored is there again",
            &format!(
                "const there = (() => {{ {stored} }})(); return {keys}.every((key) => there.includes(key))"
            ),
        )
        .await;
    phone.tap(".noted > .button").await;
    phone.tap(".recovered .button").await;
    let phone = Phone::switched_on(phone.kill()).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    assert_eq!((done(&phone).await, place(&phone).await), last);
    phone.put_away().await;
}

#[tokio::test]
async fn what_is_cleared_without_a_second_copy_is_stored_again_from_the_page() {
    let server = Server::start();
    let phone = close_and_open(with_long_sock(&server).await, &server).await;
    phone.find(".pad").await;
    counted_often(&phone, 2).await;
    phone.ask(LOSE_CONNECTION).await;
    phone.ask(CLEAR).await;
    let last = counted_often(&phone, 2).await;
    let phone = close_and_open(phone, &server).await;
    phone.find(".pad").await;
    assert_eq!((done(&phone).await, place(&phone).await), last);
    phone.put_away().await;
}

#[tokio::test]
async fn what_is_put_back_at_the_start_is_said_until_it_was_seen() {
    let server = Server::start();
    let phone = close_and_open(with_long_sock(&server).await, &server).await;
    phone.find(".pad").await;
    counted_often(&phone, 3).await;
    tokio::time::sleep(Duration::from_secs(7)).await;
    phone.ask(CLEAR).await;
    phone.open(&server.url("/")).await;
    until_shown(&phone, ".recovered", "Something of one pair was missing").await;
    go(&phone, "/now").await;
    until_shown(&phone, ".notes .recovered", "put back from the second copy").await;
    phone.tap(".noted > .button").await;
    phone.tap(".recovered .button").await;
    go(&phone, "/").await;
    phone.find(".card").await;
    assert_eq!(
        phone
            .ask("return document.querySelector('.recovered')")
            .await,
        serde_json::Value::Null
    );
    phone.put_away().await;
}

#[tokio::test]
async fn what_belongs_to_no_pair_is_set_aside_whichever_page_is_opened() {
    let server = Server::start();
    let phone = close_and_open(with_long_sock(&server).await, &server).await;
    phone.find(".pad").await;
    // A log without a pair, as an Evenloop without commit records could leave it.
    phone
        .ask(
            "localStorage.setItem('evenloop:pair:0-00000000:log:1:0', '1 0 00000000 b1000');
             evenloopEcho.put('evenloop:pair:0-00000000:log:1:0', '1 0 00000000 b1000', false)",
        )
        .await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    phone
        .until(
            "it is set aside",
            "return localStorage.getItem('evenloop:pair:0-00000000:log:1:0') === null
                 && Object.keys(localStorage).includes('evenloop:aside:1:evenloop:pair:0-00000000:log:1:0')",
        )
        .await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_wiped_local_storage_comes_back_whole() {
    let server = Server::start();
    let phone = close_and_open(with_long_sock(&server).await, &server).await;
    phone.find(".pad").await;
    let last = counted_often(&phone, 3).await;
    // What was laid out past the app reaches the second copy when the copies are compared.
    tokio::time::sleep(Duration::from_secs(7)).await;
    phone.ask("localStorage.clear()").await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    assert_eq!((done(&phone).await, place(&phone).await), last);
    phone.put_away().await;
}
