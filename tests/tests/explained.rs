//! Hard moves are explained one touch away from the line that has them, drawing and all, without
//! signal too.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::fs;

use evenloop_engine::plan::SectionKind;
use evenloop_engine::text::Technique;
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::{Server, root};

#[test]
fn every_hard_move_has_its_drawing() {
    let drawings = fs::read_to_string(root().join("public/moves.svg")).expect("there are drawings");
    for technique in Technique::ALL {
        for id in [
            technique.key().to_owned(),
            format!("{}-yarn", technique.key()),
        ] {
            let symbol = format!("<symbol id=\"{id}\" ");
            assert_eq!(drawings.matches(&symbol).count(), 1, "{id}");
        }
    }
    assert_eq!(
        drawings.matches("<symbol").count(),
        2 * Technique::ALL.len()
    );
    for foreign in ["script", "style", "http:", "https:"] {
        let own = drawings.replace("http://www.w3.org/2000/svg", "");
        assert!(!own.contains(foreign), "{foreign}");
    }
}

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
    for layer in ["use:first-child", "use.yarn"] {
        phone
            .until(
                "the drawing is there",
                &format!(
                    "return document.querySelector('.explained {layer}').getBBox().width > 40"
                ),
            )
            .await;
    }
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
async fn the_crossing_and_the_graft_are_explained_after_their_notes() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let places = [
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
    }
    phone.put_away().await;
}
