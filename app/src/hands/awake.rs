//! Keeps the screen from going dark while the work is in the hands.
//!
//! The browser drops the lock whenever the page is hidden, so it is asked for again each time the
//! page comes back. `web-sys` holds the Screen Wake Lock API to be unstable still, so it is reached
//! by name.

use js_sys::{Function, Promise, Reflect};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::VisibilityState;

type Lock = StoredValue<Option<JsValue>, LocalStorage>;

/// Holds the screen awake while `wanted`, for as long as the caller lives.
pub fn keep_awake(wanted: Signal<bool>) {
    let lock: Lock = StoredValue::new_local(None);
    Effect::new(move || {
        if wanted.get() {
            spawn_local(ask(lock, wanted));
        } else {
            release(lock);
        }
    });
    Effect::new(move || {
        let source = document();
        let shown = Closure::<dyn FnMut()>::new(move || {
            if wanted.try_get_untracked() == Some(true)
                && document().visibility_state() == VisibilityState::Visible
            {
                spawn_local(ask(lock, wanted));
            }
        });
        let handler: Function = shown.as_ref().unchecked_ref::<Function>().clone();
        let listening = source.add_event_listener_with_callback("visibilitychange", &handler);
        let shown = StoredValue::new_local(Some(shown));
        on_cleanup(move || {
            if listening.is_ok() {
                let _ = source.remove_event_listener_with_callback("visibilitychange", &handler);
            }
            shown.set_value(None);
            release(lock);
        });
    });
}

async fn ask(lock: Lock, wanted: Signal<bool>) {
    let Some(asked) = request() else { return };
    // Refused when the battery is low or the page has just been hidden: the screen goes dark as
    // ever, nothing is lost.
    let Ok(held) = JsFuture::from(asked).await else {
        return;
    };
    if wanted.try_get_untracked() == Some(true) {
        let before = lock.try_update_value(|lock| lock.replace(held));
        let_go(before.flatten());
    } else {
        let_go(Some(held));
    }
}

/// Whether this browser can keep the screen awake.
pub fn can_stay_awake() -> bool {
    lock_of_screen().is_some()
}

/// `navigator.wakeLock`, where there is such a thing.
fn lock_of_screen() -> Option<JsValue> {
    let navigator = web_sys::window()?.navigator();
    let lock = Reflect::get(&navigator, &"wakeLock".into()).ok()?;
    lock.is_object().then_some(lock)
}

/// `navigator.wakeLock.request("screen")`, where there is such a thing.
fn request() -> Option<Promise> {
    let lock = lock_of_screen()?;
    let request: Function = Reflect::get(&lock, &"request".into())
        .ok()?
        .dyn_into()
        .ok()?;
    let asked = request.call1(&lock, &"screen".into()).ok()?;
    Some(Promise::resolve(&asked))
}

fn release(lock: Lock) {
    let_go(lock.try_update_value(Option::take).flatten());
}

fn let_go(held: Option<JsValue>) {
    let Some(held) = held else { return };
    let release = Reflect::get(&held, &"release".into())
        .ok()
        .and_then(|f| f.dyn_into().ok());
    let released = release.and_then(|f: Function| f.call0(&held).ok());
    if let Some(released) = released {
        let released = Promise::resolve(&released);
        spawn_local(async move { drop(JsFuture::from(released).await) });
    }
}
