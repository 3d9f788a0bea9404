//! Killed after any write: what the next start finds is what was there before the operation, or after it.

use std::collections::BTreeMap;

use evenloop_engine::journal::Event;
use evenloop_engine::plan::replan;
use evenloop_engine::recipe::{Method, Recipe, Seating};
use evenloop_engine::together::Sock;
use evenloop_engine::trace::Position;
use evenloop_engine::wire::{read_plan, write_plan};

use super::{
    Choices, Trying, copy, doc, everything, file, id, longer, taken_out_in_one_text, touches,
    with_pair, written_to,
};
use crate::store::keys;
use crate::store::pair::PairId;
use crate::store::practice::Practice;
use crate::store::replans::NewPlans;
use crate::store::restore::Chosen;
use crate::store::shelf::Shelf;

/// Everything on a shelf once the app has looked at it.
fn found(shelf: &Trying) -> BTreeMap<String, Option<String>> {
    for head in shelf.store().pairs().expect("a shelf") {
        let pair = shelf.store().open(&head.id).expect("a pair");
        assert_eq!(pair.trouble, None);
    }
    let _ = shelf.store().taken_out().expect("a shelf");
    let all = everything(shelf).into_iter();
    all.filter(|(key, _)| key != keys::RESERVE).collect()
}

/// Does something and stops it after each of its writes.
fn holds(before: &Trying, act: impl Fn(&Trying)) {
    let shelf = copy(before);
    shelf.writes.borrow_mut().clear();
    act(&shelf);
    let writes = shelf.writes.borrow().clone();
    let (first, last) = (found(&copy(before)), found(&copy(&shelf)));
    assert_ne!(first, last, "it does something");
    for stopped in 0..=writes.len() {
        let shelf = written_to(before, &writes[..stopped]);
        let now = found(&shelf);
        assert!(
            now == first || now == last,
            "torn after write {stopped} of {}: {:?}",
            writes.len(),
            &writes[..stopped].last().map(|(key, _)| key)
        );
    }
}

fn anew(shelf: &Trying, pair: &PairId, plans: NewPlans) {
    let standing = shelf.store().open(pair).expect("a pair").standing();
    let store = shelf.store();
    let changed = store.change_rest(pair, &standing, Some(plans), None, 70_000);
    changed.expect("room");
}

#[test]
fn casting_on() {
    let (shelf, _) = with_pair(3);
    holds(&shelf, |shelf| {
        let made = shelf.store().create("Red ones", doc(), Some(&longer()), 9);
        made.expect("room");
    });
}

#[test]
fn the_tiny_sock_begun_and_thrown_away() {
    let (shelf, pair) = with_pair(3);
    shelf.store().set_current(&pair).expect("room");
    let begin = |shelf: &Trying| {
        let begun = shelf.store().begin_practice("Tiny", doc(), 9);
        begun.expect("room");
    };
    let before = found(&shelf);
    holds(&shelf, begin);
    begin(&shelf);
    let Practice::Begun(tiny) = shelf.store().practice() else {
        panic!("it lies in the basket");
    };
    assert_eq!(shelf.store().current(), Some(tiny));
    holds(&shelf, |shelf| shelf.store().end_practice().expect("room"));
    shelf.store().end_practice().expect("room");
    assert_eq!(shelf.store().practice(), Practice::Over);
    let mut after = found(&shelf);
    assert_eq!(
        after.remove(keys::GUIDE),
        Some(Some("over".to_owned())),
        "it is not offered again"
    );
    assert_eq!(
        after, before,
        "nothing of it is left, and the pair in hand is the one before"
    );
}

#[test]
fn planning_anew_and_taking_it_back() {
    let (shelf, pair) = with_pair(30);
    holds(&shelf, |shelf| {
        anew(
            shelf,
            &pair,
            NewPlans::Both(longer(), Some(doc().to_owned())),
        );
    });
    anew(
        &shelf,
        &pair,
        NewPlans::Both(longer(), Some(doc().to_owned())),
    );
    holds(&shelf, |shelf| {
        let open = shelf.store().open(&pair).expect("a pair");
        let taken = shelf.store().take_plans_back(&open, &[Sock::First], 70_001);
        taken.expect("room");
    });
}

