//! The exported site on a plain static server that knows nothing of the app: it is put on a phone,
//! a sock is cast on without anyone to make its plan, and all of it opens with the server gone. The
//! same below a path of its host, both there and on our own server.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::{Duration, Instant};

use evenloop_tests::laid::fill_in;
use evenloop_tests::phone::Phone;
use evenloop_tests::plain::Plain;
use evenloop_tests::server::{Server, command, root};
use serde_json::Value;

fn export(folder: &std::path::Path) -> std::process::Output {
    export_with(&[], folder)
}

fn export_with(options: &[&str], folder: &std::path::Path) -> std::process::Output {
    command()
        .arg("export")
        .args(options)
        .arg(folder)
        .env("EVENLOOP_SITE", root().join("target/site"))
        .output()
        .expect("the server's command runs")
}

#[tokio::test]
async fn the_exported_site_works_from_a_plain_static_server() {
    let folder = tempfile::tempdir().expect("a folder");
    let site = folder.path().join("site");
    assert!(export(&site).status.success());

    let host = Plain::serve(&site);
    let phone = Phone::unpack().await;
    phone.open(&host.url("/")).await;
    phone.until_offline_ready().await;
    phone.open(&host.url("/measure")).await;
    fill_in(&phone).await;
    phone.tap(".at-hand .button.lead").await;
    phone
        .until("Now is open", "return location.pathname.startsWith('/now')")
        .await;
    let begun = phone.text("main").await;
    assert!(begun.contains("Cast on"), "{begun}");

    let urls = ["/", "/measure", "/now", "/now/", "/map", "/keep"].map(|path| host.url(path));
    drop(host);
    for url in urls {
        phone.open(&url).await;
        let words = phone.text("main").await;
        assert!(!words.contains("Nothing is here"), "{url}: {words}");
        assert!(!words.is_empty(), "{url} shows something");
    }
    assert!(phone.complaints().await.is_empty());
    phone.put_away().await;
}

/// Puts the app at this address on a phone and casts a sock on. Nothing may be asked for elsewhere.
async fn move_in(phone: &Phone, home: &str) {
    phone.open(&format!("{home}/")).await;
    phone.until_offline_ready().await;
    let told = phone
        .ask_later(
            "const scope = (await navigator.serviceWorker.getRegistration()).scope;
             const stores = await caches.keys();
             const address = document.querySelector('link[rel=manifest]').href;
             const manifest = await (await fetch(address)).json();
             const here = [manifest.start_url, manifest.scope,
                 ...manifest.icons.map((icon) => icon.src),
                 ...manifest.shortcuts.map((shortcut) => shortcut.url)]
                 .map((url) => new URL(url, address).href);
             const found = [];
             for (const url of here) found.push((await fetch(url)).ok);
             return { scope, stores, here, found };",
        )
        .await;
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    assert_eq!(text(&told["scope"]), format!("{home}/"));
    let stores = told["stores"].as_array().expect("a list");
    let fine = |store: &Value| text(store).starts_with("evenloop/socks-");
    assert!(stores.len() == 1 && stores.iter().all(fine), "{stores:?}");
    for address in told["here"].as_array().expect("a list") {
        assert!(text(address).starts_with(&format!("{home}/")), "{address}");
    }
    let found = told["found"].as_array().expect("a list");
    assert!(found.iter().all(|found| *found == true), "{told}");

    phone.open(&format!("{home}/measure")).await;
    fill_in(phone).await;
    phone.tap(".at-hand .button.lead").await;
    phone
        .until(
            "Now is open",
            "return location.pathname === '/socks/now' && !!document.querySelector('.app.at-now')",
        )
        .await;
    let begun = phone.text("main").await;
    assert!(begun.contains("Cast on"), "{begun}");
    let elsewhere = phone
        .ask(
            "return performance.getEntriesByType('resource').map((entry) => entry.name)
                 .filter((name) => !new URL(name).pathname.startsWith('/socks/'))",
        )
        .await;
    assert_eq!(elsewhere, Value::Array(Vec::new()));
}

/// Nobody answers any more: every address opens, and the links between them lead on.
async fn live_alone(phone: &Phone, home: &str) {
    for path in [
        "/", "/measure", "/now", "/now/", "/map", "/keep", "/plan", "/pattern",
    ] {
        let url = format!("{home}{path}");
        phone.open(&url).await;
        let words = phone.text("main").await;
        assert!(!words.contains("Nothing is here"), "{url}: {words}");
        assert!(!words.is_empty(), "{url} shows something");
    }
    for (place, path) in [
        ("Basket", "/socks/"),
        ("Map", "/socks/map"),
        ("Now", "/socks/now"),
    ] {
        let link = format!(".nav a[href='{path}']");
        phone.tap(&link).await;
        let shown = format!(
            "return location.pathname === '{path}'
                 && document.querySelector('.nav [aria-current=page]').innerText.includes('{place}')"
        );
        phone.until(place, &shown).await;
    }
    assert!(phone.complaints().await.is_empty());
}

#[tokio::test]
async fn an_export_for_a_path_works_below_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let made = export_with(&["--base", "/socks/"], &folder.path().join("socks"));
    assert!(made.status.success());
    let host = Plain::serve(folder.path());
    let home = host.url("/socks");
    let phone = Phone::unpack().await;
    move_in(&phone, &home).await;
    drop(host);
    live_alone(&phone, &home).await;
    phone.put_away().await;
}

#[tokio::test]
async fn our_own_server_serves_it_below_a_path() {
    let server = Server::start_packed(&[("EVENLOOP_BASE", "socks")]);
    let home = server.url("/socks");
    let phone = Phone::unpack().await;
    move_in(&phone, &home).await;
    let asked = phone
        .ask(
            "return performance.getEntriesByType('resource')
                 .some((entry) => entry.name.endsWith('/socks/api/plan'))",
        )
        .await;
    assert_eq!(asked, false, "the phone makes the plan");
    server.stop();
    live_alone(&phone, &home).await;
    phone.put_away().await;
}

/// Every test with a phone ends with `Phone::put_away`, which fails for whatever a page complained of.
/// That this holds for the security policy is tried here.
#[tokio::test]
async fn what_breaks_the_policy_is_a_complaint() {
    let server = Server::start();
    let mut phone = Phone::unpack().await;
    phone.open(&server.url("/keep")).await;
    assert!(phone.complaints().await.is_empty());
    for breach in [
        "document.body.setAttribute('style', 'color: red')",
        "new Image().src = 'https://elsewhere.example/x.png'",
        "const sheet = document.createElement('link');
         sheet.rel = 'stylesheet';
         sheet.href = 'https://elsewhere.example/x.css';
         document.head.append(sheet)",
    ] {
        phone.ask(breach).await;
        let begin = Instant::now();
        let said = loop {
            let said = phone.complaints().await;
            if !said.is_empty() || begin.elapsed() > Duration::from_secs(10) {
                break said;
            }
        };
        assert!(
            said.iter()
                .any(|line| line.contains("Content Security Policy")),
            "{breach}: {said:?}"
        );
    }
    phone.forgive("Content Security Policy");
    phone.put_away().await;
}

#[test]
fn an_export_never_mixes_with_what_is_there() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("mine.txt"), "mine").expect("a file");
    let refused = export(folder.path());
    assert!(!refused.status.success());
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(said.contains("is not empty"), "{said}");
}
