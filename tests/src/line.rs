//! The line between a phone and a server, on which things go wrong: files get lost or held up, bodies
//! break off, somebody in between answers with a page of his own, and the other end goes silent.
//!
//! Knows HTTP/1.1 just well enough for one GET a connection.

use std::io::{self, Read, Write};
use std::net::{Shutdown, SocketAddr, TcpListener, TcpStream};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Duration;

/// What goes wrong with one file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mishap {
    /// It is not there.
    Lost,
    /// The connection ends in the middle of it.
    BreaksOff,
    /// Half of it comes, and the head says that this is all.
    CutShort,
    /// Something else comes under its name.
    Replaced(Vec<u8>),
}

/// How often something goes wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Recurrence {
    Always,
    Once,
}

/// Where a worker is asked for.
const WORKER: &str = "/sw.js";

/// How far what a worker stores may get. Browsers mark what is asked for past all caches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Gate {
    /// All of it comes.
    #[default]
    Open,
    /// Pages wait.
    HoldsPages,
    /// Files and pages wait.
    HoldsAll,
    /// Waiting and new connections are refused.
    Refuses,
}

#[derive(Debug, Default)]
struct State {
    gate: Gate,
    /// What becomes of the gate when a worker is asked for.
    gate_of_next_worker: Option<Gate>,
    to: Option<SocketAddr>,
    mishaps: Vec<(String, Mishap, Recurrence)>,
    held: Vec<String>,
    left: Option<usize>,
    asked: Vec<String>,
    over: bool,
}

/// A line with an address of its own, to whichever server it is led.
#[derive(Debug)]
pub struct Line {
    address: SocketAddr,
    state: Arc<Mutex<State>>,
}

impl Line {
    /// A line to a server.
    pub fn to(server: SocketAddr) -> Self {
        let listener = TcpListener::bind(("127.0.0.1", 0)).expect("there is a free port");
        let address = listener.local_addr().expect("a listener has an address");
        let state = Arc::new(Mutex::new(State {
            to: Some(server),
            ..State::default()
        }));
        let shared = Arc::clone(&state);
        thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                if look(&shared).over {
                    return;
                }
                let shared = Arc::clone(&shared);
                // A browser that hangs up is no fault of the line.
                thread::spawn(move || drop(carry(&stream, &shared)));
            }
        });
        Self { address, state }
    }

    /// The address of a path at this end.
    pub fn url(&self, path: &str) -> String {
        format!("http://{}{path}", self.address)
    }

    /// Leads to another server from now on, with nothing going wrong.
    pub fn lead_to(&self, server: SocketAddr) {
        let mut state = look(&self.state);
        state.to = Some(server);
        state.mishaps.clear();
        state.left = None;
    }

    /// Something goes wrong with a file, each time it is asked for.
    pub fn spoil(&self, path: &str, mishap: Mishap) {
        let spoilt = (path.to_owned(), mishap, Recurrence::Always);
        look(&self.state).mishaps.push(spoilt);
    }

    /// Something goes wrong with a file the first time it is asked for.
    pub fn spoil_once(&self, path: &str, mishap: Mishap) {
        let spoilt = (path.to_owned(), mishap, Recurrence::Once);
        look(&self.state).mishaps.push(spoilt);
    }

    /// A file is held up, however often it is asked for, until [`Line::let_go`].
    pub fn hold(&self, path: &str) {
        look(&self.state).held.push(path.to_owned());
    }

    /// What was held up goes on.
    pub fn let_go(&self) {
        look(&self.state).held.clear();
    }

    /// Sets how far what a worker stores may get.
    pub fn set_gate(&self, gate: Gate) {
        let mut state = look(&self.state);
        state.gate = gate;
        state.gate_of_next_worker = None;
    }

    /// Sends away what is asked for before the next worker is, and sets how far what that one stores may get.
    pub fn set_gate_of_next_worker(&self, gate: Gate) {
        let mut state = look(&self.state);
        state.gate = Gate::Refuses;
        state.gate_of_next_worker = Some(gate);
    }

    /// Nobody answers until the line leads to a server again.
    pub fn go_silent(&self) {
        look(&self.state).to = None;
    }

    /// After so many more answers, the line is dead.
    pub fn dies_after(&self, answers: usize) {
        look(&self.state).left = Some(answers);
    }

    /// The paths asked for since the last look.
    pub fn asked(&self) -> Vec<String> {
        std::mem::take(&mut look(&self.state).asked)
    }
}

impl Drop for Line {
    fn drop(&mut self) {
        look(&self.state).over = true;
        // Wakes the listener, so that it sees the end.
        drop(TcpStream::connect(self.address));
    }
}

