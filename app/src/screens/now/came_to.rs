//! What a finished sock or pair came to, and an image of it to be kept or sent. Looked at once in some weeks, and
//! therefore in the part of what is opened at rest; a script of its own (`public/image.js`) paints the image.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

use evenloop_engine::units::LengthUnit;
use evenloop_engine::yarn_amount::show_metres;
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos::wasm_split::{SplitLoaderError, wasm_split};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::files::{self, Unwilling};
use crate::in_hand::{Session, Totals, about};
use crate::parts::plain::{button, group};
use crate::parts::{failure, later};
use crate::preferences::use_preferences;
use crate::text;

/// The drawing of which an image is made.
const DRAWING: &str = ".finished .of-finished svg";

#[wasm_bindgen]
extern "C" {
    // Says whether there is an image. Fails where the script cannot be had.
    #[wasm_bindgen(catch, js_namespace = globalThis, js_name = evenloopImage)]
    async fn keep_image(
        drawing: &web_sys::Element,
        title: &str,
        lines: &str,
        name: &str,
    ) -> Result<JsValue, JsValue>;
}

/// What the sock or pair came to, and the button for its image.
pub(super) fn came_to(session: Session) -> AnyView {
    later(
        || Box::pin(load_totals()),
        move || Box::pin(totals_and_image(session)),
    )
}

#[wasm_split(pause, wasm_split_path = ::leptos::wasm_split, preload(load_totals), fallible)]
fn totals_and_image(session: Session) -> Result<AnyView, SplitLoaderError> {
    let preferences = use_preferences();
    let lines = Memo::new(move |_| lines(session, preferences.get().style.unit));
    let failed = RwSignal::new(None);
    let touched = Callback::new(move |()| {
        failed.set(None);
        let name = session.with(|pair| pair.head.name.clone());
        let lines = lines.get_untracked().join("\n");
        spawn_local(async move {
            if keep(&name, &lines).await.is_err() {
                // The screen may have been left meanwhile.
                failed.try_set(Some(text::now::NO_IMAGE));
            }
        });
    });
    let lines = move || {
        let lines = lines.get().into_iter();
        lines.map(|line| view! { <li>{line}</li> }).collect_view()
    };
    let pieces = vec![
        view! { <ul class="totals">{lines}</ul> }.into_any(),
        failure(failed),
        button("button", text::now::IMAGE, None, touched),
    ];
    Ok(group("came-to", pieces))
}

/// What the finished sock or pair came to, line by line.
fn lines(session: Session, unit: LengthUnit) -> Vec<String> {
    let last = session.sock();
    let Totals {
        rounds,
        spent,
        metres,
    } = session.with(|pair| Totals::of(pair.pair, last));
    let time = (spent >= 60).then(|| text::now::time_knitted(&about(spent)));
    let yarn = (metres > 0).then(|| text::now::yarn_knitted(&show_metres(metres, unit)));
    let rounds = text::now::rounds_knitted(rounds);
    [Some(rounds), time, yarn].into_iter().flatten().collect()
}

/// Offers an image of the sock that is drawn, with a title and some lines below it.
///
/// # Errors
/// When nothing is drawn yet, the script cannot be had or the browser makes no image.
async fn keep(title: &str, lines: &str) -> Result<(), Unwilling> {
    let drawing = document().query_selector(DRAWING)?.ok_or(Unwilling)?;
    let name = text::now::image_file(&files::today());
    let kept = keep_image(&drawing, title, lines, &name).await?;
    if kept == JsValue::TRUE {
        Ok(())
    } else {
        Err(Unwilling)
    }
}
