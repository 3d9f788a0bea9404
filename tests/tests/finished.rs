//! A finished pair: what it came to, and an image of it to be kept.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::journal::Event;
use evenloop_engine::plan::{Plan, StepForm};
use evenloop_engine::trace::Trace;
use evenloop_tests::laid::{THEN, begun_at, cast_on, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{catch_file, until_shown};
use serde_json::json;

/// Pixels of the image that are not its ground, in per mille: of the part where the sock is and of where the words are.
const PAINTED: &str = "
    const file = await window.saved;
    if (file.type !== 'image/png') throw file.type;
    const bitmap = await createImageBitmap(file);
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
    const context = canvas.getContext('2d');
    context.drawImage(bitmap, 0, 0);
    const painted = (top, high) => {
        const { data } = context.getImageData(0, top, bitmap.width, high);
        let count = 0;
        for (let at = 0; at < data.length; at += 4)
            if ([0, 1, 2].some((one) => Math.abs(data[at + one] - data[one]) > 24)) count += 1;
        return Math.round(count * 4000 / data.length);
    };
    return [bitmap.width, bitmap.height, painted(0, 1050), painted(1100, 400)]";

fn rounds(plan: &Plan) -> usize {
    let steps = plan.sections.iter().flat_map(|section| &section.steps);
    steps.filter(|step| step.form != StepForm::Walk).count()
}

/// A phone whose pair is finished.
async fn phone_with_a_finished_pair(server: &Server) -> Phone {
    let phone = Phone::unpack().await;
    lay_out_finished(&phone, server).await;
    phone
}

async fn lay_out_finished(phone: &Phone, server: &Server) {
    cast_on(phone, server).await;
    let plan = usual_sock();
    let end = Trace::of(&plan).expect("it can be knitted").end();
    lay_out(phone, &plan, [&begun_at(end), &begun_at(end)]).await;
}

/// In a wide window the grid of Now put the finished sock above the line that says whose it is.
#[tokio::test]
async fn in_a_wide_window_the_finished_sock_stands_below_its_head() {
    let server = Server::start();
    for (width, height) in [(1280, 800), (800, 400)] {
        let phone = Phone::with_size(width, height).await;
        lay_out_finished(&phone, &server).await;
        phone.open(&server.url("/now")).await;
        phone.find(".of-finished svg").await;
        let below = "const edge = (css) => document.querySelector(css).getBoundingClientRect();
            return edge('.finished').top >= edge('.now-head').bottom";
        assert_eq!(phone.ask(below).await, true, "{width}x{height}");
        phone.put_away().await;
    }
}

/// A device that sends things on; `how` is what becomes of it.
async fn with_share_sheet(phone: &Phone, how: &str) {
    phone
        .ask(&format!(
            "window.sent = [];
             Object.defineProperty(navigator, 'canShare', {{ value: ({{ files }}) => files.length === 1, configurable: true }});
             Object.defineProperty(navigator, 'share', {{ configurable: true, value: async (what) => {{ window.sent.push(what); {how} }} }})"
        ))
        .await;
}

/// How much is painted in each twelfth of the image's width where the sock is, in per mille.
const COLUMNS: &str = "
    const bitmap = await createImageBitmap(window.sent.at(-1).files[0]);
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
    const context = canvas.getContext('2d');
    context.drawImage(bitmap, 0, 0);
    return Array.from({ length: 12 }, (_, nth) => {
        const { data } = context.getImageData(nth * 100, 0, 100, 1050);
        const ground = context.getImageData(0, 0, 1, 1).data;
        let count = 0;
        for (let at = 0; at < data.length; at += 4)
            if ([0, 1, 2].some((one) => Math.abs(data[at + one] - ground[one]) > 24)) count += 1;
        return Math.round(count * 4000 / data.length);
    })";

/// The image that is sent on: how much of it is painted from left to right.
async fn sent(phone: &Phone) -> Vec<u64> {
    phone.find(".of-finished svg").await;
    with_share_sheet(phone, "").await;
    phone.tap(".came-to .button").await;
    phone
        .until("it is sent on", "return sent.length === 1")
        .await;
    let file = phone
        .ask("const [file] = sent[0].files; return [file.type, file.name.slice(0, 6)]")
        .await;
    assert_eq!(file, json!(["image/png", "socks-"]));
    let columns = phone.ask_later(COLUMNS).await;
    let columns = columns.as_array().expect("numbers").iter();
    columns.map(|one| one.as_u64().expect("a number")).collect()
}

#[tokio::test]
async fn the_image_is_sent_on_and_mirrored_for_the_left_hand() {
    let server = Server::start();
    let phone = phone_with_a_finished_pair(&server).await;
    phone.open(&server.url("/now")).await;
    let right = sent(&phone).await;
    assert!(right.iter().any(|one| *one > 200), "{right:?}");
    let left = "localStorage.setItem('evenloop:settings',
        JSON.stringify({ style: { form: 'plain', reach: 'to-marker', hand: 'left' }, big_text: true }))";
    phone.ask(left).await;
    phone.open(&server.url("/now")).await;
    let mut mirrored = sent(&phone).await;
    assert_ne!(mirrored, right);
    mirrored.reverse();
    for (one, other) in mirrored.iter().zip(&right) {
        assert!(one.abs_diff(*other) < 25, "{mirrored:?} {right:?}");
    }
    // With large letters all of it still has room.
    let wide = "return [...document.querySelectorAll('.finished *')]
        .filter((one) => one.getBoundingClientRect().right > innerWidth + 1)
        .map((one) => one.className || one.tagName)";
    assert_eq!(phone.ask(wide).await, json!([]));
    phone.put_away().await;
}

