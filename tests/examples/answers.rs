//! Measures how long each touch and key takes until its answer is painted (interaction to next paint),
//! over all screens of a phone that is made four times slower than this machine and has a hundred
//! finished pairs on it.
//!
//! Run it with `cargo run --release -p evenloop-tests --example answers` after `server/start --build`. Times
//! are the browser's own (Event Timing), in steps of 8 ms: from the finger or key to the first frame
//! after its work. Fails when one takes longer than what is felt to be at once.

#![allow(
    clippy::expect_used,
    reason = "what cannot be measured stops the script"
)]

use std::time::Duration;

use evenloop_engine::trace::Position;
use evenloop_tests::laid::{begun_at, cast_on, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::stocked::{pairs, stock};
use evenloop_tests::touching::BOUNCE;
use serde_json::Value;

const TIMES_SLOWER: u32 = 4;
const PAIRS: u32 = 100;
/// Milliseconds; what is slower than this is no good answer.
const AT_ONCE: f64 = 200.0;

/// Keeps the longest event of every interaction, and what was touched.
const WATCH: &str = "
    window.answers = {};
    const name = (node) => node?.closest?.('[class]')?.className?.toString() || node?.nodeName || '';
    new PerformanceObserver((list) => {
        for (const { interactionId, duration, target } of list.getEntries()) {
            if (!interactionId) continue;
            const known = window.answers[interactionId];
            if (!known || known[0] < duration) window.answers[interactionId] = [duration, name(target)];
        }
    }).observe({ type: 'event', durationThreshold: 16, buffered: true });
    window.touched = 0;
    for (const kind of ['pointerup', 'keydown'])
        addEventListener(kind, () => { window.touched += 1; }, { capture: true });";

/// What is touched on a screen: how often, or how many of those that match.
enum Do {
    /// The first that matches, so many times.
    Again(&'static str, usize),
    /// The first so many of those that match and can be seen.
    Each(&'static str, usize),
    /// A line, and what is typed into it.
    Type(&'static str, &'static str),
}

use Do::{Again, Each, Type};

const SCREENS: [(&str, &str, &[Do]); 6] = [
    (
        "Basket",
        "/",
        &[
            Each(".card summary", 3),
            Each("details.more > summary", 4),
            Again(".card .open", 1),
        ],
    ),
    (
        "Now",
        "/now",
        &[
            Again(".pad", 40),
            Again(".undo", 5),
            Again(".how", 1),
            Again(".pane[open] .pane-foot .button", 1),
            Again(".small-buttons .button:last-child", 1),
            Each(".pane[open] .stop", 3),
            Again(".pane[open] .pane-foot .button", 1),
            Again(".to-pause", 1),
            Again(".entries .entry:nth-of-type(1)", 1),
            Again("[aria-label='One more: Needle 1']", 4),
            Again(".pane-head .button", 1),
            Again(".entries .entry:nth-of-type(2)", 1),
            Again(".pane-head .button", 1),
            Again(".entries .entry:nth-of-type(3)", 1),
            Type(".pane[open] textarea, .pane[open] input", "a little tight"),
            Again(".pane-head .button", 1),
            Again(".entries .entry:nth-of-type(4)", 1),
            Again(".pane-head .button", 1),
            Again(".pane[open] .pane-foot .button", 1),
            Again("nav a[href='/map']", 1),
        ],
    ),
    (
        "Measure",
        "/measure",
        &[
            Type("#foot-length", "27"),
            Type("#foot-circumference", "25.5"),
            Type("#swatch-stitches", "33"),
            Type("#swatch-width", "10"),
            Type("#swatch-rounds", "44"),
            Type("#swatch-height", "10"),
            Each(".measure .form summary", 12),
            Each(".measure label.choice", 40),
            Each(".measure .form button", 12),
            Again(".at-hand button", 1),
        ],
    ),
    (
        "Map",
        "/map",
        &[
            Each(".sock-drawing .part .plate", 4),
            Each(".screen.map summary", 5),
            Each(".screen.map .stop", 5),
            Again("nav a[href='/keep']", 1),
        ],
    ),
    (
        "Keep",
        "/keep",
        &[
            Each(".settings label.choice", 30),
            Each(".settings .switches label", 3),
            Again("nav a[href='/']", 1),
        ],
    ),
    (
        "Plan",
        "/plan",
        &[
            Each(".plan-screen summary", 3),
            Each(".plan-sheet input", 5),
            Again(".plan-screen .buttons a", 1),
        ],
    ),
];

async fn carry_out(phone: &Phone, what: &Do) {
    match *what {
        Again(css, times) => {
            for _ in 0..times {
                phone.tap(css).await;
                tokio::time::sleep(BOUNCE).await;
            }
        }
        Each(css, most) => {
            for nth in 0..most {
                let mark = format!(
                    "document.querySelector('[data-next]')?.removeAttribute('data-next');
                     const seen = [...document.querySelectorAll({css:?})].filter((one) => one.checkVisibility());
                     seen[{nth}]?.setAttribute('data-next', '');
                     return seen.length > {nth}"
                );
                if phone.ask(&mark).await != true {
                    break;
                }
                phone.tap("[data-next]").await;
                tokio::time::sleep(BOUNCE).await;
            }
        }
        Type(css, text) => phone.write(css, text).await,
    }
}

/// Milliseconds and what was touched, the longest last; and how many touches and keys there were.
async fn answers(phone: &Phone) -> (Vec<(f64, String)>, usize) {
    let said = phone
        .ask("return [Object.values(window.answers), window.touched]")
        .await;
    let one = |entry: &Value| Some((entry[0].as_f64()?, entry[1].as_str()?.to_owned()));
    let mut all: Vec<_> = said[0]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(one)
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let touched = said[1].as_u64().and_then(|n| usize::try_from(n).ok());
    (all, touched.expect("a count"))
}

#[tokio::main]
async fn main() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    lay_out(
        &phone,
        &usual_sock(),
        [&begun_at(Position { step: 60, mv: 0 }), &[]],
    )
    .await;
    stock(&phone, &pairs(PAIRS)).await;
    phone.at_every_start(WATCH).await;
    phone.slow_down(TIMES_SLOWER).await;
    let mut slow = Vec::new();
    for (name, path, deeds) in SCREENS {
        phone.open(&server.url(path)).await;
        tokio::time::sleep(Duration::from_secs(2)).await;
        for deed in deeds {
            carry_out(&phone, deed).await;
        }
        tokio::time::sleep(Duration::from_secs(1)).await;
        let (all, touched) = answers(&phone).await;
        // What took less than 16 ms is not told of; it counts all the same. A touched label may count
        // twice: itself and its line.
        let touched = touched.max(all.len());
        let at = (touched * 98).div_ceil(100).saturating_sub(1);
        let quick = touched.saturating_sub(all.len());
        let p98 = at.checked_sub(quick).and_then(|at| all.get(at));
        let p98 = p98.map_or(16.0, |one| one.0);
        let worst: Vec<String> = all
            .iter()
            .rev()
            .take(3)
            .map(|(time, what)| format!("{time} ms ({what})"))
            .collect();
        println!(
            "{name:8} {touched:4} touches and keys: p98 {p98} ms, the slowest {}",
            worst.join(", ")
        );
        slow.extend(all.into_iter().filter(|one| one.0 > AT_ONCE));
    }
    assert!(slow.is_empty(), "slower than {AT_ONCE} ms: {slow:?}");
}
