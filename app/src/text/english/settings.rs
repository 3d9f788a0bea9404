//! Settings.

use evenloop_engine::text::Typed;

pub(crate) const LEAD: &str = "How Evenloop speaks and looks, and your pairs as a file.";

pub(crate) const BACKUP: &str = "Backup";
pub(crate) const BACKUP_TEXT: &str = "All pairs, every counted round and these settings in one file. Nothing leaves this device unless you take it elsewhere.";
pub(crate) const SAVE: &str = "Save a backup";
pub(crate) const SAVED: &str =
    "The backup went to your downloads. Keep a copy away from this device.";
pub(crate) const NOT_SAVED: &str =
    "The browser would not make the file. Please try again, or in another browser.";
pub(crate) const RESTORE: &str = "Open a backup file";
pub(crate) const RESTORE_TEXT: &str = "From this device or another: first you see what would come in. Pairs that are not here are added. A pair that is in both keeps what was counted on either device. Where both went different ways, you choose.";
pub(crate) const UNREAD: &str = "The file could not be read. Please choose it again.";

pub(crate) const ASIDE: &str = "Set aside";
pub(crate) const ASIDE_TEXT: &str = "These could not be read, or no pair has a place for them. They are kept as they are and are part of every backup.";
pub(crate) const ASIDE_GO: &str = "Delete these";
pub(crate) const ASIDE_GO_SURE: &str =
    "Then they are gone, and no later backup has them. A backup saved before keeps them.";
pub(crate) const ASIDE_GO_YES: &str = "Delete them permanently";
pub(crate) const ASIDE_GO_NO: &str = "Keep them";
pub(crate) const ASIDE_STAYS: &str =
    "The browser did not delete them just now. They are all still here.";

/// A text that is too long to be shown whole: how many more letters it has.
pub(crate) fn cut_short(more: usize) -> String {
    format!("… and {more} more letters")
}

pub(crate) const INSTRUCTIONS: &str = "Instructions";
pub(crate) const FORM: &str = "Written in";
pub(crate) const PLAIN: &str = "Full words";
pub(crate) const PLAIN_NOTE: &str = "knit 14, knit 2 together";
pub(crate) const SHORT: &str = "Abbreviations";
pub(crate) const SHORT_NOTE: &str = "k14, k2tog";
pub(crate) const REACH: &str = "How far to knit";
pub(crate) const TO_MARKER: &str = "To the marker";
pub(crate) const TO_MARKER_NOTE: &str = "knit to 3 stitches before the marker";
pub(crate) const COUNTED: &str = "Counted";
pub(crate) const COUNTED_NOTE: &str = "knit 14";
pub(crate) const ENGLISH: &str = "British or American terms";
pub(crate) const BRITISH: &str = "British";
pub(crate) const BRITISH_NOTE: &str = "cast off, tension, colour";
pub(crate) const AMERICAN: &str = "American";
pub(crate) const AMERICAN_NOTE: &str = "bind off, gauge, color";
/// Not the hand that touches the pad.
pub(crate) const KNITS: &str = "How you knit";
pub(crate) const KNITS_RIGHT: &str = "Right-handed";
pub(crate) const KNITS_RIGHT_NOTE: &str = "from the left needle onto the right one";
pub(crate) const KNITS_LEFT: &str = "Left-handed";
pub(crate) const KNITS_LEFT_NOTE: &str =
    "from the right needle onto the left one; words, pictures and charts are the mirror image";
pub(crate) const UNIT: &str = "Lengths in";
pub(crate) const CM: &str = "cm";
pub(crate) const INCHES: &str = "inches";

pub(crate) const LOOK: &str = "Screen and touch";
pub(crate) const THEME: &str = "Light or dark";
pub(crate) const DEVICE: &str = "Device";
pub(crate) const LIGHT: &str = "Light";
pub(crate) const DARK: &str = "Dark";
pub(crate) const HAND: &str = "The hand that touches the pad";
pub(crate) const RIGHT: &str = "Right";
pub(crate) const LEFT: &str = "Left";
pub(crate) const BIG: &str = "Large letters";
pub(crate) const BIG_NOTE: &str = "For reading at arm’s length.";

pub(crate) const BESIDE: &str = "While knitting";
pub(crate) const NEEDLE: &str = "Touch after every needle";
pub(crate) const NEEDLE_NOTE: &str =
    "The Now screen then knows where in a round you stopped. Rounds count as before.";
