//! A pattern of the knitter's own on a phone: pasted with a misprint, mended at its line, seated in even halves,
//! cast on and knitted to the graft while the server is gone. Its text is never sent anywhere.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::Duration;

use evenloop_engine::link::write_link;
use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::recipe::{Method, Recipe, Seating, SockPart};
use evenloop_engine::sock::{by_pattern, make};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::read_plan;
use evenloop_tests::laid::{
    SMALL_PATTERN, begun_at, cast_on, find, lay_out, small_pattern_mended, small_sock_by_pattern,
};
use evenloop_tests::line::Line;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{BOUNCE, catch_file, paste_pattern, saved_file};
use serde_json::{Value, json};

/// Its needles.
const HALVES: Method = Method::MagicLoop {
    seating: Seating::EvenHalves,
};

async fn until_says(phone: &Phone, css: &str, text: &str) {
    let script =
        format!("return document.querySelector({css:?})?.textContent.includes({text:?}) === true");
    phone.until(&format!("{css} says “{text}”"), &script).await;
}

/// The screen, opened on a phone that has read the note about storage.
async fn opened(server: &Server) -> Phone {
    let phone = Phone::unpack().await;
    phone.open(&server.url("/pattern")).await;
    phone
        .ask("localStorage.setItem('evenloop:told', '1'); localStorage.setItem('evenloop:guide', 'over')")
        .await;
    phone.reload().await;
    phone
}

async fn stored_plan(phone: &Phone) -> Plan {
    let stored = phone
        .ask(
            "const key = Object.keys(localStorage).find((key) => key.endsWith(':plan'));
             return localStorage.getItem(key)",
        )
        .await;
    read_plan(stored.as_str().expect("a plan")).expect("it reads back")
}

#[tokio::test]
async fn a_pasted_sock_is_mended_cast_on_and_knitted_to_the_graft_without_a_server() {
    let server = Server::start();
    let mut phone = opened(&server).await;
    phone.until_offline_ready().await;
    server.stop();
    phone.forgive("Failed to fetch");
    phone.reload().await;

    until_says(&phone, ".found-in-pattern", "Nothing here yet").await;
    paste_pattern(&phone, SMALL_PATTERN).await;
    until_says(&phone, ".found-in-pattern", "One line to look at").await;
    let found = phone.text(".found-in-pattern li").await;
    assert!(found.contains("Line 4"), "{found}");
    assert!(
        found.contains("Rnd 2: *K2, p2; rep from * to last 4 sts"),
        "{found}"
    );
    assert!(found.contains("one stitch is left"), "{found}");
    // The way to the line selects it, so that it can be typed over.
    phone.tap(".found-in-pattern li .button").await;
    let selected = phone
        .ask(
            "const area = document.activeElement;
             return area.value.slice(area.selectionStart, area.selectionEnd)",
        )
        .await;
    assert_eq!(
        selected,
        json!("Rnd 2: *K2, p2; rep from * to last 4 sts, k2, p1.")
    );
    // A misspelt word is marked in its line, and the word that is meant can be taken.
    let misspelt = small_pattern_mended().replacen("Knit", "Kint", 1);
    assert!(misspelt.contains("Kint"));
    paste_pattern(&phone, &misspelt).await;
    until_says(&phone, ".found-in-pattern mark", "Kint").await;
    until_says(&phone, ".found-in-pattern li", "“knit” may be meant").await;
    phone.tap(".found-in-pattern li > .button:last-child").await;
    until_says(&phone, ".found-in-pattern", "Every line was read").await;
    let mended = phone
        .ask("return document.getElementById('pattern-text').value")
        .await;
    assert_eq!(mended, json!(small_pattern_mended()));

    // Kept through a reload.
    phone.reload().await;
    until_says(&phone, "#plan .headline", "32").await;
    let kept = phone
        .ask("return document.getElementById('pattern-text').value")
        .await;
    assert_eq!(kept, json!(small_pattern_mended()));
    let chosen = "document.querySelector('input[name=needles]').checked
        && document.querySelector('input[name=seating]').checked";
    assert_eq!(phone.ask(&format!("return {chosen}")).await, true);
    phone.find("#plan svg path").await;

    phone.tap(".at-hand button").await;
    phone
        .until("it leads to Now", "return location.pathname === '/now'")
        .await;
    phone.find(".pad").await;
    assert_eq!(stored_plan(&phone).await, small_sock_by_pattern());
    until_says(&phone, ".instruction .typed-line", "Cast on 32 sts.").await;

    knit_to_the_end(&phone, &small_sock_by_pattern()).await;
    phone.put_away().await;
}

