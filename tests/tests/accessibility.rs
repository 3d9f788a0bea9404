//! Every screen for everybody: axe-core's rules of WCAG 2.2 AA in both themes and with large letters, targets of 44
//! pixels, the keyboard alone,
//! letters twice as large, a window of 320 pixels, forced colours, reduced motion.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::fs;

use evenloop_engine::journal::Event;
use evenloop_engine::link::write_link;
use evenloop_engine::plan::{Plan, SectionKind, make};
use evenloop_engine::recipe::{Method, Recipe, Seating};
use evenloop_engine::trace::Position;
use evenloop_tests::laid::{THEN, begun_at, cast_on, fill_in, find, lay_out};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::{Server, root};
use serde_json::Value;
use thirtyfour::Key;

const AXE: &str = "target/tools/javascript/node_modules/axe-core/axe.min.js";

/// What is looked at: a name, where it is, and what is done there before.
struct State {
    name: &'static str,
    path: String,
    /// The section of the sock at hand, and which move of it.
    at: (SectionKind, usize),
    touches: &'static [&'static str],
    /// Whether both socks are knitted two at a time.
    together: bool,
}

/// The last move of a section.
const LAST: usize = usize::MAX;

/// Twice for what is folded away in a fold: it is made when that is unfolded.
const UNFOLD: &str = "document.querySelectorAll('details').forEach((d) => { d.open = true; })";
const PAUSE: &str = "document.querySelector('.to-pause').click()";
const CHECK: &str = "document.querySelectorAll('.entries .entry')[0].click()";
const LOST: &str = "document.querySelectorAll('.entries .entry')[1].click()";
const ROUNDS: &str = "document.querySelectorAll('.entries .entry')[5].click()";
const WRONG: &str = "const line = document.getElementById('foot-length');
    line.value = 'far'; line.dispatchEvent(new Event('input', { bubbles: true }));
    document.querySelector('.at-hand button').click()";
const PASTED: &str = "const area = document.getElementById('pattern-text');
    area.value = 'CO 10 sts. Join.\\nRnd 1: K2, p2, k5.';
    area.dispatchEvent(new Event('input', { bubbles: true }));
    return new Promise((done) => setTimeout(done, 900))";
const PRACTICE: &str = "
    document.querySelector('.settings .care').previousElementSibling.querySelector('button').click();
    return new Promise((done) => {
        const look = () => document.querySelector('.practice') ? done() : setTimeout(look, 50);
        look();
    })";
const TOGETHER: &str = "document.querySelectorAll('.entries .entry')[4].click()";
const NOTE: &str = "document.querySelectorAll('.entries .entry')[2].click()";
const WEIGH: &str = "document.querySelectorAll('.entries .entry')[3].click()";
const ONE_LESS: &str = "document.querySelector('.stepper .button').click()";
const HOW: &str = "document.querySelector('.instruction .how').click()";
const TOUCH: &str = "document.querySelector('.pad').click()";
/// No room is left: what is said of it, unfolded.
const NO_ROOM: &str = "
    let filler = 'x'.repeat(1 << 20);
    for (let nth = 0; filler.length > 0; nth += 1) {
        try { localStorage.setItem(`filler-${nth}`, filler); }
        catch { filler = filler.slice(0, filler.length >> 1); }
    }
    document.querySelector('.pad').click();
    return new Promise((done) => {
        const look = () => {
            if (!document.querySelector('.noted .notice')) return setTimeout(look, 50);
            document.querySelector('.noted > button').click();
            done();
        };
        look();
    })";
const TAKE_OUT: &str = "document.querySelector('.card .button.wrong').click()";

