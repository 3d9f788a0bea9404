//! The service worker, its windows and the builds of a server as a small model, explored from the first visit
//! through every order of events until no new state is found.
//!
//! The rules are those of `public/sw.js`, `public/boot.js` and `app/src/offline.rs`, and for workers those of the
//! Service Workers standard (update, install, activate, skip waiting). A build is its files under hashed names
//! and its pages; each is there or not. Not in the model: files under plain names, a worker that is retired, and
//! time. That the scripts keep to these rules is what `offline` looks at, in a browser.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Builds that the server may ever hand out.
const BUILDS: usize = 3;
const WINDOWS: usize = 2;

/// A build by its number.
type Build = usize;

/// What of a build is stored on the device.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
struct Stored {
    files: bool,
    pages: bool,
}

impl Stored {
    const NOTHING: Self = Self {
        files: false,
        pages: false,
    };

    fn whole(self) -> bool {
        self.files && self.pages
    }
}

/// A window, and the build whose page it shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Window {
    Closed,
    /// Its page is here, its files are not yet; it answers no worker.
    Loading(Build),
    Awake(Build),
}

impl Window {
    fn build(self) -> Option<Build> {
        match self {
            Self::Closed => None,
            Self::Loading(build) | Self::Awake(build) => Some(build),
        }
    }
}

#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct State {
    /// The build that the server hands out.
    published: Build,
    signal: bool,
    active: Option<Build>,
    waiting: Option<Build>,
    installing: Option<Build>,
    stored: [Stored; BUILDS],
    windows: [Window; WINDOWS],
    /// The browser has thrown something away that the app has not been able to mend yet.
    thrown_away: bool,
}

/// What may happen next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Happening {
    Publish(Build),
    SignalGoes,
    SignalComes,
    /// A window is opened, or an open one is loaded anew.
    Load(usize),
    /// A window's files have come, and the app tells the worker that it is there.
    Wake(usize),
    /// A window comes to the front: it asks for news and has the worker mend and tidy.
    Show(usize),
    Close(usize),
    /// The knitter takes the build that is offered in a window.
    Accept(usize),
    /// The next thing that an installation needs arrives.
    Arrives,
    /// An installation fails, for whatever reason.
    Fails,
    ThrowAwayFiles(Build),
    ThrowAwayPages(Build),
}

impl State {
    fn first() -> Self {
        Self {
            published: 0,
            signal: true,
            active: None,
            waiting: None,
            installing: None,
            stored: [Stored::NOTHING; BUILDS],
            windows: [Window::Closed; WINDOWS],
            thrown_away: false,
        }
    }

    /// Which build's page a window gets that is loaded now; nothing where it gets no page of the app.
    fn page(&self) -> Option<Build> {
        let kept = self.active.filter(|build| self.stored[*build].pages);
        kept.or(self.signal.then_some(self.published))
    }

    /// Whether the files of a build can be had by a window that shows it.
    fn files_come(&self, build: Build) -> bool {
        let kept = self.active.is_some() && self.stored[build].files;
        kept || self.signal && self.published == build
    }

    /// The server's worker is fetched and installed where it is another than the newest that is known.
    fn look_for_update(&mut self) {
        let newest = self.installing.or(self.waiting).or(self.active);
        if self.signal && newest != Some(self.published) {
            self.installing = Some(self.published);
        }
    }

    /// A worker has the browser activate it.
    fn take_over(&mut self) {
        if let Some(build) = self.waiting.take() {
            self.active = Some(build);
        }
    }

    /// `fill` and `tidy` of the active worker.
    fn welcome(&mut self) {
        let Some(active) = self.active else { return };
        if self.signal && self.published == active {
            self.stored[active] = Stored {
                files: true,
                pages: true,
            };
        }
        if !self.stored[active].whole() {
            self.look_for_update();
        }
        let silent = self
            .windows
            .iter()
            .any(|one| matches!(one, Window::Loading(_)));
        if self.installing.is_some() || self.waiting.is_some() || silent {
            return;
        }
        for build in 0..BUILDS {
            let runs = self.windows.iter().any(|one| one.build() == Some(build));
            if build != active && !runs {
                self.stored[build] = Stored::NOTHING;
            }
        }
    }

