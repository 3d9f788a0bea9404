//! A page that wakes although something is lost on the way, and one that says so when it can go on no more.

use std::time::Duration;

use evenloop_tests::laid::{fill_in, touch_cast_on};
use evenloop_tests::line::{Line, Mishap};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::site::{file_of, known_files, packed};
use evenloop_tests::touching::touch;
use serde_json::json;

/// Whether something in the page is hidden.
async fn hidden(phone: &Phone, id: &str) -> bool {
    let asked = format!("return document.getElementById('{id}').hidden");
    phone.ask(&asked).await == json!(true)
}

/// Waits until something that is hidden in the page is uncovered.
async fn until_said(phone: &Phone, id: &str, what: &str) {
    let seen = format!("return !document.getElementById('{id}').hidden");
    phone.until(what, &seen).await;
}

/// The address of the script that the page knows by that name.
fn script(name: &str) -> String {
    let begin = format!("/{name}.");
    let files = known_files(&packed()).into_iter().map(|(url, _)| url);
    let mut found = files.filter(|url| url.contains(&begin));
    found.next().unwrap_or_else(|| panic!("no script {name}"))
}

#[tokio::test]
async fn a_file_that_is_lost_once_only_makes_the_page_wake_later() {
    let server = Server::start();
    let main =
        ["/evenloop.js", "_bg.wasm", "split_measure.wasm"].map(|end| file_of(&packed(), end));
    for file in main {
        for mishap in [Mishap::Lost, Mishap::BreaksOff, Mishap::CutShort] {
            let line = Line::to(server.address());
            let mut phone = Phone::unpack().await;
            phone.forgive_a_bad_line();
            phone.forgive("Unexpected");
            line.spoil_once(&file, mishap.clone());
            phone.open_file(&line.url("/measure")).await;
            phone.until_awake().await;
            assert!(hidden(&phone, "waiting").await, "{file} {mishap:?}");
            assert!(hidden(&phone, "trouble").await, "{file} {mishap:?}");
            let asked = line.asked().iter().filter(|path| **path == file).count();
            assert!(asked > 1, "{file} {mishap:?} was asked for {asked} times");
            phone.put_away().await;
        }
    }
}

#[tokio::test]
async fn a_second_copy_that_comes_late_has_what_was_counted_before() {
    let server = Server::start();
    let line = Line::to(server.address());
    let mut phone = Phone::unpack().await;
    phone.forgive_a_bad_line();
    line.spoil(&script("echo"), Mishap::Lost);
    phone.open_file(&line.url("/measure")).await;
    phone.until_awake().await;
    fill_in(&phone).await;
    touch_cast_on(&phone).await;
    for _ in 0..3 {
        touch(&phone).await;
    }
    let version = "const key = Object.keys(localStorage).find((key) => /^evenloop:pair:[^:]*:log:1:0$/.test(key));
         return Number(localStorage.getItem(`evenloop-version:${key}#`))";
    phone
        .until(
            "each text has its version",
            &format!("return (() => {{ {version} }})() >= 3"),
        )
        .await;
    assert!(hidden(&phone, "waiting").await && hidden(&phone, "trouble").await);
    assert_eq!(phone.ask("return evenloopEcho.whole()").await, json!(false));
    line.lead_to(server.address());
    phone.ask("dispatchEvent(new Event('online'))").await;
    phone
        .until(
            "both copies are the same",
            "return evenloopEcho.whole() && evenloopEcho.compared() > 0",
        )
        .await;
    let log = phone
        .ask_later(
            "const opened = await new Promise((resolve) => {
                 const asked = indexedDB.open('evenloop', 1);
                 asked.onsuccess = () => resolve(asked.result);
             });
             const entries = await new Promise((resolve) => {
                 const asked = opened.transaction('texts').objectStore('texts').getAll();
                 asked.onsuccess = () => resolve(asked.result);
             });
             return entries.every(({ key, text }) => localStorage.getItem(key) === text)
                 && entries.some(({ key }) => key.endsWith(':log:1:0'))",
        )
        .await;
    assert_eq!(log, json!(true));
    phone.put_away().await;
}

