//! Program and site as one file: copied alone to an empty folder it serves everything. And the address
//! it shows in the terminal, read as a camera reads it.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use std::{fs, thread};

use evenloop_tests::server::{command, root};
use reqwest::StatusCode;
use rustix::process::{Pid, Signal, kill_process};

/// Writes the bundle with a command that can.
fn bundle(mut command: Command, file: &Path) {
    let output = command.arg("bundle").arg(file).output();
    let output = output.expect("the command runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{said}");
}

/// A server started by a command of the test's own. Killed when dropped.
struct Running {
    child: Child,
    url: String,
    output: BufReader<std::process::ChildStdout>,
}

impl Running {
    fn start(command: &mut Command) -> Self {
        let mut child = command
            .env("EVENLOOP_LOG", "warn")
            .stdout(Stdio::piped())
            .spawn()
            .expect("it can be started");
        let mut output = BufReader::new(child.stdout.take().expect("its output is piped"));
        let mut line = String::new();
        output.read_line(&mut line).expect("it can be read");
        let url = line.trim().strip_prefix("Evenloop is ready: ");
        let url = url.unwrap_or_else(|| panic!("{line:?}")).to_owned();
        Self { child, url, output }
    }

    /// Ends it and hands over what else it said.
    fn end(mut self) -> String {
        let id = i32::try_from(self.child.id()).ok().and_then(Pid::from_raw);
        kill_process(id.expect("it has an id"), Signal::TERM).expect("it runs");
        let mut said = String::new();
        self.output.read_to_string(&mut said).expect("it is text");
        let begin = Instant::now();
        while self
            .child
            .try_wait()
            .expect("a child can be waited for")
            .is_none()
        {
            assert!(begin.elapsed() < Duration::from_secs(5), "it does not end");
            thread::sleep(Duration::from_millis(20));
        }
        said
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

async fn get(url: String) -> (StatusCode, String) {
    let response = reqwest::get(&url)
        .await
        .unwrap_or_else(|error| panic!("{url}: {error}"));
    let status = response.status();
    let body = response.bytes().await.expect("it has a body");
    (status, String::from_utf8_lossy(&body).into_owned())
}

#[tokio::test]
async fn one_file_in_an_empty_folder_serves_everything() {
    let made = tempfile::tempdir().expect("there is room");
    let first = made.path().join("evenloop");
    let mut with_site = command();
    with_site.env("EVENLOOP_SITE", root().join("target/site"));
    bundle(with_site, &first);

    let empty = tempfile::tempdir().expect("there is room");
    let program = empty.path().join("evenloop");
    fs::copy(&first, &program).expect("there is room");
    let mut alone = Command::new(&program);
    alone
        .env_clear()
        .current_dir(empty.path())
        .env("EVENLOOP_ADDR", "127.0.0.1:0");
    let running = Running::start(&mut alone);
    let base = running.url.trim_end_matches('/').to_owned();
    let (status, page) = get(format!("{base}/measure")).await;
    assert_eq!(status, StatusCode::OK);
    let assets = page.split('"').filter(|part| part.starts_with("/pkg/"));
    let mut assets: Vec<String> = assets.map(str::to_owned).collect();
    assert!(assets.len() >= 4, "{assets:?}");
    assert!(
        assets.iter().any(|asset| asset.contains("/icon.")),
        "{assets:?}"
    );
    assets.extend(["/sw.js", "/manifest.webmanifest"].map(str::to_owned));
    for asset in assets {
        let (status, body) = get(format!("{base}{asset}")).await;
        assert_eq!(status, StatusCode::OK, "{asset}");
        assert!(!body.is_empty(), "{asset}");
    }
    running.end();

    // It can hand itself on, and that copy is the same to the byte.
    let second = empty.path().join("again");
    let mut itself = Command::new(&program);
    itself.env_clear();
    bundle(itself, &second);
    let same = fs::read(&first).expect("it is there") == fs::read(&second).expect("it is there");
    assert!(same, "a bundle bundled again is another");
}

/// Reads a code as a camera would from a terminal, each letter two modules high.
fn read_code(lines: &str) -> String {
    const SCALE: usize = 4;
    let rows: Vec<Vec<(bool, bool)>> = lines
        .lines()
        .filter_map(|line| {
            line.strip_prefix("\x1b[38;5;16;48;5;231m")?
                .strip_suffix("\x1b[0m")
        })
        .map(|line| {
            let halves = |letter| match letter {
                '█' => (true, true),
                '▀' => (true, false),
                '▄' => (false, true),
                ' ' => (false, false),
                other => panic!("{other:?} in a code"),
            };
            line.chars().map(halves).collect()
        })
        .collect();
    let width = rows.first().expect("there is a code").len();
    let dark = |x: usize, y: usize| {
        let (top, bottom) = rows[y / 2][x];
        if y.is_multiple_of(2) { top } else { bottom }
    };
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(
        width * SCALE,
        rows.len() * 2 * SCALE,
        |x, y| if dark(x / SCALE, y / SCALE) { 0 } else { 255 },
    );
    let codes = image.detect_grids();
    assert_eq!(codes.len(), 1, "{lines}");
    codes[0].decode().expect("a camera can read it").1
}

fn with_code(settings: &[(&str, &str)]) -> (String, String) {
    let mut command = command();
    command
        .arg("--code")
        .env("EVENLOOP_SITE", root().join("target/site"))
        .envs(settings.iter().copied());
    let running = Running::start(&mut command);
    let url = running.url.clone();
    (url, running.end())
}

#[test]
fn the_address_is_shown_as_a_code_when_asked() {
    let (url, said) = with_code(&[("EVENLOOP_ADDR", "127.0.0.1:0")]);
    assert_eq!(read_code(&said), url);
    assert!(said.contains(&format!("\n{url}\n")), "{said}");
    assert!(said.contains("Over http"), "{said}");

    // Listening everywhere is no address: the one in the network is shown.
    let (url, said) = with_code(&[("EVENLOOP_ADDR", "0.0.0.0:0")]);
    let port = url
        .trim_end_matches('/')
        .rsplit(':')
        .next()
        .expect("it has a port");
    let shown = read_code(&said);
    assert!(!shown.contains("0.0.0.0"), "{shown}");
    assert!(shown.ends_with(&format!(":{port}/")), "{shown}");

    let public = "https://socks.example/";
    let (_, said) = with_code(&[("EVENLOOP_ADDR", "127.0.0.1:0"), ("EVENLOOP_URL", public)]);
    assert_eq!(read_code(&said), public);
    assert!(!said.contains("Over http"), "{said}");
}
