//! A walk through the screens for the first time: a few sentences above each of them, the screens
//! themselves below. It can be ended at any step and begun again from Keep.
//!
//! May use the store and the routes; must not know what is on a screen.

use leptos::prelude::*;
use leptos_router::NavigateOptions;

use crate::base::{here, use_go};
use crate::parts::plain::{button, group, paragraph};
use crate::routes::Screen;
use crate::store;
use crate::text;

/// Where the guide is.
#[derive(Debug, Clone, Copy)]
pub struct Guide {
    at: RwSignal<Option<usize>>,
}

/// A step: the screen, and what is said about it.
const STEPS: [(Screen, &str); 5] = [
    (Screen::Basket, text::guide::BASKET),
    (Screen::Measure, text::guide::MEASURE),
    (Screen::Now, text::guide::NOW),
    (Screen::Map, text::guide::MAP),
    (Screen::Keep, text::guide::KEEP),
];

/// Stored when it was followed to its end or declined.
const OVER: &str = "over";

impl Guide {
    /// Finds out where it was left, once the page is alive.
    pub fn start() -> Self {
        let guide = Self {
            at: RwSignal::new(None),
        };
        Effect::new(move || {
            let left = store::here().guide().and_then(|text| text.parse().ok());
            guide.at.set(left.filter(|at| *at < STEPS.len()));
        });
        guide
    }

    /// From the first step.
    pub fn begin(self) {
        self.go_to(0);
    }

    /// No more of it.
    pub fn end(self) {
        store::here().note_guide(OVER);
        self.at.set(None);
    }

    fn go_to(self, step: usize) {
        store::here().note_guide(&step.to_string());
        self.at.set(Some(step));
    }
}

/// The guide. Only below the app's root, where it is provided.
pub fn use_guide() -> Guide {
    // A screen shown outside the app (in a test) has one that is never begun.
    use_context().unwrap_or_else(|| Guide {
        at: RwSignal::new(None),
    })
}

/// What the guide says, above the screen it speaks of.
#[component]
pub fn GuideStrip() -> impl IntoView {
    let guide = use_guide();
    let go = use_go();
    let walk = Callback::new(move |step: usize| {
        guide.go_to(step);
        go(STEPS[step].0.path(), NavigateOptions::default());
    });
    let end = Callback::new(move |()| guide.end());
    let path = here();
    move || {
        guide.at.get().and_then(|step| {
            // a knitter who goes ahead is followed
            let here = STEPS
                .iter()
                .position(|(screen, _)| screen.path() == *path.read());
            let step = here.unwrap_or(step);
            let (_, told) = STEPS.get(step)?;
            let next = step + 1;
            let buttons = match STEPS.get(next) {
                Some((screen, _)) => vec![
                    button(
                        "button lead",
                        text::guide::on_to(screen.name()),
                        None,
                        Callback::new(move |()| walk.run(next)),
                    ),
                    button("button bare", text::guide::END, None, end),
                ],
                None => vec![button("button lead", text::guide::DONE, None, end)],
            };
            let number = text::guide::step(next, STEPS.len());
            Some(view! {
                <aside class="guide" aria-label=text::guide::LABEL>
                    <div aria-live="polite">
                        {paragraph("small soft", number)} {paragraph("", *told)}
                    </div>
                    {group("buttons", buttons)}
                </aside>
            })
        })
    }
}
