//! Why a plan is not written down as a pattern.

/// Why a plan is not written down as a pattern. What is written down is read back into the same stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotWritten {
    /// It is longer than a pattern may be.
    TooLong {
        /// Its characters.
        characters: usize,
        /// So many are read.
        most: usize,
    },
    /// It would be read back into other stitches: not everything that our sections do can be told by their stitches
    /// alone.
    ReadOtherwise,
    /// It has lines of a pattern that are followed by their own words, not stitch by stitch.
    OwnWords,
}
