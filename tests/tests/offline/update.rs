//! A newer build: offered, put off, accepted, taken back, with one window and with two, and with a
//! sock under way.

use std::path::Path;
use std::time::{Duration, Instant};

use evenloop_engine::journal::Event;
use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_tests::laid::{THEN, cast_on, lay_out, usual_sock};
use evenloop_tests::line::Line;
use evenloop_tests::site::{OTHER_NEWS, file_named, known_files, other, packed};

use super::*;

#[tokio::test]
async fn an_update_waits_for_the_knitter() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    let old = build(&phone).await;
    let (now, map) = (server.url("/now"), server.url("/map"));
    let _server = server.stop().start_with(other());

    look_for_an_update(&phone).await;
    phone.find(NOTICE).await;
    assert_eq!(build(&phone).await, old, "nothing changes unasked");
    // What is new is told, and only what this build does not have.
    let news = "return [...document.querySelectorAll('.bar .news li')].map((one) => one.textContent).join()";
    phone
        .until("something new is told", &format!("{news} !== ''"))
        .await;
    assert_eq!(phone.ask(news).await, OTHER_NEWS);
    // Put off: it is out of the way as long as the page is open.
    phone.tap(LATER).await;
    phone
        .until(
            "the offer is gone",
            &format!("return document.querySelector('{NOTICE}') === null"),
        )
        .await;
    look_for_an_update(&phone).await;
    nothing_is_offered(&phone).await;
    // Not answered, closed, opened again: still the old build. Nothing lies over the needles of Now;
    // elsewhere it is still on offer.
    phone.open(&now).await;
    assert_eq!(build(&phone).await, old);
    let over_now = format!("return document.querySelector('{NOTICE}')");
    assert_eq!(phone.ask(&over_now).await, Value::Null);
    phone.open(&map).await;
    let new = take_over(&phone).await;
    until_only(&phone, &new).await;
    assert_eq!(phone.ask("return location.pathname").await, "/map");
    nothing_is_offered(&phone).await;
    phone.put_away().await;
}

#[tokio::test]
async fn an_accepted_update_is_offered_to_other_windows() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    let old = build(&phone).await;
    let first = phone.window().await;
    phone.open_window().await;
    phone.open(&server.url("/map")).await;
    let _server = server.stop().start_with(other());

    look_for_an_update(&phone).await;
    take_over(&phone).await;

    phone.look_at(&first).await;
    assert_eq!(build(&phone).await, old, "no window is reloaded unasked");
    take_over(&phone).await;
    phone.put_away().await;
}

/// A window that is busy when the worker asks which build it runs answers late, and is waited for.
#[tokio::test]
async fn a_busy_window_is_waited_for_before_an_old_build_goes() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    let first = phone.window().await;
    phone.open_window().await;
    phone.open(&server.url("/map")).await;
    let _server = server.stop().start_with(other());
    look_for_an_update(&phone).await;
    let new = take_over(&phone).await;
    // Windows of one place may share a thread, so this one is not made busy, only its answer late.
    phone
        .ask(
            "const answer = MessagePort.prototype.postMessage;
             MessagePort.prototype.postMessage = function (...said) {
                 setTimeout(() => answer.apply(this, said), 8000);
             }",
        )
        .await;

    phone.look_at(&first).await;
    take_over(&phone).await;
    until_only(&phone, &new).await;
    phone.put_away().await;
}

/// A window that says nothing, here one with a picture, is waited for before an old build goes. A browser lets no
/// worker take over while the one before waits: that must not wait when there is another.
#[tokio::test]
async fn a_silent_window_does_not_hold_up_a_new_build() {
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    // It has no page that says an icon.
    phone.forgive("favicon.ico");
    let icon = server.url(&file_named(&packed(), "icon"));
    let map = server.url("/map");
    let _server = server.stop().start_with(other());
    look_for_an_update(&phone).await;
    phone.find(NOTICE).await;
    let first = phone.window().await;
    phone.open_window().await;
    phone.open_file(&icon).await;
    phone.look_at(&first).await;
    // The worker hears that a page has woken.
    phone.open(&map).await;
    let begin = Instant::now();
    take_over(&phone).await;
    let took = begin.elapsed();
    assert!(took < Duration::from_secs(20), "{took:?}");
    phone.put_away().await;
}

