//! How long a letter waits that is typed into a pattern as long as one may be. Nothing else may run beside it.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::{Duration, Instant};

use evenloop_tests::laid::small_pattern_mended;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{paste_pattern, until_shown};
use serde_json::Value;

/// As long as a pattern may be, on a phone four times as slow: a letter typed is on the screen within a frame.
#[tokio::test]
async fn typing_into_the_longest_pattern_stays_quick() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/pattern")).await;
    let mut long = small_pattern_mended();
    let remark = "This sentence says nothing that is knitted.\n";
    while long.len() + remark.len() < 12_000 {
        long.push_str(remark);
    }
    paste_pattern(&phone, &long).await;
    until_shown(&phone, "#plan .headline", "32").await;
    phone.slow_down(4).await;
    let took = phone
        .ask(
            "const area = document.getElementById('pattern-text');
             const took = [];
             for (let nth = 0; nth < 12; nth += 1) {
                 const begun = performance.now();
                 area.value += nth ? '1' : '\\nRnd 1: K';
                 area.dispatchEvent(new Event('input', { bubbles: true }));
                 took.push(performance.now() - begun);
             }
             took.sort((a, b) => a - b);
             return took",
        )
        .await;
    phone.slow_down(1).await;
    let took: Vec<f64> = took
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_f64)
        .collect();
    println!("a letter typed: {took:?} ms");
    // All but what a busy machine kept waiting.
    assert!(took[8] < 16.0, "{took:?}");
    // With pauses in which it is read, checked and drawn: what keeps a letter waiting that is typed meanwhile.
    phone.slow_down(4).await;
    let kept = phone
        .ask_later(
            "const kept = [];
             const watch = new PerformanceObserver((list) => {
                 for (const task of list.getEntries()) kept.push(Math.round(task.duration));
             });
             watch.observe({ type: 'longtask' });
             const area = document.getElementById('pattern-text');
             for (let nth = 0; nth < 6; nth += 1) {
                 area.value += '1';
                 area.dispatchEvent(new Event('input', { bubbles: true }));
                 await new Promise((done) => setTimeout(done, 600));
             }
             watch.disconnect();
             return kept.sort((a, b) => a - b)",
        )
        .await;
    phone.slow_down(1).await;
    println!("tasks of more than 50 ms in six pauses: {kept} ms");
    let kept: Vec<f64> = kept
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_f64)
        .collect();
    // One reading takes far less; a busy machine is given ten times as long.
    assert!(
        kept.last().is_none_or(|longest| *longest < 1_000.0),
        "{kept:?}"
    );
    let begin = Instant::now();
    until_shown(&phone, ".found-in-pattern", "to look at").await;
    println!("read again after {:?}", begin.elapsed());
    assert!(begin.elapsed() < Duration::from_secs(20));
    phone.put_away().await;
}
