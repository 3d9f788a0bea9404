//! The device on which a sock is knitted, as a log names it. What it is called is the knitter's; nothing is
//! decided by it.

use std::fmt;

/// Longest name of a device that is kept, in characters.
pub const DEVICE_NAME_LIMIT: usize = 40;

/// A number that tells a device from all others, made by chance when the device is first needed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DeviceId(u64);

impl DeviceId {
    /// The id of this number.
    pub const fn new(number: u64) -> Self {
        Self(number)
    }

    /// Reads an id; `None` for what would not be written so.
    pub fn read(text: &str) -> Option<Self> {
        let id = Self(u64::from_str_radix(text, 16).ok()?);
        (id.to_string() == text).then_some(id)
    }
}

impl fmt::Display for DeviceId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:016x}", self.0)
    }
}

/// A device: its id, and what its knitter calls it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Device {
    /// Tells it from others.
    pub id: DeviceId,
    /// What it is called; see [`tidy_device_name`].
    pub name: String,
}

/// A device's name as it is kept: trimmed, in one piece, not too long; it may be empty.
pub fn tidy_device_name(text: &str) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let text: String = text.chars().take(DEVICE_NAME_LIMIT).collect();
    text.trim_end().to_owned()
}
