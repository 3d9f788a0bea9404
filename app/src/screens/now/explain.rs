//! Hard moves explained: a few sentences and the move frame by frame. What draws them is a part of its own, fetched
//! (or taken from the phone's store) when the first one is looked at.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

use std::time::Duration;

use evenloop_engine::text::{English, KnittingHand, Technique};
use leptos::leptos_dom::helpers::IntervalHandle;
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::moves::{MoveFrame, VIEW_BOX, sequence};
use crate::parts::plain::{button, group, paragraph};
use crate::parts::{Pane, later};
use crate::preferences::use_preferences;
use crate::text;

/// How long a frame is shown while they are played: a caption is read in it.
const FRAME: Duration = Duration::from_secs(3);

#[component]
pub(super) fn Explain(
    /// Whether it is open.
    open: RwSignal<bool>,
    /// What is to be explained.
    #[prop(into)]
    hard: Signal<Vec<Technique>>,
) -> impl IntoView {
    // For the other hand than the one that knits, as it was chosen last on this screen.
    let other = RwSignal::new(false);
    view! {
        <Pane label=text::now::HOW open close=text::pause::CLOSE>
            {later(|| Box::pin(load_all()), move || Box::pin(all(hard, other)))}
        </Pane>
    }
    .into_any()
}

/// All of them, and for which hand.
#[wasm_split(moves, wasm_split_path = ::leptos::wasm_split, preload(load_all), fallible)]
fn all(hard: Signal<Vec<Technique>>, other: RwSignal<bool>) -> Result<AnyView, SplitLoaderError> {
    let preferences = use_preferences();
    let hand = Signal::derive(move || {
        let knits = preferences.get().style.hand;
        if other.get() { knits.other() } else { knits }
    });
    let left = Signal::derive(move || hand.get() == KnittingHand::Left);
    let shown = move || {
        let english = preferences.get().style.english;
        let explained = |technique| explained(technique, english, hand.get());
        hard.get().into_iter().map(explained).collect::<Vec<_>>()
    };
    let turn_round = Callback::new(move |()| other.update(|other| *other = !*other));
    let all = view! {
        {shown}
        <div class="for-left-hand">
            {button("button", text::moves::LEFT_HANDED, Some(left), turn_round)}
            {paragraph("soft", text::moves::LEFT_HANDED_NOTE)}
        </div>
    };
    Ok(all.into_any())
}

/// How one technique is worked.
fn explained(technique: Technique, english: English, hand: KnittingHand) -> AnyView {
    view! {
        <section class="sheet explained">
            <h2>{technique.name(english, hand)}</h2>
            {paragraph("", technique.text(english, hand))}
            {frames(sequence(technique, english, hand))}
        </section>
    }
    .into_any()
}

/// A move frame by frame, in the knitter's first yarn. One is shown, and a touch of its picture goes on to the next;
/// where no motion is wished for, the style sheet shows all of them at once.
fn frames(steps: Vec<MoveFrame>) -> AnyView {
    let last = steps.len().saturating_sub(1);
    let preferences = use_preferences();
    let hue = move || {
        let [yarn, ..] = preferences.get().hues;
        format!("frames {}", yarn.class())
    };
    let at = RwSignal::new(0_usize);
    let playing = RwSignal::new(None::<IntervalHandle>);
    let stop = move || {
        if let Some(clock) = playing.try_update(Option::take).flatten() {
            clock.clear();
        }
    };
    on_cleanup(stop);
    let go = move |to: usize| {
        stop();
        at.set(to);
    };
    let next = Callback::new(move |()| go((at.get_untracked() + 1) % (last + 1)));
    let back = Callback::new(move |()| go(at.get_untracked().saturating_sub(1)));
    let play = Callback::new(move |()| {
        if playing.with_untracked(Option::is_some) {
            return stop();
        }
        // From the end it starts again.
        at.update(|at| *at = if *at == last { 0 } else { *at });
        let tick = move || {
            // The panel may have been closed meanwhile.
            let shown = at.try_update(|at| {
                *at = (*at + 1).min(last);
                *at
            });
            if shown.is_none_or(|shown| shown == last) {
                stop();
            }
        };
        playing.set(set_interval_with_handle(tick, FRAME).ok());
    });
    let pictures: Vec<AnyView> = steps
        .into_iter()
        .enumerate()
        .map(|(i, step)| frame(i, step, at, next))
        .collect();
    let play_or_stop = Signal::derive(move || {
        if playing.with(Option::is_some) {
            text::moves::STOP
        } else {
            text::moves::PLAY
        }
    });
    let place = Signal::derive(move || text::moves::frame(at.get() + 1, last + 1));
    view! {
        <ol class=hue aria-label=text::moves::FRAMES aria-live="polite">
            {pictures}
        </ol>
        <div class="frame-steps">
            {button("button", text::moves::BACK, None, back)}
            {group("frame-at", vec![view! { <span>{place}</span> }.into_any()])}
            {button("button lead", text::moves::NEXT, None, next)}
            <button type="button" class="button" on:click=move |_| play.run(())>
                {play_or_stop}
            </button>
        </div>
    }
    .into_any()
}

/// One frame.
fn frame(i: usize, step: MoveFrame, at: RwSignal<usize>, next: Callback<()>) -> AnyView {
    view! {
        <li class:away=move || at.get() != i>
            <svg
                viewBox=VIEW_BOX
                aria-hidden="true"
                focusable="false"
                on:click=move |_| next.run(())
                inner_html=step.picture
            ></svg>
            {paragraph("", step.caption)}
        </li>
    }
    .into_any()
}
