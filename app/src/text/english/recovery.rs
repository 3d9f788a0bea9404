//! What was put back from the second copy of this device's storage.

use evenloop_engine::text::Typed;

/// Of so many pairs something was put back.
pub(crate) fn put_back(pairs: usize) -> String {
    match pairs {
        1 => "Something of one pair was missing in this browser. It was put back from the second copy on this device.".to_owned(),
        more => format!("Something of {more} pairs was missing in this browser. It was put back from the second copy on this device."),
    }
}

pub(crate) const EMPTIED: &str = "What this browser stores was cleared while this page was open. All that this page has of your pair was stored again.";

/// A pair that could not be read where it stood.
pub(crate) fn added(name: &Typed) -> String {
    format!("“{name}” was put into the basket as the second copy on this device has it.")
}

/// A pair that was counted on in two ways on this device, as it stands in the basket.
pub(crate) fn beside(name: &Typed) -> String {
    format!(
        "A pair was counted on differently in two copies on this device. Both are kept; the other one is in the basket as “{name}”."
    )
}

/// A pair that was given a name in both copies: the one given last, which holds, and the other.
pub(crate) fn names_given(holds: &Typed, other: &Typed) -> String {
    format!("One pair had two names: “{holds}”, given last and used now, and “{other}”.")
}

/// What tells the other one from the pair of its name.
pub(crate) const COUNTED_APART: &str = "as counted apart";
pub(crate) const SEEN: &str = "OK";
