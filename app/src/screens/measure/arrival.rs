//! A recipe that comes with the address: from a link, a starter or a pair to be knitted again. It
//! never takes the place of what stands in the form unasked, and what stood there can be taken back.

use evenloop_engine::json::from_json;
use evenloop_engine::link::read_link;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::text::link_error;
use evenloop_engine::units::LengthUnit;
use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_query_map;
use leptos_router::params::ParamsMap;

use super::desk::Desk;
use super::form::MeasureForm;
use crate::base::{instead, use_go};
use crate::parts::plain::{button, following, group, paragraph};
use crate::parts::{Notice, Tone};
use crate::routes::{self, Screen};
use crate::store;
use crate::text::measure as text;

/// What is to be said of it.
#[derive(Clone, PartialEq)]
enum Came {
    Nothing,
    /// The form is not as it was at first: the knitter decides.
    Asks(Box<Arrived>),
    /// It stands in the form; what stood there before is kept.
    Taken,
    /// It cannot be read, and why.
    Refused(String),
}

/// A recipe that came.
#[derive(Clone, PartialEq)]
struct Arrived {
    recipe: Recipe,
    /// Whether it is a ready recipe, made for no certain foot: only its choices are taken.
    ready: bool,
}

impl Arrived {
    /// The form that it makes.
    fn form(&self, unit: LengthUnit) -> MeasureForm {
        if self.ready {
            MeasureForm::of_ready(&self.recipe, unit)
        } else {
            MeasureForm::of(&self.recipe, unit)
        }
    }
}

/// The recipe that an address hands over, and whether it is one of the ready ones.
fn asked(query: &ParamsMap) -> Option<(String, bool)> {
    let own = query.get(routes::RECIPE).map(|link| (link, false));
    own.or_else(|| query.get(routes::READY).map(|link| (link, true)))
}

#[component]
pub(super) fn Arrival(
    desk: Desk,
    /// Whether the draft stands in the form.
    ready: RwSignal<bool>,
) -> impl IntoView {
    let query = use_query_map();
    let came = RwSignal::new(Came::Nothing);
    let go = use_go();
    // The address is done with, so that a reload does not ask again.
    let leave = go.clone();
    let forget_address = Callback::new(move |()| {
        let options = NavigateOptions {
            scroll: false,
            ..instead()
        };
        leave(Screen::Measure.path(), options);
    });
    Effect::new(move || {
        if !ready.get() {
            return;
        }
        let Some((link, ready)) = query.with(asked) else {
            if came.with_untracked(|came| *came == Came::Nothing)
                && store::here().draft_before().is_some()
            {
                came.set(Came::Taken);
            }
            return;
        };
        if read_link(&link).is_ok_and(|recipe| recipe.written.is_some()) {
            // Its text has a screen of its own; this form would lose it.
            return go(&routes::pattern_recipe(&link), instead());
        }
        came.set(arrived(desk, &link, ready));
        if !matches!(*came.read_untracked(), Came::Asks(_)) {
            forget_address.run(());
        }
    });
    let accept = Callback::new(move |()| {
        if let Came::Asks(arrived) = came.get_untracked() {
            // The form is not read any more when another takes its place.
            let form = arrived.form(desk.unit_untracked());
            take(desk, form, true);
            came.set(Came::Taken);
            forget_address.run(());
        }
    });
    let decline = Callback::new(move |()| {
        came.set(Came::Nothing);
        forget_address.run(());
    });
    let take_back = Callback::new(move |()| {
        let before = store::here()
            .draft_before()
            .and_then(|text| from_json::<MeasureForm>(&text).ok());
        if let Some(mut before) = before {
            before.measure_in(desk.unit());
            desk.form.set(before);
            desk.left.set(Vec::new());
        }
        // Should it stay, it is only offered once more.
        let _ = store::here().drop_draft_before();
        came.set(Came::Nothing);
    });
    let let_go = Callback::new(move |()| {
        let _ = store::here().drop_draft_before();
        came.set(Came::Nothing);
    });
    following("arrival", move || {
        let pieces = match came.get() {
            Came::Nothing => return Vec::new(),
            Came::Asks(arrived) => {
                let said = if arrived.ready {
                    text::CAME_READY.to_owned()
                } else {
                    let outcome = arrived.form(desk.unit()).outcome();
                    let stitches = outcome.ok().map(|outcome| outcome.stitches);
                    text::came(stitches, arrived.recipe.foot.length, desk.wording())
                };
                vec![
                    paragraph("", said),
                    group(
                        "buttons",
                        vec![
                            button("button lead", text::TAKE_RECIPE, None, accept),
                            button("button", text::LEAVE_FORM, None, decline),
                        ],
                    ),
                ]
            }
            Came::Taken => vec![
                paragraph("", text::TAKEN),
                group(
                    "buttons",
                    vec![
                        button("button", text::TAKE_BACK, None, take_back),
                        button("button bare", text::LET_GO, None, let_go),
                    ],
                ),
            ],
            Came::Refused(why) => vec![paragraph("", why), paragraph("", text::FORM_AS_IT_WAS)],
        };
        let tone = if matches!(*came.read(), Came::Refused(_)) {
            Tone::Wrong
        } else {
            Tone::Note
        };
        vec![view! { <Notice tone>{pieces}</Notice> }.into_any()]
    })
}

/// What becomes of a link: into an untouched form a recipe goes at once.
fn arrived(desk: Desk, link: &str, ready: bool) -> Came {
    let recipe = match read_link(link) {
        Ok(recipe) => recipe,
        Err(why) => return Came::Refused(link_error(&why).to_owned()),
    };
    let arrived = Arrived { recipe, ready };
    let form = arrived.form(desk.unit_untracked());
    if desk.form.with_untracked(MeasureForm::untouched) {
        take(desk, form, false);
        return Came::Nothing;
    }
    let name = desk.form.read_untracked().name.clone();
    if *desk.form.read_untracked() == (MeasureForm { name, ..form }) {
        return Came::Nothing;
    }
    Came::Asks(Box::new(arrived))
}

/// Puts another form in the place of this one; what stood there is kept where that is wanted.
pub(super) fn take(desk: Desk, form: MeasureForm, keep: bool) {
    desk.form.update(|stands| {
        if keep {
            // Not stored, it could not be taken back; the knitter has just said that it may go.
            let _ =
                store::here().keep_draft_before(&serde_json::to_string(stands).unwrap_or_default());
        }
        *stands = form;
    });
    desk.left.set(Vec::new());
}
