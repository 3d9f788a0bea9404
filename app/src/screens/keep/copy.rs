//! Every sentence of Keep. Another language needs another of these files and nothing else.

use crate::parts::Choice;
use crate::store::{Refused, Restored, StoreError};

pub(super) const TITLE: &str = "Keep";
pub(super) const LEAD: &str = "How Evenloop speaks and looks, and your pairs as a file.";

pub(super) const BACKUP: &str = "Backup";
pub(super) const BACKUP_TEXT: &str = "All pairs, every counted round and these settings in one file. Nothing leaves this device unless you take it elsewhere.";
pub(super) const SAVE: &str = "Save a backup";
pub(super) const SAVED: &str =
    "The backup went to your downloads. Keep a copy away from this device.";
pub(super) const NOT_SAVED: &str =
    "The browser would not make the file. Please try again, or in another browser.";
pub(super) const RESTORE: &str = "Bring back from a backup";
pub(super) const RESTORE_TEXT: &str = "Pairs that are not here are added. Of a pair that is in both, the one counted further stays; nothing is overwritten unseen.";
pub(super) const UNREAD: &str = "The file could not be read. Please choose it again.";

pub(super) const ASIDE: &str = "Set aside";
pub(super) const ASIDE_TEXT: &str =
    "These could not be read. They are kept as they are and are part of every backup.";

pub(super) const WORDS: &str = "Instructions";
pub(super) const FORM: &str = "Words";
pub(super) const FORMS: [Choice; 2] = [
    Choice::with_note("Plain", "knit 14, knit 2 together"),
    Choice::with_note("Short", "k14, k2tog"),
];
pub(super) const REACH: &str = "Runs of stitches";
pub(super) const REACHES: [Choice; 2] = [
    Choice::with_note("To the marker", "knit to 3 before the marker"),
    Choice::with_note("Counted", "knit 14"),
];
pub(super) const ENGLISH: &str = "Where words differ";
pub(super) const ENGLISHES: [Choice; 2] = [
    Choice::with_note("British", "cast off, tension, colour").verbatim(),
    Choice::with_note("American", "bind off, gauge, color").verbatim(),
];
pub(super) const UNIT: &str = "Lengths in";
pub(super) const UNITS: [Choice; 2] = [Choice::plain("cm"), Choice::plain("inches")];

pub(super) const LOOK: &str = "Look and hand";
pub(super) const THEME: &str = "Light or dark";
pub(super) const THEMES: [Choice; 3] = [
    Choice::plain("Device"),
    Choice::plain("Light"),
    Choice::plain("Dark"),
];
pub(super) const HAND: &str = "The hand that touches the pad";
pub(super) const HANDS: [Choice; 2] = [Choice::plain("Right"), Choice::plain("Left")];
pub(super) const BIG: Choice = Choice::with_note("Large letters", "For reading at arm's length.");

pub(super) const BESIDE: &str = "While knitting";
pub(super) const AWAKE: Choice = Choice::with_note("Keep the screen on", "Where the browser can.");
pub(super) const BUZZ: Choice =
    Choice::with_note("Buzz at a touch", "A short one, where the phone can.");
pub(super) const SPEECH: Choice = Choice::with_note(
    "Say the next instruction aloud",
    "Where the device has a voice.",
);
pub(super) const NOT_AWAKE: &str =
    "This browser cannot keep the screen on; the device's own settings say when it goes dark.";
pub(super) const NO_BUZZ: &str = "This browser cannot buzz.";
pub(super) const NO_VOICE: &str = "This browser cannot speak.";
pub(super) const NOT_STORED: &str =
    "The browser did not store that; it holds until this page closes.";

pub(super) const PLAN: &str = "On paper";
pub(super) const PLAN_TEXT: &str = "The whole plan of the pair at hand, to print, to save as plain text, or to hand its recipe on.";
pub(super) const TO_PLAN: &str = "Open the plan";
pub(super) const GUIDE: &str = "What is where";
pub(super) const GUIDE_TEXT: &str = "A walk through the screens in under a minute.";
pub(super) const GUIDE_AGAIN: &str = "Show me round";

pub(super) const CARE: &str = "With care";
pub(super) const CARES: [&str; 5] = [
    "Rest hands and wrists now and then; a row more is rarely worth a sore thumb.",
    "Knitted socks slip on smooth floors. Stairs want bare feet or soles with grip.",
    "For babies and toddlers: no long loose strands inside, every end woven in well, nothing sewn on that could come off.",
    "A cuff must not bind. With swelling, diabetes or poor circulation choose less ease at cuff and leg so that it sits looser, and ask those who treat the wearer.",
    "Some skin does not bear wool. Let the wearer try the yarn first.",
];
pub(super) const CARE_NOTE: &str = "This is common practice, not medical advice. Sizes and yarn are estimates: a washed swatch and the foot itself decide.";

/// Why a file was refused.
pub(super) const fn refused(why: &Refused) -> &'static str {
    match why {
        Refused::TooLarge => {
            "This file is too large to be a backup of Evenloop. Nothing was changed."
        }
        Refused::NotOurs => {
            "This file is not a backup of Evenloop, or it is damaged. Nothing was changed."
        }
        Refused::Newer => {
            "This backup was made by a newer Evenloop. Update this one first; nothing was changed."
        }
        Refused::NotLoaded => {
            "What reads a backup is not stored on this device yet. Nothing was changed; please try again when there is a signal."
        }
    }
}

/// What a restore did, sentence by sentence.
pub(super) fn restored(report: &Restored) -> Vec<String> {
    let mut lines = Vec::new();
    let mut say = |names: &[String], what: &str| {
        if !names.is_empty() {
            lines.push(format!("{what}: “{}”.", names.join("”, “")));
        }
    };
    say(&report.added, "Added");
    say(&report.continued, "Gone on as far as the backup");
    say(
        &report.kept,
        "Left as it is here, which is as far or further",
    );
    say(
        &report.beside,
        "Counted differently in both, so the other stands beside it as",
    );
    say(&report.unreadable, "Could not be read and was set aside");
    if report.settings {
        lines.push("The settings came from the backup.".to_owned());
    }
    if lines.is_empty() && report.stopped.is_none() {
        lines.push("There was nothing in this backup.".to_owned());
    }
    match &report.stopped {
        None => {}
        Some(StoreError::Full) => lines.push(
            "Then there was no room left on this device. What is named here is done, and nothing was lost; make room and bring the backup in again.".to_owned(),
        ),
        Some(_) => lines.push(
            "Then the browser refused to store more. What is named here is done, and nothing was lost.".to_owned(),
        ),
    }
    lines
}

/// Name of a backup file; `day` as 2026-11-25.
pub(super) fn file_name(day: &str) -> String {
    format!("evenloop-{day}.json")
}
