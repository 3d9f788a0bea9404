//! Several yarns on the scale: each is weighed by itself, and each is answered for by itself.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::journal::Event;
use evenloop_engine::plan::{SectionKind, make};
use evenloop_engine::recipe::{Recipe, Stripe, Yarns};
use evenloop_engine::stitch::Yarn;
use evenloop_tests::laid::{THEN, find, lay_out, phone_at};
use evenloop_tests::server::Server;

#[tokio::test]
async fn each_of_two_yarns_is_weighed_by_itself() {
    let server = Server::start();
    let stripe = |yarn, rounds| Stripe { yarn, rounds };
    let plan = make(&Recipe {
        yarns: Some(Yarns {
            stripes: vec![stripe(Yarn::A, 4), stripe(Yarn::B, 2)],
            cuff: Yarn::A,
            heel: Yarn::A,
            toe: Yarn::B,
        }),
        stitches: Some(64),
        ..Recipe::default()
    })
    .expect("a sock");
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg);
    let phone = phone_at(&server, &plan, leg[30]).await;
    // yarn B was weighed twenty rounds ago
    let log = [
        Event::Begin(THEN),
        Event::GoTo(THEN + 60, leg[10]),
        Event::WeighedYarn(THEN + 61, leg[10], Yarn::B, Some(400)),
        Event::GoTo(THEN + 62, leg[30]),
    ];
    lay_out(&phone, &plan, [&log, &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    phone.tap(".to-pause").await;
    phone.tap(".entries .entry:nth-of-type(4)").await;
    // the yarn in hand is chosen at first: the round before was in B
    let chosen = "return document.querySelector('.pane [role=group] [aria-pressed=true]').textContent.trim()";
    phone
        .until(
            "the yarns are there",
            "return document.querySelectorAll('.pane [role=group] .button').length === 2",
        )
        .await;
    let first = phone.ask(chosen).await;
    assert!(
        first.as_str().is_some_and(|text| text.starts_with('B')),
        "{first}"
    );
    assert!(phone.text(".pane .answer").await.contains("40 g before"));
    phone.write("#grams", "38").await;
    phone.tap(".pane .button.lead").await;
    phone
        .until(
            "it is answered",
            "return document.querySelector('.pane .answer').textContent.includes('The rest of this sock needs')",
        )
        .await;
    let said = phone.text(".pane .answer").await;
    assert!(said.contains("38 g before"), "{said}");
    // Two whole grams between twenty rounds leave room for both answers.
    assert!(said.contains("too close to tell"), "{said}");
    assert!(
        !said.contains("under the cuff"),
        "more rounds would take of both yarns: {said}"
    );
    // the other yarn knows nothing of it, and it is there again after a reload
    phone.tap(".pane [role=group] .button:nth-of-type(1)").await;
    phone
        .until(
            "yarn A was not weighed",
            "return !document.querySelector('.pane .answer').textContent.includes('38\u{a0}g')",
        )
        .await;
    phone.reload().await;
    phone.find(".pad").await;
    let noted = phone.text("main").await;
    assert!(noted.contains("38 g of yarn B left"), "{noted}");
    phone.put_away().await;
}