    /// What follows by itself: a page of the waiting worker's build has it take over (`offer`), and so has the
    /// browser once every window is closed.
    fn settle(&mut self) {
        let of_waiting =
            |one: &Window| matches!(one, Window::Awake(build) if Some(*build) == self.waiting);
        if self.waiting.is_some() && self.windows.iter().any(of_waiting) {
            self.take_over();
        }
        if self.windows == [Window::Closed; WINDOWS] {
            self.take_over();
        }
        let ready = [self.active, self.waiting].into_iter().flatten();
        let mut ready = ready.map(|build| self.stored[build].whole());
        let mut running = self.windows.iter().filter_map(|one| one.build());
        if ready.all(|whole| whole) && running.all(|build| self.stored[build].files) {
            self.thrown_away = false;
        }
    }

    /// What comes of a happening; nothing where it cannot happen.
    fn after(&self, happening: Happening) -> Option<Self> {
        let mut next = self.clone();
        match happening {
            Happening::Publish(build) if build != self.published => next.published = build,
            Happening::SignalGoes if self.signal => next.signal = false,
            Happening::SignalComes if !self.signal => next.signal = true,
            Happening::Load(at) => {
                next.windows[at] = Window::Loading(self.page()?);
                // The browser itself looks for news after a page that a worker answered for.
                if self.active.is_some() {
                    next.look_for_update();
                }
            }
            Happening::Wake(at) => {
                let Window::Loading(build) = self.windows[at] else {
                    return None;
                };
                if !self.files_come(build) {
                    return None;
                }
                next.windows[at] = Window::Awake(build);
                next.look_for_update();
                next.welcome();
            }
            Happening::Show(at) => {
                let Window::Awake(_) = self.windows[at] else {
                    return None;
                };
                next.look_for_update();
                next.welcome();
            }
            Happening::Close(at) => {
                self.windows[at].build()?;
                next.windows[at] = Window::Closed;
            }
            Happening::Accept(at) => {
                let Window::Awake(build) = self.windows[at] else {
                    return None;
                };
                if self
                    .waiting
                    .or(self.active)
                    .is_none_or(|other| other == build)
                {
                    return None;
                }
                next.take_over();
                next.windows[at] = Window::Loading(next.page()?);
            }
            Happening::Arrives => {
                let build = self.installing?;
                if !self.signal || self.published != build && !self.stored[build].whole() {
                    return None;
                }
                if !self.stored[build].files {
                    next.stored[build].files = true;
                } else if !self.stored[build].pages {
                    next.stored[build].pages = true;
                } else {
                    next.installing = None;
                    if self.active.is_none() {
                        next.active = Some(build);
                    } else {
                        next.waiting = Some(build);
                    }
                }
            }
            Happening::Fails => {
                self.installing?;
                next.installing = None;
            }
            Happening::ThrowAwayFiles(build) if self.stored[build].files => {
                next.stored[build].files = false;
                next.thrown_away = true;
            }
            Happening::ThrowAwayPages(build) if self.stored[build].pages => {
                next.stored[build].pages = false;
                next.thrown_away = true;
            }
            _ => return None,
        }
        next.settle();
        Some(next)
    }
}

fn happenings() -> Vec<Happening> {
    let mut all = vec![
        Happening::SignalGoes,
        Happening::SignalComes,
        Happening::Arrives,
        Happening::Fails,
    ];
    for build in 0..BUILDS {
        all.push(Happening::Publish(build));
        all.push(Happening::ThrowAwayFiles(build));
        all.push(Happening::ThrowAwayPages(build));
    }
    for at in 0..WINDOWS {
        all.extend([
            Happening::Load(at),
            Happening::Wake(at),
            Happening::Show(at),
            Happening::Close(at),
            Happening::Accept(at),
        ]);
    }
    all
}