fn states() -> Vec<State> {
    use SectionKind::{CastOn, Close, Gusset, HeelTurn, Leg, PickUp};
    let state = |name, path: &str, at, touches| State {
        name,
        path: path.to_owned(),
        at,
        touches,
        together: false,
    };
    let both = |name, at, touches| State {
        together: true,
        ..state(name, "/now", at, touches)
    };
    let link = write_link(&Recipe::default());
    vec![
        state("basket", "/", (Leg, 3), &[UNFOLD]),
        state("the tiny sock", "/keep", (Leg, 3), &[PRACTICE]),
        state("taken out", "/", (Leg, 3), &[UNFOLD, TAKE_OUT]),
        state("measure", "/measure", (Leg, 3), &[UNFOLD, UNFOLD]),
        state("measure, wrong", "/measure", (Leg, 3), &[WRONG]),
        state("now, cast on", "/now", (CastOn, 0), &[]),
        state("now, leg", "/now", (Leg, 3), &[]),
        state("now, turn", "/now", (HeelTurn, 3), &[]),
        state("now, crossing", "/now", (PickUp, 4), &[]),
        state("now, gusset", "/now", (Gusset, 4), &[]),
        state("now, all rounds", "/now", (Gusset, 4), &[PAUSE, ROUNDS]),
        state("pause", "/now", (Gusset, 4), &[PAUSE]),
        state("count check", "/now", (Gusset, 4), &[PAUSE, CHECK]),
        state("where was I", "/now", (Gusset, 4), &[PAUSE, LOST]),
        state(
            "count check, one too few",
            "/now",
            (Gusset, 4),
            &[PAUSE, CHECK, ONE_LESS],
        ),
        state(
            "where was I, by sight",
            "/now",
            (Gusset, 4),
            &[PAUSE, LOST, UNFOLD],
        ),
        state("a note", "/now", (Gusset, 4), &[PAUSE, NOTE]),
        state("a weighing", "/now", (Gusset, 4), &[PAUSE, WEIGH]),
        state("how a cast-on is worked", "/now", (CastOn, 0), &[HOW]),
        state("how a decrease is worked", "/now", (Gusset, 4), &[HOW]),
        state("now, graft", "/now", (Close, 4), &[]),
        state("now, off the needles", "/now", (Close, LAST), &[]),
        state("finished", "/now", (Close, LAST), &[TOUCH]),
        state("no room left", "/now", (Leg, 3), &[NO_ROOM]),
        both("two at a time, gusset", (Gusset, 4), &[]),
        both("two at a time, heel turn", (HeelTurn, 0), &[]),
        both("two at a time, count check", (Gusset, 4), &[PAUSE, CHECK]),
        both("two at a time, told", (Gusset, 4), &[PAUSE, TOGETHER]),
        state(
            "two at a time, offered",
            "/now",
            (CastOn, 0),
            &[PAUSE, TOGETHER],
        ),
        state("map", "/map", (Gusset, 4), &[UNFOLD]),
        state("keep", "/keep", (Leg, 3), &[UNFOLD]),
        state("plan", "/plan", (Leg, 3), &[UNFOLD]),
        state("plan of a link", &format!("/plan?r={link}"), (Leg, 3), &[]),
        state("plan refused", "/plan?r=1broken", (Leg, 3), &[]),
        state("nowhere", "/nowhere", (Leg, 3), &[]),
        state(
            "pattern, with a finding",
            "/pattern",
            (Leg, 3),
            &[PASTED, UNFOLD],
        ),
    ]
}

/// States of a phone on which nothing has been stored.
fn empty_states() -> Vec<State> {
    ["/", "/now", "/map", "/plan", "/pattern"]
        .map(|path| State {
            name: "nothing cast on",
            path: path.to_owned(),
            at: (SectionKind::Leg, 0),
            touches: &[],
            together: false,
        })
        .into()
}

fn sock() -> Plan {
    make(&Recipe {
        stitches: Some(64),
        ..Recipe::default()
    })
    .expect("a sock")
}

async fn settle() {
    tokio::time::sleep(std::time::Duration::from_millis(250)).await;
}

/// All that the phone stores once a pair was cast on, to put back for every state: quicker than to
/// cast on again.
async fn cast_on_once(phone: &Phone, server: &Server) -> Value {
    cast_on(phone, server).await;
    phone
        .ask("return Object.fromEntries(Object.entries(localStorage))")
        .await
}

/// Puts back what was stored. No page of the app is open while it is done.
async fn put_back(phone: &Phone, stored: &Value) {
    phone.forget().await;
    phone
        .ask(&format!(
            "for (const [key, value] of Object.entries({stored})) localStorage.setItem(key, value)"
        ))
        .await;
}

