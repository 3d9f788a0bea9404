//! A phone: a real browser, 360 by 740, with touch, driven through WebDriver.
//!
//! Whatever the page complains about (errors, violations of the security policy) is collected,
//! and [`Phone::put_away`] fails the test for it.

use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use reqwest::Method;
use serde_json::{Value, json};
use tempfile::TempDir;
use thirtyfour::common::command::{Command as Request, ExtensionCommand};
use thirtyfour::error::{WebDriverErrorInner, WebDriverResult};
use thirtyfour::prelude::*;

use crate::engine::{Driver, Engine, Memory};
use crate::processes::{Processes, kill_all};
use crate::server::root;

/// Longest wait for anything on a page.
const PATIENCE: Duration = Duration::from_mins(1);
/// Pause between two looks.
const BLINK: Duration = Duration::from_millis(25);

/// What is stored of the app and which workers there are, to be printed when a wait has timed out.
const KEPT: &str = "
    const stores = {};
    for (const name of await caches.keys())
        stores[name] = (await (await caches.open(name)).keys()).length;
    const known = await navigator.serviceWorker.getRegistration();
    const workers = {};
    for (const [name, worker] of Object.entries({
        active: known?.active,
        waiting: known?.waiting,
        installing: known?.installing,
        answering: navigator.serviceWorker.controller,
    })) {
        if (!worker) continue;
        const { port1, port2 } = new MessageChannel();
        const build = new Promise((done) => {
            port1.onmessage = ({ data }) => done(data.build);
            setTimeout(done, 3000, 'silent');
        });
        worker.postMessage('WHO', [port2]);
        workers[name] = [worker.state, await build];
    }
    return { stores, workers }";

/// Collects what a page complains about, where the browser keeps no log of it.
const LISTEN: &str = "
    if (window.complaints) return;
    window.complaints = [];
    const note = (text) => window.complaints.push(String(text));
    addEventListener('error', ({ message, filename }) => note(`${filename} ${message}`));
    addEventListener('unhandledrejection', ({ reason }) => note(reason));
    addEventListener('securitypolicyviolation', ({ blockedURI, violatedDirective }) =>
        note(`${blockedURI} against ${violatedDirective}`));
    const error = console.error;
    console.error = (...words) => { note(words.join(' ')); error(...words); };";

/// A browser and its driver. Both end when it is dropped.
#[derive(Debug)]
pub struct Phone {
    engine: Engine,
    browser: WebDriver,
    /// Ends with the phone.
    driver: Driver,
    forgiven: Vec<String>,
    /// There until the browser is closed or killed.
    folder: Option<TempDir>,
}

/// How far a page has come when the wait for it has timed out: its document, its worker, and what it has loaded when.
const STANDS: &str = "
    const worker = navigator.serviceWorker?.controller;
    return {
        address: location.href, document: document.readyState, seen: document.visibilityState,
        data: { ...document.documentElement.dataset }, worker: worker?.state ?? null, now: performance.now(),
        loaded: performance.getEntriesByType('resource').map((one) =>
            `${one.name.split('/').pop()} ${Math.round(one.startTime)} to ${Math.round(one.responseEnd)}`),
    }";

impl Phone {
    /// A new phone: no storage, no worker, no history.
    pub async fn unpack() -> Self {
        Self::with_size(360, 740).await
    }

    /// A new phone or tablet of another size, in CSS pixels.
    pub async fn with_size(width: u32, height: u32) -> Self {
        Self::start(Engine::Chromium, new_folder(), width, height, Memory::Usual).await
    }

    /// A phone with all that was on it before: what [`Self::close`] or [`Self::kill`] left.
    pub async fn switched_on(folder: TempDir) -> Self {
        Self::start(Engine::Chromium, folder, 360, 740, Memory::Usual).await
    }

    /// A new phone whose browser is made of this engine.
    pub async fn of(engine: Engine) -> Self {
        Self::start(engine, new_folder(), 360, 740, Memory::Usual).await
    }

