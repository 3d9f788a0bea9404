//! The pad: one touch, one round; held, several at once. It shows the number that is being knitted. Undo and
//! all the rest lie beside it, never on it.

use std::cell::Cell;
use std::time::Duration;

use evenloop_engine::plan::StepForm;
use leptos::ev;
use leptos::leptos_dom::helpers::{IntervalHandle, TimeoutHandle};
use leptos::prelude::*;

use super::touches::Touches;
use crate::hands::{Act, Contact, HELD};
use crate::in_hand::Session;
use crate::preferences::use_preferences;
use crate::text;

/// How long it is said that a touch was not counted.
const SAID: Duration = Duration::from_millis(1200);

/// How soon after a finger has left it the pad is at rest, where that was no touch.
const LIFTED: Duration = Duration::from_millis(80);

/// A click that follows the lifting of a finger so soon, in milliseconds, is of the same touch.
const SAME_TOUCH: f64 = 400.0;

/// How fast a held Undo runs back: slow enough to be let go at the number that is looked for.
const BACK: Duration = Duration::from_millis(220);

/// How many rounds can be counted at once.
const SEVERAL: [usize; 6] = [2, 3, 4, 5, 6, 10];

/// Where and when a finger came down, until it is lifted.
#[derive(Clone, Copy)]
struct Press {
    down: StoredValue<Option<(f64, f64, f64)>>,
    waits: StoredValue<Option<TimeoutHandle>>,
    /// It was held: the click that ends it is no touch.
    held: StoredValue<bool>,
    /// When a finger was lifted whose touch was answered then: the click that ends it is the same touch.
    answered: StoredValue<Option<f64>>,
}

impl Press {
    fn new() -> Self {
        Self {
            down: StoredValue::new(None),
            waits: StoredValue::new(None),
            held: StoredValue::new(false),
            answered: StoredValue::new(None),
        }
    }

    /// A finger comes down; where it rests, it is held.
    fn begin(self, event: &ev::PointerEvent, hold: impl FnOnce() + 'static) {
        let place = (f64::from(event.client_x()), f64::from(event.client_y()));
        self.down
            .set_value(Some((event.time_stamp(), place.0, place.1)));
        self.held.set_value(false);
        self.answered.set_value(None);
        self.stop_waiting();
        let rested = move || {
            if self.held.try_set_value(true).is_none() {
                hold();
            }
        };
        self.waits
            .set_value(set_timeout_with_handle(rested, HELD).ok());
    }

    fn stop_waiting(self) {
        if let Some(handle) = self.waits.try_update_value(Option::take).flatten() {
            handle.clear();
        }
    }

    /// A finger is lifted from where it came down: the touch need not wait for its click, which the browser makes only once
    /// it has looked what else it may have been.
    fn lifts(self, event: &ev::PointerEvent) -> bool {
        let lifts = event.pointer_type() == "touch"
            && event.is_primary()
            && self.down.try_get_value().flatten().is_some()
            && is_over(event);
        if lifts {
            self.answered.set_value(Some(event.time_stamp()));
        }
        lifts
    }

    /// Whether a finger that is lifted was answered when it was.
    fn was_answered(self) -> bool {
        self.answered.try_get_value().flatten().is_some()
    }

    /// Whether a click is of a touch that was answered.
    fn is_answered(self, event: &ev::MouseEvent) -> bool {
        let lifted = self.answered.try_update_value(Option::take).flatten();
        lifted.is_some_and(|lifted| event.time_stamp() - lifted < SAME_TOUCH)
    }

    /// The finger has left, or the browser has taken its movement for something else.
    fn leave(self) {
        self.stop_waiting();
        self.down.try_set_value(None);
    }

    /// The finger was lifted where it came down. Nothing where it was held.
    fn end(self, event: &web_sys::Event) -> Option<Contact> {
        self.stop_waiting();
        let down = self.down.try_update_value(Option::take).flatten();
        if self.held.try_update_value(std::mem::take) == Some(true) {
            return None;
        }
        let lifted = event.time_stamp();
        Some(
            down.map_or(Contact::at_once(lifted), |(pressed, x, y)| Contact {
                pressed,
                lifted,
                at: Some((x, y)),
            }),
        )
    }
}

