//! From settings to a running server, and every way that can fail, told kindly.

use std::io::{self, IsTerminal as _};
use std::net::SocketAddr;
use std::path::PathBuf;

use rustix::process::{Resource, getrlimit, setrlimit};
use tokio::net::TcpListener;
use tokio::runtime;

use crate::address::{self, reachable};
use crate::config::Config;
use crate::retire::retiring;
use crate::site::{Site, SiteError};
use crate::source::Source;
use crate::tls::{Tls, TlsError};
use crate::{connections, logs, pack, routes, signals};

/// Why the command stopped. Each message is a sentence for the person at the terminal.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum StartError {
    /// An address that cannot be parsed.
    #[error(
        "{name} is \"{value}\", which is no address. Write it as IP:PORT, for example 127.0.0.1:3000."
    )]
    Address {
        /// The environment variable.
        name: &'static str,
        /// What it held.
        value: String,
    },
    /// A setting that is neither yes nor no.
    #[error("{name} is \"{value}\". Write yes or no.")]
    YesOrNo {
        /// The environment variable.
        name: &'static str,
        /// What it held.
        value: String,
    },
    /// A logging setting that cannot be understood.
    #[error(transparent)]
    Logs(#[from] logs::LogsError),
    /// An unknown sub-command.
    #[error("There is no command \"{0}\". Try evenloop-server --help.")]
    Command(String),
    /// Export was asked for without one folder to write to.
    #[error("Say where to: evenloop-server export [--base PATH] FOLDER")]
    ExportUsage,
    /// Export would mix with what is there.
    #[error(
        "{0} is not empty. Choose a new folder, so that nothing of an older site stays behind."
    )]
    NotEmpty(PathBuf),
    /// A bundle was asked for without one file to write.
    #[error("Say where to: evenloop-server bundle FILE")]
    BundleUsage,
    /// A base that cannot stand in an address.
    #[error(
        "\"{0}\" is no base. Write a path such as /socks/, of letters, digits, - and _ (EVENLOOP_BASE, --base)."
    )]
    Base(String),
    /// Of certificate and key only one was named.
    #[error("{0} is set, {1} is not. TLS needs both.")]
    HalfTls(&'static str, &'static str),
    /// Certificate or key cannot be used.
    #[error(transparent)]
    Tls(#[from] TlsError),
    /// The packed site cannot be used.
    #[error(transparent)]
    Site(#[from] SiteError),
    /// Packing failed.
    #[error(transparent)]
    Pack(#[from] pack::PackError),
    /// Something else listens there already.
    #[error(
        "Another program already listens on {0}. Stop it, or choose another address with EVENLOOP_ADDR."
    )]
    Taken(SocketAddr),
    /// The address cannot be listened on for another reason.
    #[error("Cannot listen on {address}: {source}. Choose another address with EVENLOOP_ADDR.")]
    Listen {
        /// Where.
        address: SocketAddr,
        /// What the system said.
        source: io::Error,
    },
    /// The system refused threads or signal handlers.
    #[error("The system refused what a server needs: {0}.")]
    System(#[from] io::Error),
    /// A file or folder cannot be read or written.
    #[error("Cannot use {path}: {source}.")]
    File {
        /// Which.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

/// The site that the settings choose, with the worker that they choose.
///
/// # Errors
/// When there is none, or it cannot be used.
pub fn site(config: &Config) -> Result<Site, StartError> {
    let site = Site::open(&Source::choose(config.site.clone())?, &config.base)?;
    Ok(if config.retire { retiring(site) } else { site })
}

/// Serves until the process is asked to stop. With `show_code` the address is also drawn in the
/// terminal, for a phone's camera.
///
/// # Errors
/// When the site, the certificate, the address or the system does not allow it.
pub fn serve(config: &Config, show_code: bool) -> Result<(), StartError> {
    logs::start()?;
    allow_many_sockets();
    let site = site(config)?;
    let app = routes::router(site)?;
    let tls = config.tls.clone().map(Tls::read).transpose()?;
    runtime::Builder::new_multi_thread()
        .enable_all()
        // Planning and rendering are all work and no waiting: more of them at once than there are
        // processors would only take memory.
        .max_blocking_threads(planners())
        .build()?
        .block_on(async {
            let listener = listen(config.address).await?;
            let stop = signals::stop()?;
            // Unheard it would end the server, as it should where the terminal that it was started in
            // is closed, but not where a service manager asks for what there is nothing of.
            if tls.is_some() || !io::stdin().is_terminal() {
                tokio::spawn(renew_when_asked(tls.clone(), signals::renewal()?));
            }
            let local = listener.local_addr()?;
            let scheme = if tls.is_some() { "https" } else { "http" };
            // The tests and the start script read this line; a port of 0 is known only now.
            let root = config.base.of("/");
            println!("Evenloop is ready: {scheme}://{local}{root}");
            if show_code {
                let url = config.url.clone();
                say_address(
                    &url.unwrap_or_else(|| format!("{scheme}://{}{root}", reachable(local))),
                );
            }
            connections::serve(listener, tls, app, stop).await;
            Ok(())
        })
}

/// Systems often allow a process 1,024 open files until it asks for more, and every caller takes one.
fn allow_many_sockets() {
    let mut limit = getrlimit(Resource::Nofile);
    limit.current = limit.maximum;
    if let Err(error) = setrlimit(Resource::Nofile, limit) {
        tracing::warn!(%error, "no more than the usual number of connections");
    }
}

/// Threads that plan and render.
fn planners() -> usize {
    std::thread::available_parallelism().map_or(2, |cores| cores.get() * 2)
}

fn say_address(url: &str) {
    match address::code(url) {
        Some(code) => println!("{code}{url}"),
        None => println!("{url} is too long for a code."),
    }
    if url.starts_with("http://") {
        println!(
            "Over http a phone shows Evenloop, but does not keep it for use without a signal."
        );
    }
}

async fn renew_when_asked(tls: Option<Tls>, mut asked: tokio::signal::unix::Signal) {
    while asked.recv().await.is_some() {
        match tls.as_ref().map(Tls::renew) {
            Some(Ok(())) => tracing::info!("read the certificate anew"),
            Some(Err(error)) => tracing::error!(%error, "the certificate stays as it was"),
            None => tracing::info!("there is no certificate to read anew"),
        }
    }
}

async fn listen(address: SocketAddr) -> Result<TcpListener, StartError> {
    TcpListener::bind(address)
        .await
        .map_err(|source| match source.kind() {
            io::ErrorKind::AddrInUse => StartError::Taken(address),
            _ => StartError::Listen { address, source },
        })
}
