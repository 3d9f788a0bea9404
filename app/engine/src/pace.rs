//! How fast somebody knits, by their own log: time spent, and how long what is left may take.
//!
//! The measure is the median of the gaps between touches, each divided by the stitches worked in it:
//! rounds are not alike, and a median does not mind the doorbell. Longer gaps are pauses and count
//! nowhere. Time is in seconds and comes out of the log.
//!
//! Pure: time is an argument. May use log and trace; must not know a clock.

use crate::journal::{Event, Journal, Seconds};
use crate::plan::Plan;
use crate::sort::sort;
use crate::trace::Trace;
use crate::yarn;

/// A gap longer than this is a pause; twice that where one touch counts for two socks.
pub const PAUSE: Seconds = 600;

/// How many gaps are needed before anything is estimated.
const ENOUGH: usize = 8;

/// A knitter's pace.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Pace {
    /// Time between touches so far, pauses left out.
    pub spent: Seconds,
    /// Milliseconds to a stitch; `None` before there is enough to tell.
    stitch: Option<u64>,
}

impl Pace {
    /// The pace of these logs, each with the plan it was knitted by.
    pub fn of(logs: &[(&Plan, &Trace, &Journal)]) -> Self {
        let mut spent = 0;
        let mut gaps = Vec::new();
        // Socks knitted two at a time share one clock; others were knitted one after the other.
        let shared = |(.., journal): &(&Plan, &Trace, &Journal)| {
            let together = |event: &Event| matches!(event, Event::Together(_, true));
            journal.events().iter().any(together)
        };
        let at_once = if logs.iter().any(shared) {
            logs.len()
        } else {
            1
        };
        for logs in logs.chunks(at_once.max(1)) {
            spent += read(logs, &mut gaps);
        }
        sort(&mut gaps, |a, b| a < b);
        let median = gaps.get(gaps.len() / 2).copied();
        Self {
            spent,
            stitch: median.filter(|_| gaps.len() >= ENOUGH),
        }
    }

    /// How long so many stitches may take.
    pub fn of_stitches(self, stitches: u32) -> Option<Seconds> {
        let millis = self.stitch?.checked_mul(u64::from(stitches))?;
        Some(millis / 1000)
    }
}

