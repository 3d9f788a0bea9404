//! A walk over every screen and its states in the made-up language, whose every letter is marked and
//! whose sentences are 40 % longer: no word on them that is not the language's, and at 360 pixels
//! nothing that overflows.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

mod looking;
mod patterns;
mod worker;

use evenloop_engine::journal::Event;
use evenloop_engine::link::write_link;
use evenloop_engine::plan::{Plan, SectionKind, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::trace::{Position, Trace};
use evenloop_tests::laid::{THEN, begun_at, cast_on, find, lay_out, patterned};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{backup, look_into, put};
use looking::{look, planted_is_seen, walk};
use serde_json::json;

fn usual() -> Recipe {
    Recipe {
        stitches: Some(64),
        ..Recipe::default()
    }
}

/// Twice for what is made only when the fold around it is unfolded.
const UNFOLD: &str = "document.querySelectorAll('details').forEach((one) => { one.open = true })";
const PAUSE: &str = "document.querySelector('.to-pause').click()";
const ENTRIES: [&str; 6] = [
    "document.querySelectorAll('.entries .entry')[0].click()",
    "document.querySelectorAll('.entries .entry')[1].click()",
    "document.querySelectorAll('.entries .entry')[2].click()",
    "document.querySelectorAll('.entries .entry')[3].click()",
    "document.querySelectorAll('.entries .entry')[4].click()",
    "document.querySelectorAll('.entries .entry')[5].click()",
];
const STOP: &str = "document.querySelector('.stop:not(.here)').click()";
const WRONG: &str = "for (const [id, text] of [['foot-length', 'ж'], ['swatch-stitches', '900']]) {
        const line = document.getElementById(id);
        line.value = text; line.dispatchEvent(new Event('input', { bubbles: true }));
        line.dispatchEvent(new Event('blur'));
    }
    document.querySelector('.at-hand button').click()";
/// A pattern that cannot be read, in letters of another alphabet.
const TYPED: &str = "
    const area = document.getElementById('pattern-text');
    area.value = 'ж ж ж\\n64 (72, 80) ж';
    area.dispatchEvent(new Event('input', { bubbles: true }));
    return new Promise((done) => setTimeout(done, 900))";
const GUIDE: &str = "document.querySelector('.settings .care').previousElementSibling.querySelector('button').click()";
/// Fills the storage to the last character.
const FILL: &str = "
    let many = 0;
    for (let step = 1 << 23; step >= 1; step >>= 1) {
        try {
            localStorage.setItem('filler', 'x'.repeat(many + step));
            many += step;
        } catch {}
    }";
/// From the needles at rest to where the rest of the sock is changed.
const CHANGE: &str = "document.querySelector('.entries a.entry').click();
    return new Promise((done) => setTimeout(done, 900))";
/// One more round of the first section that can have one.
const MORE: &str = "document.querySelector('[id^=rounds-]').closest('.stepper').querySelector('button:last-of-type').click()";
const TAKE_OUT: &str = "document.querySelector('.card .button.wrong').click()";

/// A name and a note without a letter of the alphabet.
async fn name(phone: &Phone) {
    phone
        .ask(
            "const key = Object.keys(localStorage).find((key) => key.endsWith(':head'));
             const head = JSON.parse(localStorage.getItem(key));
             head.name = '12 · Пара';
             localStorage.setItem(key, JSON.stringify(head));",
        )
        .await;
}

fn sock(recipe: &Recipe) -> Plan {
    make(recipe).expect("a sock")
}

/// All screens of a phone on which nothing has been stored.
async fn walk_without_pair(phone: &Phone, server: &Server, all: &mut Vec<String>) {
    for path in [
        "/",
        "/now",
        "/map",
        "/plan",
        "/keep",
        "/nowhere",
        "/plan?r=1broken",
    ] {
        walk(phone, server, path, &[], all).await;
    }
    walk(phone, server, "/", &[UNFOLD], all).await;
    walk(phone, server, "/measure", &[UNFOLD, UNFOLD], all).await;
    walk(phone, server, "/measure", &[WRONG], all).await;
    walk(phone, server, "/pattern", &[UNFOLD], all).await;
    walk(phone, server, "/pattern", &[TYPED, UNFOLD], all).await;
}

