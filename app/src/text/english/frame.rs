//! The frame around every screen: what screens are called, and what stands where none can.

pub(crate) const BASKET: &str = "Basket";
pub(crate) const MEASURE: &str = "Measure";
pub(crate) const NOW: &str = "Now";
pub(crate) const MAP: &str = "Map";
pub(crate) const KEEP: &str = "Settings";
pub(crate) const PLAN: &str = "Plan";
pub(crate) const PATTERN: &str = "A pattern of your own";

/// Names the links to the screens for the ear.
pub(crate) const SCREENS: &str = "Screens";

/// The window's title for a screen.
pub(crate) fn title(screen: &str) -> String {
    format!("{screen} · Evenloop")
}

pub(crate) const NOT_FOUND_TITLE: &str = "Not found";
pub(crate) const NOT_FOUND: &str = "Nothing is here";
pub(crate) const NOT_FOUND_LEAD: &str =
    "This address leads to no screen. Your socks are safe in the basket.";

pub(crate) const NOT_HERE: &str = "This screen is not here yet";
pub(crate) const NOT_HERE_LEAD: &str = "It is not stored on this device, or a newer Evenloop has taken its place. Your socks are safe.";
pub(crate) const WITH_SIGNAL: &str = "Try again when there is a signal.";
pub(crate) const TRY_AGAIN: &str = "Try again";

/// What a pair is called whose knitter gave it no name.
pub(crate) const UNNAMED_PAIR: &str = "Unnamed pair";
