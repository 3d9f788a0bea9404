//! The same sock in two and three windows, and a clock that is set back and forth.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::plan::SectionKind;
use evenloop_tests::laid::{find, phone_at, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{
    ask_for_more_rounds, done, go, open_change, touch, until_place, until_shown,
};

async fn phone_in_the_leg(server: &Server) -> Phone {
    let plan = usual_sock();
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[9];
    let phone = phone_at(server, &plan, leg).await;
    until_place(&phone, "Round 10 of").await;
    phone
}

#[tokio::test]
async fn three_windows_count_one_sock_together() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;
    let mut windows = vec![phone.window().await];
    for path in ["/now", "/map"] {
        windows.push(phone.open_window().await);
        phone.open(&server.url(path)).await;
    }
    // By turns: each goes on from where the other is.
    for round in 0..4 {
        phone.look_at(&windows[round % 2]).await;
        until_place(&phone, &format!("Round {} of", 10 + round)).await;
        touch(&phone).await;
        until_place(&phone, &format!("Round {} of", 11 + round)).await;
    }
    assert_eq!(done(&phone).await, 4);
    // A third one that showed the map takes up the same sock.
    phone.look_at(&windows[2]).await;
    go(&phone, "/now").await;
    until_place(&phone, "Round 14 of").await;
    // Both touch before either can have heard of the other: nothing is lost, nothing counted twice.
    let at_once = "document.querySelector('.pad').click()";
    for window in &windows {
        phone.look_at(window).await;
        phone.ask(at_once).await;
    }
    for window in &windows {
        phone.look_at(window).await;
        until_place(&phone, "Round 17 of").await;
        let trouble = phone
            .ask("return document.querySelector('.now .notice')")
            .await;
        assert!(trouble.is_null(), "{trouble}");
    }
    assert_eq!(done(&phone).await, 7);
    // Undone in one, undone in all.
    phone.tap(".undo").await;
    phone.look_at(&windows[0]).await;
    until_place(&phone, "Round 16 of").await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_pair_taken_out_in_another_window_is_said_and_does_not_come_back() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;
    let first = phone.window().await;
    phone.open_window().await;
    phone.open(&server.url("/")).await;
    phone.tap(".card .more summary").await;
    phone.tap(".card .button.wrong").await;
    phone.find(".taken-out").await;
    phone.look_at(&first).await;
    let out = "return localStorage.getItem('evenloop:out') !== null";
    phone.until("this window has heard of it", out).await;
    let before = done(&phone).await;
    touch(&phone).await;
    until_shown(
        &phone,
        ".notice",
        "taken out of the basket in another window",
    )
    .await;
    until_place(&phone, "Round 11 of").await;
    assert_eq!(
        done(&phone).await,
        before,
        "nothing is written beside the basket"
    );
    assert_eq!(phone.ask(out).await, true);
    phone.put_away().await;
}

/// What the app knits each sock by, and its log.
const PLANS_AND_LOG: &str = "return Object.entries({ ...localStorage })
    .filter(([key]) => /^evenloop:pair:[^:]*:(plan|log)/.test(key)).sort()";

#[tokio::test]
async fn a_plan_made_for_another_place_is_asked_again() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;
    let first = phone.window().await;
    // A foot that is longer, asked for and not taken up yet.
    open_change(&phone).await;
    ask_for_more_rounds(&phone, "Foot", 1).await;
    // Meanwhile the sock is knitted on in another window.
    let other = phone.open_window().await;
    phone.open(&server.url("/now")).await;
    until_place(&phone, "Round 10 of").await;
    touch(&phone).await;
    until_place(&phone, "Round 11 of").await;
    let before = phone.ask(PLANS_AND_LOG).await;
    phone.look_at(&first).await;
    phone.tap(".at-hand .button.lead").await;
    until_shown(&phone, ".at-hand", "has moved on in another window").await;
    let after = phone.ask(PLANS_AND_LOG).await;
    assert_eq!(after, before, "nothing was changed");
    // Asked again for where the sock is now, it is taken up.
    phone.tap(".at-hand .button.lead").await;
    until_place(&phone, "Round 11 of").await;
    assert_ne!(phone.ask(PLANS_AND_LOG).await, before);
    phone.look_at(&other).await;
    until_place(&phone, "Round 11 of").await;
    let trouble = phone.ask("return document.querySelector('.now .notice')");
    assert!(trouble.await.is_null());
    phone.put_away().await;
}

#[tokio::test]
async fn a_clock_set_back_or_far_ahead_loses_no_touch() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;
    let mut round = 10;
    for hours in [-24 * 365 * 40, 24 * 365 * 30, 0] {
        let shift = format!(
            "window.honest ??= Date.now;
             Date.now = () => window.honest() + {hours} * 3600000;"
        );
        phone.ask(&shift).await;
        // The first touch in the past must not be taken for the second half of a double one.
        for _ in 0..2 {
            touch(&phone).await;
            round += 1;
            until_place(&phone, &format!("Round {round} of")).await;
        }
        phone.reload().await;
        until_place(&phone, &format!("Round {round} of")).await;
        go(&phone, "/map").await;
        phone.find("main h1").await;
        go(&phone, "/now").await;
        phone.find(".pad").await;
    }
    assert_eq!(done(&phone).await, 6);
    phone.put_away().await;
}
