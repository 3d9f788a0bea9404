//! The Basket.

use evenloop_engine::text::Typed;

pub(crate) const LOOKING: &str = "Looking into the basket …";
pub(crate) const EMPTY: &str = "Nothing on the needles yet";
pub(crate) const EMPTY_TEXT: &str = "Measure a foot and a swatch, look at the plan, and cast on. Evenloop then counts beside you, round by round, with or without signal.";
pub(crate) const EMPTY_BUTTON: &str = "Measure for a pair";
pub(crate) const ANOTHER: &str = "Measure for another pair";
pub(crate) const PATTERN: &str = "Follow a pattern of your own";
pub(crate) const FINISHED: &str = "Finished";
/// On the pair at hand.
pub(crate) const KNIT_ON: &str = "Knit on";
pub(crate) const MORE: &str = "More to do with it";
pub(crate) const NAME: &str = "Name";
pub(crate) const RENAME: &str = "Save the name";
pub(crate) const TAKE_OUT: &str = "Take out of the basket";
pub(crate) const PLAN: &str = "Print or share its plan";
pub(crate) const AGAIN: &str = "Knit it for another foot";
pub(crate) const PUT_BACK: &str = "Put it back";
pub(crate) const LET_GO: &str = "Delete permanently";
pub(crate) const NO_ROOM_BACK: &str =
    "There is no room left on this device to put it back. It is still kept; make room first.";
pub(crate) const LATER: &str = "Remind me later";
pub(crate) const STARTERS: &str = "Begin with a ready recipe";
pub(crate) const STARTERS_TEXT: &str = "Eight socks, each made differently. Choosing one fills in the Measure form, where you can change the feet, the swatch and everything else.";
pub(crate) const TO_FORM: &str = "Use this";
pub(crate) const NOT_LOADED: &str = "The part of Evenloop that opens a pair is not on this device yet. Nothing was changed; please try again when there is a signal.";
pub(crate) const UNREAD: &str = "A pair in this basket has to be read again, and the part of Evenloop that does it is not on this device yet. The pair is safe, and is shown when there is a signal.";
pub(crate) const TRY_AGAIN: &str = "Try again";
pub(crate) const NOT_STORED: &str = "The browser did not store that. Please try again.";
pub(crate) const UNREADABLE: &str = "This pair’s plan cannot be read.";
pub(crate) const WILL_NOT_LAST: &str = "This window stores nothing (a private window, or storage is switched off). You can knit along, but everything is forgotten when it closes.";
pub(crate) const DENIED: &str = "The browser gives no access to what is stored here. Private windows and switched-off storage do that; in an ordinary window your pairs are where you left them.";
pub(crate) const NEARLY_FULL: &str = "There is little room left on this device. Save a backup in Settings, then take finished pairs out of the basket.";
pub(crate) const SET_ASIDE: &str = "Something stored could not be read, or no pair has a place for it. It was set aside, not erased; everything before it was kept. Settings has it, and puts it in the backup.";
pub(crate) const TO_SETTINGS: &str = "Open Settings";

/// Reminds of a backup.
pub(crate) fn remind(steps: u32) -> String {
    format!(
        "You have knitted {steps} rounds and rows since the last backup. If the phone is lost, they are lost too."
    )
}

pub(crate) const PAIR_DONE: &str = "Both socks are done.";
pub(crate) const FIRST_DONE: &str = "First sock done; the second is next.";
pub(crate) const TOGETHER_NOT_BEGUN: &str = "Two at a time: not begun";

/// Both socks on the needles, equally far.
pub(crate) fn together(section: &str, done: u32, total: u32) -> String {
    format!("Two at a time: {section}; {done} of {total} rounds")
}

/// Both socks on the needles, one further than the other.
pub(crate) fn together_apart(section: &str, [first, second]: [u32; 2], total: u32) -> String {
    format!("Two at a time: {section}; first sock {first}, second {second} of {total} rounds")
}

/// A sock, 1 or 2, that is cast on next.
pub(crate) fn not_begun(sock: u8) -> String {
    format!("{}: not begun", name_of(sock))
}

/// A sock, 1 or 2, that is on the needles.
pub(crate) fn on_needles(sock: u8, section: &str, done: u32, total: u32) -> String {
    format!("{}: {section}; {done} of {total} rounds", name_of(sock))
}

/// Which sock, beside its bar.
pub(crate) const fn name_of(sock: u8) -> &'static str {
    if sock == 2 {
        "Second sock"
    } else {
        "First sock"
    }
}

/// How far one sock is.
pub(crate) fn progress(sock: u8, done: u32, total: u32) -> String {
    format!("{}: {done} of {total} rounds", name_of(sock))
}

/// The same in short, beside its bar.
pub(crate) fn rounds(done: u32, total: u32) -> String {
    format!("{done} of {total}")
}

/// Names the pair for the ear, where several stand below each other.
pub(crate) fn more_of(name: &Typed) -> String {
    format!("“{name}”")
}

/// Says which pair was taken out.
pub(crate) fn out(name: &Typed) -> String {
    format!(
        "“{name}” is out of the basket. Its plan and all that was counted are kept until another pair is taken out."
    )
}

/// Names a recipe for the ear, after what is done with it.
pub(crate) fn of_starter(name: &str) -> String {
    format!(": {name}")
}

/// Why a pair does not open.
pub(crate) const SHUT_DAMAGED: &str = "This pair’s plan is damaged and cannot be read. Nothing was erased: a backup in Settings has it as it is, and an earlier backup may bring the pair back.";
pub(crate) const SHUT_NEWER: &str = "This pair was stored by a newer Evenloop. Once this device has the newer one, it opens again; nothing was changed.";
pub(crate) const SHUT_TAKEN_OUT: &str =
    "This pair is no longer in the basket; it may have been taken out in another window.";
pub(crate) const SHUT_JUST_NOW: &str =
    "This pair could not be opened just now. Nothing was changed; please try again.";

/// A pair opens with less than was counted: so many entries of a log.
pub(crate) fn log_damaged(kept: usize) -> String {
    format!(
        "A part of this pair’s log is damaged. It was set aside, not erased; {kept} entries before it were kept. Please look where you are before you knit on."
    )
}
/// A pair opens, but something else of it was lost.
pub(crate) const MENDED: &str =
    "A part of what was stored for this pair was damaged and has been repaired.";
