//! The sock on the map: its yarns, its motif, its parts, and how much the browser has to draw for them.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::plan::{SectionKind, make};
use evenloop_engine::recipe::{Direction, Motif, MotifPlacement, Recipe, Stripe, Yarns};
use evenloop_engine::stitch::Yarn;
use evenloop_tests::laid::{find, phone_at};
use evenloop_tests::server::Server;

/// One round of each of four yarns, a wide motif, a long leg: what asks most of the drawing.
fn busy() -> Recipe {
    let stripes = Yarn::ALL.map(|yarn| Stripe { yarn, rounds: 1 });
    let round = |n: usize| {
        let shift = n % 10;
        format!("k{} k2tog yo k1 p{}", shift + 1, 20 - shift)
    };
    Recipe {
        direction: Direction::ToeUp,
        leg: evenloop_engine::units::Length::cm(40),
        motif: Some(Motif {
            rows: (0..48)
                .map(|n| round(n).parse().expect("a round"))
                .collect(),
            place: MotifPlacement::AllRound,
            ..Motif::default()
        }),
        yarns: Some(Yarns {
            stripes: stripes.to_vec(),
            cuff: Yarn::B,
            heel: Yarn::C,
            toe: Yarn::D,
        }),
        stitches: Some(96),
        ..Recipe::default()
    }
}

#[tokio::test]
async fn yarns_and_motif_are_drawn_with_few_nodes() {
    let server = Server::start();
    let plan = make(&busy()).expect("a sock");
    let at = find(&plan, |kind, _| kind == SectionKind::Leg)[30];
    let phone = phone_at(&server, &plan, at).await;
    phone.open(&server.url("/map")).await;
    phone
        .until(
            "the sock is drawn",
            "return document.querySelectorAll('.sock-drawing use').length > 3",
        )
        .await;
    let nodes = phone
        .ask("return document.querySelectorAll('.sock-drawing svg *').length")
        .await;
    assert!(nodes.as_u64().is_some_and(|n| n < 200), "{nodes} nodes");
    // what is knitted of each yarn, in its own colour
    let used = phone
        .ask(
            "return new Set([...document.querySelectorAll('.sock-drawing use')].map((use) => {
                const drawn = document.getElementById(use.getAttribute('href').slice(1));
                if (drawn.getAttribute('d').length < 99) return 'too little';
                return getComputedStyle(use).getPropertyValue('--hue');
            })).size",
        )
        .await;
    assert_eq!(used, 4, "four yarns, four colours");
    let open = phone
        .ask("return document.querySelector('.sock-drawing .hole').getAttribute('d').length > 99")
        .await;
    assert_eq!(open, true, "one looks through the eyelets");
    let parts = phone
        .ask("return document.querySelectorAll('.sock-drawing .part .area').length")
        .await;
    assert!(parts.as_u64().is_some_and(|n| n >= 5), "{parts} parts");

    let letters = phone
        .ask("return [...document.querySelectorAll('.sock-drawing .yarn-mark')].map((t) => t.textContent).join('')")
        .await;
    assert_eq!(letters, "ABCD", "each yarn has its letter on the sock");

    // never by colour alone: each yarn has its letter, and each section says its yarns
    for (nth, letter) in ["A", "B", "C", "D"].into_iter().enumerate() {
        let patch = format!(".yarn-key li:nth-of-type({})", nth + 1);
        assert!(phone.text(&patch).await.starts_with(letter));
    }
    assert!(
        phone
            .text(".yarn-key")
            .await
            .contains("still to be knitted")
    );
    let sections = phone.text(".sections").await;
    assert!(sections.contains("yarns A, B, C and D"), "{sections}");
    assert!(sections.contains("yarn D"), "{sections}");
    let said = phone
        .ask("return document.querySelector('.sock-drawing svg').getAttribute('aria-label')")
        .await;
    assert!(
        said.as_str()
            .is_some_and(|s| s.contains("yarns A, B, C and D")),
        "{said}"
    );
    phone.put_away().await;
}
