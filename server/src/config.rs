//! What the operator may set, read from the environment.

use std::net::SocketAddr;
use std::path::PathBuf;

use crate::start::StartError;

const ADDRESS: &str = "EVENLOOP_ADDR";
const SITE: &str = "EVENLOOP_SITE";

/// The server's settings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Config {
    /// Where to listen. Port 0 takes any free one.
    pub address: SocketAddr,
    /// The folder that `pack` wrote.
    pub site: PathBuf,
}

impl Config {
    /// Reads the settings from the process environment.
    ///
    /// # Errors
    /// When a value cannot be understood; the message names the variable.
    pub fn from_env() -> Result<Self, StartError> {
        Self::from_lookup(|name| std::env::var_os(name).map(|value| value.to_string_lossy().into()))
    }

    fn from_lookup(lookup: impl Fn(&str) -> Option<String>) -> Result<Self, StartError> {
        let address = lookup(ADDRESS).unwrap_or_else(|| "127.0.0.1:3000".to_owned());
        let address = address.parse().map_err(|_| StartError::Address {
            name: ADDRESS,
            value: address,
        })?;
        let site = lookup(SITE).map_or_else(|| PathBuf::from("target/site"), PathBuf::from);
        Ok(Self { address, site })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn defaults_are_local() {
        let config = Config::from_lookup(|_| None);
        assert_eq!(
            config.ok(),
            Some(Config {
                address: SocketAddr::from(([127, 0, 0, 1], 3000)),
                site: PathBuf::from("target/site"),
            })
        );
    }

    #[test]
    fn a_bad_address_is_named() {
        let error = Config::from_lookup(|name| (name == ADDRESS).then(|| "localhost".to_owned()));
        let message = error
            .err()
            .map(|error| error.to_string())
            .unwrap_or_default();
        assert!(
            message.contains("EVENLOOP_ADDR") && message.contains("localhost"),
            "{message}"
        );
    }
}
