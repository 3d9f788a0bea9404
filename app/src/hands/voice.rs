//! Says the next instruction aloud, on request.

use js_sys::Reflect;
use web_sys::{SpeechSynthesis, SpeechSynthesisUtterance};

use crate::text;

/// Says something; what was being said is cut off, the hands are further already.
pub fn say(sentence: &str) {
    if let (Some(voice), Ok(words)) = (voice(), SpeechSynthesisUtterance::new_with_text(sentence)) {
        words.set_lang(text::TAG);
        voice.cancel();
        voice.speak(&words);
    }
}

/// Stops saying it.
pub fn be_silent() {
    if let Some(voice) = voice() {
        voice.cancel();
    }
}

/// Whether this browser can speak; whether the device has a voice shows only when it is asked to.
pub fn can_speak() -> bool {
    voice().is_some()
}

fn voice() -> Option<SpeechSynthesis> {
    let window = web_sys::window()?;
    let able = |name: &str| Reflect::has(&window, &name.into()).unwrap_or(false);
    if able("speechSynthesis") && able("SpeechSynthesisUtterance") {
        window.speech_synthesis().ok()
    } else {
        None
    }
}
