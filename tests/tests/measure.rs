//! The form of Measure on a phone: what a first pair of plain socks sees, what a pair with a bit of
//! everything can ask for, what is said when it is wrong, and the chart under a finger and from the
//! keyboard.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::{Duration, Instant};

use evenloop_engine::recipe::{
    Ball, CastOn, Fit, FlapTexture, Girth, Heel, HeelTurn, LeftRight, Motif, MotifPlacement,
    Recipe, Stripe, Toe, Yarns,
};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::units::Length;
use evenloop_engine::wire::{plan_document, write_recipe};
use evenloop_tests::laid::{cast_on, fill_in};
use evenloop_tests::line::Line;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::Value;
use thirtyfour::Key;

/// The note about storage lies over the top of the page until it is read.
const READ_NOTE: &str = "localStorage.setItem('evenloop:told', '1')";

async fn measure() -> (Server, Phone) {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/measure")).await;
    phone.ask(READ_NOTE).await;
    phone.reload().await;
    (server, phone)
}

/// Chooses the nth of some radio buttons, or ticks the nth box of that name.
async fn choose(phone: &Phone, name: &str, nth: usize) {
    let css = format!("input[name={name}]");
    phone.unfold(&css).await;
    let script = format!("document.querySelectorAll('{css}')[{nth}].click()");
    phone.ask(&script).await;
}

/// Presses the first button that says a text.
async fn push(phone: &Phone, text: &str) {
    phone
        .until(
            text,
            &format!(
                "const button = [...document.querySelectorAll('.measure button')]
                     .find((button) => button.textContent.trim().startsWith({text:?}));
                 button?.click();
                 return button !== undefined"
            ),
        )
        .await;
}

async fn until_text(phone: &Phone, css: &str, text: &str) {
    let script =
        format!("return document.querySelector({css:?})?.textContent.includes({text:?}) === true");
    phone.until(&format!("{css} says “{text}”"), &script).await;
}

async fn focused(phone: &Phone) -> String {
    let name = phone
        .ask("return document.activeElement.getAttribute('aria-label') ?? ''")
        .await;
    name.as_str().unwrap_or_default().to_owned()
}

#[tokio::test]
async fn a_first_pair_of_plain_socks_sees_nothing_of_all_this() {
    let (_server, phone) = measure().await;
    let seen = phone
        .ask(
            "return [...document.querySelectorAll('.measure .form input')]
                 .filter((input) => input.checkVisibility())
                 .map((input) => input.id || input.name)",
        )
        .await;
    let expected = [
        "unit",
        "unit",
        "foot-length",
        "foot-circumference",
        "heel-diagonal",
        "gauge-by",
        "gauge-by",
        "swatch-stitches",
        "swatch-width",
        "swatch-rounds",
        "swatch-height",
        "pair-name",
    ];
    assert_eq!(seen, serde_json::json!(expected));
    assert_eq!(
        phone
            .ask("return document.querySelector('.chart-grid, .strip, .leg-drawing')")
            .await,
        Value::Null
    );
    phone.put_away().await;
}

#[tokio::test]
async fn nothing_stands_in_the_lines_that_nobody_typed_and_nothing_can_be_cast_on_before() {
    let (_server, phone) = measure().await;
    let values = phone
        .ask("return [...document.querySelectorAll('.measure .field.number input')].map((line) => line.value)")
        .await;
    let empty = values.as_array().expect("lines");
    assert!(
        empty.len() >= 7 && empty.iter().all(|value| value == ""),
        "{values}"
    );
    let example = "return document.querySelector('#foot-length').placeholder";
    assert_eq!(phone.ask(example).await, "e.g. 24");
    // Fewer than 250 words before anything is unfolded.
    let words = phone
        .ask(
            "const count = (text) => text.split(/\\s+/).filter((word) => word !== '').length;
             // what a list holds is not seen before it is opened
             const lists = [...document.querySelectorAll('.measure select')];
             return count(document.querySelector('.measure').innerText)
                 - lists.reduce((sum, list) => sum + count(list.innerText), 0)",
        )
        .await;
    let words = words.as_u64().expect("a number");
    println!("{words} words");
    assert!(words < 250, "{words} words");
    // An example is drawn, and fades until it is hers.
    phone.find(".outcome.sketch .fabric-figure svg").await;
    until_text(&phone, ".at-hand", "Needed: foot and swatch").await;
    phone.tap(".at-hand button").await;
    assert_eq!(phone.ask("return location.pathname").await, "/measure");
    until_text(&phone, "#foot-length-error", "still empty").await;
    until_text(&phone, "#swatch-stitches-error", "still empty").await;
    phone
        .until(
            "the first empty line has the focus",
            "return document.activeElement.id === 'foot-length'",
        )
        .await;
    phone.write("#foot-length", "25").await;
    until_text(&phone, ".at-hand", "Needed: the swatch").await;
    until_text(&phone, "#plan", "The swatch").await;
    fill_in(&phone).await;
    phone.find(".outcome:not(.sketch) .headline").await;
    phone.put_away().await;
}