    /// A new phone whose browser is made of this engine and keeps what is stored when it ends, which that of
    /// `WebKitGTK` does not do otherwise.
    pub async fn that_keeps(engine: Engine) -> Self {
        Self::start(engine, new_folder(), 360, 740, Memory::Kept).await
    }

    /// The same with all that was on it before: what [`Self::close`] or [`Self::kill`] left.
    pub async fn that_kept(engine: Engine, folder: TempDir) -> Self {
        Self::start(engine, folder, 360, 740, Memory::Kept).await
    }

    async fn start(
        engine: Engine,
        folder: TempDir,
        width: u32,
        height: u32,
        memory: Memory,
    ) -> Self {
        let mut driver = engine.drive(folder.path());
        let capabilities = engine.capabilities(folder.path(), width, height, memory);
        let browser = WebDriver::new(driver.url(), capabilities)
            .await
            .expect("a browser starts (tests/run installs browsers and their drivers)");
        driver.session = Some(browser.handle().session_id().to_string());
        let phone = Self {
            engine,
            browser,
            driver,
            // What is no page names no icon, and the browser asks for the usual one.
            forgiven: vec!["/favicon.ico".to_owned()],
            folder: Some(folder),
        };
        if engine != Engine::Chromium {
            phone.fit(width, height).await;
        }
        phone
    }

    /// Makes the window so large that the page in it has this size. A browser may take a moment for
    /// it, and knows only then how much it keeps for itself.
    async fn fit(&self, width: u32, height: u32) {
        let begin = Instant::now();
        let mut around = 0;
        loop {
            self.browser
                .set_window_rect(0, 0, width, height + around)
                .await
                .expect("the window can be resized");
            tokio::time::sleep(BLINK).await;
            let seen = self.ask("return [innerWidth, innerHeight]").await;
            if seen == json!([width, height]) {
                return;
            }
            assert!(begin.elapsed() < PATIENCE, "the page's size is {seen}");
            let inner = seen[1].as_u64().and_then(|inner| u32::try_from(inner).ok());
            around = (around + height).saturating_sub(inner.expect("a height"));
        }
    }

    /// What the browser is made of.
    pub fn engine(&self) -> Engine {
        self.engine
    }

    /// Where the browser saves files.
    pub fn folder(&self) -> &Path {
        let folder = self.folder.as_ref().expect("the browser was not ended");
        folder.path()
    }

    /// Closes the browser as its owner does. What is on it stays in the folder.
    pub async fn close(mut self) -> TempDir {
        let closed = self.browser.clone().quit().await;
        closed.expect("the browser can be closed");
        self.driver.session = None;
        self.folder.take().expect("it ends only once")
    }

    /// Ends the browser with all its processes at once and unasked, as a system does that runs out
    /// of memory. What it had written by then is in the folder.
    pub fn kill(mut self) -> TempDir {
        // Every driver starts its browser itself.
        let family = Processes::now().family(self.driver.process());
        let (_, browser) = family.split_first().expect("the driver runs");
        assert!(!browser.is_empty(), "the browser runs");
        kill_all(browser);
        // There is nothing left that could be asked to end.
        self.driver.session = None;
        self.folder.take().expect("it ends only once")
    }

    /// Ends the process that shows the page at hand, as when a page uses too much memory. The browser
    /// and its other windows stay; go to one of them.
    pub async fn crash_page(&self) {
        let crash = DevTools(json!({ "cmd": "Page.crash", "params": {} }));
        let asked = self
            .browser
            .handle()
            .cmd(Request::ExtensionCommand(Box::new(crash)));
        // The page that should answer is gone.
        let _ = tokio::time::timeout(Duration::from_secs(5), asked).await;
    }

    /// The WebDriver session, for what has no helper here.
    pub fn browser(&self) -> &WebDriver {
        &self.browser
    }

