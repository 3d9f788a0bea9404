//! A knitter who touches the pad: reads the screen, remembers every touch, and holds what the app has
//! stored against that memory.

use std::time::{Duration, Instant};

use evenloop_engine::journal::{Event, Journal, read_chunk};
use evenloop_engine::plan::Plan;
use evenloop_engine::together::{OnNeedles, Sock};
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::read_plan;
use serde_json::Value;

use crate::phone::Phone;

/// Longest wait for the screen to follow.
const PATIENCE: Duration = Duration::from_mins(1);

/// What Now says.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Seen {
    /// The section's name.
    pub section: String,
    /// "Round 3 of 18".
    pub heading: String,
    /// Whose sock.
    pub whose: String,
    /// What the pad counts.
    pub pad: String,
    /// Whose turn it is, of two at a time.
    pub turn: String,
    /// Counts after each line, in order.
    pub counts: Vec<u16>,
}

const LOOK: &str = "
    const text = (css) => document.querySelector(css)?.textContent.trim() ?? '';
    return {
        section: text('.now-head h1'),
        heading: text('.now-head .count'),
        whose: text('.now-head .sock'),
        pad: text('.pad .label'),
        turn: text('.instruction .turn'),
        counts: [...document.querySelectorAll('.instruction .lines .after')]
            .map((one) => Number(one.firstChild.data)),
    };";

/// What stands on the screen now.
pub async fn look(phone: &Phone) -> Seen {
    let seen = phone.ask(LOOK).await;
    let text = |key: &str| seen[key].as_str().unwrap_or_default().to_owned();
    let counts = seen["counts"].as_array().cloned().unwrap_or_default();
    Seen {
        section: text("section"),
        heading: text("heading"),
        whose: text("whose"),
        pad: text("pad"),
        turn: text("turn"),
        counts: counts
            .iter()
            .filter_map(Value::as_u64)
            .filter_map(|n| u16::try_from(n).ok())
            .collect(),
    }
}

/// Waits until what is seen is what is wanted, and says what was seen instead.
///
/// # Panics
/// When it does not come.
pub async fn until_seen(phone: &Phone, what: &str, wanted: impl Fn(&Seen) -> bool) -> Seen {
    let begin = Instant::now();
    loop {
        let seen = look(phone).await;
        if wanted(&seen) {
            return seen;
        }
        assert!(
            begin.elapsed() < PATIENCE,
            "waited in vain for {what}; there is {seen:?}"
        );
        tokio::time::sleep(Duration::from_millis(10)).await;
    }
}

/// Lets the page's clock of touches run so many times as fast, so that a quick test is no trembling
/// finger. To be said again after each loading.
pub async fn hurry(phone: &Phone, times: u32) {
    let script = format!(
        "Object.defineProperty(Event.prototype, 'timeStamp', {{
             configurable: true, get() {{ return performance.now() * {times}; }}
         }});"
    );
    phone.ask(&script).await;
}

/// What is stored of the pair in hand.
#[derive(Debug)]
pub struct Stored {
    /// What both socks are knitted by.
    pub plans: [Plan; 2],
    /// The same, knitted through.
    pub traces: [Trace; 2],
    /// Their logs.
    pub logs: [Journal; 2],
}

impl Stored {
    /// Reads it off the phone, with every checksum looked at.
    ///
    /// # Panics
    /// When there is none, or it cannot be read.
    pub async fn on(phone: &Phone) -> Self {
        let all = phone.ask("return { ...localStorage }").await;
        let all = all.as_object().expect("storage is an object");
        let text = |key: &str| {
            let value = all.get(key).and_then(Value::as_str);
            value.map(str::to_owned)
        };
        let id = text("evenloop:current").expect("a pair is in hand");
        let root = format!("evenloop:pair:{id}");
        let plan = |text: String| read_plan(&text).expect("our own plan");
        let first = text(&format!("{root}:plan:1"))
            .or_else(|| text(&format!("{root}:plan")))
            .map(plan)
            .expect("a plan is stored");
        let second = text(&format!("{root}:plan:2")).map_or_else(|| first.clone(), plan);
        let plans = [first, second];
        let traces = plans
            .each_ref()
            .map(|plan| Trace::of(plan).expect("it can be knitted"));
        let logs = [1, 2].map(|sock| {
            let chunk = |index: u32| {
                let text = text(&format!("{root}:log:{sock}:{index}"))?;
                Some(read_chunk(index, &text).expect("a whole chunk"))
            };
            let events: Vec<Event> = (0..).map_while(chunk).flatten().collect();
            Journal::replay(&events, &traces[sock - 1])
        });
        Self {
            plans,
            traces,
            logs,
        }
    }

    /// Both socks as the engine looks at them.
    pub fn on_needles(&self) -> [OnNeedles<'_>; 2] {
        [0, 1].map(|i| OnNeedles {
            plan: &self.plans[i],
            trace: &self.traces[i],
            journal: &self.logs[i],
        })
    }

    /// Remembers something that happened to a sock.
    pub fn push(&mut self, sock: Sock, event: Event) {
        let i = sock.index();
        self.logs[i].push(event, &self.traces[i]);
    }
}
