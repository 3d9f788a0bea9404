//! The screen while a pair is in hand.

use std::time::Duration;

use evenloop_engine::needles::Needles;
use evenloop_engine::plan::StepForm;
use leptos::prelude::*;

use super::announce::{Announced, announce, at_hand};
use super::explain::Explain;
use super::finished::Finished;
use super::head::Head;
use super::hung;
use super::instruction::Instruction;
use super::listening::Listens;
use super::next::next;
use super::pad::Pad;
use super::pause::{Pause, PausePanel};
use super::touches::touches;
use super::trouble;
use super::turn;
use crate::after_paint::after_paint;
use crate::base::to;
use crate::hands::{self, Contact};
use crate::in_hand::Session;
use crate::parts::plain::link;
use crate::parts::{Notice, Tone};
use crate::picture::{Look, NeedlePicture};
use crate::preferences::use_preferences;
use crate::routes::Screen;
use crate::store::{Handedness, StoreError};
use crate::text;

/// When the screen has been seen and no touch can have come yet.
const REHEARSED: Duration = Duration::from_millis(300);

#[component]
pub(super) fn Knitting(session: Session) -> impl IntoView {
    let preferences = use_preferences();
    let said = RwSignal::new(String::new());
    let touches = touches(session, said);
    Effect::new(move || {
        set_timeout(
            move || {
                // The screen may have been left meanwhile.
                if !said.is_disposed() {
                    session.rehearse();
                }
            },
            REHEARSED,
        );
    });
    Effect::new(move || hands::listen(move |act, at| touches.act.run((act, Contact::at_once(at)))));
    hands::keep_awake(Signal::derive(move || {
        preferences.loaded() && preferences.get().awake
    }));
    on_cleanup(hands::be_silent);
    let listens = Memo::new(move |_| preferences.loaded() && preferences.get().listens);

    let at_hand = Memo::new(move |_| at_hand(session, preferences.get().style));
    let seen = seen(session);
    // Groups are called and coloured by the side on which this knitter has them.
    let seen_by_hand = move |mut needles: Needles| {
        let hand = preferences.get().style.hand;
        needles.rename(|origin| hand.sees(origin));
        needles
    };
    let needles = after(seen, session, needles);
    let needles = Memo::new(move |_| seen_by_hand(needles.get()));
    let second = after(seen, session, turn::second_needles);
    let second = Memo::new(move |_| second.get().map(seen_by_hand));
    let shared = after(seen, session, turn::is_shared);
    let flat = after(seen, session, is_flat);
    let fabric = hung::fabric(session, seen);
    let next = Memo::new(move |_| next(session, preferences.get().style));
    let look = session.with(|pair| Look::from(pair.plan.recipe.needles));
    let lost = RwSignal::new(session.with(|pair| pair.trouble.cloned()));
    let pause = RwSignal::new(false);
    let page = RwSignal::new(None::<PausePanel>);
    let at_rest = move |wanted| {
        Callback::new(move |()| {
            page.set(wanted);
            pause.set(true);
        })
    };
    let (how, hard) = (RwSignal::new(false), RwSignal::new(Vec::new()));
    let explain = Callback::new(move |wanted| {
        hard.set(wanted);
        how.set(true);
    });
    let jumped = Callback::new(move |()| {
        let settings = preferences.get_untracked();
        after_paint(move || {
            announce(
                session,
                said,
                Announced::After(text::now::GONE_TO),
                settings,
            );
        });
    });
    let left = move || preferences.get().hand == Handedness::Left;
    view! {
        <section class="now" class:left-hand=left>
            <Head session at_hand />
            <div class="notes">
                {move || lost.get().map(|error| view! { <Lost error seen=lost /> })}
                {move || session.trouble().map(|error| view! { <NotStored error /> })}
                {move || {
                    listens.get().then(|| view! { <Listens session touches said /> })
                }}
            </div>
            <Show
                when=move || !session.is_finished()
                fallback=move || view! { <Finished session touches /> }
            >
                <NeedlePicture needles second look=Signal::stored(look) flat shared fabric />
                <Instruction session at_hand on_how=explain on_offer=at_rest(Some(PausePanel::Together)) />
                <p class="then">
                    <span>{text::now::THEN}</span>
                    " "
                    {move || next.get().shown()}
                </p>
                <Pad session touches on_more=at_rest(None) />
            </Show>
            <Pause session open=pause page on_jump=jumped />
            <Explain open=how hard />
            <p class="unseen" aria-live="polite">
                {said}
            </p>
        </section>
    }
    .into_any()
}

/// What of the log had to be set aside; goes when it was seen.
#[component]
fn Lost(error: StoreError, seen: RwSignal<Option<StoreError>>) -> impl IntoView {
    view! {
        <Notice tone=Tone::Mind>
            <p>{trouble::lost(&error)}</p>
            <button type="button" class="button" on:click=move |_| seen.set(None)>
                {text::now::SEEN}
            </button>
        </Notice>
    }
    .into_any()
}

#[component]
fn NotStored(error: StoreError) -> impl IntoView {
    let full = error == StoreError::Full;
    view! {
        <Notice tone=Tone::Wrong>
            <p>{trouble::not_stored(&error)}</p>
            {full.then(|| link("", to(Screen::Keep.path()), text::now::TO_KEEP))}
        </Notice>
    }
    .into_any()
}

/// Raised once what a touch changed was painted. The picture is drawn only then: words and numbers are
/// what is waited for, and both at once would keep them back.
fn seen(session: Session) -> RwSignal<()> {
    let seen = RwSignal::new(());
    Effect::new(move |before: Option<bool>| {
        session.at();
        let finished = untrack(|| session.is_finished());
        match before {
            // The needles of a sock that is taken up again are drawn with it: those before were empty.
            Some(true) => seen.set(()),
            // The screen may have been left meanwhile.
            Some(false) => after_paint(move || {
                let _ = seen.try_set(());
            }),
            None => {}
        }
        finished
    });
    seen
}

/// What is told of the place, looked at whenever `seen` is raised.
fn after<T>(seen: RwSignal<()>, session: Session, look: fn(Session) -> T) -> Memo<T>
where
    T: PartialEq + Send + Sync + 'static,
{
    Memo::new(move |_| {
        seen.track();
        untrack(|| look(session))
    })
}

fn needles(session: Session) -> Needles {
    let at = session.at();
    session.with(|pair| pair.trace.needles_at(at).cloned().unwrap_or_default())
}

/// Whether the row at hand is worked back and forth.
fn is_flat(session: Session) -> bool {
    let at = session.at();
    session.with(|pair| {
        pair.plan
            .step(at.step)
            .is_some_and(|s| matches!(s.form, StepForm::Row(_)))
    })
}
