//! A pattern typed with what may come next: a row of buttons under the text, by finger and by key, from an empty page to
//! a round with its count.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::{Value, json};
use thirtyfour::Key;

/// So much of a screen of 640 px a keyboard leaves free, as common practice has it, no source.
const ABOVE_KEYBOARD: f64 = 360.0;

async fn opened(server: &Server) -> Phone {
    let phone = Phone::with_size(360, 640).await;
    phone.open(&server.url("/pattern")).await;
    phone
        .ask("localStorage.setItem('evenloop:told', '1'); localStorage.setItem('evenloop:guide', 'over')")
        .await;
    phone.reload().await;
    phone.until_awake().await;
    phone
}

fn button(words: &str) -> String {
    format!(
        "[...document.querySelectorAll('.completions button')]
             .find((button) => button.textContent === {})",
        json!(words)
    )
}

/// Touches what is proposed, once it is.
async fn take(phone: &Phone, words: &str) {
    let there = format!("return {} !== undefined", button(words));
    phone.until(words, &there).await;
    let place = phone
        .ask(&format!(
            "const all = [...document.querySelectorAll('.completions button')];
             return all.indexOf({}) + 1",
            button(words)
        ))
        .await;
    phone
        .tap(&format!(".completions .button:nth-of-type({place})"))
        .await;
}

async fn until_typed(phone: &Phone, text: &str) {
    let script = format!(
        "return document.getElementById('pattern-text').value === {}",
        json!(text)
    );
    phone.until(text, &script).await;
}

#[tokio::test]
async fn a_round_is_typed_by_touches() {
    let server = Server::start();
    let phone = opened(&server).await;
    phone.tap("#pattern-text").await;
    take(&phone, "Cuff").await;
    until_typed(&phone, "Cuff").await;
    let area = phone.find("#pattern-text").await;
    area.send_keys("\nCO 32 sts. Join.\nRn")
        .await
        .expect("it can be typed into");
    take(&phone, "Rnd 1:").await;
    for words in ["*", "k2", "p2", "rep from * to end", "(32 sts)"] {
        take(&phone, words).await;
        let focus = phone.ask("return document.activeElement.id").await;
        assert_eq!(focus, json!("pattern-text"), "after {words}");
    }
    let typed = "Cuff\nCO 32 sts. Join.\nRnd 1: *k2, p2; rep from * to end (32 sts)";
    until_typed(&phone, typed).await;
    phone
        .until(
            "every line is right",
            "return document.querySelector('.found-in-pattern').textContent.includes('every count is right')",
        )
        .await;
    // What is typed goes on where the cursor is, in the middle of the text as well.
    phone
        .ask(
            "const area = document.getElementById('pattern-text');
             area.value = 'Rnd 1: K2, ss, k3\\nRnd 2: Knit.';
             area.setSelectionRange(13, 13);
             area.dispatchEvent(new Event('input', { bubbles: true }));",
        )
        .await;
    take(&phone, "ssk").await;
    until_typed(&phone, "Rnd 1: K2, ssk, k3\nRnd 2: Knit.").await;
    phone.reload().await;
    until_typed(&phone, "Rnd 1: K2, ssk, k3\nRnd 2: Knit.").await;
    phone.put_away().await;
}

#[tokio::test]
async fn the_row_has_room_for_a_thumb_above_the_keyboard() {
    let server = Server::start();
    for large in [false, true] {
        let phone = opened(&server).await;
        if large {
            phone
                .ask(
                    "localStorage.setItem('evenloop:settings', JSON.stringify({ big_text: true }))",
                )
                .await;
            phone.reload().await;
            phone.until_awake().await;
        }
        phone.tap("#pattern-text").await;
        let area = phone.find("#pattern-text").await;
        area.send_keys("Rnd 1: K2, ")
            .await
            .expect("it can be typed into");
        phone
            .until(
                "there are six",
                "return document.querySelectorAll('.completions button').length === 6",
            )
            .await;
        tokio::time::sleep(std::time::Duration::from_millis(600)).await;
        let boxes = phone
            .ask(
                "const boxes = [...document.querySelectorAll('.completions button')]
                     .map((one) => one.getBoundingClientRect());
                 return [Math.min(...boxes.map((one) => Math.min(one.width, one.height))),
                         Math.max(...boxes.map((one) => one.right)),
                         Math.max(...boxes.map((one) => one.bottom)),
                         document.getElementById('pattern-text').getBoundingClientRect().top,
                         document.documentElement.scrollWidth]",
            )
            .await;
        let boxes: Vec<f64> = boxes
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(Value::as_f64)
            .collect();
        println!("large {large}: smallest, right, bottom, text's top, page's width {boxes:?}");
        assert!(boxes[0] >= 44.0, "{boxes:?}");
        assert!(boxes[1] <= 360.0 && boxes[4] <= 360.0, "{boxes:?}");
        assert!(boxes[3] >= 0.0 && boxes[2] <= ABOVE_KEYBOARD, "{boxes:?}");
        phone.put_away().await;
    }
}

#[tokio::test]
async fn the_row_is_reached_and_taken_by_keys() {
    let server = Server::start();
    let phone = opened(&server).await;
    phone.tap("#pattern-text").await;
    let area = phone.find("#pattern-text").await;
    area.send_keys("Rnd 1: K2, k2t")
        .await
        .expect("it can be typed into");
    phone
        .until(
            "it is proposed",
            "return document.querySelector('.completions button')?.textContent === 'k2tog'",
        )
        .await;
    phone.press(&[Key::Tab, Key::Enter]).await;
    until_typed(&phone, "Rnd 1: K2, k2tog").await;
    let focus = phone.ask("return document.activeElement.id").await;
    assert_eq!(focus, json!("pattern-text"));
    let named = phone
        .ask("return document.querySelector('.completions').getAttribute('aria-label')")
        .await;
    assert_eq!(named, json!("What may come next"));
    phone.put_away().await;
}