/// A browser that starts a worker anew to have it answer may lose what it was asked.
#[tokio::test]
async fn a_new_build_that_missed_the_question_is_asked_again() {
    let server = Server::start();
    let phone = phone_with(&server).await;
    phone
        .at_every_start(
            "const post = ServiceWorker.prototype.postMessage;
             window.lost = 0;
             ServiceWorker.prototype.postMessage = function (word, ports) {
                 if (word === 'WHO' && window.lost === 0) window.lost += 1;
                 else post.call(this, word, ports);
             }",
        )
        .await;
    let map = server.url("/map");
    phone.open(&map).await;
    let _server = server.stop().start_with(other());
    look_for_an_update(&phone).await;
    until_settled(&phone, true).await;
    let begin = Instant::now();
    phone.find(NOTICE).await;
    let took = begin.elapsed();
    assert_eq!(phone.ask("return window.lost").await, 1);
    assert!(took < Duration::from_secs(20), "{took:?}");
    phone.put_away().await;
}

/// A slow line: the window is reloaded while the new build is on its way.
#[tokio::test]
async fn an_update_that_set_out_before_the_window_is_offered_there() {
    let (old_server, new_server) = (
        Server::start(),
        Server::start_with(other(), ([127, 0, 0, 1], 0).into()),
    );
    let line = Line::to(old_server.address());
    let phone = Phone::unpack().await;
    phone.open(&line.url("/map")).await;
    phone.until_offline_ready().await;
    let old = build(&phone).await;
    line.lead_to(new_server.address());
    line.hold(&file_named(other(), "icon"));
    look_for_an_update(&phone).await;
    phone.reload().await;
    let on_its_way = "return (await navigator.serviceWorker.ready).installing !== null";
    assert_eq!(phone.ask_later(on_its_way).await, true);
    nothing_is_offered(&phone).await;

    line.let_go();
    phone.find(NOTICE).await;
    assert_ne!(take_over(&phone).await, old);
    phone.put_away().await;
}

/// The usual sock as another Evenloop planned it: three rounds of the leg fewer than ours would have.
fn older_plan() -> Plan {
    let mut plan = usual_sock();
    for section in &mut plan.sections {
        if section.kind == SectionKind::Leg {
            section.steps.truncate(section.steps.len() - 3);
        }
    }
    plan
}

