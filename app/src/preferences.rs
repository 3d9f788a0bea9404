//! The knitter's settings as one signal for all screens, and what they do to the whole page.
//!
//! The first render knows only the default; what is stored is read once the page is alive.
//!
//! May use the store and the document; must not know any screen.

use evenloop_engine::text::{English, KnittingHand};
use leptos::prelude::*;

use crate::store::{self, OtherWindows, Settings, StoreError};

/// The settings, to be read and changed by any screen.
#[derive(Debug, Clone, Copy)]
pub struct Preferences {
    settings: RwSignal<Settings>,
    loaded: RwSignal<bool>,
}

impl Preferences {
    /// Reads what is stored once the page is alive, and again when another window changes it.
    pub fn start(follow: OtherWindows) -> Self {
        let all = Self {
            settings: RwSignal::new(Settings::default()),
            loaded: RwSignal::new(false),
        };
        Effect::new(move || {
            follow.follow();
            let mut stored = store::here().settings();
            apply_wording(&mut stored);
            if stored != all.settings.get_untracked() {
                all.settings.set(stored);
            }
            all.loaded.set(true);
        });
        Effect::new(move || {
            if all.loaded.get() {
                set_page_attributes(&all.settings.get());
            }
        });
        all
    }

    /// The settings as they are now; follows them inside an effect or a view.
    pub fn get(self) -> Settings {
        self.settings.get()
    }

    /// The settings as they are now, without following them.
    pub fn get_untracked(self) -> Settings {
        self.settings.get_untracked()
    }

    /// Whether what is stored has been read; before that all is the default's.
    pub fn loaded(self) -> bool {
        self.loaded.get()
    }

    /// Changes and stores them. They are in force for this page even when they cannot be stored.
    ///
    /// # Errors
    /// When they cannot be stored.
    pub fn change(self, change: impl FnOnce(&mut Settings)) -> Result<(), StoreError> {
        self.settings.update(|settings| {
            change(settings);
            apply_wording(settings);
        });
        store::here().save_settings(&self.settings.get_untracked())
    }
}

/// How instructions are said follows what was chosen for all words and lengths.
fn apply_wording(settings: &mut Settings) {
    settings.style.english = english(settings);
    settings.style.unit = settings.unit;
}

/// The words that were chosen, else those of the browser's language.
fn english(settings: &Settings) -> English {
    settings.english.unwrap_or_else(|| {
        English::of_language(&window().navigator().language().unwrap_or_default())
    })
}

/// The settings. Only below the app's root, where they are provided.
pub fn use_preferences() -> Preferences {
    // A screen shown outside the app (in a test) gets the default.
    use_context().unwrap_or_else(|| Preferences {
        settings: RwSignal::new(Settings::default()),
        loaded: RwSignal::new(false),
    })
}

/// Light, dark, large letters and pictures for left-handed knitting are the style sheet's business; it looks
/// at three attributes.
fn set_page_attributes(settings: &Settings) {
    use crate::store::Theme;

    let Some(root) = document().document_element() else {
        return;
    };
    let theme = match settings.theme {
        Theme::System => None,
        Theme::Light => Some("light"),
        Theme::Dark => Some("dark"),
    };
    let text = settings.big_text.then_some("big");
    let knits = (settings.style.hand == KnittingHand::Left).then_some("left");
    for (name, value) in [
        ("data-theme", theme),
        ("data-text", text),
        ("data-knits", knits),
    ] {
        // Setting a plain attribute on the root cannot fail in a browser; if it did, the page would
        // only look as before.
        let _ = match value {
            Some(value) => root.set_attribute(name, value),
            None => root.remove_attribute(name),
        };
    }
}
