//! One basket on two devices: a file carries it from one to the other and back, what each counted is put together,
//! and where both went different ways the knitter sees both places and chooses.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_tests::laid::cast_on;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{
    backup, bring, go, look_into, place, touch, until_place, until_shown,
};

/// A name as long as a device's may be, in one word and with what a page could take for its own.
const LONG: &str = "<b>Winterabendwollkorbtelefon&Nadel</b>";

async fn pairs(phone: &Phone) -> u64 {
    go(phone, "/").await;
    phone.find(".card").await;
    let found = phone.ask("return document.querySelectorAll('.card').length");
    found.await.as_u64().expect("a number")
}

/// So far the page reaches beyond the screen, in pixels.
async fn aside(phone: &Phone) -> i64 {
    let aside = phone.ask("return document.scrollingElement.scrollWidth - innerWidth");
    aside.await.as_i64().expect("a number")
}

async fn called(phone: &Phone, name: &str) {
    go(phone, "/keep").await;
    phone.write("#device-name", name).await;
    phone.tap(".this-device button").await;
    until_shown(phone, ".this-device .notice", "under this name").await;
}

async fn touches(phone: &Phone, many: usize) {
    go(phone, "/now").await;
    phone.find(".pad").await;
    for _ in 0..many {
        touch(phone).await;
    }
}

/// The round that is shown, without its section.
async fn round(phone: &Phone) -> String {
    let place = place(phone).await;
    let from = place.find("Round").expect("a round");
    place[from..].to_owned()
}

/// In Settings, what is stored as a file.
async fn saved(phone: &Phone) -> String {
    go(phone, "/keep").await;
    backup(phone).await
}

#[tokio::test]
#[allow(
    clippy::too_many_lines,
    reason = "one story of two phones, told in its order"
)]
async fn two_phones_go_on_with_what_the_other_counted_and_nothing_is_chosen_unseen() {
    let server = Server::start();
    let one = Phone::unpack().await;
    cast_on(&one, &server).await;
    called(&one, "Kitchen phone").await;
    touches(&one, 6).await;
    let first = saved(&one).await;

    // The other one begins empty, and shows what would come before it comes.
    let other = Phone::unpack().await;
    other.open(&server.url("/")).await;
    other
        .until(
            "the empty basket takes a file",
            "return document.querySelector('.empty input[type=file]') !== null
                 && document.querySelector('.unless-pairs') === null",
        )
        .await;
    look_into(&other, &first).await;
    until_shown(&other, ".bring-in", "It was saved on “Kitchen phone”").await;
    until_shown(&other, ".bring-in", "New here").await;
    assert_eq!(
        other
            .ask("return document.querySelectorAll('.card').length")
            .await,
        0,
        "nothing came yet"
    );
    other.tap(".bring-in .leave").await;
    until_shown(&other, ".notice", "Everything was left as it is").await;
    look_into(&other, &first).await;
    other.tap(".bring-in .bring").await;
    other.find(".card").await;
    called(&other, LONG).await;
    for phone in [&one, &other] {
        phone.until_offline_ready().await;
    }
    // From here on there is no signal: all of this is done by the phones alone.
    let server = server.stop();

    touches(&other, 4).await;
    let there = round(&other).await;
    let text = saved(&other).await;
    go(&one, "/keep").await;
    look_into(&one, &text).await;
    until_shown(&one, ".bring-in", "Further in the file").await;
    one.tap(".bring-in .bring").await;
    until_shown(&one, ".backup .notice", "Gone on with as in the backup").await;
    go(&one, "/now").await;
    until_place(&one, &there).await;
    // The same the other way round: there is nothing to be done.
    let text = saved(&one).await;
    go(&other, "/keep").await;
    let said = bring(&other, &text).await;
    assert!(said.contains("is here already"), "{said}");

    // Each goes on by itself.
    touches(&one, 2).await;
    touches(&other, 5).await;
    let there = round(&other).await;
    let text = saved(&other).await;
    go(&one, "/keep").await;
    look_into(&one, &text).await;
    for said in [
        "was counted on differently in two places",
        "Kitchen phone",
        LONG,
        "Last the same in both",
    ] {
        until_shown(&one, ".bring-in .parted", said).await;
    }
    assert_eq!(
        aside(&one).await,
        0,
        "long names do not push the page aside"
    );
    let small = one
        .ask(
            "return [...document.querySelectorAll('.bring-in label, .bring-in button')]
                .map((one) => Math.round(one.getBoundingClientRect().height))
                .filter((height) => height < 44)",
        )
        .await;
    assert_eq!(small, serde_json::json!([]), "room for a thumb");
    one.tap(".bring-in .parted label:nth-of-type(2)").await;
    one.tap(".bring-in .bring").await;
    until_shown(
        &one,
        ".backup .notice",
        "Not chosen, and kept in Settings as",
    )
    .await;
    go(&one, "/now").await;
    until_place(&one, &there).await;
    assert_eq!(pairs(&one).await, 1);

    // The other follows without being asked, and keeps what was not chosen.
    let text = saved(&one).await;
    go(&other, "/keep").await;
    look_into(&other, &text).await;
    bring(&other, &text).await;
    other.tap(".not-chosen summary").await;
    until_shown(&other, ".not-chosen li", "on Kitchen phone").await;
    go(&other, "/now").await;
    until_place(&other, &there).await;

    // Not chosen is not lost: it goes into the basket as a pair of its own, or is let go.
    go(&one, "/keep").await;
    one.tap(".not-chosen summary").await;
    one.tap(".not-chosen .put-in").await;
    until_shown(&one, ".backup", "as a pair of its own").await;
    assert_eq!(pairs(&one).await, 2);
    go(&other, "/keep").await;
    other.tap(".not-chosen summary").await;
    other.tap(".not-chosen .button.bare").await;
    other.tap(".not-chosen .button.wrong").await;
    until_shown(&other, ".backup", "It is gone").await;
    assert_eq!(pairs(&other).await, 1);
    drop(server);
    one.put_away().await;
    other.put_away().await;
}

#[tokio::test]
async fn both_ways_are_kept_as_two_pairs() {
    let server = Server::start();
    let one = Phone::unpack().await;
    cast_on(&one, &server).await;
    touches(&one, 3).await;
    let text = saved(&one).await;
    let other = Phone::unpack().await;
    other.open(&server.url("/keep")).await;
    bring(&other, &text).await;
    touches(&one, 1).await;
    touches(&other, 2).await;
    let (from_one, from_other) = (saved(&one).await, saved(&other).await);
    for (phone, text) in [(&one, &from_other), (&other, &from_one)] {
        look_into(phone, text).await;
        phone
            .until(
                "what loses nothing is chosen",
                "return document.querySelectorAll('.parted input')[2]?.checked === true",
            )
            .await;
        phone.tap(".bring-in .bring").await;
        until_shown(phone, ".backup .notice", "stands beside it as").await;
        assert_eq!(pairs(phone).await, 2);
    }
    let again = saved(&other).await;
    go(&one, "/keep").await;
    let said = bring(&one, &again).await;
    assert!(said.contains("is here already"), "{said}");
    one.put_away().await;
    other.put_away().await;
}
