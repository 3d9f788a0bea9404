//! The question before the place is changed: how far it is, what is undone, what should be on the
//! needles there. One touch goes; Undo comes back.

use evenloop_engine::trace::Position;
use evenloop_engine::words;
use leptos::prelude::*;

use super::session::{Reach, Session};
use crate::parts::plain::{button, group, paragraph, weighty};
use crate::text::now as copy;

/// Asks whether to go to a place. `jumped` is told when the place was changed; `leave` leaves it as it
/// is, where that is not clear by itself. Of two socks at a time both can go or one alone: `reach` says
/// which is more likely meant.
pub(crate) fn confirm_jump(
    session: Session,
    to: Position,
    jumped: Callback<()>,
    leave: Option<Callback<()>>,
    reach: Reach,
) -> AnyView {
    let from = session.at_untracked();
    let Some(way) = session.with(|pair| words::way(pair.plan, pair.trace, from, to)) else {
        return paragraph("soft", copy::HERE_ALREADY);
    };
    let goes = move |reach: Reach| {
        Callback::new(move |()| {
            session.go_to(to, reach);
            jumped.run(());
        })
    };
    let mut buttons: Vec<AnyView> = leave
        .map(|leave| button("button", copy::NOT_THERE, None, leave))
        .into_iter()
        .collect();
    if untrack(|| session.is_together()) {
        let alone = copy::go_alone(untrack(|| session.sock()));
        let both = copy::GO_BOTH;
        let (less, more) = match reach {
            Reach::Sock => ((both, Reach::Pair), (alone, Reach::Sock)),
            Reach::Pair => ((alone, Reach::Sock), (both, Reach::Pair)),
        };
        buttons.push(button("button", less.0, None, goes(less.1)));
        buttons.push(button("button lead", more.0, None, goes(more.1)));
    } else {
        buttons.push(button("button lead", copy::GO, None, goes(Reach::Sock)));
    }
    let mut all = vec![
        weighty(way.told.clone()),
        paragraph("", copy::needles_there(&way)),
    ];
    let parts = way.parts.as_deref();
    all.extend(parts.map(|parts| paragraph("", copy::between(way.back, parts))));
    all.push(paragraph("soft small", copy::HERE_SAFE));
    all.push(group("buttons", buttons));
    group("go", all)
}
