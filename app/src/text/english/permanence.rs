//! How long the browser keeps what is stored, and how to have it kept longer.

pub(crate) const TITLE: &str = "Stored on this device";
pub(crate) const TWICE: &str = "Everything is stored twice on this device, and nowhere else.";

/// When both copies were last compared and found to be the same.
pub(crate) fn compared(when: &str) -> String {
    format!("Both copies were last compared {when}, and were the same.")
}

pub(crate) const ONCE: &str = "Everything is stored on this device, and nowhere else. Its second copy is not complete just now.";
pub(crate) const GONE_WITH_WINDOW: &str = "This window stores nothing that lasts: everything is forgotten when it closes. A backup keeps it.";
pub(crate) const KEPT: &str =
    "The browser has promised to keep it, even when the device is short of room.";
pub(crate) const MAY_BE_EVICTED: &str = "The browser has not promised to keep it: it may be thrown away when the device is short of room.";
pub(crate) const MAY_BE_CLEARED: &str = "The browser may clear it if Evenloop has not been opened for some days. Installed on the device it is usually kept.";
pub(crate) const ASK: &str = "Ask the browser to keep it";
pub(crate) const NO_PROMISE: &str = "The browser gave no promise just now. Some give one once a site is used often or is installed. A backup helps in any case.";
pub(crate) const OWN_STORAGE: &str = "An installed Evenloop has storage of its own and begins with an empty basket. To take everything along:";
pub(crate) const STEP_COPY: &str = "Copy your basket, with the button below.";
pub(crate) const COPY: &str = "Copy the basket";
pub(crate) const COPIED: &str =
    "Your basket is copied. Paste it in the installed Evenloop before you copy anything else.";
pub(crate) const NOT_COPIED: &str = "The browser did not copy it. A saved backup takes the basket along as well: bring it in there.";
pub(crate) const STEP_HOME_SCREEN: &str =
    "In the browser’s share menu, choose to add Evenloop to the home screen.";
pub(crate) const STEP_DOCK: &str =
    "In the browser’s share or file menu, choose to add Evenloop to the dock.";
pub(crate) const STEP_PASTE: &str = "Open it there, and choose “Paste the basket”.";

/// How many rounds and rows were knitted since the last backup.
pub(crate) fn since_backup(steps: u32) -> String {
    match steps {
        0 => "Knitted since the last backup: nothing.".to_owned(),
        1 => "Knitted since the last backup: 1 round or row.".to_owned(),
        more => format!("Knitted since the last backup: {more} rounds and rows."),
    }
}

pub(crate) const NOTICE: &str = "This browser may clear what it stores if Evenloop has not been opened for some days. Installed on the device it is usually kept. Settings says how to take your basket there.";
pub(crate) const NOTICE_HOW: &str = "Show me how";
pub(crate) const NOTICE_CLOSE: &str = "Close";
pub(crate) const BRING_IN: &str = "Bring in a saved basket";
pub(crate) const BRING_IN_TEXT: &str =
    "Already knitting with Evenloop elsewhere? A backup saved there brings the whole basket here.";