/// What a file of the same pair would bring: what is in both, what went two ways, and what is said where that is not
/// chosen yet. `elsewhere` is where the pair was put after the file was saved.
async fn walk_bring_in(
    phone: &Phone,
    server: &Server,
    (plan, here): (&Plan, Position),
    elsewhere: Position,
    all: &mut Vec<String>,
) {
    lay_out(phone, plan, [&begun_at(here), &[]]).await;
    name(phone).await;
    phone.open(&server.url("/keep")).await;
    let file = backup(phone).await;
    look_into(phone, &file).await;
    look(phone, "a file of what is here", all).await;
    lay_out(phone, plan, [&begun_at(elsewhere), &[]]).await;
    name(phone).await;
    phone.open(&server.url("/keep")).await;
    look_into(phone, &file).await;
    phone.find(".bring-in .parted").await;
    look(phone, "what went two ways", all).await;
    phone.tap(".bring-in .bring").await;
    look(phone, "both ways are here", all).await;
    look_into(phone, "{").await;
    look(phone, "a file that is none", all).await;
    for path in ["/", "/now"] {
        walk(phone, server, path, &[UNFOLD], all).await;
    }
}

/// Now where each needle is touched and the page listens, and what is said of texts that cannot be read.
async fn walk_settings(phone: &Phone, server: &Server, all: &mut Vec<String>) {
    let settings = json!({ "by_needle": true, "listens": true, "big_text": true });
    put(phone, "evenloop:settings", &settings.to_string()).await;
    for path in ["/now", "/keep"] {
        walk(phone, server, path, &[UNFOLD], all).await;
    }
    phone.open(&server.url("/now")).await;
    phone.tap(".pad").await;
    look(phone, "a needle is done", all).await;
    walk(phone, server, "/now", &[PAUSE, ENTRIES[1]], all).await;
    put(phone, "evenloop:settings", "ж").await;
    phone.reload().await;
    for path in ["/", "/keep"] {
        walk(phone, server, path, &[UNFOLD], all).await;
    }
}

/// A finished pair, and a pair whose store is full or was emptied.
async fn walk_ends_and_notices(phone: &Phone, server: &Server, plan: &Plan, all: &mut Vec<String>) {
    let end = Trace::of(plan).expect("a sock").end();
    lay_out(phone, plan, [&begun_at(end), &begun_at(end)]).await;
    name(phone).await;
    for path in ["/now", "/", "/map"] {
        walk(phone, server, path, &[UNFOLD], all).await;
    }
    let leg = find(plan, |kind, _| kind == SectionKind::Leg)[11];
    lay_out(phone, plan, [&begun_at(leg), &[]]).await;
    name(phone).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    phone.ask(FILL).await;
    phone.tap(".pad").await;
    look(phone, "no room is left", all).await;
    phone.ask("localStorage.removeItem('filler')").await;
    walk(phone, server, "/now", &[PAUSE, CHANGE], all).await;
    assert_eq!(phone.ask("return location.pathname").await, "/measure");
    walk(phone, server, "/now", &[PAUSE, CHANGE, UNFOLD, MORE], all).await;
}

#[tokio::test]
async fn settings_ends_notices_and_patterns_are_of_the_language_too() {
    let server = Server::start_made_up();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let plan = sock(&usual());
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[11];
    lay_out(&phone, &plan, [&begun_at(leg), &[]]).await;
    name(&phone).await;
    let mut wrong = Vec::new();
    walk_settings(&phone, &server, &mut wrong).await;
    walk_ends_and_notices(&phone, &server, &plan, &mut wrong).await;
    patterns::walk_pattern(&phone, &server, &mut wrong).await;
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    phone.put_away().await;
}

