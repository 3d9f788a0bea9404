//! The page's side of the service worker: whether the app works without signal, and whether a
//! newer build waits for the knitter's word.
//!
//! May talk to the browser; must not know any screen. Where there is no service worker (an old
//! browser, plain http) the app simply runs without one.

use std::cell::Cell;
use std::rc::Rc;
use std::time::Duration;

use js_sys::{Array, Promise, Reflect};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    MessageChannel, MessageEvent, ServiceWorker, ServiceWorkerContainer, ServiceWorkerRegistration,
    VisibilityState,
};

#[wasm_bindgen]
extern "C" {
    /// A script's (`public/boot.js`): it asks again where the very first installation fails.
    #[wasm_bindgen(catch, js_name = evenloopInstall)]
    async fn install() -> Result<JsValue, JsValue>;
}

/// Has a waiting worker take over.
const TAKE_OVER: &str = "SKIP_WAITING";
/// Asks a worker which build it is.
const WHO: &str = "WHO";
/// Tells the worker that answers for this page that the page is alive: it mends what the browser
/// has thrown away, and says whether all of its build is stored.
const AWAKE: &str = "AWAKE";
/// How many sentences fit above a screen.
const MOST_NEWS: usize = 3;
/// A worker that has not answered by then will not.
const PATIENCE: Duration = Duration::from_mins(1);

/// What the screens may know and do about offline use.
#[derive(Debug, Clone, Copy)]
pub struct Offline {
    /// A newer build is installed and waits for [`Offline::accept_update`].
    pub update_ready: RwSignal<bool>,
    /// Everything is stored on this device: no signal is needed from now on.
    pub offline_ready: RwSignal<bool>,
    /// What the newer build brings, in sentences of its changelog that this build's does not have.
    pub news: RwSignal<Vec<String>>,
    /// The newer build was accepted and did not take over: part of it is not on this device any more, and could
    /// not be had.
    pub update_incomplete: RwSignal<bool>,
    accepted: RwSignal<bool>,
}

