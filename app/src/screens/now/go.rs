//! The question before the place is changed: how far it is, what is undone, what should be on the
//! needles there. One touch goes; Undo comes back.

use evenloop_engine::trace::Position;
use evenloop_engine::words;
use leptos::prelude::*;

use super::copy;
use super::session::Session;
use crate::parts::plain::{button, group, paragraph, weighty};

/// Asks whether to go to a place. `jumped` is told when the place was changed; `leave` leaves it as it
/// is, where that is not clear by itself.
pub(crate) fn go(
    session: Session,
    to: Position,
    jumped: Callback<()>,
    leave: Option<Callback<()>>,
) -> AnyView {
    let from = session.at_untracked();
    let Some(way) = session.with(|pair| words::way(pair.plan, pair.trace, from, to)) else {
        return paragraph("soft", copy::HERE_ALREADY);
    };
    let here = Callback::new(move |()| {
        session.go_to(to);
        jumped.run(());
    });
    let mut buttons: Vec<AnyView> = leave
        .map(|leave| button("button", copy::NOT_THERE, None, leave))
        .into_iter()
        .collect();
    buttons.push(button("button lead", copy::GO, None, here));
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
