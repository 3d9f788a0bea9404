//! The same evening with the needles in three engines: a pair is cast on, rounds are counted and
//! taken back, the signal goes, the crossing after the heel turn is walked, a file is saved and
//! brought back, the sock is looked at whole and on paper, a newer build is taken. What an engine lacks is said at its place.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::fs;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use evenloop_engine::plan::SectionKind;
use evenloop_engine::text::{Wording, instructions};
use evenloop_engine::trace::Trace;
use evenloop_tests::engine::Engine;
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::site::other;
use evenloop_tests::touching::BOUNCE;
use serde_json::{Value, json};
use thirtyfour::common::print::PrintParameters;

const BUILD: &str = "return document.querySelector('meta[name=evenloop-build]').content";
/// Where the sock is.
const PLACE: &str = "return document.querySelector('.now-head')?.textContent ?? ''";
const SOCKS: &str = "return Object.fromEntries(Object.entries(localStorage)
    .filter(([key]) => key.startsWith('evenloop:pair:')))";

#[tokio::test]
async fn an_evening_with_chromium() {
    evening(Engine::Chromium).await;
}

#[tokio::test]
async fn an_evening_with_firefox() {
    evening(Engine::Firefox).await;
}

#[tokio::test]
async fn an_evening_with_webkit() {
    evening(Engine::WebKit).await;
}

async fn evening(engine: Engine) {
    let server = Server::start();
    let mut phone = Phone::of(engine).await;
    phone.open(&server.url("/measure")).await;
    look(&phone, "measure").await;
    cast_on(&phone, &server).await;
    let begun = phone.text("main").await;
    assert!(begun.contains("Cast on"), "{begun}");
    count_and_take_back(&phone).await;
    phone.until_offline_ready().await;
    let url = |path: &str| server.url(path);
    let (now, map, plan, keep) = (url("/now"), url("/map"), url("/plan"), url("/keep"));
    let stopped = server.stop();

    let place = phone.ask(PLACE).await;
    phone.reload().await;
    phone.find(".pad").await;
    assert_eq!(
        phone.ask(PLACE).await,
        place,
        "taken up again without signal"
    );
    walk_the_crossing(&phone, &now).await;
    look_at_it_whole(&phone, &map).await;
    look_at_the_plan(&phone, &plan).await;
    save_and_bring_back(&phone, &keep, &now).await;

    let _server = stopped.start_with(other());
    phone.forgive("/sw.js");
    take_a_newer_build(&phone, &map, &now).await;
    phone.put_away().await;
}

/// With signal again a newer build is offered and taken; the sock stays where it is, and what the
/// older one had stored goes.
async fn take_a_newer_build(phone: &Phone, map: &str, now: &str) {
    let (place, socks) = (phone.ask(PLACE).await, phone.ask(SOCKS).await);
    phone.open(map).await;
    let old = phone.ask(BUILD).await;
    // As a page does whenever it comes to the front: an installation that failed is tried again.
    phone
        .until_later(
            "the newer build is stored and waits",
            "const known = await navigator.serviceWorker.getRegistration();
             if (!known.installing && !known.waiting) await known.update().catch(console.warn);
             return known.waiting !== null",
        )
        .await;
    phone.tap("[role=status] .button.lead").await;
    phone
        .until("the newer build is here", &format!("{BUILD} !== {old}"))
        .await;
    phone.until_awake().await;
    let new = phone.ask(BUILD).await;
    phone
        .until_later(
            "only the newer build is stored",
            &format!("return String(await caches.keys()) === 'evenloop-' + {new}"),
        )
        .await;
    phone.open(now).await;
    phone.find(".pad").await;
    assert_eq!(phone.ask(PLACE).await, place);
    assert_eq!(phone.ask(SOCKS).await, socks, "byte for byte");
}

/// Touches the pad and waits until something else is at hand.
async fn touch(phone: &Phone, css: &str) {
    let before = phone.ask(PLACE).await;
    phone.tap(css).await;
    let begin = Instant::now();
    while phone.ask(PLACE).await == before {
        assert!(
            begin.elapsed() < Duration::from_secs(30),
            "nothing follows {before}"
        );
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
    tokio::time::sleep(BOUNCE).await;
}

async fn count_and_take_back(phone: &Phone) {
    let mut places = vec![phone.ask(PLACE).await];
    for _ in 0..4 {
        touch(phone, ".pad").await;
        places.push(phone.ask(PLACE).await);
    }
    touch(phone, ".undo").await;
    assert_eq!(phone.ask(PLACE).await, places[3]);
    touch(phone, ".pad").await;
    assert_eq!(phone.ask(PLACE).await, places[4]);
}

/// From the end of the heel turn into the gusset, move by move; the counts on the screen are those of
/// the engine as it runs here.
async fn walk_the_crossing(phone: &Phone, now: &str) {
    let plan = usual_sock();
    let trace = Trace::of(&plan).expect("a usual sock can be knitted");
    let crossing = find(&plan, |kind, _| kind == SectionKind::PickUp);
    let gusset = find(&plan, |kind, _| kind == SectionKind::Gusset);
    let walk: Vec<_> = crossing
        .into_iter()
        .chain(gusset.into_iter().take(2))
        .collect();
    lay_out(phone, &plan, [&begun_at(walk[0]), &[]]).await;
    phone.open(now).await;
    phone.find(".pad").await;
    for (index, at) in walk.iter().enumerate() {
        let told = instructions(&plan, &trace, *at, Wording::default()).expect("it goes on");
        let expected: Vec<Value> = told
            .lines
            .iter()
            .filter(|line| !line.text.is_empty())
            .map(|line| json!([line.text, line.count_after.to_string()]))
            .collect();
        let seen = phone
            .ask(
                "return [...document.querySelectorAll('.instruction .lines li')].flatMap((card) =>
                     [...card.querySelectorAll('.after')].map((after) => [
                         card.querySelector('.text').textContent,
                         after.firstChild.data.trim(),
                     ]))",
            )
            .await;
        let seen = seen.as_array().expect("lines");
        if index == 0 {
            look(phone, "now").await;
        }
        for line in &expected {
            assert!(seen.contains(line), "{line} at {at:?}: {seen:?}");
        }
        if index + 1 < walk.len() {
            touch(phone, ".pad").await;
        }
    }
}

