//! The pad: one touch, one round. Undo and the way around lie beside it, never on it.

use std::time::Duration;

use evenloop_engine::plan::StepForm;
use leptos::ev;
use leptos::prelude::*;

use super::touches::Touches;
use crate::hands::Act;
use crate::in_hand::Session;
use crate::text;

/// How long it is said that a touch was not counted.
const SAID: Duration = Duration::from_millis(1200);

/// How soon after a finger has left it the pad is at rest, where that was no touch.
const LIFTED: Duration = Duration::from_millis(80);

#[component]
pub(super) fn Pad(session: Session, touches: Touches, on_around: Callback<()>) -> impl IntoView {
    let pressed = RwSignal::new(false);
    let again = again(touches.again);
    let label = Memo::new(move |_| label(session));
    // Fast to the eye at the press; counted at the release, so that a slip of the finger can still
    // be drawn away. What a touch changes is painted together with the pad at rest again: to paint
    // that first would only keep the answer waiting.
    let press = move |event: ev::PointerEvent| pressed.set(event.button() == 0);
    let rest = move || {
        if pressed.try_get_untracked() == Some(true) {
            pressed.set(false);
        }
    };
    // A finger that is lifted leaves; a button of a mouse that is let go is a click.
    let release = move |_: ev::PointerEvent| set_timeout(rest, LIFTED);
    view! {
        <div class="small-buttons">
            <UndoButton session touches />
            <button
                type="button"
                class="button"
                data-hands="around"
                on:click=move |_| on_around.run(())
            >
                {text::now::AROUND}
            </button>
        </div>
        <button
            type="button"
            class="pad"
            data-hands="pad"
            class:pressed=pressed
            class:again=again
            on:pointerdown=press
            on:pointercancel=release
            on:pointerleave=release
            on:click=move |event| {
                rest();
                touches.act.run((Act::Done, event.time_stamp()));
            }
        >
            <span class="label">{move || label.get()}</span>
            {move || session.turn().map(|turn| view! { <span class="of">{text::now::whose(turn)}</span> })}
            <span class="aside" aria-hidden="true">
                {move || again.get().then_some(text::now::AGAIN)}
            </span>
        </button>
    }
    .into_any()
}

/// Takes the last step back.
#[component]
pub(super) fn UndoButton(session: Session, touches: Touches) -> impl IntoView {
    view! {
        <button
            type="button"
            class="button undo"
            data-hands="undo"
            disabled=move || !session.can_undo()
            on:click=move |event| touches.act.run((Act::Undo, event.time_stamp()))
        >
            <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
                <path d="M8.500 5 4.500 9l4 4 M5 9h9a5 5 0 0 1 0 10H9"></path>
            </svg>
            {text::now::UNDO}
        </button>
    }
    .into_any()
}

/// What the next touch counts.
fn label(session: Session) -> String {
    let at = session.at();
    session.with(|pair| {
        let Some((step, seen)) = pair.plan.step(at.step).zip(pair.trace.steps.get(at.step)) else {
            return String::new();
        };
        let number = match step.form {
            StepForm::Walk => Some(at.mv + 1),
            _ => pair
                .plan
                .sections
                .get(seen.section)
                .and_then(|s| s.number(seen.index)),
        };
        text::now::pad(step.form, number.unwrap_or(1))
    })
}

/// True for a moment after each touch that was not counted.
fn again(count: RwSignal<u32>) -> RwSignal<bool> {
    let shown = RwSignal::new(false);
    Effect::new(move |before: Option<u32>| {
        let now = count.get();
        if before.is_some_and(|before| before != now) {
            shown.set(true);
            set_timeout(
                move || {
                    // Only the last of several takes the words away again.
                    if count.try_get_untracked() == Some(now) {
                        shown.try_set(false);
                    }
                },
                SAID,
            );
        }
        now
    });
    shown
}
