//! What the system may ask of the server while it runs.

use std::future::Future;
use std::io;

use tokio::signal::unix::{Signal, SignalKind, signal};

/// A future that completes on Ctrl-C or SIGTERM, whichever comes first.
///
/// # Errors
/// When the system refuses to hand over the signals.
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

/// SIGHUP, by which a service manager asks to read settings anew: here the certificate.
///
/// # Errors
/// When the system refuses to hand over the signal.
pub fn renewal() -> io::Result<Signal> {
    signal(SignalKind::hangup())
}
