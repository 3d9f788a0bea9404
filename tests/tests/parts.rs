//! The app's parts: a page loads what its own screen needs and nothing else, and says so kindly when
//! a part cannot be had.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::collections::BTreeSet;
use std::time::Duration;

use evenloop_tests::laid::{cast_on, fill_in, touch_cast_on};
use evenloop_tests::line::{Line, Mishap};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::site::{OtherSite, other};
use serde_json::{Value, json};

/// By then a page has fetched what it fetches by itself once it is awake.
const SOON: Duration = Duration::from_secs(3);

/// Names of the wasm files that the page has fetched, without their folder. The worker fetches for
/// itself and is not seen here.
const FETCHED: &str = "return performance.getEntriesByType('resource')
    .map((entry) => entry.name)
    .filter((name) => name.endsWith('.wasm'))
    .map((name) => name.split('/').pop())";

fn names(fetched: &Value) -> Vec<&str> {
    fetched
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect()
}

#[tokio::test]
async fn a_page_loads_its_own_part_and_no_other_and_each_file_once() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    let parts = [
        "split_basket.wasm",
        "split_settings.wasm",
        "split_measure.wasm",
        "split_now.wasm",
        "split_map.wasm",
        "split_plan.wasm",
        // Draws small socks.
        "split_pictures.wasm",
        // Opened at rest, over a pair in hand.
        "split_pause.wasm",
        // Opened where something is explained.
        "split_moves.wasm",
        // A pattern of her own.
        "split_pattern.wasm",
        // A plan that is saved as a pattern.
        "split_written_down.wasm",
    ];
    let pages: [(&str, &[usize]); 7] = [
        ("/", &[0]),
        ("/keep", &[1]),
        ("/measure", &[2]),
        ("/now", &[3]),
        ("/map", &[4]),
        ("/plan", &[5]),
        ("/pattern", &[9]),
    ];
    for (path, own) in pages {
        phone.open(&server.url(path)).await;
        let fetched = phone.ask(FETCHED).await;
        let mut fetched = names(&fetched);
        assert!(fetched.contains(&"evenloop_bg.wasm"), "{path}: {fetched:?}");
        for (index, part) in parts.iter().enumerate() {
            // The sock is drawn beside the form sooner or later, and some in an empty basket.
            let draws = ["/", "/measure", "/pattern"].contains(&path);
            if draws && *part == "split_pictures.wasm" {
                continue;
            }
            assert_eq!(
                fetched.contains(part),
                own.contains(&index),
                "{path}: {part} in {fetched:?}"
            );
        }
        // What a page asks for early is what is then used: a second entry would be a second fetch.
        let count = fetched.len();
        fetched.sort_unstable();
        fetched.dedup();
        assert_eq!(fetched.len(), count, "{path}: {fetched:?}");
    }
    phone.put_away().await;
}

/// Everything that a phone without anything stored asks a server for until a page can be touched: the page,
/// what it shows and what wakes it up.
const MOST_REQUESTS: usize = 12;
/// What comes right after that: what draws the socks in an empty basket and beside Measure's form; what is opened over Now,
/// and what draws the fabric in its picture.
const LATER: [(&str, usize); 3] = [("/", 1), ("/measure", 1), ("/now", 2)];

#[tokio::test]
async fn no_page_asks_for_more_than_a_few_files() {
    let server = Server::start();
    let mut many = Vec::new();
    for path in [
        "/", "/keep", "/measure", "/now", "/map", "/plan", "/pattern",
    ] {
        let line = Line::to(server.address());
        let mut phone = Phone::unpack().await;
        for said in ["404", "ServiceWorker"] {
            phone.forgive(said);
        }
        // The worker, which stores all of the app, fetches what it fetches on its own account.
        line.spoil("/sw.js", Mishap::Lost);
        if path == "/now" {
            // With a pair in hand it also fetches what is opened at rest.
            phone.open(&line.url("/measure")).await;
            fill_in(&phone).await;
            touch_cast_on(&phone).await;
            phone.tools("Network.clearBrowserCache", json!({})).await;
            line.asked();
        }
        phone.open(&line.url(path)).await;
        tokio::time::sleep(SOON).await;
        // The icon is asked for by the page and by the manifest; the second time only whether it has changed.
        let asked: BTreeSet<String> = line.asked().into_iter().collect();
        println!("{path:10} {}", asked.len());
        let later = LATER.iter().find(|(of, _)| *of == path);
        let later = later.map_or(0, |(_, files)| *files);
        if asked.len() > MOST_REQUESTS + later {
            many.push(format!("{path}: {} {asked:?}", asked.len()));
        }
        phone.put_away().await;
    }
    assert!(many.is_empty(), "{}", many.join("\n"));
}

