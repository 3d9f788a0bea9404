//! Every sentence of the Basket. Another language needs another of these files and nothing else.

use evenloop_engine::words;

use crate::store::{PairHead, Part, StoreError};

pub(super) const TITLE: &str = "Basket";
pub(super) const LOOKING: &str = "Looking into the basket ...";
pub(super) const EMPTY: &str = "Nothing on the needles yet";
pub(super) const EMPTY_TEXT: &str = "Measure a foot and a swatch, look at the plan, and cast on. Evenloop then counts beside you, round by round, with or without signal.";
pub(super) const EMPTY_BUTTON: &str = "Measure for a pair";
pub(super) const ANOTHER: &str = "Measure for another pair";
pub(super) const FINISHED: &str = "Finished";
pub(super) const AT_HAND: &str = "at hand";
pub(super) const MORE: &str = "More to do with it";
pub(super) const NAME: &str = "Name";
pub(super) const RENAME: &str = "Save the name";
pub(super) const TAKE_OUT: &str = "Take out of the basket";
pub(super) const PLAN: &str = "Its plan, to print or hand on";
pub(super) const AGAIN: &str = "Knit it for another foot";
pub(super) const PUT_BACK: &str = "Put it back";
pub(super) const LET_GO: &str = "Let it go for good";
pub(super) const NO_ROOM_BACK: &str =
    "There is no room left on this device to put it back. It is still kept; make room first.";
pub(super) const LATER: &str = "Remind me later";
pub(super) const STARTERS: &str = "Begin with a ready recipe";
pub(super) const STARTERS_TEXT: &str = "Eight socks, each made another way. Choosing one puts it in Measure, where the feet, the swatch and everything else can be changed.";
pub(super) const TO_FORM: &str = "Put it in Measure";
pub(super) const GUIDE: &str =
    "A short walk through the screens shows what is where: under a minute.";
pub(super) const GUIDE_YES: &str = "Show me round";
pub(super) const GUIDE_NO: &str = "No, thank you";
pub(super) const NOT_LOADED: &str = "What opens a pair is not stored on this device yet. Nothing was changed; please try again when there is a signal.";
pub(super) const UNREAD: &str = "A pair in this basket has to be read anew, and what reads it is not stored on this device yet. It is safe, and is shown when there is a signal.";
pub(super) const TRY_AGAIN: &str = "Try again";
pub(super) const NOT_STORED: &str = "The browser did not store that. Please try again.";
pub(super) const UNREADABLE: &str = "This pair's plan cannot be read.";
pub(super) const WILL_NOT_LAST: &str = "This window stores nothing (a private window, or storage is switched off). You can knit along, but everything is forgotten when it closes.";
pub(super) const DENIED: &str = "The browser gives no access to what is stored here. Private windows and switched-off storage do that; in an ordinary window your pairs are where you left them.";
pub(super) const NEARLY_FULL: &str = "There is little room left on this device. A backup in Keep, and then taking finished pairs out of the basket, makes room.";
pub(super) const SET_ASIDE: &str = "Something stored could not be read. It was set aside, not erased; everything before it was kept. Keep has it, and puts it in the backup.";
pub(super) const TO_KEEP: &str = "Open Keep";

/// Reminds of a backup.
pub(super) fn remind(steps: u32) -> String {
    format!(
        "{steps} rounds and rows were knitted since the last backup. A lost phone would take them along."
    )
}

/// Which sock is on the needles, and where.
pub(super) fn place(head: &PairHead) -> String {
    let place = &head.progress;
    if place.finished {
        return "Both socks are done.".to_owned();
    }
    let section = place.section().map_or("", words::section_name);
    let total = place.total;
    match place.both {
        Some([0, 0]) => return "Two at a time: not begun".to_owned(),
        Some([first, second]) if first == second => {
            return format!("Two at a time: {section}; {first} of {total} rounds");
        }
        Some([first, second]) => {
            return format!(
                "Two at a time: {section}; first sock {first}, second {second} of {total} rounds"
            );
        }
        None => {}
    }
    let sock = if place.sock == 2 {
        "Second sock"
    } else {
        "First sock"
    };
    if place.done == 0 {
        return format!("{sock}: not begun");
    }
    if place.done >= place.total {
        return "First sock done; the second is next.".to_owned();
    }
    format!("{sock}: {section}; {} of {total} rounds", place.done)
}

/// How far one sock is.
pub(super) fn progress(sock: u8, done: u32, total: u32) -> String {
    let sock = if sock == 2 { "Second" } else { "First" };
    format!("{sock} sock: {done} of {total} rounds")
}

/// Names the pair for the ear, where several stand below each other.
pub(super) fn more_of(name: &str) -> String {
    format!("“{name}”")
}

/// Says which pair was taken out.
pub(super) fn out(name: &str) -> String {
    format!(
        "“{name}” is out of the basket. Its plan and all that was counted are kept until another pair is taken out."
    )
}

/// Why a pair stays out.
pub(super) fn why_out(error: &StoreError) -> &'static str {
    match error {
        StoreError::NotLoaded => NOT_LOADED,
        _ => NO_ROOM_BACK,
    }
}

/// Why a pair does not open.
pub(super) fn why(error: &StoreError) -> &'static str {
    match error {
        StoreError::Damaged {
            what: Part::Plan, ..
        } => {
            "This pair's plan is damaged and cannot be read. Nothing was erased: a backup in Keep has it as it is, and an earlier backup may bring the pair back."
        }
        StoreError::Newer { .. } => {
            "This pair was stored by a newer Evenloop. Once this device has the newer one, it opens again; nothing was changed."
        }
        StoreError::NotThere => {
            "This pair is no longer in the basket; it may have been taken out in another window."
        }
        StoreError::Denied => DENIED,
        StoreError::NotLoaded => NOT_LOADED,
        StoreError::Full | StoreError::Behind | StoreError::Damaged { .. } => {
            "This pair could not be opened just now. Nothing was changed; please try again."
        }
    }
}

/// Why a pair opens with less than was counted.
pub(super) fn trouble(error: &StoreError) -> String {
    match error {
        StoreError::Damaged {
            what: Part::Log(_),
            kept,
        } => format!(
            "A part of this pair's log is damaged. It was set aside, not erased; {kept} entries before it were kept. Please look where you are before you knit on."
        ),
        _ => "A part of what was stored for this pair was damaged and has been mended.".to_owned(),
    }
}