#[tokio::test]
async fn without_a_swatch_a_first_guess_is_cast_on_and_measured_on_the_way() {
    let (_server, phone) = measure().await;
    phone.write("#foot-length", "24").await;
    choose(&phone, "gauge-by", 1).await;
    until_text(
        &phone,
        ".guessed",
        "32 stitches and 44 rounds to 10\u{a0}cm",
    )
    .await;
    until_text(&phone, "#plan", "first guess").await;
    phone.write("#band-stitches", "28").await;
    until_text(&phone, ".guessed", "30 stitches and 41 rounds").await;
    phone.tap(".at-hand button").await;
    phone.find(".pad").await;
    let stored = phone
        .ask(
            "const key = Object.keys(localStorage).find((key) => key.endsWith(':plan'));
             return JSON.parse(localStorage.getItem(key)).recipe.swatch.guess",
        )
        .await;
    assert_eq!(
        stored,
        serde_json::json!({ "yarn": "fingering", "band_stitches": 28 })
    );
    phone.put_away().await;
}

#[tokio::test]
async fn a_pair_in_hand_is_never_offered_once_more_by_itself() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    phone.open(&server.url("/measure")).await;
    until_text(
        &phone,
        ".on-needles",
        "On the needles: Everyday socks, first sock",
    )
    .await;
    // Nothing of it stands in the form.
    assert_eq!(
        phone
            .ask("return document.querySelector('#foot-length').value")
            .await,
        ""
    );
    until_text(&phone, ".at-hand", "Needed").await;
    push(&phone, "Fill in the same for another pair").await;
    until_text(&phone, ".at-hand", "stitches").await;
    assert_eq!(
        phone
            .ask("return document.querySelector('#foot-length').value")
            .await,
        "24"
    );
    // Changing what is on the needles is another thing.
    phone.reload().await;
    phone.tap(".on-needles a[rel=external]").await;
    phone.find("#rounds-foot").await;
    phone.put_away().await;
}

#[tokio::test]
async fn where_inches_are_chosen_everything_is_in_round_figures_of_theirs() {
    let (_server, phone) = measure().await;
    choose(&phone, "unit", 1).await;
    let example = |id: &str| format!("return document.querySelector('#{id}').placeholder");
    assert_eq!(phone.ask(&example("foot-length")).await, "e.g. 9.5");
    assert_eq!(phone.ask(&example("swatch-width")).await, "e.g. 4");
    for (id, text) in [
        ("foot-length", "9 1/2"),
        ("swatch-stitches", "30"),
        ("swatch-width", "4"),
        ("swatch-rounds", "42"),
        ("swatch-height", "4"),
        ("ball-grams", "3.5"),
        ("ball-metres", "437"),
    ] {
        phone.write(&format!("#{id}"), text).await;
    }
    phone.unfold("#leg").await;
    assert_eq!(phone.ask(&example("leg")).await, "6.25");
    until_text(&phone, "#plan", "\u{a0}yd").await;
    // as it is written, with spaces at which no line is broken
    let said = phone
        .ask("return document.querySelector('.measure').textContent")
        .await;
    let said = said.as_str().expect("a text");
    assert!(said.contains("\u{a0}oz"), "{said}");
    for other in ["\u{a0}cm", "\u{a0}m,", "\u{a0}g"] {
        assert!(!said.contains(other), "{other:?}: {said}");
    }
    let nothing = phone
        .ask(
            "return [...document.querySelectorAll('#plan td')]
                 .filter((cell) => cell.textContent.trim() === '0\u{a0}in').length",
        )
        .await;
    assert_eq!(nothing, 0, "a part that is there has a height");
    phone.put_away().await;
}