/// What must hold of a step; says what does not.
fn wrong(before: &State, happening: Happening, after: &State) -> Option<&'static str> {
    for (at, (was, is)) in before.windows.iter().zip(&after.windows).enumerate() {
        let own = [
            Happening::Load(at),
            Happening::Accept(at),
            Happening::Close(at),
        ];
        if was.build() != is.build() && !own.contains(&happening) {
            return Some("a window changes its build and nobody touched it");
        }
    }
    if let Some(active) = before.active
        && after.active != before.active
    {
        let asked = matches!(happening, Happening::Accept(_));
        let closed = after.windows == [Window::Closed; WINDOWS];
        // A page that came past the worker is of the new build already.
        let there = after.windows.iter().any(|one| one.build() == after.active);
        if !asked && !closed && !there {
            return Some("an update is taken unasked");
        }
        if after.active.is_none() {
            return Some("a worker ends that nothing follows");
        }
        if !before.thrown_away
            && !after.stored[active].whole()
            && after.windows.iter().any(|one| one.build() == Some(active))
        {
            return Some("a window's files go with its worker");
        }
    }
    if after.thrown_away {
        return None;
    }
    for window in &after.windows {
        if let Some(build) = window.build()
            && before.windows.contains(window)
            && before.stored[build].files
            && !after.stored[build].files
        {
            return Some("a window's files go while it needs them");
        }
    }
    if let Some(active) = after.active
        && !after.stored[active].whole()
    {
        return Some("the app cannot be opened without signal");
    }
    None
}

/// Every state that can be reached, with the shortest way there.
fn explore() -> BTreeMap<State, Option<(State, Happening)>> {
    let mut found = BTreeMap::from([(State::first(), None)]);
    let mut queue = VecDeque::from([State::first()]);
    let all = happenings();
    while let Some(state) = queue.pop_front() {
        for happening in &all {
            let Some(next) = state.after(*happening) else {
                continue;
            };
            if let Some(what) = wrong(&state, *happening, &next) {
                let way = way_to(&found, &state);
                panic!("{what}: {way:?}, then {happening:?}\n{state:#?}\n{next:#?}");
            }
            if !found.contains_key(&next) {
                found.insert(next.clone(), Some((state.clone(), *happening)));
                queue.push_back(next);
            }
        }
    }
    found
}

fn way_to(found: &BTreeMap<State, Option<(State, Happening)>>, state: &State) -> Vec<Happening> {
    let mut way = Vec::new();
    let mut at = state;
    while let Some(Some((before, happening))) = found.get(at) {
        way.push(*happening);
        at = before;
    }
    way.reverse();
    way
}

#[test]
fn no_order_of_events_mixes_builds_or_shuts_the_app() {
    let found = explore();
    let kinds: BTreeSet<_> = found
        .values()
        .flatten()
        .map(|(_, happening)| std::mem::discriminant(happening))
        .map(|kind| format!("{kind:?}"))
        .collect();
    println!("{} states by {} kinds of events", found.len(), kinds.len());
    assert!(found.len() > 10_000, "{} states", found.len());
    let both = |state: &&State| {
        let builds: BTreeSet<_> = state.windows.iter().filter_map(|one| one.build()).collect();
        builds.len() == 2
    };
    assert!(
        found.keys().any(|state| both(&state)),
        "two builds are open at once"
    );
}

/// Whatever the browser has thrown away, the app is whole again once there is signal, the server stands still
/// and the app has been opened twice: the second time for a build that had to come anew.
#[test]
fn whatever_was_thrown_away_comes_back() {
    for state in explore().into_keys() {
        let mut now = state.clone();
        now.signal = true;
        for _ in 0..2 {
            for at in 0..WINDOWS {
                now = now.after(Happening::Close(at)).unwrap_or(now);
            }
            for happening in [
                Happening::Load(0),
                Happening::Wake(0),
                Happening::Arrives,
                Happening::Arrives,
                Happening::Arrives,
                Happening::Show(0),
                Happening::Arrives,
                Happening::Arrives,
                Happening::Arrives,
            ] {
                now = now.after(happening).unwrap_or(now);
            }
        }
        let whole = now.active.is_some_and(|active| now.stored[active].whole());
        assert!(whole, "from {state:#?} to {now:#?}");
    }
}
