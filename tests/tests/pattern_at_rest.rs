//! The needles at rest in a pair by a pattern of the knitter's own: is the count right, where was I, half a round, and
//! the way back to an earlier round.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::trace::{Position, Trace};
use evenloop_tests::at_rest::{Earlier, come_back, count, go_to_earlier, open_check};
use evenloop_tests::laid::{find, phone_at, small_sock_by_pattern};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{BOUNCE, place, until_place, until_shown};

fn rounds(plan: &Plan, section: SectionKind) -> Vec<Position> {
    find(plan, |kind, _| kind == section)
}

fn on_needles(plan: &Plan, at: Position) -> Vec<u16> {
    let trace = Trace::of(plan).expect("it can be knitted");
    trace.needles_at(at).expect("needles").per_needle()
}

/// The number of the round that Now is at.
async fn round(phone: &Phone) -> usize {
    let place = place(phone).await;
    let number = place.split_whitespace().skip_while(|word| *word != "Round");
    let number = number.skip(1).find_map(|word| word.parse().ok());
    number.unwrap_or_else(|| panic!("{place}"))
}

#[tokio::test]
async fn a_count_that_fits_an_earlier_round_leads_there_and_undo_comes_back() {
    let server = Server::start();
    let plan = small_sock_by_pattern();
    let gusset = rounds(&plan, SectionKind::Gusset);
    let here = gusset[6];
    assert_eq!(on_needles(&plan, here), [18, 18]);
    let phone = phone_at(&server, &plan, here).await;
    let earlier = Earlier {
        here: "Round 7 of",
        right: 18,
        counted: 19,
        told: &["of the gusset"],
    };
    go_to_earlier(&phone, &earlier).await;
    let there = round(&phone).await;
    assert!(there < 7, "round {there}");
    assert_eq!(on_needles(&plan, gusset[there - 1]), [19, 19]);
    phone.find(".instruction .typed-line").await;
    come_back(&phone, earlier.here).await;
    phone.put_away().await;
}

#[tokio::test]
async fn half_a_round_is_found_by_its_count_and_where_was_i_goes_there() {
    let server = Server::start();
    let plan = small_sock_by_pattern();
    let first = rounds(&plan, SectionKind::Gusset)[0];
    assert_eq!(on_needles(&plan, first), [21, 21]);
    let phone = phone_at(&server, &plan, first).await;
    // the first needle's half has one decrease, the second is not knitted yet
    for (number, line, told, go) in [
        (
            1,
            "#count-0",
            ".findings .notice:first-child strong",
            ".findings .button.lead",
        ),
        (
            2,
            "#lost-0",
            ".stretches .stretch:first-child",
            ".stretches .stretch .button.lead",
        ),
    ] {
        open_check(&phone, number).await;
        count(&phone, line, 20).await;
        until_shown(&phone, told, "Needle 1 of round 1 of the gusset is done.").await;
        phone.tap(go).await;
        phone
            .until(
                "the first needle is done and the second is on",
                "return document.querySelector('.instruction .needle.done') !== null
                     && document.querySelector('.instruction .needle.on') !== null",
            )
            .await;
        until_place(&phone, "Round 1 of").await;
        phone.tap(".undo").await;
        phone
            .until(
                "no needle is done",
                "return document.querySelector('.instruction .needle.done') === null",
            )
            .await;
        tokio::time::sleep(BOUNCE).await;
    }
    phone.put_away().await;
}

#[tokio::test]
async fn where_was_i_finds_the_flap_by_its_chains_and_the_foot_by_its_count() {
    let server = Server::start();
    let plan = small_sock_by_pattern();
    let leg = rounds(&plan, SectionKind::Leg)[1];
    let phone = phone_at(&server, &plan, leg).await;
    open_check(&phone, 2).await;
    let fits = phone.text(".stretches").await;
    for part in ["Cuff", "Leg", "Heel flap", "Foot"] {
        assert!(fits.contains(part), "{fits}");
    }
    let flap = "[...document.querySelectorAll('.stretch')].find((card) =>
        card.querySelector('h3')?.textContent === 'Heel flap')";
    phone
        .ask(&format!(
            "const more = {flap}.querySelector('[aria-label^=\"One more\"]');
             for (let i = 0; i < 3; i++) more?.click();"
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
    phone
        .ask(&format!("{flap}.querySelector('.spot').click()"))
        .await;
    phone.tap(".stretch .go .button.lead").await;
    until_place(&phone, "Heel flap").await;
    // her own words stand there
    phone.find(".instruction .typed-line").await;
    phone.tap(".undo").await;
    until_place(&phone, "Leg").await;
    phone.put_away().await;
}