/// A bit of everything, as a recipe.
fn rich_sock() -> Recipe {
    let girth = |height, circumference| Girth {
        height: Length::cm(height),
        circumference: Length::cm(circumference),
    };
    let stripe = |yarn, rounds| Stripe { yarn, rounds };
    let usual = Recipe::default();
    let cable = ["p1 k4 p1", "p1 k4 p1", "p1 cr2/2 p1"].into_iter();
    let rest = std::iter::repeat_n("p1 k4 p1", 3);
    Recipe {
        fit: Fit {
            high_instep: true,
            ..usual.fit
        },
        cast_on: CastOn::TwistedLongTail,
        leg: Length::cm(34),
        calf: vec![girth(12, 25), girth(28, 34)],
        heel: Heel::FlapAndGusset {
            texture: FlapTexture::default(),
            turn: HeelTurn::default(),
            rows: None,
            height: Some(Length::mm(65)),
            corners: true,
        },
        toe: Toe::Shaped {
            foot: LeftRight::Right,
        },
        motif: Some(Motif {
            rows: cable
                .chain(rest)
                .map(|row| row.parse().expect("a row"))
                .collect(),
            place: MotifPlacement::Front,
            ..Motif::default()
        }),
        yarns: Some(Yarns {
            stripes: vec![stripe(Yarn::A, 2), stripe(Yarn::B, 5), stripe(Yarn::C, 5)],
            cuff: Yarn::A,
            heel: Yarn::C,
            toe: Yarn::A,
        }),
        ball: Some(Ball {
            grams: 100,
            metres: 400,
        }),
        ..usual
    }
}

#[tokio::test]
async fn a_bit_of_everything_is_asked_for_kept_and_cast_on() {
    let (_server, phone) = measure().await;
    fill_in(&phone).await;
    choose(&phone, "high-instep", 0).await;
    choose(&phone, "cast-on", 1).await;
    choose(&phone, "toe", 5).await;
    choose(&phone, "first-foot", 1).await;
    choose(&phone, "flap-by", 1).await;
    phone.write("#heel-height", "6,5").await;
    phone.write("#leg", "34").await;
    for (place, (height, round)) in [("12", "25"), ("28", "34")].into_iter().enumerate() {
        phone.unfold("#add-girth").await;
        phone.tap("#add-girth").await;
        phone.write(&format!("#girth-height-{place}"), height).await;
        phone.write(&format!("#girth-round-{place}"), round).await;
    }
    phone.find(".leg-drawing").await;
    choose(&phone, "patterned", 0).await;
    choose(&phone, "place", 1).await;
    push(&phone, "Cable").await;
    choose(&phone, "yarns", 2).await;
    phone.write("#stripe-rounds-1", "5").await;
    phone.tap("#add-stripe").await;
    choose(&phone, "part-heel", 2).await;
    phone.write("#ball-grams", "100").await;
    phone.write("#ball-metres", "400").await;
    until_text(&phone, "#plan", "Yarn C").await;
    until_text(&phone, "#plan", "Stitches at the top").await;
    phone.reload().await;
    until_text(&phone, "#plan", "Yarn C").await;
    phone.tap(".at-hand button").await;
    phone
        .until(
            "casting on leads to Now",
            "return location.pathname === '/now'",
        )
        .await;
    let stored = phone
        .ask(
            "const key = Object.keys(localStorage).find((key) => key.endsWith(':plan'));
             return localStorage.getItem(key)",
        )
        .await;
    let native = plan_document(&write_recipe(&rich_sock())).expect("it is a sock");
    assert!(
        stored == native,
        "the phone's plan is not the native one to the byte"
    );
    // The second sock is for the other foot and has a plan of its own.
    let second = rich_sock().second_sock().expect("a toe for the left foot");
    let native = plan_document(&write_recipe(&second)).expect("it is a sock");
    let stored = phone
        .ask(
            "const key = Object.keys(localStorage).find((key) => key.endsWith(':plan:2'));
             return localStorage.getItem(key)",
        )
        .await;
    assert!(
        stored == native,
        "the second sock's plan is not the native one"
    );
    phone.put_away().await;
}

