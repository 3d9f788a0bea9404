//! Without signal: the server is really stopped, and every screen still opens. And the change
//! from one build to the next, on the knitter's word only.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::site::OtherSite;
use serde_json::{Value, json};

const SCREENS: [(&str, &str); 5] = [
    ("/", "Basket"),
    ("/measure", "Measure"),
    ("/now", "Now"),
    ("/map", "Map"),
    ("/keep", "Keep"),
];

const BUILD: &str = "return document.querySelector('meta[name=evenloop-build]').content";
/// The button that takes the new build into use.
const NOTICE: &str = "[role=status] .button.lead";

/// A phone that has been online once.
async fn phone_with(server: &Server) -> Phone {
    let phone = Phone::unpack().await;
    phone.open(&server.url("/")).await;
    phone.until_offline_ready().await;
    phone
}

async fn look_for_an_update(phone: &Phone) -> Value {
    phone
        .ask_later(
            "await (await navigator.serviceWorker.getRegistration()).update(); return 'asked'",
        )
        .await
}

async fn nothing_is_offered(phone: &Phone) {
    let notice = phone
        .ask(&format!("return document.querySelector('{NOTICE}')"))
        .await;
    assert_eq!(notice, Value::Null);
}

async fn caches(phone: &Phone) -> Value {
    phone.ask_later("return await caches.keys()").await
}

#[tokio::test]
async fn every_screen_opens_without_a_server() {
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    let urls: Vec<_> = SCREENS
        .iter()
        .map(|(path, name)| (server.url(path), name))
        .collect();
    let deep = server.url("/now?from=a-link");
    let missing = server.url("/pkg/none.js");
    server.stop();
    for (url, name) in &urls {
        phone.open(url).await;
        let title = phone.browser().title().await.expect("a page has a title");
        assert_eq!(title, format!("{name} · Evenloop"));
        let words = phone.text("main").await;
        assert!(!words.is_empty(), "{url} shows something");
        phone.reload().await;
    }
    phone.open(&deep).await;
    assert_eq!(phone.ask("return location.search").await, "?from=a-link");
    assert!(
        phone.complaints().await.is_empty(),
        "all of it was on the phone"
    );

    // A file that was never there is an error, not a page.
    phone.forgive("ERR_CONNECTION_REFUSED");
    phone.forgive("Failed to fetch");
    phone.forgive("/pkg/none.js");
    let answer = phone
        .ask_later(&format!("return (await fetch('{missing}')).status"))
        .await;
    assert!(
        answer
            .as_str()
            .is_some_and(|text| text.starts_with("failed")),
        "{answer}"
    );
    phone.put_away().await;
}

#[tokio::test]
async fn touches_move_between_screens_without_a_server() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    server.stop();
    for (path, name) in SCREENS.iter().rev() {
        phone.tap(&format!("nav a[href='{path}']")).await;
        phone
            .until(
                "the title follows",
                &format!("return document.title === '{name} · Evenloop'"),
            )
            .await;
        assert_eq!(phone.ask("return location.pathname").await, *path);
    }
    phone.put_away().await;
}

#[tokio::test]
async fn the_first_visit_offers_no_update_and_keeps_one_cache() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    let build = phone.ask(BUILD).await;
    let build = build.as_str().expect("a page names its build");
    assert_eq!(caches(&phone).await, json!([format!("evenloop-{build}")]));
    look_for_an_update(&phone).await;
    nothing_is_offered(&phone).await;
    phone.put_away().await;
}

#[tokio::test]
async fn an_update_waits_for_the_knitter() {
    let other = OtherSite::pack("later");
    let server = Server::start();
    let phone = phone_with(&server).await;
    let old = phone.ask(BUILD).await;
    let (now, map) = (server.url("/now"), server.url("/map"));
    let _server = server.stop().start_with(&other.path());

    assert_eq!(look_for_an_update(&phone).await, "asked");
    phone.find(NOTICE).await;
    assert_eq!(phone.ask(BUILD).await, old, "nothing changes unasked");
    // Not answered, closed, opened again: still the old build. Nothing lies over the needles of Now;
    // elsewhere it is still on offer.
    phone.open(&now).await;
    assert_eq!(phone.ask(BUILD).await, old);
    let over_now = format!("return document.querySelector('{NOTICE}')");
    assert_eq!(phone.ask(&over_now).await, Value::Null);
    phone.open(&map).await;
    phone.find(NOTICE).await;

    phone.ask("window.loadedBefore = true").await;
    phone.tap(NOTICE).await;
    phone
        .until(
            "the page is loaded anew",
            "return window.loadedBefore === undefined",
        )
        .await;
    phone.until_awake().await;
    let new = phone.ask(BUILD).await;
    assert_ne!(new, old);
    let new = new.as_str().expect("a page names its build");
    assert_eq!(caches(&phone).await, json!([format!("evenloop-{new}")]));
    assert_eq!(phone.ask("return location.pathname").await, "/map");
    nothing_is_offered(&phone).await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_build_that_cannot_be_fetched_whole_changes_nothing() {
    let other = OtherSite::pack("broken");
    other.lose_the_style();
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    let old = phone.ask(BUILD).await;
    let url = server.url("/map");
    let server = server.stop().start_with(&other.path());

    // The browser notes the missing file and the failed worker.
    phone.forgive("404");
    look_for_an_update(&phone).await;
    phone
        .until_later(
            "the broken build is given up",
            "const known = await navigator.serviceWorker.getRegistration();
             return known.installing === null && known.waiting === null",
        )
        .await;
    let build = old.as_str().expect("a page names its build");
    assert_eq!(caches(&phone).await, json!([format!("evenloop-{build}")]));
    server.stop();
    phone.open(&url).await;
    assert_eq!(phone.ask(BUILD).await, old);
    nothing_is_offered(&phone).await;
    phone.put_away().await;
}

#[tokio::test]
async fn an_accepted_update_is_offered_to_other_windows() {
    let other = OtherSite::pack("second-window");
    let server = Server::start();
    let phone = phone_with(&server).await;
    let old = phone.ask(BUILD).await;
    let browser = phone.browser();
    let first = browser.window().await.expect("there is a window");
    let second = browser.new_tab().await.expect("a second window opens");
    browser
        .switch_to_window(second.clone())
        .await
        .expect("it is there");
    phone.open(&server.url("/map")).await;
    let _server = server.stop().start_with(&other.path());

    look_for_an_update(&phone).await;
    phone.tap(NOTICE).await;
    phone
        .until("the second window is new", &format!("{BUILD} !== {old}"))
        .await;
    phone.until_awake().await;

    browser.switch_to_window(first).await.expect("it is there");
    assert_eq!(phone.ask(BUILD).await, old, "no window is reloaded unasked");
    phone.tap(NOTICE).await;
    phone
        .until("the first window follows", &format!("{BUILD} !== {old}"))
        .await;
    phone.until_awake().await;
    phone.put_away().await;
}
