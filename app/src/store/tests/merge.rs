//! Two devices with one basket: whichever is brought into which, nothing is lost, both come to the same, and what
//! went different ways is chosen by the knitter.

use std::collections::BTreeMap;

use evenloop_engine::journal::{Device, DeviceId, Event};
use evenloop_engine::merge::digest_of_log;
use evenloop_engine::together::Sock;
use evenloop_engine::trace::Position;
use serde::Deserialize;

use super::before_or_after::two_at_a_time;
use super::chance::{Chance, times};
use super::{Trying, copy, doc, everything, file, id, longer, planned_anew, touches, with_pair};
use crate::store::keys;
use crate::store::not_chosen::{not_chosen_under, read_not_chosen};
use crate::store::operation::{StoredChange, write_changes};
use crate::store::pair::PairId;
use crate::store::replans::NewPlans;
use crate::store::restore::{Choices, Chosen, Preview, Restored};
use crate::store::shelf::Shelf;
use crate::store::side::{PairSide, PartedOver};

/// Gives a shelf's device an id and a name.
pub(super) fn device(shelf: &Trying, number: u64, name: &str) {
    let device = Device {
        id: DeviceId::new(number),
        name: name.to_owned(),
    };
    shelf.store().put_device(&device).expect("room");
}

/// The same pair on two devices: so many touches on both.
fn two(touched: usize) -> (Trying, Trying, PairId) {
    let (phone, pair) = with_pair(touched);
    device(&phone, 1, "Oat phone");
    let tablet = copy(&phone);
    device(&tablet, 2, "Moss tablet");
    (phone, tablet, pair)
}

fn happens(shelf: &Trying, pair: &PairId, sock: Sock, events: impl IntoIterator<Item = Event>) {
    let mut open = shelf.store().open(pair).expect("a pair");
    for event in events {
        let stored = shelf.store().record(&mut open, &[(sock, event)]);
        stored.expect("room");
    }
}

/// So many rounds on a device, from this second.
fn knits(shelf: &Trying, pair: &PairId, from: u64, rounds: u64) {
    happens(
        shelf,
        pair,
        Sock::First,
        (0..rounds).map(|n| Event::Done(from + 30 * n)),
    );
}

fn look(shelf: &Trying, text: &str) -> Preview {
    // Opening a pair notes in its head how far it is.
    seen(shelf);
    let before = everything(shelf);
    let preview = shelf.store().look_into(text, 80_000).expect("a backup");
    assert_eq!(everything(shelf), before, "looking changes nothing");
    preview
}

fn bring(shelf: &Trying, text: &str, chosen: Chosen) -> Restored {
    let parted = look(shelf, text).parted.into_iter();
    let choices: Choices = parted.map(|pair| (pair.id, chosen)).collect();
    let report = shelf.store().restore(text, &choices, 80_000);
    let report = report.expect("a backup");
    assert_eq!(report.stopped, None);
    report
}

/// What a knitter sees of every pair: its name and what its logs say.
fn seen(shelf: &Trying) -> BTreeMap<PairId, (String, [String; 2])> {
    let heads = shelf.store().pairs().expect("a shelf").into_iter();
    heads
        .map(|head| {
            let pair = shelf.store().open(&head.id).expect("a pair");
            assert_eq!(pair.trouble, None);
            let logs = pair
                .journals
                .map(|log| digest_of_log(log.events()).to_string());
            (head.id, (head.name, logs))
        })
        .collect()
}

/// Every pair and every state that was not chosen.
pub(super) fn sides(shelf: &Trying) -> Vec<PairSide> {
    let mut sides = Vec::new();
    for (key, text) in everything(shelf) {
        let text = text.unwrap_or_default();
        if let Some((id, keys::KeyKind::Plan)) = keys::read(&key) {
            sides.extend(PairSide::from_store(shelf.store(), &id).expect("a shelf"));
        } else if let Some(id) = not_chosen_under(&key) {
            sides.extend(read_not_chosen(&id, &text));
        }
    }
    sides
}

