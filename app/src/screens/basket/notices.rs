//! What the basket has to say above the pairs: a pair that can be put back, a reminder of a backup, the tiny sock to
//! try things out, what an installed app keeps, and that a pair is not shown yet.
//!
//! May use the store and the parts. Must not know the cards, nor decide when a notice is due but for the installed
//! app's, which is shown once.

use evenloop_engine::text::Typed;
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::why;
use crate::base::to;
use crate::lazy_store;
use crate::parts::plain::{button, group, link, paragraph};
use crate::parts::{Notice, Tone, failure};
use crate::practice;
use crate::routes::Screen;
use crate::store::{self, Practice};
use crate::text;

/// Whether this visit says what an installed app does for what is stored.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Install {
    /// There was nothing in the basket yet.
    Unknown,
    /// It does.
    Said,
    /// There is no need, it was said before, or it was closed.
    Unsaid,
}

/// Decides it once a visit, when something is in the basket; what is shown stays for this visit.
pub(super) fn tell_install(is_empty: bool, install: RwSignal<Install>) {
    if is_empty || install.get_untracked() != Install::Unknown {
        return;
    }
    let needed = store::may_be_cleared_unvisited().is_some();
    if needed && !store::here().was_told_install() {
        store::here().note_told_install();
        install.set(Install::Said);
    } else {
        install.set(Install::Unsaid);
    }
}

/// Says, once on a device, that an installed app keeps longer what is stored.
pub(super) fn install_notice(install: RwSignal<Install>) -> impl IntoView {
    let close = Callback::new(move |()| install.set(Install::Unsaid));
    view! {
        <div class="install">
            <Notice>
                <p>{text::permanence::NOTICE}</p>
                <div class="buttons">
                    {link("button", to(Screen::Settings.path()), text::permanence::NOTICE_HOW)}
                    {button("button bare", text::permanence::NOTICE_CLOSE, None, close)}
                </div>
            </Notice>
        </div>
    }
}

/// The pair that was taken out last, while it can be put back.
pub(super) fn taken_out(name: &Typed, changed: Trigger) -> impl IntoView + use<> {
    let wrong = RwSignal::new(None);
    let put_back = Callback::new(move |()| {
        spawn_local(async move {
            match lazy_store::put_back().await {
                Ok(()) => changed.notify(),
                Err(error) => wrong.set(Some(why::stays_out(&error))),
            }
        });
    });
    let let_go = Callback::new(move |()| {
        // Should it stay, it is only offered once more.
        let _ = store::here().let_go();
        changed.notify();
    });
    let text = text::basket::out(name);
    view! {
        <div class="taken-out" aria-live="polite">
            <Notice>
                <p>{text}</p>
                {move || wrong.get().map(|why| paragraph("", why))}
                {group(
                    "buttons",
                    vec![
                        button("button", text::basket::PUT_BACK, None, put_back),
                        button("button bare", text::basket::LET_GO, None, let_go),
                    ],
                )}
            </Notice>
        </div>
    }
}

/// Says that a pair is not shown yet.
pub(super) fn again(changed: Trigger) -> AnyView {
    let retry = Callback::new(move |()| changed.notify());
    view! {
        <Notice tone=Tone::Mind>
            <p>{text::basket::UNREAD}</p>
            {button("button", text::basket::TRY_AGAIN, None, retry)}
        </Notice>
    }
    .into_any()
}

/// Reminds of a backup; quiet, and it can wait.
pub(super) fn remind(steps: u32, changed: Trigger) -> impl IntoView + use<> {
    let later = Callback::new(move |()| {
        // Not stored, it only comes sooner.
        let _ = store::here().put_off_backup();
        changed.notify();
    });
    view! {
        <Notice tone=Tone::Mind>
            <p>{text::basket::remind(steps)}</p>
            <div class="buttons">
                {link("button", to(Screen::Settings.path()), text::basket::TO_SETTINGS)}
                {button("button bare", text::basket::LATER, None, later)}
            </div>
        </Notice>
    }
}

/// Offers the tiny sock, or to throw it away.
pub(super) fn try_out(practice: &Practice, changed: Trigger) -> Option<AnyView> {
    let failed = RwSignal::new(None);
    let end = practice::end(failed, Callback::new(move |()| changed.notify()));
    let (told, buttons) = match practice {
        Practice::Over => return None,
        Practice::Unasked => {
            let begin = practice::begin(failed);
            let buttons = vec![
                button("button lead", text::practice::BEGIN, None, begin),
                button("button bare", text::practice::DECLINE, None, end),
            ];
            (text::practice::OFFER, buttons)
        }
        Practice::Begun(_) => {
            let buttons = vec![button("button", text::practice::THROW_AWAY, None, end)];
            (text::practice::IN_BASKET, buttons)
        }
    };
    let notice = view! {
        <Notice>
            {paragraph("", told)} {failure(failed)} {group("buttons", buttons)}
        </Notice>
    };
    Some(notice.into_any())
}
