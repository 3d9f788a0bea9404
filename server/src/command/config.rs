//! The operator's settings, read from environment variables.

use std::net::SocketAddr;
use std::num::NonZeroU32;
use std::path::PathBuf;

use evenloop_app::base::Base;

use crate::error::Error;
use crate::http::open_connections::PerAddressLimit;
use crate::http::tls::TlsFiles;

const ADDRESS: &str = "EVENLOOP_ADDR";
const SITE: &str = "EVENLOOP_SITE";
const BASE: &str = "EVENLOOP_BASE";
const RETIRE: &str = "EVENLOOP_RETIRE";
const URL: &str = "EVENLOOP_URL";
const TLS_CERTIFICATE: &str = "EVENLOOP_TLS_CERT";
const TLS_KEY: &str = "EVENLOOP_TLS_KEY";
const CONNECTIONS: &str = "EVENLOOP_CONNECTIONS";
const PROCESSORS: &str = "EVENLOOP_PROCESSORS";
const CONNECTIONS_PER_ADDRESS: &str = "EVENLOOP_CONNECTIONS_PER_ADDRESS";

/// Open connections at once.
const DEFAULT_CONNECTIONS: NonZeroU32 = NonZeroU32::new(4096).unwrap();
/// Open connections of one address. A browser opens six at most, and many people may share an address.
const DEFAULT_CONNECTIONS_PER_ADDRESS: NonZeroU32 = NonZeroU32::new(256).unwrap();

/// The server's settings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Config {
    /// The address to listen on. Port 0 takes any free port.
    pub address: SocketAddr,
    /// The folder that `pack` wrote, if one is set.
    pub site: Option<PathBuf>,
    /// The path below which everything is served.
    pub base: Base,
    /// The public address, where it differs from the one listened on: a proxy's, or a domain name.
    pub url: Option<String>,
    /// Certificate and key; without them the server speaks plain HTTP.
    pub tls: Option<TlsFiles>,
    /// Open connections at once, as far as the system allows so many.
    pub connections: NonZeroU32,
    /// How many of them one address may have.
    pub connections_per_address: PerAddressLimit,
    /// How many processors to use; as many as the system allows where it is not said.
    pub processors: Option<NonZeroU32>,
    /// Whether to serve a service worker that unregisters itself and removes what it stored.
    pub retire: bool,
}

impl Config {
    /// Reads the settings from the process environment.
    ///
    /// # Errors
    /// When a value cannot be understood; the message names the variable.
    pub fn from_env() -> Result<Self, Error> {
        Self::from_lookup(|name| std::env::var_os(name).map(|value| value.to_string_lossy().into()))
    }

    fn from_lookup(lookup: impl Fn(&str) -> Option<String>) -> Result<Self, Error> {
        let address = lookup(ADDRESS).unwrap_or_else(|| "127.0.0.1:3000".to_owned());
        let address = address.parse().map_err(|_| Error::InvalidAddress {
            name: ADDRESS,
            value: address,
        })?;
        let tls = match (lookup(TLS_CERTIFICATE), lookup(TLS_KEY)) {
            (Some(certificate), Some(key)) => Some(TlsFiles {
                certificate: certificate.into(),
                key: key.into(),
            }),
            (None, None) => None,
            (Some(_), None) => return Err(Error::IncompleteTls(TLS_CERTIFICATE, TLS_KEY)),
            (None, Some(_)) => return Err(Error::IncompleteTls(TLS_KEY, TLS_CERTIFICATE)),
        };
        let retire = match lookup(RETIRE).as_deref() {
            None | Some("" | "no") => false,
            Some("yes") => true,
            Some(other) => {
                return Err(Error::NeitherYesNorNo {
                    name: RETIRE,
                    value: other.to_owned(),
                });
            }
        };
        let connections = match lookup(CONNECTIONS) {
            None => DEFAULT_CONNECTIONS,
            Some(value) => count(CONNECTIONS, value)?,
        };
        let connections_per_address = match lookup(CONNECTIONS_PER_ADDRESS) {
            None => PerAddressLimit::Remote(DEFAULT_CONNECTIONS_PER_ADDRESS),
            Some(value) if value == "unlimited" => PerAddressLimit::Unlimited,
            Some(value) => PerAddressLimit::Every(count(CONNECTIONS_PER_ADDRESS, value)?),
        };
        let processors = lookup(PROCESSORS).map(|value| count(PROCESSORS, value));
        let processors = processors.transpose()?;
        let base = lookup(BASE).unwrap_or_default();
        let base = base.parse().map_err(|_| Error::InvalidBase(base))?;
        Ok(Self {
            address,
            base,
            site: lookup(SITE).map(PathBuf::from),
            url: lookup(URL),
            tls,
            connections,
            connections_per_address,
            processors,
            retire,
        })
    }
}

