//! Now before the app is awake: what was last shown stands there at the first paint, the pad answers, and every
//! touch is in the log once the app has woken, wherever the browser was killed.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::Duration;

use evenloop_engine::journal::Event;
use evenloop_engine::plan::{Plan, SectionKind, make};
use evenloop_engine::recipe::{Direction, Method, Recipe, Seating};
use evenloop_engine::trace::Position;
use evenloop_tests::laid::{THEN, begun_at, fill_in, find, lay_out, touch_cast_on, usual_sock};
use evenloop_tests::line::{Line, Mishap};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::site::{file_of, packed};
use evenloop_tests::touching::{BOUNCE, done, put};
use serde_json::Value;

/// Forgets everything of the site but what the knitter has stored.
const FORGET_FILES: &str = "
    for (const one of await navigator.serviceWorker.getRegistrations()) await one.unregister();
    for (const name of await caches.keys()) await caches.delete(name);
    return true";

/// What stands on the screen and whether its picture is small, first of the app and then of the first paint, whichever
/// is there.
const WORDS: &str = "
    const now = document.querySelector('.now:not(.first)') ?? document.querySelector('.first');
    return ['.now-head', '.needles', '.instruction', '.then', '.pad']
        .map((css) => now.querySelector(css)?.textContent.replace(/\\s+/g, ' ').trim())
        .concat(now.hasAttribute('data-small'))";

/// The number on the pad.
const NUMBER: &str = "
    const now = document.querySelector('.now:not(.first)') ?? document.querySelector('.first');
    return now.querySelector('.pad .number').textContent.match(/[0-9]+/)?.[0]";

/// A phone on a line that loses the app's wasm whenever that is wanted.
struct Sleepy {
    server: Server,
    line: Line,
    wasm: String,
}

impl Sleepy {
    fn new() -> Self {
        let server = Server::start();
        let line = Line::to(server.address());
        let wasm = file_of(&packed(), "_bg.wasm");
        Self { server, line, wasm }
    }

    /// A pair at a place, with Now shown and kept for the next first paint.
    async fn phone(&self, plan: &Plan, logs: [&[Event]; 2]) -> Phone {
        let mut phone = Phone::unpack().await;
        phone.forgive_a_bad_line();
        cast_on_at(&phone, self).await;
        lay_out(&phone, plan, logs).await;
        phone
    }

    async fn shown(&self, phone: &Phone) {
        phone.ask("localStorage.removeItem('evenloop-shown')").await;
        phone.open(&self.line.url("/now")).await;
        phone.find(".pad").await;
        kept(phone).await;
    }

    /// Opens Now while the app does not come.
    async fn asleep(&self, phone: &Phone) {
        phone.ask_later(FORGET_FILES).await;
        let none = serde_json::json!({});
        phone.tools("Network.enable", none.clone()).await;
        phone.tools("Network.clearBrowserCache", none).await;
        self.line.spoil(&self.wasm, Mishap::Lost);
        phone.open_file(&self.line.url("/now")).await;
        phone
            .until(
                "the first paint",
                "return !!document.querySelector('.first .pad')",
            )
            .await;
        assert_eq!(
            phone
                .ask("return document.documentElement.dataset.awake ?? null")
                .await,
            Value::Null
        );
    }

    /// The app comes.
    async fn wake(&self, phone: &Phone) {
        self.line.lead_to(self.server.address());
        phone.ask("dispatchEvent(new Event('online'))").await;
        phone.until_awake().await;
        phone
            .until(
                "the first paint goes",
                "return !document.querySelector('.first')",
            )
            .await;
    }
}

async fn cast_on_at(phone: &Phone, sleepy: &Sleepy) {
    let measure = sleepy.line.url("/measure");
    phone.open(&measure).await;
    phone.forget().await;
    phone.open(&measure).await;
    fill_in(phone).await;
    touch_cast_on(phone).await;
}

/// Waits until the screen is kept for the next first paint.
async fn kept(phone: &Phone) {
    phone
        .until(
            "the screen is kept",
            "return !!localStorage.getItem('evenloop-shown')",
        )
        .await;
}

