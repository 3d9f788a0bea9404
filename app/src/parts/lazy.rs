//! A piece of a screen that is loaded apart from it: shown at once where it is here, asked for where it
//! is not, and where it cannot be had, that is said and can be tried again.
//!
//! May know how parts of the app are loaded; must not know which.

use std::future::Future;
use std::pin::Pin;
use std::task::{Context, Poll, Waker};
use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos::wasm_split::SplitLoaderError;

use super::notice::{Notice, Tone};
use super::plain::{button, paragraph};
use crate::text;

/// By then a page has done what it was opened for.
const SOON: Duration = Duration::from_secs(1);

/// What comes, or does not.
pub type Coming<T> = Pin<Box<dyn Future<Output = Result<T, SplitLoaderError>>>>;

/// The piece that `make` makes once `load` has loaded its part.
pub fn later(
    load: fn() -> Coming<()>,
    make: impl Fn() -> Coming<AnyView> + Send + 'static,
) -> AnyView {
    later_boxed(load, Box::new(make))
}

/// Loads a part once the page is awake and has had time for what is urgent, so that it is here when it is asked for.
pub fn soon(load: fn() -> Coming<()>) {
    Effect::new(move || {
        let ask = move || {
            // Whoever then wants it asks again, and says what is the matter.
            spawn_local(async move { drop(load().await) });
        };
        set_timeout(ask, SOON);
    });
}

fn later_boxed(load: fn() -> Coming<()>, make: Box<dyn Fn() -> Coming<AnyView> + Send>) -> AnyView {
    let (failed, changed) = (RwSignal::new(false), Trigger::new());
    let again = Callback::new(move |()| failed.set(false));
    let piece = move || {
        changed.track();
        if failed.get() {
            return not_here(again);
        }
        // Made in here and not when it comes, so that it finds what was provided above it.
        let mut loading = load();
        match now(&mut loading) {
            Some(Ok(())) => now(&mut make())
                .and_then(Result::ok)
                .unwrap_or_else(|| not_here(again)),
            Some(Err(_)) => not_here(again),
            None => {
                spawn_local(async move {
                    match loading.await {
                        Ok(()) => changed.notify(),
                        Err(_) => failed.set(true),
                    }
                });
                paragraph("soft", text::parts::COMING)
            }
        }
    };
    piece.into_any()
}

/// What is here already.
fn now<T>(coming: &mut Coming<T>) -> Option<Result<T, SplitLoaderError>> {
    match coming
        .as_mut()
        .poll(&mut Context::from_waker(Waker::noop()))
    {
        Poll::Ready(result) => Some(result),
        Poll::Pending => None,
    }
}

fn not_here(again: Callback<()>) -> AnyView {
    view! {
        <Notice tone=Tone::Wrong>
            {paragraph("", text::parts::NOT_HERE)}
            {button("button", text::parts::TRY_AGAIN, None, again)}
        </Notice>
    }
    .into_any()
}
