//! A recipe that came with the address.

use evenloop_engine::text::Wording;
use evenloop_engine::units::Length;

pub(crate) const TAKE_RECIPE: &str = "Use this recipe";
pub(crate) const LEAVE_FORM: &str = "Leave the form as it is";
pub(crate) const TAKEN: &str =
    "The form now holds a recipe from a link. What was in it before is kept.";
pub(crate) const TAKE_BACK: &str = "Bring back what was in the form";
pub(crate) const LET_GO: &str = "Delete what was in the form";
pub(crate) const FORM_AS_IT_WAS: &str = "The form is as it was.";

pub(crate) const CAME_READY: &str =
    "Put the choices of that recipe in the form? You can bring back what is there now.";

/// Asks whether a recipe may be put in the form; its stitches around where it makes a sock.
pub(crate) fn came(stitches: Option<u16>, foot: Length, wording: Wording) -> String {
    let foot = foot.show(wording.unit);
    let sock = match stitches {
        Some(stitches) => format!("{stitches} stitches around, for a foot of {foot}"),
        None => format!("for a foot of {foot}"),
    };
    format!(
        "This link holds a recipe: {sock}. Put it in the form? You can bring back what is there now."
    )
}
