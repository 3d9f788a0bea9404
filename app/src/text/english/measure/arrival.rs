//! A recipe that came with the address.

use evenloop_engine::text::Wording;
use evenloop_engine::units::Length;

pub(crate) const TAKE_RECIPE: &str = "Use this recipe";
pub(crate) const LEAVE_FORM: &str = "Leave the form as it is";
pub(crate) const TAKEN: &str =
    "The form holds a recipe that came with an address. What stood there before is kept.";
pub(crate) const TAKE_BACK: &str = "Take back what stood there";
pub(crate) const LET_GO: &str = "It is not needed any more";
pub(crate) const FORM_AS_IT_WAS: &str = "The form is as it was.";

pub(crate) const CAME_READY: &str =
    "Shall the choices of that recipe be put in the form? What stands there now can be taken back.";

/// Asks whether a recipe may be put in the form; its stitches around where it makes a sock.
pub(crate) fn came(stitches: Option<u16>, foot: Length, wording: Wording) -> String {
    let foot = foot.show(wording.unit);
    let sock = match stitches {
        Some(stitches) => format!("{stitches} stitches around, for a foot of {foot}"),
        None => format!("for a foot of {foot}"),
    };
    format!(
        "A recipe came with the address: {sock}. Shall it be put in the form? What stands there now can be taken back."
    )
}
