//! The app's parts: a page loads what its own screen needs and nothing else, and says so kindly when
//! a part cannot be had.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::site::{OtherSite, other};
use serde_json::{Value, json};

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
        "split_keep.wasm",
        "split_measure.wasm",
        "split_now.wasm",
        "split_paper.wasm",
    ];
    let pages = [
        ("/", 0),
        ("/keep", 1),
        ("/measure", 2),
        ("/now", 3),
        ("/map", 4),
        ("/plan", 4),
    ];
    for (path, own) in pages {
        phone.open(&server.url(path)).await;
        let fetched = phone.ask(FETCHED).await;
        let mut fetched = names(&fetched);
        assert!(fetched.contains(&"evenloop_bg.wasm"), "{path}: {fetched:?}");
        for (index, part) in parts.iter().enumerate() {
            assert_eq!(
                fetched.contains(part),
                index == own,
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

#[tokio::test]
async fn a_part_that_cannot_be_had_is_asked_for_again() {
    let broken = OtherSite::copied();
    broken.lose_the_part("measure");
    let server = Server::start().stop().start_with(broken.path());
    let mut phone = Phone::unpack().await;
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
