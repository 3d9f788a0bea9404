//! Left-handed knitting, as it is chosen in Settings: every picture is the mirror image, shape by shape, what is
//! written in it can still be read, and the words say the other sides. The words themselves are read by
//! `tests/words/mirror.rs`.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::plan::{Cue, Plan, SectionKind, make};
use evenloop_engine::recipe::{LeftRight, Motif, MotifPlacement, Recipe, Toe};
use evenloop_engine::trace::Position;
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::Value;

/// A pair with all that has a side.
fn sock() -> Plan {
    let recipe = Recipe {
        motif: Some(Motif {
            rows: ["p1 k4 p1", "p1 cl2/2 p1"]
                .iter()
                .map(|row| row.parse().expect("a round"))
                .collect(),
            place: MotifPlacement::Front,
            ..Motif::default()
        }),
        toe: Toe::Shaped {
            foot: LeftRight::Left,
        },
        stitches: Some(64),
        ..Recipe::default()
    };
    make(&recipe).expect("a sock")
}

/// How far a shape may be off, in pixels: places are drawn in tenths.
const NEARLY: f64 = 0.6;

/// What is drawn in a picture: its lines, and where each shape lies from the picture's middle.
async fn shapes(phone: &Phone, picture: &str) -> Vec<(String, [f64; 4])> {
    let drawn =
        format!("return document.querySelectorAll('{picture} path, {picture} use').length > 3");
    phone.until("the picture is drawn", &drawn).await;
    let found = phone
        .ask(&format!(
            "const box = document.querySelector('{picture}').getBoundingClientRect();
             const middle = box.left + box.width / 2;
             return [...document.querySelectorAll(
                 '{picture} :is(path, circle, rect, use, text):not(pattern *, defs *)')].map((one) => {{
                 const at = one.getBoundingClientRect();
                 const lines = one.tagName === 'text' ? 'text' : one.getAttribute('d') ?? one.tagName;
                 return [lines, at.left - middle, at.right - middle, at.top - box.top, at.bottom - box.top];
             }})"
        ))
        .await;
    let number = |value: &Value| value.as_f64().expect("a number");
    let all = found.as_array().expect("a list").iter().map(|one| {
        let lines = one[0].as_str().expect("its lines").to_owned();
        (lines, [1, 2, 3, 4].map(|nth| number(&one[nth])))
    });
    all.collect()
}

/// Whether the picture is turned round, and the letters in it back again.
async fn letters_can_be_read(phone: &Phone, picture: &str) {
    let turned = phone
        .ask(&format!(
            "const turned = (one) => getComputedStyle(one).transform === 'matrix(-1, 0, 0, 1, 0, 0)';
             return [turned(document.querySelector('{picture}')),
                 [...document.querySelectorAll('{picture} text')].every((text) =>
                     turned(text) && getComputedStyle(text).transformBox === 'fill-box'
                     && text.getAttribute('transform') === null)]"
        ))
        .await;
    assert_eq!(turned, serde_json::json!([true, true]), "{picture}");
}

fn is_mirrored(right: &[(String, [f64; 4])], left: &[(String, [f64; 4])]) {
    assert!(
        right.len() > 10 && right.len() == left.len(),
        "{} {}",
        right.len(),
        left.len()
    );
    let mut aside = 0;
    for ((lines, [from, to, top, bottom]), (same, [left_from, left_to, left_top, left_bottom])) in
        right.iter().zip(left)
    {
        assert_eq!(lines, same);
        // letters change from "left" to "right", so that they are a little wider or narrower
        let near = if lines == "text" { 6.0 } else { NEARLY };
        for (one, other) in [
            (-to, left_from),
            (-from, left_to),
            (*top, left_top),
            (*bottom, left_bottom),
        ] {
            assert!((one - other).abs() < near, "{lines}: {one} {other}");
        }
        aside += usize::from((from + to).abs() > 20.0);
    }
    assert!(
        aside > 1,
        "a picture that is its own mirror image shows nothing"
    );
}

async fn knit_with(phone: &Phone, server: &Server, nth: usize) {
    phone.open(&server.url("/keep")).await;
    phone.until_awake().await;
    let choose = format!("document.querySelectorAll('input[name=knits]')[{nth}].click()");
    phone.ask(&choose).await;
    let knits = if nth == 1 { "'left'" } else { "undefined" };
    let chosen = format!("return document.documentElement.dataset.knits === {knits}");
    phone.until("it is chosen", &chosen).await;
}

