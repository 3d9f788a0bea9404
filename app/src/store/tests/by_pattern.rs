//! A pair that follows a pattern of the knitter's own has everything that another has: nothing of its text, or of what
//! was found in it, is lost on any way.

use evenloop_engine::journal::Event;
use evenloop_engine::link::{read_link, write_link};
use evenloop_engine::plan::Plan;
use evenloop_engine::recipe::{Method, Recipe, Seating, Written};
use evenloop_engine::sock::{make, replan};
use evenloop_engine::together::{PairFit, Sock, fit, is_together};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::write_plan;

use super::{Trying, copy, file, id};
use crate::store::pair::PairId;
use crate::store::replans::NewPlans;
use crate::store::restore::{Choices, Chosen};

/// A small sock, made up. The rib's second line says one stitch too few.
const TEXT: &str = include_str!("../../../engine/tests/pattern/small_sock.txt");

fn recipe(seating: Seating) -> Recipe {
    Recipe {
        needles: Method::MagicLoop { seating },
        written: Some(Written {
            text: TEXT.to_owned(),
            size: None,
            ours: Vec::new(),
        }),
        ..Recipe::default()
    }
}

fn plan() -> Plan {
    let plan = make(&recipe(Seating::EvenHalves)).expect("a sock");
    assert_eq!(plan.found.len(), 1);
    plan
}

/// Such a pair, the first sock begun and so many times touched.
fn with_pair(touched: u64) -> (Trying, PairId) {
    let (shelf, pair) = (Trying::default(), id("own"));
    let made = shelf
        .store()
        .create_as(&pair, "Rnd 1: K2", &write_plan(&plan()), 5);
    made.expect("room");
    happens(&shelf, &pair, Sock::First, [Event::Begin(1_000)]);
    let rounds = (0..touched).map(|n| Event::Done(1_060 + 60 * n));
    happens(&shelf, &pair, Sock::First, rounds);
    (shelf, pair)
}

fn happens(shelf: &Trying, pair: &PairId, sock: Sock, events: impl IntoIterator<Item = Event>) {
    let mut open = shelf.store().open(pair).expect("a pair");
    for event in events {
        let stored = shelf.store().record(&mut open, &[(sock, event)]);
        stored.expect("room");
    }
}

fn places(shelf: &Trying, pair: &PairId) -> [Position; 2] {
    let open = shelf.store().open(pair).expect("a pair");
    assert_eq!(open.trouble, None);
    open.journals.map(|log| log.position())
}

fn step(step: usize) -> Position {
    Position { step, mv: 0 }
}

/// The plans of both socks as they are read from the shelf.
fn plans(shelf: &Trying, pair: &PairId) -> [Plan; 2] {
    let open = shelf.store().open(pair).expect("a pair");
    open.patterns.map(|knitted| knitted.plan.clone())
}

#[test]
fn touches_undo_ripping_back_notes_and_the_second_sock() {
    let (shelf, pair) = with_pair(12);
    let [at, _] = places(&shelf, &pair);
    happens(&shelf, &pair, Sock::First, [Event::Undo(3_000)]);
    let [back, _] = places(&shelf, &pair);
    assert!(back < at);
    happens(&shelf, &pair, Sock::First, [Event::GoTo(3_100, step(4))]);
    assert_eq!(places(&shelf, &pair)[0], step(4));
    let note = Event::Note(3_200, step(4), "as line 4 has it".to_owned());
    let end = Trace::of(&plan()).expect("it can be knitted").end();
    happens(&shelf, &pair, Sock::First, [note, Event::GoTo(3_300, end)]);
    happens(
        &shelf,
        &pair,
        Sock::Second,
        [Event::Begin(4_000), Event::GoTo(4_100, step(5))],
    );
    assert_eq!(places(&shelf, &pair), [end, step(5)]);
    assert_eq!(plans(&shelf, &pair), [plan(), plan()]);
}

#[test]
fn a_backup_brings_its_text_and_what_was_found_to_another_device() {
    let (shelf, pair) = with_pair(12);
    let tablet = Trying::default();
    let report = tablet
        .store()
        .restore(&file(&shelf), &Choices::new(), 80_000)
        .expect("a backup");
    assert_eq!(report.added, ["Rnd 1: K2"]);
    assert_eq!(plans(&tablet, &pair), [plan(), plan()]);
    assert_eq!(places(&tablet, &pair), places(&shelf, &pair));
}

#[test]
fn two_devices_come_to_the_same_and_what_parted_is_asked() {
    let (phone, pair) = with_pair(12);
    let tablet = copy(&phone);
    happens(&phone, &pair, Sock::First, [Event::Done(5_000)]);
    happens(&tablet, &pair, Sock::Second, [Event::Begin(6_000)]);
    let (from_phone, from_tablet) = (file(&phone), file(&tablet));
    for (shelf, text) in [(&phone, &from_tablet), (&tablet, &from_phone)] {
        let report = shelf.store().restore(text, &Choices::new(), 80_000);
        assert_eq!(report.expect("a backup").joined, ["Rnd 1: K2"]);
    }
    assert_eq!(places(&phone, &pair), places(&tablet, &pair));
    happens(&phone, &pair, Sock::First, [Event::Done(7_000)]);
    happens(&tablet, &pair, Sock::First, [Event::Undo(7_500)]);
    let text = file(&tablet);
    let preview = phone.store().look_into(&text, 80_000).expect("a backup");
    assert_eq!(preview.parted.len(), 1);
    let choices: Choices = [(pair.clone(), Chosen::Both)].into();
    let report = phone.store().restore(&text, &choices, 80_000);
    assert_eq!(report.expect("a backup").stopped, None);
    for head in phone.store().pairs().expect("a shelf") {
        assert_eq!(plans(&phone, &head.id), [plan(), plan()]);
    }
}

/// The rest of both is seated for two where they are; the text and what was found in it stay.
#[test]
fn it_is_seated_for_two_at_a_time_and_that_is_taken_back() {
    let (shelf, pair) = with_pair(12);
    let open = shelf.store().open(&pair).expect("a pair");
    assert_ne!(fit(&open.patterns[0].plan), PairFit::Fits);
    let apart = recipe(Seating::InstepAndSole);
    let [first, second] = Sock::BOTH.map(|sock| {
        let plan = &open.patterns[sock.index()].plan;
        replan(plan, open.steps_begun(sock), &apart).expect("the rest of it")
    });
    assert_eq!([&first.found, &second.found], [&plan().found; 2]);
    let plans_for_two = NewPlans::Both(
        write_plan(&first),
        (second != first).then(|| write_plan(&second)),
    );
    let standing = open.standing();
    shelf
        .store()
        .change_rest(&pair, &standing, Some(plans_for_two), Some(true), 9_000)
        .expect("room");
    let open = shelf.store().open(&pair).expect("a pair");
    assert!(is_together(open.on_needles()));
    assert_eq!(plans(&shelf, &pair), [first, second]);
    let mut open = open;
    shelf
        .store()
        .undo(&mut open, Sock::First, 9_100)
        .expect("room");
    assert_eq!(
        plans(&shelf, &pair)[0].recipe.needles,
        plan().recipe.needles
    );
}

/// The link holds the text; made anew from it, the sock is the same and has the same found in it.
#[test]
fn a_link_makes_the_same_sock_elsewhere() {
    let link = write_link(&plan().recipe);
    let read = read_link(&link).expect("a recipe");
    assert_eq!(make(&read), Ok(plan()));
}
