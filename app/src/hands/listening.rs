//! Hears spoken words, on request. A script of its own (`public/listening.js`) deals with the browser; here is what
//! words mean. Only what is said by itself counts: in a talk with somebody the same words say nothing.

use leptos::prelude::*;
use wasm_bindgen::prelude::{Closure, wasm_bindgen};
use wasm_bindgen::{JsCast, JsValue};

use crate::text;

/// What spoken words ask for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spoken {
    /// The round is done.
    Done,
    /// Take the last one back.
    Undo,
    /// Say where the work is.
    Where,
}

/// How the listening goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Listening {
    /// What is said is understood on the device.
    OnDevice,
    /// What is said may leave the device to be understood.
    Away,
    /// The browser or the knitter does not let the page listen.
    Refused,
    /// No microphone or no signal for the time being.
    Silent,
}

impl Listening {
    /// As the script calls it.
    fn named(state: &str) -> Option<Self> {
        match state {
            "here" => Some(Self::OnDevice),
            "away" => Some(Self::Away),
            "refused" => Some(Self::Refused),
            "silent" => Some(Self::Silent),
            _ => None,
        }
    }
}

#[wasm_bindgen]
extern "C" {
    type Script;
    // Fails where the script cannot be had.
    #[wasm_bindgen(catch, js_namespace = globalThis, js_name = evenloopListening)]
    async fn script() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(method)]
    fn listen(
        this: &Script,
        language: &str,
        heard: &JsValue,
        changed: &JsValue,
    ) -> js_sys::Function;
}

/// What was said, if it is one of the words that ask for something and nothing besides.
fn meaning(said: &str) -> Option<Spoken> {
    let words: Vec<String> = said
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let said = words.join(" ");
    [
        (Spoken::Done, &text::now::SPOKEN_DONE[..]),
        (Spoken::Undo, &text::now::SPOKEN_UNDO[..]),
        (Spoken::Where, &text::now::SPOKEN_WHERE[..]),
    ]
    .into_iter()
    .find_map(|(spoken, words)| words.contains(&said.as_str()).then_some(spoken))
}

/// Listens until the owner that this is called under is gone: calls `heard` for each word that asks for something,
/// and says in `changed` how the listening goes.
pub fn hear(
    language: &'static str,
    heard: impl Fn(Spoken) + 'static,
    changed: impl Fn(Option<Listening>) + 'static,
) {
    let stop = StoredValue::new_local(None::<js_sys::Function>);
    let closures = StoredValue::new_local(None);
    on_cleanup(move || {
        if let Some(stop) = stop.try_update_value(Option::take).flatten() {
            // It ends whatever it says.
            let _ = stop.call0(&JsValue::NULL);
        }
    });
    let heard = Closure::<dyn Fn(String) -> bool>::new(move |said: String| {
        meaning(&said).map(&heard).is_some()
    });
    let changed =
        Closure::<dyn Fn(String)>::new(move |state: String| changed(Listening::named(&state)));
    leptos::task::spawn_local(async move {
        let Ok(script) = script().await else {
            return;
        };
        let script: Script = script.unchecked_into();
        let end = script.listen(language, heard.as_ref(), changed.as_ref());
        if closures.try_set_value(Some((heard, changed))).is_some()
            || stop.try_set_value(Some(end.clone())).is_some()
        {
            // The screen was left meanwhile.
            let _ = end.call0(&JsValue::NULL);
        }
    });
}

/// Whether this browser can listen.
pub fn can_hear() -> bool {
    web_sys::window().is_some_and(|window| {
        ["SpeechRecognition", "webkitSpeechRecognition"]
            .iter()
            .any(|name| js_sys::Reflect::has(&window, &(*name).into()).unwrap_or(false))
    })
}

#[cfg(test)]
#[cfg(not(feature = "made-up-language"))]
mod tests {
    use super::*;

    #[test]
    fn only_words_by_themselves_ask_for_something() {
        for (said, meant) in [
            ("done", Some(Spoken::Done)),
            (" Done. ", Some(Spoken::Done)),
            ("Back", Some(Spoken::Undo)),
            ("go back", Some(Spoken::Undo)),
            ("Where am I?", Some(Spoken::Where)),
            ("I am done with work", None),
            ("come back here", None),
            ("where am I going", None),
            ("", None),
            ("...", None),
        ] {
            assert_eq!(meaning(said), meant, "{said}");
        }
    }
}
