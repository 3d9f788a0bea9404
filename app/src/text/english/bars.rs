//! The small bars over a screen.

pub(crate) const NEWER: &str = "A newer Evenloop is ready.";
pub(crate) const INCOMPLETE: &str = "A newer Evenloop was ready, but part of it has gone from this device and could not be fetched. Try again where there is signal.";
pub(crate) const SWITCH: &str = "Switch now";
pub(crate) const LATER: &str = "Later";
pub(crate) const STORED: &str = "Stored on this device: Evenloop now works without signal.";
pub(crate) const GOOD: &str = "OK";
