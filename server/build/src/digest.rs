//! Hashes that tell whether something has changed.
//!
//! Must not know what the hashes are kept for.

use std::fmt::Write;

use sha2::{Digest, Sha256};

/// SHA-256 over several pieces, in hexadecimal. Where one piece ends and the next begins makes a
/// difference.
pub fn of(pieces: &[&[u8]]) -> String {
    let mut sha = Sha256::new();
    for piece in pieces {
        sha.update(u64::try_from(piece.len()).unwrap_or(u64::MAX).to_le_bytes());
        sha.update(piece);
    }
    sha.finalize().iter().fold(String::new(), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_are_kept_apart() {
        assert_ne!(of(&[b"ab", b"c"]), of(&[b"a", b"bc"]));
        assert_eq!(of(&[b"ab", b"c"]), of(&[b"ab", b"c"]));
        assert_eq!(of(&[]).len(), 64);
    }
}