/// Fails where something of these is nowhere on the shelf.
pub(super) fn holds_all_of(shelf: &Trying, before: &[PairSide]) -> Result<(), String> {
    let after = sides(shelf);
    let gone = before
        .iter()
        .find(|before| !after.iter().any(|after| after.has_all_of(before)));
    gone.map_or(Ok(()), |gone| Err(format!("lost: {}", gone.name)))
}

#[test]
fn what_was_brought_in_and_not_knitted_on_goes_on_with_the_next_file() {
    let (phone, pair) = with_pair(100);
    let tablet = Trying::default();
    bring(&tablet, &file(&phone), Chosen::Both);
    for rounds in [1, 2, 70] {
        knits(&phone, &pair, 100_000, rounds);
        let report = bring(&tablet, &file(&phone), Chosen::Both);
        assert_eq!(report.continued, ["Blue ones"], "{rounds}");
        assert_eq!(report.beside, Vec::<String>::new());
        assert_eq!(seen(&tablet), seen(&phone));
    }
    // and back again, round by round on either
    for turn in 0..4 {
        let (from, to) = if turn % 2 == 0 {
            (&tablet, &phone)
        } else {
            (&phone, &tablet)
        };
        knits(from, &pair, 200_000 + turn * 1_000, 3);
        let report = bring(to, &file(from), Chosen::Both);
        assert_eq!(report.continued, ["Blue ones"], "{turn}");
        assert_eq!(seen(to), seen(from));
    }
    assert_eq!(seen(&phone).len(), 1);
}

#[test]
fn rounds_from_one_and_weighings_and_notes_from_the_other_are_put_together() {
    let (phone, tablet, pair) = two(60);
    knits(&phone, &pair, 10_000, 80);
    let at = Position { step: 12, mv: 0 };
    let noted = [
        Event::Note(11_000, at, "snug, as it should be".to_owned()),
        Event::Weighed(11_010, at, Some(412)),
    ];
    happens(&tablet, &pair, Sock::First, noted);
    let (from_phone, from_tablet) = (file(&phone), file(&tablet));
    for (shelf, text) in [(&phone, &from_tablet), (&tablet, &from_phone)] {
        let preview = look(shelf, text);
        assert_eq!((preview.would.joined.len(), preview.parted.len()), (1, 0));
        assert_eq!(bring(shelf, text, Chosen::Here).joined, ["Blue ones"]);
    }
    assert_eq!(seen(&phone), seen(&tablet));
    let open = phone.store().open(&pair).expect("a pair");
    assert_eq!(open.journals[0].weighings(), [(at, 412)]);
    let both = (&phone, &tablet);
    for (to, from) in [both, (both.1, both.0), both] {
        let text = file(from);
        let before = everything(to);
        assert_eq!(bring(to, &text, Chosen::Both).kept, ["Blue ones"]);
        assert_eq!(everything(to), before, "once more changes nothing");
    }
}

#[test]
fn the_first_sock_on_one_and_the_second_on_the_other_are_put_together() {
    let (phone, tablet, pair) = two(60);
    knits(&phone, &pair, 10_000, 20);
    happens(
        &tablet,
        &pair,
        Sock::Second,
        [Event::Begin(10_000), Event::Done(10_060)],
    );
    let (from_phone, from_tablet) = (file(&phone), file(&tablet));
    assert_eq!(
        bring(&phone, &from_tablet, Chosen::Here).joined,
        ["Blue ones"]
    );
    assert_eq!(
        bring(&tablet, &from_phone, Chosen::Here).joined,
        ["Blue ones"]
    );
    assert_eq!(seen(&phone), seen(&tablet));
    let open = phone.store().open(&pair).expect("a pair");
    assert_eq!(
        [open.journals[0].last_at(), open.journals[1].last_at()],
        [Some(10_570), Some(10_060)]
    );
}

#[test]
fn two_at_a_time_no_sock_goes_its_own_way() {
    let (phone, pair) = two_at_a_time(20);
    let tablet = copy(&phone);
    happens(&phone, &pair, Sock::First, [Event::Done(9_000)]);
    happens(&tablet, &pair, Sock::Second, [Event::Done(10_000)]);
    assert_eq!(look(&phone, &file(&tablet)).parted.len(), 1);
    // where both say the same of both it goes on
    happens(&tablet, &pair, Sock::First, [Event::Done(9_000)]);
    assert_eq!(
        bring(&phone, &file(&tablet), Chosen::Here).continued,
        ["Two"]
    );
}