/// Whether a finger is over the pad or what is in it.
fn is_over(event: &ev::PointerEvent) -> bool {
    // Places on a screen are far below where these would differ.
    #[allow(clippy::cast_precision_loss)]
    let [x, y] = [event.client_x(), event.client_y()].map(|place| place as f32);
    let under = document().element_from_point(x, y);
    under.is_some_and(|under| matches!(under.closest(".pad"), Ok(Some(_))))
}

#[component]
pub(super) fn Pad(session: Session, touches: Touches, on_more: Callback<()>) -> impl IntoView {
    let pressed = RwSignal::new(false);
    let bounced = for_a_moment(touches.bounced);
    let several = RwSignal::new(false);
    let at_hand = Memo::new(move |_| at_hand(session));
    let preferences = use_preferences();
    let needle = Memo::new(move |_| {
        let by_needle = preferences.get().by_needle;
        session.needle_at_hand().filter(|_| by_needle)
    });
    let press = Press::new();
    // Fast to the eye at the press; counted at the release, so that a slip of the finger can still
    // be drawn away. A finger's is answered at once, anything else when the click comes. What a touch changes is painted together with the pad at rest again: to paint
    // that first would only keep the answer waiting.
    let begin = move |event: ev::PointerEvent| {
        let main = event.button() == 0;
        pressed.set(main);
        if main {
            press.begin(&event, move || {
                if untrack(|| session.rounds_ahead()) > 1 {
                    several.set(true);
                }
            });
        }
    };
    let rest = move || {
        if pressed.try_get_untracked() == Some(true) {
            pressed.set(false);
        }
    };
    // A finger that is lifted leaves; a button of a mouse that is let go is a click.
    let release = move |_: ev::PointerEvent| {
        press.leave();
        if pressed.get_untracked() {
            set_timeout(rest, LIFTED);
        }
    };
    let answer = move |event: &web_sys::Event| {
        rest();
        if let Some(contact) = press.end(event) {
            touches.act.run((Act::Done, contact));
        }
    };
    let number = move || at_hand.get().map(|(_, number, _)| number);
    view! {
        {beside(session, touches, on_more)}
        <button
            type="button"
            class="pad"
            data-hands="pad"
            class:pressed=pressed
            class:bounced=bounced
            on:pointerdown=begin
            on:pointerup=move |event| {
                if press.lifts(&event) {
                    answer(&event);
                }
            }
            // No click then: what came into the place of the pad meanwhile is not touched.
            on:touchend=move |event| {
                if press.was_answered() {
                    event.prevent_default();
                }
            }
            on:pointercancel=release
            on:pointerleave=release
            on:contextmenu=|event| event.prevent_default()
            on:click=move |event| {
                if !press.is_answered(&event) {
                    answer(&event);
                }
            }
        >
            // Two names of one movement: another one begins it anew.
            <span
                class="number"
                class:even=move || number().is_some_and(|n| n % 2 == 0)
                class:odd=move || number().is_some_and(|n| n % 2 == 1)
            >
                <span class="unseen">
                    {move || at_hand.get().map(|(form, ..)| text::now::step_spoken(form))}
                </span>
                {number}
            </span>
            <span class="label">
                {move || {
                    if bounced.get() {
                        text::now::BOUNCED.to_owned()
                    } else {
                        let needle = needle.get();
                        at_hand.get().map_or_else(String::new, |(form, _, of)| label(form, of, needle))
                    }
                }}
            </span>
            {move || session.turn().map(|turn| view! { <span class="of">{text::now::whose(turn)}</span> })}
        </button>
        {move || several.get().then(|| at_once(session, touches, several))}
    }
    .into_any()
}

/// What lies beside the pad: Undo, and the way to all the rest.
fn beside(session: Session, touches: Touches, on_more: Callback<()>) -> AnyView {
    view! {
        <div class="small-buttons">
            <UndoButton session touches />
            <button
                type="button"
                class="button to-pause"
                data-hands="more"
                on:click=move |_| on_more.run(())
            >
                {text::now::MORE}
                <span class="unseen">{text::now::MORE_SPOKEN}</span>
            </button>
        </div>
    }
    .into_any()
}

