//! Measures how long a touch of the pad takes to be seen, over a whole 64-stitch sock, on a phone
//! that is made four times slower than this machine.
//!
//! Run it with `cargo run --release -p evenloop-tests --example touches` after `server/build`. From
//! the touch's own time stamp to the first frame after its work: what a knitter waits for.

#![allow(
    clippy::expect_used,
    reason = "what cannot be measured stops the script"
)]

use std::time::Duration;

use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::Value;

const TIMES_SLOWER: u32 = 4;

/// Notes for every click on the pad when it was made and when the frame after it was painted.
const WATCH: &str = "
    window.touches = [];
    window.longTasks = [];
    new PerformanceObserver((list) => {
        for (const task of list.getEntries()) window.longTasks.push(task.duration);
    }).observe({ type: 'longtask' });
    const clock = new MessageChannel();
    document.addEventListener('click', (event) => {
        if (!event.target.closest('.pad')) return;
        const begun = event.timeStamp;
        requestAnimationFrame(() => {
            clock.port1.onmessage = () => window.touches.push(performance.now() - begun);
            clock.port2.postMessage(null);
        });
    }, { capture: true });";

fn sorted(values: &Value) -> Vec<f64> {
    let mut out: Vec<f64> = values
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_f64)
        .collect();
    out.sort_by(f64::total_cmp);
    out
}

/// The value below which `percent` of a hundred lie.
fn part(sorted: &[f64], percent: usize) -> f64 {
    let at = (sorted.len() * percent).div_ceil(100).saturating_sub(1);
    sorted.get(at).copied().unwrap_or(f64::NAN)
}

#[tokio::main]
async fn main() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/measure")).await;
    phone.unfold("#stitches").await;
    let line = phone.find("#stitches").await;
    line.send_keys("64").await.expect("a line takes text");
    phone
        .until(
            "the outcome follows the form",
            "return document.querySelector('.at-hand strong')?.textContent.includes('64')",
        )
        .await;
    phone.tap(".at-hand button").await;
    phone.find(".pad").await;
    phone.slow_down(TIMES_SLOWER).await;
    phone.ask(WATCH).await;
    let mut touches = 0;
    while phone
        .ask("return !document.querySelector('.finished')")
        .await
        == Value::Bool(true)
    {
        phone.tap(".pad").await;
        touches += 1;
        tokio::time::sleep(Duration::from_millis(420)).await;
        assert!(touches < 1_000, "a sock does not take so many touches");
    }
    let paints = sorted(&phone.ask("return window.touches").await);
    let long = sorted(&phone.ask("return window.longTasks").await);
    println!(
        "{touches} touches at {TIMES_SLOWER}x: to paint p50 {:.1} ms, p95 {:.1} ms, most {:.1} ms; {} long tasks, the longest {:.0} ms",
        part(&paints, 50),
        part(&paints, 95),
        part(&paints, 100),
        long.len(),
        long.last().copied().unwrap_or(0.0),
    );
}
