//! Every screen, from every way in, without a server; and what was never there.

use evenloop_engine::link::write_link;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::units::Length;
use evenloop_tests::site::{known_files, packed};

use super::*;

const SCREENS: [(&str, &str); 6] = [
    ("/", "Basket"),
    ("/measure", "Measure"),
    ("/now", "Now"),
    ("/map", "Map"),
    ("/keep", "Settings"),
    ("/pattern", "A pattern of your own"),
];

#[tokio::test]
async fn every_screen_opens_without_a_server() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    let urls: Vec<_> = SCREENS
        .iter()
        .map(|(path, name)| (server.url(path), name))
        .collect();
    let deep = server.url("/now?from=a-link");
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
    phone.put_away().await;
}

/// As one that began to load while the worker took over.
#[tokio::test]
async fn a_page_that_came_past_the_worker_is_answered_for_all_the_same() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    phone
        .at_every_start("window.answered = navigator.serviceWorker.controller !== null")
        .await;
    phone.reload().await;
    assert_eq!(phone.ask("return window.answered").await, true);
    phone.reload_past_worker().await;
    assert_eq!(phone.ask("return window.answered").await, false);
    phone.until_offline_ready().await;
    server.stop();
    phone.reload().await;
    phone.put_away().await;
}

#[tokio::test]
async fn that_all_is_stored_is_said_once_and_not_over_the_next_screen() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    let said =
        "return document.querySelector('[role=status] .bar')?.textContent.includes('Stored')";
    phone.until("it is said that all is stored", said).await;
    phone.tap("nav a[href='/map']").await;
    phone
        .until(
            "the title follows",
            "return document.title === 'Map · Evenloop'",
        )
        .await;
    let gone = "return document.querySelector('[role=status] .bar') === null";
    phone.until("it is said no longer", gone).await;
    phone.reload().await;
    phone.until_offline_ready().await;
    phone
        .until_later(
            "the worker has had its word",
            "await navigator.serviceWorker.ready; return true",
        )
        .await;
    assert_eq!(phone.ask(gone).await, true);
    phone.put_away().await;
}

#[tokio::test]
async fn touches_move_between_screens_without_a_server() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    server.stop();
    // A pattern of her own is not in the bar.
    let in_bar = SCREENS.iter().filter(|(path, _)| *path != "/pattern");
    for (path, name) in in_bar.rev() {
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
    let build = build(&phone).await;
    assert_eq!(builds(&phone).await, [build]);
    look_for_an_update(&phone).await;
    nothing_is_offered(&phone).await;
    phone.put_away().await;
}

/// Where the phone's home screen leads, and the ways in from links.
#[tokio::test]
async fn the_start_address_and_deep_links_open_without_a_server() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    let start = phone
        .ask_later(
            "const link = document.querySelector('link[rel=manifest]').href;
             const manifest = await (await fetch(link)).json();
             const ways = [manifest.start_url, ...manifest.shortcuts.map(({ url }) => url)];
             return ways.map((way) => new URL(way, link).href)",
        )
        .await;
    let start: Vec<String> = serde_json::from_value(start).expect("addresses");
    let recipe = Recipe {
        leg: Length::cm(21),
        ..Recipe::default()
    };
    let link = write_link(&recipe);
    let [plan, measure, change] = [
        format!("/plan?r={link}"),
        format!("/measure?r={link}"),
        "/measure?change=p1".to_owned(),
    ]
    .map(|path| server.url(&path));
    server.stop();

    for url in &start {
        phone.open(url).await;
        assert_eq!(phone.ask("return location.href").await, url.as_str());
        assert!(!phone.text("main h1").await.is_empty(), "{url}");
    }
    phone.open(&plan).await;
    let sheet = phone.text(".plan-sheet").await;
    assert!(sheet.contains("21 cm"), "{sheet}");
    phone.open(&measure).await;
    phone.unfold("#leg").await;
    phone
        .until(
            "the recipe stands in the form",
            "return document.getElementById('leg')?.value === '21'",
        )
        .await;
    // A pair that is not here is no reason for an empty page.
    phone.open(&change).await;
    assert!(!phone.text("main h1").await.is_empty());
    phone.put_away().await;
}

/// A file that was never there is an error, not a page, with and without a server. A page that was
/// never there is, without one, a page that says so.
#[tokio::test]
async fn what_was_never_there_is_not_replaced() {
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    for text in ["404", "503", "ERR_", "Failed to fetch"] {
        phone.forgive(text);
    }
    let look = "const found = [];
        for (const path of ['/pkg/none.js', '/pkg/none.wasm', '/icons/none.svg', '/none.svg']) {
            const said = await fetch(path).then(
                ({ status, headers }) => `${status} ${headers.get('content-type')}`,
                () => 'failed');
            found.push(said);
        }
        return [...new Set(found)]";
    let online = phone.ask_later(look).await;
    assert_eq!(online, serde_json::json!(["404 application/problem+json"]));
    let nowhere = server.url("/nowhere");
    server.stop();
    assert_eq!(phone.ask_later(look).await, serde_json::json!(["failed"]));

    phone.browser().goto(&nowhere).await.expect("an answer");
    let said = phone.text("body").await;
    assert!(said.contains("What you have knitted is kept"), "{said}");
    phone.tap("a[href='/']").await;
    phone.until_awake().await;
    phone.put_away().await;
}

/// Whatever a build serves lies on the phone: parts of the app that are fetched on demand, too.
#[test]
fn the_worker_knows_every_file() {
    let site = packed();
    let mut known: Vec<_> = known_files(&site).into_iter().map(|(url, _)| url).collect();
    known.sort();
    let mut there = Vec::new();
    let files = site.join("files");
    let mut folders = vec![files.clone()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("the site can be read") {
            let path = entry.expect("the site can be read").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let inner = path.strip_prefix(&files).expect("it is within");
                there.push(format!("/{}", inner.display()));
            }
        }
    }
    let others = [".br", ".gz", "/sw.js"];
    there.retain(|url| !others.iter().any(|end| url.ends_with(end)));
    there.sort();
    assert_eq!(known, there);
}