/// Two devices that counted on in two ways after 60 touches.
fn parted() -> (Trying, Trying, PairId) {
    let (phone, tablet, pair) = two(60);
    knits(&phone, &pair, 10_000, 5);
    knits(&tablet, &pair, 20_000, 9);
    (phone, tablet, pair)
}

#[test]
fn what_parted_is_shown_with_both_places_and_devices() {
    let (phone, tablet, pair) = parted();
    let preview = look(&phone, &file(&tablet));
    assert_eq!(preview.device.as_deref(), Some("Moss tablet"));
    assert_eq!(preview.would, Restored::default());
    let [shown] = &*preview.parted else {
        panic!("{preview:?}");
    };
    assert_eq!(
        (&shown.id, &*shown.name, shown.over),
        (&pair, "Blue ones", PartedOver::Rounds)
    );
    let done = [&shown.common, &shown.here, &shown.there].map(|branch| branch.progress.done);
    assert_eq!([done[1] - done[0], done[2] - done[0]], [5, 9]);
    assert_eq!(shown.common.last, Some(1_000 + 60 * 59));
    assert_eq!(
        (shown.here.last, shown.there.last),
        (Some(10_120), Some(20_240))
    );
    assert_eq!(shown.here.device.as_deref(), Some("Oat phone"));
    assert_eq!(shown.there.device.as_deref(), Some("Moss tablet"));
}

#[test]
fn whatever_is_chosen_nothing_is_lost_and_the_other_device_follows() {
    for chosen in [Chosen::Here, Chosen::There, Chosen::Both] {
        let (phone, tablet, pair) = parted();
        let [mine, others] = [&phone, &tablet].map(sides);
        let text = file(&tablet);
        let report = bring(&phone, &text, chosen);
        for before in [&mine, &others] {
            assert_eq!(holds_all_of(&phone, before), Ok(()), "{chosen:?}");
        }
        let rounds = |shelf: &Trying| {
            let open = shelf.store().open(&pair).expect("a pair");
            open.journals[0].last_at()
        };
        let (stays, other) = match chosen {
            Chosen::Here => (10_120, "Blue ones, on Moss tablet"),
            Chosen::There | Chosen::Both => (20_240, "Blue ones, on Oat phone"),
        };
        assert_eq!(rounds(&phone), Some(stays), "{chosen:?}");
        let told = [report.beside, report.not_chosen].concat();
        assert_eq!(told, [other], "{chosen:?}");
        assert_eq!(
            seen(&phone).len(),
            if chosen == Chosen::Both { 2 } else { 1 }
        );
        // The same file again asks nothing and changes nothing.
        let before = everything(&phone);
        assert!(look(&phone, &text).parted.is_empty(), "{chosen:?}");
        bring(&phone, &text, Chosen::There);
        assert_eq!(everything(&phone), before);
        // The other device is not asked again, and comes to the same.
        let text = file(&phone);
        let preview = look(&tablet, &text);
        assert!(preview.parted.is_empty(), "{chosen:?}");
        assert!(
            preview.changes,
            "what was not chosen comes along: {chosen:?}"
        );
        bring(&tablet, &text, Chosen::Here);
        assert!(!look(&tablet, &text).changes, "{chosen:?}");
        assert_eq!(seen(&tablet), seen(&phone), "{chosen:?}");
        assert_eq!(holds_all_of(&tablet, &others), Ok(()));
        let kept = |shelf: &Trying| shelf.store().not_chosen().expect("a shelf");
        assert_eq!(kept(&tablet), kept(&phone));
        let text = file(&tablet);
        bring(&phone, &text, Chosen::Both);
        assert_eq!(seen(&tablet), seen(&phone), "{chosen:?}");
    }
}