/// Touches the pad until the sock is done; the needles drawn carry what the simulator says after each touch.
async fn knit_to_the_end(phone: &Phone, plan: &Plan) {
    let trace = Trace::of(plan).expect("it can be knitted");
    let mut at = Position { step: 0, mv: 0 };
    let mut halves = 0;
    while at != trace.end() {
        let (_, mv) = plan.move_at(at).expect("a move");
        let wanted = plan.pattern_line(mv).unwrap_or_default();
        let script = format!(
            "const line = document.querySelector('.instruction .typed-line');
             const heard = line?.querySelector('.unseen').textContent.length;
             return (line?.textContent.slice(heard) ?? '') === {}",
            json!(wanted)
        );
        phone
            .until(&format!("{at:?} shows its line"), &script)
            .await;
        let kind = trace.steps[at.step].kind;
        if kind == SectionKind::Gusset {
            let sizes = trace.needles_at(at).expect("needles").per_needle();
            halves += usize::from(sizes.len() == 2 && sizes[0] == sizes[1]);
        }
        tokio::time::sleep(BOUNCE).await;
        phone.tap(".pad").await;
        at = trace.advance(at);
    }
    assert!(halves > 4, "the gusset was knitted in even halves");
    phone
        .until(
            "the sock is done",
            "return document.querySelector('.pad') === null
                 && document.querySelector('main').textContent.includes('The first sock is knitted')",
        )
        .await;
}

/// All that a server is asked for while a pattern is pasted, cast on and handed on.
#[tokio::test]
async fn the_text_is_sent_nowhere() {
    let server = Server::start();
    let line = Line::to(server.address());
    let phone = Phone::unpack().await;
    phone.open(&line.url("/pattern")).await;
    paste_pattern(&phone, &small_pattern_mended()).await;
    until_says(&phone, ".found-in-pattern", "Every line was read").await;
    phone.tap(".at-hand button").await;
    phone.find(".pad").await;
    phone.open(&line.url("/plan")).await;
    phone.find(".share .address").await;
    let address = phone
        .ask("return document.querySelector('.share .address').value")
        .await;
    let address = address.as_str().expect("a text").to_owned();
    assert!(address.contains("/pattern#r=4"), "{address}");
    // Opened on another phone, the text stands there.
    let other = Phone::unpack().await;
    other.open(&address).await;
    until_says(&other, "#plan .headline", "32").await;
    let text = other
        .ask("return document.getElementById('pattern-text').value")
        .await;
    assert_eq!(text, json!(small_pattern_mended()));
    assert_eq!(other.ask("return location.hash").await, json!(""));
    let asked = line.asked();
    let written = write_link(&by_pattern(&small_pattern_mended(), HALVES));
    for path in &asked {
        assert!(
            !path.contains(&written[1..40]) && !path.contains("K2"),
            "{path}"
        );
    }
    assert!(asked.len() > 5, "{asked:?}");
    other.put_away().await;
    phone.put_away().await;
}

