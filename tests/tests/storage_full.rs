//! A phone without room, and one that stores nothing: counting goes on, it is said kindly, and what
//! was done meanwhile is stored once there is room.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::Duration;

use evenloop_engine::journal::{CHUNK_EVENTS, Event};
use evenloop_engine::plan::SectionKind;
use evenloop_tests::laid::{
    THEN, begun_at, cast_on, fill_in, find, lay_out, touch_cast_on, usual_sock,
};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{backup, bring, done, go, place, touch, until_place, until_shown};

/// Fills the storage until so many characters are left.
async fn fill(phone: &Phone, left: usize) {
    let script = format!(
        "localStorage.removeItem('filler');
         let many = 0;
         for (let step = 1 << 23; step >= 1; step >>= 1) {{
             try {{
                 localStorage.setItem('filler', 'x'.repeat(many + step));
                 many += step;
             }} catch {{}}
         }}
         localStorage.setItem('filler', 'x'.repeat(Math.max(0, many - {left})));"
    );
    phone.ask(&script).await;
}

async fn make_room(phone: &Phone) {
    phone.ask("localStorage.removeItem('filler')").await;
}

const NO_ROOM: &str = "The device has no room left";

async fn phone_with_a_pair(server: &Server) -> Phone {
    let phone = Phone::unpack().await;
    cast_on(&phone, server).await;
    phone
}

/// Opens Now in the leg, with a log of so many events.
async fn lay_in_the_leg(phone: &Phone, server: &Server, events: usize) {
    let plan = usual_sock();
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[9];
    let mut log = begun_at(leg).to_vec();
    // Not knitted, but noted: the place stays.
    log.extend((2..events as u64).map(|i| Event::Weighed(THEN + 60 + i, leg, Some(500))));
    lay_out(phone, &plan, [&log, &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
}

#[tokio::test]
async fn touches_without_room_are_kept_through_every_screen_and_stored_when_there_is_room() {
    let server = Server::start();
    let phone = phone_with_a_pair(&server).await;
    for (left, begun) in [(0, 10), (11, CHUNK_EVENTS - 1)] {
        lay_in_the_leg(&phone, &server, begun).await;
        touch(&phone).await;
        fill(&phone, left).await;
        for _ in 0..4 {
            touch(&phone).await;
        }
        until_shown(&phone, ".notice", NO_ROOM).await;
        until_place(&phone, "Round 15 of").await;
        assert!(done(&phone).await < 5, "there is no room");

        // Away and back: it is still counted, and still said.
        go(&phone, "/keep").await;
        phone.find(".settings").await;
        go(&phone, "/now").await;
        phone.find(".pad").await;
        until_place(&phone, "Round 15 of").await;
        until_shown(&phone, ".notice", NO_ROOM).await;

        // Closed and opened: likewise.
        phone.reload().await;
        phone.find(".pad").await;
        until_place(&phone, "Round 15 of").await;
        until_shown(&phone, ".notice", NO_ROOM).await;

        make_room(&phone).await;
        touch(&phone).await;
        phone
            .until(
                "there is nothing to complain of",
                "return !document.querySelector('.notice')",
            )
            .await;
        until_place(&phone, "Round 16 of").await;
        assert_eq!(done(&phone).await, 6);
        phone.reload().await;
        phone.find(".pad").await;
        until_place(&phone, "Round 16 of").await;
    }
    phone.put_away().await;
}

#[tokio::test]
async fn without_room_a_backup_has_every_touch_and_nothing_else_is_lost() {
    let server = Server::start();
    let phone = phone_with_a_pair(&server).await;
    lay_in_the_leg(&phone, &server, 10).await;
    phone.ask("evenloopEcho.put = () => {}").await;
    fill(&phone, 0).await;
    touch(&phone).await;
    // A note likewise.
    phone.tap(".to-pause").await;
    phone.tap(".entries .entry:nth-of-type(3)").await;
    let area = phone.find("#note").await;
    area.send_keys("no room for this")
        .await
        .expect("it can be written in");
    phone.tap(".pane .button.lead").await;
    until_shown(&phone, ".instruction .remark", "no room for this").await;
    until_shown(&phone, ".notice", NO_ROOM).await;

    go(&phone, "/keep").await;
    let saved = backup(&phone).await;
    assert!(saved.contains("no room for this"), "the backup has it");

    // A setting holds for this page and says that it is not stored.
    phone
        .ask("document.querySelectorAll('[name=theme]')[1].click()")
        .await;
    until_shown(
        &phone,
        ".notice, .error, [role=alert], p",
        "did not store that",
    )
    .await;
    // A backup that brings more than there is room for stops and says so; the pair stays.
    let said = bring(&phone, &saved.replace("evenloop:pair:", "evenloop:pair:z")).await;
    assert!(said.contains("no room left on this device"), "{said}");

    // Casting on is refused, and the form stays as it is.
    go(&phone, "/measure").await;
    fill_in(&phone).await;
    phone.write("#leg", "17").await;
    phone.tap(".at-hand button").await;
    until_shown(&phone, ".notice", "room").await;
    assert_eq!(phone.ask("return location.pathname").await, "/measure");
    assert_eq!(
        phone
            .ask("return document.querySelector('#leg').value")
            .await,
        "17"
    );

    go(&phone, "/").await;
    phone
        .until(
            "one pair is there",
            "return document.querySelectorAll('.card').length === 1",
        )
        .await;
    until_shown(&phone, ".notice", "room").await;
    make_room(&phone).await;
    go(&phone, "/measure").await;
    fill_in(&phone).await;
    touch_cast_on(&phone).await;
    phone.put_away().await;
}

#[tokio::test]
async fn where_storage_is_denied_the_app_works_and_says_that_it_forgets() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone
        .at_every_start(
            "for (const name of ['localStorage', 'indexedDB']) Object.defineProperty(window, name, {
                 get() { throw new DOMException('denied', 'SecurityError'); },
             })",
        )
        .await;
    phone.open(&server.url("/")).await;
    until_shown(&phone, ".notice", "stores nothing").await;
    go(&phone, "/measure").await;
    fill_in(&phone).await;
    touch_cast_on(&phone).await;
    let before = place(&phone).await;
    touch(&phone).await;
    let after = place(&phone).await;
    assert_ne!(before, after);
    for path in ["/", "/map", "/keep", "/now"] {
        go(&phone, path).await;
    }
    phone.find(".pad").await;
    assert_eq!(place(&phone).await, after, "it is kept as long as the page");
    // Opened anew it has no pair, and what keeps the second copy is fetched once.
    phone.open(&server.url("/now")).await;
    tokio::time::sleep(Duration::from_secs(4)).await;
    let fetched = "return performance.getEntriesByType('resource').filter(({ name }) => name.includes('/echo.')).length";
    assert_eq!(phone.ask(fetched).await, 1);
    phone.put_away().await;
}
