//! The frame around every screen.

pub(crate) const NOT_FOUND: &str = "Nothing is here";
pub(crate) const NOT_FOUND_LEAD: &str =
    "This address leads to no screen. Your socks are safe in the basket.";
