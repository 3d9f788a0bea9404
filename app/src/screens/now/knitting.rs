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
use super::fit::Fits;
use super::fit_ahead::fit_ahead;
use super::head::Head;
use super::hung;
use super::instruction::Instruction;
use super::listening::Listens;
use super::next::next;
use super::notes::{Above, Notes};
use super::pad::Pad;
use super::pause::{Pause, PausePanel};
use super::practice;
use super::touches::{Touches, touches};
use super::turn;
use crate::after_paint::after_paint;
use crate::first_paint::take_over;
use crate::hands::{self, Contact};
use crate::in_hand::Session;
use crate::parts::FabricFigure;
use crate::picture::{GroupFabric, Look, NeedlePicture};
use crate::preferences::use_preferences;
use crate::store::Handedness;
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
    let fits = Fits::new();
    provide_context(fits);
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
    let notes = Notes::of(session, lost, strange);
    let above = Memo::new(move |_| notes.above());
    fit_ahead(session, fits, above, words_alone);
    view! {
        <section class="now" class:left-hand=left class:noticed=move || above.get().noticed class:crowded=move || above.get() != Above::default()>
            {notes.is_practice.then(|| practice::strip(session))}
            <Head session at_hand />
            {notes.strip()}
            {move || {
                listens.get().then(|| view! { <Listens session touches said state=notes.listening /> })
            }}
            <Show
                when=move || !session.is_finished()
                fallback=move || view! { <Finished session touches /> }
            >
                {work(
                    session,
                    at_hand,
                    above,
                    hung::fabric,
                    touches,
                    Opens {
                        explain,
                        on_offer: at_rest(Some(PausePanel::Together)),
                        on_more: at_rest(None),
                    },
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

/// What is opened over the screen.
#[derive(Clone, Copy)]
struct Opens {
    /// How hard moves are worked.
    explain: Callback<Vec<Technique>>,
    /// Two at a time.
    on_offer: Callback<()>,
    /// All that is done at rest.
    on_more: Callback<()>,
}

/// What is on the needles, what to do, what comes then, and the pad.
fn work(
    session: Session,
    at_hand: Memo<Option<Instructions>>,
    above: Memo<Above>,
    fabric: fn(Session, RwSignal<()>) -> Signal<Option<GroupFabric>>,
    touches: Touches,
    opens: Opens,
) -> Vec<AnyView> {
    let Opens {
        explain,
        on_offer,
        on_more,
    } = opens;
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
    let look = session.with(|pair| Look::from(pair.plan.recipe.needles));
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
        view! { <Instruction session at_hand above on_how=explain on_offer /> }.into_any(),
        then(session),
        view! { <Pad session touches on_more /> }.into_any(),
    ]
}

/// What comes then.
fn then(session: Session) -> AnyView {
    let preferences = use_preferences();
    // With both socks on the needles, what comes next ends at "the end of this sock", too.
    let next = Memo::new(move |_| next(session, turn::wording(session, preferences.get().style)));
    view! {
        <p class="then">
            <span>{text::now::THEN}</span>
            " "
            {move || next.get().shown()}
        </p>
    }
    .into_any()
}

/// The words of the screen and what stands around them: boxes take the place of what is not laid out while room is looked
/// for.
fn words_alone(session: Session) -> Vec<AnyView> {
    let preferences = use_preferences();
    let at_hand = Memo::new(move |_| at_hand(session, preferences.get().style));
    let (nothing, none) = (Callback::new(|()| {}), Callback::new(|_| {}));
    let touches = Touches::none();
    let above = Memo::new(|_| Above::default());
    vec![
        view! { <Head session at_hand /> }.into_any(),
        view! { <div class="notes"></div> }.into_any(),
        view! { <figure class="needles"></figure> }.into_any(),
        view! { <span class="fabric-figure off-needles"></span> }.into_any(),
        view! { <Instruction session at_hand above on_how=none on_offer=nothing /> }.into_any(),
        then(session),
        view! { <Pad session touches on_more=nothing /> }.into_any(),
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
    // What is to be told is told by the app.
    let above = Memo::new(|_| Above::default());
    let opens = Opens {
        explain: none,
        on_offer: nothing,
        on_more: nothing,
    };
    all.extend(work(session, at_hand, above, plain, touches, opens));
    all
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