#[tokio::test]
async fn what_a_pattern_leaves_out_is_planned_and_a_begun_one_is_seated_anew() {
    let server = Server::start();
    let phone = opened(&server).await;
    let mended = small_pattern_mended();
    let half = &mended[..mended.find("HEEL FLAP").expect("it is there")];
    paste_pattern(&phone, half).await;
    until_says(
        &phone,
        ".pattern-screen",
        "leaves out the heel, the foot and the toe",
    )
    .await;
    phone
        .ask(
            "[...document.querySelectorAll('.pattern-screen .notice button')]
                 .find((button) => button.textContent.includes('what is missing')).click()",
        )
        .await;
    phone
        .until(
            "nothing is missing",
            "return !document.querySelector('.pattern-screen').textContent.includes('leaves out')
                 && document.querySelector('#plan .facts') !== null",
        )
        .await;
    phone.tap(".at-hand button").await;
    phone.find(".pad").await;
    let made = stored_plan(&phone).await;
    let ours = made.recipe.written.expect("a pattern").ours;
    assert_eq!(ours, [SockPart::Heel, SockPart::Foot, SockPart::Toe]);

    // Changing the rest leads to the pattern's screen, which offers the needles and loses nothing.
    let gusset = find(&small_sock_by_pattern(), |kind, _| {
        kind == SectionKind::Foot
    })[1];
    lay_out(&phone, &small_sock_by_pattern(), [&begun_at(gusset), &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    phone.tap(".to-pause").await;
    phone.find("dialog[open] a.entry").await;
    phone
        .ask("document.querySelector('dialog[open] a.entry').click()")
        .await;
    phone
        .until(
            "the pattern's screen is there",
            "return location.pathname === '/pattern' && document.querySelector('input[name=seating]') !== null",
        )
        .await;
    phone
        .ask("document.querySelectorAll('input[name=seating]')[1].click()")
        .await;
    phone
        .until(
            "it can be taken up",
            "return document.querySelector('.at-hand button[aria-disabled]') === null",
        )
        .await;
    phone.tap(".at-hand button").await;
    phone
        .until("it leads to Now", "return location.pathname === '/now'")
        .await;
    let stored = phone
        .ask(
            "return Object.entries(localStorage)
                 .filter(([key]) => /:plan(:\\d)?$/.test(key)).map(([, value]) => value)",
        )
        .await;
    let apart = Method::MagicLoop {
        seating: Seating::InstepAndSole,
    };
    let plans: Vec<Plan> = stored
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .filter_map(|text| read_plan(text).ok())
        .collect();
    let seated = plans.iter().find(|plan| plan.recipe.needles == apart);
    let seated = seated.expect("a plan on other needles");
    assert_eq!(
        seated.recipe.written.as_ref().map(|w| &w.text),
        Some(&small_pattern_mended())
    );
    phone.put_away().await;
}

/// What does not come out is told at its line while it is knitted, with the count that is wanted after it.
#[tokio::test]
async fn a_finding_is_told_on_now_at_its_line() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let plan = make(&by_pattern(SMALL_PATTERN, HALVES)).expect("a sock all the same");
    assert_eq!(plan.found.len(), 1);
    let at = |line: u16| {
        let mut moves = find(&plan, |_, _| true).into_iter();
        let is_it = |at: &Position| {
            let (_, mv) = plan.move_at(*at).expect("a move");
            mv.pattern_line_number() == Some(line)
        };
        moves.find(is_it).expect("the line is worked")
    };
    lay_out(&phone, &plan, [&begun_at(at(4)), &[]]).await;
    phone.open(&server.url("/now")).await;
    until_says(
        &phone,
        ".instruction .typed-line",
        "rep from * to last 4 sts",
    )
    .await;
    until_says(&phone, ".instruction", "Found in this line").await;
    let told = phone.text(".instruction").await;
    assert!(told.contains("one stitch is left"), "{told}");
    assert!(told.contains("You should have 32 stitches"), "{told}");
    let wide = phone
        .ask("return document.documentElement.scrollWidth <= innerWidth")
        .await;
    assert_eq!(wide, true);
    // A sound line tells nothing.
    lay_out(&phone, &plan, [&begun_at(at(7)), &[]]).await;
    phone.open(&server.url("/now")).await;
    until_says(&phone, ".instruction .typed-line", "Knit 4 rnds.").await;
    tokio::time::sleep(Duration::from_secs(1)).await;
    let told = phone.text(".instruction").await;
    assert!(!told.contains("Found in this line"), "{told}");
    assert!(!told.contains("You should have"), "{told}");
    // A plan of an earlier Evenloop has nothing to tell, and is followed all the same.
    let earlier = Plan {
        found: Vec::new(),
        ..plan.clone()
    };
    lay_out(&phone, &earlier, [&begun_at(at(4)), &[]]).await;
    phone.open(&server.url("/now")).await;
    until_says(&phone, ".instruction", "You should have 32 stitches").await;
    let told = phone.text(".instruction").await;
    assert!(!told.contains("Found in this line"), "{told}");
    phone.put_away().await;
}

/// A sock of ours, saved as a pattern without a server, is brought in as a file and makes the same sock.
#[tokio::test]
async fn a_plan_saved_as_a_pattern_is_brought_in_again() {
    let server = Server::start();
    let mut phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let ours = make(&Recipe::default()).expect("a sock");
    lay_out(&phone, &ours, [&[], &[]]).await;
    phone.until_offline_ready().await;
    let (plan, pattern) = (server.url("/plan"), server.url("/pattern"));
    server.stop();
    phone.forgive("Failed to fetch");
    phone.open(&plan).await;
    phone.find(".doing .button").await;
    catch_file(&phone).await;
    phone
        .ask(
            "[...document.querySelectorAll('.doing button')]
                 .find((button) => button.textContent.includes('Save as a written pattern')).click()",
        )
        .await;
    let text = saved_file(&phone).await;
    assert!(text.contains("HEEL FLAP\n"), "{text}");
    phone.open(&pattern).await;
    phone.find("#pattern-text").await;
    phone
        .ask(&format!(
            "const input = document.querySelector('.file input');
             const files = new DataTransfer();
             files.items.add(new File([{}], 'sock-pattern.txt', {{ type: 'text/plain' }}));
             input.files = files.files;
             input.dispatchEvent(new Event('change', {{ bubbles: true }}));",
            json!(text)
        ))
        .await;
    until_says(&phone, ".found-in-pattern", "Every line was read").await;
    until_says(
        &phone,
        "#plan .headline",
        &ours.outcome.stitches.to_string(),
    )
    .await;
    phone.put_away().await;
}

/// Cast on in even halves and begun, a pair by a pattern is seated for two at a time where it is, without a server.
#[tokio::test]
async fn a_pair_by_a_pattern_in_even_halves_is_knitted_two_at_a_time() {
    let server = Server::start();
    let mut phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let leg = find(&small_sock_by_pattern(), |kind, _| kind == SectionKind::Leg)[2];
    lay_out(&phone, &small_sock_by_pattern(), [&begun_at(leg), &[]]).await;
    phone.until_offline_ready().await;
    let now = server.url("/now");
    server.stop();
    phone.forgive("Failed to fetch");
    phone.open(&now).await;
    phone.find(".pad").await;
    phone.tap(".to-pause").await;
    phone.find("dialog[open] .entry").await;
    let press = |css: &str, text: &str| {
        format!(
            "[...document.querySelectorAll({css:?})]
                 .find((button) => button.textContent.includes({text:?})).click()"
        )
    };
    phone
        .ask(&press("dialog[open] .entry", "Two at a time"))
        .await;
    phone.find("dialog[open] .button.lead").await;
    phone
        .ask(&press("dialog[open] .button", "Start two at a time"))
        .await;
    phone
        .until(
            "the page is closed",
            "return document.querySelector('dialog[open]') === null",
        )
        .await;
    let stored = phone
        .ask(
            "return Object.entries(localStorage)
                 .filter(([key]) => /:plan(:\\d)?$/.test(key)).map(([, value]) => value)",
        )
        .await;
    let apart = Method::MagicLoop {
        seating: Seating::InstepAndSole,
    };
    let plans = stored.as_array().into_iter().flatten();
    let plans: Vec<Plan> = plans
        .filter_map(Value::as_str)
        .filter_map(|text| read_plan(text).ok())
        .collect();
    assert!(!plans.is_empty());
    assert!(
        plans.iter().any(|plan| plan.recipe.needles == apart),
        "{stored}"
    );
    // The second sock has nothing on the needles yet and is caught up with first.
    until_says(&phone, ".instruction .typed-line", "Cast on 32 sts.").await;
    phone.put_away().await;
}

/// Which size fits is told when it is asked for, and nothing is changed before it is wished.
#[tokio::test]
async fn the_size_that_fits_is_told_and_taken_on_wish() {
    let server = Server::start();
    let phone = opened(&server).await;
    let text = "Gauge: 32 sts and 44 rnds to 10 cm\nCUFF\nCO 56 (64, 72) sts. Join.\nKnit 8 rnds.\n\
                LEG\nKnit 44 rnds.\nFOOT\nKnit 50 rnds.\n";
    paste_pattern(&phone, text).await;
    until_says(&phone, "#plan .headline", "56").await;
    let press = |name: &'static str| {
        format!(
            "[...document.querySelectorAll('.pattern-screen button')]
                 .find((button) => button.textContent.includes({name:?})).click()"
        )
    };
    phone.ask(&press("See whether it fits")).await;
    until_says(&phone, ".pattern-screen", "without your gauge").await;
    phone
        .ask("[...document.querySelectorAll('.pattern-screen summary')].at(-1).click()")
        .await;
    phone.find("#pattern-ball").await;
    for (id, value) in [
        ("pattern-stitches", "32"),
        ("pattern-rounds", "33"),
        ("pattern-foot", "26"),
        ("pattern-ball", "22"),
    ] {
        phone
            .ask(&format!(
                "const field = document.getElementById({id:?});
                 field.value = {value:?};
                 field.dispatchEvent(new Event('input', {{ bubbles: true }}));"
            ))
            .await;
    }
    phone.ask(&press("See whether it fits")).await;
    until_says(&phone, ".pattern-screen", "Size 2 would fit better").await;
    until_says(&phone, ".pattern-screen", "at your gauge, knit 33").await;
    until_says(&phone, "#plan .headline", "56").await;
    phone.ask(&press("Use size 2")).await;
    until_says(&phone, "#plan .headline", "64").await;
    phone.ask(&press("See whether it fits")).await;
    until_says(&phone, ".pattern-screen", "Size 2 fits").await;
    phone.ask(&press("Change these rounds")).await;
    until_says(&phone, ".pattern-screen", "kept for now").await;
    let now = phone
        .ask("return document.getElementById('pattern-text').value")
        .await;
    assert!(
        now.as_str()
            .is_some_and(|now| now.contains("Knit 33 rnds.")),
        "{now}"
    );
    phone.put_away().await;
}

#[tokio::test]
async fn what_is_too_long_or_no_sock_is_said_and_nothing_is_cast_on() {
    let server = Server::start();
    let phone = opened(&server).await;
    paste_pattern(&phone, &"Knit one round.\n".repeat(900)).await;
    until_says(&phone, "#plan", "14400 characters").await;
    phone.tap(".at-hand button").await;
    assert_eq!(
        phone.ask("return location.pathname").await,
        json!("/pattern")
    );
    paste_pattern(&phone, "CUFF\nKnit 4 rnds.\n").await;
    until_says(&phone, "#plan", "casts nothing on").await;
    phone.put_away().await;
}
