//! Content in all its encodings, with its hash.

use std::io;

use axum::body::Bytes;

use crate::site::encoding::Encoding;
use crate::site::{compress, hash};

/// The content of a file or a page. Nothing is read or compressed while a client waits.
#[derive(Debug, Clone)]
pub struct Content {
    hash: String,
    identity: Bytes,
    gzip: Option<Bytes>,
    brotli: Option<Bytes>,
}

impl Content {
    /// Content without compressed forms.
    pub fn new(content: impl Into<Bytes>) -> Self {
        let identity = content.into();
        Self {
            hash: hash::of(&identity),
            identity,
            gzip: None,
            brotli: None,
        }
    }

    /// The same with compressed forms, made now.
    ///
    /// # Errors
    /// When compressing fails.
    pub fn compressed(self) -> io::Result<Self> {
        let gzip = compress::gzip(&self.identity)?.into();
        let brotli = compress::brotli_fast(&self.identity)?.into();
        Ok(self.with_compressed(Some(gzip), Some(brotli)))
    }

    /// The same with compressed forms that were made before.
    #[must_use]
    pub fn with_compressed(self, gzip: Option<Bytes>, brotli: Option<Bytes>) -> Self {
        Self {
            gzip,
            brotli,
            ..self
        }
    }

    /// The hash of the content as it is.
    pub fn hash(&self) -> &str {
        &self.hash
    }

    /// The content as it is.
    pub const fn identity(&self) -> &Bytes {
        &self.identity
    }

    /// The content in an encoding, where it exists in this one.
    pub const fn encoded(&self, encoding: Encoding) -> Option<&Bytes> {
        match encoding {
            Encoding::Identity => Some(&self.identity),
            Encoding::Gzip => self.gzip.as_ref(),
            Encoding::Brotli => self.brotli.as_ref(),
        }
    }
}
