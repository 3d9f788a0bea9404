//! Plan.

pub(crate) const LEAD: &str = "A whole sock on paper: its sizes, every round, and boxes to tick.";
pub(crate) const LOOKING: &str = "Looking for the plan …";
pub(crate) const PRINT: &str = "Print";
pub(crate) const SAVE: &str = "Save as plain text";
/// Round by round, in a form that the screen for patterns reads.
pub(crate) const SAVE_PATTERN: &str = "Save as a written pattern";
pub(crate) const TO_MEASURE: &str = "Open this recipe in Measure";
pub(crate) const UNWILLING: &str =
    "The browser would not do that. Its own menu can print and save this page.";

pub(crate) const SHARE: &str = "Share the recipe";
pub(crate) const SHARE_TEXT: &str = "The whole recipe is in this link: measurements and choices. The pair’s name and what was counted are not in it. Opening it takes no account.";
pub(crate) const SHARE_PATTERN: &str = "The whole recipe is in this link, and the text of your pattern. It goes only to those you send it to. A pattern you bought is yours to use, not to pass on.";
pub(crate) const PATTERN_TOO_LONG: &str = "The text of your pattern is too long for a link. A backup in Settings holds the pair with its pattern.";
pub(crate) const HAS_PATTERN: &str = "This recipe follows a pattern of somebody’s own. It is read on a screen of its own, and on this device only.";
pub(crate) const TO_PATTERN: &str = "Open the pattern";
pub(crate) const ADDRESS: &str = "Link to the recipe";
pub(crate) const SEND: &str = "Send the link";
pub(crate) const COPY: &str = "Copy the link";
pub(crate) const COPIED: &str = "The link is copied.";
pub(crate) const NOT_COPIED: &str =
    "The browser would not copy it. It is selected in the line above: copy it from there.";
pub(crate) const SENT_AS: &str = "A sock recipe";
pub(crate) const CODE: &str = "Or point another phone’s camera at this code:";
pub(crate) const CODE_ON_PAPER: &str = "A phone’s camera opens this plan from the code.";
pub(crate) const CODE_NAME: &str = "QR code of the link above";
pub(crate) const CODE_TOO_LONG: &str =
    "This recipe is too long for a code. Its link can be sent or copied all the same.";

pub(crate) const NO_SOCK: &str = "This recipe does not make a sock:";
pub(crate) const NOTHING_AT_HAND: &str =
    "No pair is in hand. Choose one in the basket, or measure for a new one.";
pub(crate) const TAKEN_OUT: &str =
    "This pair is not in the basket of this device. It may have been taken out.";
pub(crate) const NEWER: &str = "This pair was stored by a newer Evenloop. Once this device has the newer one, it can be read again.";
pub(crate) const DENIED: &str =
    "The browser gives no access to what is stored here, as in a private window.";
pub(crate) const UNREADABLE: &str =
    "This pair’s plan cannot be read. Nothing was changed; a backup in Settings has it as it is.";