#[tokio::test]
async fn casting_on_never_waits_for_the_network() {
    const PLAN: &str = "/api/plan";
    let server = Server::start();
    let line = Line::to(server.address());
    // Whatever the page might want of the server for a plan would never come.
    line.hold(PLAN);
    let phone = Phone::unpack().await;
    phone.open(&line.url("/measure")).await;
    phone.ask(READ_NOTE).await;
    // One plan, and two more of them for a pair of left and right.
    for (toe, plans) in [(0, 1), (5, 3)] {
        phone.open(&line.url("/measure")).await;
        fill_in(&phone).await;
        choose(&phone, "toe", toe).await;
        until_text(&phone, ".at-hand", "around").await;
        let begin = Instant::now();
        phone.tap(".at-hand .button.lead").await;
        let stored = format!(
            "return Object.keys(localStorage).filter((key) => /:plan(:2)?$/.test(key)).length === {plans}"
        );
        phone.until("the plans are stored", &stored).await;
        let took = begin.elapsed();
        assert!(took < Duration::from_secs(1), "{plans}: {took:?}");
        phone
            .until(
                "casting on leads to Now",
                "return location.pathname === '/now'",
            )
            .await;
    }
    let asked = line.asked();
    assert!(asked.iter().any(|path| path == "/measure"), "{asked:?}");
    assert!(!asked.iter().any(|path| path == PLAN), "{asked:?}");
    phone.put_away().await;
}

