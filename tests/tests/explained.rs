//! Hard moves are explained one touch away from the line that has them, drawing and all, without
//! signal too.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::plan::SectionKind;
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::json;

/// How many frames are seen, and how many of their pictures are drawn.
const SEEN: &str = "const seen = [...document.querySelectorAll('.pane[open] .frames li')]
    .filter((frame) => frame.getBoundingClientRect().height > 0);
    const drawn = seen.filter((frame) => frame.querySelector('svg').getBBox().width > 1000);
    return [seen.length, drawn.length]";

#[tokio::test]
async fn a_decrease_is_explained_beside_its_line_without_a_server() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    phone.until_offline_ready().await;
    let at = find(&plan, |kind, _| kind == SectionKind::Gusset)[4];
    lay_out(&phone, &plan, [&begun_at(at), &[]]).await;
    let url = server.url("/now");
    server.stop();
    phone.open(&url).await;
    phone.find(".pad").await;

    let spoken = phone
        .find(".lines li:first-child .how")
        .await
        .attr("aria-label")
        .await
        .expect("the button is still there");
    assert_eq!(
        spoken.as_deref(),
        Some("How it is worked: Knit 2 together (k2tog)")
    );
    phone.tap(".lines li:first-child .how").await;
    let said = phone.text(".pane[open] .explained").await;
    assert!(said.contains("leans to the right"), "{said}");
    // one frame at a time, from the first to the last and back
    assert_eq!(phone.ask(SEEN).await, json!([1, 1]));
    let shown = ".pane[open] .frames li:not(.away) p";
    assert!(
        phone
            .text(shown)
            .await
            .starts_with("Two stitches are to become one")
    );
    assert_eq!(phone.text(".frame-at").await, "1 of 5");
    phone.tap(".frame-steps .button:nth-child(3)").await;
    assert_eq!(phone.text(".frame-at").await, "2 of 5");
    assert!(phone.text(shown).await.contains("into both at once"));
    phone.tap(".frames li:not(.away) svg").await;
    assert_eq!(phone.text(".frame-at").await, "3 of 5");
    phone.tap(".frame-steps .button:first-child").await;
    assert_eq!(phone.text(".frame-at").await, "2 of 5");
    // played, it goes on by itself and stops at the end
    phone.tap(".frame-steps .button:last-child").await;
    phone
        .until(
            "it is played to its end",
            "return document.querySelector('.frame-at').textContent === '5 of 5'
                 && document.querySelector('.frame-steps .button:last-child').textContent === 'Play'",
        )
        .await;
    assert!(phone.text(shown).await.contains("lean to the right"));
    // for the left hand all of it is the mirror image
    phone.tap(".for-left-hand .button").await;
    let said = phone.text(".pane[open] .explained").await;
    assert!(said.contains("Put the left needle"), "{said}");
    assert_eq!(phone.ask(SEEN).await, json!([1, 1]));
    phone.tap(".for-left-hand .button").await;
    // all at once where no motion is wished for, and nothing to be played
    phone.wish(&[("prefers-reduced-motion", "reduce")]).await;
    assert_eq!(phone.ask(SEEN).await, json!([5, 5]));
    let steps = "return document.querySelector('.frame-steps').getBoundingClientRect().height";
    assert_eq!(phone.ask(steps).await, json!(0));
    phone
        .wish(&[("prefers-reduced-motion", "no-preference")])
        .await;
    phone.tap(".pane-foot .button").await;
    // the plain round after it has nothing to explain
    phone.tap(".pad").await;
    phone
        .until(
            "the next round is plain",
            "return document.querySelector('.now-head .where').textContent.includes('Round 6')
                 && document.querySelector('.how') === null",
        )
        .await;
    phone.put_away().await;
}

#[tokio::test]
async fn cast_on_crossing_and_graft_are_explained_after_their_notes() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let places = [
        (
            find(&plan, |kind, _| kind == SectionKind::CastOn)[0],
            "Long-tail cast-on",
        ),
        (
            find(&plan, |kind, _| kind == SectionKind::PickUp)[0],
            "Picking up the gusset",
        ),
        (
            *find(&plan, |kind, _| kind == SectionKind::Close)
                .get(4)
                .expect("grafting takes moves"),
            "Grafting (Kitchener stitch)",
        ),
    ];
    for (at, name) in places {
        lay_out(&phone, &plan, [&begun_at(at), &[]]).await;
        phone.open(&server.url("/now")).await;
        phone.tap(".note .how").await;
        assert_eq!(phone.text(".pane[open] .explained h2").await, name);
        phone
            .until(
                "the picture is there",
                "return document.querySelector('.explained .frames svg').getBBox().width > 1000",
            )
            .await;
    }
    phone.put_away().await;
}
