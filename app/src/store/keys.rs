//! Under which key everything is kept. Never change one: half-knitted socks lie under them. This is the
//! only list: packing fills the keys that the scripts in `public/` use into them from here.
//!
//! ```text
//! evenloop:pair:<id>:head         name, when begun, how far
//! evenloop:pair:<id>:plan         the plan document, as it was when the pair was cast on
//! evenloop:pair:<id>:plan:<sock>  the plan of one sock, where it is not the pair's, sock 1 or 2
//! evenloop:pair:<id>:log:<sock>:<n>   chunk n of that sock's log
//! evenloop:pair:<id>:earlier:<sock>:<n>   the way back from the plan made anew in event n of that log
//! evenloop:current                id of the pair at hand
//! evenloop:operation              what an operation changes, while it does
//! evenloop:reserve                room that is given up where there is none to take something away
//! evenloop:device                 this device: its id and what it is called
//! evenloop:settings               the settings
//! evenloop:draft                  what stands in the form of Measure
//! evenloop:before                 what stood there before a recipe came with an address
//! evenloop:pattern                what stands on the screen of a pattern of the knitter's own
//! evenloop:saved                  what was knitted when the last backup was made
//! evenloop:later                  what was knitted when a reminder of a backup was put off
//! evenloop:out                    the pair that was taken out of the basket last
//! evenloop:guide                  which pair is the tiny sock to try things out, or that it is over
//! evenloop:told                   there, once it was said that all is stored on the device
//! evenloop:install                there, once it was said what an installed app has of its own
//! evenloop:number                 how far the second copy of all this is known; see public/echo.js
//! evenloop:touched                touches that were made before the app was awake; see public/first.js
//! evenloop:aside:<n>:<key>        in quarantine: what could not be read, under the key it had
//! evenloop:aside:<n>:evenloop:not-chosen:<id>   a pair that was not chosen, as a record; see not_chosen
//! evenloop:aside:<n>:evenloop:parted:<key>      a pair's text in which the second copy went another way; see parted
//! evenloop-shown                  what Now showed last, for the first paint
//! evenloop-version:<key>#         the version of the text under that key
//! evenloop-opened                 for as long as the window is open: the installed app was led to Now; see public/boot.js
//! evenloop-compared               when both copies of all this were last found to be the same; see public/echo.js
//! ```

use super::pair::PairId;

/// What all keys begin with.
pub const ROOT: &str = "evenloop:";
/// Id of the pair at hand.
pub const CURRENT: &str = "evenloop:current";
/// The record of an operation that changes several texts, while it does: see `operation`.
pub(super) const OPERATION: &str = "evenloop:operation";
/// Room that is given up where there is none left to take something away.
pub(super) const RESERVE: &str = "evenloop:reserve";
/// This device: its id and what it is called. Not part of a backup's texts: another device is another.
pub(super) const DEVICE: &str = "evenloop:device";
/// The settings.
pub const SETTINGS: &str = "evenloop:settings";
/// What stands in the form of Measure.
pub(super) const DRAFT: &str = "evenloop:draft";
/// What stood there before a recipe came with an address.
pub(super) const DRAFT_BEFORE: &str = "evenloop:before";
/// What stands on the screen of a pattern of the knitter's own.
pub(super) const PATTERN_DRAFT: &str = "evenloop:pattern";
/// What was knitted when the last backup was made.
pub(super) const STEPS_AT_BACKUP: &str = "evenloop:saved";
/// What was knitted when a reminder of a backup was put off.
pub(super) const STEPS_AT_REMINDER: &str = "evenloop:later";
/// The pair that was taken out of the basket last.
pub(super) const TAKEN_OUT: &str = "evenloop:out";
/// Which pair is the tiny sock to try things out, or that it is over: see `practice`.
pub(super) const GUIDE: &str = "evenloop:guide";
/// There, once it was said that everything is stored on the device.
pub(super) const TOLD_STORED: &str = "evenloop:told";
/// There, once it was said that an installed app keeps what is stored longer.
pub(super) const TOLD_INSTALL: &str = "evenloop:install";
/// How far the second copy is known. The script that keeps it writes this; a backup has no use for it.
pub const ECHO_NUMBER: &str = "evenloop:number";
/// Touches of the pad that were made before the app was awake: see `first_paint`.
pub const TOUCHED: &str = "evenloop:touched";
/// What Now showed last, for the first paint. It can be made anew, so it is not below [`ROOT`]: neither a backup
/// nor another window takes it for a text.
pub const SHOWN: &str = "evenloop-shown";
/// What comes before a text's key to make the key of its version: see `public/echo.js`, which alone reads and
/// writes versions. Not below [`ROOT`], so that neither a backup nor another window takes it for a text.
pub const VERSION: &str = "evenloop-version:";
/// When both copies were last found to be the same, in milliseconds since 1970. Only this browser's, so not below
/// [`ROOT`].
pub const COMPARED: &str = "evenloop-compared";
/// There, in the session's storage of a window, once the installed app was led to where the needles are.
pub const OPENED: &str = "evenloop-opened";
/// What is in quarantine.
pub const QUARANTINE: &str = "evenloop:aside:";

