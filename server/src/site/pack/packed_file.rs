//! A file of the site that is being packed.

use crate::site::format::HASHED;
use crate::site::hash;

/// A file: its address and its content.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct PackedFile {
    pub(super) url: String,
    pub(super) content: Vec<u8>,
}

impl PackedFile {
    /// A file whose address contains a hash of its content.
    pub(super) fn hashed(stem: &str, extension: &str, content: Vec<u8>) -> Self {
        let hash = hash::of(&content);
        Self {
            url: format!("{HASHED}{stem}.{hash}.{extension}"),
            content,
        }
    }
}
