//! The browser has thrown the stored files away, as browsers may; the socks are still there.

use evenloop_tests::laid::cast_on;
use evenloop_tests::site::{build_of, file_named, file_of, known_files, other, packed};

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
    // Seven pages, and the list of all.
    let files = known_files(&packed()).len() + 7 + 1;
    let script = format!(
        "return (await caches.has('evenloop-{build}'))
            && (await (await caches.open('evenloop-{build}')).keys()).length === {files}"
    );
    phone
        .until_later("everything is stored again", &script)
        .await;
}

/// Now opens without a server, and the socks are what they were.
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

/// An app that stays open for weeks need not be restarted for that: it is enough to look at it.
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

/// Throws one file of a build away.
async fn throw_away(phone: &Phone, build: &str, url: &str) {
    let script = format!(
        "return await (await caches.open('evenloop-{build}')).delete(location.origin + '{url}')"
    );
    assert_eq!(phone.ask_later(&script).await, true, "{url}");
}

/// The build of the worker that answers for the page.
async fn workers_build(phone: &Phone) -> Value {
    phone
        .ask_later(
            "const { port1, port2 } = new MessageChannel();
             const build = new Promise((done) => { port1.onmessage = ({ data }) => done(data.build); });
             navigator.serviceWorker.controller.postMessage('WHO', [port2]);
             return await build",
        )
        .await
}

fn forgive_what_lacks(phone: &mut Phone) {
    for text in ["ERR_", "404", "503", "Failed to", "ServiceWorker"] {
        phone.forgive(text);
    }
}

/// A window of an older build whose store is gone: it gets its own files or none, never those of the build that
/// is in use now.
#[tokio::test]
async fn a_window_whose_store_is_gone_gets_nothing_of_another_build() {
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    forgive_what_lacks(&mut phone);
    let old = build(&phone).await;
    let first = phone.window().await;
    phone.open_window().await;
    phone.open(&server.url("/map")).await;
    let _server = server.stop().start_with(other());
    look_for_an_update(&phone).await;
    take_over(&phone).await;

    phone.look_at(&first).await;
    assert_eq!(build(&phone).await, old);
    let gone = format!("return await caches.delete('evenloop-{old}')");
    assert_eq!(phone.ask_later(&gone).await, true);
    // The web app manifest is whole by itself: it names its icons by their content.
    let mut files = known_files(&packed());
    files.retain(|(url, _)| url != "/manifest.webmanifest");
    let files = serde_json::to_string(&files).expect("text is JSON");
    let mixed = format!(
        "const mixed = [];
         for (const [url, hash] of {files}) {{
             const answer = await fetch(url);
             const bits = await crypto.subtle.digest('SHA-256', await answer.arrayBuffer());
             const bytes = [...new Uint8Array(bits, 0, 8)];
             const found = bytes.map((byte) => byte.toString(16).padStart(2, '0')).join('');
             if (answer.ok && found !== hash) mixed.push(url);
         }}
         return mixed"
    );
    assert_eq!(phone.ask_later(&mixed).await, serde_json::json!([]));
    phone.put_away().await;
}

/// A build that waits may lose files while it does. The knitter's word alone does not put it in the place of
/// one that is whole.
#[tokio::test]
async fn a_waiting_build_that_lost_a_file_takes_over_only_when_it_is_whole_again() {
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    forgive_what_lacks(&mut phone);
    let old = build(&phone).await;
    let server = server.stop().start_with(other());
    look_for_an_update(&phone).await;
    phone.find(NOTICE).await;
    let new = build_of(other());
    throw_away(&phone, &new, &file_of(other(), ".css")).await;
    let stopped = server.stop();
    phone.tap(NOTICE).await;
    phone
        .until(
            "the knitter is told",
            "return document.querySelector('.bar p')?.textContent.includes('could not be fetched') ?? false",
        )
        .await;
    assert_eq!(build(&phone).await, old);
    phone.reload().await;
    assert_eq!(build(&phone).await, old);
    assert_eq!(workers_build(&phone).await, Value::from(old));

    let _server = stopped.start_with(other());
    assert_eq!(take_over(&phone).await, new);
    assert_eq!(
        wrong_files(&phone, &known_files(other())).await,
        serde_json::json!([])
    );
    until_only(&phone, &new).await;
    phone.put_away().await;
}

/// Once every window is closed the browser puts the waiting build in its place, whole or not. Without signal the
/// one before stands in, and with signal the new one is made whole and offered.
#[tokio::test]
async fn the_build_before_stands_in_for_one_that_lost_a_file() {
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    forgive_what_lacks(&mut phone);
    let old = build(&phone).await;
    let map = server.url("/map");
    let server = server.stop().start_with(other());
    look_for_an_update(&phone).await;
    phone.find(NOTICE).await;
    let new = build_of(other());
    throw_away(&phone, &new, &file_named(other(), "boot")).await;
    let stopped = server.stop();
    phone.open_file("about:blank").await;
    phone.open(&map).await;
    assert_eq!(workers_build(&phone).await, Value::from(new.clone()));
    assert_eq!(build(&phone).await, old);

    let _server = stopped.start_with(other());
    phone
        .ask("document.dispatchEvent(new Event('visibilitychange'))")
        .await;
    assert_eq!(take_over(&phone).await, new);
    until_only(&phone, &new).await;
    phone.put_away().await;
}

/// A deployment is taken back, and what a device had stored of it is not whole: its page would wait for ever for
/// files that are nowhere.
#[tokio::test]
async fn a_page_whose_files_are_nowhere_gives_way_to_the_servers() {
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    forgive_what_lacks(&mut phone);
    let old = build(&phone).await;
    let map = server.url("/map");
    throw_away(&phone, &old, &file_named(&packed(), "boot")).await;
    let _server = server.stop().start_with(other());
    phone.open(&map).await;
    assert_eq!(build(&phone).await, build_of(other()));
    phone.put_away().await;
}