#[tokio::test]
async fn what_does_not_go_together_is_said_where_it_was_chosen() {
    let (_server, phone) = measure().await;
    fill_in(&phone).await;
    choose(&phone, "direction", 1).await;
    choose(&phone, "toe", 3).await;
    until_text(&phone, "#at-toe", "drawn closed").await;
    until_text(&phone, ".at-hand", "One thing to fix").await;
    choose(&phone, "toe", 4).await;
    until_text(&phone, ".at-hand", "stitches").await;

    for (place, (height, round)) in [("30", "36"), ("20", "30")].into_iter().enumerate() {
        phone.unfold("#add-girth").await;
        phone.tap("#add-girth").await;
        phone.write(&format!("#girth-height-{place}"), height).await;
        phone.write(&format!("#girth-round-{place}"), round).await;
    }
    until_text(&phone, "#at-calf", "do not go upward").await;
    phone.write("#girth-round-1", "99").await;
    // The button that begins the pair goes to the first thing that is wrong.
    let led = "return document.activeElement.id === 'girth-round-1'
        && document.activeElement.checkVisibility()";
    phone
        .ask("document.querySelectorAll('details').forEach((fold) => fold.removeAttribute('open'))")
        .await;
    phone.tap(".at-hand button").await;
    phone.until("the line has the focus, unfolded", led).await;
    // So it does where nothing was unfolded yet.
    phone.reload().await;
    assert_eq!(
        phone
            .ask("return document.getElementById('girth-round-1')")
            .await,
        Value::Null
    );
    until_text(&phone, ".at-hand", "things to fix").await;
    phone.tap(".at-hand button").await;
    phone
        .until("the line was made and has the focus", led)
        .await;
    until_text(&phone, "#girth-round-1-error", "12\u{a0}cm to 60\u{a0}cm").await;
    choose(&phone, "unit", 1).await;
    until_text(&phone, "#girth-round-1-error", "4¾\u{a0}in to 23½\u{a0}in").await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_shoe_size_and_a_leg_by_name_fill_in_their_lines() {
    let (_server, phone) = measure().await;
    fill_in(&phone).await;
    phone.write("#shoe-size", "12").await;
    phone.press(&[Key::Tab]).await;
    until_text(&phone, "#shoe-size-error", "no such size").await;
    phone.write("#shoe-size", "39½").await;
    phone.tap("#shoe-fill").await;
    until_text(&phone, "#plan", "24.1\u{a0}cm").await;
    let length = phone
        .ask("return document.querySelector('#foot-length').value")
        .await;
    assert_eq!(length, "25");
    phone.unfold("#leg").await;
    push(&phone, "Knee").await;
    let leg = "return document.querySelector('#leg').value === '37.5'";
    phone.until("the leg is half as long again", leg).await;
    phone.put_away().await;
}

#[tokio::test]
async fn the_chart_is_written_by_touch_and_by_key() {
    let (_server, phone) = measure().await;
    fill_in(&phone).await;
    choose(&phone, "patterned", 0).await;
    let cell = |round: u8, cell: u8| format!("[data-round='{round}'][data-cell='{cell}']");
    // Purl is chosen first.
    phone.tap(&cell(0, 1)).await;
    let name = format!("return document.querySelector(`{}`).ariaLabel", cell(0, 1));
    let purl = format!("{name} === 'round 1, stitch 2: purl'");
    phone.until("a purl stitch is there", &purl).await;
    phone.tap(&cell(0, 1)).await;
    let knit = format!("{name} === 'round 1, stitch 2: knit'");
    phone.until("touched again it is knit", &knit).await;
    phone.press(&[Key::Up, Key::Left]).await;
    phone
        .until(
            "the arrows walk as the chart is read",
            "return document.activeElement.ariaLabel === 'round 2, stitch 3: knit'",
        )
        .await;
    push(&phone, "yo").await;
    phone
        .ask(&format!("document.querySelector(`{}`).focus()", cell(1, 2)))
        .await;
    phone.press(&[Key::Enter]).await;
    until_text(
        &phone,
        "#at-motif",
        "Round 2 of the stitch pattern makes 4 stitches of 3",
    )
    .await;
    assert_eq!(focused(&phone).await, "round 2, stitch 3: yarn over");
    push(&phone, "k2tog").await;
    phone.tap(&cell(1, 3)).await;
    until_text(&phone, ".at-hand", "stitches").await;
    push(&phone, "cross left").await;
    phone.tap(&cell(3, 2)).await;
    phone
        .until(
            "a cross at the edge moves in",
            "return document.activeElement.ariaLabel
                 === 'round 4, stitches 1 to 4: 2 over 2 to the left'",
        )
        .await;
    phone.tap("[data-number='1']").await;
    push(&phone, "Duplicate this round").await;
    phone
        .until(
            "there is a round more",
            "return document.querySelectorAll('.chart-row').length === 5",
        )
        .await;
    // Typing 12 passes through 1 and loses nothing.
    phone.write("#chart-width", "12").await;
    phone
        .until(
            "the chart is wider, and all in it is still there",
            "return document.querySelectorAll('.chart-numbers > span').length === 12
                 && document.querySelectorAll('.span-4').length === 1",
        )
        .await;
    phone.put_away().await;
}

#[tokio::test]
async fn everything_is_large_enough_to_touch_and_nothing_is_cut_off() {
    let (_server, phone) = measure().await;
    fill_in(&phone).await;
    choose(&phone, "patterned", 0).await;
    choose(&phone, "yarns", 3).await;
    // A place that is taken out again: the plan has to fit, too, not only what is wrong with it.
    phone.unfold("#add-girth").await;
    phone.tap("#add-girth").await;
    phone.find("#girth-height-0").await;
    push(&phone, "Take out place 1").await;
    phone.find(".section-table").await;
    phone
        .ask(
            "document.querySelectorAll('details').forEach((fold) => fold.setAttribute('open', ''))",
        )
        .await;
    phone.find(".strip").await;
    for size in ["100%", "200%"] {
        phone
            .ask(&format!(
                "document.documentElement.style.fontSize = '{size}'"
            ))
            .await;
        let small = phone
            .ask(
                "return [...document.querySelectorAll(
                     '.measure button, .measure summary, .measure select, .measure label.choice,'
                     + '.measure label.yarn-choice, .measure .field input')]
                     .filter((one) => one.checkVisibility())
                     .filter((one) => {
                         const box = one.getBoundingClientRect();
                         return box.height < 44 || box.width < 44;
                     })
                     .map((one) => one.outerHTML.slice(0, 90))",
            )
            .await;
        assert_eq!(small, serde_json::json!([]), "at {size}");
        let wide = phone
            .ask("return document.documentElement.scrollWidth <= screen.width")
            .await;
        assert_eq!(wide, true, "at {size}");
    }
    phone.put_away().await;
}