#[tokio::test]
async fn every_picture_is_the_mirror_image() {
    let server = Server::start();
    let plan = usual_sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    // rounds whose words leave the picture its room
    let places: [(&str, Position); 3] = [
        ("leg", find(&plan, |kind, _| kind == SectionKind::Leg)[20]),
        (
            "crossing",
            find(&plan, |kind, _| kind == SectionKind::PickUp)[1],
        ),
        (
            "gusset",
            find(&plan, |kind, _| kind == SectionKind::Gusset)[5],
        ),
    ];
    let needles = ".needles > svg";
    let fabric =
        "return document.querySelector('.needles .stitches path, .needles .stitches use') !== null";
    for (name, at) in places {
        lay_out(&phone, &plan, [&begun_at(at), &[]]).await;
        let mut seen = Vec::new();
        let mut spoken = Vec::new();
        for nth in [0, 1] {
            knit_with(&phone, &server, nth).await;
            phone.open(&server.url("/now")).await;
            phone.until("the fabric hangs", fabric).await;
            if nth == 1 {
                letters_can_be_read(&phone, needles).await;
                phone.screenshot(&format!("left-handed-{name}")).await;
            }
            seen.push(shapes(&phone, needles).await);
            let words = phone.find(needles).await.attr("aria-label").await;
            spoken.push(words.expect("it is there").unwrap_or_default());
        }
        is_mirrored(&seen[0], &seen[1]);
        if name == "gusset" {
            // the group that comes first is on the other side
            let first = |words: &str| words.find("left gusset") < words.find("right gusset");
            assert_ne!(first(&spoken[0]), first(&spoken[1]), "{spoken:?}");
        }
    }
    let decrease = find(&plan, |kind, _| kind == SectionKind::Gusset)[4];
    lay_out(&phone, &plan, [&begun_at(decrease), &[]]).await;
    knit_with(&phone, &server, 1).await;
    phone.open(&server.url("/now")).await;
    phone.tap(".lines .how").await;
    let said = phone.text(".pane[open] .explained").await;
    assert!(said.contains("leans to the left"), "{said}");
    let plan = sock();
    let at = find(&plan, |kind, _| kind == SectionKind::Gusset)[4];
    lay_out(&phone, &plan, [&begun_at(at), &[]]).await;
    for (name, path, picture) in [
        ("map", "/map", ".sock-drawing > svg"),
        ("basket", "/", ".fabric-figure > svg"),
    ] {
        let mut seen = Vec::new();
        for nth in [0, 1] {
            knit_with(&phone, &server, nth).await;
            phone.open(&server.url(path)).await;
            seen.push(shapes(&phone, picture).await);
            if nth == 1 {
                letters_can_be_read(&phone, picture).await;
                phone.screenshot(&format!("left-handed-{name}")).await;
            }
        }
        is_mirrored(&seen[0], &seen[1]);
    }
    phone.put_away().await;
}

#[tokio::test]
async fn a_left_handed_knitter_gets_her_own_words_from_the_first_paint_on() {
    let server = Server::start();
    let plan = sock();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    knit_with(&phone, &server, 1).await;
    // the toe that is planned for the left foot comes out for the right one
    let toe = find(&plan, |kind, cue| {
        kind == SectionKind::Toe && cue == Cue::Shape
    })[0];
    lay_out(&phone, &plan, [&begun_at(toe), &[]]).await;
    phone.open(&server.url("/now")).await;
    let note = phone.text(".note").await;
    assert!(note.contains("This toe is for the right foot"), "{note}");
    phone.open(&server.url("/plan")).await;
    phone
        .until(
            "the plan is there",
            "return document.querySelector('.plan-sheet .of-sheet') !== null",
        )
        .await;
    let sheet = phone.text(".plan-sheet").await;
    for words in [
        "For left-handed knitting",
        "a chart is read from left to right",
    ] {
        assert!(sheet.contains(words), "{words}");
    }
    letters_can_be_read(&phone, ".plan-sheet .chart-picture").await;
    // in Measure "left foot" is chosen by its name, whichever hand knits
    phone.open(&server.url("/measure")).await;
    phone.until_awake().await;
    assert_eq!(
        phone
            .ask("return document.documentElement.dataset.knits")
            .await,
        "left"
    );
    // the hand that touches the pad is another thing
    assert_eq!(
        phone
            .ask("return JSON.parse(localStorage['evenloop:settings']).hand")
            .await,
        "right"
    );
    phone.put_away().await;
}
