//! The screen while a pair is in hand.

use std::time::Duration;

use evenloop_engine::needles::Needles;
use evenloop_engine::plan::StepForm;
use evenloop_engine::text::{Instructions, Technique};
use leptos::prelude::*;

use super::ahead::keep_shown;
use super::announce::{Announced, announce, at_hand};
use super::explain::Explain;
use super::finished::{Finished, picture_of_sock};
use super::head::Head;
use super::hung;
use super::instruction::Instruction;
use super::listening::Listens;
use super::next::next;
use super::pad::Pad;
use super::pause::{Pause, PausePanel};
use super::touches::{Touches, touches};
use super::trouble;
use super::turn;
use crate::after_paint::after_paint;
use crate::base::to;
use crate::first_paint::take_over;
use crate::hands::{self, Contact};
use crate::in_hand::Session;
use crate::parts::plain::{button, link, paragraph};
use crate::parts::{FabricFigure, Notice, Tone};
use crate::picture::{GroupFabric, Look, NeedlePicture};
use crate::preferences::use_preferences;
use crate::recovery::Recovery;
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

    let strange = RwSignal::new(0);
    Effect::new(move |over: Option<bool>| {
        let loaded = preferences.loaded();
        if loaded && over != Some(true) {
            take_over(Box::new(move || strange.set(session.take_all_touches())));
        }
        loaded
    });
    keep_shown(session, still);

    let at_hand = Memo::new(move |_| at_hand(session, preferences.get().style));
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
                {use_context::<Recovery>().map(Recovery::notice)}
                {move || lost.get().map(|error| minded(trouble::lost(&error), move || lost.set(None)))}
                {move || session.trouble().map(|error| view! { <NotStored error /> })}
                {move || {
                    let touches = Some(strange.get()).filter(|touches| *touches > 0)?;
                    Some(minded(text::now::early_touches(touches), move || strange.set(0)))
                }}
                {move || {
                    listens.get().then(|| view! { <Listens session touches said /> })
                }}
            </div>
            <Show
                when=move || !session.is_finished()
                fallback=move || view! { <Finished session touches /> }
            >
                {work(
                    session,
                    at_hand,
                    hung::fabric,
                    touches,
                    explain,
                    at_rest(Some(PausePanel::Together)),
                    at_rest(None),
                )}
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

/// What is on the needles, what to do, what comes then, and the pad.
fn work(
    session: Session,
    at_hand: Memo<Option<Instructions>>,
    fabric: fn(Session, RwSignal<()>) -> Signal<Option<GroupFabric>>,
    touches: Touches,
    explain: Callback<Vec<Technique>>,
    on_offer: Callback<()>,
    on_more: Callback<()>,
) -> Vec<AnyView> {
    let preferences = use_preferences();
    let seen = seen(session);
    // Groups are called and coloured by the side on which this knitter has them.
    let seen_by_hand = move |mut needles: Needles| {
        let hand = preferences.get().style.hand;
        needles.rename(|origin| hand.sees(origin));
        needles
    };
    let needles = after(seen, session, needles);
    let needles = Memo::new(move |_| seen_by_hand(needles.get()));
    let to_come = after(seen, session, to_come);
    let to_come = Memo::new(move |_| to_come.get().map(seen_by_hand));
    let second = after(seen, session, turn::second_needles);
    let second = Memo::new(move |_| second.get().map(seen_by_hand));
    let shared = after(seen, session, turn::is_shared);
    let flat = after(seen, session, is_flat);
    let fabric = fabric(session, seen);
    let next = Memo::new(move |_| next(session, preferences.get().style));
    let look = session.with(|pair| Look::from(pair.plan.recipe.needles));
    let then = view! {
        <p class="then">
            <span>{text::now::THEN}</span>
            " "
            {move || next.get().shown()}
        </p>
    };
    // Off the needles, with the last move still to be done.
    let off = Memo::new(move |_| {
        needles.with(|needles| needles.stitches() == 0)
            && to_come.with(Option::is_none)
            && !shared.get()
    });
    let sock = picture_of_sock(session, off.into());
    vec![
        view! { <NeedlePicture needles second look=Signal::stored(look) flat shared to_come fabric /> }
            .into_any(),
        view! { <FabricFigure class="off-needles" picture=sock /> }.into_any(),
        view! { <Instruction session at_hand on_how=explain on_offer /> }.into_any(),
        then.into_any(),
        view! { <Pad session touches on_more /> }.into_any(),
    ]
}

/// The same as it is seen, for the first paint of the next time.
fn still(session: Session) -> Vec<AnyView> {
    let preferences = use_preferences();
    let at_hand = Memo::new(move |_| at_hand(session, preferences.get().style));
    let (nothing, none) = (Callback::new(|()| {}), Callback::new(|_| {}));
    let plain = |_, _| Signal::stored(None);
    let mut all = vec![view! { <Head session at_hand /> }.into_any()];
    let touches = Touches::none();
    all.extend(work(
        session, at_hand, plain, touches, none, nothing, nothing,
    ));
    all
}

/// Something that happened to what was stored; goes when it was seen.
fn minded(told: String, seen: impl Fn() + Send + Sync + 'static) -> AnyView {
    let seen = Callback::new(move |()| seen());
    view! {
        <Notice tone=Tone::Mind>
            {paragraph("", told)} {button("button", text::now::SEEN, None, seen)}
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
    let place = move || (untrack(|| session.sock()), session.place_untracked());
    let drawn = place();
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
            // Touches that came before the app was awake have moved it since.
            None if place() != drawn => seen.set(()),
            None => {}
        }
        finished
    });
    seen
}

/// What is said of the place, looked at whenever `seen` is raised.
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
    session.at();
    let place = session.place_untracked();
    session.with(|pair| {
        let needles = pair.trace.needles_within(place);
        needles.cloned().unwrap_or_default()
    })
}

/// What comes onto needles on which nothing is yet.
fn to_come(session: Session) -> Option<Needles> {
    let at = session.at();
    session.with(|pair| pair.trace.to_come(at).cloned())
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
