//! How it went: time so far and time left at the knitter's own pace, and where a sock went another way
//! than planned.

use evenloop_engine::journal::Seconds;
use evenloop_engine::pace::Pace;
use evenloop_engine::plan::changes;
use evenloop_engine::text as engine_text;
use evenloop_engine::text::Wording;
use evenloop_engine::together::Sock;
use evenloop_engine::yarn::usage_from;
use leptos::prelude::*;

use crate::in_hand::{Session, SockInHand, about};
use crate::parts::plain::{group, paragraph};
use crate::preferences::use_preferences;
use crate::text;

/// Time so far and left; nothing before there is anything to tell.
pub(super) fn time(session: Session) -> AnyView {
    let told = move || {
        let at = session.at();
        let together = session.is_together();
        session.with(|pair| {
            let [first, second] = &pair.pair.patterns;
            let [first_log, second_log] = &pair.pair.journals;
            let pace = Pace::of(&[
                (&first.plan, &first.trace, first_log),
                (&second.plan, &second.trace, second_log),
            ]);
            let stitches = if together {
                let socks = pair.pair.on_needles().into_iter();
                socks
                    .map(|sock| usage_from(sock.plan, sock.journal.position()).worked)
                    .sum()
            } else {
                usage_from(pair.plan, at).worked
            };
            time_told(pace.spent, pace.of_stitches(stitches), together)
                .map(|text| paragraph("soft small", text))
                .into_iter()
                .collect::<Vec<_>>()
        })
    };
    view! { <div class="time">{told}</div> }.into_any()
}

/// What is not as it was planned; nothing when all is.
pub(super) fn otherwise(session: Session) -> AnyView {
    let preferences = use_preferences();
    let told = move || {
        session.at();
        let told = session.with(|pair| differences(pair, preferences.get().style));
        if told.is_empty() {
            return Vec::new();
        }
        let items: Vec<AnyView> = told
            .into_iter()
            .map(|text| view! { <li>{text}</li> }.into_any())
            .collect();
        vec![
            view! { <h2>{text::map::OTHERWISE}</h2> }.into_any(),
            view! { <ul>{items}</ul> }.into_any(),
        ]
    };
    group("otherwise", vec![told.into_any()])
}

/// Time so far and time left; nothing before there is a minute of it.
fn time_told(spent: Seconds, left: Option<Seconds>, both: bool) -> Option<String> {
    let so_far = (spent >= 60).then(|| text::map::so_far(&about(spent)))?;
    Some(match left {
        Some(left) if left > 0 => text::map::time(&so_far, &text::map::left(&about(left), both)),
        _ => so_far,
    })
}

fn differences(pair: SockInHand<'_>, wording: Wording) -> Vec<String> {
    let mut told = Vec::new();
    let socks = pair.pair.patterns.iter().zip(&pair.pair.journals);
    for (sock, (pattern, journal)) in Sock::BOTH.into_iter().zip(socks) {
        if journal.is_empty() {
            continue;
        }
        let planned = changes(&pair.pair.meant.plan, &pattern.plan)
            .into_iter()
            .map(|one| engine_text::change(one, &pattern.plan, wording));
        let jumps = journal.jumps(&pattern.trace);
        let went = jumps
            .iter()
            .map(|jump| engine_text::jump(&pattern.plan, &pattern.trace, *jump, wording.english));
        let told_of = |text: String| text::map::on_sock(sock, &text);
        told.extend(planned.chain(went).map(told_of));
    }
    told
}

#[cfg(test)]
#[cfg(not(feature = "made-up-language"))]
mod tests {
    use super::*;

    #[test]
    fn time_so_far_is_told_from_a_minute_on() {
        assert_eq!(time_told(30, Some(99), false), None);
        assert_eq!(
            time_told(600, None, false).as_deref(),
            Some("About 10 min of knitting so far.")
        );
        assert_eq!(
            time_told(600, Some(7200), true).as_deref(),
            Some(
                "About 10 min of knitting so far. About 2 h to the end of both socks, if you go on at your own pace."
            )
        );
    }
}
