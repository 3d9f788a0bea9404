//! What a device is called.

/// Colours of wool, as a first name.
const COLOURS: [&str; 16] = [
    "Oat", "Moss", "Rust", "Plum", "Slate", "Fern", "Honey", "Clay", "Sand", "Mint", "Cherry",
    "Denim", "Cream", "Heather", "Charcoal", "Lavender",
];

/// What a device is called until its knitter says something else; `number` is made by chance.
pub(crate) fn first_name(number: u32) -> String {
    let colour = COLOURS[number as usize % COLOURS.len()];
    format!("{colour} device")
}

pub(crate) const TITLE: &str = "This device";
pub(crate) const TEXT: &str = "Every round is noted with the device on which it was counted. Where a pair was counted on two, you then see which is which.";
pub(crate) const NAME: &str = "What this device is called";
pub(crate) const SAVE: &str = "Save the name";
pub(crate) const SAVED: &str = "From now on rounds are noted under this name.";
pub(crate) const NOT_SAVED: &str = "The browser did not store that. The device keeps its old name.";
