//! What lies on the phone is damaged, of a newer Evenloop, or comes from a hostile file: it is told,
//! set aside or left alone, never erased, and the screens go on. The store's own tests do the same
//! some thousand times without a browser; here it is seen that a knitter is told.
//!
//! `EVENLOOP_DAMAGES` and `EVENLOOP_FILES` say how often it is tried.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::journal::{CHUNK_EVENTS, Event, write_chunk};
use evenloop_engine::plan::SectionKind;
use evenloop_tests::laid::{THEN, begun_at, cast_on, find, lay_out, usual_sock};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{
    backup, bring, done, go, place, put, stored, touch, until_place, until_shown,
};
use serde_json::{Map, Value, json};

fn times(variable: &str, usual: usize) -> usize {
    std::env::var(variable).map_or(usual, |text| text.parse().expect("a number of times"))
}

/// Twenty rounds of the leg done, in a log of three chunks.
fn log() -> Vec<Event> {
    let leg = find(&usual_sock(), |kind, _| kind == SectionKind::Leg)[0];
    let mut log = begun_at(leg).to_vec();
    log.extend((2..150).map(|i| match i % 7 {
        0 => Event::Done(THEN + 60 + i),
        _ => Event::Weighed(THEN + 60 + i, leg, Some(500)),
    }));
    log
}

async fn phone_in_the_leg(server: &Server) -> Phone {
    let phone = Phone::unpack().await;
    cast_on(&phone, server).await;
    lay_out(&phone, &usual_sock(), [&log(), &[]]).await;
    phone.open(&server.url("/now")).await;
    until_place(&phone, "Round 22 of").await;
    phone
}

/// The key of the pair at hand that ends like this.
fn key(stored: &Map<String, Value>, end: &str) -> String {
    let mut keys = stored
        .keys()
        .filter(|key| key.starts_with("evenloop:pair:"));
    let key = keys.find(|key| key.ends_with(end)).expect("it is stored");
    key.clone()
}

fn text(stored: &Map<String, Value>, key: &str) -> String {
    stored[key].as_str().expect("a text").to_owned()
}

/// Another letter in one place.
fn with_another_letter(text: &str, number: usize) -> String {
    let at = number * 7_919 % text.len();
    let other = if &text[at..=at] == "7" { "8" } else { "7" };
    format!("{}{other}{}", &text[..at], &text[at + 1..])
}

/// Has everything on the phone replaced.
async fn replace(phone: &Phone, with: &Map<String, Value>) {
    let with = Value::Object(with.clone());
    phone
        .ask(&format!(
            "for (const key of Object.keys(localStorage))
                 if (key !== 'evenloop:number') localStorage.removeItem(key);
             for (const [key, text] of Object.entries({with})) localStorage.setItem(key, text);"
        ))
        .await;
}

#[tokio::test]
async fn a_damaged_log_keeps_what_comes_before_and_hands_out_the_rest() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;
    let whole = stored(&phone).await;
    for number in 0..times("EVENLOOP_DAMAGES", 3) {
        replace(&phone, &whole).await;
        let index = number % 3;
        let key = key(&whole, &format!(":log:1:{index}"));
        let worse = with_another_letter(&text(&whole, &key), number + 3);
        put(&phone, &key, &worse).await;

        phone.open(&server.url("/now")).await;
        until_shown(&phone, ".notice", "It was set aside, not erased").await;
        let kept = index * CHUNK_EVENTS;
        if kept > 0 {
            until_shown(
                &phone,
                ".notice",
                &format!("{kept} touches before it were kept"),
            )
            .await;
        }
        let before = done(&phone).await;
        let kept = log()
            .iter()
            .take(kept)
            .filter(|event| matches!(event, Event::Done(_)))
            .count();
        assert_eq!(before, kept as u64);
        touch(&phone).await;
        assert_eq!(
            done(&phone).await,
            before + 1,
            "{number}: from there it goes on"
        );

        go(&phone, "/keep").await;
        phone.unfold(".aside").await;
        until_shown(&phone, ".aside pre", &worse).await;
        let saved: Value = serde_json::from_str(&backup(&phone).await).expect("a backup");
        let saved = saved["entries"].as_object().expect("entries");
        for lost in index..3 {
            let text = if lost == index {
                worse.clone()
            } else {
                text(
                    &whole,
                    &key.replace(&format!("1:{index}"), &format!("1:{lost}")),
                )
            };
            assert!(
                saved.values().any(|one| one.as_str() == Some(&text)),
                "{number}: the backup has it"
            );
        }
    }
    phone.put_away().await;
}

