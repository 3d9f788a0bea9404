//! Why the command stopped: one type for every failure, so that no part of the server has to import
//! another for its errors. Each message is a sentence for the person at the terminal.
//!
//! Uses nothing of the other rooms. What a caller over HTTP is told is `http::problem`'s business.

use std::io;
use std::net::SocketAddr;
use std::path::PathBuf;

use tokio_rustls::rustls;
use tokio_rustls::rustls::pki_types::pem;

/// Why the command stopped.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// An unknown sub-command.
    #[error("There is no command \"{0}\". Try evenloop-server --help.")]
    UnknownCommand(String),
    /// `pack` without four folders, with or without `plain` behind them.
    #[error("Usage: evenloop-server pack FRONT STYLE PUBLIC SITE [plain]")]
    PackUsage,
    /// `export` without exactly one folder to write to.
    #[error("Say where to: evenloop-server export [--base PATH] FOLDER")]
    ExportUsage,
    /// `bundle` without exactly one file to write.
    #[error("Say where to: evenloop-server bundle FILE")]
    BundleUsage,

    /// An address to listen on that cannot be parsed.
    #[error(
        "{name} is \"{value}\", which is no address. Write it as IP:PORT, for example 127.0.0.1:3000."
    )]
    InvalidAddress {
        /// The environment variable.
        name: &'static str,
        /// Its value.
        value: String,
    },
    /// A setting that is neither yes nor no.
    #[error("{name} is \"{value}\". Write yes or no.")]
    NeitherYesNorNo {
        /// The environment variable.
        name: &'static str,
        /// Its value.
        value: String,
    },
    /// A setting that is no count.
    #[error("{name} is \"{value}\". Write a number, 1 or more.")]
    NoCount {
        /// The environment variable.
        name: &'static str,
        /// Its value.
        value: String,
    },
    /// A base path that cannot stand in an address.
    #[error(
        "\"{0}\" is no base. Write a path such as /socks/, of letters, digits, - and _ (EVENLOOP_BASE, --base)."
    )]
    InvalidBase(String),
    /// A log filter that cannot be parsed.
    #[error("EVENLOOP_LOG is \"{0}\", which is no filter. Use error, warn, info, debug or trace.")]
    InvalidLogFilter(String),
    /// A log format that is neither text nor json.
    #[error("EVENLOOP_LOG_FORMAT is \"{0}\". Use text or json.")]
    InvalidLogFormat(String),

    /// Of certificate and key only the first was named.
    #[error("{0} is set, {1} is not. TLS needs both.")]
    IncompleteTls(&'static str, &'static str),
    /// A certificate or key file that cannot be read.
    #[error("{path} cannot be used for TLS: {source}.")]
    TlsFile {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        source: pem::Error,
    },
    /// A certificate file without a certificate.
    #[error("{0} holds no certificate. It should begin with -----BEGIN CERTIFICATE-----.")]
    NoCertificate(PathBuf),
    /// A certificate and a key that do not work, or not together.
    #[error("{} and {} do not make TLS: {source}.", .certificate.display(), .key.display())]
    CertificateAndKey {
        /// The certificate file.
        certificate: PathBuf,
        /// The key file.
        key: PathBuf,
        /// What is wrong with them.
        source: rustls::Error,
    },

    /// There is no packed site.
    #[error("There is no packed site in {0}. Run server/start --build first.")]
    SiteMissing(PathBuf),
    /// The packed site cannot be read.
    #[error("The site in {path} cannot be read: {source}. Run server/start --build again.")]
    SiteUnreadable {
        /// The folder, or the executable that carries the site.
        path: PathBuf,
        /// What went wrong.
        source: io::Error,
    },
    /// This server renders other pages than those the site was packed with.
    #[error(
        "The site in {0} was packed by another build of this server. Run server/start --build again."
    )]
    SiteOfAnotherBuild(PathBuf),

    /// A template lacks a placeholder that packing has to replace.
    #[error("{file} does not mention {placeholder}, which packing has to replace.")]
    MissingPlaceholder {
        /// The template.
        file: &'static str,
        /// What is missing.
        placeholder: &'static str,
    },
    /// A folder to export to that is not empty.
    #[error(
        "{0} is not empty. Choose a new folder, so that nothing of an older site stays behind."
    )]
    NotEmpty(PathBuf),

    /// Another process listens on the address.
    #[error(
        "Another program already listens on {0}. Stop it, or choose another address with EVENLOOP_ADDR."
    )]
    AddressInUse(SocketAddr),
    /// The address cannot be listened on for another reason.
    #[error("Cannot listen on {address}: {source}. Choose another address with EVENLOOP_ADDR.")]
    Listen {
        /// The address.
        address: SocketAddr,
        /// What the system said.
        source: io::Error,
    },
    /// The system refused threads, signal handlers or the like.
    #[error("The system refused what a server needs: {0}.")]
    System(#[from] io::Error),
    /// A file or folder cannot be read or written.
    #[error("Cannot use {path}: {source}.")]
    File {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

/// The [`Error::File`] of a path, for use with `map_err`.
pub(crate) fn file_error(path: impl Into<PathBuf>) -> impl FnOnce(io::Error) -> Error {
    let path = path.into();
    |source| Error::File { path, source }
}