fn look(state: &Mutex<State>) -> MutexGuard<'_, State> {
    state.lock().unwrap_or_else(PoisonError::into_inner)
}

/// One request and its answer.
fn carry(mut phone: &TcpStream, state: &Mutex<State>) -> io::Result<()> {
    phone.set_read_timeout(Some(Duration::from_secs(30)))?;
    let mut request = Vec::new();
    let mut part = [0; 4096];
    while !request.ends_with(b"\r\n\r\n") {
        match phone.read(&mut part)? {
            0 => return Ok(()),
            read => request.extend_from_slice(&part[..read]),
        }
    }
    let request = String::from_utf8_lossy(&request).into_owned();
    let path = request.split(' ').nth(1).unwrap_or_default().to_owned();
    let (to, mishap) = {
        let mut state = look(state);
        state.asked.push(path.clone());
        if path == WORKER
            && let Some(gate) = state.gate_of_next_worker.take()
        {
            state.gate = gate;
        }
        let answers = match &mut state.left {
            Some(0) => false,
            Some(left) => {
                *left -= 1;
                true
            }
            None => true,
        };
        let found = state
            .mishaps
            .iter()
            .position(|(spoilt, ..)| *spoilt == path);
        let mishap = found.map(|index| match state.mishaps[index].2 {
            Recurrence::Always => state.mishaps[index].1.clone(),
            Recurrence::Once => state.mishaps.remove(index).1,
        });
        (state.to.filter(|_| answers), mishap)
    };
    while holds(state, &path) {
        thread::sleep(Duration::from_millis(20));
    }
    if is_past_caches(&request) && path != WORKER && !passes(state, &path) {
        return phone.shutdown(Shutdown::Both);
    }
    let Some(to) = to else {
        return phone.shutdown(Shutdown::Both);
    };
    let mut server = TcpStream::connect(to)?;
    server.write_all(plainly(&request).as_bytes())?;
    let mut answer = Vec::new();
    server.read_to_end(&mut answer)?;
    phone.write_all(&spoilt(answer, mishap))?;
    phone.shutdown(Shutdown::Both)
}

fn holds(state: &Mutex<State>, path: &str) -> bool {
    let state = look(state);
    !state.over && state.held.iter().any(|held| held == path)
}

fn is_past_caches(request: &str) -> bool {
    let mut lines = request.lines();
    lines.any(|line| line.eq_ignore_ascii_case("cache-control: no-cache"))
}

/// Waits at the gate; whether it opens.
fn passes(state: &Mutex<State>, path: &str) -> bool {
    let is_page = !path.contains('.');
    loop {
        let (gate, over) = {
            let state = look(state);
            (state.gate, state.over)
        };
        match gate {
            Gate::Open => return true,
            Gate::HoldsPages if !is_page => return true,
            Gate::HoldsPages | Gate::HoldsAll if !over => thread::sleep(Duration::from_millis(20)),
            _ => return false,
        }
    }
}

/// The same request, for one uncompressed answer and the end of the connection.
fn plainly(request: &str) -> String {
    let kept = request.lines().filter(|line| {
        let line = line.to_ascii_lowercase();
        !line.is_empty()
            && !line.starts_with("connection:")
            && !line.starts_with("accept-encoding:")
    });
    let head: Vec<&str> = kept.collect();
    format!("{}\r\nconnection: close\r\n\r\n", head.join("\r\n"))
}

fn spoilt(mut answer: Vec<u8>, mishap: Option<Mishap>) -> Vec<u8> {
    let end = answer.windows(4).position(|four| four == b"\r\n\r\n");
    let body = end.map_or(answer.len(), |end| end + 4);
    let half = body.midpoint(answer.len());
    match mishap {
        None => answer,
        Some(Mishap::Lost) => b"HTTP/1.1 404 Not Found\r\ncontent-length: 0\r\n\r\n".to_vec(),
        Some(Mishap::BreaksOff) => {
            answer.truncate(half);
            answer
        }
        Some(Mishap::CutShort) => {
            answer.truncate(half);
            with_length(&answer[..body], &answer[body..])
        }
        Some(Mishap::Replaced(other)) => with_length(&answer[..body], &other),
    }
}

/// An answer whose head tells the length of its body.
fn with_length(head: &[u8], body: &[u8]) -> Vec<u8> {
    let head = String::from_utf8_lossy(head);
    let kept = head.lines().filter(|line| {
        !line.is_empty() && !line.to_ascii_lowercase().starts_with("content-length:")
    });
    let head = kept.collect::<Vec<_>>().join("\r\n");
    let mut answer = format!("{head}\r\ncontent-length: {}\r\n\r\n", body.len()).into_bytes();
    answer.extend_from_slice(body);
    answer
}
