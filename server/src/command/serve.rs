//! From settings to a running server.

use std::io::{self, IsTerminal as _};
use std::net::SocketAddr;
use std::num::{NonZero, NonZeroU32};

use rustix::process::{Resource, getrlimit, setrlimit};
use tokio::net::{TcpListener, TcpSocket};
use tokio::runtime;
use tokio::signal::unix::Signal;

use crate::command::address::{self, reachable};
use crate::command::config::Config;
use crate::command::threads::Threads;
use crate::command::{logs, signals};
use crate::error::Error;
use crate::http::open_connections::ConnectionLimits;
use crate::http::tls::Tls;
use crate::http::{connections, routes};
use crate::site::open::Site;
use crate::site::retire;
use crate::site::source::SiteSource;

/// Connections that may wait to be accepted, as far as the system allows so many.
const ACCEPT_QUEUE: u32 = 4096;
/// Open files that are no connections: standard streams, the listener, what the runtime uses, the site and
/// the certificate while they are read.
const OTHER_FILES: u64 = 64;

/// Opens the site that the settings name, with the service worker that they ask for.
///
/// # Errors
/// When there is no site, or it cannot be used.
pub fn open_site(config: &Config) -> Result<Site, Error> {
    let mut site = Site::open(&SiteSource::choose(config.site.clone())?, &config.base)?;
    if config.retire {
        retire::replace_worker(&mut site);
    }
    Ok(site)
}

/// Serves until the process is asked to stop. With `show_qr_code` the address is also drawn
/// in the terminal, for a phone's camera.
///
/// # Errors
/// When the site, the certificate, the address or the system does not allow it.
pub fn serve(config: &Config, show_qr_code: bool) -> Result<(), Error> {
    logs::start()?;
    let limits = ConnectionLimits {
        all: config.connections.min(connections_that_fit()),
        per_address: config.connections_per_address,
    };
    let threads = Threads::on(config.processors.map_or_else(processors, NonZeroU32::get));
    let app = routes::router(open_site(config)?)?;
    let tls = config.tls.clone().map(Tls::read).transpose()?;
    runtime::Builder::new_multi_thread()
        .enable_all()
        .worker_threads(threads.io)
        .max_blocking_threads(threads.work)
        .build()?
        .block_on(async {
            let listener = listen(config.address)?;
            let stop = signals::stop()?;
            // An unhandled SIGHUP ends the process. That is right where the terminal that it was started
            // in is closed, but not where a service manager asks a server without TLS to reload.
            if tls.is_some() || !io::stdin().is_terminal() {
                tokio::spawn(reload_certificate_on(tls.clone(), signals::reload()?));
            }
            let local = listener.local_addr()?;
            let scheme = if tls.is_some() { "https" } else { "http" };
            // The tests and the start script read this line; a port of 0 is known only now.
            let root = config.base.of("/");
            println!("Evenloop is ready: {scheme}://{local}{root}");
            if show_qr_code {
                let url = config.url.clone();
                print_address(
                    &url.unwrap_or_else(|| format!("{scheme}://{}{root}", reachable(local))),
                );
            }
            connections::serve(listener, tls, limits, app, stop).await;
            Ok(())
        })
}

/// Raises the limit of open files, since systems often allow a process 1,024 until it asks for more, and
/// says how many connections it leaves room for.
fn connections_that_fit() -> NonZeroU32 {
    let mut limit = getrlimit(Resource::Nofile);
    let before = limit.current;
    limit.current = limit.maximum;
    let allowed = match setrlimit(Resource::Nofile, limit) {
        Ok(()) => limit.maximum,
        Err(error) => {
            tracing::warn!(%error, "no more than the usual number of connections");
            before
        }
    };
    let fitting = allowed.map_or(u64::from(u32::MAX), |files| {
        files.saturating_sub(OTHER_FILES)
    });
    let fitting = u32::try_from(fitting).unwrap_or(u32::MAX);
    NonZeroU32::new(fitting).unwrap_or(NonZeroU32::MIN)
}

/// The processors that the process may use.
fn processors() -> u32 {
    let allowed = std::thread::available_parallelism().map_or(2, NonZero::get);
    u32::try_from(allowed).unwrap_or(u32::MAX)
}

fn print_address(url: &str) {
    match address::qr_code(url) {
        Some(code) => println!("{code}{url}"),
        None => println!("{url} is too long for a code."),
    }
    if url.starts_with("http://") {
        println!(
            "Over http a phone shows Evenloop, but does not keep it for use without a signal."
        );
    }
}

async fn reload_certificate_on(tls: Option<Tls>, mut reload: Signal) {
    while reload.recv().await.is_some() {
        match tls.as_ref().map(Tls::reload) {
            Some(Ok(())) => tracing::info!("read the certificate anew"),
            Some(Err(error)) => tracing::error!(%error, "the certificate stays as it was"),
            None => tracing::info!("there is no certificate to read anew"),
        }
    }
}

fn listen(address: SocketAddr) -> Result<TcpListener, Error> {
    listener(address).map_err(|source| match source.kind() {
        io::ErrorKind::AddrInUse => Error::AddressInUse(address),
        _ => Error::Listen { address, source },
    })
}

/// As [`TcpListener::bind`] has it, but with room for a burst of callers: who finds none there waits a second
/// or more before calling again.
fn listener(address: SocketAddr) -> io::Result<TcpListener> {
    let socket = match address {
        SocketAddr::V4(_) => TcpSocket::new_v4(),
        SocketAddr::V6(_) => TcpSocket::new_v6(),
    }?;
    // Else a restart would have to wait for the connections of before to be forgotten.
    socket.set_reuseaddr(true)?;
    socket.bind(address)?;
    socket.listen(ACCEPT_QUEUE)
}
