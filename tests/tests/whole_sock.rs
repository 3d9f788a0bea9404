//! A knitter with a phone: measures a child's foot, casts on, and knits the whole first sock by
//! touching the pad. In the middle of the crossing after the heel turn the train enters a tunnel
//! (the server is stopped) and the phone is put away and taken up again (the page is reloaded).
//! After every touch the counts on the screen are held against the naive knitter's needles, who
//! shares no code with the engine.
//!
//! The sock is the known case: 48 stitches, heel on 24, 14 = 7 + 7 left by the turn, instep 12 + 12
//! (common practice, no source).

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::{Duration, Instant};

use evenloop_engine::foot::Foot;
use evenloop_engine::recipe::{Cuff, Fit, Recipe};
use evenloop_engine::swatch::Swatch;
use evenloop_engine::units::Length;
use evenloop_engine::wire::{plan_document, write_recipe};
use evenloop_tests::laid::touch_cast_on;
use evenloop_tests::model::compare::hands_for;
use evenloop_tests::model::hands::Hands;
use evenloop_tests::model::page::{self, Page};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::BOUNCE;
use serde_json::Value;

/// What the knitter types: the line of the form, and the text.
const TYPED: [(&str, &str); 8] = [
    ("foot-length", "18"),
    ("foot-circumference", "17,8"),
    ("swatch-stitches", "30"),
    ("swatch-width", "10"),
    ("swatch-rounds", "42"),
    ("swatch-height", "10"),
    ("cuff-length", "2"),
    ("leg", "5 cm"),
];

/// The same as a recipe.
fn childs_sock() -> Recipe {
    Recipe {
        foot: Foot {
            length: Length::cm(18),
            circumference: Some(Length::mm(178)),
            heel_diagonal: None,
        },
        swatch: Swatch {
            unwashed: None,
            needle: None,
            pattern: None,
            pattern_rounds: None,
            flap: None,
            guess: None,
            stitches: 30,
            width: Length::cm(10),
            rounds: 42,
            height: Length::cm(10),
        },
        // What stands in the form for a child's foot.
        fit: Fit {
            length_ease: Length::mm(5),
            ..Fit::default()
        },
        cuff: Cuff {
            length: Length::cm(2),
            ..Cuff::default()
        },
        leg: Length::cm(5),
        ..Recipe::default()
    }
}

/// What the screen says.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Screen {
    section: String,
    heading: String,
    /// Needle and count after it, in the order of the lines.
    counts: Vec<(usize, u32)>,
}

const LOOK: &str = "
    const text = (css, within = document) => within.querySelector(css)?.textContent ?? '';
    return {
        section: text('.now-head h1'),
        heading: text('.now-head .count'),
        // Needles that do the same share a card.
        counts: [...document.querySelectorAll('.instruction .lines li')].flatMap((card) => {
            const needles = [...card.querySelectorAll('.needle [aria-hidden]')];
            return [...card.querySelectorAll('.after')].map((after, i) =>
                [needles[i]?.textContent ?? '', after.firstChild.data]);
        }),
    };";

/// Stitches of all needles in the picture, as it tells their sums. What is still to come is on none.
const DRAWN: &str = "[...document.querySelectorAll('.needles:not(.to-come) .total .sum')]
    .reduce((sum, one) => sum + parseInt(one.textContent), 0)";

/// Whether the picture shows the stitches that are cast on next.
const COMING: &str = "return document.querySelector('.needles.to-come .total .sum')?.textContent.startsWith('48') === true";
/// Whether it shows the sock.
const OFF: &str = "return document.querySelector('.now .off-needles svg path') !== null";

async fn look(phone: &Phone) -> Screen {
    let seen = phone.ask(LOOK).await;
    let text = |value: &Value| value.as_str().unwrap_or_default().trim().to_owned();
    let counts = seen["counts"].as_array().cloned().unwrap_or_default();
    Screen {
        section: text(&seen["section"]),
        heading: text(&seen["heading"]),
        counts: counts
            .iter()
            .map(|line| {
                let count = text(&line[1]).parse().expect("every line shows a count");
                // Before the stitches are divided the only needle has no number.
                (text(&line[0]).parse().unwrap_or(1), count)
            })
            .collect(),
    }
}

/// Waits for something else to be on the screen than before.
async fn next_screen(phone: &Phone, before: &Screen) -> Screen {
    let begin = Instant::now();
    loop {
        let now = look(phone).await;
        if now.section != before.section || now.heading != before.heading {
            return now;
        }
        assert!(
            begin.elapsed() < Duration::from_secs(20),
            "nothing follows {before:?}"
        );
        tokio::time::sleep(Duration::from_millis(15)).await;
    }
}

