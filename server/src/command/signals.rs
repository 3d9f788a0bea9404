//! The signals that the server obeys while it runs.

use std::future::Future;
use std::io;

use tokio::signal::unix::{Signal, SignalKind, signal};

/// A future that completes on Ctrl-C or SIGTERM, whichever comes first.
///
/// # Errors
/// When the system refuses to register the handlers.
pub fn stop() -> io::Result<impl Future<Output = ()> + Send + 'static> {
    let mut interrupt = signal(SignalKind::interrupt())?;
    let mut terminate = signal(SignalKind::terminate())?;
    Ok(async move {
        tokio::select! {
            _ = interrupt.recv() => {}
            _ = terminate.recv() => {}
        }
    })
}

/// SIGHUP, by which a service manager asks a server to reload; this one reloads its certificate.
///
/// # Errors
/// When the system refuses to register the handler.
pub fn reload() -> io::Result<Signal> {
    signal(SignalKind::hangup())
}