/// A pair knitted two at a time, so many touches each.
pub(super) fn two_at_a_time(touched: usize) -> (Trying, PairId) {
    let recipe = Recipe {
        needles: Method::MagicLoop {
            seating: Seating::InstepAndSole,
        },
        ..Recipe::default()
    };
    let plan = evenloop_engine::plan::make(&recipe).expect("a sock");
    let (shelf, pair) = (Trying::default(), id("two"));
    let made = shelf.store().create_as(&pair, "Two", &write_plan(&plan), 5);
    made.expect("room");
    let mut open = shelf.store().open(&pair).expect("a pair");
    let together = [(Sock::First, Event::Together(5, true))];
    shelf.store().record(&mut open, &together).expect("room");
    for n in 0..touched as u64 {
        let both = Sock::BOTH.map(|sock| (sock, Event::Done(10 + n)));
        shelf.store().record(&mut open, &both).expect("room");
    }
    (shelf, pair)
}

#[test]
fn a_touch_that_counts_for_both_socks() {
    // one of them also where both logs begin a new chunk
    for touched in [0, 20, 60, 61, 62, 63] {
        let (shelf, pair) = two_at_a_time(touched);
        holds(&shelf, |shelf| {
            let mut open = shelf.store().open(&pair).expect("a pair");
            let both = Sock::BOTH.map(|sock| (sock, Event::Done(900)));
            shelf.store().record(&mut open, &both).expect("room");
        });
        holds(&shelf, |shelf| {
            let mut open = shelf.store().open(&pair).expect("a pair");
            let to = Position { step: 9, mv: 0 };
            let both = Sock::BOTH.map(|sock| (sock, Event::GoTo(900, to)));
            shelf.store().record(&mut open, &both).expect("room");
        });
    }
}

#[test]
fn a_jump_into_the_middle_of_a_round() {
    // place and needles are two entries, and the second one begins a new chunk somewhere here
    for touched in 58..=64 {
        let (shelf, pair) = with_pair(touched);
        holds(&shelf, |shelf| {
            let mut open = shelf.store().open(&pair).expect("a pair");
            let to = Position { step: 9, mv: 0 };
            let jump = [Event::GoTo(900, to), Event::Needles(900, to, 1)];
            let jump = jump.map(|event| (Sock::First, event));
            shelf.store().record(&mut open, &jump).expect("room");
        });
    }
}

#[test]
fn bringing_together_what_both_copies_parted_over() {
    let (shelf, pair) = with_pair(40);
    let there = copy(&shelf);
    let mut other = touches(40);
    other[37] = Event::Undo(9_999);
    there.store().replace_log(&pair, 1, &other).expect("room");
    let chunk = keys::chunk(&pair, 1, 0);
    let text = there.get(&chunk).expect("a shelf").expect("a chunk");
    let aside = format!("{}1:{}{chunk}", keys::QUARANTINE, keys::PARTED);
    shelf.put(&aside, &text).expect("room");
    holds(&shelf, |shelf| {
        shelf.store().join_parted(80_000).expect("room");
    });
}

#[test]
fn beginning_two_at_a_time() {
    let (shelf, pair) = with_pair(30);
    let plan = read_plan(doc()).expect("a plan");
    let needles = Method::MagicLoop {
        seating: Seating::InstepAndSole,
    };
    let recipe = Recipe {
        needles,
        ..plan.recipe.clone()
    };
    let seated = write_plan(&replan(&plan, 29, &recipe).expect("it can be seated so"));
    holds(&shelf, |shelf| {
        let standing = shelf.store().open(&pair).expect("a pair").standing();
        let plans = NewPlans::Both(seated.clone(), None);
        let store = shelf.store();
        let changed = store.change_rest(&pair, &standing, Some(plans), Some(true), 70_000);
        changed.expect("room");
    });
}

#[test]
fn taking_out_putting_back_and_letting_go() {
    let (shelf, pair) = with_pair(150);
    let made = shelf.store().create_as(&id("b2"), "Red ones", doc(), 9);
    made.expect("room");
    shelf.store().set_current(&pair).expect("room");
    let out = |shelf: &Trying, pair: &PairId| {
        shelf.store().take_out(pair).expect("room");
    };
    holds(&shelf, |shelf| out(shelf, &pair));
    out(&shelf, &pair);
    holds(&shelf, |shelf| shelf.store().put_back().expect("room"));
    holds(&shelf, |shelf| shelf.store().let_go().expect("room"));
    // another one taken out lets the first one go
    holds(&shelf, |shelf| out(shelf, &id("b2")));
    // and as an older Evenloop kept it
    let (shelf, pair) = with_pair(150);
    taken_out_in_one_text(&shelf, &pair);
    holds(&shelf, |shelf| shelf.store().put_back().expect("room"));
}

