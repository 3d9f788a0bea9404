//! Pieces that more than one screen uses.

pub(crate) const COMING: &str = "One moment ...";
pub(crate) const NOT_HERE: &str = "This is not stored on this device yet, or a newer Evenloop has taken its place. Your socks are safe. Try again when there is a signal.";
pub(crate) const TRY_AGAIN: &str = "Try again";

/// Goes on the label of a line that may stay empty.
pub(crate) const OPTIONAL: &str = " (optional)";

/// The button before a number.
pub(crate) fn one_less(label: &str) -> String {
    format!("One less: {label}")
}

/// The button after a number.
pub(crate) fn one_more(label: &str) -> String {
    format!("One more: {label}")
}
