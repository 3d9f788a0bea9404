//! Nothing that is to be knitted is ever cut off: the longest things to do of every construction, on the smallest
//! phone and on a tablet, in ordinary and in large letters, in plain words and in short ones.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::collections::BTreeMap;

use evenloop_engine::plan::{Plan, SectionKind, make};
use evenloop_engine::text::{WordForm, Wording, instructions};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::read_recipe;
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out};
use evenloop_tests::phone::Phone;
use evenloop_tests::room_on_now::{SIZES, cut_off_for_good, resize};
use evenloop_tests::server::Server;
use evenloop_tests::touching::until_shown;
use serde_json::{Value, json};

/// So many of each construction, the longest first.
const LONGEST: usize = 4;

/// One sock of each construction, in the written form of recipes; feet and swatches are invented.
const SOCKS: [&str; 6] = [
    r#"{"foot":{"length":2450,"circumference":2250},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"leg":1200}"#,
    r#"{"direction":"toe-up","foot":{"length":2550,"circumference":2350},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"bind_off":"yarn-over","leg":900,"heel":{"kind":"flap-and-gusset","texture":"slipped-stitch","turn":"round","corners":true},"needles":{"method":"two-circulars"}}"#,
    r#"{"foot":{"length":2450,"circumference":2250},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"leg":900,"heel":{"kind":"afterthought"},"needles":{"method":"four-dpns"}}"#,
    r#"{"direction":"toe-up","foot":{"length":2500,"circumference":2300},"swatch":{"stitches":28,"width":1000,"rounds":40,"height":1000},"toe_cast_on":"provisional","leg":900,"heel":{"kind":"short-row","between":2},"toe":{"kind":"short-row"}}"#,
    r#"{"foot":{"length":2350,"circumference":2150},"swatch":{"stitches":32,"width":1000,"rounds":44,"height":1000},"leg":1000,"heel":{"kind":"flap-and-gusset","texture":"eye-of-partridge","turn":"round","corners":true},"needles":{"method":"magic-loop","seating":"instep-and-sole"},"motif":{"rows":["k1 yo ssk k5","k8","k5 k2tog yo k1","k8"],"place":"front"}}"#,
    r#"{"foot":{"length":2600,"circumference":2400},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"leg":1000,"heel":{"kind":"flap-and-gusset","texture":"garter-edge","turn":"square","corners":true},"needles":{"method":"five-dpns"},"motif":{"rows":["p1 k4 p1","p1 k4 p1","p1 cr2/2 p1","p1 k4 p1","p1 k4 p1","p1 k4 p1"],"place":"all-round"}}"#,
];

fn sock(recipe: &str) -> Plan {
    let recipe = read_recipe(recipe).unwrap_or_else(|wrong| panic!("{recipe}: {wrong:?}"));
    make(&recipe).unwrap_or_else(|wrong| panic!("{recipe:?}: {wrong:?}"))
}

/// The places whose instructions are longest, of those that differ.
fn longest(plan: &Plan) -> Vec<Position> {
    let trace = Trace::of(plan).expect("it can be knitted");
    let mut places = BTreeMap::new();
    let mut at = Position::default();
    while at != trace.end() {
        if let Some(told) = instructions(plan, &trace, at, Wording::default()) {
            let text = format!("{:?}", told.lines);
            places.entry((usize::MAX - text.len(), text)).or_insert(at);
        }
        at = trace.advance(at);
    }
    places.into_values().take(LONGEST).collect()
}

/// Has Settings as they are given.
async fn set(phone: &Phone, settings: Value) {
    let settings = Value::from(settings.to_string());
    phone
        .ask(&format!(
            "localStorage.setItem('evenloop:settings', {settings})"
        ))
        .await;
}

