//! A walk over every screen and its states in the made-up language, whose every letter is marked and
//! whose sentences are 40 % longer: no word on them that is not the language's, and at 360 pixels
//! nothing that overflows.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::Duration;

use evenloop_engine::journal::Event;
use evenloop_engine::link::write_link;
use evenloop_engine::plan::{Plan, SectionKind, make};
use evenloop_engine::recipe::{Direction, Motif, MotifPlacement, Recipe, Stripe, Yarns};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::trace::{Position, Trace};
use evenloop_tests::laid::{THEN, begun_at, cast_on, find, lay_out};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{backup, look_into, put};
use serde_json::json;

/// What may stand there unmarked: units, the letters of yarns and measured lengths, and whose
/// sizes of needles and shoes are told.
const ALLOWED: &str = "['cm', 'in', 'mm', 'm', 'g', 'A', 'B', 'C', 'D', 'US', 'UK', 'EU']";

/// Every word of the page that is not the language's, seen or heard. What was typed has no letters of
/// the alphabet that are unmarked; an address is no sentence.
const FOREIGN: &str = "
    const allowed = new Set(ALLOWED);
    // A date is written by the browser, in its own language.
    for (let month = 0; month < 12; month += 1)
        for (const hour of [1, 13]) {
            const date = new Date(2026, month, 1, hour).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
            for (const word of date.match(/[\\p{L}]+/gu)) allowed.add(word);
        }
    const foreign = (text) => (text.match(/[\\p{L}]+/gu) ?? [])
        .some((word) => /[A-Za-z]/.test(word) && !allowed.has(word));
    const found = new Set();
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
        const text = texts.currentNode.data;
        if (texts.currentNode.parentElement.closest('script, style, noscript, code, pre')) continue;
        if (foreign(text)) found.add(text.trim());
    }
    for (const name of ['aria-label', 'title', 'alt', 'placeholder'])
        for (const one of document.querySelectorAll(`[${name}]`))
            if (foreign(one.getAttribute(name))) found.add(`${name}: ${one.getAttribute(name)}`);
    if (foreign(document.title)) found.add(`title: ${document.title}`);
    return [...found]";

/// What is wider than the room it has: the page, or something with text in it that neither scrolls
/// nor is meant to be cut off with an ellipsis.
const OVERFLOWING: &str = "
    const found = [];
    const page = document.documentElement;
    // What is only heard takes no room.
    const heard = [...document.querySelectorAll('.unseen')];
    for (const one of heard) one.style.display = 'none';
    if (page.scrollWidth > innerWidth) found.push(`the page: ${page.scrollWidth}`);
    for (const one of document.querySelectorAll('body *')) {
        if (!one.checkVisibility({ visibilityProperty: true }) || one.closest('svg, .unseen')) continue;
        const texts = [...one.childNodes].filter((node) => node.nodeType === 3 && node.data.trim());
        if (!texts.length) continue;
        const style = getComputedStyle(one);
        const cut = style.textOverflow === 'ellipsis' || ['auto', 'scroll'].includes(style.overflowX);
        let scrolls = false;
        for (let up = one; up; up = up.parentElement)
            scrolls ||= ['auto', 'scroll'].includes(getComputedStyle(up).overflowX) && up.scrollWidth > up.clientWidth
                && up.matches('.chart-scroll, pre, input');
        const range = document.createRange();
        for (const text of texts) {
            range.selectNodeContents(text);
            const right = Math.max(...[...range.getClientRects()].map((box) => box.right));
            // Not its scroll width: what widens a button for a finger is no text.
            const room = style.display === 'inline' ? innerWidth : Math.min(innerWidth, one.getBoundingClientRect().right);
            if (!cut && !scrolls && right > room + 1)
                found.push(`${one.tagName}.${one.className} reaches ${right}, not ${room}: ${text.data.slice(0, 60)}`);
        }
    }
    for (const one of heard) one.style.display = '';
    return found";

/// Everything at once: two yarns, a motif, bound off.
fn patterned() -> Recipe {
    let row = |text: &str| text.parse().expect("a round");
    Recipe {
        direction: Direction::ToeUp,
        motif: Some(Motif {
            rows: ["k1 p1", "p1 k1"].map(row).into(),
            place: MotifPlacement::Front,
            ..Motif::default()
        }),
        yarns: Some(Yarns {
            stripes: vec![Stripe {
                yarn: Yarn::B,
                rounds: 3,
            }],
            cuff: Yarn::A,
            heel: Yarn::A,
            toe: Yarn::A,
        }),
        stitches: Some(64),
        ..Recipe::default()
    }
}

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
const GUIDE: &str =
    "document.querySelector('.keep .care').previousElementSibling.querySelector('button').click()";
const TAKE_OUT: &str = "document.querySelector('.card .button.wrong').click()";

/// Looks at the page as it is.
async fn look(phone: &Phone, what: &str, wrong: &mut Vec<String>) {
    tokio::time::sleep(Duration::from_millis(200)).await;
    let foreign = FOREIGN.replace("ALLOWED", ALLOWED);
    for script in [foreign.as_str(), OVERFLOWING] {
        let found = phone.ask(script).await;
        let found = found.as_array().expect("a list");
        wrong.extend(found.iter().map(|one| format!("{what}: {one}")));
    }
}

async fn walk(phone: &Phone, server: &Server, path: &str, steps: &[&str], wrong: &mut Vec<String>) {
    phone.open(&server.url(path)).await;
    tokio::time::sleep(Duration::from_millis(200)).await;
    for step in steps {
        phone.ask(step).await;
        tokio::time::sleep(Duration::from_millis(200)).await;
    }
    look(phone, &format!("{path} {steps:?}"), wrong).await;
}

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

/// A sentence of another language that does not fit, on the page as it is.
const PLANTED: &str = "
    const planted = document.createElement('p');
    planted.textContent = 'Knit '.repeat(40);
    planted.style.whiteSpace = 'nowrap';
    planted.setAttribute('aria-label', 'a sock');
    document.querySelector('main').append(planted);";

/// Whoever looks so would have seen it.
async fn planted_is_seen(phone: &Phone) {
    phone.ask(PLANTED).await;
    let mut seen = Vec::new();
    look(phone, "planted", &mut seen).await;
    for what in ["Knit", "aria-label: a sock", "the page: ", "P. reaches "] {
        let found = seen.iter().any(|one| one.contains(what));
        assert!(found, "{what} is not in {seen:?}");
    }
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
    lay_out(&phone, &plan, [&begun_at(leg), &[]]).await;
    name(&phone).await;
    walk_settings(&phone, &server, all).await;

    planted_is_seen(&phone).await;
    wrong.sort();
    wrong.dedup();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    phone.put_away().await;
}
