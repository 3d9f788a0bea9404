//! Every sentence of Plan. Another language needs another of these files and nothing else.

use evenloop_engine::text::{self, Wording};

use super::Wanting;
use crate::store::StoreError;
use crate::text::mistake;

pub(super) const TITLE: &str = "Plan";
pub(super) const LEAD: &str = "A whole sock on paper: figures, every round, and boxes to tick.";
pub(super) const LOOKING: &str = "Looking for the plan ...";
pub(super) const PRINT: &str = "Print";
pub(super) const SAVE: &str = "Save as plain text";
pub(super) const TO_MEASURE: &str = "Put the recipe in Measure";
pub(super) const FILE: &str = "sock-plan.txt";
pub(super) const UNWILLING: &str =
    "The browser would not do that. Its own menu can print and save this page.";

pub(super) const SHARE: &str = "Hand the recipe on";
pub(super) const SHARE_TEXT: &str = "The whole recipe is in this address: measurements and choices. The pair's name and what was counted are not in it. Opening it takes no account.";
pub(super) const ADDRESS: &str = "Address of the recipe";
pub(super) const SEND: &str = "Send the address";
pub(super) const COPY: &str = "Copy the address";
pub(super) const COPIED: &str = "The address is copied.";
pub(super) const NOT_COPIED: &str =
    "The browser would not copy it. It is selected in the line above: copy it from there.";
pub(super) const SENT_AS: &str = "A sock recipe";
pub(super) const CODE: &str = "As a code for another phone's camera";
pub(super) const CODE_NAME: &str = "QR code of the address above";
pub(super) const CODE_TOO_LONG: &str =
    "This recipe is too long for a code. Its address can be sent or copied all the same.";

/// Why there is no plan, in sentences.
pub(super) fn wanting(why: &Wanting) -> Vec<String> {
    match why {
        Wanting::Link(why) => vec![text::link_error(why).to_owned()],
        Wanting::NoSock(errors) => {
            let mut lines = vec!["This recipe does not make a sock:".to_owned()];
            lines.extend(
                errors
                    .iter()
                    .map(|error| text::problem(&error.problem, Wording::default()))
                    .map(|said| format!("{} {}", said.message, said.help)),
            );
            lines
        }
        Wanting::Mistake(bug) => vec![mistake::mistake(bug)],
        Wanting::NothingAtHand => vec![
            "No pair is at hand. Choose one in the basket, or measure for a new one.".to_owned(),
        ],
        Wanting::Store(StoreError::NotThere) => vec![
            "This pair is not in the basket of this device. It may have been taken out.".to_owned(),
        ],
        Wanting::Store(StoreError::Newer { .. }) => vec![
            "This pair was stored by a newer Evenloop. Once this device has the newer one, it can be read again.".to_owned(),
        ],
        Wanting::Store(StoreError::Denied) => vec![
            "The browser gives no access to what is stored here, as in a private window.".to_owned(),
        ],
        Wanting::Store(_) => vec![
            "This pair's plan cannot be read. Nothing was changed; a backup in Keep has it as it is.".to_owned(),
        ],
    }
}
