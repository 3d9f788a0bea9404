//! What bringing a backup in would do, and the choices where two devices went different ways.

use evenloop_engine::text::Typed;

pub(crate) const LOOKING: &str = "Looking into the file …";
pub(crate) const TITLE: &str = "What comes in with this file";
pub(crate) const NOT_YET: &str = "Nothing has been changed yet.";

/// Where and when a file was saved.
pub(crate) fn saved_on(device: &Typed, when: &str) -> String {
    format!("It was saved on “{device}”, {when}.")
}

/// When a file was saved of which nobody knows where.
pub(crate) fn saved(when: &str) -> String {
    format!("It was saved {when}.")
}

/// What would become of some pairs.
pub(crate) const NEW: &str = "New here";
pub(crate) const FURTHER_THERE: &str = "Further in the file, and goes on from there";
pub(crate) const FURTHER_HERE: &str = "As far or further here, and stays as it is";
pub(crate) const BOTH_HAVE: &str =
    "Each has something that the other lacks, and both are put together";
pub(crate) const NOT_CHOSEN_THERE: &str = "Not chosen on the other device, and kept aside here too";
pub(crate) const UNREADABLE: &str = "Cannot be read, and will be set aside";
pub(crate) const SETTINGS: &str = "The settings come along.";

/// A pair that was given a name on both devices: the one given last, which holds, and the other.
pub(crate) fn names_given(holds: &Typed, other: &Typed) -> String {
    format!("One pair has two names: “{holds}”, given last and used now, and “{other}”.")
}

pub(crate) const NOTHING_NEW: &str =
    "Everything in this file is here already. Nothing was changed.";

pub(crate) const DO: &str = "Bring it in";
pub(crate) const DONT: &str = "Leave everything as it is";
pub(crate) const LEFT: &str = "Everything was left as it is.";

/// Why the knitter has to choose.
pub(crate) fn parted_rounds(name: &Typed) -> String {
    format!("“{name}” was counted on differently in two places. Which one is on your needles?")
}

/// The same where only notes or weighings differ.
pub(crate) fn parted_remarks(name: &Typed) -> String {
    format!("“{name}” has different notes or weighings at the same place. Which ones are right?")
}

/// The same where two plans were cast on under one name.
pub(crate) fn parted_plan(name: &Typed) -> String {
    format!("“{name}” has a different plan in the file. Which one is on your needles?")
}

/// How far a pair was when it was last the same on both devices.
pub(crate) fn last_the_same(place: &str) -> String {
    format!("Last the same in both: {place}")
}

pub(crate) const HERE: &str = "As on this device";
pub(crate) const THERE: &str = "As in the file";
pub(crate) const BOTH: &str = "Keep both";
pub(crate) const BOTH_NOTE: &str = "As two pairs in the basket.";
pub(crate) const NOTHING_LOST: &str =
    "What you do not choose is kept too: Settings has it under “Not chosen”.";

/// When a pair was last counted, and on which device, where that is known.
pub(crate) fn last_counted(device: Option<&Typed>, when: &str) -> String {
    match device {
        Some(device) => format!("Last counted on “{device}”, {when}."),
        None => format!("Last counted {when}."),
    }
}

/// A pair's name, and the device that tells it apart from another of that name.
pub(crate) fn on_device(name: &Typed, device: &Typed) -> String {
    format!("{name}, on {device}")
}

pub(crate) const NOT_CHOSEN: &str = "Not chosen";
pub(crate) const NOT_CHOSEN_TEXT: &str = "These went another way on another device, and you went on with the other one. They are part of every backup.";
pub(crate) const PUT_IN_BASKET: &str = "Put it in the basket";
pub(crate) const LET_GO: &str = "Delete";
pub(crate) const LET_GO_SURE: &str = "Then it is gone, and no later backup has it.";
pub(crate) const LET_GO_YES: &str = "Delete permanently";
pub(crate) const LET_GO_NO: &str = "Keep it";
pub(crate) const IN_BASKET: &str = "It is in the basket now, as a pair of its own.";
pub(crate) const GONE: &str = "It is gone.";
pub(crate) const NOT_DONE: &str = "The browser did not store that. It is still kept here.";
pub(crate) const NO_ROOM: &str =
    "There is no room left on this device for another pair. It is still kept here.";

pub(crate) const PASTE: &str = "Paste the basket";
pub(crate) const NOT_PASTED: &str =
    "Nothing could be pasted. Copy the basket once more, or bring in a saved backup.";