impl Offline {
    /// Registers the worker once the page is alive. On the server it only makes the signals.
    pub fn start() -> Self {
        let offline = Self {
            update_ready: RwSignal::new(false),
            offline_ready: RwSignal::new(false),
            news: RwSignal::new(Vec::new()),
            update_incomplete: RwSignal::new(false),
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

    /// Switches to the waiting build: the page reloads once, when the new worker has taken over. One that is not
    /// whole does not.
    pub fn accept_update(self) {
        self.accepted.set(true);
        self.update_incomplete.set(false);
        let Some(container) = container() else {
            return reload();
        };
        spawn_local(async move {
            let registration = JsFuture::from(container.get_registration()).await;
            let waiting = registration
                .ok()
                .and_then(|value| value.dyn_into::<ServiceWorkerRegistration>().ok())
                .and_then(|registration| registration.waiting());
            let Some(worker) = waiting else {
                // Another window has switched already; this one only has to follow.
                return reload();
            };
            // A worker of an older Evenloop does not answer, and takes over whatever it lacks.
            if field(&ask(&worker, TAKE_OVER, PATIENCE).await, "whole").as_bool() == Some(false) {
                self.accepted.set(false);
                self.update_incomplete.set(true);
            }
        });
    }

    async fn register(self, container: ServiceWorkerContainer) {
        let registered = install().await;
        // A refusal (private window, storage denied) is no fault of the knitter: go on without.
        let Some(registration) = registered
            .ok()
            .and_then(|value| value.dyn_into::<ServiceWorkerRegistration>().ok())
        else {
            return;
        };
        self.watch_updates(&registration);
        if registration.active().is_some() {
            if let Some(worker) = registration.waiting() {
                self.offer(worker).await;
            } else if let Some(worker) = registration.installing() {
                // It set out before this page could hear of it.
                self.offer_when_installed(&registration, &worker);
            }
        }
        self.look_again_when_shown(registration);
        self.greet_when_ready(&container).await;
    }

    async fn greet_when_ready(self, container: &ServiceWorkerContainer) {
        if let Ok(ready) = container.ready()
            && let Ok(ready) = JsFuture::from(ready).await
            && let Ok(registration) = ready.dyn_into::<ServiceWorkerRegistration>()
        {
            self.greet(&registration).await;
        }
    }

    /// Tells the worker that answers for this page that there is one.
    async fn greet(self, registration: &ServiceWorkerRegistration) {
        let Some(worker) = registration.active() else {
            return;
        };
        let answer = ask(&worker, AWAKE, PATIENCE).await;
        if !field(&answer, "whole").is_truthy() {
            return;
        }
        if is_ours(&answer) {
            if !self.offline_ready.get_untracked() {
                self.offline_ready.set(true);
            }
        } else if registration.waiting().is_none() && registration.installing().is_none() {
            // This page's build stood in while the worker's own was not whole, or did not follow yet.
            self.tell(&who(&worker).await).await;
        }
    }

    /// Offers what a waiting worker brings. Where this page came past the old worker and is of the
    /// waiting build already, there is nothing to ask.
    async fn offer(self, worker: ServiceWorker) {
        let answer = who(&worker).await;
        if is_ours(&answer) {
            // A refusal leaves it waiting, which is safe.
            let _ = worker.post_message(&TAKE_OVER.into());
        } else {
            self.tell(&answer).await;
        }
    }

    /// Says that there is a newer build, and what it brings.
    async fn tell(self, answer: &JsValue) {
        self.update_ready.set(true);
        let own = match container().and_then(|container| container.controller()) {
            Some(worker) => who(&worker).await,
            None => JsValue::UNDEFINED,
        };
        // The newer worker may be the one that answers here by now: then it is not known what is new.
        let known = news(&own);
        self.news.set(
            news(answer)
                .into_iter()
                .filter(|one| !known.contains(one))
                .take(MOST_NEWS)
                .collect(),
        );
    }

    /// Offers a later build when it has been fetched whole.
    fn watch_updates(self, registration: &ServiceWorkerRegistration) {
        let source = registration.clone();
        let found = Closure::<dyn FnMut()>::new(move || {
            let registration = source.clone();
            // The very first worker is no update: nothing ran before it.
            if registration.active().is_none() {
                return;
            }
            if let Some(worker) = registration.installing() {
                self.offer_when_installed(&registration, &worker);
            } else if let Some(worker) = registration.waiting() {
                // Hardly anything had to be fetched.
                spawn_local(self.offer(worker));
            }
        });
        registration.set_onupdatefound(Some(found.as_ref().unchecked_ref()));
        // Lives as long as the page, as the app does.
        found.forget();
    }

    fn offer_when_installed(
        self,
        registration: &ServiceWorkerRegistration,
        worker: &ServiceWorker,
    ) {
        let registration = registration.clone();
        let changed = Closure::<dyn FnMut()>::new(move || {
            if let Some(worker) = registration.waiting() {
                spawn_local(self.offer(worker));
            }
        });
        worker.set_onstatechange(Some(changed.as_ref().unchecked_ref()));
        // As long as the worker can still change.
        changed.forget();
    }

    /// An installed app may stay open for weeks. Whenever it comes to the front, it asks for news, and
    /// its worker mends what the browser has thrown away meanwhile and tidies up what it could not
    /// before.
    fn look_again_when_shown(self, registration: ServiceWorkerRegistration) {
        let source = document();
        let shown = Closure::<dyn FnMut()>::new(move || {
            if document().visibility_state() != VisibilityState::Visible {
                return;
            }
            if let Ok(update) = registration.update() {
                // Without signal the check fails, and that is all right.
                spawn_local(async move { drop(JsFuture::from(update).await) });
            }
            let registration = registration.clone();
            spawn_local(async move { self.greet(&registration).await });
        });
        let listening = source
            .add_event_listener_with_callback("visibilitychange", shown.as_ref().unchecked_ref());
        if listening.is_ok() {
            shown.forget();
        }
    }

    /// Reloads once after an accepted update; a window that did not ask is only told.
    fn watch_takeover(self, container: &ServiceWorkerContainer) {
        let had_worker = container.controller().is_some();
        let reloaded = Rc::new(Cell::new(false));
        let source = container.clone();
        let changed = Closure::<dyn FnMut()>::new(move || {
            if self.accepted.get_untracked() {
                if !reloaded.replace(true) {
                    reload();
                }
            } else if had_worker && let Some(worker) = source.controller() {
                spawn_local(self.follow(worker));
            }
        });
        container.set_oncontrollerchange(Some(changed.as_ref().unchecked_ref()));
        changed.forget();
    }

    /// Another worker answers for this page, and this page did not ask for it.
    async fn follow(self, worker: ServiceWorker) {
        let answer = who(&worker).await;
        if is_ours(&answer) {
            self.update_ready.set(false);
            if let Some(container) = container() {
                self.greet_when_ready(&container).await;
            }
        } else {
            self.tell(&answer).await;
        }
    }
}

/// What a worker says its build brings.
fn news(answer: &JsValue) -> Vec<String> {
    let sentences = field(answer, "news").dyn_into::<Array>();
    let sentences = sentences.map(|all| all.iter().filter_map(|one| one.as_string()).collect());
    sentences.unwrap_or_default()
}

/// The id of the build that runs in this page.
pub(crate) fn own_build() -> Option<String> {
    let meta = document().query_selector("meta[name=evenloop-build]");
    meta.ok().flatten()?.get_attribute("content")
}

/// Whether an answer is of the build that runs in this page.
fn is_ours(answer: &JsValue) -> bool {
    let own = own_build();
    own.is_some() && field(answer, "build").as_string() == own
}

fn field(answer: &JsValue, name: &str) -> JsValue {
    Reflect::get(answer, &name.into()).unwrap_or_default()
}

/// Which build a worker is of, and what it brings. A browser starts a worker anew to have it answer, and may lose
/// what it was told meanwhile: so it is asked again, with ever longer pauses.
async fn who(worker: &ServiceWorker) -> JsValue {
    for seconds in [2, 4, 8, 16, 30] {
        let answer = ask(worker, WHO, Duration::from_secs(seconds)).await;
        if !answer.is_undefined() {
            return answer;
        }
    }
    JsValue::UNDEFINED
}

/// What a worker answers; undefined where it has not by then.
async fn ask(worker: &ServiceWorker, word: &str, patience: Duration) -> JsValue {
    let Ok(channel) = MessageChannel::new() else {
        return JsValue::UNDEFINED;
    };
    let mut listen = |resolve: js_sys::Function, _| {
        let late = resolve.clone();
        let heard = Closure::once_into_js(move |event: MessageEvent| {
            // An answer that is no longer waited for is dropped.
            let _ = resolve.call1(&JsValue::NULL, &event.data());
        });
        channel.port1().set_onmessage(Some(heard.unchecked_ref()));
        set_timeout(
            move || {
                let _ = late.call0(&JsValue::NULL);
            },
            patience,
        );
    };
    let answer = Promise::new(&mut listen);
    let ports = Array::of1(&channel.port2());
    if worker
        .post_message_with_transferable(&word.into(), &ports)
        .is_err()
    {
        return JsValue::UNDEFINED;
    }
    JsFuture::from(answer).await.unwrap_or_default()
}

/// The browser's service worker entry point, if it has one here.
fn container() -> Option<ServiceWorkerContainer> {
    let navigator = web_sys::window()?.navigator();
    let present = Reflect::has(&navigator, &"serviceWorker".into()).unwrap_or(false);
    present.then(|| navigator.service_worker())
}

/// Reloads the page.
pub(crate) fn reload() {
    if let Some(window) = web_sys::window() {
        // A refused reload leaves the old build running, which is safe.
        let _ = window.location().reload();
    }
}