#[tokio::test]
async fn what_is_waited_for_is_said_and_comes_with_the_signal() {
    let server = Server::start();
    let line = Line::to(server.address());
    let mut phone = Phone::unpack().await;
    phone.forgive_a_bad_line();
    line.spoil(&file_of(&packed(), "_bg.wasm"), Mishap::Lost);
    phone.open_file(&line.url("/now")).await;
    until_said(&phone, "waiting", "it is said that something is waited for").await;
    assert!(hidden(&phone, "trouble").await);
    // In the end the reader is asked to look; the page tries on.
    until_said(&phone, "trouble", "a reload is advised").await;
    line.lead_to(server.address());
    // Without this it would be at most as long as the longest pause.
    phone.ask("dispatchEvent(new Event('online'))").await;
    phone.until_awake().await;
    assert!(hidden(&phone, "waiting").await && hidden(&phone, "trouble").await);
    phone.put_away().await;
}

#[tokio::test]
async fn a_page_whose_boot_script_never_comes_says_so() {
    let server = Server::start();
    let line = Line::to(server.address());
    let mut phone = Phone::unpack().await;
    phone.forgive_a_bad_line();
    line.spoil(&script("boot"), Mishap::Lost);
    let seen = "getComputedStyle(document.getElementById('unbooted')).visibility";
    let seen = format!("return {seen} === 'visible'");
    phone.open_file(&line.url("/measure")).await;
    assert_eq!(phone.ask(&seen).await, json!(false));
    phone.until("a reload is advised", &seen).await;
    line.lead_to(server.address());
    phone.open_file(&line.url("/measure")).await;
    phone.until_awake().await;
    let gone = "return document.getElementById('unbooted') === null";
    assert_eq!(phone.ask(gone).await, json!(true));
    phone.put_away().await;
}

#[tokio::test]
async fn an_app_that_stops_later_says_so() {
    let server = Server::start();
    let mut phone = Phone::unpack().await;
    phone.forgive("RuntimeError");
    phone.forgive("unreachable");
    phone.open(&server.url("/")).await;
    assert!(hidden(&phone, "trouble").await);
    // More memory than there can be: the app stops, as it does on a fault of its own.
    let script = file_of(&packed(), "/evenloop.js");
    phone
        .ask_later(&format!(
            "const app = await import('{script}');
             setTimeout(() => app.initSync().__wbindgen_malloc(0xffffffff, 1));
             return true"
        ))
        .await;
    until_said(&phone, "trouble", "it is said that something went wrong").await;
    tokio::time::sleep(Duration::from_millis(100)).await;
    phone.put_away().await;
}

/// A browser in which compiling beside the page's thread has no end any more.
const ENDLESS: &str = "
    for (const name of ['compile', 'compileStreaming', 'instantiate', 'instantiateStreaming'])
        WebAssembly[name] = () => new Promise(() => {});";

#[tokio::test]
async fn a_browser_whose_compilations_never_end_wakes_too() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/measure")).await;
    phone.until_offline_ready().await;
    phone.at_every_start(ENDLESS).await;
    phone.reload().await;
    // A part of its own, too.
    phone.tap("nav a[href='/keep']").await;
    phone.find(".screen.settings").await;
    assert!(hidden(&phone, "waiting").await);
    assert!(hidden(&phone, "trouble").await);
    phone.put_away().await;
}

#[tokio::test]
async fn a_page_that_does_not_wake_says_so() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.at_every_start(ENDLESS).await;
    // Without a worker it may be the line.
    phone.open_file(&server.url("/measure")).await;
    until_said(&phone, "waiting", "it is said that something is waited for").await;
    phone.put_away().await;
}