fn count(name: &'static str, value: String) -> Result<NonZeroU32, Error> {
    value.parse().map_err(|_| Error::NoCount { name, value })
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
                site: None,
                base: Base::default(),
                url: None,
                tls: None,
                connections: DEFAULT_CONNECTIONS,
                connections_per_address: PerAddressLimit::Remote(DEFAULT_CONNECTIONS_PER_ADDRESS),
                processors: None,
                retire: false,
            })
        );
    }

    #[test]
    fn only_yes_retires_the_service_workers() {
        let retire =
            |value: &str| Config::from_lookup(|name| (name == RETIRE).then(|| value.to_owned()));
        assert!(retire("yes").is_ok_and(|config| config.retire));
        assert!(retire("no").is_ok_and(|config| !config.retire));
        let message = retire("ja").err().map(|error| error.to_string());
        let message = message.unwrap_or_default();
        assert!(
            message.contains(RETIRE) && message.contains("\"ja\""),
            "{message}"
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

    #[test]
    fn a_base_is_a_path() {
        let set = |value: &'static str| {
            Config::from_lookup(move |name| (name == BASE).then(|| value.to_owned()))
        };
        let base = set("/socks/").map(|config| config.base.as_str().to_owned());
        assert_eq!(base.ok().as_deref(), Some("/socks"));
        let message = set("so cks").err().map(|error| error.to_string());
        assert!(message.is_some_and(|message| message.contains("so cks")));
    }

    #[test]
    fn a_certificate_needs_its_key() {
        for name in [TLS_CERTIFICATE, TLS_KEY] {
            let error = Config::from_lookup(|asked| (asked == name).then(|| "a.pem".to_owned()));
            let message = error
                .err()
                .map(|error| error.to_string())
                .unwrap_or_default();
            assert!(
                message.contains(TLS_CERTIFICATE) && message.contains(TLS_KEY),
                "{message}"
            );
        }
    }

    #[test]
    fn the_limits_of_connections_are_counts() {
        let set = |name: &'static str, value: &'static str| {
            Config::from_lookup(move |asked| (asked == name).then(|| value.to_owned()))
        };
        let seven = NonZeroU32::new(7);
        assert_eq!(
            set(CONNECTIONS, "7").ok().map(|config| config.connections),
            seven
        );
        let per_address = |value| {
            set(CONNECTIONS_PER_ADDRESS, value).map(|config| config.connections_per_address)
        };
        assert_eq!(per_address("7").ok(), seven.map(PerAddressLimit::Every));
        assert_eq!(
            per_address("unlimited").ok(),
            Some(PerAddressLimit::Unlimited)
        );
        for (name, value) in [
            (CONNECTIONS, "0"),
            (CONNECTIONS, "unlimited"),
            (CONNECTIONS_PER_ADDRESS, "-1"),
            (CONNECTIONS_PER_ADDRESS, ""),
            (PROCESSORS, "0"),
        ] {
            let message = set(name, value).err().map(|error| error.to_string());
            let message = message.unwrap_or_default();
            assert!(message.contains(name), "{name}={value}: {message}");
        }
    }
}
