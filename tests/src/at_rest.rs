//! What a knitter does with the needles at rest: opens a check, types what she counted, and goes where it leads and back.

use thirtyfour::Key;

use crate::phone::Phone;
use crate::touching::{until_place, until_shown};

/// Opens one of the checks, from 1.
pub async fn open_check(phone: &Phone, number: usize) {
    phone.tap(".to-pause").await;
    phone
        .tap(&format!(".entries .entry:nth-of-type({number})"))
        .await;
    phone.find(".steppers").await;
}

/// Types a count into a line of a check.
pub async fn count(phone: &Phone, css: &str, stitches: u16) {
    let line = phone.find(css).await;
    let chosen = line.send_keys(Key::Control + "a").await;
    chosen.expect("all of it is chosen");
    let typed = line.send_keys(stitches.to_string()).await;
    typed.expect("it can be typed into");
}

/// An earlier round whose counts are those that were found.
pub struct Earlier<'a> {
    /// Where Now is, as its place says it.
    pub here: &'a str,
    /// Stitches that are on both needles here.
    pub right: u16,
    /// Those that were counted on both.
    pub counted: u16,
    /// What is told of it.
    pub told: &'a [&'a str],
}

/// On two needles, types counts that fit an earlier round and goes where they lead.
pub async fn go_to_earlier(phone: &Phone, earlier: &Earlier<'_>) {
    until_place(phone, earlier.here).await;
    open_check(phone, 1).await;
    let right = format!("That is right: {0} and {0}", earlier.right);
    until_shown(phone, ".findings", &right).await;
    for needle in ["#count-0", "#count-1"] {
        count(phone, needle, earlier.counted).await;
    }
    until_shown(phone, ".findings", "earlier than you thought").await;
    for told in earlier.told {
        until_shown(phone, ".findings", told).await;
    }
    phone.tap(".findings .button.lead").await;
    let away = format!(
        "return !document.querySelector('.now-head .where').textContent.includes({:?})",
        earlier.here
    );
    phone.until("Now is at another round", &away).await;
}

/// Takes the way to another round back.
pub async fn come_back(phone: &Phone, here: &str) {
    phone.tap(".undo").await;
    until_place(phone, here).await;
}