#[tokio::test]
async fn what_stands_around_the_screens_is_of_the_language_too() {
    let mut wrong = Vec::new();
    worker::walk_around(&mut wrong).await;
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[tokio::test]
async fn nothing_is_said_in_another_language_and_nothing_overflows() {
    let server = Server::start_made_up();
    let mut phone = Phone::unpack().await;
    // a page that is not there says so
    phone.forgive("404");
    let mut wrong = Vec::new();
    let all = &mut wrong;
    walk_without_pair(&phone, &server, all).await;

    cast_on(&phone, &server).await;
    let (plan, other) = (sock(&usual()), sock(&patterned()));
    let at = |plan: &Plan, wanted, nth: usize| {
        let found = find(plan, |kind, _| kind == wanted);
        found[nth.min(found.len() - 1)]
    };
    let leg = at(&plan, SectionKind::Leg, 11);
    let mut noted = begun_at(leg).to_vec();
    noted.push(Event::Note(THEN + 70, leg, "так и 5".to_owned()));
    noted.push(Event::Weighed(THEN + 80, leg, Some(415)));
    lay_out(&phone, &plan, [&noted, &[]]).await;
    name(&phone).await;
    walk(&phone, &server, "/", &[UNFOLD], all).await;
    walk(&phone, &server, "/", &[UNFOLD, TAKE_OUT], all).await;
    phone.tap(".taken-out .button:not(.bare)").await;
    phone.find(".card").await;
    walk(&phone, &server, "/map", &[UNFOLD, UNFOLD], all).await;
    walk(&phone, &server, "/keep", &[UNFOLD], all).await;
    walk(&phone, &server, "/keep", &[GUIDE], all).await;
    // Its tiny sock would stay in hand for all that follows.
    phone.tap(".practice .button").await;
    phone
        .until("it is gone", "return location.pathname === '/'")
        .await;
    walk(&phone, &server, "/plan", &[UNFOLD], all).await;
    walk(&phone, &server, "/measure", &[], all).await;
    let link = write_link(&patterned());
    walk(&phone, &server, &format!("/plan?r={link}"), &[], all).await;
    walk(
        &phone,
        &server,
        &format!("/measure?r={link}"),
        &[UNFOLD, UNFOLD],
        all,
    )
    .await;

    for steps in [&[][..], &[PAUSE], &[PAUSE, ENTRIES[5], STOP]] {
        walk(&phone, &server, "/now", steps, all).await;
    }
    for entry in ENTRIES {
        walk(&phone, &server, "/now", &[PAUSE, entry], all).await;
    }
    // The words for a count that is not right, and for a sock that is nowhere.
    walk(
        &phone,
        &server,
        "/now",
        &[
            PAUSE,
            ENTRIES[0],
            "document.querySelector('.steppers button:last-child').click()",
        ],
        all,
    )
    .await;
    // Every section of two socks, a move each.
    for plan in [&plan, &other] {
        let kinds: Vec<SectionKind> = plan.sections.iter().map(|section| section.kind).collect();
        for kind in kinds {
            for nth in [0, 4] {
                lay_out(&phone, plan, [&begun_at(at(plan, kind, nth)), &[]]).await;
                phone.open(&server.url("/now")).await;
                phone.find(".pad").await;
                look(&phone, &format!("{kind:?} {nth}"), all).await;
            }
        }
    }
    walk(&phone, &server, "/map", &[UNFOLD, UNFOLD], all).await;
    walk(&phone, &server, "/now", &[PAUSE, ENTRIES[5]], all).await;
    // The second sock, and two at a time.
    let end = Trace::of(&plan).expect("a sock").end();
    noted.push(Event::GoTo(THEN + 99, end));
    lay_out(&phone, &plan, [&noted, &[]]).await;
    walk(&phone, &server, "/now", &[], all).await;
    lay_out(&phone, &plan, [&noted, &begun_at(leg)]).await;
    walk(&phone, &server, "/now", &[], all).await;
    walk(&phone, &server, "/", &[], all).await;
    let gusset = at(&plan, SectionKind::Gusset, 4);
    let mut first = begun_at(gusset).to_vec();
    first.push(Event::Together(THEN + 90, true));
    lay_out(&phone, &plan, [&first, &begun_at(gusset)]).await;
    walk(&phone, &server, "/now", &[], all).await;
    walk(&phone, &server, "/now", &[PAUSE, ENTRIES[4]], all).await;
    walk(&phone, &server, "/", &[], all).await;
    walk_bring_in(&phone, &server, (&plan, leg), gusset, all).await;
    phone.open(&server.url("/keep")).await;
    planted_is_seen(&phone).await;
    wrong.sort();
    wrong.dedup();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    phone.put_away().await;
}
