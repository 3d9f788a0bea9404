//! The three engines that browsers are made of, and the processes that drive them.
//!
//! Knows how each is started at the size of a phone; what a test does with it is the phone's business.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use thirtyfour::Capabilities;

use crate::server::root;

/// Where Debian puts the plain browser of `WebKitGTK`.
const MINI_BROWSER: &str = "/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser";

/// Where the browser of `WebKitGTK` is that keeps what is stored when it is driven.
fn keeping_browser() -> PathBuf {
    root().join("tests/webkit/keeping_browser.py")
}

/// What becomes of what a page stores when its browser has ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Memory {
    /// What the engine's usual browser does when it is driven.
    Usual,
    /// It is kept in the browser's folder.
    Kept,
}

/// What a browser is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Engine {
    /// Chromium; the only one with developer tools over `WebDriver`.
    Chromium,
    /// Firefox, the release with long support.
    Firefox,
    /// `WebKitGTK`; its own browser forgets everything with its session.
    WebKit,
}

impl Engine {
    /// What to ask the driver for: a new browser of this size in CSS pixels, with its profile and its
    /// downloads in a folder.
    pub(crate) fn capabilities(
        self,
        folder: &Path,
        width: u32,
        height: u32,
        memory: Memory,
    ) -> Capabilities {
        let wanted = match self {
            Self::Chromium => chromium(folder, width, height),
            Self::Firefox => firefox(folder),
            Self::WebKit if memory == Memory::Kept => json!({ "webkitgtk:browserOptions": {
                "binary": keeping_browser(),
                "args": [folder.join("webkit")],
            }}),
            Self::WebKit => json!({ "webkitgtk:browserOptions": {
                "binary": MINI_BROWSER,
                "args": ["--automation"],
            }}),
        };
        let mut capabilities = Capabilities::new();
        for (key, value) in wanted.as_object().into_iter().flatten() {
            capabilities
                .set(key.clone(), value)
                .expect("options are well formed");
        }
        capabilities
    }

    /// Starts the driver.
    pub(crate) fn drive(self, folder: &Path) -> Driver {
        match self {
            Self::Chromium => {
                let mut command = Command::new("chromedriver");
                command.arg("--port=0");
                Driver::announced(command, "successfully on port ")
            }
            Self::Firefox => {
                let profile = folder.join("firefox/chrome");
                fs::create_dir_all(&profile).expect("there is room for a profile");
                // Its window is 450 pixels wide at least; phones are not.
                let narrow = ":root { min-width: 0 !important; min-height: 0 !important; }";
                fs::write(profile.join("userChrome.css"), narrow).expect("a profile is writable");
                let mut command = Command::new(geckodriver());
                command.args(["--port", "0", "--websocket-port", "0", "--log", "info"]);
                Driver::announced(command, "Listening on 127.0.0.1:")
            }
            Self::WebKit => Driver::of_webkit(folder),
        }
    }
}

fn chromium(folder: &Path, width: u32, height: u32) -> Value {
    json!({
        "goog:loggingPrefs": { "browser": "ALL" },
        "goog:chromeOptions": {
            "args": [
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-quic",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--disable-dev-shm-usage",
                format!("--user-data-dir={}", folder.join("chromium").display()),
                format!("--window-size={width},{height}"),
            ],
            "prefs": { "download.default_directory": folder },
            "mobileEmulation": { "deviceMetrics": {
                "width": width, "height": height, "pixelRatio": 2.0, "mobile": true, "touch": true,
            }},
        },
    })
}

fn firefox(folder: &Path) -> Value {
    json!({ "moz:firefoxOptions": {
        "args": ["-headless", "-profile", folder.join("firefox")],
        "prefs": {
            "toolkit.legacyUserProfileCustomizations.stylesheets": true,
            "layout.css.devPixelsPerPx": "2.0",
            "dom.w3c_touch_events.enabled": 1,
            "browser.download.folderList": 2,
            "browser.download.dir": folder,
            "browser.helperApps.neverAsk.saveToDisk": "application/json",
            // Nothing of its own over the network.
            "app.normandy.enabled": false,
            "network.captive-portal-service.enabled": false,
            "services.settings.server": "data:,",
        },
    }})
}

/// `tests/run` builds it into the tools' folder where the system has none.
fn geckodriver() -> PathBuf {
    let own = root().join("target/tools/bin/geckodriver");
    if own.exists() {
        own
    } else {
        "geckodriver".into()
    }
}

/// The process that drives the browser.
#[derive(Debug)]
pub(crate) struct Driver {
    child: Child,
    /// The screen that `WebKitGTK` draws on.
    screen: Option<Child>,
    port: u16,
    pub(crate) session: Option<String>,
}

