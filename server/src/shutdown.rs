//! The signals that ask the server to stop.

use std::future::Future;
use std::io;

use tokio::signal::unix::{SignalKind, signal};

/// A future that completes on Ctrl-C or SIGTERM, whichever comes first.
///
/// # Errors
/// When the system refuses to hand over the signals.
pub fn requested() -> io::Result<impl Future<Output = ()> + Send + 'static> {
    let mut interrupt = signal(SignalKind::interrupt())?;
    let mut terminate = signal(SignalKind::terminate())?;
    Ok(async move {
        tokio::select! {
            _ = interrupt.recv() => {}
            _ = terminate.recv() => {}
        }
    })
}
