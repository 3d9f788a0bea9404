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

/// The app in a window of its own, and a clipboard on which nothing was copied yet.
const INSTALLED: &str = "navigator.standalone = true;
     Object.defineProperty(navigator, 'clipboard', { value: {
         readText: async () => { if (window.copied) return window.copied; throw new Error('nothing'); },
     } })";

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
    phone
        .ask(
            "Object.defineProperty(navigator, 'clipboard', { value: {
                 writeText: async (text) => { window.copied = text; },
             } })",
        )
        .await;
    phone.tap(".copy-basket").await;
    until_shown(&phone, ".permanence", "Your basket is copied").await;
    let copied = phone.ask("return window.copied").await;

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

    // Without a file: what was copied in the browser is pasted there.
    let installed = Phone::unpack().await;
    installed.at_every_start(INSTALLED).await;
    installed.open(&server.url("/")).await;
    installed.tap(".empty .paste").await;
    until_shown(&installed, ".told-of-file", "Nothing could be pasted").await;
    installed.ask(&format!("window.copied = {copied}")).await;
    installed.tap(".empty .paste").await;
    until_shown(&installed, ".bring-in", "New here").await;
    installed.tap(".bring-in .bring").await;
    installed.find(".card").await;
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

#[tokio::test]
async fn the_installed_app_opens_where_the_needles_are() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    let at = |path: &str| format!("return location.pathname === '{path}'");
    // Without a pair there is nothing to open.
    phone.at_every_start(INSTALLED).await;
    phone.open(&server.url("/")).await;
    phone.until("the basket is shown", &at("/")).await;
    cast_on(&phone, &server).await;
    phone.ask("sessionStorage.clear()").await;
    phone.open(&server.url("/")).await;
    phone.find(".pad").await;
    phone.until("Now is shown", &at("/now")).await;
    // In the window that is open everything stays where it is asked for.
    go(&phone, "/").await;
    phone.reload().await;
    phone.find(".card").await;
    phone.until("the basket is shown", &at("/")).await;
    phone.open(&server.url("/map")).await;
    phone.open(&server.url("/")).await;
    phone.find(".card").await;
    phone.until("the basket is shown", &at("/")).await;
    // In a tab of the browser the basket is what was asked for.
    let tab = Phone::unpack().await;
    cast_on(&tab, &server).await;
    tab.ask("sessionStorage.clear()").await;
    tab.open(&server.url("/")).await;
    tab.find(".card").await;
    tab.until("the basket is shown", &at("/")).await;
    tab.put_away().await;
    phone.put_away().await;
}