async fn fill_in_measure(phone: &Phone) {
    for (id, text) in TYPED {
        phone.write(&format!("#{id}"), text).await;
    }
    phone
        .until(
            "the outcome follows the form",
            "return document.querySelector('.at-hand strong')?.textContent.includes('48')",
        )
        .await;
}

/// The plan that lies on the phone.
async fn stored_plan(phone: &Phone) -> String {
    let plan = phone
        .ask(
            "return Object.values({ ...localStorage })
                .find((value) => value.startsWith('{\"evenloop\":\"plan\"')) ?? null",
        )
        .await;
    plan.as_str()
        .expect("a plan is stored with the pair")
        .to_owned()
}

/// A move of the page: the section's key, its walked or counted form, and the counts after it.
fn worked(page: &Page, mut each: impl FnMut(&str, &str, &Hands)) {
    let mut hands = hands_for(&childs_sock());
    for section in &page.sections {
        hands.begin_section(section);
        for step in &section.steps {
            for mv in &step.moves {
                hands.work(mv, &step.form).expect("hands can do it");
                each(&section.kind, &mv.cue, &hands);
            }
        }
    }
}

#[tokio::test]
async fn the_whole_first_sock_is_knitted_by_touching_the_pad() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/measure")).await;
    phone.until_offline_ready().await;
    fill_in_measure(&phone).await;
    touch_cast_on(&phone).await;

    let recipe = write_recipe(&childs_sock());
    let document = plan_document(&recipe).expect("the known case is a sock");
    assert_eq!(
        stored_plan(&phone).await,
        document,
        "the phone has the server's plan"
    );
    let page = page::read(&document).expect("our own plan");

    let mut expected = Vec::new();
    worked(&page, |section, cue, hands| {
        expected.push((section.to_owned(), cue.to_owned(), hands.per_needle()));
    });
    let mut server = Some(server);
    let mut screen = look(&phone).await;
    let (mut on_needles, mut before) = (0, 0);
    phone
        .until("what is to be cast on is shown, pale", COMING)
        .await;
    for (touch, (section, cue, per_needle)) in expected.iter().enumerate() {
        for (needle, count) in &screen.counts {
            // Hands do not hold a needle that has nothing on it any more.
            assert_eq!(
                per_needle.get(needle - 1).unwrap_or(&0),
                count,
                "touch {touch}, {section} ({cue}), needle {needle}; the screen: {screen:?}"
            );
        }
        // It is drawn a moment after the words.
        let drawn = format!("return {DRAWN} === {on_needles}");
        let what = format!("the picture shows {on_needles} stitches at touch {touch}");
        phone.until(&what, &drawn).await;
        before = on_needles;
        on_needles = per_needle.iter().sum::<u32>();
        if cue == "cross-instep-first" {
            server.take().expect("there is one crossing").stop();
            phone.reload().await;
            phone.find(".pad").await;
            assert_eq!(look(&phone).await, screen, "nothing is lost in the tunnel");
        }
        if touch + 1 == expected.len() {
            phone
                .until("the sock that is off the needles is shown", OFF)
                .await;
        }
        phone.tap(".pad").await;
        if touch + 1 < expected.len() {
            screen = next_screen(&phone, &screen).await;
        }
        tokio::time::sleep(BOUNCE).await;
    }
    assert!(server.is_none(), "the sock went through the tunnel");
    phone.find(".finished").await;
    phone.reload().await;
    let title = phone.text(".finished h1").await;
    assert!(title.to_lowercase().contains("first sock"), "{title}");
    // Taken up again, the needles are drawn with the first frame. (The phone may only shake once the page
    // was touched.)
    phone.tap(".finished h1").await;
    let undo = format!(
        "document.querySelector('.undo').click();
         await new Promise(requestAnimationFrame);
         return {DRAWN}"
    );
    assert_eq!(phone.ask_later(&undo).await, before);
    phone.put_away().await;
}

#[tokio::test]
async fn the_phone_makes_the_same_plan_without_a_server() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/measure")).await;
    phone.until_offline_ready().await;
    server.stop();
    phone.reload().await;
    fill_in_measure(&phone).await;
    touch_cast_on(&phone).await;
    let native = plan_document(&write_recipe(&childs_sock())).expect("the known case is a sock");
    assert_eq!(stored_plan(&phone).await, native, "to the byte");
    drop(phone);
}