#[tokio::test]
async fn a_part_that_cannot_be_had_is_asked_for_again() {
    let broken = OtherSite::copied();
    broken.lose_the_part("measure");
    let server = Server::start().stop().start_with(broken.path());
    let mut phone = Phone::unpack().await;
    // The socks of an empty basket are fetched at rest, which the server's end may cut short.
    phone.forgive("Failed to fetch");
    // The missing file, for the worker and for the page, and what came of it.
    for said in [
        "404",
        "HTTP status code is not ok",
        "Failed to load",
        "split_measure",
    ] {
        phone.forgive(said);
    }
    phone.open(&server.url("/")).await;
    phone.tap("nav a[href='/measure']").await;
    phone
        .until(
            "it is said that the screen is not here",
            "return document.querySelector('main h1')?.textContent === 'This screen is not here yet'",
        )
        .await;
    assert_eq!(
        phone.ask("return location.pathname").await,
        json!("/measure")
    );
    let _server = server.stop().start_with(other());
    phone.tap("main .notice .button").await;
    phone
        .until(
            "the screen is here",
            "return document.querySelector('main #foot-length, main input') !== null",
        )
        .await;
    phone.until_awake().await;
    assert_eq!(
        phone.ask("return document.title").await,
        json!("Measure · Evenloop")
    );
    phone.put_away().await;
}

/// A site that has lost a part, served to a new phone.
async fn without(part: &str) -> (OtherSite, Server, Phone) {
    let broken = OtherSite::copied();
    broken.lose_the_part(part);
    let server = Server::start().stop().start_with(broken.path());
    let mut phone = Phone::unpack().await;
    // The missing file, for the worker and for the page, and what came of it.
    let file = format!("split_{part}");
    for said in ["404", "HTTP status code is not ok", "Failed to load", &file] {
        phone.forgive(said);
    }
    (broken, server, phone)
}

#[tokio::test]
async fn counting_goes_on_where_what_is_opened_at_rest_cannot_be_had() {
    let (_broken, server, mut phone) = without("pause").await;
    // Opened again it is asked for again, which the server's end may cut short.
    phone.forgive("Failed to fetch");
    cast_on(&phone, &server).await;
    let heading = phone.text(".now-head .where").await;
    phone.tap(".to-pause").await;
    phone
        .until(
            "it is said that this is not here",
            "return document.querySelector('dialog[open] .notice')?.textContent.includes('Your socks are safe')",
        )
        .await;
    phone.tap("dialog[open] .pane-foot .button").await;
    phone.tap(".pad").await;
    phone
        .until(
            "the touch has counted",
            &format!(
                "return document.querySelector('.now-head .where').innerText !== {}",
                json!(heading)
            ),
        )
        .await;
    phone.tap(".to-pause").await;
    phone.find("dialog[open] .notice").await;
    let _server = server.stop().start_with(other());
    phone.tap("dialog[open] .notice .button").await;
    phone.find("dialog[open] .entries .entry").await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_pair_that_cannot_be_opened_yet_stays_in_the_basket() {
    let (_broken, server, mut phone) = without("now").await;
    // It is asked for again, which the server's end may cut short.
    phone.forgive("Failed to fetch");
    phone.open(&server.url("/")).await;
    // One that has a name and a plan is shown without being opened.
    phone
        .ask(
            "const place = { sock: 1, done: 0, total: 9, section: 'cuff', finished: false };
             const head = { version: 1, name: 'A pair', created: 1, place };
             localStorage.setItem('evenloop:pair:p1:head', JSON.stringify(head));
             localStorage.setItem('evenloop:pair:p1:plan', '{}');",
        )
        .await;
    phone.reload().await;
    phone.tap(".card .open").await;
    phone
        .until(
            "it is said that it does not open yet",
            "return document.querySelector('.card .notice')?.textContent.includes('not on this device yet')",
        )
        .await;
    assert_eq!(phone.ask("return location.pathname").await, json!("/"));
    let _server = server.stop().start_with(other());
    phone.tap(".card .open").await;
    // Now it is read, and found to be no plan.
    phone
        .until(
            "it is said what is the matter with it",
            "return document.querySelector('.card .notice')?.textContent.includes('damaged')",
        )
        .await;
    phone.put_away().await;
}
