//! The service worker, its windows and the builds of a server as a small model.
//!
//! The rules are those of `public/sw.js`, `public/boot.js` and `app/src/offline.rs`, and for workers those of the
//! Service Workers standard (update, install, activate, skip waiting). A build is its files and its pages; each is
//! there or not. Every file but the web app manifest lies under a name made of its content, so a store is as good
//! as another that has the file. Not in the model: a worker that is retired, and time. `worker_model` explores it
//! from the first visit through every order of events; `offline` plays ways through it in a browser.

/// Builds that the server may ever hand out.
pub const BUILDS: usize = 3;
/// Windows that may be open.
pub const WINDOWS: usize = 2;

/// A build by its number.
pub type Build = usize;

/// What of a build is stored on the device.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Stored {
    /// Its files.
    pub files: bool,
    /// Its pages.
    pub pages: bool,
}

impl Stored {
    const NOTHING: Self = Self {
        files: false,
        pages: false,
    };

    /// Whether all of it is.
    pub fn whole(self) -> bool {
        self.files && self.pages
    }
}

/// A window, and the build whose page it shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Window {
    /// None.
    Closed,
    /// Its page is here, its files are not yet; it answers no worker.
    Loading(Build),
    /// It works, and answers its worker.
    Awake(Build),
}

impl Window {
    /// The build whose page it shows.
    pub fn build(self) -> Option<Build> {
        match self {
            Self::Closed => None,
            Self::Loading(build) | Self::Awake(build) => Some(build),
        }
    }
}

/// How things stand.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct State {
    /// The build that the server hands out.
    pub published: Build,
    /// Whether the server can be reached.
    pub signal: bool,
    /// The build of the worker that answers.
    pub active: Option<Build>,
    /// The build of the worker that waits for the knitter's consent.
    pub waiting: Option<Build>,
    /// The build of the worker that is being installed.
    pub installing: Option<Build>,
    /// What is stored of each build.
    pub stored: [Stored; BUILDS],
    /// The windows.
    pub windows: [Window; WINDOWS],
    /// The browser has thrown something away that the app has not been able to mend yet.
    pub thrown_away: bool,
}

/// What may happen next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Happening {
    /// The server hands out another build.
    Publish(Build),
    /// The server cannot be reached any more.
    SignalGoes,
    /// It can again.
    SignalComes,
    /// A window is opened, or an open one is reloaded.
    Load(usize),
    /// A window's files have come, and the app tells the worker that it is there.
    Wake(usize),
    /// A window comes to the front: it asks for news and has the worker mend and tidy.
    Show(usize),
    /// A window is closed.
    Close(usize),
    /// The knitter takes the build that is offered in a window.
    Accept(usize),
    /// The next thing that an installation needs arrives.
    Arrives,
    /// An installation fails, for whatever reason.
    Fails,
    /// A page asks again for a first worker that could not be installed.
    Again,
    /// The browser throws away the files of a build.
    ThrowAwayFiles(Build),
    /// Or its pages.
    ThrowAwayPages(Build),
}

/// What a page that looks for news and greets its worker comes to do first. Nobody can know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum First {
    /// News are looked for.
    Look,
    /// The worker hears of the page.
    Greeting,
}

impl First {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Look, Self::Greeting];
}

impl State {
    /// A device that has never seen the app, and a server with the first build.
    pub fn first() -> Self {
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

    /// Which build's page a window gets that is loaded now: its worker's, as long as all of that is stored, or the
    /// server's; without signal one of another that is whole, or what there is. Nothing where it gets no page of
    /// the app.
    pub fn page(&self) -> Option<Build> {
        let whole = self.active.filter(|build| self.stored[*build].whole());
        let fresh = self.signal.then_some(self.published);
        whole.or(fresh).or_else(|| {
            let active = self.active?;
            let other = (0..BUILDS).find(|build| self.stored[*build].whole());
            other.or(self.stored[active].pages.then_some(active))
        })
    }

    /// Whether the files of a build can be had by a window that shows it.
    pub fn files_come(&self, build: Build) -> bool {
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
            // Pages of its build greet it.
            if self.windows.contains(&Window::Awake(build)) {
                self.welcome();
            }
        }
    }

