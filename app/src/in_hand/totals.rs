//! What a finished sock or pair came to: rounds, time and yarn.

use evenloop_engine::journal::Seconds;
use evenloop_engine::pace::Pace;
use evenloop_engine::plan::{Plan, Section};
use evenloop_engine::together::Sock;

use crate::store::OpenPair;
use crate::text;

/// What was knitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Totals {
    /// Rounds and rows.
    pub(crate) rounds: usize,
    /// Time between touches, pauses left out.
    pub(crate) spent: Seconds,
    /// Metres of yarn by the plans; 0 where these know no gauge.
    pub(crate) metres: u32,
}

impl Totals {
    /// Of a pair whose socks are finished up to this one.
    pub(crate) fn of(pair: &OpenPair, last: Sock) -> Self {
        let plans = pair.patterns.iter().take(last.index() + 1);
        let plans = plans.map(|pattern| &pattern.plan);
        let rounds = |plan: &Plan| plan.sections.iter().map(Section::counted).sum::<usize>();
        let decimetres = |plan: &Plan| {
            let sections = plan.outcome.sections.iter();
            sections.map(|section| section.yarn_dm).sum::<u32>()
        };
        let logs = pair.on_needles();
        let logs = logs.map(|sock| (sock.plan, sock.trace, sock.journal));
        Self {
            rounds: plans.clone().map(rounds).sum(),
            spent: Pace::of(&logs).spent,
            metres: plans.map(decimetres).sum::<u32>().div_ceil(10),
        }
    }
}

/// A duration, rounded to what is certain of it.
pub(crate) fn about(seconds: Seconds) -> String {
    let minutes = seconds.div_ceil(60);
    match minutes {
        0..20 => text::map::minutes(minutes),
        20..120 => text::map::minutes((minutes + 2) / 5 * 5),
        _ => {
            let halves = (minutes + 15) / 30;
            text::map::hours(halves / 2, halves % 2 == 1)
        }
    }
}

#[cfg(test)]
#[cfg(not(feature = "made-up-language"))]
mod tests {
    use super::*;

    #[test]
    fn time_is_told_no_finer_than_it_is_sure() {
        assert_eq!(about(61), "About 2 min");
        assert_eq!(about(43 * 60), "About 45 min");
        assert_eq!(about(119 * 60), "About 120 min");
        assert_eq!(about(140 * 60), "About 2½ h");
        assert_eq!(about(7200), "About 2 h");
    }
}