/// A phone with a sock under way, thirty moves after casting on.
async fn phone_with_a_sock(server: &Server) -> Phone {
    let phone = Phone::unpack().await;
    cast_on(&phone, server).await;
    phone.until_offline_ready().await;
    let mut events = vec![Event::Begin(THEN)];
    events.extend((1..=30).map(|round| Event::Done(THEN + 60 * round)));
    lay_out(&phone, &older_plan(), [&events, &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    phone
}

/// What Now says.
const PLACE: &str = "return document.querySelector('.now-head').textContent
    + document.querySelector('.instruction').textContent";

#[tokio::test]
async fn a_sock_under_way_keeps_its_plan_and_its_place() {
    let server = Server::start();
    let phone = phone_with_a_sock(&server).await;
    let place = phone.ask(PLACE).await;
    let socks = phone.ask(SOCKS).await;
    assert!(
        socks.as_object().is_some_and(|all| all.len() > 2),
        "{socks}"
    );
    let (now, map) = (server.url("/now"), server.url("/map"));
    let _server = server.stop().start_with(other());

    look_for_an_update(&phone).await;
    until_settled(&phone, true).await;
    nothing_is_offered(&phone).await;
    phone.open(&map).await;
    take_over(&phone).await;
    assert_eq!(phone.ask(SOCKS).await, socks, "byte for byte");
    phone.open(&now).await;
    phone.find(".pad").await;
    assert_eq!(phone.ask(PLACE).await, place);
    assert_eq!(phone.ask(SOCKS).await, socks, "byte for byte");
    phone.put_away().await;
}

/// The window with the sock goes on with its own build until it is asked, whatever happens in the
/// other one and on the server.
#[tokio::test]
async fn two_windows_of_two_builds_never_mix() {
    let (old_files, new_files) = (known_files(&packed()), known_files(other()));
    let server = Server::start();
    let phone = phone_with_a_sock(&server).await;
    let old = build(&phone).await;
    let map = server.url("/map");
    let knitting = phone.window().await;
    let looking = phone.open_window().await;
    phone.open(&map).await;
    let server = server.stop().start_with(other());
    look_for_an_update(&phone).await;
    let new = take_over(&phone).await;
    assert_eq!(wrong_files(&phone, &new_files).await, serde_json::json!([]));

    phone.look_at(&knitting).await;
    assert_eq!(build(&phone).await, old, "no window is reloaded unasked");
    nothing_is_offered(&phone).await;
    let before = phone.ask(PLACE).await;
    phone.tap(".pad").await;
    let moved = format!("return place() !== {before}");
    phone
        .ask(&format!("window.place = () => {{ {PLACE} }}"))
        .await;
    phone.until("a round is counted", &moved).await;
    // Its files are gone from the server, but for those that did not change.
    let gone = gone(&server, &old_files).await;
    assert!(gone > 0, "something of the old build is gone");
    assert_eq!(wrong_files(&phone, &old_files).await, serde_json::json!([]));
    // Parts of the app that this window has not loaded yet are among them.
    phone.tap("nav a[href='/measure']").await;
    phone.find("#foot-length").await;
    assert_eq!(build(&phone).await, old);
    phone.tap("nav a[href='/now']").await;
    phone.find(".pad").await;
    let mut held = builds(&phone).await;
    held.sort();
    let mut both = vec![old.clone(), new.clone()];
    both.sort();
    assert_eq!(held, both);

    // The old window stays old as long as it is open, and the new one new, over a reload too.
    phone.look_at(&looking).await;
    phone.reload().await;
    assert_eq!(wrong_files(&phone, &new_files).await, serde_json::json!([]));
    phone.look_at(&knitting).await;
    assert_eq!(wrong_files(&phone, &old_files).await, serde_json::json!([]));

    let place = phone.ask(PLACE).await;
    phone.reload().await;
    phone.find(".pad").await;
    assert_eq!(build(&phone).await, new);
    assert_eq!(phone.ask(PLACE).await, place);
    until_only(&phone, &new).await;
    phone.put_away().await;
}

/// How many of these files the server does not have as they were.
async fn gone(server: &Server, files: &[(String, String)]) -> usize {
    let mut gone = 0;
    for (url, _) in files {
        let answer = reqwest::get(server.url(url)).await.expect("it answers");
        gone += usize::from(!answer.status().is_success());
    }
    gone
}

/// A deployment is taken back before anyone accepted it: the build in use is deployed once more, and
/// its files must survive its own installation.
#[tokio::test]
async fn a_deployment_that_is_taken_back_leaves_the_build_in_use() {
    let server = Server::start();
    let mut phone = phone_with(&server).await;
    let old = build(&phone).await;
    let map = server.url("/map");
    let server = server.stop().start_with(other());
    look_for_an_update(&phone).await;
    phone.find(NOTICE).await;
    let server = server.stop().start_with(Path::new(&packed()));
    look_for_an_update(&phone).await;
    until_settled(&phone, false).await;
    phone.forgive("ERR_CONNECTION_REFUSED");
    server.stop();
    phone.open(&map).await;
    assert_eq!(build(&phone).await, old);
    nothing_is_offered(&phone).await;
    until_only(&phone, &old).await;
    phone.put_away().await;
}
