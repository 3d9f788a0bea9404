//! The operator ends the service workers of phones.

use evenloop_tests::engine::Engine;
use evenloop_tests::laid::cast_on;
use evenloop_tests::server::command;
use evenloop_tests::site::packed;
use serde_json::json;

use super::*;

const RETIRE: (&str, &str) = ("EVENLOOP_RETIRE", "yes");
const LEFT: &str = "return [
    (await navigator.serviceWorker.getRegistrations()).length,
    navigator.serviceWorker.controller,
    (await caches.keys()).length]";

#[tokio::test]
async fn a_retired_worker_leaves_nothing_but_the_socks_in_chromium() {
    retire(Engine::Chromium).await;
}

#[tokio::test]
async fn a_retired_worker_leaves_nothing_but_the_socks_in_firefox() {
    retire(Engine::Firefox).await;
}

#[tokio::test]
async fn a_retired_worker_leaves_nothing_but_the_socks_in_webkit() {
    retire(Engine::WebKit).await;
}

async fn retire(engine: Engine) {
    let server = Server::start();
    let phone = Phone::of(engine).await;
    if engine == Engine::WebKit {
        // It never ends an installation during which the window was reloaded, as casting on does.
        phone.open(&server.url("/")).await;
        phone.until_offline_ready().await;
    }
    cast_on(&phone, &server).await;
    phone.until_offline_ready().await;
    let socks = phone.ask(SOCKS).await;
    phone
        .ask_later("await caches.open('of-somebody-else'); return true")
        .await;
    phone.ask("window.before = true").await;
    let server = server.stop().start_set(&[RETIRE]);
    look_for_an_update(&phone).await;
    phone
        .until(
            "the window is loaded anew",
            "return window.before === undefined",
        )
        .await;
    phone.until_awake().await;
    phone.find(".pad").await;
    phone
        .until_later(
            "no worker is left",
            "return (await navigator.serviceWorker.getRegistrations()).length === 0",
        )
        .await;
    // Only our own files went.
    assert_eq!(phone.ask_later(LEFT).await, json!([0, null, 1]));
    assert_eq!(phone.ask(SOCKS).await, socks);

    // Each page still tries for a worker, and none of them is loaded over and over.
    let begun = "return performance.timeOrigin";
    phone.reload().await;
    let first = phone.ask(begun).await;
    phone
        .until_later(
            "no worker is left",
            "await new Promise((done) => setTimeout(done, 1000));
             return (await navigator.serviceWorker.getRegistrations()).length === 0",
        )
        .await;
    assert_eq!(phone.ask(begun).await, first, "loaded once");
    let stored = "return [...document.querySelectorAll('[role=status]')]
        .some((bar) => bar.textContent.includes('works without signal'))";
    phone.open(&server.url("/map")).await;
    assert_eq!(phone.ask(stored).await, false, "that would be a lie");

    // And back again.
    let _server = server.stop().start();
    phone.reload().await;
    phone.until_offline_ready().await;
    assert_eq!(phone.ask(SOCKS).await, socks);
    phone.put_away().await;
}

#[tokio::test]
async fn nobody_may_store_the_worker_itself() {
    for settings in [vec![], vec![RETIRE]] {
        let server = Server::start_set(&packed(), ([127, 0, 0, 1], 0).into(), &settings);
        let answer = reqwest::get(server.url("/sw.js"))
            .await
            .expect("it answers");
        assert!(answer.status().is_success());
        let header = |name: &str| {
            answer
                .headers()
                .get(name)
                .and_then(|value| value.to_str().ok())
        };
        assert_eq!(header("cache-control"), Some("no-cache"));
        assert!(header("content-type").is_some_and(|kind| kind.starts_with("text/javascript")));
        let script = answer.text().await.expect("a script");
        assert_eq!(script.contains("unregister"), !settings.is_empty());
    }
}

#[test]
fn an_export_can_retire_workers_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let site = folder.path().join("site");
    let exported = command()
        .arg("export")
        .arg(&site)
        .env("EVENLOOP_SITE", packed())
        .env(RETIRE.0, RETIRE.1)
        .output()
        .expect("the server's command runs");
    assert!(exported.status.success());
    let worker = std::fs::read_to_string(site.join("sw.js")).expect("there is a worker");
    assert!(worker.contains("unregister"), "{worker}");
    for packed in ["sw.js.br", "sw.js.gz"] {
        assert!(!site.join(packed).exists(), "{packed} is of the other one");
    }
}
