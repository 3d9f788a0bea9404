//! How long readers wait for a page while somebody lays siege to the server. For `tests/siege`; loopback only.
//!
//!     siege ADDRESS PATH KIND SECONDS
//!
//! Eight readers, each with an address of its own, ask for the page again and again over new connections for so
//! many seconds. After the first second, one of these begins: `none`, `idle` (4,300 connections over which nothing
//! is sent), `heads` (as many, each with half a request's head), `bodies` (520 recipes whose end does not come) or
//! `plans` (64 callers who have socks planned one after another). What the server closes is opened again. Prints
//! how many pages came, p50, p99 and the slowest in milliseconds, and how many did not come.

#![allow(clippy::expect_used, reason = "a tool that cannot go on stops")]

use std::env;
use std::net::{Ipv4Addr, SocketAddr};
use std::time::{Duration, Instant};

use evenloop_tests::flood::allow_many_sockets;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpSocket, TcpStream};
use tokio::time::{sleep, timeout};

const READERS: u8 = 8;
/// Between two pages of a reader.
const PAUSE: Duration = Duration::from_millis(20);
/// A page that has not come by then does not count as one.
const PATIENCE: Duration = Duration::from_secs(20);
/// Addresses of the besiegers.
const BESIEGERS: u32 = 43;
const RECIPE: &str =
    r#"{"foot":{"length":2400},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}}"#;

#[tokio::main]
async fn main() {
    allow_many_sockets();
    let arguments: Vec<String> = env::args().skip(1).collect();
    let [address, path, kind, seconds] = arguments.as_slice() else {
        panic!("siege ADDRESS PATH KIND SECONDS");
    };
    let server: SocketAddr = address.parse().expect("an address");
    assert!(server.ip().is_loopback(), "only this machine is besieged");
    let lasting = Duration::from_secs(seconds.parse().expect("a number of seconds"));
    let begin = Instant::now();
    let readers: Vec<_> = (0..READERS)
        .map(|number| tokio::spawn(read(server, path.clone(), number, begin + lasting)))
        .collect();
    sleep(Duration::from_secs(1)).await;
    let besiegers = lay_siege(server, kind);
    let mut times = Vec::new();
    let mut lost = 0;
    for reader in readers {
        let (came, not) = reader.await.expect("a reader does not panic");
        times.extend(came);
        lost += not;
    }
    for besieger in besiegers {
        besieger.abort();
    }
    times.sort_unstable();
    let at = |part: usize| {
        let index = (times.len() * part / 1000).min(times.len().saturating_sub(1));
        times
            .get(index)
            .map_or(f64::NAN, |time| time.as_secs_f64() * 1e3)
    };
    println!(
        "{} {:.1} {:.1} {:.1} {lost}",
        times.len(),
        at(500),
        at(990),
        at(1000)
    );
}

fn lay_siege(server: SocketAddr, kind: &str) -> Vec<tokio::task::JoinHandle<()>> {
    let half = format!(
        "POST /api/plan HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n\
         Content-Length: {}\r\n\r\n{}",
        RECIPE.len(),
        RECIPE.strip_suffix('}').expect("a recipe is an object")
    );
    let (count, said) = match kind {
        "none" => (0, String::new()),
        "idle" => (4_300, String::new()),
        "heads" => (4_300, "GET / HTTP/1.1\r\nHost:".to_owned()),
        "bodies" => (520, half),
        "plans" => {
            return (0..64)
                .map(|from| tokio::spawn(plan(server, from)))
                .collect();
        }
        other => panic!("there is no siege called {other}"),
    };
    (0..count)
        .map(|from| tokio::spawn(hold(server, from, said.clone())))
        .collect()
}

/// An address of this machine.
fn loopback(third: u8, fourth: u32) -> Ipv4Addr {
    Ipv4Addr::new(127, 0, third, u8::try_from(fourth).expect("a small number"))
}

async fn connect(server: SocketAddr, from: Ipv4Addr) -> std::io::Result<TcpStream> {
    let socket = TcpSocket::new_v4()?;
    socket.bind(SocketAddr::from((from, 0)))?;
    socket.connect(server).await
}

/// Asks for a page again and again: how long each took, and how many did not come.
async fn read(
    server: SocketAddr,
    path: String,
    number: u8,
    end: Instant,
) -> (Vec<Duration>, usize) {
    let ask = format!(
        "GET {path} HTTP/1.1\r\nHost: x\r\nAccept-Encoding: gzip\r\nConnection: close\r\n\r\n"
    );
    let from = loopback(7, u32::from(number) + 1);
    let (mut came, mut lost) = (Vec::new(), 0);
    while Instant::now() < end {
        let begin = Instant::now();
        let page = async {
            let mut stream = connect(server, from).await?;
            stream.write_all(ask.as_bytes()).await?;
            let mut answer = Vec::new();
            stream.read_to_end(&mut answer).await?;
            Ok::<_, std::io::Error>(answer.starts_with(b"HTTP/1.1 200 "))
        };
        match timeout(PATIENCE, page).await {
            Ok(Ok(true)) => came.push(begin.elapsed()),
            _ => lost += 1,
        }
        sleep(PAUSE).await;
    }
    (came, lost)
}

/// Holds a connection over which this much is said and no more, and another when that is closed.
async fn hold(server: SocketAddr, from: u32, said: String) {
    let from = loopback(8, from % BESIEGERS + 1);
    loop {
        if let Ok(mut stream) = connect(server, from).await
            && stream.write_all(said.as_bytes()).await.is_ok()
        {
            // Whatever is answered, until the end.
            let mut answer = [0; 1024];
            while matches!(stream.read(&mut answer).await, Ok(read) if read > 0) {}
        }
        sleep(Duration::from_millis(100)).await;
    }
}

/// Has one sock after another planned, and takes each plan.
async fn plan(server: SocketAddr, from: u32) {
    let from = loopback(8, from % BESIEGERS + 1);
    let ask = format!(
        "POST /api/plan HTTP/1.1\r\nHost: x\r\nAccept-Encoding: br\r\nConnection: close\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{RECIPE}",
        RECIPE.len()
    );
    loop {
        if let Ok(mut stream) = connect(server, from).await
            && stream.write_all(ask.as_bytes()).await.is_ok()
        {
            let _ = stream.read_to_end(&mut Vec::new()).await;
        }
    }
}