/// Opens a state; the pair must have been cast on.
async fn enter(phone: &Phone, server: &Server, state: &State) {
    let place = |plan: &Plan| {
        let moves = find(plan, |kind, _| kind == state.at.0);
        moves[state.at.1.min(moves.len() - 1)]
    };
    if state.together {
        let plan = make(&Recipe {
            needles: Method::MagicLoop {
                seating: Seating::InstepAndSole,
            },
            ..sock().recipe
        })
        .expect("a sock");
        let at = begun_at(place(&plan));
        let first = [&at[..], &[Event::Together(THEN, true)]].concat();
        lay_out(phone, &plan, [&first, &at]).await;
    } else {
        let plan = sock();
        lay_out(phone, &plan, [&begun_at(place(&plan)), &[]]).await;
    }
    go(phone, server, state).await;
}

async fn go(phone: &Phone, server: &Server, state: &State) {
    phone.open(&server.url(&state.path)).await;
    settle().await;
    for touch in state.touches {
        phone.ask(touch).await;
        settle().await;
    }
}

/// What axe finds against WCAG 2.2 AA and below, a line each.
async fn barriers(phone: &Phone) -> Vec<String> {
    let found = phone
        .ask_later(
            "const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
             const found = await axe.run(document, { runOnly: { type: 'tag', values: tags } });
             if (found.passes.length < 8) return [`only ${found.passes.length} rules were looked at`];
             return found.violations.flatMap((rule) => rule.nodes.map((node) =>
                 `${rule.id}: ${node.target.join(' ')}: ${node.failureSummary}`));",
        )
        .await;
    let lines = found.as_array().unwrap_or_else(|| panic!("{found}"));
    lines.iter().map(ToString::to_string).collect()
}

async fn look(phone: &Phone, axe: &str, state: &State, wrong: &mut Vec<String>) {
    phone.ask(axe).await;
    // What stands over a page covers what is to be scrolled out from under it: here it stands in its place.
    phone
        .ask(
            "document.querySelectorAll('.at-hand, .app:not(.at-now) .nav')
                 .forEach((one) => { one.style.position = 'static'; })",
        )
        .await;
    // Letters on a shaded ground are not judged: the shade at the edges of what scrolls goes.
    phone
        .ask(
            "document.querySelectorAll('.instruction')
                 .forEach((one) => { one.style.backgroundImage = 'none'; })",
        )
        .await;
    for (theme, letters) in [("light", "usual"), ("dark", "usual"), ("light", "big")] {
        phone
            .ask(&format!(
                "Object.assign(document.documentElement.dataset, {{ theme: '{theme}', text: '{letters}' }})"
            ))
            .await;
        settle().await;
        let mut found = barriers(phone).await;
        found.extend(too_small(phone).await);
        for line in found {
            wrong.push(format!(
                "{} ({}), {theme}, {letters} letters: {line}",
                state.name, state.path
            ));
        }
    }
}

/// What is to be touched and is lower or narrower than 44 pixels; links within a sentence are as high as it.
async fn too_small(phone: &Phone) -> Vec<String> {
    let found = phone
        .ask(
            "const touched = 'button, summary, select, textarea, a.button, .nav a, a.entry, label:has(input), input:not(label *)';
             return [...document.querySelectorAll(touched)].filter((one) => one.checkVisibility({ visibilityProperty: true })
                     && !one.closest('.unseen, [inert], [aria-hidden=true]')).map((one) => {
                 const { width, height } = one.getBoundingClientRect();
                 return [width, height, `${one.tagName}.${one.className} ${(one.textContent || one.id).trim().slice(0, 30)}`];
             }).filter(([width, height]) => width > 1 && (width < 43.5 || height < 43.5))
                 .map(([width, height, name]) => `${width.toFixed(1)} by ${height.toFixed(1)}: ${name}`);",
        )
        .await;
    let lines = found.as_array().unwrap_or_else(|| panic!("{found}"));
    lines.iter().map(ToString::to_string).collect()
}

