//! Notes and weighings along the first sock, and what the second one makes of them.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::journal::Event;
use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::trace::{Position, Trace};
use evenloop_tests::laid::{THEN, begun_at, cast_on, find, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;

fn leg(plan: &Plan, round: usize) -> Position {
    find(plan, |kind, _| kind == SectionKind::Leg)[round - 1]
}

async fn open_page(phone: &Phone, number: usize) {
    phone.tap(".to-pause").await;
    phone
        .tap(&format!(".entries .entry:nth-of-type({number})"))
        .await;
}

async fn until_shown(phone: &Phone, css: &str, text: &str) {
    let script = format!(
        "return [...document.querySelectorAll({css:?})].some((one) => one.textContent.includes({text:?}))"
    );
    phone.until(text, &script).await;
}

#[tokio::test]
async fn a_note_is_kept_at_its_round_and_comes_back_on_the_second_sock() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    lay_out(&phone, &plan, [&begun_at(leg(&plan, 12)), &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;

    open_page(&phone, 3).await;
    let text = "snug here, 2 % more & a <b>comma</b>";
    let area = phone.find("#note").await;
    area.send_keys(text).await.expect("it can be written in");
    phone.tap(".pane .button.lead").await;
    until_shown(&phone, ".instruction .remark", text).await;
    phone.reload().await;
    until_shown(&phone, ".instruction .remark", "Noted here").await;

    // On the map, in the list of the leg's rounds.
    phone.open(&server.url("/map")).await;
    let leg_part = "[...document.querySelectorAll('.sections > ol > li')]
        .find((part) => part.querySelector('.name').textContent === 'Leg without cuff')";
    phone
        .ask(&format!("{leg_part}.querySelector('summary').click()"))
        .await;
    until_shown(
        &phone,
        ".rounds .remark",
        "Before round 12 of the leg: “snug here",
    )
    .await;

    let noted = phone
        .ask("return [...document.querySelectorAll('.stop.noted')].map((one) => one.textContent)")
        .await;
    assert_eq!(noted.as_array().map(Vec::len), Some(1), "{noted}");

    // The second sock, at the same round.
    let mut log = begun_at(leg(&plan, 12)).to_vec();
    log.push(Event::Note(THEN + 70, leg(&plan, 12), text.to_owned()));
    log.push(Event::GoTo(THEN + 80, leg(&plan, 30)));
    log.push(Event::GoTo(THEN + 90, leg(&plan, 25)));
    let end = Trace::of(&plan).expect("a sock").end();
    log.push(Event::GoTo(THEN + 99, end));
    lay_out(&phone, &plan, [&log, &begun_at(leg(&plan, 12))]).await;
    phone.open(&server.url("/now")).await;
    until_shown(&phone, ".whose .sock", "Second sock").await;
    until_shown(
        &phone,
        ".instruction .remark",
        "On the first sock you noted here: “snug here",
    )
    .await;

    // Where the first sock was ripped back it says so.
    lay_out(&phone, &plan, [&log, &begun_at(leg(&plan, 30))]).await;
    phone.open(&server.url("/now")).await;
    until_shown(
        &phone,
        ".instruction .remark",
        "Back from round 30 of the leg to round 25 of the leg.",
    )
    .await;
    phone.open(&server.url("/map")).await;
    until_shown(
        &phone,
        ".otherwise li",
        "First sock: Back from round 30 of the leg to round 25 of the leg.",
    )
    .await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_scale_of_whole_grams_is_not_believed_to_the_tenth() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    // 62 g, and six rounds later 60
    let log = [
        begun_at(leg(&plan, 5)).to_vec(),
        vec![
            Event::Weighed(THEN + 70, leg(&plan, 5), Some(620)),
            Event::GoTo(THEN + 80, leg(&plan, 11)),
            Event::Weighed(THEN + 90, leg(&plan, 11), Some(600)),
        ],
    ]
    .concat();
    lay_out(&phone, &plan, [&log, &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    open_page(&phone, 4).await;
    until_shown(&phone, ".answer p", "too close to tell. Weigh again after").await;
    let said = phone.text(".answer").await;
    assert!(!said.contains("missing"), "{said}");
    phone.put_away().await;
}

#[tokio::test]
async fn the_length_that_is_done_and_due_stands_beside_the_rounds() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    lay_out(&phone, &plan, [&begun_at(leg(&plan, 12)), &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    // 17 rounds of cuff and 11 of the leg at 42 to 10 cm
    until_shown(&phone, ".now-head .long", "6.7 of 16\u{a0}cm").await;
    phone.tap(".pad").await;
    until_shown(&phone, ".now-head .long", "6.9 of 16\u{a0}cm").await;
    // where the leg ends it is measured
    let last = find(&plan, |kind, _| kind == SectionKind::Leg).pop();
    let log = begun_at(last.expect("a leg"));
    lay_out(&phone, &plan, [&log, &[]]).await;
    phone.open(&server.url("/now")).await;
    until_shown(&phone, ".instruction", "When it is done, measure").await;
    // where it is otherwise, the rest can be changed
    phone.tap(".instruction a.change").await;
    phone.find("#rounds-leg").await;
    phone.put_away().await;
}

#[tokio::test]
async fn two_weighings_say_whether_the_yarn_will_do() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    lay_out(&phone, &plan, [&begun_at(leg(&plan, 5)), &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;

    open_page(&phone, 4).await;
    // not a weight: said kindly, nothing is stored
    let line = phone.find("#grams").await;
    line.send_keys("heavy").await.expect("it can be typed into");
    phone.tap(".pane .button.lead").await;
    until_shown(&phone, ".pane .error", "from 0 to 2000").await;
    line.clear().await.expect("it can be emptied");
    line.send_keys("48,5").await.expect("it can be typed into");
    phone.tap(".pane .button.lead").await;
    until_shown(&phone, ".answer", "48.5\u{a0}g before round 5 of the leg.").await;
    until_shown(&phone, ".answer", "Weigh again some rounds further on").await;

    // Twenty rounds on, and 3.2 g lighter: 0.0025 g a stitch.
    let log = [
        begun_at(leg(&plan, 5)).to_vec(),
        vec![
            Event::Weighed(THEN + 70, leg(&plan, 5), Some(485)),
            Event::GoTo(THEN + 80, leg(&plan, 25)),
        ],
    ]
    .concat();
    lay_out(&phone, &plan, [&log, &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    open_page(&phone, 4).await;
    let line = phone.find("#grams").await;
    line.send_keys("45.3").await.expect("it can be typed into");
    phone.tap(".pane .button.lead").await;
    // 20 rounds took 3.2 g, so ten take 1.6 g
    until_shown(
        &phone,
        ".answer p",
        // a tenth more or less, and the scale's half tenth of a gram twice
        "Ten rounds like this one take 1.3 to 1.9\u{a0}g, by your own weighings.",
    )
    .await;
    until_shown(&phone, ".answer p", "The rest of this sock needs").await;
    until_shown(&phone, ".answer p", "This sock and the second need").await;

    // taken away again, and the first one still stands
    phone.tap(".answer .button").await;
    until_shown(&phone, ".answer", "48.5\u{a0}g before round 5 of the leg.").await;
    phone.put_away().await;
}
