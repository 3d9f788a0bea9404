//! Hands that are busy with needles: a screen that stays on, a voice, keys and pedals, and a device
//! that can do none of it.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::Duration;

use evenloop_engine::plan::SectionKind;
use evenloop_tests::engine::Engine;
use evenloop_tests::laid::{cast_on, find, phone_at, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{BOUNCE, touch, until_place};
use serde_json::{Value, json};
use thirtyfour::Key;

const PLACE: &str = "return document.querySelector('.now-head')?.textContent ?? ''";

/// A screen lock that behaves as browsers' own do, and can be watched.
const LOCKS: &str = "
    window.lamp = { asked: 0, held: [] };
    const request = async () => {
        if (document.visibilityState !== 'visible') throw new DOMException('', 'NotAllowedError');
        lamp.asked += 1;
        const lock = { released: false, release: async () => {
            lock.released = true;
            lamp.held = lamp.held.filter((one) => one !== lock);
        } };
        lamp.held.push(lock);
        return lock;
    };
    Object.defineProperty(navigator, 'wakeLock', { configurable: true, value: { request } });
    window.show = (state) => {
        Object.defineProperty(document, 'visibilityState', { configurable: true, value: state });
        if (state === 'hidden') for (const lock of lamp.held) lock.release();
        document.dispatchEvent(new Event('visibilitychange'));
    };";

/// A voice that notes what it says.
const VOICE: &str = "
    window.told = [];
    const cancel = () => told.push('');
    const speak = ({ text, lang }) => told.push(`${lang}: ${text}`);
    Object.defineProperty(window, 'speechSynthesis',
        { configurable: true, value: Object.assign(Object.create(SpeechSynthesis.prototype, { speaking: { value: false } }), { cancel, speak }) });";

/// A phone with a pair cast on, on a screen where nothing is knitted.
async fn phone_beside(engine: Engine, server: &Server) -> Phone {
    let phone = Phone::of(engine).await;
    cast_on(&phone, server).await;
    phone.open(&server.url("/keep")).await;
    phone
}

async fn to_now(phone: &Phone) {
    phone.tap("nav a[href='/now']").await;
    phone.find(".pad").await;
}

async fn lamp(phone: &Phone, asked: u32, held: u32) {
    phone
        .until(
            &format!("the lock was asked for {asked} times and is held {held} times"),
            &format!("return lamp.asked === {asked} && lamp.held.length === {held}"),
        )
        .await;
}

async fn the_screen_stays_on(engine: Engine) {
    let server = Server::start();
    let phone = phone_beside(engine, &server).await;
    phone.ask(LOCKS).await;
    lamp(&phone, 0, 0).await;
    to_now(&phone).await;
    lamp(&phone, 1, 1).await;
    // Off and on again, twice; the browser takes the lock away each time.
    for times in 2..4 {
        phone.ask("show('hidden')").await;
        lamp(&phone, times - 1, 0).await;
        phone.ask("show('visible')").await;
        lamp(&phone, times, 1).await;
    }
    // Nothing is knitted on the map.
    phone.tap("nav a[href='/map']").await;
    lamp(&phone, 3, 0).await;
    phone.ask("show('hidden'); show('visible')").await;
    lamp(&phone, 3, 0).await;
    phone.put_away().await;
}

#[tokio::test]
async fn the_screen_stays_on_again_after_it_was_off_in_chromium() {
    the_screen_stays_on(Engine::Chromium).await;
}

#[tokio::test]
async fn the_screen_stays_on_again_after_it_was_off_in_firefox() {
    the_screen_stays_on(Engine::Firefox).await;
}

#[tokio::test]
async fn the_next_instruction_is_said_aloud() {
    let server = Server::start();
    let phone = phone_beside(Engine::Chromium, &server).await;
    phone.ask(VOICE).await;
    to_now(&phone).await;
    phone.tap(".pad").await;
    tokio::time::sleep(BOUNCE).await;
    assert_eq!(phone.ask("return told.join('')").await, "", "not unasked");

    phone.tap("nav a[href='/keep']").await;
    phone.tap("input[name='speech']").await;
    to_now(&phone).await;
    phone.tap(".pad").await;
    phone
        .until(
            "the next move is said",
            "const said = told.findLast((text) => text !== '') ?? '';
             const section = document.querySelector('.now-head h1').textContent.trim();
             return said.startsWith(`en: ${section}`) && said.includes('Step 3')",
        )
        .await;
    // Whoever leaves does not want to hear the rest.
    phone.ask("told.length = 0").await;
    phone.tap("nav a[href='/map']").await;
    phone
        .until("the voice stops", "return told.includes('')")
        .await;
    phone.put_away().await;
}

/// A browser that hears what the test says. It stops after each word, as some do of their own accord.
const EARS: &str = "
    window.ears = { begun: 0, language: '', local: null };
    class Recognition {
        static available = async () => window.ears.onDevice ?? 'unavailable';
        start() {
            window.ears = { ...window.ears, begun: window.ears.begun + 1, language: this.lang, local: this.processLocally ?? false, at: this };
            this.onstart();
        }
        abort() { window.ears.at = null; this.onend(); }
    }
    window.hear = (...readings) => {
        const { at } = window.ears;
        const result = Object.assign(readings.map((transcript) => ({ transcript })), { isFinal: true });
        at.onresult({ resultIndex: 0, results: [result] });
        at.onend();
    };
    window.SpeechRecognition = Recognition;";

/// Says something and gives the page the time to count it.
async fn hear(phone: &Phone, readings: &str) -> Value {
    phone.until("it listens", "return ears.at !== null").await;
    phone.ask(&format!("hear({readings})")).await;
    tokio::time::sleep(BOUNCE).await;
    phone.ask(PLACE).await
}

#[tokio::test]
async fn spoken_words_count_and_take_back_on_wish_only() {
    let server = Server::start();
    let phone = phone_beside(Engine::Chromium, &server).await;
    phone.ask(VOICE).await;
    phone.ask(EARS).await;
    to_now(&phone).await;
    assert_eq!(phone.ask("return ears.begun").await, 0, "not unasked");

    phone.tap("nav a[href='/keep']").await;
    let note = phone.text("label:has(input[name='listens'])").await;
    assert!(note.contains("may leave this device"), "{note}");
    phone.tap("input[name='listens']").await;
    to_now(&phone).await;
    phone.find(".listening").await;
    let first = phone.ask(PLACE).await;
    // Two readings of one word are one word, and words in a talk are none.
    let second = hear(&phone, "'Done.', 'done'").await;
    assert_ne!(second, first, "counted");
    assert_eq!(
        hear(&phone, "'I am done with it', 'come back'").await,
        second
    );
    let third = hear(&phone, "'dawn', 'done'").await;
    assert_ne!(third, second, "the other reading counts");
    assert_eq!(hear(&phone, "'Back'").await, second);
    phone.ask("told.length = 0").await;
    assert_eq!(hear(&phone, "'Where am I?'").await, second);
    phone
        .until(
            "the place is said, though the voice is switched off",
            "return told.some((text) => text.includes('Step 2'))",
        )
        .await;
    assert_eq!(
        phone
            .ask("return [ears.language.slice(0, 2), ears.local]")
            .await,
        json!(["en", false])
    );
    // Off the screen nothing is heard any more.
    phone.tap("nav a[href='/map']").await;
    phone
        .until("it has stopped", "return ears.at === null")
        .await;
    let begun = phone.ask("return ears.begun").await;
    tokio::time::sleep(Duration::from_millis(900)).await;
    assert_eq!(phone.ask("return ears.begun").await, begun);
    // Where the device understands by itself, that is asked for.
    phone.ask("ears.onDevice = 'available'").await;
    to_now(&phone).await;
    phone
        .until("it listens", "return ears.local === true")
        .await;
    phone.ask("ears.at.onerror({ error: 'not-allowed' })").await;
    phone
        .until(
            "it is said that it may not listen",
            "return document.querySelector('.now .notes').textContent.includes('microphone')",
        )
        .await;
    phone.put_away().await;
}

/// Presses a key where nothing has the focus, as a pedal does.
async fn pedal(phone: &Phone, key: Key) -> Value {
    phone.ask("document.activeElement?.blur()").await;
    phone.press(&[key]).await;
    tokio::time::sleep(BOUNCE).await;
    phone.ask(PLACE).await
}

async fn keys_and_pedals_count(engine: Engine) {
    let server = Server::start();
    let phone = phone_beside(engine, &server).await;
    to_now(&phone).await;
    let mut places = vec![phone.ask(PLACE).await];
    for key in [Key::Space, Key::Enter, Key::Right, Key::PageDown] {
        let place = pedal(&phone, key).await;
        assert!(!places.contains(&place), "counted: {place}");
        places.push(place);
    }
    places.pop();
    for key in [Key::PageUp, Key::Left, Key::Backspace] {
        assert_eq!(Some(pedal(&phone, key).await), places.pop());
    }
    phone.put_away().await;
}

#[tokio::test]
async fn keys_and_pedals_count_in_chromium() {
    keys_and_pedals_count(Engine::Chromium).await;
}

#[tokio::test]
async fn keys_and_pedals_count_in_webkit() {
    keys_and_pedals_count(Engine::WebKit).await;
}

/// A device without any of it counts all the same, and Settings says what is missing.
#[tokio::test]
async fn a_device_that_can_do_nothing_counts_all_the_same() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    let take_away = "for (const name of ['wakeLock', 'vibrate', 'share'])
            delete Navigator.prototype[name];
        for (const name of ['speechSynthesis', 'SpeechSynthesisUtterance', 'SpeechRecognition', 'webkitSpeechRecognition'])
            delete window[name];";
    let source = json!({ "source": take_away });
    phone
        .tools("Page.addScriptToEvaluateOnNewDocument", source)
        .await;
    cast_on(&phone, &server).await;
    let place = phone.ask(PLACE).await;
    phone.tap(".pad").await;
    tokio::time::sleep(BOUNCE).await;
    assert_ne!(phone.ask(PLACE).await, place, "a move is counted");
    phone.open(&server.url("/keep")).await;
    let said = phone.text(".lacks").await;
    for lack in ["keep the screen on", "vibrate", "speak", "listen"] {
        assert!(said.contains(lack), "{said}");
    }
    phone.put_away().await;
}

