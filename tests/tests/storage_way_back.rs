//! A page that the knitter goes on from is kept by the browser for the way back, as it stood: with all that it had
//! begun. It must not shut out the page that comes next from the second copy of what is stored, and nothing that it
//! stored at the last moment may be missing there.

use std::time::Duration;

use evenloop_tests::engine::Engine;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::Value;
use tokio::time::{Instant, sleep};

/// A text that is stored while the page goes away, before the script of the second copy hears of that.
const AT_LAST: &str = "
    addEventListener('pagehide', () => {
        localStorage.setItem('evenloop:told', 'at last');
        evenloopEcho.put('evenloop:told', 'at last', false);
    }, { capture: true, once: true })";

/// The text as the second copy has it.
const SECOND: &str = "
    const opened = new Promise((done) => {
        const asked = indexedDB.open('evenloop');
        asked.onerror = () => done(String(asked.error));
        asked.onsuccess = () => {
            const one = asked.result.transaction('texts').objectStore('texts').get('evenloop:told');
            one.onsuccess = () => { asked.result.close(); done(one.result?.text); };
            one.onerror = () => done(String(one.error));
        };
    });
    const late = new Promise((done) => setTimeout(done, 2_000, 'does not answer'));
    return Promise.race([opened, late])";

/// Waits until a look at the page comes to this.
async fn comes_to(wanted: Value, within: Duration, look: impl AsyncFn() -> Value) {
    let begin = Instant::now();
    loop {
        let seen = look().await;
        if seen == wanted {
            return;
        }
        assert!(begin.elapsed() < within, "{seen}, not {wanted}");
        sleep(Duration::from_millis(50)).await;
    }
}

/// Waits until the second copy has confirmed all that this page told it.
async fn until_whole(phone: &Phone) {
    let look = async || {
        phone
            .ask("return globalThis.evenloopEcho?.whole() ?? null")
            .await
    };
    comes_to(Value::Bool(true), Duration::from_secs(20), look).await;
}

async fn goes_on_and_back(engine: Engine) {
    let server = Server::start();
    let phone = Phone::of(engine).await;
    phone.open(&server.url("/")).await;
    until_whole(&phone).await;
    phone.ask(AT_LAST).await;
    phone.open(&server.url("/measure")).await;
    until_whole(&phone).await;
    let second = async || phone.ask_later(SECOND).await;
    comes_to("at last".into(), Duration::from_secs(20), second).await;
    phone.ask("history.back()").await;
    let back = "return location.pathname === '/' && 'awake' in document.documentElement.dataset";
    phone.until("the page before is back", back).await;
    until_whole(&phone).await;
    phone
        .ask(
            "localStorage.setItem('evenloop:told', 'once more');
             evenloopEcho.put('evenloop:told', 'once more', false)",
        )
        .await;
    until_whole(&phone).await;
    assert_eq!(second().await, "once more");
    phone.put_away().await;
}

#[tokio::test]
async fn the_second_copy_answers_the_next_page_of_chromium() {
    goes_on_and_back(Engine::Chromium).await;
}

#[tokio::test]
async fn the_second_copy_answers_the_next_page_of_firefox() {
    goes_on_and_back(Engine::Firefox).await;
}

#[tokio::test]
async fn the_second_copy_answers_the_next_page_of_webkit() {
    goes_on_and_back(Engine::WebKit).await;
}