#[tokio::test]
async fn axe_finds_no_barrier_on_any_screen_in_either_theme() {
    let axe = fs::read_to_string(root().join(AXE)).expect("tests/run fetches axe-core");
    let server = Server::start();
    let mut phone = Phone::unpack().await;
    // Colours change at once, however busy the machine is.
    let reduced = serde_json::json!({ "features": [{ "name": "prefers-reduced-motion", "value": "reduce" }] });
    phone.tools("Emulation.setEmulatedMedia", reduced).await;
    // a page that is not there says so
    phone.forgive("404");
    // A script that touches is no finger.
    phone.forgive("navigator.vibrate");
    let mut wrong = Vec::new();
    for state in empty_states() {
        go(&phone, &server, &state).await;
        look(&phone, &axe, &state, &mut wrong).await;
    }
    let stored = cast_on_once(&phone, &server).await;
    for state in states() {
        put_back(&phone, &stored).await;
        enter(&phone, &server, &state).await;
        look(&phone, &axe, &state, &mut wrong).await;
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    phone.put_away().await;
}

/// What has the focus, and whether it is in sight with a ring around it.
const FOCUSED: &str = "
    const one = document.activeElement;
    const box = one.getBoundingClientRect();
    const seen = box.bottom > 0 && box.top < innerHeight && box.width > 0;
    // what is drawn in place of an input may carry the ring
    const rings = [one, one.closest('label'), one.nextElementSibling, one.parentElement]
        .filter(Boolean).some((e) => {
            const style = getComputedStyle(e);
            return (style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2);
        });
    return [one.textContent.trim() || one.id || one.tagName, one.className, seen, rings];";

/// Presses Tab until something is reached; everything on the way must show that it has the focus.
async fn tab_to(phone: &Phone, class: &str) {
    go_to(phone, class, false).await;
}

/// The same the other way round.
async fn tab_back_to(phone: &Phone, class: &str) {
    go_to(phone, class, true).await;
}

async fn go_to(phone: &Phone, class: &str, back: bool) {
    let mut way = Vec::new();
    for _ in 0..250 {
        if back {
            phone.press_with_shift(Key::Tab).await;
        } else {
            phone.press(&[Key::Tab]).await;
        }
        let focused = phone.ask(FOCUSED).await;
        let name = focused[0].as_str().unwrap_or_default().to_owned();
        assert_eq!(focused[2], true, "{name} has the focus out of sight");
        assert_eq!(
            focused[3], true,
            "{name} has the focus and does not show it"
        );
        let classes = focused[1].as_str().unwrap_or_default();
        if classes.split(' ').any(|one| one == class) {
            return;
        }
        way.push(name);
    }
    panic!("{class} cannot be reached: {way:?}");
}

#[tokio::test]
async fn the_keyboard_alone_casts_on_and_counts_a_round() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/")).await;
    phone.find(".basket .button.lead").await;
    // the tiny sock is declined with the keyboard too
    tab_to(&phone, "bare").await;
    phone.press(&[Key::Enter]).await;
    settle().await;
    // the way to a pair stands above it
    tab_back_to(&phone, "lead").await;
    phone.press(&[Key::Enter]).await;
    fill_in(&phone).await;
    tab_to(&phone, "lead").await;
    phone.press(&[Key::Enter]).await;
    phone
        .until("it is cast on", "return location.pathname === '/now'")
        .await;
    phone.find(".pad").await;
    tab_to(&phone, "pad").await;
    let before = phone.text(".now-head").await;
    phone.press(&[Key::Space]).await;
    phone
        .until(
            "a move is counted",
            &format!(
                "return document.querySelector('.now-head').innerText !== {}",
                serde_json::json!(before)
            ),
        )
        .await;
    phone.put_away().await;
}

/// What is wider than the window, and how far the page can be pushed aside.
const ASIDE: &str = "
    const page = document.scrollingElement;
    const wide = [...document.querySelectorAll('body *')].filter((e) => {
        const box = e.getBoundingClientRect();
        return box.width > 0 && box.right > page.clientWidth + 1 && !e.closest('.unseen, svg, .grid');
    }).map((e) => `${e.tagName}.${e.className} ${e.textContent.slice(0, 30)}`);
    return [page.scrollWidth - page.clientWidth, wide.slice(0, 8)];";

