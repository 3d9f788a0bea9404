//! What is said of how long the browser keeps what is stored, and the way into an installed app.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_tests::laid::cast_on;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{backup, go, look_into, until_shown};

/// A phone of Apple's, in a tab of the browser, as far as the app can tell.
const APPLE: &str = "window.GestureEvent = class {}; navigator.standalone = false;
     StorageManager.prototype.persisted = async () => false;
     StorageManager.prototype.persist = async () => false;";

/// Any other browser, which promises once it is asked.
const PROMISES: &str = "let promised = false;
     StorageManager.prototype.persisted = async () => promised;
     StorageManager.prototype.persist = async () => (promised = window.asked !== undefined);";

#[tokio::test]
async fn a_tab_on_apple_is_told_once_and_shown_the_way_into_the_installed_app() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.at_every_start(APPLE).await;
    cast_on(&phone, &server).await;
    phone.open(&server.url("/")).await;
    until_shown(&phone, ".install .notice", "may clear what it stores").await;
    phone.reload().await;
    phone.find(".card").await;
    assert_eq!(
        phone.ask("return document.querySelector('.install')").await,
        serde_json::Value::Null,
        "it is said once"
    );
    go(&phone, "/keep").await;
    until_shown(&phone, ".permanence .how-long", "some days").await;
    until_shown(&phone, ".permanence ol", "home screen").await;
    until_shown(&phone, ".since-backup", "nothing").await;
    until_shown(&phone, ".permanence .copies", "last compared").await;
    let saved = backup(&phone).await;

    // The installed app has storage of its own: another phone stands for it.
    let installed = Phone::unpack().await;
    installed.open(&server.url("/")).await;
    installed
        .until(
            "the empty basket takes a file",
            "return document.querySelector('.empty input[type=file]') !== null
                 && document.querySelector('.unless-pairs') === null",
        )
        .await;
    look_into(&installed, &saved).await;
    until_shown(&installed, ".bring-in", "New here").await;
    installed.tap(".bring-in .bring").await;
    installed.find(".card").await;
    until_shown(&installed, ".notice", "Added").await;
    installed.put_away().await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_browser_that_can_be_asked_is_asked_and_its_answer_is_said() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.at_every_start(PROMISES).await;
    phone.open(&server.url("/keep")).await;
    until_shown(&phone, ".permanence .how-long", "short of room").await;
    phone.tap(".ask-to-stay").await;
    until_shown(&phone, ".permanence", "gave no promise").await;
    phone.ask("window.asked = true").await;
    phone.tap(".ask-to-stay").await;
    until_shown(&phone, ".permanence .how-long", "has promised").await;
    phone.put_away().await;
}