    /// Goes to an address and waits until the app is awake there.
    pub async fn open(&self, url: &str) {
        self.open_file(url).await;
        self.until_awake().await;
    }

    /// Opens what is no page of the app, as a picture or a script, or a page that may not wake.
    pub async fn open_file(&self, url: &str) {
        self.browser.goto(url).await.expect("it can be opened");
    }

    /// Forgives what a browser says of files that a line loses.
    pub fn forgive_a_bad_line(&mut self) {
        for said in [
            "404",
            "Failed to",
            "WebAssembly",
            "net::ERR",
            "ServiceWorker",
        ] {
            self.forgive(said);
        }
    }

    /// The window that is looked at.
    pub async fn window(&self) -> WindowHandle {
        let window = self.browser.window().await;
        window.expect("there is a window")
    }

    /// Opens another window and looks at it.
    pub async fn open_window(&self) -> WindowHandle {
        let window = self.browser.new_tab().await.expect("a window opens");
        self.look_at(&window).await;
        window
    }

    /// Looks at a window.
    pub async fn look_at(&self, window: &WindowHandle) {
        let switched = self.browser.switch_to_window(window.clone()).await;
        switched.expect("the window is there");
    }

    /// Reloads and waits until the app is awake again.
    pub async fn reload(&self) {
        if self.engine == Engine::Firefox {
            // Its driver reloads past every cache and worker, which no finger on a phone does.
            self.ask("window.stale = true; location.reload()").await;
            let fresh = "return window.stale === undefined";
            self.until("the page is loaded anew", fresh).await;
        } else {
            self.browser
                .refresh()
                .await
                .expect("the page can be reloaded");
        }
        self.until_awake().await;
    }

    /// Reloads past every cache and worker, which some browsers offer, and waits until the app is awake
    /// again. Chromium only.
    pub async fn reload_past_worker(&self) {
        self.ask("window.stale = true").await;
        self.tools("Page.reload", json!({ "ignoreCache": true }))
            .await;
        let fresh = "return window.stale === undefined";
        self.until("the page is loaded anew", fresh).await;
        self.until_awake().await;
    }

    /// Waits until the app has taken over the page.
    pub async fn until_awake(&self) {
        self.until(
            "the app is awake",
            "return 'awake' in document.documentElement.dataset",
        )
        .await;
        if self.engine != Engine::Chromium {
            self.ask(LISTEN).await;
        }
    }

    /// Waits until the worker answers for the page: from now on no server is needed.
    pub async fn until_offline_ready(&self) {
        self.until(
            "a worker answers for the page",
            "return navigator.serviceWorker.controller !== null",
        )
        .await;
    }

    /// Waits until a script returns true.
    pub async fn until(&self, what: &str, script: &str) {
        let begin = Instant::now();
        loop {
            // While a page changes, a script may find no document; the next look will.
            let seen = self.browser.execute(script, Vec::new()).await;
            if seen.is_ok_and(|value| *value.json() == Value::Bool(true)) {
                return;
            }
            if begin.elapsed() > PATIENCE {
                let complaints = self.complaints().await;
                let stands = self.browser.execute(STANDS, Vec::new()).await;
                let stands =
                    stands.map_or_else(|error| error.to_string(), |it| it.json().to_string());
                panic!(
                    "waited in vain until {what}; the page said {complaints:?} and stands at {stands}"
                );
            }
            tokio::time::sleep(BLINK).await;
        }
    }

