//! A number that stands for a text, so that a log can say which text it belongs to. It notices chance damage
//! and texts that were exchanged; it is no protection against somebody who wants to deceive.

use std::fmt;

/// The FNV-1a hash of a text, 64 bits (Fowler, Noll and Vo; written down in draft-eastlake-fnv).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digest(u64);

impl Digest {
    /// The digest of a text.
    pub fn of(text: &str) -> Self {
        Self(0xCBF2_9CE4_8422_2325).and(text)
    }

    /// The digest of what this one stands for with another text after it.
    #[must_use]
    pub fn and(self, text: &str) -> Self {
        let add = |hash: u64, byte: u8| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01B3);
        Self(text.bytes().fold(self.0, add))
    }

    /// Reads a digest; `None` for what would not be written so.
    pub fn read(text: &str) -> Option<Self> {
        let digest = Self(u64::from_str_radix(text, 16).ok()?);
        (digest.to_string() == text).then_some(digest)
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:016x}", self.0)
    }
}

impl fmt::Debug for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Digest({self})")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_fnv_1a() {
        // Test vectors of draft-eastlake-fnv, appendix C, as remembered; the first is the offset basis.
        assert_eq!(Digest::of("").to_string(), "cbf29ce484222325");
        assert_eq!(Digest::of("a").to_string(), "af63dc4c8601ec8c");
        assert_eq!(Digest::of("foobar").to_string(), "85944171f73967e8");
        assert_eq!(Digest::of("foo").and("bar"), Digest::of("foobar"));
    }

    #[test]
    fn it_reads_back_what_it_writes_and_nothing_else() {
        let digest = Digest::of("heel");
        assert_eq!(Digest::read(&digest.to_string()), Some(digest));
        for text in [
            "",
            "1",
            "+af63dc4c8601ec8",
            "AF63DC4C8601EC8C",
            "0af63dc4c8601ec8c",
        ] {
            assert_eq!(Digest::read(text), None, "{text}");
        }
    }
}