#[test]
fn bringing_back_from_a_backup() {
    let (shelf, pair) = with_pair(150);
    let there = copy(&shelf);
    let mut other = touches(160);
    other[140] = Event::Undo(9_999);
    there.store().replace_log(&pair, 1, &other).expect("room");
    for name in ["c3", "d4"] {
        let made = there.store().create_as(&id(name), name, doc(), 5);
        made.expect("room");
    }
    there.put("evenloop:pair:e5:plan", "{broken").expect("room");
    let text = file(&there);
    let back = |shelf: &Trying| {
        let report = shelf
            .store()
            .restore(&text, &Choices::new(), 80_000)
            .expect("a backup");
        assert_eq!(report.stopped, None);
    };
    holds(&shelf, back);
    // The same file again changes nothing, whether or not the first time was stopped.
    let whole = copy(&shelf);
    whole.writes.borrow_mut().clear();
    back(&whole);
    let writes = whole.writes.borrow().clone();
    let last = found(&whole);
    assert_eq!(whole.store().pairs().expect("a shelf").len(), 4);
    for stopped in 0..=writes.len() {
        let shelf = written_to(&shelf, &writes[..stopped]);
        for _ in 0..2 {
            back(&shelf);
            assert_eq!(found(&shelf), last, "after {stopped}");
        }
    }
}

#[test]
fn bringing_in_another_device_whatever_is_chosen() {
    let (shelf, pair) = with_pair(60);
    shelf.store().set_current(&pair).expect("room");
    let there = copy(&shelf);
    for (shelf, from, rounds) in [(&shelf, 10_000, 5), (&there, 20_000, 70)] {
        let mut open = shelf.store().open(&pair).expect("a pair");
        for n in 0..rounds {
            let event = (Sock::First, Event::Done(from + n));
            shelf.store().record(&mut open, &[event]).expect("room");
        }
    }
    let made = there.store().create_as(&id("c3"), "c3", doc(), 5);
    made.expect("room");
    let text = file(&there);
    for chosen in [Chosen::Here, Chosen::There, Chosen::Both] {
        let choices = Choices::from([(pair.clone(), chosen)]);
        let bring = |shelf: &Trying| {
            let report = shelf.store().restore(&text, &choices, 80_000);
            assert_eq!(report.expect("a backup").stopped, None);
        };
        holds(&shelf, bring);
        let after = copy(&shelf);
        bring(&after);
        for kept in after.store().not_chosen().expect("a shelf") {
            holds(&after, |shelf| {
                shelf.store().put_in_basket(&kept.id).expect("room");
            });
            holds(&after, |shelf| {
                shelf.store().let_not_chosen_go(&kept.id).expect("room");
            });
        }
    }
}

#[test]
fn what_a_torn_restore_of_an_older_evenloop_left_becomes_no_second_copy() {
    let (there, pair) = with_pair(150);
    let text = file(&there);
    // logs without a plan, as it wrote them first
    let shelf = Trying::default();
    for index in 0..2 {
        let key = keys::chunk(&pair, 1, index);
        let chunk = there.get(&key).expect("a shelf").expect("a chunk");
        shelf.put(&key, &chunk).expect("room");
    }
    for _ in 0..3 {
        shelf
            .store()
            .restore(&text, &Choices::new(), 80_000)
            .expect("a backup");
        let pairs = shelf.store().pairs().expect("a shelf");
        assert_eq!(pairs.len(), 1);
        assert_eq!((&pairs[0].id, &*pairs[0].name), (&pair, "Blue ones"));
    }
    assert_eq!(shelf.store().quarantined(), Ok(Vec::new()));
}

#[test]
fn at_any_distance_from_the_brim_all_of_it_is_done_or_nothing() {
    let (shelf, pair) = with_pair(30);
    let used = shelf.used_beside("").expect("a size");
    let first = found(&copy(&shelf));
    let mut done = 0;
    for room in (0..60_000).step_by(97) {
        let shelf = copy(&shelf);
        shelf.room.set(Some(used + room));
        let standing = shelf.store().open(&pair).expect("a pair").standing();
        let plans = NewPlans::Both(longer(), Some(doc().to_owned()));
        let store = shelf.store();
        match store.change_rest(&pair, &standing, Some(plans), None, 70_000) {
            Ok(_) => done += 1,
            Err(error) => {
                assert_eq!(error, crate::store::StoreError::Full, "{room}");
                assert_eq!(found(&shelf), first, "{room}");
            }
        }
    }
    assert!(done > 0);
}