    /// Waits until the first element that matches has kept its place for a moment: while what stands above it still
    /// comes, a touch would meet another one.
    pub async fn until_still(&self, css: &str) {
        let still = format!(
            "const place = () => {{
                 const {{ x, y }} = document.querySelector({css:?})?.getBoundingClientRect() ?? {{}};
                 return x === undefined ? 'nowhere' : `${{x}} ${{y}}`;
             }};
             const before = place();
             await new Promise((later) => setTimeout(later, 150));
             return before !== 'nowhere' && before === place();"
        );
        let what = format!("{css} keeps its place");
        self.until_later(&what, &still).await;
    }

    /// Waits until a promise comes to true.
    pub async fn until_later(&self, what: &str, promise: &str) {
        let begin = Instant::now();
        while self.ask_later(promise).await != Value::Bool(true) {
            assert!(
                begin.elapsed() < PATIENCE,
                "waited in vain until {what}; the browser keeps {}",
                self.ask_later(KEPT).await
            );
            tokio::time::sleep(BLINK).await;
        }
    }

    /// Forgets everything the app has stored, its echo too. This is done from where no page of the app is open: one
    /// could store its draft or its pair again in between. A page has to be opened next.
    pub async fn forget(&self) {
        let icon = self
            .ask("return document.querySelector('link[rel=icon]')?.href ?? null")
            .await;
        if let Some(icon) = icon.as_str() {
            self.open_file(icon).await;
        }
        self.ask_later(
            "localStorage.clear();
             const gone = indexedDB.deleteDatabase('evenloop');
             await new Promise((done) => { gone.onsuccess = gone.onerror = done; })",
        )
        .await;
    }

    /// Runs a script and hands over what it returns.
    pub async fn ask(&self, script: &str) -> Value {
        self.browser
            .execute(script, Vec::new())
            .await
            .unwrap_or_else(|error| panic!("{script}: {error}"))
            .json()
            .clone()
    }

    /// Runs a script that returns a promise and hands over what it comes to.
    pub async fn ask_later(&self, promise: &str) -> Value {
        let script = format!(
            "const done = arguments[arguments.length - 1];
             (async () => {{ {promise} }})().then(done, (error) => done(`failed: ${{error}}`));"
        );
        self.browser
            .execute_async(script, Vec::new())
            .await
            .unwrap_or_else(|error| panic!("{promise}: {error}"))
            .json()
            .clone()
    }

    /// The first element that matches, once there is one.
    pub async fn find(&self, css: &str) -> WebElement {
        let begin = Instant::now();
        loop {
            let query = self.browser.query(By::Css(css)).wait(PATIENCE, BLINK);
            match query.first().await {
                Ok(element) => return element,
                // The app put another one in its place while the driver was about to name it.
                Err(error) if is_stale(&error) && begin.elapsed() < PATIENCE => {}
                Err(error) => panic!("no {css}: {error}"),
            }
        }
    }

    /// The text of the first element that matches.
    pub async fn text(&self, css: &str) -> String {
        let begin = Instant::now();
        loop {
            match self.find(css).await.text().await {
                Ok(text) => return text,
                Err(error) if is_stale(&error) && begin.elapsed() < PATIENCE => {}
                Err(error) => panic!("{css} cannot be read: {error}"),
            }
        }
    }

    /// Unfolds all that the first element that matches lies folded away in. It may be made only then:
    /// what is not on the page is looked for in every fold.
    pub async fn unfold(&self, css: &str) {
        let script = format!(
            "const one = document.querySelector({css:?});
             if (!one) {{
                 for (const fold of document.querySelectorAll('details.fold:not([open])')) {{
                     fold.setAttribute('open', '');
                     fold.dataset.searched = '';
                 }}
                 return false;
             }}
             for (const fold of document.querySelectorAll('[data-searched]')) {{
                 delete fold.dataset.searched;
                 if (!fold.contains(one)) fold.removeAttribute('open');
             }}
             for (let fold = one.closest('details'); fold; fold = fold.parentElement.closest('details'))
                 fold.setAttribute('open', '');
             return true"
        );
        self.until(&format!("{css} is unfolded"), &script).await;
    }

    /// Types a text into the first line that matches, in place of what stands there.
    pub async fn write(&self, css: &str, text: &str) {
        self.unfold(css).await;
        let line = self.find(css).await;
        line.clear().await.expect("a line can be emptied");
        line.send_keys(text)
            .await
            .expect("a line can be typed into");
    }

    /// Presses keys one after another, wherever the focus is.
    pub async fn press(&self, keys: &[Key]) {
        for key in keys {
            // Not sent to the element: one for files takes what is sent to it for a file's name.
            self.browser
                .action_chain()
                .key_down(char::from(key.clone()))
                .key_up(char::from(key.clone()))
                .perform()
                .await
                .expect("a key can be pressed");
        }
    }

    /// Presses a key while Shift is held, wherever the focus is.
    pub async fn press_with_shift(&self, key: Key) {
        self.browser
            .action_chain()
            .key_down(char::from(Key::Shift))
            .key_down(char::from(key.clone()))
            .key_up(char::from(key))
            .key_up(char::from(Key::Shift))
            .perform()
            .await
            .expect("a key can be pressed");
    }

    /// Touches the middle of the first element that matches, with one finger.
    pub async fn tap(&self, css: &str) {
        let begin = Instant::now();
        loop {
            let element = self.find(css).await;
            match self.try_to_hold(&element, Duration::ZERO).await {
                Ok(()) => return,
                // Nothing was touched: the app put another one in its place meanwhile.
                Err(error) if is_stale(&error) && begin.elapsed() < PATIENCE => {}
                Err(error) => panic!("{css} cannot be touched: {error}"),
            }
        }
    }

    /// Touches the middle of an element, with one finger.
    pub async fn tap_element(&self, element: &WebElement) {
        self.hold_element(element, Duration::ZERO).await;
    }

    /// Touches the middle of an element, with a finger that rests on it for so long.
    pub async fn hold_element(&self, element: &WebElement, rest: Duration) {
        let held = self.try_to_hold(element, rest).await;
        held.expect("the element can be touched");
    }

    async fn try_to_hold(&self, element: &WebElement, rest: Duration) -> WebDriverResult<()> {
        element.scroll_into_view().await?;
        let touch = Touch {
            element: element.element_id().to_string(),
            rest,
        };
        let request = Request::ExtensionCommand(Box::new(touch));
        self.browser.handle().cmd(request).await.map(drop)
    }

    /// Gives a command to Chromium's developer tools and hands over their answer.
    pub async fn tools(&self, command: &str, params: Value) -> Value {
        let command = DevTools(json!({ "cmd": command, "params": params }));
        let answer = self
            .browser
            .handle()
            .cmd(Request::ExtensionCommand(Box::new(command)))
            .await
            .expect("Chromium obeys its developer tools");
        answer.value_json().expect("an answer is JSON")
    }

    /// Makes the phone so many times slower than this machine.
    pub async fn slow_down(&self, times: u32) {
        let rate = json!({ "rate": times });
        self.tools("Emulation.setCPUThrottlingRate", rate).await;
    }

    /// Leaves the site at an address so many bytes to store, or as many as there are.
    pub async fn allow(&self, origin: &str, bytes: Option<u64>) {
        let mut quota = json!({ "origin": origin });
        if let Some(bytes) = bytes {
            quota["quotaSize"] = bytes.into();
        }
        self.tools("Storage.overrideQuotaForOrigin", quota).await;
    }

    /// Runs a script in every page before anything of the page itself.
    pub async fn at_every_start(&self, script: &str) {
        let source = json!({ "source": script });
        self.tools("Page.addScriptToEvaluateOnNewDocument", source)
            .await;
    }

    /// Has the device ask for something of its pages: pairs of a media feature and its value, such
    /// as `("forced-colors", "active")`.
    pub async fn wish(&self, features: &[(&str, &str)]) {
        let features: Vec<Value> = features
            .iter()
            .map(|(name, value)| json!({ "name": name, "value": value }))
            .collect();
        let wish = json!({ "features": features });
        self.tools("Emulation.setEmulatedMedia", wish).await;
    }

    /// The page as a browser prints it, a PDF in base64; paper in inches.
    pub async fn print(&self, width: f64, height: f64) -> String {
        let paper =
            json!({ "paperWidth": width, "paperHeight": height, "preferCSSPageSize": true });
        let answer = self.tools("Page.printToPDF", paper).await;
        answer["data"].as_str().expect("a PDF").to_owned()
    }

    /// Saves what is to be seen as `tests/out/NAME.png`.
    pub async fn screenshot(&self, name: &str) {
        let folder = root().join("tests/out");
        std::fs::create_dir_all(&folder).expect("tests may write to tests/out");
        self.browser
            .screenshot(&folder.join(format!("{name}.png")))
            .await
            .expect("the screen can be taken");
    }

    /// Expects complaints that hold this text, such as failed requests to a stopped server.
    pub fn forgive(&mut self, text: &str) {
        self.forgiven.push(text.to_owned());
    }

    /// What the pages have complained about since the last look, but for what was forgiven. Other
    /// engines than Chromium only tell of the page that is open, and from when it was awake.
    pub async fn complaints(&self) -> Vec<String> {
        let said: Vec<String> = if self.engine == Engine::Chromium {
            let log = self.browser.browser_log().await;
            log.expect("the browser keeps a log")
                .into_iter()
                .filter(|entry| entry.level == "SEVERE")
                .map(|entry| entry.message)
                .collect()
        } else {
            let said = self.ask("return window.complaints?.splice(0) ?? []").await;
            serde_json::from_value(said).expect("complaints are text")
        };
        said.into_iter()
            .filter(|message| !self.forgiven.iter().any(|text| message.contains(text)))
            .collect()
    }

    /// Ends the session.
    ///
    /// # Panics
    /// If a page complained.
    pub async fn put_away(self) {
        let complaints = self.complaints().await;
        assert!(
            complaints.is_empty(),
            "the page complained: {complaints:#?}"
        );
        self.browser
            .clone()
            .quit()
            .await
            .expect("the browser can be closed");
    }
}

