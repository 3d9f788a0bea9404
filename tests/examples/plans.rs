//! Measures how long a new plan takes in the browser, on a phone that is made four times slower than
//! this machine: the engine alone, and from a changed line of Measure to the outcome that stands
//! beside it, with the draft kept and the outcome redrawn.
//!
//! Run it with `tests/plans`, which builds what it needs.

#![allow(
    clippy::expect_used,
    reason = "what cannot be measured stops the script"
)]

use evenloop_tests::laid::fill_in;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::Value;

const TIMES_SLOWER: u32 = 4;

/// Plans socks of 64 stitches and notes the milliseconds of each; the first is the coldest.
const PLAN: &str = "
    const { instance } = await WebAssembly.instantiate(new Uint8Array(BYTES), {});
    const took = [];
    for (let i = 0; i < 60; i += 1) {
        const begun = performance.now();
        if (instance.exports.plan(64) === 0) throw new Error('no plan');
        took.push(performance.now() - begun);
        await new Promise((done) => setTimeout(done, 30));
    }
    return took;";

/// Types stitches around, never the count that stands there, and notes the milliseconds until the outcome
/// has changed.
const TYPE: &str = "
    const line = document.querySelector('#stitches');
    const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set;
    const took = [];
    for (let i = 0; i < 60; i += 1) {
        const changed = new Promise((done) => {
            const watch = new MutationObserver(() => {
                watch.disconnect();
                done(performance.now());
            });
            watch.observe(document.querySelector('#plan'), { childList: true, subtree: true, characterData: true });
        });
        set.call(line, String(64 + 4 * (i % 4)));
        const begun = performance.now();
        line.dispatchEvent(new Event('input', { bubbles: true }));
        took.push((await changed) - begun);
        await new Promise((done) => setTimeout(done, 30));
    }
    return took;";

fn numbers(values: &Value) -> Vec<f64> {
    let numbers = values.as_array().into_iter().flatten();
    numbers.filter_map(Value::as_f64).collect()
}

/// The value below which `percent` of a hundred lie.
fn part(sorted: &[f64], percent: usize) -> f64 {
    let at = (sorted.len() * percent).div_ceil(100).saturating_sub(1);
    sorted.get(at).copied().unwrap_or(f64::NAN)
}

fn report(what: &str, took: &Value) {
    let mut times = numbers(took);
    assert_eq!(times.len(), 60, "{took}");
    let first = times[0];
    times.sort_by(f64::total_cmp);
    let [least, half, most_of, most] = [1, 50, 95, 100].map(|percent| part(&times, percent));
    println!(
        "{what} at {TIMES_SLOWER}x, 60 times: first {first:.1} ms, least {least:.1}, p50 {half:.1}, p95 {most_of:.1}, most {most:.1}"
    );
}

#[tokio::main]
async fn main() {
    let engine = std::env::args()
        .nth(1)
        .expect("the engine built for the browser (see tests/plans)");
    let engine = std::fs::read(engine).expect("it can be read");
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/measure")).await;
    fill_in(&phone).await;
    phone.unfold("#stitches").await;
    phone
        .until(
            "the outcome is there",
            "return document.querySelector('#plan td') !== null",
        )
        .await;
    phone.slow_down(TIMES_SLOWER).await;
    let alone = PLAN.replace("BYTES", &format!("{engine:?}"));
    report("plan and trace alone", &phone.ask_later(&alone).await);
    report(
        "from a changed line to its outcome",
        &phone.ask_later(TYPE).await,
    );
    phone.put_away().await;
}