#[tokio::test]
async fn whatever_else_is_damaged_every_screen_opens_and_nothing_is_erased() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;
    go(&phone, "/keep").await;
    phone
        .ask("document.querySelectorAll('[name=theme]')[2].click()")
        .await;
    let whole = stored(&phone).await;
    let plan = key(&whole, ":plan");
    let head = key(&whole, ":head");
    let half = |key: &str| text(&whole, key)[..40].to_owned();
    let damages: [(&str, String); 5] = [
        (&plan, half(&plan)),
        (&head, half(&head)),
        (&head, r#"{"version":1,"name":"\u0000","created":18446744073709551615,"place":{"sock":2,"done":4294967295,"total":0,"section":"nowhere","finished":false}}"#.to_owned()),
        ("evenloop:settings", "{\"theme\":".to_owned()),
        ("evenloop:current", "\u{202e}?".to_owned()),
    ];
    for (key, worse) in damages {
        replace(&phone, &whole).await;
        put(&phone, key, &worse).await;
        for path in ["/", "/now", "/map", "/plan"] {
            phone.open(&server.url(path)).await;
            phone.find("main h1").await;
        }
        let now = stored(&phone).await;
        let kept = now.values().any(|text| text.as_str() == Some(&worse));
        assert!(kept || key == head, "{key} is kept: {now:?}");
        assert_eq!(
            now[&plan] == whole[&plan],
            key != plan,
            "the plan is left alone"
        );
        if key == plan {
            phone.open(&server.url("/now")).await;
            until_shown(&phone, ".notice", "Its plan is damaged").await;
        }
    }
    // A key that was damaged hides what it held, and a backup has it.
    replace(&phone, &whole).await;
    let chunk = key(&whole, ":log:1:1");
    phone
        .ask(&format!("localStorage.removeItem('{chunk}')"))
        .await;
    put(
        &phone,
        &chunk.replace(":log:", ":lpg:"),
        &text(&whole, &chunk),
    )
    .await;
    phone.open(&server.url("/now")).await;
    until_shown(&phone, ".notice", "64 touches before it were kept").await;
    go(&phone, "/keep").await;
    let saved: Value = serde_json::from_str(&backup(&phone).await).expect("a backup");
    let saved = saved["entries"].as_object().expect("entries");
    assert!(saved.values().any(|text| *text == whole[&chunk]));

    // The number up to which the echo is known: then all of the echo is put back, which is the same.
    cast_on(&phone, &server).await;
    touch(&phone).await;
    let shown = place(&phone).await;
    let before = stored(&phone).await;
    put(&phone, "evenloop:number", "not a number").await;
    phone.open(&server.url("/now")).await;
    phone.find(".pad").await;
    assert_eq!(place(&phone).await, shown);
    assert_eq!(stored(&phone).await, before);
    phone.put_away().await;
}

#[tokio::test]
async fn what_a_newer_evenloop_stored_is_told_and_not_touched() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;
    let whole = stored(&phone).await;
    let strange = [Event::Unknown(THEN, "x:7".to_owned())];
    for (end, newer) in [
        (
            ":plan",
            text(&whole, &key(&whole, ":plan")).replacen("\"version\":3", "\"version\":9", 1),
        ),
        (
            ":head",
            text(&whole, &key(&whole, ":head")).replacen("\"version\":1", "\"version\":9", 1),
        ),
        (":log:1:2", write_chunk(2, &strange).replacen('2', "9", 1)),
    ] {
        replace(&phone, &whole).await;
        put(&phone, &key(&whole, end), &newer).await;
        let before = stored(&phone).await;
        for path in ["/", "/map", "/keep"] {
            phone.open(&server.url(path)).await;
            phone.find("main h1").await;
        }
        let saved: Value = serde_json::from_str(&backup(&phone).await).expect("a backup");
        assert_eq!(saved["entries"][key(&whole, end)], Value::from(newer));
        phone.open(&server.url("/now")).await;
        until_shown(&phone, ".notice", "It was stored by a newer Evenloop").await;
        let mut after = stored(&phone).await;
        for own in ["evenloop:saved", "evenloop:draft"] {
            after.remove(own);
        }
        let mut before = before;
        before.remove("evenloop:draft");
        assert_eq!(after, before, "{end}");
    }
    phone.put_away().await;
}