#[test]
fn each_device_that_chose_its_own_is_asked_again() {
    let (phone, tablet, _) = parted();
    let (from_phone, from_tablet) = (file(&phone), file(&tablet));
    bring(&phone, &from_tablet, Chosen::Here);
    bring(&tablet, &from_phone, Chosen::Here);
    assert_eq!(look(&phone, &file(&tablet)).parted.len(), 1);
    bring(&phone, &file(&tablet), Chosen::Both);
    assert_eq!(look(&phone, &file(&tablet)).parted.len(), 0);
    bring(&tablet, &file(&phone), Chosen::Both);
    assert_eq!(seen(&phone), seen(&tablet));
}

#[test]
fn what_was_not_chosen_goes_into_the_basket_or_is_let_go() {
    let (phone, tablet, pair) = parted();
    let others = sides(&tablet);
    bring(&phone, &file(&tablet), Chosen::Here);
    let kept = phone.store().not_chosen().expect("a shelf");
    assert_eq!(kept.len(), 1);
    // It is no damage, and nothing says so.
    assert_eq!(phone.store().any_quarantined(), Ok(false));
    assert_eq!(phone.store().quarantined(), Ok(Vec::new()));
    phone.store().let_quarantined_go().expect("room");
    let basket = copy(&phone);
    basket.store().put_in_basket(&kept[0].id).expect("room");
    assert_eq!(basket.store().not_chosen(), Ok(Vec::new()));
    assert_eq!(seen(&basket).len(), 2);
    assert_eq!(holds_all_of(&basket, &others), Ok(()));
    phone.store().let_not_chosen_go(&kept[0].id).expect("room");
    assert_eq!(phone.store().any_not_chosen(), Ok(false));
    assert_eq!(seen(&phone).len(), 1);
    assert!(phone.store().open(&pair).is_ok());
    assert!(phone.store().put_in_basket(&kept[0].id).is_err());
}

#[test]
fn a_record_of_what_was_not_chosen_changes_nothing_but_its_pair() {
    let (shelf, pair) = with_pair(10);
    let strange = id("r-77");
    let changes = [
        StoredChange::put(keys::plan(&strange), doc().to_owned()),
        StoredChange::put(keys::plan(&pair), "{}".to_owned()),
        StoredChange::remove(keys::chunk(&pair, 1, 0)),
        StoredChange::put(keys::SETTINGS.to_owned(), "[]".to_owned()),
    ];
    let key = format!("{}1:{}{strange}", keys::QUARANTINE, keys::NOT_CHOSEN);
    shelf
        .put(&key, &write_changes(changes.iter()))
        .expect("room");
    let before = seen(&shelf);
    shelf.store().put_in_basket(&strange).expect("room");
    assert_eq!(seen(&shelf).get(&pair), before.get(&pair));
    assert_eq!(shelf.get(keys::SETTINGS), Ok(None));
    assert_eq!(seen(&shelf).len(), 2);
}

#[test]
fn different_notes_at_one_place_are_asked_about() {
    let (phone, tablet, pair) = two(60);
    let at = Position { step: 9, mv: 0 };
    let note = |text: &str, when| [Event::Note(when, at, text.to_owned())];
    happens(&phone, &pair, Sock::First, note("snug", 10_000));
    happens(&tablet, &pair, Sock::First, note("loose", 10_001));
    let parted = look(&phone, &file(&tablet)).parted;
    assert_eq!(parted[0].over, PartedOver::Remarks);
    bring(&phone, &file(&tablet), Chosen::There);
    let open = phone.store().open(&pair).expect("a pair");
    assert_eq!(open.journals[0].remarks()[0].note, "loose");
}

