//! What this device says of its storage and its clock. It holds for the browser as a whole, whatever is
//! stored.

use super::error::StoreError;
use super::keys;
use super::pair::PairId;

#[cfg(feature = "hydrate")]
use super::browser::Browser as Here;
#[cfg(not(feature = "hydrate"))]
use super::shelf::NoShelf as Here;

/// Characters that browsers give a site's `localStorage`: five million, common practice of all of
/// them.
const USUAL_ROOM: usize = 5_000_000;

/// Whether less than a fifth of what browsers give a site is left.
///
/// # Errors
/// When there is no storage.
pub fn nearly_full() -> Result<bool, StoreError> {
    Ok(Here::used()? > USUAL_ROOM / 5 * 4)
}

/// Whether there is no room left and what was knitted last waits for it.
pub fn waits() -> bool {
    Here::waits()
}

/// Keeps what the first paint shows next time, in place of what it was; nothing takes it away. No second copy is
/// kept of it, and where it finds no room the first paint shows nothing.
pub fn note_shown(text: Option<&str>) {
    Here::note_shown(text);
}

/// The pairs of which the second copy put something back since this was last asked, each once.
pub fn take_put_back() -> Vec<PairId> {
    let mut pairs = Vec::new();
    for key in Here::take_put_back() {
        if let Some((id, _)) = keys::read(&key)
            && !pairs.contains(&id)
        {
            pairs.push(id);
        }
    }
    pairs
}

/// When both copies were last found to be the same, in seconds since 1970; `None` while they are known to differ, or
/// nobody has looked since the page was opened.
pub fn copies_last_the_same() -> Option<u64> {
    Here::copies_last_the_same()
}

/// Whether what is stored outlasts the page. Where the browser denies storage it does not, and the
/// knitter has to know.
pub fn lasts() -> bool {
    Here::lasts()
}

/// Seconds since 1970 by the device's clock; 0 on the server, where nothing is stored.
pub fn now() -> u64 {
    #[cfg(feature = "hydrate")]
    {
        // Milliseconds since 1970 are positive and far below 2^53.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let seconds = (js_sys::Date::now() / 1000.0) as u64;
        seconds
    }
    #[cfg(not(feature = "hydrate"))]
    0
}

/// A random number to tell apart what was made in the same second; 0 on the server.
pub(super) fn random() -> u32 {
    #[cfg(feature = "hydrate")]
    {
        // Random numbers lie from 0 to below 1.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let number = (js_sys::Math::random() * f64::from(u32::MAX)) as u32;
        number
    }
    #[cfg(not(feature = "hydrate"))]
    0
}
