//! What a knitter typed is shown and said as it was typed, whatever words were chosen for everything
//! else: a name and a note made of British and American words, of what looks like a length and of
//! letters that are hard to write.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::journal::Event;
use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::trace::{Position, Trace};
use evenloop_tests::laid::{THEN, begun_at, cast_on, find, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::touch;

const NAME: &str = "Gauge 31 & grey ‹500›, colour or color; bind off <b>metres</b> “🧦” e\u{301}";
const NOTE: &str = "Gauge is 31 here; BO loosely, as in the seed stitch hat. Mark ‹500› too: {x} &amp; <i>tension</i>, binding off in stockinette ‹315#› 🧦 \u{202e}גרב\u{202c}";

fn leg(plan: &Plan, round: usize) -> Position {
    find(plan, |kind, _| kind == SectionKind::Leg)[round - 1]
}

/// Gives the pair that was cast on its name, past the app.
async fn call(phone: &Phone, name: &str) {
    let name = serde_json::to_string(name).expect("a text is JSON");
    let script = format!(
        "const key = Object.keys(localStorage).find((key) => key.endsWith(':head'));
         const head = JSON.parse(localStorage.getItem(key));
         head.name = {name};
         localStorage.setItem(key, JSON.stringify(head));"
    );
    phone.ask(&script).await;
}

/// Waits until one of the elements holds a text; `whole` where it may hold nothing else.
async fn until_told(phone: &Phone, css: &str, text: &str, whole: bool) {
    let same = if whole {
        "one.textContent.trim() === text"
    } else {
        "one.textContent.includes(text)"
    };
    let wanted = serde_json::to_string(text).expect("a text is JSON");
    let script = format!(
        "const text = {wanted};
         return [...document.querySelectorAll({css:?})].some((one) => {same})"
    );
    phone.until(&format!("{css} holds {text}"), &script).await;
}

#[tokio::test]
async fn names_and_notes_are_shown_and_said_as_they_were_typed() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let mut log = begun_at(leg(&plan, 11)).to_vec();
    log.push(Event::Note(THEN + 70, leg(&plan, 12), NOTE.to_owned()));
    // British, then American.
    for nth in 0..2 {
        phone.open(&server.url("/keep")).await;
        let choose = format!("document.querySelectorAll('input[name=english]')[{nth}].click()");
        phone.ask(&choose).await;
        lay_out(&phone, &plan, [&log, &[]]).await;
        call(&phone, NAME).await;

        // Now, to the eye and to the ear.
        phone.open(&server.url("/now")).await;
        until_told(&phone, ".now-head .name", NAME, true).await;
        touch(&phone).await;
        until_told(&phone, ".instruction .remark", &format!("“{NOTE}”"), false).await;
        until_told(&phone, ".now > [aria-live]", &format!("“{NOTE}”"), false).await;
        // What stands in the list of rounds, and what is written on.
        phone.tap(".to-pause").await;
        phone.tap(".entries .entry:nth-of-type(6)").await;
        until_told(&phone, ".pane .rounds .remark", &format!("“{NOTE}”"), false).await;
        phone.tap(".pane[open] .pane-foot button").await;
        phone.tap(".to-pause").await;
        phone.tap(".entries .entry:nth-of-type(3)").await;
        phone.find("#note").await;
        let written = phone
            .ask("return document.querySelector('#note').value")
            .await;
        assert_eq!(written.as_str(), Some(NOTE));

        phone.open(&server.url("/map")).await;
        until_told(&phone, ".map .whose .name", NAME, true).await;
        phone
            .ask("document.querySelectorAll('.sections details').forEach((one) => { one.open = true })")
            .await;
        until_told(&phone, ".sections .remark", &format!("“{NOTE}”"), false).await;

        phone.open(&server.url("/")).await;
        until_told(&phone, ".card .name", NAME, true).await;
        until_told(&phone, ".card summary .unseen", &format!("“{NAME}”"), true).await;

        phone.open(&server.url("/plan")).await;
        until_told(&phone, ".plan-sheet h2", NAME, true).await;

        // The second sock's echo of the first.
        let mut first = log.clone();
        let end = Trace::of(&plan).expect("a sock").end();
        first.push(Event::GoTo(THEN + 99, end));
        lay_out(&phone, &plan, [&first, &begun_at(leg(&plan, 12))]).await;
        phone.open(&server.url("/now")).await;
        until_told(&phone, ".whose .sock", "Second sock", true).await;
        until_told(&phone, ".instruction .remark", &format!("“{NOTE}”"), false).await;

        // Out of the basket, its name is said once more.
        phone.open(&server.url("/")).await;
        phone.tap(".card .more summary").await;
        phone.tap(".card .button.wrong").await;
        until_told(&phone, ".taken-out p", &format!("“{NAME}”"), false).await;
        phone.tap(".taken-out .button:not(.bare)").await;
        until_told(&phone, ".card .name", NAME, true).await;
    }
    phone.put_away().await;
}
