//! A newer build comes whole or not at all, and the first one is asked for until it comes.

use std::time::{Duration, Instant};

use evenloop_tests::line::{Line, Mishap};
use evenloop_tests::site::{file_named, file_of, known_files, other, packed};

use super::*;

/// Everything that can go wrong on the way, one after another on one phone. After each the old build
/// is whole and nothing is offered; in the end the new one comes, and what has come before need not
/// come again.
#[tokio::test]
async fn an_installation_that_fails_half_way_changes_nothing() {
    let site = other();
    let (old_server, new_server) = (
        Server::start(),
        Server::start_with(site, ([127, 0, 0, 1], 0).into()),
    );
    let line = Line::to(old_server.address());
    let mut phone = Phone::unpack().await;
    phone.open(&line.url("/")).await;
    phone.until_offline_ready().await;
    let old = build(&phone).await;
    let old_page = reqwest::get(old_server.url("/map")).await;
    let old_page = old_page.expect("it answers").bytes().await.expect("a page");
    for text in ["404", "Failed to", "net::ERR", "ServiceWorker", "sw.js"] {
        phone.forgive(text);
    }

    let style = file_of(site, ".css");
    let icon = file_named(site, "icon");
    let page = "/map".to_owned();
    let html = b"<!DOCTYPE html><title>Please sign in</title>".to_vec();
    let mishaps = [
        (&style, Mishap::Lost),
        (&style, Mishap::BreaksOff),
        (&style, Mishap::CutShort),
        (&style, Mishap::Replaced(html.clone())),
        (&icon, Mishap::CutShort),
        (&icon, Mishap::Replaced(html.clone())),
        (&page, Mishap::Lost),
        (&page, Mishap::BreaksOff),
        (&page, Mishap::CutShort),
        (&page, Mishap::Replaced(html)),
        (&page, Mishap::Replaced(old_page.to_vec())),
    ];
    let forget = format!(
        "for (const name of await caches.keys())
             if (name !== 'evenloop-{old}') await caches.delete(name);
         return true"
    );
    for (path, mishap) in mishaps {
        // What came before would not be asked for again.
        phone.ask_later(&forget).await;
        line.lead_to(new_server.address());
        line.spoil(path, mishap.clone());
        line.asked();
        eprintln!(
            "{path} {}",
            format!("{mishap:?}").split('(').next().unwrap_or("")
        );
        look_for_an_update(&phone).await;
        until_settled(&phone, false).await;
        assert!(line.asked().contains(path), "{path} {mishap:?}");
        old_build_is_whole(&phone, &old).await;
    }
    // The other end goes silent right after the worker itself has come.
    line.lead_to(new_server.address());
    line.dies_after(1);
    look_for_an_update(&phone).await;
    until_settled(&phone, false).await;
    old_build_is_whole(&phone, &old).await;
    // Nothing of it is there for a window without signal.
    phone.open(&line.url("/map")).await;
    assert_eq!(build(&phone).await, old);
    nothing_is_offered(&phone).await;

    line.lead_to(new_server.address());
    line.asked();
    look_for_an_update(&phone).await;
    phone.find(NOTICE).await;
    let asked = line.asked();
    assert!(asked.contains(&page), "{asked:?}");
    let again = asked.iter().filter(|path| path.starts_with("/pkg/icon-"));
    assert_eq!(again.count(), 0, "what is the same need not come again");
    phone.put_away().await;
}

async fn old_build_is_whole(phone: &Phone, old: &str) {
    assert_eq!(build(phone).await, old);
    assert_eq!(
        wrong_files(phone, &known_files(&packed())).await,
        serde_json::json!([])
    );
    let pages = format!(
        "const cache = await caches.open('evenloop-{old}');
         const found = [];
         for (const path of ['/', '/measure', '/now', '/map', '/keep', '/plan'])
             found.push((await (await cache.match(path)).text()).includes('{old}'));
         return found.every(Boolean)"
    );
    assert_eq!(phone.ask_later(&pages).await, true);
    nothing_is_offered(phone).await;
}

/// A device without room keeps the build that it has, and takes the new one once there is room.
#[tokio::test]
async fn a_full_device_keeps_the_old_build() {
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    let old = build(&phone).await;
    for text in ["QuotaExceeded", "ServiceWorker", "Failed to"] {
        phone.forgive(text);
    }
    let origin = server.url("");
    let _server = server.stop().start_with(other());
    let used = phone
        .ask_later("return (await navigator.storage.estimate()).usage")
        .await;
    let used = used.as_u64().expect("a number of bytes");
    phone.allow(&origin, Some(used + 20_000)).await;
    look_for_an_update(&phone).await;
    until_settled(&phone, false).await;
    old_build_is_whole(&phone, &old).await;
    assert_eq!(builds(&phone).await, [old.as_str()], "it is not filled up");

    phone.allow(&origin, None).await;
    look_for_an_update(&phone).await;
    phone.find(NOTICE).await;
    phone.put_away().await;
}

