//! The model's ways played in a browser: after every step the windows show the builds, the workers are those and
//! the stores hold what the model says. `evenloop_tests::worker_traces` chooses them, each kind of change once.

use std::sync::Arc;
use std::time::{Duration, Instant};

use evenloop_tests::line::{Gate, Line};
use evenloop_tests::site::{build_of, known_files, other, packed, third};
use evenloop_tests::worker_model::{BUILDS, Build, Happening, State, WINDOWS, Window};
use evenloop_tests::worker_traces::{TraceStep, traces};
use serde_json::json;
use thirtyfour::WindowHandle;

use super::*;

/// Ways played side by side: a browser that is led along one mostly waits.
const AT_ONCE: usize = 4;
/// Longest wait for what the model says.
const PATIENCE: Duration = Duration::from_mins(1);
/// Longest wait for the browser to look for a newer worker by itself; a busy worker puts that off.
const LOOK: Duration = Duration::from_secs(20);
/// After so long without anything to answer a worker is taken for idle.
const REST: Duration = Duration::from_secs(2);
const PAGES: [&str; 7] = [
    "/", "/measure", "/now", "/map", "/keep", "/plan", "/pattern",
];
/// A button is here that takes another build into use.
const OFFERED: &str = "return document.querySelector('[role=status] .button.lead') !== null";
/// It was touched without effect.
const REFUSED: &str = "return document.querySelector('.bar p')?.textContent.includes('could not be fetched') ?? false";

/// What the server hands out, build by build.
struct Builds {
    servers: [Server; BUILDS],
    /// Ids, files.
    known: Vec<(String, Vec<String>)>,
}

impl Builds {
    fn serve() -> Self {
        let sites = [packed(), other().to_owned(), third().to_owned()];
        let servers = sites
            .each_ref()
            .map(|site| Server::start_with(site, ([127, 0, 0, 1], 0).into()));
        let known = sites.iter().map(|site| {
            let files = known_files(site).into_iter().map(|(url, _)| url);
            (build_of(site), files.collect())
        });
        Self {
            known: known.collect(),
            servers,
        }
    }
}

/// A device, and its line to the server.
struct Player {
    phone: Phone,
    line: Line,
    builds: Arc<Builds>,
    /// A window beside the app's, in which nothing is.
    desk: WindowHandle,
    windows: [Option<WindowHandle>; WINDOWS],
}

impl Player {
    async fn new(builds: Arc<Builds>) -> Self {
        let line = Line::to(builds.servers[0].address());
        let phone = Phone::unpack().await;
        let desk = phone.window().await;
        Self {
            line,
            desk,
            builds,
            phone,
            windows: [None, None],
        }
    }

    /// Leads the browser one step on, and waits until all is as the model says.
    async fn play(&mut self, before: &State, step: &TraceStep) -> Result<(), String> {
        let after = &step.after;
        let held = match after.installing {
            Some(build) if after.stored[build].files => Gate::HoldsPages,
            Some(_) => Gate::HoldsAll,
            None => Gate::Open,
        };
        let ends = step.happening == Happening::Fails || before.installing != after.installing;
        let fails = before.installing.is_some() && ends && step.happening != Happening::Arrives;
        self.line.asked();
        if after.installing.is_some() && (before.installing.is_none() || fails) {
            // What the worker that is here lacks cannot be had, and must not be taken for what the new one stores.
            self.line.set_gate_of_next_worker(held);
        } else {
            self.line.set_gate(if fails { Gate::Refuses } else { held });
        }
        match step.happening {
            Happening::Publish(build) if after.signal => {
                self.line.lead_to(self.builds.servers[build].address());
            }
            Happening::SignalGoes => self.line.go_silent(),
            Happening::SignalComes => {
                self.line
                    .lead_to(self.builds.servers[after.published].address());
            }
            _ => {}
        }
        match step.happening {
            Happening::Load(at) => {
                if let Some(window) = &self.windows[at] {
                    self.phone.look_at(window).await;
                } else {
                    // Not a tab: those that others cover are hidden, and shown when these are closed.
                    let window = self.phone.browser().new_window().await;
                    let window = window.map_err(|error| error.to_string())?;
                    self.phone.look_at(&window).await;
                    self.windows[at] = Some(window);
                }
                self.phone.open_file(&self.line.url("/map")).await;
                // A worker whose place is taken meanwhile has nothing looked for any more.
                if before.active == after.active {
                    self.until_the_browser_has_looked(before).await;
                }
            }
            Happening::Show(at) => {
                self.look_at(at).await;
                let show = "document.dispatchEvent(new Event('visibilitychange'))";
                self.phone.ask(show).await;
            }
            Happening::Close(at) => {
                self.look_at(at).await;
                let closed = self.phone.browser().close_window().await;
                closed.map_err(|error| error.to_string())?;
                self.windows[at] = None;
                self.phone.look_at(&self.desk.clone()).await;
            }
            Happening::Accept(at) => {
                self.look_at(at).await;
                self.until_page("another build is offered", OFFERED).await?;
                self.phone.tap(NOTICE).await;
                if before.windows == after.windows {
                    self.until_page("it is told of what lacks", REFUSED).await?;
                } else {
                    self.until_the_browser_has_looked(before).await;
                }
            }
            Happening::ThrowAwayFiles(build) => {
                let (_, files) = &self.builds.known[build];
                self.throw_away(build, &json!(files)).await;
            }
            Happening::ThrowAwayPages(build) => self.throw_away(build, &json!(PAGES)).await,
            _ => {}
        }
        // A page asks for a first worker again a while later, or as soon as the browser says that there is signal.
        let first = before.active.is_none() && after.installing.is_some();
        self.until_it_is(after, first).await
    }

