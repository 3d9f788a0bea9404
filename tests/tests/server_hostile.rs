//! The server among callers who mean it no good, and the server asked to stop while everybody talks.
//! It never fails (no 5xx but the refusal of one plan too many), its memory does not grow, and a stop
//! loses no answer.
//!
//! `EVENLOOP_REQUESTS` and `EVENLOOP_STOPS` ask for more than the usual few.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::io::{ErrorKind, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use evenloop_tests::flood::{allow_many_sockets, begin_planning, connect, read_all};
use evenloop_tests::server::Server;
use tokio::net::TcpSocket;

const RECIPE: &str = r#"{"foot":{"length":2400},
    "swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}}"#;

fn setting(name: &str, usual: usize) -> usize {
    let set = std::env::var(name).ok();
    set.and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// Sends bytes, ends the sentence, and reads whatever comes back.
fn say(address: SocketAddr, bytes: &[u8]) -> Vec<u8> {
    let mut stream = connect(address);
    // A server may close at once on nonsense; what it said before counts.
    let _ = stream.write_all(bytes);
    let _ = stream.shutdown(std::net::Shutdown::Write);
    let mut answer = Vec::new();
    let _ = stream.read_to_end(&mut answer);
    answer
}

/// The status of an answer; `None` where the caller was only hung up on.
fn status(answer: &[u8]) -> Option<u16> {
    let line = answer.split(|byte| *byte == b'\r').next()?;
    let line = std::str::from_utf8(line).ok()?;
    line.strip_prefix("HTTP/1.")?.get(2..5)?.parse().ok()
}

fn get(address: SocketAddr, path: &str) -> Option<u16> {
    let request = format!("GET {path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n");
    status(&ask(address, request.as_bytes()))
}

/// Sends a request that asks for the connection to be closed, and reads the answer.
fn ask(address: SocketAddr, request: &[u8]) -> Vec<u8> {
    let mut stream = connect(address);
    stream.write_all(request).expect("the server reads");
    let mut answer = Vec::new();
    stream
        .read_to_end(&mut answer)
        .expect("the answer is whole");
    answer
}

fn planning(body: &[u8]) -> Vec<u8> {
    let head = format!(
        "POST /api/plan HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n\
         Content-Length: {}\r\n\r\n",
        body.len()
    );
    [head.as_bytes(), body].concat()
}

/// A request, and the statuses it may be answered with; the connection may also just be closed.
type Nasty = (Vec<u8>, &'static [u16]);

/// Lines as HTTP ends them.
fn lines(text: &str) -> Vec<u8> {
    text.replace('\n', "\r\n").into_bytes()
}

/// Requests that no honest program sends.
fn nasty() -> Vec<Nasty> {
    [nasty_targets(), nasty_heads(), nasty_bodies()].concat()
}

fn nasty_targets() -> Vec<Nasty> {
    vec![
        (lines("BREW / HTTP/1.1\nHost: x\n\n"), &[405]),
        (lines("TRACE / HTTP/1.1\nHost: x\n\n"), &[405]),
        (
            lines("CONNECT x:443 HTTP/1.1\nHost: x\n\n"),
            &[400, 404, 405],
        ),
        (lines("OPTIONS * HTTP/1.1\nHost: x\n\n"), &[400, 404, 405]),
        (
            lines("GET http://elsewhere/sw.js HTTP/1.1\nHost: x\n\n"),
            &[200],
        ),
        (
            lines("GET /../../../../etc/passwd HTTP/1.1\nHost: x\n\n"),
            &[404],
        ),
        (
            lines("GET /pkg/%2e%2e/%2e%2e/site.json HTTP/1.1\nHost: x\n\n"),
            &[404],
        ),
        (lines("GET /%00 HTTP/1.1\nHost: x\n\n"), &[404]),
        (lines("GET //// HTTP/1.1\nHost: x\n\n"), &[404]),
        (lines("GET \n\n"), &[400]),
        (
            format!("GET /{} HTTP/1.1\r\nHost: x\r\n\r\n", "a/".repeat(10_000)).into(),
            &[404, 414],
        ),
        (
            format!(
                "GET /plan?r={} HTTP/1.1\r\nHost: x\r\n\r\n",
                "1A".repeat(12_000)
            )
            .into(),
            &[200],
        ),
        (
            format!("GET /{} HTTP/1.1\r\nHost: x\r\n\r\n", "a".repeat(70_000)).into(),
            &[414, 431],
        ),
    ]
}

fn nasty_heads() -> Vec<Nasty> {
    let head = |count: usize, line: &str| {
        let lines = line.repeat(count);
        format!("GET / HTTP/1.1\r\nHost: x\r\n{lines}\r\n").into_bytes()
    };
    vec![
        (head(1, &format!("X: {}\r\n", "x".repeat(70_000))), &[431]),
        (head(1_000, "X: y\r\n"), &[431]),
        (head(1, "Host: another\r\n"), &[200, 400]),
        (
            head(1, "Range: bytes=-1,0-,5-2,99999999999999999999-\r\n"),
            &[200],
        ),
        (
            head(1, "If-None-Match: \"\r\nIf-Modified-Since: never\r\n"),
            &[200],
        ),
        (
            head(1, "Accept-Encoding: br;q=,;;,gzip;q=9e9,*;q=-0\r\n"),
            &[200],
        ),
        (head(1, "X: a\r\n folded\r\n"), &[400]),
        (head(1, "X : y\r\n"), &[400]),
        (head(1, "\0: y\r\n"), &[400]),
        (head(1, "Upgrade: h2c\r\nConnection: upgrade\r\n"), &[200]),
        (b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n".to_vec(), &[400, 505]),
    ]
}

/// Bodies whose end is not where it is said to be, or that are no recipes.
fn nasty_bodies() -> Vec<Nasty> {
    let post = "POST /api/plan HTTP/1.1\nHost: x\nContent-Type: application/json\n";
    vec![
        (
            lines(&format!(
                "{post}Content-Length: 5\nContent-Length: 6\n\n{{}}"
            )),
            &[400],
        ),
        (lines(&format!("{post}Content-Length: -1\n\n{{}}")), &[400]),
        (
            lines(&format!(
                "{post}Content-Length: 99999999999999999999\n\n{{}}"
            )),
            &[400, 413],
        ),
        (
            lines(&format!(
                "{post}Content-Length: 50\nTransfer-Encoding: chunked\n\n2\n{{}}\n0\n\n"
            )),
            &[400, 422],
        ),
        (
            lines(&format!(
                "{post}Transfer-Encoding: chunked, identity\n\n2\n{{}}\n0\n\n"
            )),
            &[400],
        ),
        (
            lines(&format!(
                "{post}Transfer-Encoding: chunked\n\nFFFFFFFFFFFFFFFFF\n{{}}\n"
            )),
            &[400],
        ),
        (
            lines(&format!("{post}Transfer-Encoding: chunked\n\nzz\n{{}}\n")),
            &[400],
        ),
        (
            lines(&format!(
                "{post}Transfer-Encoding: chunked\n\n2;{}\n{{}}\n0\n\n",
                "e".repeat(40_000)
            )),
            &[400, 422],
        ),
        (
            lines(&format!(
                "{post}Content-Length: 4\nContent-Encoding: gzip\n\n{{}}{{}}"
            )),
            &[400, 415],
        ),
        (lines(&format!("{post}Content-Length: 100\n\n{{")), &[400]),
        (
            lines(&format!(
                "{post}Expect: 100-continue\nContent-Length: 2\n\n{{}}"
            )),
            &[100, 422],
        ),
        (planning(&[0xff; 100]), &[400]),
        (planning("[".repeat(16_000).as_bytes()), &[400]),
        (
            planning(
                format!(
                    "{{\"foot\":{}1{}}}",
                    "{\"foot\":".repeat(900),
                    "}".repeat(900)
                )
                .as_bytes(),
            ),
            &[400, 422],
        ),
        (
            planning(br#"{"foot":{"length":2400},"foot":{"length":2400}}"#),
            &[422],
        ),
        (planning(RECIPE.as_bytes()), &[200]),
    ]
}

#[test]
fn nastiness_is_answered_and_harms_nobody() {
    let server = Server::start();
    for (request, allowed) in nasty() {
        let answer = say(server.address(), &request);
        let begin = String::from_utf8_lossy(&request[..request.len().min(120)]).into_owned();
        let status = status(&answer);
        let fine = status.is_none_or(|status| allowed.contains(&status));
        assert!(fine, "{begin:?}: {status:?}");
    }
    assert_eq!(get(server.address(), "/healthz"), Some(200));
}

/// Bytes that are always the same (xorshift; shifts by Marsaglia).
struct Noise(u64);

impl Noise {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A request with some of its bytes replaced, left out or said twice.
    fn spoil(&mut self, request: &[u8]) -> Vec<u8> {
        let mut spoilt = request.to_vec();
        for _ in 0..=self.next() % 6 {
            let at = usize::try_from(self.next()).unwrap_or(0) % spoilt.len().max(1);
            let byte = self.next().to_le_bytes()[0];
            match self.next() % 3 {
                0 => spoilt[at] = byte,
                1 => spoilt.insert(at, byte),
                _ => drop(spoilt.remove(at)),
            }
            if spoilt.is_empty() {
                spoilt.push(byte);
            }
        }
        spoilt
    }
}

#[test]
fn thousands_of_spoilt_requests_leave_no_trace() {
    let server = Server::start();
    let requests = nasty();
    let mut noise = Noise(2_463_534_242);
    let mut failed = Vec::new();
    let mut batch = |count: usize| {
        for number in 0..count {
            let (request, _) = &requests[number % requests.len()];
            let request = noise.spoil(request);
            let status = status(&say(server.address(), &request));
            if status.is_some_and(|status| status >= 500) {
                failed.push((status, String::from_utf8_lossy(&request).into_owned()));
            }
        }
    };
    let count = setting("EVENLOOP_REQUESTS", 3_000);
    // What a server once needs, it keeps; only what comes after that is growth.
    batch(count / 3);
    let before = server.memory();
    batch(count);
    let after = server.memory();
    println!("{count} spoilt requests: {before} KiB before, {after} KiB after");
    // 505 is the answer to a version of HTTP that is not supported.
    failed.retain(|(status, _)| *status != Some(505));
    assert!(failed.is_empty(), "{failed:#?}");
    assert!(
        after < before + 4 * 1024,
        "{before} KiB grew to {after} KiB"
    );
    assert_eq!(get(server.address(), "/healthz"), Some(200));
}

#[test]
fn many_silent_and_slow_callers_keep_nobody_waiting() {
    allow_many_sockets();
    let server = Server::start();
    let address = server.address();
    let page = ask(
        address,
        b"GET / HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n",
    );
    let page = String::from_utf8_lossy(&page).into_owned();
    let wasm = page
        .split('"')
        .find(|part| part.contains("/evenloop_bg."))
        .expect("a page names the app");
    let before = server.memory();
    let mut callers: Vec<TcpStream> = (0..1_500).map(|_| connect(address)).collect();
    // Some begin to ask, some ask for the largest file and do not take it.
    for caller in callers.iter_mut().skip(1_000) {
        caller
            .write_all(b"GET / HTTP/1.1\r\nHost:")
            .expect("the server reads");
    }
    let large = format!("GET {wasm} HTTP/1.1\r\nHost: x\r\n\r\n");
    for caller in callers.iter_mut().take(200) {
        caller
            .write_all(large.as_bytes())
            .expect("the server reads");
    }
    let begin = Instant::now();
    for path in ["/healthz", "/now", "/sw.js"] {
        assert_eq!(get(address, path), Some(200), "{path}");
    }
    let plan = String::from_utf8(planning(RECIPE.as_bytes())).expect("it is text");
    let plan = plan.replacen("\r\n", "\r\nConnection: close\r\n", 1);
    let plan = ask(address, plan.as_bytes());
    assert_eq!(status(&plan), Some(200));
    assert!(
        begin.elapsed() < Duration::from_secs(5),
        "{:?}",
        begin.elapsed()
    );
    let held = server.memory();
    println!("1,500 held open: {before} KiB before, {held} KiB meanwhile");
    assert!(held < before + 96 * 1024, "{before} KiB grew to {held} KiB");
    drop(callers);
    assert_eq!(get(address, "/healthz"), Some(200));
}

/// How long the slowest of so many pages takes, each over a connection of its own.
fn slowest_page(address: SocketAddr, pages: usize) -> Duration {
    let page = |_| {
        let begin = Instant::now();
        assert_eq!(get(address, "/now"), Some(200));
        begin.elapsed()
    };
    (0..pages).map(page).max().unwrap_or_default()
}

#[test]
fn more_idle_connections_than_there_are_places_keep_nobody_waiting() {
    allow_many_sockets();
    let server = Server::start();
    let address = server.address();
    let begin = Instant::now();
    // Many open them at once: a single one would wait whenever the system loses a packet.
    let mut idle: Vec<_> = thread::scope(|scope| {
        let open = || (0..100).map(|_| connect(address)).collect::<Vec<_>>();
        let opening: Vec<_> = (0..43).map(|_| scope.spawn(open)).collect();
        let opened = opening.into_iter().map(thread::ScopedJoinHandle::join);
        opened
            .flat_map(|sockets| sockets.expect("nobody panics"))
            .collect()
    });
    // Where there are no places the last of them wait.
    let opened = begin.elapsed();
    let slowest = slowest_page(address, 50);
    println!("4,300 idle connections in {opened:?}: the slowest page took {slowest:?}");
    assert!(opened < Duration::from_secs(5), "{opened:?}");
    assert!(slowest < Duration::from_secs(3), "{slowest:?}");
    // Some that had been idle the longest made way; the others may still ask.
    let mut closed = 0;
    for socket in &mut idle {
        socket.set_nonblocking(true).expect("sockets need not wait");
        closed += usize::from(matches!(socket.read(&mut [0]), Ok(0)));
    }
    println!("{closed} were shed");
    assert!((200..2_000).contains(&closed), "{closed}");
}

/// Half a request never comes to an end of its own; while it was waited for a second, each place served one
/// caller a second.
#[test]
fn half_requests_make_way_at_once() {
    let server = Server::start_packed(&[("EVENLOOP_CONNECTIONS", "64")]);
    let address = server.address();
    let half = || {
        let mut caller = connect(address);
        caller
            .write_all(b"GET / HTTP/1.1\r\nHost:")
            .expect("the system takes it");
        caller
    };
    let besiegers: Vec<_> = (0..300).map(|_| half()).collect();
    let slowest = slowest_page(address, 10);
    println!("300 halves, 64 places: the slowest page took {slowest:?}");
    assert!(slowest < Duration::from_secs(10), "{slowest:?}");
    drop(besiegers);
}

#[test]
fn a_request_under_way_is_not_shed_for_those_who_only_connect() {
    let server = Server::start_packed(&[("EVENLOOP_CONNECTIONS", "64")]);
    let address = server.address();
    let mut planning = begin_planning(address, RECIPE);
    // Until the server has read it.
    thread::sleep(Duration::from_millis(200));
    let idle: Vec<_> = (0..300).map(|_| connect(address)).collect();
    let slowest = slowest_page(address, 10);
    assert!(slowest < Duration::from_secs(1), "{slowest:?}");
    planning.write_all(b"}").expect("the server reads");
    assert!(read_all(planning).starts_with("HTTP/1.1 200 "));
    drop(idle);
}

/// The status of a page for a caller from this address of this machine.
async fn page_for(from: [u8; 4], server: SocketAddr) -> Option<u16> {
    use tokio::io::{AsyncReadExt, AsyncWriteExt};
    let socket = TcpSocket::new_v4().expect("there are sockets");
    let from = SocketAddr::from((from, 0));
    socket.bind(from).expect("it is this machine's");
    let mut stream = socket.connect(server).await.expect("the server listens");
    let ask = b"GET /now HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n";
    // Whom it does not want it may hang up on at once.
    let _ = stream.write_all(ask).await;
    let mut answer = Vec::new();
    let _ = stream.read_to_end(&mut answer).await;
    status(&answer)
}

#[tokio::test]
async fn one_address_has_its_share_of_connections_and_no_more() {
    let limit = 8;
    let server = Server::start_packed(&[("EVENLOOP_CONNECTIONS_PER_ADDRESS", &limit.to_string())]);
    let address = server.address();
    let home = [127, 0, 0, 1];
    let idle: Vec<_> = (0..limit).map(|_| connect(address)).collect();
    // Its own idle connections make way.
    assert_eq!(page_for(home, address).await, Some(200));
    drop(idle);
    let mut planning = vec![begin_planning(address, RECIPE)];
    // Until the server has read it, so that it has clearly waited the longest.
    tokio::time::sleep(Duration::from_millis(500)).await;
    planning.extend((1..limit).map(|_| begin_planning(address, RECIPE)));
    tokio::time::sleep(Duration::from_millis(500)).await;
    // Then the one whose recipe has not arrived for the longest does. A neighbour's does not.
    assert_eq!(page_for([127, 0, 0, 2], address).await, Some(200));
    assert_eq!(page_for(home, address).await, Some(200));
    assert_eq!(read_all(planning.remove(0)), "");
    for mut caller in planning {
        caller.write_all(b"}").expect("the server reads");
        assert_eq!(status(read_all(caller).as_bytes()), Some(200));
    }
}

/// What became of the requests of one stop.
#[derive(Default)]
struct Tally {
    answered: AtomicUsize,
    lost: AtomicUsize,
}

/// Reads one answer; whether it is whole, and whether it is the last one on this connection.
fn read_answer(stream: &mut TcpStream) -> Option<bool> {
    let mut answer = Vec::new();
    let mut chunk = [0; 16 * 1024];
    loop {
        if let Some(head) = answer.windows(4).position(|window| window == b"\r\n\r\n") {
            let text = String::from_utf8_lossy(&answer[..head]).to_lowercase();
            let field = |name: &str| text.lines().find_map(|line| line.strip_prefix(name));
            let length: usize = field("content-length: ")?.parse().ok()?;
            if answer.len() >= head + 4 + length {
                return Some(field("connection: ") == Some("close"));
            }
        }
        match stream.read(&mut chunk) {
            Ok(0) | Err(_) => return None,
            Ok(read) => answer.extend_from_slice(&chunk[..read]),
        }
    }
}

/// Sends requests without a pause until the server is gone.
fn keep_asking(address: SocketAddr, request: &[u8], tally: &Tally) {
    loop {
        let mut stream = match TcpStream::connect(address) {
            Ok(stream) => stream,
            Err(error) if error.kind() == ErrorKind::ConnectionRefused => return,
            Err(error) => panic!("{error}"),
        };
        loop {
            let asked = stream.write_all(request);
            let Some(last) = asked.ok().and_then(|()| read_answer(&mut stream)) else {
                tally.lost.fetch_add(1, Ordering::Relaxed);
                break;
            };
            tally.answered.fetch_add(1, Ordering::Relaxed);
            if last {
                break;
            }
        }
    }
}

#[test]
fn a_stop_under_load_loses_nothing() {
    let stops = setting("EVENLOOP_STOPS", 3);
    let tally = Tally::default();
    let requests = [
        b"GET /now HTTP/1.1\r\nHost: x\r\n\r\n".to_vec(),
        b"GET /sw.js HTTP/1.1\r\nHost: x\r\n\r\n".to_vec(),
        planning(RECIPE.as_bytes()),
    ];
    for _ in 0..stops {
        let mut server = Server::start();
        let address = server.address();
        thread::scope(|scope| {
            for number in 0..48 {
                let (request, tally) = (&requests[number % requests.len()], &tally);
                scope.spawn(move || keep_asking(address, request, tally));
            }
            thread::sleep(Duration::from_millis(400));
            server.ask_to_stop();
            let end = server.wait(Duration::from_secs(10)).expect("it ends");
            assert!(end.success(), "{end}");
        });
    }
    let (answered, lost) = (tally.answered.into_inner(), tally.lost.into_inner());
    println!("{stops} stops, 48 callers: {answered} answered, {lost} lost");
    assert!(answered > stops * 200, "{answered}");
    assert_eq!(lost, 0, "of {answered}");
}