async fn tap(phone: &Phone, css: &str) {
    phone.tap(css).await;
    tokio::time::sleep(BOUNCE).await;
}

async fn number(phone: &Phone) -> u32 {
    let shown = phone.ask(NUMBER).await;
    let shown = shown.as_str().expect("a number is shown");
    shown
        .parse()
        .unwrap_or_else(|_| panic!("{shown} is a number"))
}

fn leg(plan: &Plan) -> Position {
    find(plan, |kind, _| kind == SectionKind::Leg)[4]
}

#[tokio::test]
async fn touches_before_the_app_is_awake_turn_the_number_and_are_in_the_log_then() {
    let sleepy = Sleepy::new();
    let plan = usual_sock();
    let phone = sleepy.phone(&plan, [&begun_at(leg(&plan)), &[]]).await;
    sleepy.shown(&phone).await;
    let (before, logged) = (number(&phone).await, done(&phone).await);
    sleepy.asleep(&phone).await;
    assert_eq!(number(&phone).await, before);
    for more in 1..=4 {
        tap(&phone, ".first .pad").await;
        assert_eq!(number(&phone).await, before + more);
    }
    tap(&phone, ".first .undo").await;
    assert_eq!(number(&phone).await, before + 3);
    assert_eq!(done(&phone).await, logged, "the log is the app's");
    // Loaded anew before the app has come, it goes on from there.
    phone.open_file(&sleepy.line.url("/now")).await;
    phone
        .until(
            "the first paint",
            "return !!document.querySelector('.first .pad')",
        )
        .await;
    assert_eq!(number(&phone).await, before + 3);
    tap(&phone, ".first .pad").await;
    sleepy.wake(&phone).await;
    assert_eq!(number(&phone).await, before + 4);
    assert_eq!(done(&phone).await, logged + 5);
    let queue = phone
        .ask("return localStorage.getItem('evenloop:touched')")
        .await;
    assert_eq!(queue, Value::Null);
    phone.put_away().await;
}

#[tokio::test]
async fn what_is_kept_is_small_and_goes_far_enough() {
    let sleepy = Sleepy::new();
    let plan = usual_sock();
    let gusset = find(&plan, |kind, _| kind == SectionKind::Gusset)[3];
    let phone = sleepy.phone(&plan, [&begun_at(gusset), &[]]).await;
    sleepy.shown(&phone).await;
    let kept = phone
        .ask(
            "const text = localStorage.getItem('evenloop-shown');
             const { steps, back, numbers } = JSON.parse(text);
             return [steps.length, back.length, numbers.length, text.length]",
        )
        .await;
    let kept: Vec<usize> = serde_json::from_value(kept).expect("four numbers");
    println!("steps, back, numbers, characters: {kept:?}");
    // The log holds one jump, and a touch does not lead here again from before it.
    assert_eq!(kept[..2], [13, 0]);
    assert!(kept[2] > 13, "numbers go on");
    assert!(kept[3] < 112 * 1024, "{} characters", kept[3]);
    phone.put_away().await;
}

#[tokio::test]
async fn the_map_counts_what_was_touched_before_the_app_was_awake() {
    let sleepy = Sleepy::new();
    let plan = usual_sock();
    let phone = sleepy.phone(&plan, [&begun_at(leg(&plan)), &[]]).await;
    sleepy.shown(&phone).await;
    let (before, logged) = (number(&phone).await, done(&phone).await);
    sleepy.asleep(&phone).await;
    tap(&phone, ".first .pad").await;
    tap(&phone, ".first .pad").await;
    sleepy.line.lead_to(sleepy.server.address());
    phone.open(&sleepy.line.url("/map")).await;
    phone
        .until(
            "the touches are taken",
            "return localStorage.getItem('evenloop:touched') === null",
        )
        .await;
    assert_eq!(done(&phone).await, logged + 2);
    phone.open(&sleepy.line.url("/now")).await;
    phone.find(".now:not(.first) .pad").await;
    assert_eq!(number(&phone).await, before + 2);
    phone.put_away().await;
}

