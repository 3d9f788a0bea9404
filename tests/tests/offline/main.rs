//! Without signal: the server is really stopped, and every screen still opens. And the change from
//! one build to the next: whole or not at all, and on the knitter's word only.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

mod evicted;
mod install;
mod retire;
mod screens;
mod traces;
mod update;

use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::Value;

const BUILD: &str = "return document.querySelector('meta[name=evenloop-build]').content";
/// The button that takes the new build into use.
const NOTICE: &str = "[role=status] .button.lead";
/// The button that leaves it for another time.
const LATER: &str = "[role=status] .button:not(.lead)";
/// All that a pair is, but for the hour at which it was last looked at.
const SOCKS: &str = "return Object.fromEntries(Object.entries(localStorage)
    .filter(([key]) => key.startsWith('evenloop:pair:')))";

/// A phone that has been online once.
async fn phone_with(server: &Server) -> Phone {
    let phone = Phone::unpack().await;
    phone.open(&server.url("/")).await;
    phone.until_offline_ready().await;
    phone
}

async fn look_for_an_update(phone: &Phone) {
    let asked = phone
        .ask_later(
            "await (await navigator.serviceWorker.getRegistration()).update(); return 'asked'",
        )
        .await;
    assert_eq!(asked, "asked");
}

/// Waits until no worker is on its way.
async fn until_settled(phone: &Phone, waiting: bool) {
    let script = format!(
        "const known = await navigator.serviceWorker.getRegistration();
         return known.installing === null && (known.waiting !== null) === {waiting}"
    );
    phone
        .until_later(
            &format!("no worker is on its way, and one waits: {waiting}"),
            &script,
        )
        .await;
}

async fn nothing_is_offered(phone: &Phone) {
    let notice = phone
        .ask(&format!("return document.querySelector('{NOTICE}')"))
        .await;
    assert_eq!(notice, Value::Null);
}

async fn build(phone: &Phone) -> String {
    let build = phone.ask(BUILD).await;
    build.as_str().expect("a page names its build").to_owned()
}

/// Takes the offered build into use; which one is here then.
async fn take_over(phone: &Phone) -> String {
    let old = build(phone).await;
    phone.tap(NOTICE).await;
    phone
        .until("another build is here", &format!("{BUILD} !== '{old}'"))
        .await;
    phone.until_awake().await;
    build(phone).await
}

/// The builds that the phone holds, whole or not.
async fn builds(phone: &Phone) -> Vec<String> {
    let names = phone.ask_later("return await caches.keys()").await;
    let names: Vec<String> = serde_json::from_value(names).expect("names");
    let builds = names
        .iter()
        .filter_map(|name| name.strip_prefix("evenloop-"));
    builds.map(str::to_owned).collect()
}

/// Waits until the phone holds this build alone.
async fn until_only(phone: &Phone, build: &str) {
    let script = format!("return String(await caches.keys()) === 'evenloop-{build}'");
    phone.until_later("only one build is left", &script).await;
}

/// Which of these files the page does not get as they should be.
async fn wrong_files(phone: &Phone, files: &[(String, String)]) -> Value {
    let files = serde_json::to_string(files).expect("text is JSON");
    let script = format!(
        "const wrong = [];
         for (const [url, hash] of {files}) {{
             const content = await (await fetch(url)).arrayBuffer();
             const bytes = new Uint8Array(await crypto.subtle.digest('SHA-256', content), 0, 8);
             const found = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
             if (found !== hash) wrong.push(url);
         }}
         return wrong"
    );
    phone.ask_later(&script).await
}
