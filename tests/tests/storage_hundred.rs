//! A hundred finished pairs on the phone, every round of both socks counted: they fit, the app starts
//! about as fast as with one, and a touch costs the same, on a slow phone too.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::plan::SectionKind;
use evenloop_tests::laid::{begun_at, fill_in, find, lay_out, touch_cast_on, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::stocked::{pairs, stock};
use evenloop_tests::touching::{BOUNCE, go, until_shown};
use serde_json::Value;

/// So many times slower than this machine a phone is taken to be.
const TIMES_SLOWER: u32 = 4;
/// Starts of the app, and touches, whose medians are compared.
const TRIES: usize = 5;

/// When the pad or the first pair was there, in milliseconds since the page was asked for.
const AWAKE: &str = "
    window.awakeAt = new Promise((done) => {
        const look = () => {
            if (document.querySelector('.pad, .card .name')) done(performance.now());
            else requestAnimationFrame(look);
        };
        look();
    });";

fn median(times: &mut [f64]) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

async fn number(phone: &Phone, promise: &str) -> f64 {
    let value = phone.ask_later(promise).await;
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{promise}: {value}"))
}

/// How long it takes until the pad or the first pair is there, in milliseconds.
async fn start(phone: &Phone, url: &str) -> f64 {
    phone.open(url).await;
    number(phone, "return await window.awakeAt").await
}

/// How long a touch keeps the page busy, in milliseconds.
async fn touch(phone: &Phone) -> f64 {
    number(
        phone,
        "const begun = performance.now();
         document.querySelector('.pad').click();
         await Promise.resolve();
         return performance.now() - begun",
    )
    .await
}

/// Now, with a pair in the leg, at an address of its own.
async fn lay_out_at(phone: &Phone, now: &str) {
    let plan = usual_sock();
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[0];
    phone.open(&now.replace("/now", "/measure")).await;
    fill_in(phone).await;
    touch_cast_on(phone).await;
    lay_out(phone, &plan, [&begun_at(leg), &[]]).await;
    phone.open(now).await;
    phone.until_offline_ready().await;
}

#[tokio::test]
async fn a_hundred_pairs_fit_and_neither_the_start_nor_a_touch_is_slower() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.at_every_start(AWAKE).await;
    // One device, two origins: what else the machine does meanwhile slows both.
    let one = server.url("/now");
    let hundred = one.replace("127.0.0.1", "localhost");
    lay_out_at(&phone, &one).await;
    lay_out_at(&phone, &hundred).await;
    let entries = pairs(100);
    let characters: usize = entries
        .iter()
        .map(|(key, text)| key.len() + text.as_str().map_or(0, str::len))
        .sum();
    stock(&phone, &entries).await;
    phone.slow_down(TIMES_SLOWER).await;

    let [mut starts, mut baskets, mut touches] = [(); 3].map(|()| [Vec::new(), Vec::new()]);
    for _ in 0..TRIES {
        for (many, url) in [&one, &hundred].into_iter().enumerate() {
            baskets[many].push(start(&phone, &url.replace("/now", "/")).await);
            starts[many].push(start(&phone, url).await);
            // A finger first: pages may not buzz before one was there.
            phone.tap(".pad").await;
            tokio::time::sleep(BOUNCE).await;
            touches[many].push(touch(&phone).await);
        }
    }
    let [starts, baskets, touches] =
        [starts, baskets, touches].map(|mut both| both.each_mut().map(|times| median(times)));
    println!(
        "100 finished pairs are {characters} characters. With 1 and with 101 pairs Now takes \
         {starts:.0?} ms to start, the basket {baskets:.0?} ms, a touch {touches:.2?} ms, {TIMES_SLOWER} times slower"
    );
    // Browsers give five million characters.
    assert!(characters < 2_500_000, "{characters}");
    assert!(starts[1] < starts[0] * 1.5 + 10.0, "{starts:?}");
    assert!(baskets[1] < baskets[0] * 1.5 + 10.0, "{baskets:?}");
    assert!(touches[1] < touches[0] * 1.5 + 1.0, "{touches:?}");

    go(&phone, "/").await;
    until_shown(&phone, ".card .name", "Pair 99 for the winter").await;
    let nearly_full = phone
        .ask("return document.querySelector('main').textContent.includes('little room left')")
        .await;
    assert_eq!(nearly_full, Value::Bool(false));
    phone.put_away().await;
}
