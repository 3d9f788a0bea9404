//! What the document around the app says by itself.

pub(crate) const DESCRIPTION: &str =
    "A sock plan that fits, and a companion that counts beside the knitting.";
/// What the web app manifest offers on an installed app's icon.
pub(crate) const SHORTCUT_NOW: &str = "Continue knitting";
pub(crate) const SHORTCUT_MEASURE: &str = "Plan a pair";
/// The page that the service worker has where there is neither the page nor signal.
pub(crate) const NO_SIGNAL: &str = "No signal";
pub(crate) const NO_SIGNAL_TEXT: &str = "This page is not on this device, and the place it comes from does not answer. What you have knitted is kept.";
pub(crate) const NO_SIGNAL_AGAIN: &str = "Try again where there is signal";
pub(crate) const NO_SIGNAL_BASKET: &str = "Open the basket";
pub(crate) const WITHOUT_SCRIPTS: &str =
    "The plan can be read without JavaScript; counting rounds needs it.";
pub(crate) const TROUBLE: &str = "Something went wrong on this page. What you have knitted is kept on this device; please reload to go on.";
pub(crate) const WAITING: &str = "Not all of Evenloop has arrived yet. It keeps trying; what you have knitted is kept on this device.";
