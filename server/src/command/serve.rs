//! From settings to a running server.

use std::io::{self, IsTerminal as _};
use std::net::SocketAddr;

use rustix::process::{Resource, getrlimit, setrlimit};
use tokio::net::TcpListener;
use tokio::runtime;
use tokio::signal::unix::Signal;

use crate::command::address::{self, reachable};
use crate::command::config::Config;
use crate::command::{logs, signals};
use crate::error::Error;
use crate::http::tls::Tls;
use crate::http::{connections, routes};
use crate::site::open::Site;
use crate::site::retire;
use crate::site::source::SiteSource;

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
    raise_open_file_limit();
    let app = routes::router(open_site(config)?)?;
    let tls = config.tls.clone().map(Tls::read).transpose()?;
    runtime::Builder::new_multi_thread()
        .enable_all()
        // Planning and rendering need the processor and never wait: many more at once than there are
        // processors would only take memory.
        .max_blocking_threads(max_blocking_threads())
        .build()?
        .block_on(async {
            let listener = listen(config.address).await?;
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
            connections::serve(listener, tls, app, stop).await;
            Ok(())
        })
}

/// Raises the limit of open files: systems often allow a process 1,024 until it asks for more, and every
/// connection takes one.
fn raise_open_file_limit() {
    let mut limit = getrlimit(Resource::Nofile);
    limit.current = limit.maximum;
    if let Err(error) = setrlimit(Resource::Nofile, limit) {
        tracing::warn!(%error, "no more than the usual number of connections");
    }
}

/// The number of threads that plan and render.
fn max_blocking_threads() -> usize {
    std::thread::available_parallelism().map_or(2, |cores| cores.get() * 2)
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

async fn listen(address: SocketAddr) -> Result<TcpListener, Error> {
    TcpListener::bind(address)
        .await
        .map_err(|source| match source.kind() {
            io::ErrorKind::AddrInUse => Error::AddressInUse(address),
            _ => Error::Listen { address, source },
        })
}
