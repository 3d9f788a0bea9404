//! The real server, as a process of its own.

use std::io::{BufRead, BufReader, Read};
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use rustix::process::{Pid, Signal, kill_process};

/// The repository's root.
pub fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}

/// Where `tests/made_up_language` puts a server and a site that speak the made-up language, unless the
/// environment says otherwise.
pub fn made_up() -> PathBuf {
    std::env::var_os("EVENLOOP_MADE_UP")
        .map_or_else(|| root().join("target/made-up"), PathBuf::from)
}

/// The server's command, built beside the tests.
pub fn command() -> Command {
    let test = std::env::current_exe().expect("a test knows where it is");
    let folder = test
        .parent()
        .and_then(Path::parent)
        .expect("tests lie in target/*/deps");
    let server = folder.join("evenloop-server");
    assert!(
        server.exists(),
        "{} is missing: run server/start --build first",
        server.display()
    );
    Command::new(server)
}

/// A running server. It is killed when dropped.
#[derive(Debug)]
pub struct Server {
    child: Child,
    site: PathBuf,
    address: SocketAddr,
}

impl Server {
    /// Serves the site that `server/start --build` packed, on a free port.
    pub fn start() -> Self {
        Self::start_with(
            &root().join("target/site"),
            SocketAddr::from(([127, 0, 0, 1], 0)),
        )
    }

    /// Serves another site.
    pub fn start_with(site: &Path, address: SocketAddr) -> Self {
        Self::start_set(site, address, &[])
    }

    /// Serves the packed site on a free port, with settings from the environment.
    pub fn start_packed(settings: &[(&str, &str)]) -> Self {
        let address = SocketAddr::from(([127, 0, 0, 1], 0));
        Self::start_set(&root().join("target/site"), address, settings)
    }

    /// Serves the app in the made-up language, on a free port.
    pub fn start_made_up() -> Self {
        let address = SocketAddr::from(([127, 0, 0, 1], 0));
        Self::start_made_up_of(&made_up().join("site"), address)
    }

    /// Serves another site in the made-up language.
    pub fn start_made_up_of(site: &Path, address: SocketAddr) -> Self {
        let program = made_up().join("evenloop-server");
        assert!(
            program.exists(),
            "{} is missing: run tests/made_up_language first",
            program.display()
        );
        Self::start_program(Command::new(program), site, address, &[])
    }

    /// Serves a site with further settings.
    pub fn start_set(site: &Path, address: SocketAddr, settings: &[(&str, &str)]) -> Self {
        Self::start_program(command(), site, address, settings)
    }

    /// Serves a site by a command that starts the server in its own way.
    pub fn start_program(
        mut program: Command,
        site: &Path,
        address: SocketAddr,
        settings: &[(&str, &str)],
    ) -> Self {
        let mut child = program
            .envs(settings.iter().copied())
            .env("EVENLOOP_ADDR", address.to_string())
            .env("EVENLOOP_SITE", site)
            .env("EVENLOOP_LOG", "warn")
            // As under a service manager, whose services have no terminal.
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the server can be started");
        let mut output = BufReader::new(child.stdout.take().expect("its output is piped"));
        let mut line = String::new();
        output.read_line(&mut line).expect("its output can be read");
        let address = line
            .trim()
            .strip_prefix("Evenloop is ready: ")
            .and_then(|url| url.split("://").nth(1)?.split('/').next()?.parse().ok())
            .unwrap_or_else(|| panic!("the server did not say where it is, but {line:?}"));
        // Whatever else it says is read away, so that it never waits for a reader.
        thread::spawn(move || output.read_to_end(&mut Vec::new()));
        Self {
            child,
            site: site.to_owned(),
            address,
        }
    }

    /// Where it listens.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// The address of a path.
    pub fn url(&self, path: &str) -> String {
        format!("http://{}{path}", self.address)
    }

    /// Asks it to stop, as a service manager would.
    pub fn ask_to_stop(&self) {
        self.signal(Signal::TERM);
    }

    /// Asks it to read its certificate again, as a service manager would.
    pub fn ask_to_renew(&self) {
        self.signal(Signal::HUP);
    }

    fn signal(&self, signal: Signal) {
        let id = i32::try_from(self.child.id()).expect("process ids are positive");
        let id = Pid::from_raw(id).expect("process ids are not zero");
        kill_process(id, signal).expect("the server runs");
    }

    /// Memory it holds, in KiB.
    pub fn memory(&self) -> u64 {
        self.told_by_the_system("VmRSS:")
    }

    /// The most memory that it has held, in KiB.
    pub fn most_memory(&self) -> u64 {
        self.told_by_the_system("VmHWM:")
    }

    /// Its threads.
    pub fn threads(&self) -> u64 {
        self.told_by_the_system("Threads:")
    }

    fn told_by_the_system(&self, name: &str) -> u64 {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.child.id()));
        let status = status.expect("the system tells what the server holds");
        let line = status.lines().find_map(|line| line.strip_prefix(name));
        line.and_then(|line| line.split_whitespace().next()?.parse().ok())
            .unwrap_or_else(|| panic!("no {name} in {status}"))
    }

    /// Waits for its end.
    pub fn wait(&mut self, longest: Duration) -> Option<ExitStatus> {
        let begin = Instant::now();
        while begin.elapsed() < longest {
            if let Some(status) = self.child.try_wait().expect("a child can be waited for") {
                return Some(status);
            }
            thread::sleep(Duration::from_millis(20));
        }
        None
    }

    /// Stops it for good. The way back is [`Stopped::start`].
    pub fn stop(mut self) -> Stopped {
        self.child.kill().expect("the server runs");
        self.child.wait().expect("a child can be waited for");
        Stopped {
            site: self.site.clone(),
            address: self.address,
        }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A server that was stopped: nothing answers at its address.
#[derive(Debug)]
pub struct Stopped {
    site: PathBuf,
    address: SocketAddr,
}

impl Stopped {
    /// Starts it again at the same address.
    pub fn start(&self) -> Server {
        Server::start_with(&self.site, self.address)
    }

    /// Starts it again at the same address, with further settings.
    pub fn start_set(&self, settings: &[(&str, &str)]) -> Server {
        Server::start_set(&self.site, self.address, settings)
    }

    /// Starts a server at the same address with another site.
    pub fn start_with(&self, site: &Path) -> Server {
        Server::start_with(site, self.address)
    }
}
