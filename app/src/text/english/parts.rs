//! Pieces that more than one screen uses.

use evenloop_engine::plan::SectionKind;

pub(crate) const COMING: &str = "One moment …";
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

/// What a section is called where its own length stands beside it: the leg and the foot of a sock are longer
/// than the sections that are called so. Beside a gusset that belongs to the foot, too.
pub(crate) const fn section_alone(kind: SectionKind, has_gusset: bool) -> Option<&'static str> {
    match (kind, has_gusset) {
        (SectionKind::Leg, _) => Some("Leg without cuff"),
        (SectionKind::Foot, true) => Some("Foot between gusset and toe"),
        (SectionKind::Foot, false) => Some("Foot between heel and toe"),
        _ => None,
    }
}