/// What a touch counts. The last needle ends the round.
fn label(form: StepForm, of: usize, needle: Option<(usize, usize)>) -> String {
    match needle {
        Some((nth, needles)) if nth < needles => text::now::pad_needle(nth, of),
        _ => text::now::pad(form, of),
    }
}

/// Several rounds at once, for who forgot to count on.
fn at_once(session: Session, touches: Touches, open: RwSignal<bool>) -> AnyView {
    let ahead = untrack(|| session.rounds_ahead());
    let choices: Vec<_> = SEVERAL
        .into_iter()
        .filter(|rounds| *rounds <= ahead)
        .map(|rounds| {
            let choose = move |_| {
                open.set(false);
                touches.several.run(rounds);
            };
            view! {
                <button type="button" class="button lead" data-hands="several" on:click=choose>
                    {text::now::several(rounds)}
                </button>
            }
        })
        .collect();
    view! {
        <div class="several" role="group" aria-label=text::now::SEVERAL>
            <p>{text::now::SEVERAL}</p>
            <div class="buttons">{choices}</div>
            <button type="button" class="button" data-hands="several" on:click=move |_| open.set(false)>
                {text::now::NONE_AT_ONCE}
            </button>
        </div>
    }
    .into_any()
}

/// Takes the last step back; held, one after the other.
#[component]
pub(super) fn UndoButton(session: Session, touches: Touches) -> impl IntoView {
    let press = Press::new();
    let runs = StoredValue::new(None::<IntervalHandle>);
    let stop = move || {
        press.stop_waiting();
        if let Some(handle) = runs.try_update_value(Option::take).flatten() {
            handle.clear();
        }
    };
    on_cleanup(stop);
    let begin = move |event: ev::PointerEvent| {
        stop();
        press.begin(&event, move || {
            // No finger makes these: far enough apart that none of them is a bounce.
            let time = Cell::new(0.0);
            let back = move || {
                // A button that was switched off meanwhile is not told that the finger was lifted.
                if !untrack(|| session.can_undo()) {
                    return stop();
                }
                time.set(time.get() + 1_000.0);
                touches.act.run((Act::Undo, Contact::at_once(time.get())));
            };
            runs.set_value(set_interval_with_handle(back, BACK).ok());
        });
    };
    let end = move |_: ev::PointerEvent| stop();
    view! {
        <button
            type="button"
            class="button undo"
            data-hands="undo"
            disabled=move || !session.can_undo()
            on:pointerdown=begin
            on:pointerup=end
            on:pointercancel=end
            on:pointerleave=end
            on:contextmenu=|event| event.prevent_default()
            on:click=move |event| {
                stop();
                if let Some(contact) = press.end(&event) {
                    touches.act.run((Act::Undo, contact));
                }
            }
        >
            <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
                <path d="M8.500 5 4.500 9l4 4 M5 9h9a5 5 0 0 1 0 10H9"></path>
            </svg>
            {text::now::UNDO}
        </button>
    }
    .into_any()
}

/// The number that the pad shows; nothing where the sock is finished.
pub(super) fn number_shown(session: Session) -> Option<usize> {
    untrack(|| at_hand(session)).map(|(_, number, _)| number)
}

/// What is being knitted: a round, row or move, its number, and of how many.
fn at_hand(session: Session) -> Option<(StepForm, usize, usize)> {
    let at = session.at();
    session.with(|pair| {
        let (step, seen) = pair.plan.step(at.step).zip(pair.trace.steps.get(at.step))?;
        let section = pair.plan.sections.get(seen.section)?;
        Some(match step.form {
            StepForm::Walk => (step.form, at.mv + 1, step.moves.len()),
            form => (
                form,
                section.number(seen.index).unwrap_or(1),
                section.counted(),
            ),
        })
    })
}

/// True for a moment after each time that a count is raised.
fn for_a_moment(count: RwSignal<u32>) -> RwSignal<bool> {
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
