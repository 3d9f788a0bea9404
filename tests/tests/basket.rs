//! The basket: many pairs, one taken out and put back, ready recipes, and reminders of a backup.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::{Duration, Instant};

use evenloop_engine::journal::{CHUNK_EVENTS, Event, write_chunk};
use evenloop_engine::plan::make;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::wire::write_plan;
use evenloop_tests::laid::{THEN, cast_on, fill_in_measures};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::{Map, Value, json};

async fn until_pairs(phone: &Phone, many: usize) {
    phone
        .until(
            &format!("there are {many} pairs"),
            &format!("return document.querySelectorAll('.card').length === {many}"),
        )
        .await;
}

/// Everything stored of pairs.
async fn stored(phone: &Phone) -> Value {
    phone
        .ask(
            "return Object.entries(localStorage)
                .filter(([key]) => key.startsWith('evenloop:pair:')).sort()",
        )
        .await
}

#[tokio::test]
async fn a_pair_taken_out_is_put_back_whole_even_after_a_reload() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    phone.tap(".pad").await;
    tokio::time::sleep(Duration::from_millis(400)).await;
    phone.open(&server.url("/")).await;
    until_pairs(&phone, 1).await;
    let before = stored(&phone).await;
    phone.tap(".card .more summary").await;
    phone.tap(".card .button.wrong").await;
    until_pairs(&phone, 0).await;
    // It stays where it lies, so that no kill can tear it; only the basket no longer has it.
    assert_eq!(stored(&phone).await, before);
    phone.reload().await;
    until_pairs(&phone, 0).await;
    phone.tap(".taken-out .button:not(.bare)").await;
    until_pairs(&phone, 1).await;
    assert_eq!(stored(&phone).await, before);
    phone.put_away().await;
}

/// A hundred pairs with long names and full logs.
async fn fill(phone: &Phone, many: usize) {
    let plan = make(&Recipe::default()).expect("a sock");
    let document = write_plan(&plan);
    let steps: usize = plan.sections.iter().map(|s| s.steps.len()).sum();
    let events: Vec<Event> = (0..steps as u64)
        .map(|i| match i {
            0 => Event::Begin(THEN),
            i => Event::Done(THEN + 90 * i),
        })
        .collect();
    let mut entries = Map::new();
    for i in 0..many {
        let name = format!(
            "Pair {i} of a very long name that goes on and on {}",
            "and on ".repeat(9)
        );
        let head = json!({ "version": 1, "name": name, "created": THEN + i as u64,
            "place": { "sock": 1, "done": steps, "total": steps, "section": "close", "finished": false } });
        let key = format!("evenloop:pair:p{i}");
        entries.insert(format!("{key}:head"), head.to_string().into());
        entries.insert(format!("{key}:plan"), document.clone().into());
        for (index, part) in (0..).zip(events.chunks(CHUNK_EVENTS)) {
            entries.insert(
                format!("{key}:log:1:{index}"),
                write_chunk(index, part).into(),
            );
        }
    }
    let entries = Value::Object(entries);
    phone.forget().await;
    phone
        .ask(&format!(
            "for (const [key, value] of Object.entries({entries})) localStorage.setItem(key, value);"
        ))
        .await;
}

#[tokio::test]
async fn a_hundred_pairs_are_there_at_once() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/keep")).await;
    let mut took = Vec::new();
    for many in [1, 100] {
        fill(&phone, many).await;
        phone.open(&server.url("/keep")).await;
        phone.find(".settings").await;
        let begin = Instant::now();
        phone.ask("document.querySelector('.nav a').click()").await;
        until_pairs(&phone, many).await;
        took.push(begin.elapsed());
    }
    println!("1 pair: {:?}, 100 pairs: {:?}", took[0], took[1]);
    assert!(took[1] < Duration::from_millis(700), "{took:?}");
    let aside = phone
        .ask("return document.scrollingElement.scrollWidth - innerWidth")
        .await;
    assert_eq!(aside, 0, "long names do not push the page aside");
    phone.put_away().await;
}

#[tokio::test]
async fn every_ready_recipe_makes_a_sock_in_measure() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/")).await;
    phone
        .ask("document.querySelector('.basket details.more').open = true")
        .await;
    phone.find(".starters li").await;
    let links = phone
        .ask("return [...document.querySelectorAll('.starters a')].map((a) => a.getAttribute('href'))")
        .await;
    let links = links.as_array().expect("links").clone();
    assert!(links.len() >= 6, "{links:?}");
    for link in links {
        phone.forget().await;
        phone
            .open(&server.url(link.as_str().expect("an address")))
            .await;
        phone
            .until("the address is done with", "return location.search === ''")
            .await;
        // no foot is filled in; once it is, it is a sock
        let foot = phone
            .ask("return document.querySelector('#foot-length').value")
            .await;
        assert_eq!(foot, "", "{link}");
        fill_in_measures(&phone).await;
        phone
            .ask(
                "document.querySelectorAll('details.fold').forEach((fold) => { fold.open = true; })",
            )
            .await;
        // a leg that follows the calf asks for the calf
        phone
            .until(
                "its places round the leg are filled in",
                "for (const [id, text] of [['girth-height-0', '12'], ['girth-round-0', '26'],
                        ['girth-height-1', '22'], ['girth-round-1', '34'],
                        ['girth-height-2', '33'], ['girth-round-2', '32']]) {
                     const line = document.getElementById(id);
                     if (line === null) continue;
                     line.value = text;
                     line.dispatchEvent(new Event('input', { bubbles: true }));
                 }
                 return document.querySelector('.outcome .headline strong') !== null",
            )
            .await;
        let wrong = phone
            .ask("return document.querySelectorAll('.outcome .errors, .field .error').length")
            .await;
        assert_eq!(wrong, 0, "{link}");
    }
    phone.put_away().await;
}

#[tokio::test]
async fn a_reminder_of_a_backup_can_wait() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/")).await;
    fill(&phone, 1).await;
    phone
        .ask("localStorage.setItem('evenloop:guide', 'over')")
        .await;
    phone.open(&server.url("/")).await;
    phone.tap(".basket .notice .button.bare").await;
    phone
        .until(
            "it waits",
            "return document.querySelectorAll('.basket .notice').length === 0",
        )
        .await;
    phone.reload().await;
    until_pairs(&phone, 1).await;
    let notices = "return document.querySelectorAll('.basket .notice').length";
    assert_eq!(phone.ask(notices).await, 0);
    // much more is knitted
    phone
        .ask("localStorage.setItem('evenloop:later', '10'); localStorage.setItem('evenloop:saved', '10')")
        .await;
    phone.reload().await;
    until_pairs(&phone, 1).await;
    assert_eq!(phone.ask(notices).await, 1);
    phone.put_away().await;
}
