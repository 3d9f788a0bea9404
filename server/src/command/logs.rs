//! Structured logs to standard error.

use std::io::IsTerminal;

use tracing_subscriber::EnvFilter;

use crate::error::Error;

/// Starts logging to standard error, as `EVENLOOP_LOG` and `EVENLOOP_LOG_FORMAT` ask.
///
/// # Errors
/// When either variable cannot be understood.
pub fn start() -> Result<(), Error> {
    let filter = std::env::var("EVENLOOP_LOG").unwrap_or_else(|_| "info".to_owned());
    let filter = EnvFilter::try_new(&filter).map_err(|_| Error::InvalidLogFilter(filter))?;
    let format = std::env::var("EVENLOOP_LOG_FORMAT").unwrap_or_else(|_| "text".to_owned());
    let builder = tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_ansi(std::io::stderr().is_terminal())
        .with_writer(std::io::stderr);
    // Fails only where a subscriber is set already, which is no reason not to serve.
    let _ = match format.as_str() {
        "text" => builder.compact().try_init(),
        "json" => builder.json().try_init(),
        _ => return Err(Error::InvalidLogFormat(format)),
    };
    Ok(())
}
