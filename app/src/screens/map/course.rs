//! How it went: time so far and time left at the knitter's own pace, and where a sock went another way
//! than planned.

use evenloop_engine::pace::Pace;
use evenloop_engine::plan::changes;
use evenloop_engine::together::Sock;
use evenloop_engine::units::LengthUnit;
use evenloop_engine::words;
use evenloop_engine::yarn::usage_from;
use leptos::prelude::*;

use super::copy;
use crate::in_hand::{Session, SockInHand};
use crate::parts::Words;
use crate::parts::plain::{group, paragraph};
use crate::preferences::use_preferences;

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
            copy::time(pace.spent, pace.of_stitches(stitches), together)
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
    let words = Words::here();
    let told = move || {
        session.at();
        let told = session.with(|pair| differences(pair, preferences.get().unit));
        if told.is_empty() {
            return Vec::new();
        }
        let items: Vec<AnyView> = told
            .into_iter()
            .map(|text| view! { <li>{words.say(&text)}</li> }.into_any())
            .collect();
        vec![
            view! { <h2>{copy::OTHERWISE}</h2> }.into_any(),
            view! { <ul>{items}</ul> }.into_any(),
        ]
    };
    group("otherwise", vec![told.into_any()])
}

fn differences(pair: SockInHand<'_>, unit: LengthUnit) -> Vec<String> {
    let mut told = Vec::new();
    let socks = pair.pair.patterns.iter().zip(&pair.pair.journals);
    for (sock, (pattern, journal)) in Sock::BOTH.into_iter().zip(socks) {
        if journal.is_empty() {
            continue;
        }
        let planned = changes(&pair.pair.meant.plan, &pattern.plan)
            .into_iter()
            .map(|one| words::change(one, &pattern.plan, unit));
        let jumps = journal.jumps(&pattern.trace);
        let went = jumps
            .iter()
            .map(|jump| words::jump(&pattern.plan, &pattern.trace, *jump));
        told.extend(planned.chain(went).map(|text| copy::on_sock(sock, &text)));
    }
    told
}
