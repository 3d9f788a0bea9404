//! A phone with many pairs, as the app itself would have stored them: every plan a real one, every
//! round of both socks counted, with the mistakes, notes and weighings of real knitting.

use evenloop_engine::journal::{CHUNK_EVENTS, Event, write_chunk};
use evenloop_engine::plan::{Plan, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::Length;
use evenloop_engine::wire::write_plan;
use serde_json::{Map, Value, json};

use crate::laid::THEN;
use crate::phone::Phone;

/// Keys and texts of finished pairs, of eight sizes. Their ids begin with `s`.
pub fn pairs(many: u32) -> Map<String, Value> {
    let plans: Vec<Plan> = (0..8).map(plan).collect();
    let mut entries = Map::new();
    for (number, plan) in (0..many).zip(plans.iter().cycle()) {
        let (begun, key) = (
            THEN + u64::from(number) * 86_400,
            format!("evenloop:pair:s{number}"),
        );
        entries.insert(format!("{key}:plan"), write_plan(plan).into());
        for sock in [1, 2_u64] {
            let log = log(plan, begun + sock * 40_000);
            for (index, part) in (0..).zip(log.chunks(CHUNK_EVENTS)) {
                entries.insert(
                    format!("{key}:log:{sock}:{index}"),
                    write_chunk(index, part).into(),
                );
            }
        }
        let steps: usize = plan
            .sections
            .iter()
            .map(|section| section.steps.len())
            .sum();
        let place = json!({ "sock": 2, "done": steps, "total": steps, "section": "close", "finished": true });
        let name = format!("Pair {number} for the winter");
        let head = json!({ "version": 1, "name": name, "created": begun, "place": place });
        entries.insert(format!("{key}:head"), head.to_string().into());
    }
    entries
}

/// Puts entries on the phone, past the app.
pub async fn stock(phone: &Phone, entries: &Map<String, Value>) {
    let entries = Value::Object(entries.clone());
    phone
        .ask(&format!(
            "for (const [key, text] of Object.entries({entries})) localStorage.setItem(key, text);"
        ))
        .await;
}

fn plan(size: u16) -> Plan {
    make(&Recipe {
        stitches: Some(48 + 4 * size),
        leg: Length::cm(u32::from(12 + size)),
        ..Recipe::default()
    })
    .unwrap_or_else(|wrong| panic!("{wrong:?}"))
}

/// Every move of a sock done, with some knitter's luck.
fn log(plan: &Plan, begun: u64) -> Vec<Event> {
    let end = Trace::of(plan).expect("a sock").end();
    let moves: usize = plan
        .sections
        .iter()
        .flat_map(|section| &section.steps)
        .map(|step| step.moves.len())
        .sum();
    let mut events = vec![Event::Begin(begun)];
    let mut at = begun;
    for number in 0..moves as u64 {
        at += 70 + number * 37 % 90;
        events.push(Event::Done(at));
        if number % 41 == 5 {
            events.extend([Event::Undo(at + 2), Event::Done(at + 9)]);
        }
        if number % 60 == 20 {
            let here = Position { step: 20, mv: 0 };
            events.push(Event::Note(at, here, "a little tight here".to_owned()));
            events.push(Event::Weighed(at, here, Some(480)));
        }
    }
    // Wherever the count of moves ended, the sock is finished.
    events.push(Event::GoTo(at + 60, end));
    events
}