pub(crate) const AWAKE: &str = "Keep the screen on";
pub(crate) const AWAKE_NOTE: &str = "Where the browser can.";
pub(crate) const BUZZ: &str = "Vibrate on touch";
pub(crate) const BUZZ_NOTE: &str = "One short buzz, if the phone can.";
pub(crate) const SPEECH: &str = "Say the next instruction aloud";
pub(crate) const SPEECH_NOTE: &str = "Where the device has a voice.";
pub(crate) const LISTENS: &str = "Listen for “done”, “back” and “where am I”";
pub(crate) const LISTENS_NOTE: &str = "For hands that are full. Most browsers send what the microphone hears to a service of their maker: switched on, the sounds around you may leave this device. Evenloop keeps none.";
pub(crate) const NOT_AWAKE: &str =
    "This browser cannot keep the screen on; the device’s own settings say when it goes dark.";
pub(crate) const NO_BUZZ: &str = "This browser cannot vibrate.";
pub(crate) const NO_VOICE: &str = "This browser cannot speak.";
pub(crate) const NO_LISTENING: &str = "This browser cannot listen.";
pub(crate) const NOT_STORED: &str =
    "The browser did not store that; it holds until this page closes.";

pub(crate) const PLAN: &str = "On paper";
pub(crate) const PLAN_TEXT: &str =
    "The whole plan of the pair in hand, to print, to save as plain text, or to share its recipe.";
pub(crate) const TO_PLAN: &str = "Open the plan";

pub(crate) const CARE: &str = "Cautions";
pub(crate) const CARES: [&str; 5] = [
    "Rest hands and wrists now and then; a row more is rarely worth a sore thumb.",
    "Knitted socks slip on smooth floors. On stairs go barefoot or wear soles with grip.",
    "For babies and toddlers: no long loose strands inside, every end woven in well, nothing sewn on that could come off.",
    "A cuff must not bind. With swelling, diabetes or poor circulation give cuff and leg more room (Measure has a choice for it), and ask the wearer’s doctor or nurse.",
    "Some people’s skin cannot bear wool. Let the wearer try the yarn first.",
];
pub(crate) const CARE_NOTE: &str = "This is common practice, not medical advice. Sizes and yarn are estimates: a washed swatch and the foot itself decide.";

/// Why a file was refused.
pub(crate) const TOO_LARGE: &str =
    "This file is too large to be a backup of Evenloop. Nothing was changed.";
pub(crate) const NOT_OURS: &str =
    "This file is not a backup of Evenloop, or it is damaged. Nothing was changed.";
pub(crate) const NEWER: &str =
    "This backup was made by a newer Evenloop. Update this one first; nothing was changed.";
pub(crate) const NOT_LOADED: &str = "What reads a backup is not stored on this device yet. Nothing was changed; please try again when there is a signal.";

/// What a restore did with some pairs.
pub(crate) const ADDED: &str = "Added";
pub(crate) const CONTINUED: &str = "Gone on with as in the backup";
pub(crate) const JOINED: &str = "Put together from both";
pub(crate) const KEPT: &str = "Left as it is here";
pub(crate) const BESIDE_AS: &str = "Counted differently in both, so the other stands beside it as";
pub(crate) const NOT_CHOSEN_AS: &str = "Not chosen, and kept in Settings as";
pub(crate) const UNREADABLE: &str = "Could not be read and was set aside";

/// What was done, and with which pairs.
pub(crate) fn done_with(what: &str, names: &[Typed]) -> String {
    let (first, others) = names.split_at(names.len().min(NAMED_AT_MOST));
    let first: Vec<&str> = first.iter().map(Typed::as_str).collect();
    let told = format!("{what}: “{}”", first.join("”, “"));
    match others.len() {
        0 => format!("{told}."),
        more => format!("{told} and {more} more."),
    }
}

/// The most pairs that a sentence names; of more, it says only the number.
const NAMED_AT_MOST: usize = 12;

/// What tells a pair that was counted differently from the one of its name that is here.
pub(crate) const AS_ON_DEVICE: &str = "as it was on this device";
pub(crate) const FROM_BACKUP: &str = "from the backup";

/// A pair's name, and what tells it apart.
pub(crate) fn told_apart(name: &Typed, whence: &str) -> String {
    format!("{name}, {whence}")
}

pub(crate) const SETTINGS: &str = "The settings came from the backup.";
pub(crate) const NOTHING: &str = "There was nothing in this backup.";
pub(crate) const STOPPED_FULL: &str = "Then there was no room left on this device. What is named here is done, and nothing was lost; make room and bring the backup in again.";
pub(crate) const STOPPED: &str =
    "Then the browser refused to store more. What is named here is done, and nothing was lost.";
