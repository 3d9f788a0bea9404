//! A pair by a pattern of the knitter's own has what any pair has: it is ripped back, drawn on the map, read as a plan,
//! saved and brought back, and its second sock begins by the same words.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::trace::{Position, Trace};
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out, phone_at, small_sock_by_pattern};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{backup, bring, place, touch, until_place, until_shown};

/// The pattern's own line for the cast-on.
const CAST_ON: &str = "Cast on 32 sts.";
/// And for the gusset's rounds from the third one on.
const DECREASES: &str = "Rep last 2 rnds until 32 sts rem.";

fn rounds(plan: &Plan, section: SectionKind) -> Vec<Position> {
    find(plan, |kind, _| kind == section)
}

/// On the map, asks for a round of a section, and hands over what it would undo.
async fn ask_for(phone: &Phone, section: &str, round: usize) -> String {
    let part = format!(
        "[...document.querySelectorAll('.sections > ol > li')]
             .find((part) => part.querySelector('.name')?.textContent === '{section}')"
    );
    phone
        .until(
            "the section is there",
            &format!("return {part} !== undefined"),
        )
        .await;
    phone
        .ask(&format!("{part}.querySelector('summary').click()"))
        .await;
    let stop = format!(
        "[...{part}.querySelectorAll('.stop')]
             .find((stop) => stop.querySelector('[aria-hidden]').textContent === '{round}')"
    );
    phone
        .until(
            "its rounds are listed",
            &format!("return {stop} !== undefined"),
        )
        .await;
    phone.ask(&format!("{stop}.click()")).await;
    phone.text(".ask").await
}

#[tokio::test]
async fn it_is_ripped_back_into_another_section_and_taken_up_again() {
    let server = Server::start();
    let plan = small_sock_by_pattern();
    let gusset = rounds(&plan, SectionKind::Gusset).len();
    let phone = phone_at(&server, &plan, rounds(&plan, SectionKind::Foot)[3]).await;
    until_place(&phone, "Round 4 of").await;
    phone.open(&server.url("/map")).await;
    let asked = ask_for(&phone, "Gusset", 3).await;
    assert!(asked.contains("to round 3 of the gusset."), "{asked}");
    // 42 after the pick-up, two fewer after the first decrease round
    assert!(asked.contains("40 stitches, 20 and 20"), "{asked}");
    let undone = format!(
        "That undoes 3 rounds of the foot and {} rounds of the gusset.",
        gusset - 2
    );
    assert!(asked.contains(&undone), "{asked}");
    phone.tap(".ask .button.lead").await;
    phone.tap(".notice a[href='/now']").await;
    until_place(&phone, "Round 3 of").await;
    until_shown(&phone, ".instruction .typed-line", DECREASES).await;
    phone.tap(".undo").await;
    until_place(&phone, "Foot").await;
    until_place(&phone, "Round 4 of").await;
    phone.put_away().await;
}

#[tokio::test]
async fn the_second_sock_begins_by_the_same_words() {
    let server = Server::start();
    let plan = small_sock_by_pattern();
    let end = Trace::of(&plan).expect("it can be knitted").end();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    lay_out(&phone, &plan, [&begun_at(end), &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.tap(".finished .button.lead").await;
    phone.find(".pad").await;
    until_shown(&phone, ".now-head .sock", "Second sock").await;
    until_shown(&phone, ".instruction .typed-line", CAST_ON).await;
    let begun = place(&phone).await;
    // on as far as the leg, and there after a reload
    while !place(&phone).await.contains("Leg") {
        touch(&phone).await;
    }
    until_shown(&phone, ".instruction .typed-line", "Knit 4 rnds.").await;
    let leg = place(&phone).await;
    assert_ne!(begun, leg);
    phone.reload().await;
    phone.find(".pad").await;
    assert_eq!(place(&phone).await, leg);
    until_shown(&phone, ".now-head .sock", "Second sock").await;
    phone.put_away().await;
}

#[tokio::test]
async fn map_plan_and_backup_hold_all_of_it() {
    let server = Server::start();
    let plan = small_sock_by_pattern();
    let here = rounds(&plan, SectionKind::Gusset)[4];
    let phone = phone_at(&server, &plan, here).await;
    let there = place(&phone).await;

    phone.open(&server.url("/map")).await;
    phone
        .until(
            "the sock is drawn",
            "return document.querySelectorAll('.sock-drawing use').length > 1",
        )
        .await;
    let sections = phone.text(".sections").await;
    for section in [
        "Cuff",
        "Leg",
        "Heel flap",
        "Heel turn",
        "Gusset",
        "Foot",
        "Toe",
    ] {
        assert!(sections.contains(section), "{section}: {sections}");
    }

    phone.open(&server.url("/plan")).await;
    phone.find(".plan-sheet table").await;
    let sheet = phone.text(".plan-sheet").await;
    for said in [
        CAST_ON,
        "32 stitches",
        "pick up and knit 8 sts along other side",
    ] {
        assert!(sheet.contains(said), "{said}: {sheet}");
    }

    phone.open(&server.url("/keep")).await;
    let file = backup(&phone).await;
    phone.forget().await;
    phone.open(&server.url("/keep")).await;
    let said = bring(&phone, &file).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    assert_eq!(place(&phone).await, there, "{said}");
    until_shown(&phone, ".instruction .typed-line", DECREASES).await;
    phone.put_away().await;
}
