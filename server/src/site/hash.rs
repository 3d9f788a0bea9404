//! Hashes of content, which name files and builds and serve as entity tags.

use std::fmt::Write;

use sha2::{Digest, Sha256};

/// Bytes of the digest that are used: 64 bits are enough to tell our own files apart.
const LENGTH: usize = 8;

/// A short hash of some content, in lower-case hexadecimal digits.
pub fn of(content: &[u8]) -> String {
    let mut text = String::with_capacity(LENGTH * 2);
    for byte in Sha256::digest(content).iter().take(LENGTH) {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}

#[cfg(test)]
mod tests {
    #[test]
    fn is_the_beginning_of_sha_256() {
        // FIPS 180-2, appendix B.1: the digest of "abc".
        assert_eq!(super::of(b"abc"), "ba7816bf8f01cfea");
    }
}