async fn until_nothing_is_aside(width: u32, letters: &str) {
    let server = Server::start();
    let mut phone = Phone::with_size(width, 740).await;
    phone.forgive("404");
    // A script that touches is no finger.
    phone.forgive("navigator.vibrate");
    let mut wrong = Vec::new();
    let stored = cast_on_once(&phone, &server).await;
    for state in states() {
        put_back(&phone, &stored).await;
        enter(&phone, &server, &state).await;
        phone
            .ask(&format!(
                "document.documentElement.style.fontSize = '{letters}'"
            ))
            .await;
        settle().await;
        let aside = phone.ask(ASIDE).await;
        if aside[0] != 0 {
            wrong.push(format!("{} ({}): {aside}", state.name, state.path));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    phone.put_away().await;
}

#[tokio::test]
async fn no_screen_needs_pushing_aside_at_320_pixels() {
    until_nothing_is_aside(320, "100%").await;
}

#[tokio::test]
async fn letters_twice_as_large_stay_in_the_window() {
    until_nothing_is_aside(360, "200%").await;
}

/// How much of the window's height what always stands on it takes, and whether all of the pad is seen.
const ROOM: &str = "
    const high = (css) => document.querySelector(css)?.getBoundingClientRect().height ?? 0;
    const pad = document.querySelector('.pad')?.getBoundingClientRect();
    return [(high('.at-hand') + high('.nav')) / innerHeight,
        !pad || (pad.top >= 0 && pad.bottom <= innerHeight)];";

#[tokio::test]
async fn letters_twice_as_large_leave_room_to_read_and_the_pad_in_reach() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    for state in states() {
        if !["measure", "now, gusset", "two at a time, gusset"].contains(&state.name) {
            continue;
        }
        enter(&phone, &server, &state).await;
        phone
            .ask("document.documentElement.style.fontSize = '200%'")
            .await;
        settle().await;
        let room = phone.ask(ROOM).await;
        let taken = room[0].as_f64().expect("a share");
        assert!(taken < 0.25, "{}: {taken} of the window", state.name);
        assert_eq!(room[1], true, "{}: the pad is in reach", state.name);
    }
    phone.put_away().await;
}

#[tokio::test]
async fn forced_colours_keep_every_edge() {
    let server = Server::start();
    let mut phone = Phone::unpack().await;
    phone.forgive("404");
    // A script that touches is no finger.
    phone.forgive("navigator.vibrate");
    phone.wish(&[("forced-colors", "active")]).await;
    let mut wrong = Vec::new();
    let stored = cast_on_once(&phone, &server).await;
    for state in states() {
        put_back(&phone, &stored).await;
        enter(&phone, &server, &state).await;
        let found = phone
            .ask(
                "if (!matchMedia('(forced-colors: active)').matches) return ['no forced colours'];
                 return [...document.querySelectorAll('button, a.button, input, .pad')]
                     .filter((e) => e.getClientRects().length > 0 && !e.closest('.unseen')
                         && !e.matches('.unseen, .bare'))
                     .filter((e) => {
                         const style = getComputedStyle(e);
                         const edge = (e) => {
                             const s = getComputedStyle(e);
                             return parseFloat(s.borderBlockEndWidth) > 0
                                 && s.borderBlockEndStyle !== 'none';
                         };
                         return style.opacity !== '0' && !edge(e)
                             && !(e.parentElement && edge(e.parentElement))
                             && !style.textDecorationLine.includes('underline');
                     })
                     .map((e) => `${e.tagName}.${e.className} ${e.textContent.trim()}`);",
            )
            .await;
        for one in found.as_array().into_iter().flatten() {
            wrong.push(format!("{}: {one} has no edge", state.name));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    phone.put_away().await;
}

/// How much is in motion.
const MOVING: &str = "return document.getAnimations().filter((one) =>
    one.effect.getComputedTiming().duration > 20).length";

#[tokio::test]
async fn where_motion_is_unwelcome_nothing_moves() {
    let server = Server::start();
    let mut phone = Phone::unpack().await;
    // a script's touch may not shake the phone
    phone.forgive("navigator.vibrate");
    cast_on(&phone, &server).await;
    let plan = sock();
    let at: Position = find(&plan, |kind, _| kind == SectionKind::PickUp)[0];
    lay_out(&phone, &plan, [&begun_at(at), &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    for (wish, moves) in [("no-preference", true), ("reduce", false)] {
        phone.wish(&[("prefers-reduced-motion", wish)]).await;
        let mut most = 0;
        for _ in 0..3 {
            tokio::time::sleep(std::time::Duration::from_millis(400)).await;
            phone.ask("document.querySelector('.pad').click()").await;
            for _ in 0..4 {
                most = most.max(phone.ask(MOVING).await.as_u64().unwrap_or(0));
            }
        }
        // without the first half the second would prove nothing
        assert_eq!(most > 0, moves, "{wish}: {most} things move");
    }
    phone.put_away().await;
}
