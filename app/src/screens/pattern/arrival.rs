//! What stands on the screen at first: what was left there, or a pattern that comes with the address. The
//! latter never takes the place of the former unasked.

use evenloop_engine::json::from_json;
use evenloop_engine::link::read_link;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::text::link_error;
use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::{use_location, use_query_map};

use super::desk::Desk;
use super::form::PatternForm;
use crate::base::use_go;
use crate::parts::plain::{button, following, group, paragraph};
use crate::parts::{Notice, Tone};
use crate::preferences::use_preferences;
use crate::routes::{self, Screen};
use crate::store::{self, PairId};
use crate::text::pattern as text;

/// What came with the address.
#[derive(Clone, PartialEq)]
enum Came {
    Nothing,
    /// Something stands there already: the knitter decides.
    Asks(Box<Recipe>),
    /// Why it is none.
    Refused(String),
}

#[component]
pub(super) fn Arrival(desk: Desk) -> impl IntoView {
    let preferences = use_preferences();
    let (hash, query) = (use_location().hash, use_query_map());
    let came = RwSignal::new(Came::Nothing);
    let go = use_go();
    // The address is done with, so that a reload does not ask again.
    let forget_address = Callback::new(move |()| {
        let options = NavigateOptions {
            replace: true,
            scroll: false,
            ..NavigateOptions::default()
        };
        go(Screen::Pattern.path(), options);
    });
    Effect::new(move |woken: Option<bool>| {
        if woken == Some(true) || !preferences.loaded() {
            return woken == Some(true);
        }
        take_up_draft(desk);
        let link = hash.with_untracked(|hash| routes::recipe_in(hash).map(str::to_owned));
        let pair = query.with_untracked(|query| query.get(routes::PAIR));
        let recipe = match (link, pair) {
            (Some(link), _) => read_link(&link).map_err(|why| link_error(&why).to_owned()),
            (None, Some(pair)) => of_pair(&pair).ok_or_else(|| text::NONE_CAME.to_owned()),
            (None, None) => return true,
        };
        let pattern = recipe.and_then(|recipe| match recipe.written {
            Some(_) => Ok(recipe),
            None => Err(text::NONE_CAME.to_owned()),
        });
        match pattern {
            Ok(recipe) if desk.form.with_untracked(PatternForm::is_empty) => {
                take(desk, &recipe);
                forget_address.run(());
            }
            Ok(recipe) => came.set(Came::Asks(Box::new(recipe))),
            Err(why) => {
                came.set(Came::Refused(why));
                forget_address.run(());
            }
        }
        true
    });
    let accept = Callback::new(move |()| {
        if let Came::Asks(recipe) = came.get_untracked() {
            take(desk, &recipe);
            came.set(Came::Nothing);
            forget_address.run(());
        }
    });
    let decline = Callback::new(move |()| {
        came.set(Came::Nothing);
        forget_address.run(());
    });
    following("arrival", move || match came.get() {
        Came::Nothing => Vec::new(),
        Came::Asks(_) => vec![
            view! {
                <Notice>
                    {paragraph("", text::CAME)}
                    {group(
                        "buttons",
                        vec![
                            button("button lead", text::TAKE, None, accept),
                            button("button", text::LEAVE, None, decline),
                        ],
                    )}
                </Notice>
            }
            .into_any(),
        ],
        Came::Refused(why) => {
            vec![view! { <Notice tone=Tone::Wrong>{paragraph("", why)}</Notice> }.into_any()]
        }
    })
}

/// What was left here.
fn take_up_draft(desk: Desk) {
    let unit = use_preferences().get_untracked().unit;
    let draft = store::here().pattern_draft();
    let draft = draft.and_then(|text| from_json::<PatternForm>(&text).ok());
    // What was typed before the page woke is kept.
    desk.take_up();
    let typed = desk.form.with_untracked(|form| !form.is_empty());
    match draft {
        Some(draft) if !typed => {
            desk.form.set(draft);
            desk.replaced.notify();
            desk.look();
        }
        _ => desk.form.update(|form| form.unit = unit),
    }
}

/// Puts a recipe's pattern there; the text of before is kept.
fn take(desk: Desk, recipe: &Recipe) {
    let form = PatternForm::of(recipe, desk.form.with_untracked(|form| form.unit));
    let text = form.text.clone();
    desk.replace(text);
    desk.change(|before| *before = form);
    desk.look();
}

/// The recipe that a pair was cast on with.
fn of_pair(id: &str) -> Option<Recipe> {
    let pair = store::here().open(&PairId::read(id)?).ok()?;
    Some(pair.meant.plan.recipe.clone())
}
