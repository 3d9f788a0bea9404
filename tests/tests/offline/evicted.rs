//! The browser has thrown the stored files away, as browsers may; the socks are still there.

use evenloop_tests::laid::cast_on;
use evenloop_tests::site::{known_files, other, packed};

use super::*;

const THROW_AWAY: &str = "for (const name of await caches.keys()) await caches.delete(name);
    return (await caches.keys()).length";

/// A phone with a pair, whose stored files have gone.
async fn phone_without_files(server: &Server) -> (Phone, Value) {
    let phone = Phone::unpack().await;
    cast_on(&phone, server).await;
    phone.until_offline_ready().await;
    let socks = phone.ask(SOCKS).await;
    assert_eq!(phone.ask_later(THROW_AWAY).await, 0);
    (phone, socks)
}

async fn until_whole(phone: &Phone, build: &str) {
    let files = known_files(&packed()).len() + 6;
    let script = format!(
        "return (await caches.has('evenloop-{build}'))
            && (await (await caches.open('evenloop-{build}')).keys()).length === {files}"
    );
    phone
        .until_later("everything is stored again", &script)
        .await;
}

/// Now opens with nobody there to answer, and the socks are what they were.
async fn opens_without(server: Server, phone: &Phone, socks: &Value) {
    let url = server.url("/now");
    server.stop();
    phone.open(&url).await;
    phone.find(".pad").await;
    assert_eq!(phone.ask(SOCKS).await, *socks);
}

#[tokio::test]
async fn thrown_away_files_come_back_by_themselves() {
    let server = Server::start();
    let (phone, socks) = phone_without_files(&server).await;
    phone.reload().await;
    let build = build(&phone).await;
    until_whole(&phone, &build).await;
    opens_without(server, &phone, &socks).await;
    phone.put_away().await;
}

/// An app that stays open for weeks need not be started anew for that: it is enough to look at it.
#[tokio::test]
async fn what_comes_to_the_front_is_mended_and_tidied() {
    let server = Server::start();
    let (phone, socks) = phone_without_files(&server).await;
    let build = build(&phone).await;
    phone
        .ask_later("await caches.open('evenloop-of-long-ago'); return true")
        .await;
    phone
        .ask("document.dispatchEvent(new Event('visibilitychange'))")
        .await;
    until_only(&phone, &build).await;
    until_whole(&phone, &build).await;
    opens_without(server, &phone, &socks).await;
    phone.put_away().await;
}

#[tokio::test]
async fn without_signal_a_page_says_that_the_socks_are_kept() {
    let server = Server::start();
    let (mut phone, socks) = phone_without_files(&server).await;
    phone.forgive("503");
    phone.forgive("ERR_");
    let url = server.url("/now");
    let server = server.stop();
    phone.browser().goto(&url).await.expect("an answer");
    let said = phone.text("body").await;
    assert!(said.contains("What you have knitted is kept"), "{said}");
    assert_eq!(phone.ask(SOCKS).await, socks);

    let _server = server.start();
    phone.tap("a[href='']").await;
    phone.until_awake().await;
    phone.find(".pad").await;
    assert_eq!(phone.ask(SOCKS).await, socks);
    until_whole(&phone, &build(&phone).await).await;
    phone.put_away().await;
}

/// The server has moved on meanwhile: the page is of the new build at once, so there is nothing to
/// ask, and its worker takes over.
#[tokio::test]
async fn where_the_server_has_moved_on_the_new_build_takes_over() {
    let server = Server::start();
    let (mut phone, socks) = phone_without_files(&server).await;
    phone.forgive("404");
    let old = build(&phone).await;
    let server = server.stop().start_with(other());
    phone.reload().await;
    let new = build(&phone).await;
    assert_ne!(new, old);
    phone
        .until_later(
            "the new worker answers",
            "const known = await navigator.serviceWorker.getRegistration();
             return known.waiting === null && known.installing === null",
        )
        .await;
    until_only(&phone, &new).await;
    until_whole(&phone, &new).await;
    nothing_is_offered(&phone).await;
    opens_without(server, &phone, &socks).await;
    assert_eq!(build(&phone).await, new);
    phone.put_away().await;
}
