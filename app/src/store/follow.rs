//! Two windows, one basket: what another window stores is noticed here and read again.

use leptos::prelude::*;

/// Counts what other windows have stored. A screen that shows stored things reads them again
/// whenever this changes.
#[derive(Debug, Clone, Copy)]
pub struct OtherWindows {
    revision: RwSignal<u32>,
}

impl OtherWindows {
    /// Begins to listen once the page is alive. On the server it never changes.
    pub fn start() -> Self {
        let follow = Self {
            revision: RwSignal::new(0),
        };
        #[cfg(feature = "hydrate")]
        Effect::new(move || {
            let listening = window_event_listener(leptos::ev::storage, move |event| {
                // No key: everything was wiped. The browser tells only windows that did not write.
                if event
                    .key()
                    .is_none_or(|key| key.starts_with(super::keys::ROOT))
                {
                    follow.touch();
                }
            });
            on_cleanup(move || listening.remove());
        });
        follow
    }

    /// Everything may have changed, and this window did it: all its screens read again.
    pub fn touch(self) {
        self.revision.update(|n| *n = n.wrapping_add(1));
    }

    /// Follows, inside an effect or a memo.
    pub fn follow(self) {
        self.revision.track();
    }
}
