//! Many callers at once, more than the server is willing to serve.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::time::Duration;

use rustix::process::{Resource, getrlimit, setrlimit};

/// Callers who all ask for a plan at the same moment. The server has turns for half of them.
const CALLERS: usize = 1_000;

/// Lets this process hold more sockets than it may have at first.
pub fn allow_many_sockets() {
    let mut limit = getrlimit(Resource::Nofile);
    limit.current = limit.maximum;
    setrlimit(Resource::Nofile, limit).expect("a limit can be raised to its most");
}

/// A connection that is waited on for half a minute at most.
pub fn connect(address: SocketAddr) -> TcpStream {
    let stream = TcpStream::connect(address).expect("the server listens");
    let patience = Some(Duration::from_secs(30));
    stream
        .set_read_timeout(patience)
        .expect("sockets have timeouts");
    stream
}

/// A connection over which a request was begun that plans this recipe. What is missing is the last byte,
/// which is any `}`.
pub fn begin_planning(address: SocketAddr, recipe: &str) -> TcpStream {
    let begun = recipe.strip_suffix('}').expect("a recipe is an object");
    let mut caller = connect(address);
    let request = format!(
        "POST /api/plan HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{begun}",
        recipe.len()
    );
    caller
        .write_all(request.as_bytes())
        .expect("the server reads");
    caller
}

/// What comes back until the connection ends.
pub fn read_all(mut caller: TcpStream) -> String {
    let mut answer = Vec::new();
    // What was said before the connection broke counts.
    let _ = caller.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

/// Has very many callers ask for the same plan at the same moment, and then some ask for something else,
/// while the server is at work on the plans. What the former were answered, and what the latter.
pub fn overload(address: SocketAddr, recipe: &str, others: &[&str]) -> (Vec<String>, Vec<String>) {
    allow_many_sockets();
    let mut asking: Vec<_> = others.iter().map(|_| connect(address)).collect();
    let mut planning: Vec<_> = (0..CALLERS)
        .map(|_| begin_planning(address, recipe))
        .collect();
    // Until the server has read all of it.
    std::thread::sleep(Duration::from_millis(200));
    for caller in &mut planning {
        caller.write_all(b"}").expect("the server reads");
    }
    for (caller, request) in asking.iter_mut().zip(others) {
        caller
            .write_all(request.as_bytes())
            .expect("the server reads");
    }
    let answers = |callers: Vec<_>| callers.into_iter().map(read_all).collect();
    (answers(planning), answers(asking))
}