#[tokio::test]
async fn who_thinks_better_of_it_gets_no_file_and_where_it_cannot_be_sent_it_is_saved() {
    let server = Server::start();
    let phone = phone_with_a_finished_pair(&server).await;
    phone.open(&server.url("/now")).await;
    phone.find(".of-finished svg").await;
    catch_file(&phone).await;
    let touched = "return sent.length === 1";
    with_share_sheet(&phone, "throw new DOMException('closed', 'AbortError')").await;
    phone.tap(".came-to .button").await;
    phone.until("it was offered", touched).await;
    tokio::time::sleep(std::time::Duration::from_millis(400)).await;
    let saved = "return Promise.race([window.saved.then(() => true), new Promise((done) => setTimeout(done, 300, false))])";
    assert_eq!(phone.ask(saved).await, json!(false), "no file");
    with_share_sheet(&phone, "throw new DOMException('no', 'NotAllowedError')").await;
    phone.tap(".came-to .button").await;
    phone.until("it was offered", touched).await;
    assert_eq!(
        phone
            .ask("return window.saved.then((file) => file.type)")
            .await,
        json!("image/png")
    );
    assert_eq!(
        phone
            .ask("return document.querySelector('.came-to .notice.wrong')")
            .await,
        serde_json::Value::Null
    );
    phone.put_away().await;
}

#[tokio::test]
async fn a_finished_pair_says_what_it_came_to_and_gives_an_image_of_itself() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let plan = usual_sock();
    let end = Trace::of(&plan).expect("it can be knitted").end();
    let mut first = begun_at(end).to_vec();
    // Forty touches at three minutes each, before it went on to the end.
    first.splice(1..1, (1..=40).map(|nth| Event::Done(THEN + nth * 180)));
    lay_out(&phone, &plan, [&first, &begun_at(end)]).await;
    phone.open(&server.url("/now")).await;
    until_shown(&phone, "h1", "The pair is knitted").await;
    let metres = plan
        .outcome
        .sections
        .iter()
        .map(|one| one.yarn_dm)
        .sum::<u32>();
    let rounds = format!("{} rounds and rows", 2 * rounds(&plan));
    let yarn = format!("About {}\u{a0}m of yarn", (2 * metres).div_ceil(10));
    for line in [rounds.as_str(), yarn.as_str(), "About 2 h of knitting"] {
        until_shown(&phone, ".totals li", line).await;
    }
    phone.find(".of-finished svg").await;
    catch_file(&phone).await;
    phone.tap(".came-to .button").await;
    let seen = phone.ask_later(PAINTED).await;
    let [wide, high, sock, words] = [0, 1, 2, 3].map(|nth| seen[nth].as_u64().expect("a number"));
    assert_eq!((wide, high), (1200, 1500));
    assert!(
        (120..700).contains(&sock),
        "{sock} of 1000 pixels are the sock's"
    );
    assert!(
        (10..300).contains(&words),
        "{words} of 1000 pixels are the words'"
    );
    phone.put_away().await;
}
