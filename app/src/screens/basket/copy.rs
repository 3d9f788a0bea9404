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
pub(super) const MORE: &str = "Rename or take out";
pub(super) const NAME: &str = "Name";
pub(super) const RENAME: &str = "Save the name";
pub(super) const TAKE_OUT: &str = "Take out of the basket";
pub(super) const SURE: &str = "Yes, forget this pair and all that was counted";
pub(super) const TAKE_OUT_NOW: &str = "Take it out for good";
pub(super) const KEEP_IT: &str = "Keep it";
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
    let place = &head.place;
    if place.finished {
        return "Both socks are done.".to_owned();
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
    let section = place.section().map_or("", words::section_name);
    format!(
        "{sock}: {section}; {} of {} rounds",
        place.done, place.total
    )
}

/// How far one sock is.
pub(super) fn progress(sock: u8, done: u32, total: u32) -> String {
    let sock = if sock == 2 { "Second" } else { "First" };
    format!("{sock} sock: {done} of {total} rounds")
}

/// Asks before a pair is taken out.
pub(super) fn ask(head: &PairHead) -> String {
    let counted = head.place.done
        + if head.place.sock == 2 {
            head.place.total
        } else {
            0
        };
    match counted {
        0 => format!(
            "“{}” and its plan will be forgotten. This cannot be undone.",
            head.name
        ),
        n => format!(
            "“{}”, its plan and {n} counted rounds will be forgotten. This cannot be undone; a backup in Keep can bring them back.",
            head.name
        ),
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
        StoreError::Full | StoreError::Behind | StoreError::Damaged { .. } => {
            "This pair could not be opened just now. Nothing was changed; please try again."
        }
    }
}

/// Why a pair opens with less than was counted.
pub(super) fn trouble(error: &StoreError) -> String {
    match error {
        StoreError::Newer { kept, .. } => format!(
            "A part of this pair's log was written by a newer Evenloop. It was set aside; {kept} entries before it were kept."
        ),
        StoreError::Damaged {
            what: Part::Log(_),
            kept,
        } => format!(
            "A part of this pair's log is damaged. It was set aside, not erased; {kept} entries before it were kept. Please look where you are before you knit on."
        ),
        _ => "A part of what was stored for this pair was damaged and has been mended.".to_owned(),
    }
}
