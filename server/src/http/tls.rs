//! TLS with the operator's own certificate, which can be reloaded while the server runs: a certificate
//! is renewed every few weeks, and that is no reason to stop.

use std::fmt;
use std::io;
use std::path::PathBuf;
use std::sync::{Arc, PoisonError, RwLock};

use tokio::io::{AsyncRead, AsyncWrite};
use tokio::net::TcpStream;
use tokio_rustls::TlsAcceptor;
use tokio_rustls::rustls::ServerConfig;
use tokio_rustls::rustls::crypto::ring;
use tokio_rustls::rustls::pki_types::pem::PemObject;
use tokio_rustls::rustls::pki_types::{CertificateDer, PrivateKeyDer};
use tokio_rustls::server::TlsStream;

use crate::error::Error;

/// The protocols offered in ALPN, the preferred one first.
const ALPN_PROTOCOLS: [&[u8]; 2] = [ALPN_HTTP_2, b"http/1.1"];
const ALPN_HTTP_2: &[u8] = b"h2";
/// The first byte of every TLS connection: the type of a handshake record (RFC 8446, 5.1).
const HANDSHAKE_RECORD: u8 = 22;

/// The answer to plain HTTP on a TLS port. It names no address: the one that the client used is only
/// known from the request, which is not to be trusted.
pub(crate) const PLAIN_HTTP_REFUSAL: &[u8] = b"HTTP/1.1 400 Bad Request\r\n\
    content-type: text/plain; charset=utf-8\r\n\
    content-length: 53\r\n\
    x-content-type-options: nosniff\r\n\
    cache-control: no-store\r\n\
    connection: close\r\n\r\n\
    Please write https:// in front of this site's address";

/// The files of certificate and key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TlsFiles {
    /// The certificate and its intermediates, PEM.
    pub certificate: PathBuf,
    /// Its private key, PEM.
    pub key: PathBuf,
}

/// TLS with a certificate that can be reloaded. Clones share it.
#[derive(Clone)]
pub struct Tls {
    files: Arc<TlsFiles>,
    acceptor: Arc<RwLock<TlsAcceptor>>,
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
    pub fn read(files: TlsFiles) -> Result<Self, Error> {
        let acceptor = acceptor(&files)?;
        Ok(Self {
            files: Arc::new(files),
            acceptor: Arc::new(RwLock::new(acceptor)),
        })
    }

    /// Reads both files again, for connections from now on. Where that fails, the certificate stays.
    ///
    /// # Errors
    /// As [`Tls::read`].
    pub fn reload(&self) -> Result<(), Error> {
        let acceptor = acceptor(&self.files)?;
        *self
            .acceptor
            .write()
            .unwrap_or_else(PoisonError::into_inner) = acceptor;
        Ok(())
    }

    pub(crate) async fn accept<S>(&self, stream: S) -> io::Result<TlsStream<S>>
    where
        S: AsyncRead + AsyncWrite + Unpin,
    {
        let acceptor = self.acceptor();
        acceptor.accept(stream).await
    }

    /// Cloned, so that the lock is not held during a handshake.
    fn acceptor(&self) -> TlsAcceptor {
        let acceptor = self.acceptor.read();
        acceptor.unwrap_or_else(PoisonError::into_inner).clone()
    }
}

/// Whether HTTP/2 was negotiated.
pub(crate) fn is_http2<S>(stream: &TlsStream<S>) -> bool {
    stream.get_ref().1.alpn_protocol() == Some(ALPN_HTTP_2)
}

/// Whether a client starts a TLS handshake. Waits for the first byte and leaves it in the stream.
pub(crate) async fn starts_handshake(stream: &TcpStream) -> bool {
    let mut first = [HANDSHAKE_RECORD];
    // An error, such as a closed connection, is left for the handshake to find.
    let _ = stream.peek(&mut first).await;
    first == [HANDSHAKE_RECORD]
}

/// Reads the files into what accepts connections.
fn acceptor(files: &TlsFiles) -> Result<TlsAcceptor, Error> {
    let unusable = |path: &PathBuf| {
        let path = path.clone();
        |source| Error::TlsFile { path, source }
    };
    let certificates = CertificateDer::pem_file_iter(&files.certificate)
        .and_then(Iterator::collect::<Result<Vec<_>, _>>)
        .map_err(unusable(&files.certificate))?;
    if certificates.is_empty() {
        return Err(Error::NoCertificate(files.certificate.clone()));
    }
    let key = PrivateKeyDer::from_pem_file(&files.key).map_err(unusable(&files.key))?;
    let mut config = ServerConfig::builder_with_provider(Arc::new(ring::default_provider()))
        .with_safe_default_protocol_versions()
        .and_then(|config| {
            config
                .with_no_client_auth()
                .with_single_cert(certificates, key)
        })
        .map_err(|source| Error::CertificateAndKey {
            certificate: files.certificate.clone(),
            key: files.key.clone(),
            source,
        })?;
    config.alpn_protocols = ALPN_PROTOCOLS.map(<[u8]>::to_vec).to_vec();
    Ok(TlsAcceptor::from(Arc::new(config)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_refusal_is_as_long_as_it_says() {
        let text = String::from_utf8_lossy(PLAIN_HTTP_REFUSAL);
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or_default();
        assert!(head.contains(&format!("content-length: {}\r\n", body.len())));
    }
}
