//! The content encodings in which content is stored and served (RFC 9110, 8.4.1).

/// A content encoding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Encoding {
    /// Not compressed.
    Identity,
    /// gzip.
    Gzip,
    /// Brotli.
    Brotli,
}

impl Encoding {
    /// All encodings.
    pub const ALL: [Self; 3] = [Self::Identity, Self::Gzip, Self::Brotli];
    /// The encodings that compress, the one with the smaller results first.
    pub const COMPRESSED: [Self; 2] = [Self::Brotli, Self::Gzip];

    /// Its name in headers.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Identity => "identity",
            Self::Gzip => "gzip",
            Self::Brotli => "br",
        }
    }

    /// What is appended to a file's name for the file of this encoding that lies beside it.
    pub const fn file_suffix(self) -> &'static str {
        match self {
            Self::Identity => "",
            Self::Gzip => ".gz",
            Self::Brotli => ".br",
        }
    }
}
