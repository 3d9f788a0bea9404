//! Nothing that is to be knitted is ever cut off: the longest things to do of every construction, on the smallest
//! phone and on a tablet, in ordinary and in large letters, in plain words and in short ones.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use evenloop_engine::plan::{Plan, make};
use evenloop_engine::text::{WordForm, Wording, instructions};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::read_recipe;
use evenloop_tests::laid::{begun_at, cast_on, lay_out};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::{Value, json};
use tokio::time::sleep;

const SIZES: [(u32, u32); 6] = [
    (320, 568),
    (360, 640),
    (360, 740),
    (412, 915),
    (768, 1024),
    (1280, 800),
];
/// Longest wait for everything to find its room.
const PATIENCE: Duration = Duration::from_secs(2);
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

/// Gives the window a size.
async fn resize(phone: &Phone, (width, height): (u32, u32)) {
    let metrics =
        json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": true });
    phone
        .tools("Emulation.setDeviceMetricsOverride", metrics)
        .await;
}

/// What is still cut off when everything has had time to find its room.
async fn cut_off_for_good(phone: &Phone) -> Value {
    let begin = Instant::now();
    loop {
        let cut = cut_off(phone).await;
        if cut == json!([]) || begin.elapsed() > PATIENCE {
            return cut;
        }
        sleep(Duration::from_millis(30)).await;
    }
}

/// What is cut off, each with its text.
async fn cut_off(phone: &Phone) -> Value {
    phone
        .ask(
            "const cut = [];
             const box = document.querySelector('.instruction');
             const room = box.getBoundingClientRect();
             if (box.scrollHeight > box.clientHeight + 1)
                 cut.push(`the box is ${box.scrollHeight} high in ${box.clientHeight}`);
             const shown = [...document.querySelectorAll('.lines .thing')].filter((one) => one.offsetParent);
             if (shown.length === 0) cut.push('nothing is shown');
             for (const one of shown) {
                 const at = one.getBoundingClientRect();
                 if (at.right > innerWidth + 1 || at.left < -1 || one.scrollWidth > one.clientWidth + 1)
                     cut.push(`too wide: ${one.textContent}`);
                 if (at.bottom > room.bottom + 1 || at.top < room.top - 1)
                     cut.push(`outside: ${one.textContent}`);
             }
             for (const css of ['.pad', '.undo', '.then']) {
                 const at = document.querySelector(css).getBoundingClientRect();
                 if (at.bottom > innerHeight + 1 || at.right > innerWidth + 1 || at.top < 0)
                     cut.push(`${css} is not in the window`);
             }
             // What comes next gives way before what is knitted now does.
             const fit = Number(document.querySelector('.now').dataset.fit);
             const next = document.querySelector('.then');
             const lines = next.getBoundingClientRect().height / parseFloat(getComputedStyle(next).lineHeight);
             if (fit > 1 && lines > 2.5) cut.push(`what comes next takes ${lines} lines`);
             // A side of its own is the picture's.
             const picture = document.querySelector('.now > .needles svg');
             if (innerWidth >= 896 && picture && picture.getBoundingClientRect().height < 100)
                 cut.push('the picture is not beside it');
             // Where it stands above the words it takes what they leave, and the fabric hangs as far down.
             const left = room.bottom - box.lastElementChild.getBoundingClientRect().bottom;
             const held = picture.closest('figure').getBoundingClientRect();
             const whole = held.width / 336 * (178 + 72);
             if (room.top >= held.bottom - 1 && left > (held.height ? 12 : 96) && held.height < whole - 2)
                 cut.push(`the picture leaves ${left} px`);
             return cut",
        )
        .await
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
                let settings = json!({ "style": style, "big_text": big });
                let settings = Value::from(settings.to_string());
                phone
                    .ask(&format!(
                        "localStorage.setItem('evenloop:settings', {settings})"
                    ))
                    .await;
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
