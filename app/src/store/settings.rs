//! How the knitter wants things: words, hand, light.

use evenloop_engine::json::from_json;
use evenloop_engine::text::{English, Wording};
use evenloop_engine::touch::TouchCounts;
use evenloop_engine::units::LengthUnit;
use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::handle::Store;
use super::keys;
use crate::hue::Hue;

/// Every setting. Missing ones are the default's, so that an older store still reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
#[allow(clippy::struct_excessive_bools)] // each is a switch of its own
pub struct Settings {
    /// How instructions are worded.
    pub style: Wording,
    /// On which side the small buttons lie.
    pub hand: Handedness,
    /// Larger letters.
    pub big_text: bool,
    /// Light or dark.
    pub theme: Theme,
    /// Keep the screen on while knitting.
    pub awake: bool,
    /// A short buzz at every touch of the pad.
    pub buzz: bool,
    /// Say the next instruction aloud.
    pub speech: bool,
    /// Listen for spoken words.
    pub listens: bool,
    /// A touch of the pad counts a needle of the round.
    pub by_needle: bool,
    /// In which unit lengths are shown and read.
    pub unit: LengthUnit,
    /// British or American words; by the browser's language when nothing was chosen.
    pub english: Option<English>,
    /// The colours of yarns A to D.
    pub hues: [Hue; 4],
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            style: Wording::default(),
            hand: Handedness::default(),
            big_text: false,
            theme: Theme::default(),
            awake: true,
            buzz: true,
            speech: false,
            listens: false,
            by_needle: false,
            unit: LengthUnit::default(),
            english: None,
            hues: Hue::USUAL,
        }
    }
}

impl Settings {
    /// What a touch of the pad counts.
    pub const fn touch_counts(&self) -> TouchCounts {
        TouchCounts::of(self.by_needle)
    }
}

/// The hand that touches the pad.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Handedness {
    /// The right one.
    #[default]
    Right,
    /// The left one.
    Left,
}

/// Light or dark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Theme {
    /// As the device has it.
    #[default]
    System,
    /// Always light.
    Light,
    /// Always dark.
    Dark,
}

impl Store<'_> {
    /// The settings. What cannot be read goes into quarantine and the default is used.
    pub fn settings(self) -> Settings {
        let Ok(Some(text)) = self.shelf().get(keys::SETTINGS) else {
            return Settings::default();
        };
        from_json(&text).unwrap_or_else(|_| {
            // Should that fail too, they are only read again next time.
            let _ = self.quarantine(keys::SETTINGS);
            Settings::default()
        })
    }

    /// Stores the settings.
    ///
    /// # Errors
    /// When they cannot be stored.
    pub fn save_settings(self, settings: &Settings) -> Result<(), StoreError> {
        // Plain fields: nothing in it that JSON could refuse.
        self.shelf().put(
            keys::SETTINGS,
            &serde_json::to_string(settings).unwrap_or_default(),
        )
    }
}