#[tokio::test]
async fn what_is_to_be_knitted_is_never_cut_off() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let mut wrong = Vec::new();
    for plan in SOCKS.map(sock) {
        for at in longest(&plan) {
            lay_out(&phone, &plan, [&begun_at(at), &[]]).await;
            for (big, form) in [(false, WordForm::Short), (true, WordForm::Plain)] {
                let style = Wording {
                    form,
                    ..Wording::default()
                };
                set(&phone, json!({ "style": style, "big_text": big })).await;
                phone.open(&server.url("/now")).await;
                phone.find(".pad").await;
                for size in SIZES {
                    resize(&phone, size).await;
                    let cut = cut_off_for_good(&phone).await;
                    if cut != json!([]) {
                        let needles = plan.recipe.needles;
                        wrong.push(format!("{size:?} {form:?} {at:?} {needles:?}: {cut}"));
                    }
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} times\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// The kinds of notices, each with its first words.
const NOTICES: [(&str, &str); 5] = [
    ("a log that is damaged", "A part of this pair"),
    ("no room to store", "The device has no room"),
    ("a storage that was cleared", "What this browser stores"),
    ("no microphone", "This page may not use"),
    ("all of them", "The device has no room"),
];

/// A browser that has no room for a log.
const FULL: &str = "
    const put = Storage.prototype.setItem;
    Storage.prototype.setItem = function (key, text) {
        if (key.includes(':log:')) throw new DOMException('full', 'QuotaExceededError');
        return put.call(this, key, text);
    }";

/// A browser that is not let listen.
const DEAF: &str = "
    window.SpeechRecognition = class {
        start() { setTimeout(() => { this.onerror({ error: 'not-allowed' }); this.onend(); }, 0); }
        abort() {}
    }";

/// Puts something behind the log that cannot be read.
const DAMAGED: &str = "
    const log = Object.keys(localStorage).find((key) => key.endsWith(':log:1:0'));
    const next = log.replace(/0$/, '1');
    localStorage.setItem(next, '{');
    globalThis.evenloopEcho?.put(next, '{', false)";

/// A touch and back again, so that something is to be stored.
const THERE_AND_BACK: &str = "
    const pause = () => new Promise((done) => setTimeout(done, 600));
    document.querySelector('.pad').click();
    await pause();
    document.querySelector('.undo').click();
    await pause()";

/// Opens what has to be said, or closes it.
const TOGGLE: &str = "document.querySelector('.noted > .button').click()";

/// What is wrong with how a notice is shown.
const SHOWN: &str = "
    const wrong = [];
    const box = document.querySelector('.now .notes').getBoundingClientRect();
    if (box.height < 44 || box.top < 0 || box.bottom > innerHeight) wrong.push('the strip is not to be seen');
    const button = document.querySelector('.noted > .button').getBoundingClientRect();
    if (button.height < 44 || button.width < 44) wrong.push('its button is small');
    const told = document.querySelector('.noted p').getBoundingClientRect();
    if (told.top < box.top - 1 || told.bottom > box.bottom + 1 || told.right > button.left + 1)
        wrong.push('its words are cut');
    return wrong";

/// What is wrong with it when it was opened.
const OPENED: &str = "
    const wrong = [];
    const noted = document.querySelector('.noted');
    const box = noted.getBoundingClientRect();
    const pad = document.querySelector('.pad').getBoundingClientRect();
    if (box.bottom > pad.top) wrong.push('it lies over the pad');
    if (noted.scrollWidth > noted.clientWidth) wrong.push('it is too wide');
    for (const one of noted.querySelectorAll('p'))
        if (one.scrollHeight > one.clientHeight + 1) wrong.push(`cut: ${one.textContent}`);
    for (const one of noted.querySelectorAll('.button'))
        if (one.getBoundingClientRect().height < 44) wrong.push(`small: ${one.textContent}`);
    return wrong";

#[tokio::test]
async fn a_notice_takes_nothing_from_what_is_knitted() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    phone.at_every_start(DEAF).await;
    let mut wrong = Vec::new();
    // Every kind where most is to be done, and all of them together in each construction; and where few words leave all
    // their room to the picture.
    let few = sock(SOCKS[0]);
    let leg = find(&few, |kind, _| kind == SectionKind::Leg)[9];
    let most = SOCKS.map(sock).map(|plan| (longest(&plan)[0], plan));
    for (nth, (at, plan)) in most.into_iter().chain([(leg, few)]).enumerate() {
        for (kind, told) in NOTICES.into_iter().skip(if nth == 0 { 0 } else { 4 }) {
            for (big, form) in [(false, WordForm::Short), (true, WordForm::Plain)] {
                let is = |one: usize| kind == NOTICES[one].0 || kind == NOTICES[4].0;
                phone.open(&server.url("/keep")).await;
                lay_out(&phone, &plan, [&begun_at(at), &[]]).await;
                let style = Wording {
                    form,
                    ..Wording::default()
                };
                let settings = json!({ "style": style, "big_text": big, "listens": is(3) });
                set(&phone, settings).await;
                if is(0) {
                    phone.ask(DAMAGED).await;
                }
                phone.open(&server.url("/now")).await;
                phone.find(".pad").await;
                if is(2) {
                    phone.ask("localStorage.clear()").await;
                    phone.ask_later(THERE_AND_BACK).await;
                    until_shown(&phone, ".recovered", "What this browser stores").await;
                }
                if is(1) {
                    phone.ask(FULL).await;
                    phone.ask_later(THERE_AND_BACK).await;
                }
                until_shown(&phone, ".noted p", told).await;
                for size in SIZES {
                    resize(&phone, size).await;
                    let mut found = cut_off_for_good(&phone).await;
                    let shown = phone.ask(SHOWN).await;
                    phone.ask(TOGGLE).await;
                    let opened = phone.ask(OPENED).await;
                    phone.ask(TOGGLE).await;
                    for more in [shown, opened] {
                        let more = more.as_array().expect("a list").clone();
                        found.as_array_mut().expect("a list").extend(more);
                    }
                    if found != json!([]) {
                        wrong.push(format!("{size:?} {form:?} {nth} {kind}: {found}"));
                    }
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} times\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