async fn look_at_it_whole(phone: &Phone, map: &str) {
    phone.open(map).await;
    phone
        .until(
            "the sock is drawn",
            "const drawing = document.querySelector('.sock-drawing svg');
             return drawing !== null && drawing.getBoundingClientRect().height > 150",
        )
        .await;
    let words = phone.text("main").await;
    assert!(words.contains("Gusset"), "{words}");
    look(phone, "map").await;
}

/// Takes the screen as a picture, and makes sure that nothing sticks out at its side.
async fn look(phone: &Phone, screen: &str) {
    let fits = "const page = document.documentElement; return page.scrollWidth <= page.clientWidth";
    assert_eq!(phone.ask(fits).await, true, "{screen}");
    phone
        .screenshot(&format!("{:?}-{screen}", phone.engine()).to_lowercase())
        .await;
}

async fn look_at_the_plan(phone: &Phone, plan: &str) {
    phone.open(plan).await;
    phone.find(".share").await;
    let sheet = phone.text(".plan-sheet").await;
    let around = usual_sock().outcome.stitches;
    assert!(sheet.contains(&format!("{around} stitches")), "{sheet}");
    look(phone, "plan").await;
    // Only what the device can do is offered.
    let offers = phone
        .ask(
            "const sends = [...document.querySelectorAll('.share .button')].length === 2;
             return sends === ('share' in navigator)",
        )
        .await;
    assert_eq!(offers, true);
    // WebKitWebDriver cannot print.
    if phone.engine() == Engine::WebKit {
        return;
    }
    let pdf = phone.browser().print_page(PrintParameters::default()).await;
    let pdf = pdf.expect("the page can be printed");
    assert!(pdf.starts_with(b"%PDF"), "{} bytes", pdf.len());
    assert!(pdf.len() > 20_000, "{} bytes", pdf.len());
}

/// The file that was saved, once all of it is there.
async fn saved(phone: &Phone) -> PathBuf {
    let begin = Instant::now();
    loop {
        let found = fs::read_dir(phone.folder())
            .expect("the folder is there")
            .flatten();
        let file = found
            .map(|entry| entry.path())
            .find(|path| path.extension().is_some_and(|end| end == "json"));
        if let Some(file) = file
            && fs::read_to_string(&file)
                .is_ok_and(|text| serde_json::from_str::<Value>(&text).is_ok())
        {
            return file;
        }
        assert!(
            begin.elapsed() < Duration::from_secs(30),
            "no file is saved"
        );
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
}

async fn save_and_bring_back(phone: &Phone, keep: &str, now: &str) {
    phone.open(now).await;
    phone.find(".pad").await;
    let (place, socks) = (phone.ask(PLACE).await, phone.ask(SOCKS).await);
    phone.open(keep).await;
    phone.tap(".backup .button.lead").await;
    phone.find(".backup .notice").await;
    let file = saved(phone).await;
    phone.forget().await;
    phone.open(keep).await;
    assert_eq!(phone.ask(SOCKS).await, json!({}), "all is gone");
    let input = phone.find(".backup input[type=file]").await;
    let path = file.to_str().expect("a plain name");
    input.send_keys(path).await.expect("a file can be chosen");
    phone.tap(".bring-in .bring").await;
    phone
        .until(
            "the pair is back",
            "return Object.keys(localStorage).some((key) => key.includes(':pair:'))",
        )
        .await;
    phone.open(now).await;
    phone.find(".pad").await;
    assert_eq!(phone.ask(PLACE).await, place);
    let back = phone.ask(SOCKS).await;
    let plans = |all: &Value| -> Vec<Value> {
        let all = all.as_object().expect("entries");
        all.iter()
            .filter(|(key, _)| key.ends_with(":plan"))
            .map(|(_, plan)| plan.clone())
            .collect()
    };
    assert_eq!(plans(&back), plans(&socks), "byte for byte");
}