impl Drop for Phone {
    fn drop(&mut self) {
        // Where a test ended early its driver closes the browser; the client's own way of doing so
        // would block the test's only thread. Where it was put away there is nothing left to close.
        let _ = self.browser.clone().leak();
    }
}

/// Whether an element is meant that is no longer part of the page.
fn is_stale(error: &WebDriverError) -> bool {
    matches!(
        error.as_inner(),
        WebDriverErrorInner::StaleElementReference(_)
    )
}

/// One finger down and up again; thirtyfour's own pointer is a mouse.
#[derive(Debug)]
struct Touch {
    element: String,
    rest: Duration,
}

impl ExtensionCommand for Touch {
    fn parameters_json(&self) -> Option<Value> {
        let element = json!({ "element-6066-11e4-a52e-4f735466cecf": self.element });
        Some(json!({ "actions": [{
            "type": "pointer",
            "id": "finger",
            "parameters": { "pointerType": "touch" },
            "actions": [
                { "type": "pointerMove", "duration": 0, "origin": element, "x": 0, "y": 0 },
                { "type": "pointerDown", "button": 0 },
                { "type": "pause", "duration": self.rest.as_millis() },
                { "type": "pointerUp", "button": 0 },
            ],
        }]}))
    }

    fn method(&self) -> Method {
        Method::POST
    }

    fn endpoint(&self) -> Arc<str> {
        "/actions".into()
    }
}

/// A command of the browser's developer tools.
#[derive(Debug)]
struct DevTools(Value);

impl ExtensionCommand for DevTools {
    fn parameters_json(&self) -> Option<Value> {
        Some(self.0.clone())
    }

    fn method(&self) -> Method {
        Method::POST
    }

    fn endpoint(&self) -> Arc<str> {
        "/goog/cdp/execute".into()
    }
}

fn new_folder() -> TempDir {
    tempfile::tempdir().expect("there is room for a profile")
}
