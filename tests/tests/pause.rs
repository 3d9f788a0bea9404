//! The needles at rest, as a knitter uses them: is the count right, where was I, and the way to
//! another round and back.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::trace::Position;
use evenloop_tests::at_rest::{Earlier, come_back, go_to_earlier, open_check};
use evenloop_tests::laid::{find, phone_at, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{place, until_place};
use thirtyfour::Key;

/// The place of a round of a section, counted from 1.
fn round(plan: &Plan, section: SectionKind, number: usize) -> Position {
    find(plan, |kind, _| kind == section)[number - 1]
}

#[tokio::test]
async fn a_count_that_fits_an_earlier_round_leads_there_and_undo_comes_back() {
    let server = Server::start();
    let plan = usual_sock();
    // before round 8 there are 38 and 38; the knitter finds 39 and 39, as before round 6
    let phone = phone_at(&server, &plan, round(&plan, SectionKind::Gusset, 8)).await;
    let earlier = Earlier {
        here: "Round 8 of",
        right: 38,
        counted: 39,
        told: &["Back by 1 round, to round 7 of the gusset."],
    };
    go_to_earlier(&phone, &earlier).await;
    until_place(&phone, "Round 7 of").await;
    come_back(&phone, earlier.here).await;
    phone.put_away().await;
}

#[tokio::test]
async fn one_stitch_astray_is_named_and_nothing_is_counted_meanwhile() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = phone_at(&server, &plan, round(&plan, SectionKind::Gusset, 8)).await;
    open_check(&phone, 1).await;
    // one more on needle 1 by its own button, seen and heard
    phone.tap("[aria-label='One more: Needle 1']").await;
    phone
        .until(
            "the missed decrease is named first",
            "return document.querySelector('.findings strong').textContent
                 === 'One stitch too many on needle 1: the decrease of round 7 of the gusset, at the left gusset, may have been missed.'",
        )
        .await;
    // keys that count on Now count nothing in here, and Escape closes
    let line = phone.find("#count-0").await;
    line.send_keys(" ").await.expect("keys can be pressed");
    line.send_keys("" + Key::Escape)
        .await
        .expect("Escape can be pressed");
    phone
        .until(
            "the pane is closed",
            "return !document.querySelector('.pane[open]')",
        )
        .await;
    assert!(place(&phone).await.contains("Round 8 of"));
    phone.put_away().await;
}

#[tokio::test]
async fn chains_along_the_edge_find_the_row_of_the_flap() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = phone_at(&server, &plan, round(&plan, SectionKind::Leg, 5)).await;
    open_check(&phone, 2).await;
    // 32 and 32 are on the needles all along leg, flap and foot
    let fits = phone.text(".stretches").await;
    for part in ["Cuff", "Leg", "Heel flap", "Foot"] {
        assert!(fits.contains(part), "{fits}");
    }
    let flap = "[...document.querySelectorAll('.stretch')].find((card) =>
        card.querySelector('h3').textContent === 'Heel flap')";
    phone
        .ask(&format!(
            "const more = {flap}.querySelector('[aria-label^=\"One more\"]');
             for (let i = 0; i < 5; i++) more.click();"
        ))
        .await;
    phone
        .until(
            "a row of the flap comes out",
            &format!(
                "return {flap}.querySelector('.spot')?.textContent.includes('of the heel flap')"
            ),
        )
        .await;
    let named = phone
        .ask(&format!("return {flap}.querySelector('.spot').textContent"))
        .await;
    let row = named.as_str().expect("it has a name").to_owned();
    phone
        .ask(&format!("{flap}.querySelector('.spot').click()"))
        .await;
    phone.tap(".stretch .go .button.lead").await;
    until_place(&phone, "Heel flap").await;
    let number = row.split(' ').nth(1).expect("Row N of the heel flap");
    assert!(
        place(&phone).await.contains(&format!("Row {number} of")),
        "{row} is not {}",
        place(&phone).await
    );
    phone.tap(".undo").await;
    until_place(&phone, "Leg").await;
    phone.put_away().await;
}

/// How many events lie in the first sock's log.
async fn events(phone: &Phone) -> usize {
    let log = phone
        .ask(
            "const key = Object.keys(localStorage).find((key) => key.endsWith(':log:1:0'));
             return localStorage.getItem(key).split(',').length",
        )
        .await;
    log.as_u64()
        .and_then(|n| usize::try_from(n).ok())
        .expect("a log is stored")
}

#[tokio::test]
async fn ripping_back_says_what_it_undoes_and_erases_nothing() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = phone_at(&server, &plan, round(&plan, SectionKind::Foot, 4)).await;
    until_place(&phone, "Round 4 of").await;

    // From Now's list of the section's rounds.
    phone.tap(".to-pause").await;
    phone.tap(".entries .entry:nth-of-type(6)").await;
    phone.tap(".stops .stop:first-child").await;
    let asked = phone.text(".ask").await;
    assert!(
        asked.contains("Back by 3 rounds, to round 1 of the foot."),
        "{asked}"
    );
    assert!(asked.contains("64 stitches, 32 and 32"), "{asked}");
    assert_eq!(events(&phone).await, 2, "asking changes nothing");
    phone.tap(".ask .button.lead").await;
    until_place(&phone, "Round 1 of").await;
    // The jump, and before it the plan and the device: this log was laid out without naming either.
    assert_eq!(events(&phone).await, 5);
    phone.tap(".undo").await;
    until_place(&phone, "Round 4 of").await;
    assert_eq!(events(&phone).await, 6, "what was undone stays in the log");

    // From the map, to another section.
    phone.open(&server.url("/map")).await;
    let gusset = "[...document.querySelectorAll('.sections > ol > li')]
        .find((part) => part.querySelector('.name').textContent === 'Gusset')";
    phone
        .ask(&format!("{gusset}.querySelector('summary').click()"))
        .await;
    phone
        .until(
            "the gusset's rounds are listed",
            &format!("return {gusset}.querySelectorAll('.stop').length > 8"),
        )
        .await;
    phone
        .ask(&format!(
            "[...{gusset}.querySelectorAll('.stop')]
                .find((stop) => stop.querySelector('[aria-hidden]').textContent === '8').click()"
        ))
        .await;
    let asked = phone.text(".ask").await;
    assert!(asked.contains("to round 8 of the gusset."), "{asked}");
    assert!(asked.contains("76 stitches, 38 and 38"), "{asked}");
    assert!(
        asked.contains("That undoes 3 rounds of the foot and 13 rounds of the gusset."),
        "{asked}"
    );
    phone.tap(".ask .button.lead").await;
    phone.find(".notice a[href='/now']").await;
    assert_eq!(events(&phone).await, 7);
    phone.tap(".notice .button").await;
    phone.open(&server.url("/now")).await;
    until_place(&phone, "Foot").await;
    assert_eq!(events(&phone).await, 8);
    phone.put_away().await;
}