/// Starts a driver, and reads until it says its port; nothing where it ends before.
fn begin(command: &mut Command, words: &str) -> Option<(Child, BufReader<ChildStdout>, u16)> {
    let mut child = command
        .spawn()
        .expect("the browser's driver is installed (tests/run installs it)");
    let mut output = BufReader::new(child.stdout.take().expect("its output is piped"));
    if let Some(port) = port_said(&mut output, words) {
        Some((child, output, port))
    } else {
        child.wait().expect("it has ended");
        None
    }
}

/// The port that follows these words.
fn port_said(output: &mut impl BufRead, words: &str) -> Option<u16> {
    let line = output
        .lines()
        .map(|line| line.expect("its output can be read"))
        .find(|line| line.contains(words))?;
    let (_, port) = line.split_once(words)?;
    let port: String = port.chars().take_while(char::is_ascii_digit).collect();
    Some(port.parse().expect("it says which port"))
}

impl Driver {
    /// A driver that chooses its own port and says so after some words.
    fn announced(mut command: Command, words: &str) -> Self {
        command.stdout(Stdio::piped()).stderr(Stdio::null());
        // The port is free for one of both kinds of addresses; where another program has it for the
        // other kind, the driver ends at once.
        let (child, mut output, port) = (0..5)
            .find_map(|_| begin(&mut command, words))
            .expect("the driver says that it is ready");
        thread::spawn(move || output.read_to_end(&mut Vec::new()));
        Self {
            child,
            screen: None,
            port,
            session: None,
        }
    }

    /// `WebKitGTK` needs a screen, and its driver a port.
    fn of_webkit(folder: &Path) -> Self {
        let mut screen = Command::new("Xvfb")
            .args(["-displayfd", "1", "-screen", "0", "1280x1024x24"])
            .args(["-nolisten", "tcp"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb is installed (tests/run installs it)");
        let mut number = String::new();
        BufReader::new(screen.stdout.take().expect("its output is piped"))
            .read_line(&mut number)
            .expect("it says which screen it is");
        // The browser's own buttons would make its window wider than a phone.
        let look = folder.join("gtk-3.0");
        fs::create_dir_all(&look).expect("there is room for settings");
        let narrow = "* { min-width: 0; min-height: 0; padding: 0; margin: 0; border-width: 0; }";
        fs::write(look.join("gtk.css"), narrow).expect("settings are writable");
        let downloads = format!("XDG_DOWNLOAD_DIR=\"{}\"\n", folder.display());
        fs::write(folder.join("user-dirs.dirs"), downloads).expect("settings are writable");
        let port = TcpListener::bind(("127.0.0.1", 0))
            .and_then(|free| free.local_addr())
            .expect("there is a free port")
            .port();
        let child = Command::new("WebKitWebDriver")
            .arg(format!("--port={port}"))
            .env("DISPLAY", format!(":{}", number.trim()))
            .env("XDG_CONFIG_HOME", folder)
            .env("XDG_DATA_HOME", folder.join("data"))
            .env("XDG_CACHE_HOME", folder.join("cache"))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("WebKitWebDriver is installed (tests/run installs it)");
        let begin = Instant::now();
        while TcpStream::connect(("127.0.0.1", port)).is_err() {
            assert!(
                begin.elapsed() < Duration::from_secs(20),
                "the driver listens"
            );
            thread::sleep(Duration::from_millis(20));
        }
        Self {
            child,
            screen: Some(screen),
            port,
            session: None,
        }
    }

    /// The number of its process.
    pub(crate) fn process(&self) -> i32 {
        i32::try_from(self.child.id()).expect("numbers of processes are small")
    }

    pub(crate) fn url(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    /// Ends the browser; without this it would outlive its driver.
    fn end_session(&self) -> std::io::Result<()> {
        let Some(session) = &self.session else {
            return Ok(());
        };
        let mut stream = TcpStream::connect(("127.0.0.1", self.port))?;
        stream.set_read_timeout(Some(Duration::from_secs(10)))?;
        write!(
            stream,
            "DELETE /session/{session} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\n\r\n",
            self.port
        )?;
        // The answer comes when the browser is closed; the connection may stay.
        stream.read(&mut [0; 64]).map(drop)
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        // Also after a panic, when neither may be there any more.
        let _ = self.end_session();
        let _ = self.child.kill();
        let _ = self.child.wait();
        if let Some(screen) = &mut self.screen {
            let _ = screen.kill();
            let _ = screen.wait();
        }
    }
}
