//! The tiny sock that is knitted to try things out, for the screens that begin it and throw it away.
//!
//! May use the store and what is loaded later; must not know any screen.

use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::NavigateOptions;

use crate::base::use_go;
use crate::lazy_practice;
use crate::routes::Screen;
use crate::store::{self, Practice, StoreError};
use crate::text;

/// Begins the tiny sock, or takes it in hand where it lies in the basket, and goes to Now; why it does not is told.
pub(crate) fn begin(failed: RwSignal<Option<&'static str>>) -> Callback<()> {
    let go = use_go();
    Callback::new(move |()| {
        failed.set(None);
        let go = go.clone();
        spawn_local(async move {
            let begun = match store::here().practice() {
                Practice::Begun(id) => store::here().set_current(&id),
                Practice::Unasked | Practice::Over => lazy_practice::begin().await,
            };
            match begun {
                Ok(()) => go(Screen::Now.path(), NavigateOptions::default()),
                // The screen may have been left meanwhile.
                Err(error) => drop(failed.try_set(Some(why(&error)))),
            }
        });
    })
}

/// Throws it away, or declines it, and says then that it is done.
pub(crate) fn end(failed: RwSignal<Option<&'static str>>, done: Callback<()>) -> Callback<()> {
    Callback::new(move |()| match store::here().end_practice() {
        Ok(()) => done.run(()),
        Err(error) => failed.set(Some(why(&error))),
    })
}

const fn why(error: &StoreError) -> &'static str {
    match error {
        StoreError::NotLoaded => text::practice::NOT_LOADED,
        _ => text::practice::NOT_STORED,
    }
}
