//! The page's side of the service worker: whether the app works without signal, and whether a
//! newer build waits for the knitter's word.
//!
//! May talk to the browser; must not know any screen. Where there is no service worker (an old
//! browser, plain http) the app simply runs without one.

use std::cell::Cell;
use std::rc::Rc;

use js_sys::Reflect;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    RegistrationOptions, ServiceWorkerContainer, ServiceWorkerRegistration,
    ServiceWorkerUpdateViaCache, VisibilityState,
};

/// Where the worker is served; its scope is the whole site.
const WORKER: &str = "/sw.js";

/// What the screens may know and do about offline use.
#[derive(Debug, Clone, Copy)]
pub struct Offline {
    /// A newer build is installed and waits for [`Offline::accept_update`].
    pub update_ready: RwSignal<bool>,
    /// Everything is stored on this device: no signal is needed from now on.
    pub offline_ready: RwSignal<bool>,
    accepted: RwSignal<bool>,
}

impl Offline {
    /// Registers the worker once the page is alive. On the server it only makes the signals.
    pub fn start() -> Self {
        let offline = Self {
            update_ready: RwSignal::new(false),
            offline_ready: RwSignal::new(false),
            accepted: RwSignal::new(false),
        };
        Effect::new(move || {
            if let Some(container) = container() {
                offline.watch_takeover(&container);
                spawn_local(offline.register(container));
            }
        });
        offline
    }

    /// Switches to the waiting build: the page reloads once, when the new worker has taken over.
    pub fn accept_update(self) {
        self.accepted.set(true);
        let Some(container) = container() else {
            return reload();
        };
        spawn_local(async move {
            let registration = JsFuture::from(container.get_registration()).await;
            let waiting = registration
                .ok()
                .and_then(|value| value.dyn_into::<ServiceWorkerRegistration>().ok())
                .and_then(|registration| registration.waiting());
            match waiting {
                Some(worker) if worker.post_message(&"SKIP_WAITING".into()).is_ok() => {}
                // Another window has switched already; this one only has to follow.
                _ => reload(),
            }
        });
    }

    async fn register(self, container: ServiceWorkerContainer) {
        let options = RegistrationOptions::new();
        options.set_update_via_cache(ServiceWorkerUpdateViaCache::None);
        let registered = JsFuture::from(container.register_with_options(WORKER, &options)).await;
        // A refusal (private window, storage denied) is no fault of the knitter: go on without.
        let Some(registration) = registered
            .ok()
            .and_then(|value| value.dyn_into::<ServiceWorkerRegistration>().ok())
        else {
            return;
        };
        if registration.active().is_some() && registration.waiting().is_some() {
            self.update_ready.set(true);
        }
        self.watch_updates(&registration);
        check_when_shown(registration);
        if let Ok(ready) = container.ready()
            && JsFuture::from(ready).await.is_ok()
        {
            self.offline_ready.set(true);
        }
    }

    /// Raises `update_ready` when a later build has been fetched whole.
    fn watch_updates(self, registration: &ServiceWorkerRegistration) {
        let source = registration.clone();
        let found = Closure::<dyn FnMut()>::new(move || {
            let registration = source.clone();
            // The very first worker is no update: nothing ran before it.
            let replaces_another = registration.active().is_some();
            let Some(installing) = registration.installing() else {
                return;
            };
            let changed = Closure::<dyn FnMut()>::new(move || {
                if replaces_another && registration.waiting().is_some() {
                    self.update_ready.set(true);
                }
            });
            installing.set_onstatechange(Some(changed.as_ref().unchecked_ref()));
            changed.forget();
        });
        registration.set_onupdatefound(Some(found.as_ref().unchecked_ref()));
        // Lives as long as the page, as the app does.
        found.forget();
    }

    /// Reloads once after an accepted update; a window that did not ask is only told.
    fn watch_takeover(self, container: &ServiceWorkerContainer) {
        let had_worker = container.controller().is_some();
        let reloaded = Rc::new(Cell::new(false));
        let changed = Closure::<dyn FnMut()>::new(move || {
            if self.accepted.get_untracked() {
                if !reloaded.replace(true) {
                    reload();
                }
            } else if had_worker {
                self.update_ready.set(true);
            }
        });
        container.set_oncontrollerchange(Some(changed.as_ref().unchecked_ref()));
        changed.forget();
    }
}

/// The browser's service worker entry point, if it has one here.
fn container() -> Option<ServiceWorkerContainer> {
    let navigator = web_sys::window()?.navigator();
    let present = Reflect::has(&navigator, &"serviceWorker".into()).unwrap_or(false);
    present.then(|| navigator.service_worker())
}

/// An installed app may stay open for weeks: ask for news whenever it comes to the front.
fn check_when_shown(registration: ServiceWorkerRegistration) {
    let Some(document) = web_sys::window().and_then(|window| window.document()) else {
        return;
    };
    let source = document.clone();
    let shown = Closure::<dyn FnMut()>::new(move || {
        if source.visibility_state() != VisibilityState::Visible {
            return;
        }
        if let Ok(update) = registration.update() {
            // Without signal the check fails, and that is all right.
            spawn_local(async move { drop(JsFuture::from(update).await) });
        }
    });
    let listening = document
        .add_event_listener_with_callback("visibilitychange", shown.as_ref().unchecked_ref());
    if listening.is_ok() {
        shown.forget();
    }
}

/// Loads the page anew.
pub(crate) fn reload() {
    if let Some(window) = web_sys::window() {
        // A refused reload leaves the old build running, which is safe.
        let _ = window.location().reload();
    }
}