#[test]
fn a_plan_made_anew_comes_along_and_can_be_taken_back_there() {
    let (phone, tablet, pair) = two(4);
    planned_anew(&phone, &pair, NewPlans::Both(longer(), None)).expect("room");
    let at = Position { step: 2, mv: 0 };
    for n in 0..3 {
        let at = Position { step: 2 + n, ..at };
        happens(
            &tablet,
            &pair,
            Sock::First,
            [Event::Weighed(900 + n as u64, at, Some(400))],
        );
    }
    let (from_phone, from_tablet) = (file(&phone), file(&tablet));
    assert_eq!(
        bring(&tablet, &from_phone, Chosen::Here).joined,
        ["Blue ones"]
    );
    assert_eq!(
        bring(&phone, &from_tablet, Chosen::Here).joined,
        ["Blue ones"]
    );
    assert_eq!(seen(&phone), seen(&tablet));
    for shelf in [&phone, &tablet] {
        let open = shelf.store().open(&pair).expect("a pair");
        assert_eq!(
            (open.trouble.as_ref(), open.journals[0].weighings().len()),
            (None, 3)
        );
    }
    // On the device on which nothing was planned anew.
    let open = tablet.store().open(&pair).expect("a pair");
    let back = tablet
        .store()
        .take_plans_back(&open, &[Sock::First], 90_000);
    let back = back.expect("the way back came along");
    assert_ne!(back.plan_digests, open.plan_digests);
    assert_eq!(
        bring(&phone, &file(&tablet), Chosen::Here).continued,
        ["Blue ones"]
    );
    assert_eq!(seen(&phone), seen(&tablet));
    // Planned anew in one way and knitted on in the other: that is chosen.
    let (phone, tablet, pair) = two(4);
    planned_anew(&phone, &pair, NewPlans::Both(longer(), None)).expect("room");
    knits(&tablet, &pair, 9_000, 1);
    assert_eq!(look(&phone, &file(&tablet)).parted.len(), 1);
}

#[test]
fn the_name_given_last_holds_on_both() {
    let (phone, tablet, pair) = two(30);
    phone
        .store()
        .rename(&pair, "Early name", 5_000)
        .expect("room");
    tablet
        .store()
        .rename(&pair, "Late name", 6_000)
        .expect("room");
    let (from_phone, from_tablet) = (file(&phone), file(&tablet));
    for (device, other) in [(&phone, &from_tablet), (&tablet, &from_phone)] {
        // Both names are told, before and after.
        let both = vec![["Late name".to_owned(), "Early name".to_owned()]];
        let preview = device.store().look_into(other, 80_000).expect("a backup");
        assert_eq!(preview.would.named, both);
        assert_eq!(bring(device, other, Chosen::Here).named, both);
    }
    assert_eq!(seen(&phone), seen(&tablet));
    assert_eq!(seen(&phone)[&pair].0, "Late name");
    // A name that only one of both was given is no choice.
    let (phone, tablet, pair) = two(30);
    phone.store().rename(&pair, "Red", 5_000).expect("room");
    let report = bring(&tablet, &file(&phone), Chosen::Here);
    assert_eq!(report.named, Vec::<[String; 2]>::new());
    assert_eq!(seen(&tablet)[&pair].0, "Red");
}

/// What an older Evenloop reads of a file.
#[derive(Deserialize)]
struct AsBefore {
    entries: BTreeMap<String, String>,
}