/// A backup with something wrong in it.
fn hostile(real: &str, number: usize) -> String {
    let mut file: Value = serde_json::from_str(real).expect("a backup");
    let entries = file["entries"].as_object_mut().expect("entries");
    let keys: Vec<String> = entries.keys().cloned().collect();
    let key = keys[number * 31 % keys.len()].clone();
    let text = entries[&key].as_str().expect("a text").to_owned();
    match number % 9 {
        0 => return with_another_letter(real, number),
        1 => return real[..number * 7_919 % real.len()].to_owned(),
        2 => drop(entries.insert(key, with_another_letter(&text, number).into())),
        3 => drop(entries.insert(key, json!({ "not": "a text" }))),
        4 => drop(entries.remove(&key)),
        5 => {
            let monster = [
                Event::Begin(u64::MAX),
                Event::Weighed(
                    0,
                    evenloop_engine::trace::Position {
                        step: usize::MAX,
                        mv: usize::MAX,
                    },
                    Some(u32::MAX),
                ),
                Event::Done(u64::MAX - 7),
            ];
            let name = ["evenloop:pair:z:log:1:0", "evenloop:pair:y:log:2:0"][number % 2];
            entries.insert(name.to_owned(), write_chunk(0, &monster).into());
            let plan = keys
                .iter()
                .find(|key| key.ends_with(":plan"))
                .expect("a plan");
            entries.insert("evenloop:pair:y:plan".to_owned(), entries[plan].clone());
        }
        6 => drop(entries.insert("<img src=x onerror=alert(1)>".to_owned(), text.into())),
        7 => {
            file["version"] = [json!(0), json!(2), json!("1"), json!(1e99)][number / 9 % 4].clone();
        }
        _ => return "[".repeat(100_000),
    }
    file.to_string()
}

#[tokio::test]
async fn hostile_backups_are_refused_or_read_rightly_and_change_nothing_that_is_here() {
    let server = Server::start();
    let phone = phone_in_the_leg(&server).await;
    let shown = place(&phone).await;
    go(&phone, "/keep").await;
    let real = backup(&phone).await;
    let before = stored(&phone).await;
    let (mut refused, mut taken) = (0, 0);
    for number in 0..times("EVENLOOP_FILES", 18) {
        let said = bring(&phone, &hostile(&real, number)).await;
        assert!(!said.is_empty(), "{number}: something is said of it");
        if said.contains("othing was changed") {
            refused += 1;
        } else {
            taken += 1;
        }
        let after = stored(&phone).await;
        for (key, text) in &before {
            let may_change = key.ends_with(":head") || key == "evenloop:saved";
            assert!(
                may_change || after.get(key) == Some(text),
                "{number}: {key}"
            );
        }
    }
    println!("{refused} refused, {taken} read");
    assert!(refused > 0 && taken > 0);
    // Every pair that came can be looked at.
    phone.open(&server.url("/")).await;
    let pairs = phone
        .ask("return document.querySelectorAll('.card').length")
        .await;
    for number in 0..pairs.as_u64().expect("a number") {
        phone.open(&server.url("/")).await;
        phone.find(".card").await;
        phone
            .ask(&format!(
                "document.querySelectorAll('.card a.open')[{number}].click()"
            ))
            .await;
        for path in ["/now", "/map"] {
            phone.open(&server.url(path)).await;
            phone.find("main h1").await;
        }
    }
    let at_hand = key(&before, ":plan")
        .split(':')
        .nth(2)
        .expect("an id")
        .to_owned();
    put(&phone, "evenloop:current", &at_hand).await;
    phone.open(&server.url("/now")).await;
    until_place(&phone, "Round 22 of").await;
    assert_eq!(place(&phone).await, shown);
    phone.put_away().await;
}
