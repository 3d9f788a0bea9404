//! What a knitter does with the needles at rest: count, look for the place, see all rounds, note, weigh, put
//! both socks on one needle. Opened by the one button beside Undo; nothing in here counts a round.
//!
//! May use the session and the parts; what a count means is the engine's business.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

mod count;
mod lost;
mod needles;
mod note;
mod rounds;
mod together;
mod weigh;

use evenloop_engine::together::Sock;
use leptos::html;
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use super::practice;
use crate::base::to;
use crate::in_hand::Session;
use crate::parts::plain::{button, group};
use crate::parts::{Icon, Pane, Sign, later, said, soon};
use crate::routes;
use crate::text;

/// What can be done here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum PausePanel {
    /// All rounds of the section.
    Rounds,
    /// Is the count right?
    Count,
    /// Which round is this?
    Lost,
    /// Something to be remembered.
    Note,
    /// How much yarn is left?
    Weigh,
    /// Both socks at once.
    Together,
}

impl PausePanel {
    const ALL: [Self; 6] = [
        Self::Count,
        Self::Lost,
        Self::Note,
        Self::Weigh,
        Self::Together,
        Self::Rounds,
    ];

    /// What it is called.
    const fn name(self) -> &'static str {
        match self {
            Self::Rounds => text::pause::ROUNDS,
            Self::Count => text::pause::COUNT,
            Self::Lost => text::pause::LOST,
            Self::Note => text::pause::NOTE,
            Self::Weigh => text::pause::WEIGH,
            Self::Together => text::pause::TOGETHER,
        }
    }

    /// What it is for.
    const fn note(self) -> &'static str {
        match self {
            Self::Rounds => text::pause::ROUNDS_NOTE,
            Self::Count => text::pause::COUNT_NOTE,
            Self::Lost => text::pause::LOST_NOTE,
            Self::Note => text::pause::NOTE_NOTE,
            Self::Weigh => text::pause::WEIGH_NOTE,
            Self::Together => text::pause::TOGETHER_NOTE,
        }
    }
}

#[component]
pub(super) fn Pause(
    /// The pair.
    session: Session,
    /// Whether it is open.
    open: RwSignal<bool>,
    /// What is done, once that was chosen.
    page: RwSignal<Option<PausePanel>>,
    /// The place was changed.
    on_jump: Callback<()>,
) -> impl IntoView {
    // Whichever sock was looked at in here: the pad goes on with the one whose turn it is.
    Effect::new(move |was: Option<bool>| {
        let is = open.get();
        if was == Some(true) && !is {
            session.look_at_turn();
        }
        is
    });
    soon(|| Box::pin(load_pages()));
    let jumped = Callback::new(move |()| {
        open.set(false);
        on_jump.run(());
    });
    let done = Callback::new(move |()| open.set(false));
    view! {
        <Pane label=text::pause::TITLE open close=text::pause::CLOSE>
            {later(
                || Box::pin(load_pages()),
                move || Box::pin(pages(session, page, jumped, done)),
            )}
        </Pane>
    }
    .into_any()
}

/// The choice, or the page that was chosen. Not needed for counting, and much: a part of its own.
#[wasm_split(pause, wasm_split_path = ::leptos::wasm_split, preload(load_pages), fallible)]
fn pages(
    session: Session,
    page: RwSignal<Option<PausePanel>>,
    jumped: Callback<()>,
    done: Callback<()>,
) -> Result<AnyView, SplitLoaderError> {
    let shown = move || {
        let Some(chosen) = page.get() else {
            return menu(page, session);
        };
        let body = match chosen {
            PausePanel::Rounds => rounds::rounds(session, jumped),
            PausePanel::Count => count::count(session, jumped),
            PausePanel::Lost => lost::lost(session, jumped),
            PausePanel::Note => note::note(session, done),
            PausePanel::Weigh => weigh::weigh(session),
            PausePanel::Together => together::together(session, done),
        };
        let for_each = !matches!(chosen, PausePanel::Together | PausePanel::Rounds);
        let which = for_each.then(|| which(session)).flatten();
        vec![title(chosen, page)]
            .into_iter()
            .chain(which)
            .chain(body)
            .collect()
    };
    Ok(shown.into_any())
}

/// Which of two socks at a time is meant.
fn which(session: Session) -> Option<AnyView> {
    // made again when another one is chosen, not with every touch
    let chosen = session.sock();
    if !untrack(|| session.is_together()) {
        return None;
    }
    let choices = Sock::BOTH.map(|sock| {
        let pressed = Signal::stored(sock == chosen);
        let choose = Callback::new(move |()| session.look_at(sock));
        button("button", text::now::sock(sock), Some(pressed), choose)
    });
    let choices: Vec<AnyView> = choices.into();
    Some(
        view! {
            <div class="which" role="group" aria-label=text::pause::WHICH>
                {choices}
            </div>
        }
        .into_any(),
    )
}

fn menu(page: RwSignal<Option<PausePanel>>, session: Session) -> Vec<AnyView> {
    let entry = |one: PausePanel| {
        view! {
            <button type="button" class="entry" on:click=move |_| page.set(Some(one))>
                <span class="words">
                    <span class="name">{one.name()}</span>
                    <span class="note">{one.note()}</span>
                </span>
                <Icon sign=Sign::Onward />
            </button>
        }
        .into_any()
    };
    let head = view! { <h2>{text::pause::TITLE}</h2> }.into_any();
    let change = session.with(|pair| to(&routes::change_of(&pair.head.id)));
    // One tiny sock is enough to try things out.
    let has = |one: &PausePanel| *one != PausePanel::Together || !practice::is_in_hand(session);
    let entries = PausePanel::ALL.into_iter().filter(has).map(entry);
    let mut entries: Vec<_> = entries.collect();
    // The rest of the sock is changed where it was planned.
    entries.push(
        view! {
            <a class="entry" href=change>
                <span class="words">
                    <span class="name">{text::pause::CHANGE}</span>
                    <span class="note">{said(text::pause::change_note)}</span>
                </span>
                <Icon sign=Sign::Onward />
            </a>
        }
        .into_any(),
    );
    vec![head, group("entries", entries)]
}

/// The name of the page, and the way back. It takes the focus that the touched entry had.
fn title(chosen: PausePanel, page: RwSignal<Option<PausePanel>>) -> AnyView {
    let title = NodeRef::<html::H2>::new();
    Effect::new(move || {
        if let Some(title) = title.get() {
            // A heading that will not take focus is still read.
            let _ = title.focus();
        }
    });
    view! {
        <div class="pane-head">
            <button
                type="button"
                class="button"
                aria-label=text::pause::TITLE
                on:click=move |_| page.set(None)
            >
                "‹"
            </button>
            <h2 tabindex="-1" node_ref=title>
                {chosen.name()}
            </h2>
        </div>
    }
    .into_any()
}
