//! What a knitter does on Now and sees there, and what lies on the phone behind it.

use std::time::Duration;

use serde_json::{Value, json};

use crate::phone::Phone;

/// Contacts sooner after each other than this can be one finger that bounces.
pub const BOUNCE: Duration = Duration::from_millis(125);

/// Rounds done in the first sock, as they are stored: an expression of JavaScript.
pub const DONE: &str = "Object.entries({ ...localStorage })
    .filter(([key]) => /^evenloop:pair:[^:]*:log:1:/.test(key))
    .flatMap(([, text]) => text.split(' ').slice(3).join(' ').split(','))
    .filter((event) => event.startsWith('d')).length";

/// Touches the pad, and waits until the next touch is not taken for a bounce.
pub async fn touch(phone: &Phone) {
    phone.tap(".pad").await;
    tokio::time::sleep(BOUNCE).await;
}

/// Section and round, as they are shown.
pub async fn place(phone: &Phone) -> String {
    phone.text(".now-head .where").await.replace('\n', " ")
}

/// Waits until this stands in the place shown.
pub async fn until_place(phone: &Phone, text: &str) {
    until_shown(phone, ".now-head .where", text).await;
}

/// Waits until an element that matches shows this.
pub async fn until_shown(phone: &Phone, css: &str, text: &str) {
    let script = format!(
        "return [...document.querySelectorAll({css:?})].some((one) => one.textContent.includes({text:?}))"
    );
    phone.until(text, &script).await;
}

/// Puts a pattern where one is typed, as pasting does.
pub async fn paste_pattern(phone: &Phone, text: &str) {
    phone
        .ask(&format!(
            "const area = document.getElementById('pattern-text');
             area.value = {};
             area.dispatchEvent(new Event('input', {{ bubbles: true }}));",
            json!(text)
        ))
        .await;
}

/// Goes to a screen by the bar, without loading it anew.
pub async fn go(phone: &Phone, path: &str) {
    phone.tap(&format!("nav a[href='{path}']")).await;
    let there = format!("return location.pathname === '{path}'");
    phone.until(path, &there).await;
}

/// On Now, opens what can be changed in the rest of the sock.
pub async fn open_change(phone: &Phone) {
    phone.tap(".to-pause").await;
    phone.tap(".entries a.entry").await;
    phone.find("#rounds-foot").await;
    phone.until_still("#rounds-foot").await;
}

/// Asks for so many more rounds of a section, such as "Foot", and waits until the change is shown. It is not taken
/// up yet.
pub async fn ask_for_more_rounds(phone: &Phone, section: &str, rounds: usize) {
    let button = format!(
        "[aria-label^='One more: Rounds of the {}']",
        section.to_lowercase()
    );
    for _ in 0..rounds {
        let number = format!(
            "document.querySelector({button:?}).closest('.stepper').querySelector('input').value"
        );
        let before = phone.ask(&format!("return {number}")).await;
        phone.tap(&button).await;
        phone
            .until(
                "one more is counted",
                &format!("return {number} !== {before}"),
            )
            .await;
    }
    let shown = format!(
        "return /{section}: \\d+ rounds instead of \\d+/.test(document.querySelector('.beside')?.textContent)"
    );
    phone.until("the longer section is shown", &shown).await;
}

/// Rounds done in the first sock, as they are stored.
pub async fn done(phone: &Phone) -> u64 {
    let count = phone.ask(&format!("return {DONE}")).await;
    count.as_u64().expect("a count")
}

/// Everything the app has stored, by key; not what only says how far its echo is.
pub async fn stored(phone: &Phone) -> serde_json::Map<String, Value> {
    let all = phone
        .ask(
            "return Object.fromEntries(Object.entries({ ...localStorage })
                .filter(([key]) => key.startsWith('evenloop:') && key !== 'evenloop:number'))",
        )
        .await;
    all.as_object().expect("keys and texts").clone()
}

/// Puts a text under a key, past the app.
pub async fn put(phone: &Phone, key: &str, text: &str) {
    let (key, text) = (Value::from(key), Value::from(text));
    phone
        .ask(&format!("localStorage.setItem({key}, {text})"))
        .await;
}

/// Chooses a file to be brought in, in Settings or in an empty basket, and waits until it was looked into.
pub async fn look_into(phone: &Phone, text: &str) {
    let text = Value::from(text);
    phone
        .ask(&format!(
            "const input = document.querySelector('.backup input[type=file], .empty input[type=file]');
             const all = new DataTransfer();
             all.items.add(new File([{text}], 'backup.json', {{ type: 'application/json' }}));
             input.files = all.files;
             input.dispatchEvent(new Event('change', {{ bubbles: true }}))"
        ))
        .await;
    phone
        .until(
            "the file was looked into",
            "const said = document.querySelector('.told-of-file');
             return said?.textContent !== '' && !said.textContent.startsWith('Looking')",
        )
        .await;
}

/// In Settings, brings a backup in and hands over what is said of it; where two devices went different ways, both are
/// kept.
pub async fn bring(phone: &Phone, text: &str) -> String {
    look_into(phone, text).await;
    let said = phone
        .ask_later(
            "document.querySelector('.bring-in .bring')?.click();
             while (document.querySelector('.bring-in'))
                 await new Promise((done) => setTimeout(done, 25));
             return document.querySelector('.told-of-file').textContent",
        )
        .await;
    said.as_str().expect("what is said").to_owned()
}

/// Has the next file that the page saves caught, for [`saved_file`]; to scripts it is `await window.saved`.
pub async fn catch_file(phone: &Phone) {
    phone
        .ask(
            "window.saved = new Promise((done) => {
                 const make = URL.createObjectURL;
                 URL.createObjectURL = (blob) => {
                     done(blob);
                     return make(blob);
                 };
             })",
        )
        .await;
}

/// The text of the file that was caught, once it is saved.
pub async fn saved_file(phone: &Phone) -> String {
    let saved = phone
        .ask_later("return await (await window.saved).text()")
        .await;
    saved.as_str().expect("a text").to_owned()
}

/// In Settings, saves a backup and hands it over.
pub async fn backup(phone: &Phone) -> String {
    catch_file(phone).await;
    phone.tap(".backup .button.lead").await;
    saved_file(phone).await
}