/// Gathers the gaps of logs that share one clock, in milliseconds to a stitch; gives the time spent.
/// What was touched in the same second in several of them is one touch.
fn read(logs: &[(&Plan, &Trace, &Journal)], gaps: &mut Vec<u64>) -> Seconds {
    let mut again: Vec<Journal> = logs.iter().map(|_| Journal::new()).collect();
    let mut spent = 0;
    let mut before: Option<Seconds> = None;
    // Time since the last round, where only needles of the one at hand were touched since; none where there
    // was a pause.
    let mut within = Some(0);
    let next = |again: &[Journal]| {
        let heads = logs.iter().zip(again);
        let heads = heads.filter_map(|((.., log), again)| log.events().get(again.events().len()));
        heads.map(Event::at).min()
    };
    loop {
        // What only binds a log together comes with the touch after it.
        for ((_, trace, log), again) in logs.iter().zip(&mut again) {
            while let Some(bond) = log.events().get(again.events().len())
                && bond.is_bond()
            {
                again.push(bond.clone(), trace);
            }
        }
        let Some(now) = next(&again) else {
            break;
        };
        let (mut worked, mut socks, mut of_needles) = (0, 0, false);
        for ((plan, trace, log), again) in logs.iter().zip(&mut again) {
            let head = log.events().get(again.events().len());
            if let Some(event) = head.filter(|event| event.at() == now) {
                if matches!(event, Event::Done(_)) {
                    worked += yarn::usage_at(plan, again.position()).worked;
                    socks += 1;
                }
                of_needles |= matches!(event, Event::Needles(..) | Event::NeedlesTakenBack(..));
                again.push(event.clone(), trace);
            }
        }
        // a clock that was set back leaves a gap that cannot be told
        let gap = before
            .and_then(|before| now.checked_sub(before))
            .filter(|gap| *gap <= PAUSE * socks.max(1));
        before = Some(now);
        spent += gap.unwrap_or(0);
        let since = within.zip(gap).map(|(within, gap)| within + gap);
        if of_needles {
            // the round is not done: its time goes on
            within = since;
            continue;
        }
        within = Some(0);
        if let Some(gap) = since {
            gaps.extend((worked > 0).then(|| gap * 1000 / u64::from(worked)));
        }
    }
    spent
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::Recipe;

    fn sock() -> (Plan, Trace) {
        let plan = make(&Recipe {
            stitches: Some(64),
            ..Recipe::default()
        })
        .expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        (plan, trace)
    }

    /// A log whose touches come at these times.
    fn log(trace: &Trace, times: impl IntoIterator<Item = Seconds>) -> Journal {
        let mut journal = Journal::new();
        journal.push(Event::Begin(0), trace);
        for at in times {
            journal.push(Event::Done(at), trace);
        }
        journal
    }

    #[test]
    fn a_steady_knitter_needs_as_long_for_what_is_left() {
        let (plan, trace) = sock();
        // past the walks of the cast-on, rounds of 64 stitches, two minutes each
        let journal = log(&trace, (1..=40).map(|n| n * 120));
        let pace = Pace::of(&[(&plan, &trace, &journal)]);
        assert_eq!(pace.spent, 40 * 120);
        assert_eq!(pace.of_stitches(640), Some(1200));
        assert_eq!(pace.of_stitches(0), Some(0));
    }

    #[test]
    fn pauses_and_the_doorbell_change_nothing() {
        let (plan, trace) = sock();
        let mut at = 0;
        let times = (1..=40).map(|n| {
            at += match n {
                20 => 12 * 3600,
                25 => 540,
                _ => 120,
            };
            at
        });
        let journal = log(&trace, times);
        let pace = Pace::of(&[(&plan, &trace, &journal)]);
        assert_eq!(pace.spent, 38 * 120 + 540);
        assert_eq!(pace.of_stitches(640), Some(1200));
    }

    #[test]
    fn two_at_a_time_share_one_clock() {
        let (plan, trace) = sock();
        let mut logs = [Journal::new(), Journal::new()];
        logs[0].push(Event::Together(0, true), &trace);
        for n in 0..=40 {
            for log in &mut logs {
                let event = if n == 0 {
                    Event::Begin(0)
                } else {
                    Event::Done(n * 240)
                };
                log.push(event, &trace);
            }
        }
        let pace = Pace::of(&logs.each_ref().map(|log| (&plan, &trace, log)));
        // a round of both takes twice as long, the time is spent once, a stitch takes what it takes
        assert_eq!(pace.spent, 40 * 240);
        assert_eq!(pace.of_stitches(640), Some(1200));
    }

    #[test]
    fn a_touch_a_needle_tells_the_same_pace() {
        let (plan, trace) = sock();
        let by_round = log(&trace, (1..=40).map(|n| n * 120));
        let mut by_needle = Journal::new();
        by_needle.push(Event::Begin(0), &trace);
        for n in 1..=40 {
            let at = by_needle.position();
            // the first needle takes a third of the time
            by_needle.push(Event::Needles(n * 120 - 80, at, 1), &trace);
            by_needle.push(Event::Done(n * 120), &trace);
        }
        let pace = |log: &Journal| Pace::of(&[(&plan, &trace, log)]);
        assert_eq!(pace(&by_needle), pace(&by_round));
        // a pause in the middle of a round is no part of it
        let mut paused = by_needle.clone();
        let at = paused.position();
        paused.push(Event::Needles(40 * 120 + 60, at, 1), &trace);
        paused.push(Event::Done(40 * 120 + 60 + 3600), &trace);
        assert_eq!(pace(&paused).of_stitches(640), Some(1200));
        assert_eq!(pace(&paused).spent, 40 * 120 + 60);
    }

    #[test]
    fn a_few_touches_tell_nothing_yet() {
        let (plan, trace) = sock();
        let journal = log(&trace, (1..=6).map(|n| n * 120));
        let pace = Pace::of(&[(&plan, &trace, &journal)]);
        assert_eq!(pace.of_stitches(640), None);
        assert_eq!(Pace::of(&[]), Pace::default());
    }

    #[test]
    fn a_clock_set_back_does_no_harm() {
        let (plan, trace) = sock();
        let journal = log(&trace, [120, 240, 30, 150]);
        assert_eq!(Pace::of(&[(&plan, &trace, &journal)]).spent, 360);
    }
}
