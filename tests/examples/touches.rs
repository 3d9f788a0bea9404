//! Measures how long a touch of the pad takes to be seen, over a whole 64-stitch sock, on a phone
//! that is made four times slower than this machine and has a hundred finished pairs on it.
//!
//! Run it with `cargo run --release -p evenloop-tests --example touches` after `server/start --build`; it
//! takes some three minutes, because touches that follow each other sooner count as one, and every
//! touch is told to see that it goes on. `EVENLOOP_TOUCHES` ends it after so many. Every touch rests on
//! the pad as long as a finger does; measured from its own time stamps to the first frame after its
//! work: from the press to the pad's answer, and from the release to what comes next. Then what the browser did for
//! it, and what kept the page busy for more than 50 ms: a frame, by what it ran.

#![allow(
    clippy::expect_used,
    reason = "what cannot be measured stops the script"
)]

use std::io::Write as _;
use std::time::{Duration, Instant};

use evenloop_engine::plan::Plan;
use evenloop_engine::trace::Position;
use evenloop_tests::laid::{begun_at, cast_on, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::stocked::{pairs, stock};
use serde_json::{Value, json};

const TIMES_SLOWER: u32 = 4;
const PAIRS: u32 = 100;

/// About how long a finger rests on a button; from memory.
const REST: Duration = Duration::from_millis(80);

/// Notes for every press and every release of the pad when it was made and when the frame after it was
/// painted, every task that kept the page busy for more than 50 ms, and every frame that took as long.
const WATCH: &str = "
    window.presses = [];
    window.touches = [];
    window.longTasks = [];
    new PerformanceObserver((list) => {
        for (const task of list.getEntries()) window.longTasks.push(task.duration);
    }).observe({ type: 'longtask' });
    window.longFrames = [];
    new PerformanceObserver((list) => {
        for (const frame of list.getEntries()) {
            const ran = frame.scripts.map((script) =>
                `${script.invoker} ${Math.round(script.duration)} (laid out ${Math.round(script.forcedStyleAndLayoutDuration)})`);
            const end = frame.startTime + frame.duration;
            const styled = frame.styleAndLayoutStart ? Math.round(end - frame.styleAndLayoutStart) : 0;
            window.longFrames.push(`${window.touches.length}: ${Math.round(frame.duration)} ms, ${ran.join(', ')}, then style, layout and paint ${styled}`);
        }
    }).observe({ type: 'long-animation-frame' });
    const watch = (type, noted) => {
        const clock = new MessageChannel();
        document.addEventListener(type, (event) => {
            if (!event.target.closest('.pad')) return;
            const begun = event.timeStamp;
            requestAnimationFrame(() => {
                clock.port1.onmessage = () => noted.push(performance.now() - begun);
                clock.port2.postMessage(null);
            });
        }, { capture: true });
    };
    watch('pointerdown', window.presses);
    watch('pointerup', window.touches);";

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

/// The three that took longest, and which touch each was.
fn slowest(values: &Value) -> String {
    let values = values.as_array().into_iter().flatten();
    let mut all: Vec<_> = values.filter_map(Value::as_f64).zip(1..).collect();
    all.sort_by(|(one, _), (other, _)| other.total_cmp(one));
    let told = all
        .iter()
        .take(3)
        .map(|(time, number)| format!("{time:.1} ms (touch {number})"));
    told.collect::<Vec<_>>().join(", ")
}

/// What the browser counts of itself: how often it laid the page out or looked its styles up, and for how long it did
/// that and ran what.
const COUNTED: [(&str, &str); 6] = [
    ("LayoutCount", "layouts"),
    ("RecalcStyleCount", "looks at styles"),
    ("LayoutDuration", "ms of layout"),
    ("RecalcStyleDuration", "ms of styles"),
    ("ScriptDuration", "ms of script"),
    ("TaskDuration", "ms in all"),
];

/// These counts, times in milliseconds.
async fn counted(phone: &Phone) -> [f64; 6] {
    let answer = phone.tools("Performance.getMetrics", json!({})).await;
    let metrics = answer["metrics"].as_array().cloned().unwrap_or_default();
    COUNTED.map(|(name, _)| {
        let found = metrics.iter().find(|metric| metric["name"] == name);
        let value = found.and_then(|metric| metric["value"].as_f64());
        value.unwrap_or(f64::NAN)
            * if name.ends_with("Duration") {
                1_000.0
            } else {
                1.0
            }
    })
}

fn moves(plan: &Plan) -> u32 {
    let steps = plan.sections.iter().flat_map(|section| &section.steps);
    let moves = steps.map(|step| step.moves.len()).sum::<usize>();
    u32::try_from(moves).unwrap_or(u32::MAX)
}

#[tokio::main]
async fn main() {
    let plan = usual_sock();
    let given = std::env::var("EVENLOOP_TOUCHES").ok();
    let wanted = given.map_or_else(|| moves(&plan), |text| text.parse().expect("a number"));

    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    lay_out(&phone, &plan, [&begun_at(Position::default()), &[]]).await;
    stock(&phone, &pairs(PAIRS)).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    phone.slow_down(TIMES_SLOWER).await;
    phone.ask(WATCH).await;
    phone.tools("Performance.enable", json!({})).await;
    let before = counted(&phone).await;
    let (mut touches, begun) = (0_u32, Instant::now());
    while touches < wanted && phone.ask("return !!document.querySelector('.pad')").await == true {
        phone.hold_element(&phone.find(".pad").await, REST).await;
        touches += 1;
        tokio::time::sleep(Duration::from_millis(420)).await;
        if touches % 20 == 0 {
            eprint!(
                "\r{touches} touches in {:.0} s",
                begun.elapsed().as_secs_f32()
            );
            std::io::stderr().flush().expect("it can be told");
        }
    }
    let after = counted(&phone).await;
    println!("\r{touches} touches at {TIMES_SLOWER}x with {PAIRS} finished pairs");
    for (what, noted) in [("press", "presses"), ("release", "touches")] {
        let paints = phone.ask(&format!("return window.{noted}")).await;
        let (longest, paints) = (slowest(&paints), sorted(&paints));
        println!(
            "{what} to paint: p50 {:.1} ms, p95 {:.1} ms; the slowest: {longest}",
            part(&paints, 50),
            part(&paints, 95),
        );
    }
    let long = sorted(&phone.ask("return window.longTasks").await);
    println!(
        "{} tasks over 50 ms, the longest {:.0} ms",
        long.len(),
        long.last().copied().unwrap_or(0.0),
    );
    let each = COUNTED.iter().zip(after.iter().zip(before));
    let each = each.map(|((_, what), (after, before))| {
        format!("{:.1} {what}", (after - before) / f64::from(touches.max(1)))
    });
    println!("a touch: {}", each.collect::<Vec<_>>().join(", "));
    let frames = phone.ask("return window.longFrames").await;
    for frame in frames.as_array().into_iter().flatten() {
        println!("touch {}", frame.as_str().unwrap_or_default());
    }
}