/// What comes before a pair's id where the pair lies in quarantine because another was chosen.
pub(super) const NOT_CHOSEN: &str = "evenloop:not-chosen:";

/// What comes before the key of a pair's text that lies in quarantine because both copies went different ways.
pub const PARTED: &str = "evenloop:parted:";

/// What every key of a pair begins with.
pub const PAIR: &str = "evenloop:pair:";

/// Key of a pair's head.
pub(super) fn head(id: &PairId) -> String {
    format!("{PAIR}{id}:head")
}

/// Key of a pair's plan.
pub(super) fn plan(id: &PairId) -> String {
    format!("{PAIR}{id}:plan")
}

/// Key of the plan of one sock, where it is not the pair's.
pub(super) fn own_plan(id: &PairId, sock: u8) -> String {
    format!("{PAIR}{id}:plan:{sock}")
}

/// Key of a chunk of a sock's log.
pub(super) fn chunk(id: &PairId, sock: u8, index: u32) -> String {
    format!("{PAIR}{id}:log:{sock}:{index}")
}

/// Key of the way back from a plan that was made anew in that event of a sock's log.
pub(super) fn earlier(id: &PairId, sock: u8, event: usize) -> String {
    format!("{PAIR}{id}:earlier:{sock}:{event}")
}

/// What a key that belongs to a pair holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum KeyKind {
    /// Its head.
    Head,
    /// Its plan.
    Plan,
    /// The plan of one sock alone.
    OwnPlan(u8),
    /// A chunk: sock and number.
    Chunk(u8, u32),
    /// The way back from a plan made anew: sock and number of the event.
    Earlier(u8, usize),
}

/// Which pair a key belongs to and what it holds; `None` for any other key.
pub(super) fn read(key: &str) -> Option<(PairId, KeyKind)> {
    let (id, rest) = key.strip_prefix(PAIR)?.split_once(':')?;
    let id = PairId::read(id)?;
    let sock = |text: &str| {
        let sock: u8 = text.parse().ok()?;
        (1..=2).contains(&sock).then_some(sock)
    };
    let held = if rest == "head" {
        KeyKind::Head
    } else if rest == "plan" {
        KeyKind::Plan
    } else if let Some(own) = rest.strip_prefix("plan:") {
        KeyKind::OwnPlan(sock(own)?)
    } else if let Some(earlier) = rest.strip_prefix("earlier:") {
        let (of, event) = earlier.split_once(':')?;
        KeyKind::Earlier(sock(of)?, event.parse().ok()?)
    } else {
        let (of, index) = rest.strip_prefix("log:")?.split_once(':')?;
        KeyKind::Chunk(sock(of)?, index.parse().ok()?)
    };
    // Only keys that would be written the same way: `01` is not `1`.
    let same = match held {
        KeyKind::Head => key == head(&id),
        KeyKind::Plan => key == plan(&id),
        KeyKind::OwnPlan(sock) => key == own_plan(&id, sock),
        KeyKind::Chunk(sock, index) => key == chunk(&id, sock, index),
        KeyKind::Earlier(sock, event) => key == earlier(&id, sock, event),
    };
    same.then_some((id, held))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_read_back_and_strangers_do_not() {
        let id = PairId::read("k3a9").expect("an id");
        for (key, held) in [
            (head(&id), KeyKind::Head),
            (plan(&id), KeyKind::Plan),
            (own_plan(&id, 1), KeyKind::OwnPlan(1)),
            (chunk(&id, 2, 17), KeyKind::Chunk(2, 17)),
            (earlier(&id, 2, 170), KeyKind::Earlier(2, 170)),
        ] {
            assert_eq!(read(&key), Some((id.clone(), held)));
        }
        for key in [
            CURRENT,
            "evenloop:pair:k3a9",
            "evenloop:pair:k3a9:log:3:0",
            "evenloop:pair:k3a9:log:1:00",
            "evenloop:pair:k3a9:plan:3",
            "evenloop:pair:k3a9:plan:02",
            "evenloop:pair:k3:a9:head",
            "evenloop:pair::head",
            "else",
        ] {
            assert_eq!(read(key), None, "{key}");
        }
    }
}