/// Of a first worker that could not be installed the browser keeps nothing. The page asks for it again after a while and
/// when there is signal again, need not be reloaded for that, and says nothing of offline use before.
#[tokio::test]
async fn a_first_installation_that_failed_is_tried_again() {
    const STORED: &str = "return document.querySelector('.bar p')?.textContent.includes('works without signal') ?? false";
    let server = Server::start();
    let line = Line::to(server.address());
    let mut phone = Phone::unpack().await;
    for text in ["404", "ServiceWorker", "/map", "ERR_INTERNET_DISCONNECTED"] {
        phone.forgive(text);
    }
    line.spoil("/map", Mishap::Lost);
    phone.open(&line.url("/")).await;
    phone.ask("window.still = true").await;
    for _ in 0..2 {
        until_asked(&line, "/map").await;
        let gone = "return (await navigator.serviceWorker.getRegistration()) === undefined";
        phone.until_later("no worker is left", gone).await;
        assert_eq!(phone.ask(STORED).await, false);
    }
    // By itself the page would wait for a minute now.
    line.lead_to(server.address());
    let begin = Instant::now();
    for offline in [true, false] {
        let conditions = serde_json::json!({
            "offline": offline, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1,
        });
        phone
            .tools("Network.emulateNetworkConditions", conditions)
            .await;
        let said = format!("return navigator.onLine !== {offline}");
        phone.until("the browser knows of its line", &said).await;
    }
    phone.until_offline_ready().await;
    let took = begin.elapsed();
    assert!(took < Duration::from_secs(40), "{took:?}");
    phone.until("offline use is told of", STORED).await;
    assert_eq!(phone.ask("return window.still").await, true);
    phone.put_away().await;
}

async fn until_asked(line: &Line, path: &str) {
    let begin = Instant::now();
    while !line.asked().iter().any(|asked| asked == path) {
        assert!(begin.elapsed() < Duration::from_mins(1), "for {path}");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
}

/// That everything is stored is said once, where it covers neither the head of a page nor what stands at its foot, and all
/// of the page can be brought out from under it.
#[tokio::test]
async fn what_is_said_of_offline_use_covers_nothing_of_a_page() {
    const COVERED: &str = "
        const bar = document.querySelector('.bar').getBoundingClientRect();
        const apart = (css) => [...document.querySelectorAll(css)].every((one) => {
            const box = one.getBoundingClientRect();
            return box.width === 0 || box.bottom <= bar.top || box.top >= bar.bottom
                || box.right <= bar.left || box.left >= bar.right;
        });
        scrollTo(0, document.documentElement.scrollHeight);
        await new Promise((done) => setTimeout(done, 100));
        const last = [...document.querySelectorAll('.screen > *')].at(-1).getBoundingClientRect();
        const seen = last.bottom <= bar.top || innerWidth >= 896;
        scrollTo(0, 0);
        await new Promise((done) => setTimeout(done, 100));
        return [apart('.page-head *'), apart('.at-hand'), apart('.nav'), seen, bar.right <= innerWidth];";
    let server = Server::start();
    let phone = phone_with(&server).await;
    for size in [(320, 568), (360, 740), (1280, 800)] {
        evenloop_tests::room_on_now::resize(&phone, size).await;
        for path in ["/", "/measure", "/pattern", "/map", "/plan", "/keep"] {
            phone.ask("localStorage.removeItem('evenloop:told')").await;
            phone.open(&server.url(path)).await;
            phone
                .until(
                    "it is said",
                    "return document.querySelector('.bar') !== null",
                )
                .await;
            let told = phone.ask_later(COVERED).await;
            assert_eq!(
                told,
                serde_json::json!([true, true, true, true, true]),
                "{path} {size:?}"
            );
        }
    }
    phone.tap(".bar .button").await;
    phone
        .until(
            "it was heard",
            "return document.querySelector('.bar') === null",
        )
        .await;
    phone.reload().await;
    phone.find(".screen").await;
    let again = phone
        .ask("return document.querySelector('.bar') === null")
        .await;
    assert_eq!(again, true);
    phone.put_away().await;
}
