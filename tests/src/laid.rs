//! A phone with a pair at some place, as the app itself stores it: for tests and pictures that begin
//! in the middle of a sock.

use evenloop_engine::journal::{CHUNK_EVENTS, Event, write_chunk};
use evenloop_engine::plan::{Cue, Plan, SectionKind, make};
use evenloop_engine::recipe::{
    Direction, Method, Motif, MotifPlacement, Recipe, Seating, Stripe, Yarns,
};
use evenloop_engine::sock;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::trace::Position;
use evenloop_engine::wire::write_plan;
use serde_json::{Map, Value, json};

use crate::phone::Phone;
use crate::server::Server;

/// 2026-11-25 08:00 UTC: nothing may change with the day on which it is done.
pub const THEN: u64 = 1_795_593_600;

/// A sock with everything at once, toe up: two yarns, a motif, bound off.
///
/// # Panics
/// When the motif cannot be read.
pub fn patterned() -> Recipe {
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

/// A usual sock of 64 stitches.
///
/// # Panics
/// When the engine refuses it.
pub fn usual_sock() -> Plan {
    make(&Recipe {
        stitches: Some(64),
        ..Recipe::default()
    })
    .unwrap_or_else(|wrong| panic!("{wrong:?}"))
}

/// A small sock by a pattern of the knitter's own, made up. Its rib has a misprint.
pub const SMALL_PATTERN: &str = include_str!("../../app/engine/tests/pattern/small_sock.txt");

/// [`SMALL_PATTERN`] without its misprint.
pub fn small_pattern_mended() -> String {
    SMALL_PATTERN.replace("rep from * to last 4 sts, k2, p1.", "rep from * to end.")
}

/// The sock of [`small_pattern_mended`] on magic loop in even halves.
///
/// # Panics
/// When the engine refuses it.
pub fn small_sock_by_pattern() -> Plan {
    let halves = Method::MagicLoop {
        seating: Seating::EvenHalves,
    };
    sock::make(&sock::by_pattern(&small_pattern_mended(), halves))
        .unwrap_or_else(|wrong| panic!("{wrong:?}"))
}

/// A new phone with Now open at a place in the first sock of a pair.
pub async fn phone_at(server: &Server, plan: &Plan, at: Position) -> Phone {
    let phone = Phone::unpack().await;
    cast_on(&phone, server).await;
    lay_out(&phone, plan, [&begun_at(at), &[]]).await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    phone
}

/// Empties the phone and casts a pair on in Measure, as a knitter does.
pub async fn cast_on(phone: &Phone, server: &Server) {
    let measure = server.url("/measure");
    phone.open(&measure).await;
    phone.forget().await;
    phone.open(&measure).await;
    fill_in(phone).await;
    touch_cast_on(phone).await;
}

/// In Measure, fills in what has no usual value, until the pair can be cast on.
pub async fn fill_in(phone: &Phone) {
    phone.find("#swatch-height").await;
    // Typed again until the page has woken.
    let script = format!(
        "{}; return document.querySelector('.at-hand button').ariaDisabled === null",
        typing_measures()
    );
    phone.until("the pair can be cast on", &script).await;
}

/// In Measure, once it has woken, fills in a foot and a swatch.
pub async fn fill_in_measures(phone: &Phone) {
    phone.find("#swatch-height").await;
    phone.ask(&typing_measures()).await;
}

/// A script that types a foot and a swatch.
fn typing_measures() -> String {
    let typed = json!([
        ["foot-length", "24"],
        ["swatch-stitches", "30"],
        ["swatch-width", "10"],
        ["swatch-rounds", "42"],
        ["swatch-height", "10"],
    ]);
    format!(
        "for (const [id, text] of {typed}) {{
            const line = document.getElementById(id);
            line.value = text;
            line.dispatchEvent(new Event('input', {{ bubbles: true }}));
         }}"
    )
}

/// In Measure, touches the button that casts on, and waits for the needles.
pub async fn touch_cast_on(phone: &Phone) {
    phone.tap(".at-hand button").await;
    phone
        .until(
            "casting on leads to Now",
            "return location.pathname === '/now'",
        )
        .await;
    phone.find(".pad").await;
}

/// Puts another plan and other logs in the place of those of the pair that was cast on. The page has
/// to be opened again after it.
pub async fn lay_out(phone: &Phone, plan: &Plan, logs: [&[Event]; 2]) {
    let mut entries = Map::new();
    entries.insert("evenloop:pair:p1:plan".to_owned(), write_plan(plan).into());
    for (sock, events) in (1..).zip(logs) {
        for (index, part) in (0..).zip(events.chunks(CHUNK_EVENTS)) {
            let key = format!("evenloop:pair:p1:log:{sock}:{index}");
            entries.insert(key, write_chunk(index, part).into());
        }
    }
    // the note about storage has been read
    entries.insert("evenloop:told".to_owned(), json!("1"));
    // and the walk through the screens declined
    entries.insert("evenloop:guide".to_owned(), json!("over"));
    let entries = Value::Object(entries);
    let script = format!(
        "const head = Object.entries(localStorage).find(([key]) => key.startsWith('evenloop:pair:') && key.endsWith(':head'));
         const id = head[0].split(':')[2];
         for (const key of Object.keys(localStorage))
             if (/^evenloop:pair:[^:]*:log:/.test(key)) {{
                 localStorage.removeItem(key);
                 globalThis.evenloopEcho?.put(key, undefined, false);
             }}
         for (const [short, value] of Object.entries({entries})) {{
             const key = short.replace('p1', id);
             localStorage.setItem(key, value);
             globalThis.evenloopEcho?.put(key, value, false);
         }}"
    );
    // The second copy gets the texts, too, or it would be found to differ. It comes after the rest of the app's pages.
    phone
        .ask_later(
            "const app = document.querySelector('meta[name=evenloop-build]') !== null;
             for (let tries = 0; app && !globalThis.evenloopEcho && tries < 120; tries += 1)
                 await new Promise((done) => setTimeout(done, 25))",
        )
        .await;
    phone.ask(&script).await;
    // A page that is left before the second copy has all of it leaves two copies that went different ways.
    phone
        .ask_later(
            "const echo = globalThis.evenloopEcho;
             for (let tries = 0; echo && !echo.whole() && tries < 200; tries += 1)
                 await new Promise((done) => setTimeout(done, 25))",
        )
        .await;
}

/// A sock begun, and the place gone to.
pub fn begun_at(at: Position) -> [Event; 2] {
    [Event::Begin(THEN), Event::GoTo(THEN + 60, at)]
}

/// The places of all moves of a plan that are wanted, by their section and cue.
pub fn find(plan: &Plan, wanted: impl Fn(SectionKind, Cue) -> bool) -> Vec<Position> {
    let steps = plan
        .sections
        .iter()
        .flat_map(|section| section.steps.iter().map(|step| (section.kind, step)));
    let mut out = Vec::new();
    for (step, (kind, one)) in steps.enumerate() {
        for (mv, done) in one.moves.iter().enumerate() {
            if wanted(kind, done.cue) {
                out.push(Position { step, mv });
            }
        }
    }
    out
}