#[tokio::test]
async fn while_the_screen_cannot_be_had_the_first_paint_goes_on() {
    let sleepy = Sleepy::new();
    let plan = usual_sock();
    let mut phone = sleepy.phone(&plan, [&begun_at(leg(&plan)), &[]]).await;
    for said in ["HTTP status code is not ok", "split_now"] {
        phone.forgive(said);
    }
    sleepy.shown(&phone).await;
    let (before, logged) = (number(&phone).await, done(&phone).await);
    let part = file_of(&packed(), "split_now.wasm");
    // Nor does it come before, when the page asks for it early.
    sleepy.line.spoil(&part, Mishap::Lost);
    sleepy.asleep(&phone).await;
    tap(&phone, ".first .pad").await;
    // The app comes, but not the part of it that draws Now.
    sleepy.line.lead_to(sleepy.server.address());
    sleepy.line.spoil(&part, Mishap::Lost);
    sleepy.line.asked();
    phone.ask("dispatchEvent(new Event('online'))").await;
    let mut asked = false;
    for _ in 0..200 {
        asked = asked || sleepy.line.asked().contains(&part);
        tokio::time::sleep(Duration::from_millis(100)).await;
        if asked {
            break;
        }
    }
    assert!(asked, "the part is asked for");
    tap(&phone, ".first .pad").await;
    assert_eq!(number(&phone).await, before + 2);
    assert_eq!(done(&phone).await, logged, "the log is the app's");
    // Another screen of the same app takes what was touched.
    phone.tap("nav a[href='/map']").await;
    phone
        .until(
            "the touches are taken",
            "return location.pathname === '/map' && localStorage.getItem('evenloop:touched') === null",
        )
        .await;
    assert_eq!(done(&phone).await, logged + 2);
    phone.put_away().await;
}

#[tokio::test]
async fn a_browser_killed_before_the_app_is_awake_loses_no_touch() {
    let sleepy = Sleepy::new();
    let plan = usual_sock();
    let phone = sleepy.phone(&plan, [&begun_at(leg(&plan)), &[]]).await;
    sleepy.shown(&phone).await;
    // What was laid out past the app reaches the disk when the browser is closed.
    let phone = Phone::switched_on(phone.close().await).await;
    phone.open(&sleepy.line.url("/now")).await;
    kept(&phone).await;
    let (before, logged) = (number(&phone).await, done(&phone).await);
    sleepy.asleep(&phone).await;
    for _ in 0..3 {
        tap(&phone, ".first .pad").await;
    }
    // The second copy is written once the touch is painted.
    tokio::time::sleep(Duration::from_millis(500)).await;
    let mut phone = Phone::switched_on(phone.kill()).await;
    phone.forgive_a_bad_line();
    sleepy.line.lead_to(sleepy.server.address());
    phone.open(&sleepy.line.url("/now")).await;
    phone
        .until(
            "the first paint goes",
            "return !document.querySelector('.first')",
        )
        .await;
    assert_eq!(done(&phone).await, logged + 3);
    assert_eq!(number(&phone).await, before + 3);
    phone.put_away().await;
}

#[tokio::test]
async fn where_another_window_counted_the_truth_is_shown_and_said() {
    let sleepy = Sleepy::new();
    let plan = usual_sock();
    let phone = sleepy.phone(&plan, [&begun_at(leg(&plan)), &[]]).await;
    sleepy.shown(&phone).await;
    let (before, logged) = (number(&phone).await, done(&phone).await);
    let awake = phone.window().await;
    let asleep = phone.open_window().await;
    phone.open_file(&sleepy.line.url("/icons/icon.svg")).await;
    sleepy.asleep(&phone).await;
    tap(&phone, ".first .pad").await;
    phone.look_at(&awake).await;
    tap(&phone, ".pad").await;
    tap(&phone, ".pad").await;
    assert_eq!(number(&phone).await, before + 2);
    phone.look_at(&asleep).await;
    sleepy.wake(&phone).await;
    assert_eq!(number(&phone).await, before + 2);
    assert_eq!(done(&phone).await, logged + 2);
    assert!(
        phone
            .text(".now .notes")
            .await
            .contains("made before this page was ready")
    );
    let aside = phone
        .ask("return Object.keys(localStorage).filter((key) => key.startsWith('evenloop:aside:'))")
        .await;
    assert_eq!(aside.as_array().expect("keys").len(), 1);
    phone.put_away().await;
}

