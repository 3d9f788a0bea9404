//! TLS with the operator's own certificate, read anew when the operator says so (a certificate is
//! renewed every few weeks; a server need not stop for that).

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};

use tokio::io::{AsyncRead, AsyncWrite};
use tokio::net::TcpStream;
use tokio_rustls::rustls::crypto::ring;
use tokio_rustls::rustls::pki_types::pem::PemObject;
use tokio_rustls::rustls::pki_types::{CertificateDer, PrivateKeyDer};
use tokio_rustls::rustls::{self, ServerConfig};
use tokio_rustls::server::TlsStream;
use tokio_rustls::{TlsAcceptor, rustls::pki_types::pem};

/// What both sides may agree on, the better first.
const PROTOCOLS: [&[u8]; 2] = [HTTP_2, b"http/1.1"];
const HTTP_2: &[u8] = b"h2";
/// Every TLS connection begins with this byte: a handshake record (RFC 8446, 5.1).
const HANDSHAKE: u8 = 22;

/// Said to those who speak plain HTTP here. It names no address: the one that was asked for is only
/// known from the request, which is not to be trusted.
pub(crate) const PLAIN_REFUSED: &[u8] = b"HTTP/1.1 400 Bad Request\r\n\
    content-type: text/plain; charset=utf-8\r\n\
    content-length: 53\r\n\
    x-content-type-options: nosniff\r\n\
    cache-control: no-store\r\n\
    connection: close\r\n\r\n\
    Please write https:// in front of this site's address";

/// Where certificate and key are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Files {
    /// The certificate and those between it and the authority, PEM.
    pub certificate: PathBuf,
    /// Its private key, PEM.
    pub key: PathBuf,
}

/// Why there is no TLS.
#[derive(Debug, thiserror::Error)]
pub enum TlsError {
    /// A file cannot be used.
    #[error("{path} cannot be used for TLS: {source}.")]
    File {
        /// Which.
        path: PathBuf,
        /// What is wrong with it.
        source: pem::Error,
    },
    /// No certificate in the file.
    #[error("{0} holds no certificate. It should begin with -----BEGIN CERTIFICATE-----.")]
    Empty(PathBuf),
    /// The two do not work, or not together.
    #[error("{} and {} do not make TLS: {source}.", .files.certificate.display(), .files.key.display())]
    Pair {
        /// Which.
        files: Files,
        /// What is wrong.
        source: rustls::Error,
    },
}

/// TLS, ready to be spoken. Copies share one certificate.
#[derive(Clone)]
pub struct Tls {
    files: Arc<Files>,
    now: Arc<RwLock<TlsAcceptor>>,
}

impl fmt::Debug for Tls {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Tls")
            .field("files", &self.files)
            .finish_non_exhaustive()
    }
}

impl Tls {
    /// Reads certificate and key.
    ///
    /// # Errors
    /// When they cannot be read or do not belong together.
    pub fn read(files: Files) -> Result<Self, TlsError> {
        let acceptor = acceptor(&files)?;
        Ok(Self {
            files: Arc::new(files),
            now: Arc::new(RwLock::new(acceptor)),
        })
    }

    /// Reads both files again, for connections from now on. Where that fails, those before stay.
    ///
    /// # Errors
    /// As [`Tls::read`].
    pub fn renew(&self) -> Result<(), TlsError> {
        let acceptor = acceptor(&self.files)?;
        *self.now.write().unwrap_or_else(PoisonError::into_inner) = acceptor;
        Ok(())
    }

    pub(crate) async fn accept<S>(&self, stream: S) -> io::Result<TlsStream<S>>
    where
        S: AsyncRead + AsyncWrite + Unpin,
    {
        let now = self.now();
        now.accept(stream).await
    }

    fn now(&self) -> TlsAcceptor {
        let now = self.now.read().unwrap_or_else(PoisonError::into_inner);
        now.clone()
    }
}

/// Whether both sides agreed on HTTP/2.
pub(crate) fn is_http2<S>(stream: &TlsStream<S>) -> bool {
    stream.get_ref().1.alpn_protocol() == Some(HTTP_2)
}

/// Whether what a caller says first is TLS. Waits for the first byte and leaves it where it is.
pub(crate) async fn begins(stream: &TcpStream) -> bool {
    let mut first = [HANDSHAKE];
    // Who hung up is no matter for us: the handshake will find out.
    let _ = stream.peek(&mut first).await;
    first == [HANDSHAKE]
}

fn acceptor(files: &Files) -> Result<TlsAcceptor, TlsError> {
    let unusable = |path: &Path| {
        let path = path.to_owned();
        |source| TlsError::File { path, source }
    };
    let certificates = CertificateDer::pem_file_iter(&files.certificate)
        .and_then(Iterator::collect::<Result<Vec<_>, _>>)
        .map_err(unusable(&files.certificate))?;
    if certificates.is_empty() {
        return Err(TlsError::Empty(files.certificate.clone()));
    }
    let key = PrivateKeyDer::from_pem_file(&files.key).map_err(unusable(&files.key))?;
    let mut config = ServerConfig::builder_with_provider(Arc::new(ring::default_provider()))
        .with_safe_default_protocol_versions()
        .and_then(|config| {
            config
                .with_no_client_auth()
                .with_single_cert(certificates, key)
        })
        .map_err(|source| TlsError::Pair {
            files: files.clone(),
            source,
        })?;
    config.alpn_protocols = PROTOCOLS.map(<[u8]>::to_vec).to_vec();
    Ok(TlsAcceptor::from(Arc::new(config)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_refusal_is_as_long_as_it_says() {
        let text = String::from_utf8_lossy(PLAIN_REFUSED);
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or_default();
        assert!(head.contains(&format!("content-length: {}\r\n", body.len())));
    }
}
