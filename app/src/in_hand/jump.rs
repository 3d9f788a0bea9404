//! The question before the place is changed: how far it is, what is undone, what should be on the
//! needles there. One touch goes; Undo comes back.

use evenloop_engine::text as engine_text;
use evenloop_engine::text::Way;
use evenloop_engine::text::Wording;
use evenloop_engine::within_round::WithinRound;
use leptos::prelude::*;

use super::session::{JumpScope, Session};
use crate::parts::plain::{button, group, paragraph, weighty};
use crate::text;

/// Asks whether to go to a place. `jumped` is called when the place was changed; `leave` leaves it as it
/// is, where that is not clear by itself. Of two socks at a time both can go or one alone: `reach` says
/// which is more likely meant.
pub(crate) fn confirm_jump(
    session: Session,
    to: WithinRound,
    jumped: Callback<()>,
    leave: Option<Callback<()>>,
    reach: JumpScope,
) -> AnyView {
    let from = session.place_untracked();
    let way = move |wording: Wording| {
        session.with(|pair| engine_text::way(pair.plan, pair.trace, from, to, wording.english))
    };
    let Some(Way {
        back,
        needles,
        parts,
        ..
    }) = way(Wording::default())
    else {
        return paragraph("soft", text::now::HERE_ALREADY);
    };
    let goes = move |reach: JumpScope| {
        Callback::new(move |()| {
            session.go_to(to, reach);
            jumped.run(());
        })
    };
    let mut buttons: Vec<AnyView> = leave
        .map(|leave| button("button", text::now::NOT_THERE, None, leave))
        .into_iter()
        .collect();
    if untrack(|| session.is_together()) {
        let alone = text::now::go_alone(untrack(|| session.sock()));
        let both = text::now::GO_BOTH;
        let (less, more) = match reach {
            JumpScope::Sock => ((both, JumpScope::Pair), (alone, JumpScope::Sock)),
            JumpScope::Pair => ((alone, JumpScope::Sock), (both, JumpScope::Pair)),
        };
        buttons.push(button("button", less.0, None, goes(less.1)));
        buttons.push(button("button lead", more.0, None, goes(more.1)));
    } else {
        buttons.push(button(
            "button lead",
            text::now::GO,
            None,
            goes(JumpScope::Sock),
        ));
    }
    let there = text::now::needles_there(needles.as_deref(), back);
    let mut all = vec![
        weighty(move |wording| way(wording).map_or_else(String::new, |way| way.told)),
        paragraph("", there),
    ];
    if parts.is_some() {
        all.push(paragraph("", move |wording| {
            let parts = way(wording).and_then(|way| way.parts);
            text::now::between(back, &parts.unwrap_or_default())
        }));
    }
    all.push(paragraph("soft small", text::now::HERE_SAFE));
    all.push(group("buttons", buttons));
    group("go", all)
}