#[test]
fn a_device_is_named_once_and_stays_out_of_what_others_take_over() {
    let shelf = Trying::default();
    let first = shelf.store().this_device().expect("room");
    assert!(!first.name.is_empty());
    assert_eq!(shelf.store().this_device(), Ok(first.clone()));
    let named = shelf
        .store()
        .name_device("  The  red   phone ")
        .expect("room");
    assert_eq!((named.id, &*named.name), (first.id, "The red phone"));
    assert_eq!(shelf.store().name_device(" "), Ok(named));
    // A file says where it is from beside its texts, where an older Evenloop does not look.
    let before: AsBefore = serde_json::from_str(&file(&shelf)).expect("a backup");
    assert!(!before.entries.contains_key(keys::DEVICE));
    let (other, _) = with_pair(3);
    device(&other, 9, "Other");
    other
        .store()
        .restore(&file(&shelf), &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(other.store().this_device().expect("room").name, "Other");
    // What cannot be read is no device, and nothing fails for it.
    shelf.put(keys::DEVICE, "{broken").expect("room");
    assert_eq!(shelf.store().known_device(), None);
    assert!(shelf.store().this_device().is_ok());
}

#[test]
fn a_log_says_where_each_part_was_counted_and_costs_a_touch_nothing_more() {
    let (phone, pair) = with_pair(5);
    device(&phone, 1, "Oat phone");
    knits(&phone, &pair, 9_000, 3);
    let events = phone.store().open(&pair).expect("a pair");
    let events = events.journals[0].events();
    let on = |event: &&Event| matches!(event, Event::OnDevice(..));
    assert_eq!(events.iter().filter(on).count(), 1);
    assert_eq!(
        events.len(),
        5 + 2 + 3,
        "the device and the plan are said once"
    );
    // A log that came from an older Evenloop goes on being read by it: one more letter, in the same form.
    let chunk = phone
        .get(&keys::chunk(&pair, 1, 0))
        .expect("a shelf")
        .expect("a chunk");
    assert!(chunk.starts_with("2 0 ") && chunk.contains(",v"), "{chunk}");
}

/// Something happens on a device: a touch, a note, a plan made anew, a name, a new pair.
fn something(shelf: &Trying, chance: &mut Chance, when: u64) {
    let pairs = shelf.store().pairs().expect("a shelf");
    let Some(head) = pairs.get(chance.below(pairs.len().max(1))) else {
        return;
    };
    let pair = &head.id;
    let sock = if chance.below(5) == 0 {
        Sock::Second
    } else {
        Sock::First
    };
    let place = Position {
        step: chance.below(6),
        mv: 0,
    };
    match chance.below(9) {
        0 => happens(
            shelf,
            pair,
            sock,
            [Event::Note(when, place, format!("note {when}"))],
        ),
        1 => happens(shelf, pair, sock, [Event::Weighed(when, place, Some(400))]),
        2 => happens(shelf, pair, sock, [Event::Undo(when)]),
        3 => drop(shelf.store().rename(pair, &format!("Named {when}"), when)),
        4 => {
            let plans = NewPlans::Both([doc().to_owned(), longer()][chance.below(2)].clone(), None);
            let _ = planned_anew(shelf, pair, plans);
        }
        _ => happens(shelf, pair, sock, [Event::Done(when)]),
    }
}

#[test]
fn whatever_happens_on_three_devices_nothing_is_lost_and_all_come_to_the_same() {
    for seed in 0..times("EVENLOOP_MERGES", 20) {
        let mut chance = Chance(seed);
        let (phone, tablet, _) = two(4);
        let third = copy(&phone);
        device(&third, 3, "Rust laptop");
        let devices = [&phone, &tablet, &third];
        let mut when = 5_000;
        for _ in 0..chance.below(24) {
            when += 1 + chance.below(90) as u64;
            let at = chance.below(3);
            if chance.below(3) > 0 {
                something(devices[at], &mut chance, when);
                continue;
            }
            let (to, from) = (devices[at], devices[(at + 1 + chance.below(2)) % 3]);
            let before = [sides(to), sides(from)];
            let chosen = *chance.of(&[Chosen::Here, Chosen::There, Chosen::Both]);
            bring(to, &file(from), chosen);
            for before in &before {
                assert_eq!(holds_all_of(to, before), Ok(()), "seed {seed}");
            }
        }
        // Until nobody has anything to tell the others; where it was chosen otherwise, all is kept.
        for _ in 0..4 {
            for (to, from) in [(0, 1), (1, 2), (2, 0), (0, 2), (2, 1), (1, 0)] {
                bring(devices[to], &file(devices[from]), Chosen::Both);
            }
        }
        for device in &devices[1..] {
            assert_eq!(seen(device), seen(&phone), "seed {seed}");
        }
    }
}

#[test]
fn an_empty_log_and_a_begun_one_are_the_same_pair() {
    let (phone, tablet, _) = two(0);
    let (there, pair) = with_pair(0);
    there
        .store()
        .replace_log(&pair, 1, &touches(7))
        .expect("room");
    for shelf in [&phone, &tablet] {
        assert_eq!(
            bring(shelf, &file(&there), Chosen::Here).continued,
            ["Blue ones"]
        );
    }
    assert_eq!(seen(&phone), seen(&there));
}
