//! From settings to a running server, and every way that can fail, told kindly.

use std::io;
use std::net::SocketAddr;
use std::path::PathBuf;

use tokio::net::TcpListener;
use tokio::runtime;

use crate::config::Config;
use crate::site::{Site, SiteError};
use crate::{connections, logs, pack, routes, shutdown};

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
    /// A logging setting that cannot be understood.
    #[error(transparent)]
    Logs(#[from] logs::LogsError),
    /// An unknown sub-command.
    #[error("There is no command \"{0}\". Try evenloop-server --help.")]
    Command(String),
    /// Export was asked for without one folder to write to.
    #[error("Say where to: evenloop-server export FOLDER")]
    ExportUsage,
    /// Export would mix with what is there.
    #[error(
        "{0} is not empty. Choose a new folder, so that nothing of an older site stays behind."
    )]
    NotEmpty(PathBuf),
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

/// Serves until the process is asked to stop.
///
/// # Errors
/// When the site, the address or the system does not allow it.
pub fn serve(config: &Config) -> Result<(), StartError> {
    logs::start()?;
    let site = Site::open(&config.site)?;
    let app = routes::router(site);
    runtime::Builder::new_multi_thread()
        .enable_all()
        .build()?
        .block_on(async {
            let listener = listen(config.address).await?;
            let stop = shutdown::requested()?;
            // The tests and the start script read this line; a port of 0 is known only now.
            println!("Evenloop is ready: http://{}", listener.local_addr()?);
            connections::serve(listener, app, stop).await;
            Ok(())
        })
}

async fn listen(address: SocketAddr) -> Result<TcpListener, StartError> {
    TcpListener::bind(address)
        .await
        .map_err(|source| match source.kind() {
            io::ErrorKind::AddrInUse => StartError::Taken(address),
            _ => StartError::Listen { address, source },
        })
}
