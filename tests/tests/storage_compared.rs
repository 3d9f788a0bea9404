//! Both copies of what is stored are compared some seconds after a start, in three engines: what one of them has lost or
//! has older comes back from the other, whichever it is.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_tests::engine::Engine;
use evenloop_tests::laid::cast_on;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::touch;
use serde_json::{Value, json};

/// Both copies were compared on this page, and were the same.
const THE_SAME: &str = "return (globalThis.evenloopEcho?.compared() ?? 0) > 0";

/// The texts of the pair as local storage has them.
const FIRST: &str = "return Object.fromEntries(Object.entries({ ...localStorage })
    .filter(([key]) => key.startsWith('evenloop:pair:')).sort())";

/// Asks the second copy something, with `texts` its store.
fn of_second(mode: &str, ask: &str) -> String {
    format!(
        "return await new Promise((done, fail) => {{
             const asked = indexedDB.open('evenloop');
             asked.onerror = () => fail(asked.error);
             asked.onsuccess = () => {{
                 const transaction = asked.result.transaction('texts', '{mode}');
                 const texts = transaction.objectStore('texts');
                 let found = null;
                 {ask}
                 transaction.oncomplete = () => {{ asked.result.close(); done(found); }};
                 transaction.onabort = () => fail(transaction.error);
             }};
         }})"
    )
}

/// The texts of the pair as the second copy has them.
async fn second(phone: &Phone) -> Value {
    let ask = "texts.getAll().onsuccess = ({ target }) => {
        const pairs = target.result.filter(({ key, text }) => key.startsWith('evenloop:pair:') && text !== null);
        found = Object.fromEntries(pairs.map(({ key, text }) => [key, text]).sort());
    };";
    phone.ask_later(&of_second("readonly", ask)).await
}

/// The key of the pair that ends so.
fn key(texts: &Value, end: &str) -> String {
    let texts = texts.as_object().expect("texts");
    let found = texts.keys().find(|key| key.ends_with(end));
    found.expect("a text of the pair").clone()
}

async fn what_is_lost_or_older_comes_back(engine: Engine) {
    let server = Server::start();
    let phone = Phone::of(engine).await;
    phone.open(&server.url("/measure")).await;
    cast_on(&phone, &server).await;
    touch(&phone).await;
    let older = phone.ask(FIRST).await;
    touch(&phone).await;
    touch(&phone).await;
    phone.open(&server.url("/keep")).await;
    phone.until("both copies are the same", THE_SAME).await;
    let all = phone.ask(FIRST).await;
    let (log, plan, head) = (
        key(&all, ":log:1:0"),
        key(&all, ":plan"),
        key(&all, ":head"),
    );
    assert_ne!(all[&log], older[&log]);
    assert_eq!(second(&phone).await, all);

    // Local storage has an older log and no plan any more; the second copy has no head.
    let aged = json!(older[&log]);
    phone
        .ask(&format!(
            "localStorage.setItem('{log}', {aged}); localStorage.removeItem('{plan}')"
        ))
        .await;
    let lost = format!("texts.delete('{head}');");
    phone.ask_later(&of_second("readwrite", &lost)).await;
    assert_ne!(second(&phone).await, all);
    phone.open(&server.url("/keep")).await;
    phone.until("both copies are the same", THE_SAME).await;
    assert_eq!(phone.ask(FIRST).await, all);
    assert_eq!(second(&phone).await, all);

    // The second copy has an older log and no plan any more; local storage has lost a head with its version.
    let damaged = format!(
        "texts.get('{log}').onsuccess = ({{ target }}) => texts.put({{ ...target.result, text: {aged} }});
         texts.delete('{plan}');"
    );
    phone.ask_later(&of_second("readwrite", &damaged)).await;
    phone
        .ask(&format!(
            "localStorage.removeItem('{head}'); localStorage.removeItem('evenloop-version:{head}#')"
        ))
        .await;
    assert_ne!(second(&phone).await, all);
    phone.open(&server.url("/keep")).await;
    phone.until("both copies are the same", THE_SAME).await;
    assert_eq!(phone.ask(FIRST).await, all);
    assert_eq!(second(&phone).await, all);
    phone.put_away().await;
}

#[tokio::test]
async fn what_is_lost_or_older_in_chromium_comes_back() {
    what_is_lost_or_older_comes_back(Engine::Chromium).await;
}

#[tokio::test]
async fn what_is_lost_or_older_in_firefox_comes_back() {
    what_is_lost_or_older_comes_back(Engine::Firefox).await;
}

#[tokio::test]
async fn what_is_lost_or_older_in_webkit_comes_back() {
    what_is_lost_or_older_comes_back(Engine::WebKit).await;
}
