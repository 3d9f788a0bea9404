//! How long the browser of this device keeps what is stored: a pure judgement of a few facts, and the facts
//! as the browser tells them. What browsers do is said as far as it was known from memory when this was
//! written, without a published source; so the sentences made of it say "may".

#[cfg(feature = "hydrate")]
use wasm_bindgen::JsCast;

/// A device on which Apple's `WebKit` shows the app.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AppleDevice {
    /// A phone or tablet, with a home screen.
    Handheld,
    /// A computer, with a dock.
    Computer,
}

/// What the browser says to being asked not to clear this site's storage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(not(feature = "hydrate"), allow(dead_code))] // only a browser answers
pub enum PersistAnswer {
    /// It cannot be asked.
    NotOffered,
    /// It can be asked and has promised nothing.
    NotPromised,
    /// It has promised.
    Promised,
}

/// All that is known of how this device keeps what is stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StorageFacts {
    /// Whether what is stored outlasts the page at all.
    pub lasts: bool,
    /// Whether the app is open in a window of its own, not in a tab of the browser.
    pub installed: bool,
    /// The device, where the browser is Apple's `WebKit`.
    pub apple: Option<AppleDevice>,
    /// The browser's answer.
    pub answer: PersistAnswer,
}

/// How long what is stored stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Permanence {
    /// Until this window closes.
    GoneWithWindow,
    /// Until the knitter clears it.
    Kept,
    /// Until the device is short of room, perhaps; and whether the browser can be asked to keep it.
    MayBeEvicted {
        /// Whether asking is offered.
        can_ask: bool,
    },
    /// Until the site was not visited for some days, perhaps. An installed app has storage of its own,
    /// of which this is not said.
    MayBeClearedUnvisited(AppleDevice),
}

impl StorageFacts {
    /// What follows from the facts. On Apple's devices a promise counts only in an installed app: it is about
    /// want of room, not about days without a visit (from memory).
    pub const fn permanence(self) -> Permanence {
        match self {
            Self { lasts: false, .. } => Permanence::GoneWithWindow,
            Self {
                installed: false,
                apple: Some(device),
                ..
            } => Permanence::MayBeClearedUnvisited(device),
            Self { answer, .. } => match answer {
                PersistAnswer::Promised => Permanence::Kept,
                PersistAnswer::NotPromised => Permanence::MayBeEvicted { can_ask: true },
                PersistAnswer::NotOffered => Permanence::MayBeEvicted { can_ask: false },
            },
        }
    }

    fn here(answer: PersistAnswer) -> Self {
        Self {
            lasts: super::device::lasts(),
            installed: installed(),
            apple: apple(),
            answer,
        }
    }
}

/// How long what is stored here stays, by what the browser has answered so far. Nothing is asked of it, so
/// the knitter sees no question.
pub async fn permanence() -> Permanence {
    StorageFacts::here(answered().await).permanence()
}

/// The device on which what is stored may be cleared after some days without a visit, where this is one.
pub fn may_be_cleared_unvisited() -> Option<AppleDevice> {
    // The answer of the browser makes no difference to this.
    match StorageFacts::here(PersistAnswer::NotOffered).permanence() {
        Permanence::MayBeClearedUnvisited(device) => Some(device),
        _ => None,
    }
}

/// Whether the second copy has confirmed all that was stored so far.
pub fn second_copy_is_whole() -> bool {
    #[cfg(feature = "hydrate")]
    let whole = super::browser::Browser::second_copy_is_whole();
    #[cfg(not(feature = "hydrate"))]
    let whole = false;
    whole
}

/// Asks the browser not to clear this site's storage when it needs room, and gives how long what is stored
/// stays then. Some browsers put the question to the knitter.
pub async fn ask_to_stay() -> Permanence {
    StorageFacts::here(asked().await).permanence()
}

#[cfg(feature = "hydrate")]
async fn answered() -> PersistAnswer {
    answer_of(manager().and_then(|manager| manager.persisted().ok())).await
}

#[cfg(feature = "hydrate")]
async fn asked() -> PersistAnswer {
    answer_of(manager().and_then(|manager| manager.persist().ok())).await
}

#[cfg(feature = "hydrate")]
async fn answer_of(promise: Option<js_sys::Promise>) -> PersistAnswer {
    let Some(promise) = promise else {
        return PersistAnswer::NotOffered;
    };
    match wasm_bindgen_futures::JsFuture::from(promise).await {
        Ok(answer) if answer.is_truthy() => PersistAnswer::Promised,
        // Refused, or it went wrong: either way nothing is promised.
        _ => PersistAnswer::NotPromised,
    }
}

