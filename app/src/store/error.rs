//! What can go wrong with the knitter's data. Each is said kindly by the screens and none of them
//! stops the counting.

/// Why something could not be stored or read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StoreError {
    /// The browser gives no storage here (private window, storage switched off).
    Denied,
    /// There is no room left.
    Full,
    /// No such pair.
    NotThere,
    /// Something stored cannot be read.
    Damaged {
        /// What it was.
        what: StoredPart,
        /// Touches that come before the damage and were kept.
        kept: usize,
    },
    /// Written by a newer Evenloop than this one.
    Newer {
        /// What it is.
        what: StoredPart,
        /// Touches that come before it and were kept.
        kept: usize,
    },
    /// Another window has gone on with the same sock: read it again, then do it again.
    Behind,
    /// A plan was made for another place, or from another plan, than the pair is at by now.
    Elsewhere,
    /// The log of a sock, 1 or 2, says that it is knitted by another plan than the one that is stored.
    OtherPlan(u8),
    /// The part of the app that reads it cannot be had just now; nothing was changed.
    NotLoaded,
}

/// Which part of what is stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StoredPart {
    /// A pair's name and progress.
    Head,
    /// A pair's plan.
    Plan,
    /// The log of one sock, 1 or 2.
    Log(u8),
    /// The settings.
    Settings,
}