    /// `fill` of a worker that is there already; whether its build is whole then.
    fn fill(&mut self, build: Build) -> bool {
        if self.signal && self.published == build {
            self.stored[build] = Stored {
                files: true,
                pages: true,
            };
        }
        self.stored[build].whole()
    }

    /// The waiting worker is asked to take over, and does if it is whole.
    fn ask_to_take_over(&mut self) -> bool {
        let Some(waiting) = self.waiting else {
            return false;
        };
        let whole = self.fill(waiting);
        if whole {
            self.take_over();
        } else {
            self.look_for_update();
        }
        whole
    }

    /// A page of the waiting worker's build, which came past the active one, has it take over.
    fn offer(&mut self) {
        let of_waiting =
            |one: &Window| matches!(one, Window::Awake(build) if Some(*build) == self.waiting);
        if self.waiting.is_some() && self.windows.iter().any(of_waiting) {
            self.ask_to_take_over();
        }
    }

    /// `fill` and `tidy` of the active worker, told of a window.
    fn welcome(&mut self) {
        let Some(active) = self.active else { return };
        if !self.fill(active) {
            self.look_for_update();
            return;
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

    /// What follows by itself: the browser has a waiting worker take over once every window is closed.
    fn settle(&mut self) {
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

    /// A page looks for news and greets its worker, both at once.
    fn look_and_greet(&mut self, first: First) {
        match first {
            First::Look => {
                self.look_for_update();
                self.welcome();
            }
            First::Greeting => {
                self.welcome();
                self.look_for_update();
            }
        }
    }

    /// What comes of a happening; nothing where it cannot happen.
    pub fn after(&self, happening: Happening, first: First) -> Option<Self> {
        let mut next = self.clone();
        match happening {
            Happening::Publish(build) if build != self.published => next.published = build,
            Happening::SignalGoes if self.signal => next.signal = false,
            Happening::SignalComes if !self.signal => next.signal = true,
            Happening::Load(at) => {
                next.windows[at] = Window::Loading(self.page()?);
                // The browser itself looks for news after a page that a worker answered for, be it when that is awake.
                if self.active.is_some() && first == First::Look {
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
                next.offer();
                next.look_and_greet(first);
            }
            Happening::Show(at) => {
                let Window::Awake(_) = self.windows[at] else {
                    return None;
                };
                // A registration ends with its first worker where that is not installed, until a page registers again.
                if [self.active, self.waiting, self.installing] != [None; 3] {
                    next.look_and_greet(first);
                }
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
                if self.waiting.is_none() || next.ask_to_take_over() {
                    next.windows[at] = Window::Loading(next.page()?);
                }
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
                        // Pages wait for the first one to greet it, whichever build it is.
                        let awake = |one: &Window| matches!(one, Window::Awake(_));
                        if next.windows.iter().any(awake) {
                            next.welcome();
                        }
                    } else {
                        next.waiting = Some(build);
                        next.offer();
                    }
                }
            }
            Happening::Fails => {
                self.installing?;
                next.installing = None;
            }
            Happening::Again => {
                let awake = |one: &Window| matches!(one, Window::Awake(_));
                let none = [self.active, self.waiting, self.installing] == [None; 3];
                if !self.signal || !none || !self.windows.iter().any(awake) {
                    return None;
                }
                next.look_for_update();
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

/// All that may happen.
pub fn happenings() -> Vec<Happening> {
    let mut all = vec![
        Happening::SignalGoes,
        Happening::SignalComes,
        Happening::Arrives,
        Happening::Fails,
        Happening::Again,
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