/// Absent in old browsers and where the page did not come over a secure connection.
#[cfg(feature = "hydrate")]
fn manager() -> Option<web_sys::StorageManager> {
    let navigator = web_sys::window()?.navigator();
    let manager = js_sys::Reflect::get(&navigator, &"storage".into()).ok()?;
    manager.dyn_into().ok()
}

/// Whether the app is open in a window of its own, as when it is installed; `false` on the server.
pub fn is_installed() -> bool {
    installed()
}

#[cfg(feature = "hydrate")]
fn installed() -> bool {
    let Some(window) = web_sys::window() else {
        return false;
    };
    let alone = window.match_media("(display-mode: standalone)");
    alone.ok().flatten().is_some_and(|query| query.matches())
        // Older browsers of Apple's phones only say it so (from memory).
        || js_sys::Reflect::get(&window.navigator(), &"standalone".into())
            .is_ok_and(|standalone| standalone.is_truthy())
}

/// Told by what it can do, as browsers call themselves by each other's names: only Apple's `WebKit` has
/// gesture events, and only on phones and tablets does its navigator have `standalone` (both from memory).
#[cfg(feature = "hydrate")]
fn apple() -> Option<AppleDevice> {
    let window = web_sys::window()?;
    let has = |of: &wasm_bindgen::JsValue, name: &str| {
        js_sys::Reflect::has(of, &name.into()).unwrap_or(false)
    };
    has(&window, "GestureEvent").then(|| {
        if has(&window.navigator(), "standalone") {
            AppleDevice::Handheld
        } else {
            AppleDevice::Computer
        }
    })
}

#[cfg(not(feature = "hydrate"))]
async fn answered() -> PersistAnswer {
    std::future::ready(PersistAnswer::NotOffered).await
}

#[cfg(not(feature = "hydrate"))]
async fn asked() -> PersistAnswer {
    std::future::ready(PersistAnswer::NotOffered).await
}

#[cfg(not(feature = "hydrate"))]
const fn installed() -> bool {
    false
}

#[cfg(not(feature = "hydrate"))]
const fn apple() -> Option<AppleDevice> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const APPLES: [Option<AppleDevice>; 3] = [
        None,
        Some(AppleDevice::Handheld),
        Some(AppleDevice::Computer),
    ];
    const ANSWERS: [PersistAnswer; 3] = [
        PersistAnswer::NotOffered,
        PersistAnswer::NotPromised,
        PersistAnswer::Promised,
    ];

    fn all() -> impl Iterator<Item = StorageFacts> {
        [false, true].into_iter().flat_map(|lasts| {
            [false, true].into_iter().flat_map(move |installed| {
                APPLES.into_iter().flat_map(move |apple| {
                    ANSWERS.into_iter().map(move |answer| StorageFacts {
                        lasts,
                        installed,
                        apple,
                        answer,
                    })
                })
            })
        })
    }

    #[test]
    fn what_does_not_last_goes_with_the_window_whatever_else_is_said() {
        let cases: Vec<_> = all().filter(|facts| !facts.lasts).collect();
        assert_eq!(cases.len(), 18);
        for facts in cases {
            assert_eq!(facts.permanence(), Permanence::GoneWithWindow, "{facts:?}");
        }
    }

    #[test]
    fn in_a_tab_on_apple_no_answer_keeps_it() {
        let cases: Vec<_> = all()
            .filter(|facts| facts.lasts && !facts.installed)
            .filter_map(|facts| Some((facts, facts.apple?)))
            .collect();
        assert_eq!(cases.len(), 6);
        for (facts, device) in cases {
            let cleared = Permanence::MayBeClearedUnvisited(device);
            assert_eq!(facts.permanence(), cleared, "{facts:?}");
        }
    }

    #[test]
    fn installed_or_elsewhere_the_answer_decides() {
        let cases: Vec<_> = all()
            .filter(|facts| facts.lasts && (facts.installed || facts.apple.is_none()))
            .collect();
        assert_eq!(cases.len(), 12);
        for facts in cases {
            let meant = match facts.answer {
                PersistAnswer::NotOffered => Permanence::MayBeEvicted { can_ask: false },
                PersistAnswer::NotPromised => Permanence::MayBeEvicted { can_ask: true },
                PersistAnswer::Promised => Permanence::Kept,
            };
            assert_eq!(facts.permanence(), meant, "{facts:?}");
        }
    }
}