    async fn look_at(&self, at: usize) {
        let window = self.windows[at]
            .as_ref()
            .expect("the model says it is open");
        self.phone.look_at(window).await;
    }

    /// A browser looks for a newer worker by itself, a moment after a page that a worker answered for.
    async fn until_the_browser_has_looked(&self, before: &State) {
        if before.active.is_none() {
            return;
        }
        let begin = Instant::now();
        while !self.line.asked().iter().any(|path| path == "/sw.js") && begin.elapsed() < LOOK {
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }

    async fn throw_away(&self, build: Build, urls: &Value) {
        let (id, _) = &self.builds.known[build];
        let at = (0..WINDOWS).find(|at| self.windows[*at].is_some());
        self.look_at(at.expect("the model says one is open")).await;
        let script = format!(
            "const cache = await caches.open('evenloop-{id}');
             for (const url of {urls}) await cache.delete(url);
             return true"
        );
        assert_eq!(self.phone.ask_later(&script).await, true);
    }

    async fn until_page(&self, what: &str, script: &str) -> Result<(), String> {
        let begin = Instant::now();
        while self.phone.ask(script).await != true {
            if begin.elapsed() > PATIENCE {
                return Err(format!("waited in vain until {what}"));
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        Ok(())
    }

    async fn until_it_is(&self, state: &State, has_signal: bool) -> Result<(), String> {
        let expected = self.expected(state);
        let begin = Instant::now();
        loop {
            let seen = self.seen(has_signal).await;
            if seen == expected {
                return Ok(());
            }
            if begin.elapsed() > PATIENCE {
                return Err(format!("expected {expected:#}\nseen {seen:#}"));
            }
            if is_held_up(&seen["workers"], &expected["workers"]) && begin.elapsed() > REST {
                self.end_idle_workers().await;
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }

    /// Where the worker in use has something to answer just when another is to take its place, Chromium waits for the
    /// end that it makes of workers that are idle, half a minute later. Of those that are driven it makes none.
    async fn end_idle_workers(&self) {
        for command in ["ServiceWorker.enable", "ServiceWorker.stopAllWorkers"] {
            self.phone.tools(command, json!({})).await;
        }
        tokio::time::sleep(REST).await;
    }

    /// What the model says that can be seen.
    fn expected(&self, state: &State) -> Value {
        let id = |build: Option<Build>| build.map(|build| self.builds.known[build].0.as_str());
        let windows = state.windows.map(|window| match window {
            Window::Closed => Value::Null,
            Window::Loading(build) => json!([id(Some(build)), false]),
            Window::Awake(build) => json!([id(Some(build)), true]),
        });
        if state.windows == [Window::Closed; WINDOWS] {
            return json!({ "windows": windows });
        }
        let stored = state
            .stored
            .map(|stored| json!([stored.files, stored.pages]));
        let workers = [id(state.active), id(state.waiting), id(state.installing)];
        json!({ "windows": windows, "stored": stored, "workers": workers })
    }

    /// The same as it is in the browser. Without a window nobody can look into the stores.
    async fn seen(&self, has_signal: bool) -> Value {
        let mut windows = [Value::Null, Value::Null];
        let mut more = Value::Null;
        for (at, window) in self.windows.iter().enumerate() {
            let Some(window) = window else { continue };
            self.phone.look_at(window).await;
            windows[at] = self
                .phone
                .ask(
                    "return [document.querySelector('meta[name=evenloop-build]')?.content,
                         'awake' in document.documentElement.dataset]",
                )
                .await;
            if more.is_null() {
                more = self.phone.ask_later(&self.look()).await;
            }
            if has_signal {
                self.phone.ask("dispatchEvent(new Event('online'))").await;
            }
        }
        if more.is_null() {
            more = json!({});
        }
        more["windows"] = json!(windows);
        more
    }

    fn look(&self) -> String {
        let builds = json!(self.builds.known);
        let pages = json!(PAGES);
        // Each worker is asked once: it takes the place of another only while that has nothing to answer.
        format!(
            "const stored = [];
             for (const [id, files] of {builds}) {{
                 const name = `evenloop-${{id}}`;
                 const keys = (await caches.has(name)) ? await (await caches.open(name)).keys() : [];
                 const there = new Set(keys.map(({{ url }}) => new URL(url).pathname));
                 const all = (urls) => urls.every((url) => there.has(url));
                 stored.push([all(files), all({pages})]);
             }}
             const known = await navigator.serviceWorker.getRegistration();
             const builds = (window.buildsOfWorkers ??= new Map());
             const workers = [];
             for (const worker of [known?.active, known?.waiting, known?.installing]) {{
                 if (worker && !builds.has(worker)) {{
                     const {{ port1, port2 }} = new MessageChannel();
                     const build = new Promise((done) => {{
                         port1.onmessage = ({{ data }}) => done(data.build);
                         setTimeout(done, 3000);
                     }});
                     worker.postMessage('WHO', [port2]);
                     const said = await build;
                     if (said) builds.set(worker, said);
                 }}
                 workers.push(worker ? (builds.get(worker) ?? 'silent') : null);
             }}
             return {{ stored, workers }}"
        )
    }
}

/// Whether a worker waits that should have taken over, and no other is on its way. One that was not asked to take
/// over goes on waiting when the worker in use ends.
fn is_held_up(seen: &Value, expected: &Value) -> bool {
    let [_, waiting, installing] = [0, 1, 2].map(|at| &seen[at]);
    waiting.is_string() && *waiting == expected[0] && installing.is_null()
}

/// One way, from a device that has never seen the app.
async fn play(builds: Arc<Builds>, number: usize, trace: &[TraceStep]) -> Result<(), String> {
    let begin = Instant::now();
    let mut player = Player::new(builds).await;
    let mut at = State::first();
    for (index, step) in trace.iter().enumerate() {
        if let Err(difference) = player.play(&at, step).await {
            let way: Vec<_> = trace[..=index].iter().map(|step| step.happening).collect();
            return Err(format!("trace {number}: {way:?}\n{difference}"));
        }
        println!(
            "trace {number}, {:.1?}: {:?}",
            begin.elapsed(),
            step.happening
        );
        at = step.after.clone();
    }
    Ok(())
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_browser_goes_every_way_that_the_model_goes() {
    let traces = traces();
    let steps: usize = traces.iter().map(Vec::len).sum();
    let begin = Instant::now();
    let only = std::env::var("EVENLOOP_TRACE")
        .ok()
        .and_then(|only| only.parse::<usize>().ok());
    let builds = Arc::new(Builds::serve());
    let mut left = traces.into_iter().enumerate();
    let mut playing = tokio::task::JoinSet::new();
    let mut wrong = Vec::new();
    loop {
        while playing.len() < AT_ONCE
            && let Some((number, trace)) = left.next()
        {
            if only.is_none_or(|only| only == number) {
                let builds = Arc::clone(&builds);
                playing.spawn(async move { play(builds, number, &trace).await });
            }
        }
        match playing.join_next().await {
            Some(played) => wrong.extend(played.expect("a way is played to its end").err()),
            None => break,
        }
    }
    println!("{steps} steps in {:?}", begin.elapsed());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