#[tokio::test]
async fn what_is_not_true_any_more_is_not_shown() {
    let sleepy = Sleepy::new();
    let plan = usual_sock();
    let phone = sleepy.phone(&plan, [&begun_at(leg(&plan)), &[]]).await;
    sleepy.shown(&phone).await;
    let shown = phone
        .ask("return localStorage.getItem('evenloop-shown')")
        .await;
    let shown = shown.as_str().expect("it is kept").to_owned();
    for (what, change) in [
        ("another build", "shown.build = 'other'"),
        ("a newer form", "shown.form = 2"),
        ("another place", "shown.conditions[0][1] = 'another pair'"),
    ] {
        let changed = format!(
            "const shown = JSON.parse(localStorage.getItem('evenloop-shown'));
             {change};
             return JSON.stringify(shown);"
        );
        let changed = phone.ask(&changed).await;
        put(&phone, "evenloop-shown", changed.as_str().expect("text")).await;
        phone.open(&sleepy.line.url("/now")).await;
        phone.find(".now:not(.first) .pad").await;
        let first = "return document.querySelector('.first') !== null
            || document.documentElement.dataset.first !== undefined";
        assert_eq!(phone.ask(first).await, false, "{what}");
        put(&phone, "evenloop-shown", &shown).await;
    }
    phone.put_away().await;
}

/// Every touch is seen twice: before the app is awake, and by the app at the same place.
async fn compare(sleepy: &Sleepy, plan: &Plan, logs: [&[Event]; 2], by_needle: bool) {
    const TOUCHES: usize = 5;
    let phone = sleepy.phone(plan, logs).await;
    if by_needle {
        put(&phone, "evenloop:settings", r#"{"by_needle":true}"#).await;
    }
    sleepy.shown(&phone).await;
    sleepy.asleep(&phone).await;
    let mut seen = vec![phone.ask(WORDS).await];
    for _ in 0..TOUCHES {
        tap(&phone, ".first .pad").await;
        seen.push(phone.ask(WORDS).await);
    }
    sleepy.wake(&phone).await;
    for (touches, early) in seen.iter().enumerate().rev() {
        // The picture comes after the words.
        tokio::time::sleep(Duration::from_millis(200)).await;
        assert_eq!(phone.ask(WORDS).await, *early, "after {touches} touches");
        if touches > 0 {
            tap(&phone, ".undo").await;
        }
    }
    phone.put_away().await;
}

#[tokio::test]
async fn the_app_shows_what_was_shown_before_it_was_awake() {
    let sleepy = Sleepy::new();
    let usual = usual_sock();
    let gusset = find(&usual, |kind, _| kind == SectionKind::Gusset)[0];
    compare(&sleepy, &usual, [&begun_at(gusset), &[]], false).await;
    compare(&sleepy, &usual, [&begun_at(gusset), &[]], true).await;
    let up = make(&Recipe {
        direction: Direction::ToeUp,
        needles: Method::FourDpns,
        stitches: Some(64),
        ..Recipe::default()
    })
    .expect("a sock");
    let cast_on = Position::default();
    compare(&sleepy, &up, [&begun_at(cast_on), &[]], false).await;
    let both = make(&Recipe {
        needles: Method::MagicLoop {
            seating: Seating::InstepAndSole,
        },
        stitches: Some(64),
        ..Recipe::default()
    })
    .expect("a sock");
    let flap = find(&both, |kind, _| kind == SectionKind::HeelFlap);
    let at = flap[flap.len() - 2];
    let first = [
        Event::Begin(THEN),
        Event::Together(THEN, true),
        Event::GoTo(THEN + 60, at),
    ];
    compare(&sleepy, &both, [&first, &begun_at(at)], false).await;
}