/// Six touches, each 130 ms after the one before, as fast fingers make them.
const SIX_TOUCHES: &str = "for (let n = 0; n < 6; n += 1) {
        document.querySelector(BUTTON).click();
        await new Promise((done) => setTimeout(done, 130));
    }
    return true";

/// Now, at the first round of the leg.
async fn phone_in_the_leg(server: &Server) -> Phone {
    let plan = usual_sock();
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[0];
    let mut phone = phone_at(server, &plan, leg).await;
    // Touches by script are no fingers.
    phone.forgive("navigator.vibrate");
    until_place(&phone, "Round 1 of").await;
    phone
}

#[tokio::test]
async fn fast_touches_all_count_and_are_all_taken_back() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;
    phone
        .ask_later(&SIX_TOUCHES.replace("BUTTON", "'.pad'"))
        .await;
    until_place(&phone, "Round 7 of").await;
    phone
        .ask_later(&SIX_TOUCHES.replace("BUTTON", "'.undo'"))
        .await;
    until_place(&phone, "Round 1 of").await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_held_pad_counts_several_and_one_undo_takes_them_back() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;

    let pad = phone.find(".pad").await;
    phone.hold_element(&pad, Duration::from_millis(900)).await;
    phone.find(".several").await;
    until_place(&phone, "Round 1 of").await;
    phone.tap(".several .buttons button:nth-child(3)").await;
    until_place(&phone, "Round 5 of").await;
    phone.tap(".undo").await;
    until_place(&phone, "Round 1 of").await;

    // Held, Undo runs back as far as there is something to take back, and no farther.
    for _ in 0..3 {
        touch(&phone).await;
    }
    until_place(&phone, "Round 4 of").await;
    let undo = phone.find(".undo").await;
    phone
        .hold_element(&undo, Duration::from_millis(2_500))
        .await;
    let nothing_left = "return document.querySelector('.undo').disabled";
    phone
        .until("nothing is left to take back", nothing_left)
        .await;
    let begin = phone.ask(PLACE).await;
    touch(&phone).await;
    tokio::time::sleep(Duration::from_millis(700)).await;
    assert_ne!(phone.ask(PLACE).await, begin, "the touch stands");
    phone.put_away().await;
}
