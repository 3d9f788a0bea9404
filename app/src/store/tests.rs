//! The store's rules, tried on a shelf in memory: damage, a full shelf, a refusing one, two windows.

mod before_or_after;
mod by_pattern;
mod chance;
mod copies;
mod damage;
mod first_paint;
mod hostile;
mod merge;
mod room;
mod simulation;
mod start;
mod torn;

use std::cell::{Cell, RefCell};
use std::collections::HashMap;
use std::sync::{Arc, OnceLock};

use evenloop_engine::journal::{CHUNK_EVENTS, Event, write_chunk};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::{plan_document, read_plan, write_recipe};

use super::backup::BackupRefused;
use super::error::{StoreError, StoredPart};
use super::handle::Store;
use super::keys;
use super::pair::{KnittedPlan, PairId, PairProgress};
use super::replans::NewPlans;
use super::restore::Choices;
use super::shelf::{Memory, Shelf};

/// A key and the text put under it, or `None`.
type Write = (String, Option<String>);

/// A shelf in memory that can be full or refuse.
#[derive(Default)]
struct Trying {
    inner: Memory,
    /// Most bytes of keys and texts; nothing is refused when absent.
    room: Cell<Option<usize>>,
    /// Whether every call is refused.
    denied: Cell<bool>,
    /// Bytes put so far.
    written: Cell<usize>,
    /// A key that the shelf forgets, as if the code never put anything under it.
    forgets: Cell<Option<&'static str>>,
    /// How often a text was asked for, and how often all keys.
    texts_asked: Cell<usize>,
    keys_asked: Cell<usize>,
    /// Every change so far, in order; `None` for what was taken away.
    writes: RefCell<Vec<Write>>,
}

impl Trying {
    fn store(&self) -> Store<'_> {
        Store::on(self)
    }

    fn asked(&self) -> Result<&Memory, StoreError> {
        if self.denied.get() {
            Err(StoreError::Denied)
        } else {
            Ok(&self.inner)
        }
    }

    fn used_beside(&self, key: &str) -> Result<usize, StoreError> {
        let others = self.inner.keys()?.into_iter().filter(|k| k != key);
        others
            .map(|k| Ok(k.len() + self.inner.get(&k)?.map_or(0, |t| t.len())))
            .sum()
    }
}

impl Shelf for Trying {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        self.texts_asked.set(self.texts_asked.get() + 1);
        self.asked()?.get(key)
    }

    fn put(&self, key: &str, text: &str) -> Result<(), StoreError> {
        let inner = self.asked()?;
        if let Some(room) = self.room.get()
            && self.used_beside(key)? + key.len() + text.len() > room
        {
            return Err(StoreError::Full);
        }
        if self.forgets.get() == Some(key) {
            return Ok(());
        }
        self.written.set(self.written.get() + text.len());
        let write = (key.to_owned(), Some(text.to_owned()));
        self.writes.borrow_mut().push(write);
        inner.put(key, text)
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        self.writes.borrow_mut().push((key.to_owned(), None));
        self.asked()?.remove(key)
    }

    fn keys(&self) -> Result<Vec<String>, StoreError> {
        self.keys_asked.set(self.keys_asked.get() + 1);
        self.asked()?.keys()
    }
}

fn doc() -> &'static str {
    static DOC: OnceLock<String> = OnceLock::new();
    DOC.get_or_init(|| plan_document(&write_recipe(&Recipe::default())).expect("a sock"))
}

fn trace() -> Trace {
    Trace::of(&read_plan(doc()).expect("a plan")).expect("a sock that can be knitted")
}

fn id(text: &str) -> PairId {
    PairId::read(text).expect("an id")
}

thread_local! {
    static READ_BEFORE: RefCell<HashMap<String, Arc<KnittedPlan>>> = RefCell::default();
}

/// So many plans are remembered: tests of damage read very many.
const PLANS_REMEMBERED: usize = 16;

/// What this very text was read as before on this thread, or is read as now.
pub(super) fn read_before(
    text: &str,
    read: fn(&str) -> Result<KnittedPlan, StoreError>,
) -> Result<Arc<KnittedPlan>, StoreError> {
    let known = READ_BEFORE.with_borrow(|plans| plans.get(text).cloned());
    if let Some(plan) = known {
        return Ok(plan);
    }
    let plan = Arc::new(read(text)?);
    READ_BEFORE.with_borrow_mut(|plans| {
        if plans.len() >= PLANS_REMEMBERED {
            plans.clear();
        }
        plans.insert(text.to_owned(), Arc::clone(&plan));
    });
    Ok(plan)
}

/// `n` events, a begin and then one touch a minute.
fn touches(n: usize) -> Vec<Event> {
    (0..n as u64)
        .map(|i| {
            if i == 0 {
                Event::Begin(1_000)
            } else {
                Event::Done(1_000 + 60 * i)
            }
        })
        .collect()
}

fn with_pair(touched: usize) -> (Trying, PairId) {
    let (shelf, id) = (Trying::default(), id("a1"));
    shelf
        .store()
        .create_as(&id, "  Blue   ones ", doc(), 5)
        .expect("room");
    shelf
        .store()
        .replace_log(&id, 1, &touches(touched))
        .expect("room");
    (shelf, id)
}

/// What happened to the first sock, without what only binds its log together.
fn events(shelf: &Trying, id: &PairId) -> Vec<Event> {
    let pair = shelf.store().open(id).expect("a pair");
    let events = pair.journals[0].events().iter();
    events.filter(|event| !event.is_bond()).cloned().collect()
}

#[test]
fn a_new_pair_is_in_the_basket_and_opens_with_its_own_plan() {
    let (shelf, id) = with_pair(0);
    let heads = shelf.store().pairs().expect("a shelf");
    assert_eq!(heads.len(), 1);
    assert_eq!(heads[0].name, "Blue ones");
    assert_eq!((heads[0].progress.sock, heads[0].progress.done), (1, 0));
    assert_eq!(heads[0].progress.total as usize, trace().steps.len());
    let pair = shelf.store().open(&id).expect("a pair");
    assert_eq!(
        evenloop_engine::wire::write_plan(&pair.patterns[0].plan),
        doc()
    );
    assert_eq!(pair.trouble, None);
    assert_eq!(shelf.store().current(), None);
    shelf.store().set_current(&id).expect("room");
    assert_eq!(shelf.store().current(), Some(id));
}

#[test]
fn every_touch_of_a_long_log_writes_little_and_all_of_it_reads_back() {
    let (shelf, id) = with_pair(0);
    let all = touches(3 * CHUNK_EVENTS + 5);
    for n in 1..=all.len() {
        shelf.written.set(0);
        shelf
            .store()
            .append_events(&id, &[(1, &all[..n])])
            .expect("room");
        assert!(
            shelf.written.get() < 400,
            "touch {n} wrote {} bytes",
            shelf.written.get()
        );
    }
    assert_eq!(events(&shelf, &id), all);
    // Nothing but the end is ever touched again.
    for index in 0..3_u32 {
        let stored = shelf.get(&keys::chunk(&id, 1, index)).expect("a shelf");
        let part = &all[index as usize * CHUNK_EVENTS..][..CHUNK_EVENTS];
        assert_eq!(stored, Some(write_chunk(index, part)));
    }
}

#[test]
fn the_head_says_how_far_it_is_even_when_it_was_lost() {
    let (shelf, id) = with_pair(40);
    let progress = shelf.store().open(&id).expect("a pair").head.progress;
    assert!(
        progress.done > 0 && progress.total > progress.done,
        "{progress:?}"
    );
    shelf.remove(&keys::head(&id)).expect("a shelf");
    let heads = shelf.store().pairs().expect("a shelf");
    assert_eq!(heads[0].progress, progress);
    assert_eq!((heads[0].created, heads[0].readable), (1_000, true));
    shelf.put(&keys::head(&id), "{]").expect("room");
    let pair = shelf.store().open(&id).expect("a pair");
    assert_eq!(
        pair.trouble,
        Some(StoreError::Damaged {
            what: StoredPart::Head,
            kept: 0
        })
    );
    assert_eq!(shelf.store().quarantined().expect("a shelf")[0].text, "{]");
}

#[test]
fn both_socks_make_a_finished_pair() {
    let (shelf, id) = with_pair(0);
    let trace = trace();
    let goes = [Event::Begin(1), Event::GoTo(2, trace.end())];
    shelf
        .store()
        .append_events(&id, &[(1, &goes)])
        .expect("room");
    let progress = shelf.store().open(&id).expect("a pair").head.progress;
    assert_eq!(
        (progress.sock, progress.finished, progress.done),
        (1, false, progress.total)
    );
    shelf
        .store()
        .append_events(&id, &[(2, &goes[..1])])
        .expect("room");
    let progress = shelf.store().open(&id).expect("a pair").head.progress;
    assert_eq!(
        (progress.sock, progress.finished, progress.done),
        (2, false, 0)
    );
    shelf
        .store()
        .append_events(&id, &[(2, &goes)])
        .expect("room");
    let progress = shelf.store().open(&id).expect("a pair").head.progress;
    assert!(progress.finished);
}

#[test]
fn a_damaged_chunk_and_what_follows_is_set_aside_and_what_comes_before_is_kept() {
    let total = 3 * CHUNK_EVENTS + 5;
    for broken in 0..4_u32 {
        let (shelf, id) = with_pair(total);
        let key = keys::chunk(&id, 1, broken);
        let text = shelf.get(&key).expect("a shelf").expect("a chunk");
        let worse = text.replacen(",d", ",u", 1);
        shelf.put(&key, &worse).expect("room");
        let pair = shelf.store().open(&id).expect("a pair");
        let kept = broken as usize * CHUNK_EVENTS;
        let what = StoredPart::Log(1);
        assert_eq!(pair.trouble, Some(StoreError::Damaged { what, kept }));
        assert_eq!(pair.journals[0].events(), &touches(total)[..kept]);
        let aside = shelf.store().quarantined().expect("a shelf");
        assert_eq!(aside.len(), 4 - broken as usize);
        assert_eq!(aside[0], super::Quarantined { key, text: worse });
        // From there it goes on, and is whole again.
        let mut more = touches(kept);
        more.push(Event::Done(9_999_999));
        shelf
            .store()
            .append_events(&id, &[(1, &more)])
            .expect("room");
        let pair = shelf.store().open(&id).expect("a pair");
        assert_eq!((pair.trouble, pair.journals[0].events()), (None, &more[..]));
    }
}

#[test]
fn a_missing_chunk_ends_the_log_there() {
    let (shelf, id) = with_pair(3 * CHUNK_EVENTS);
    shelf.remove(&keys::chunk(&id, 1, 1)).expect("a shelf");
    let pair = shelf.store().open(&id).expect("a pair");
    assert_eq!(pair.journals[0].events(), &touches(CHUNK_EVENTS)[..]);
    assert!(matches!(
        pair.trouble,
        Some(StoreError::Damaged {
            kept: CHUNK_EVENTS,
            ..
        })
    ));
    assert_eq!(shelf.store().quarantined().expect("a shelf").len(), 1);
}

#[test]
fn many_chunks_missing_in_the_middle_end_the_log_there_too() {
    let (shelf, id) = with_pair(18 * CHUNK_EVENTS);
    for index in 1..17 {
        shelf.remove(&keys::chunk(&id, 1, index)).expect("a shelf");
    }
    let pair = shelf.store().open(&id).expect("a pair");
    assert_eq!(pair.journals[0].events(), &touches(CHUNK_EVENTS)[..]);
    assert!(pair.trouble.is_some());
    assert_eq!(shelf.store().quarantined().expect("a shelf").len(), 1);
}

#[test]
fn what_a_newer_evenloop_wrote_is_told_from_damage_and_not_touched() {
    let what = StoredPart::Log(1);
    let (shelf, id) = with_pair(CHUNK_EVENTS + 10);
    let unknown = [Event::Unknown(2_000, "x:7".into())];
    let newer = write_chunk(1, &unknown).replacen('2', "3", 1);
    shelf.put(&keys::chunk(&id, 1, 1), &newer).expect("room");
    let before = everything(&shelf);
    let kept = CHUNK_EVENTS;
    let error = StoreError::Newer { what, kept };
    assert_eq!(shelf.store().open(&id), Err(error.clone()));
    // A window that has still the older Evenloop writes nothing over it.
    assert_eq!(
        shelf
            .store()
            .append_events(&id, &[(1, &touches(CHUNK_EVENTS + 11))]),
        Err(error)
    );
    // A backup that is further goes beside it.
    let (further, _) = with_pair(CHUNK_EVENTS * 3);
    let report = shelf
        .store()
        .restore(&file(&further), &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(report.added, ["Blue ones"]);
    let after = everything(&shelf);
    assert!(before.iter().all(|entry| after.contains(entry)));

    // A head likewise.
    let (shelf, id) = with_pair(10);
    let text = shelf.get(&keys::head(&id)).expect("a shelf");
    let newer = text
        .expect("a head")
        .replacen("\"version\":1", "\"version\":9", 1);
    shelf.put(&keys::head(&id), &newer).expect("room");
    let what = StoredPart::Head;
    let error = StoreError::Newer { what, kept: 0 };
    assert_eq!(shelf.store().open(&id), Err(error.clone()));
    assert_eq!(shelf.store().rename(&id, "x", 70), Err(error));
    let kept = shelf.get(&keys::head(&id)).expect("a shelf");
    assert_eq!(kept, Some(newer));
    assert!(!shelf.store().pairs().expect("a shelf")[0].readable);
}

#[test]
fn a_form_that_nothing_in_a_chunk_needs_is_damage() {
    let (shelf, id) = with_pair(10);
    let key = keys::chunk(&id, 1, 0);
    let text = shelf.get(&key).expect("a shelf").expect("a chunk");
    shelf.put(&key, &text.replacen('1', "7", 1)).expect("room");
    let pair = shelf.store().open(&id).expect("a pair");
    let (what, kept) = (StoredPart::Log(1), 0);
    assert_eq!(pair.trouble, Some(StoreError::Damaged { what, kept }));
}

#[test]
fn a_restore_sets_aside_what_it_would_write_over() {
    let (shelf, id) = with_pair(CHUNK_EVENTS * 3);
    let key = keys::chunk(&id, 1, 1);
    shelf.put(&key, "1 1 00000000 d1").expect("room");
    let last = shelf
        .get(&keys::chunk(&id, 1, 2))
        .expect("a shelf")
        .expect("a chunk");
    let (further, _) = with_pair(CHUNK_EVENTS * 4);
    let report = shelf
        .store()
        .restore(&file(&further), &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(report.continued, ["Blue ones"]);
    assert_eq!(events(&shelf, &id), touches(CHUNK_EVENTS * 4));
    let aside: Vec<_> = shelf.store().quarantined().expect("a shelf");
    let texts: Vec<_> = aside.iter().map(|one| one.text.as_str()).collect();
    assert_eq!(texts, ["1 1 00000000 d1", &last]);
}

#[test]
fn a_plan_that_cannot_be_read_stays_where_it_is() {
    let newer = doc().replacen("\"version\":3", "\"version\":9", 1);
    let cut = &doc()[..doc().len() / 2];
    let what = StoredPart::Plan;
    for (text, error) in [
        (newer.as_str(), StoreError::Newer { what, kept: 0 }),
        (cut, StoreError::Damaged { what, kept: 0 }),
    ] {
        let (shelf, id) = with_pair(10);
        shelf.put(&keys::plan(&id), text).expect("room");
        assert_eq!(shelf.store().open(&id), Err(error));
        assert_eq!(
            shelf.get(&keys::plan(&id)).expect("a shelf").as_deref(),
            Some(text)
        );
        // The basket still shows it, and taking it out keeps every byte.
        assert_eq!(shelf.store().pairs().expect("a shelf").len(), 1);
        shelf.store().take_out(&id).expect("a shelf");
        assert_eq!(shelf.store().pairs().expect("a shelf").len(), 0);
        assert_eq!(shelf.store().quarantined().expect("a shelf").len(), 3);
    }
}

#[test]
fn another_window_that_went_on_is_noticed_and_nothing_is_written() {
    let (shelf, id) = with_pair(10);
    let theirs = touches(12);
    shelf
        .store()
        .append_events(&id, &[(1, &theirs)])
        .expect("room");
    let mut ours = touches(10);
    ours.push(Event::Undo(77));
    assert_eq!(
        shelf.store().append_events(&id, &[(1, &ours)]),
        Err(StoreError::Behind)
    );
    assert_eq!(events(&shelf, &id), theirs);
    // Also when they are a whole chunk further.
    shelf
        .store()
        .replace_log(&id, 1, &touches(CHUNK_EVENTS + 1))
        .expect("room");
    assert_eq!(
        shelf.store().append_events(&id, &[(1, &ours)]),
        Err(StoreError::Behind)
    );
    assert_eq!(
        shelf
            .store()
            .append_events(&id, &[(1, &touches(CHUNK_EVENTS))]),
        Err(StoreError::Behind)
    );
    assert_eq!(events(&shelf, &id), touches(CHUNK_EVENTS + 1));
    // And a pair that was taken out there does not go on.
    shelf.store().take_out(&id).expect("a shelf");
    assert_eq!(
        shelf.store().append_events(&id, &[(1, &theirs)]),
        Err(StoreError::NotThere)
    );
    shelf.store().let_go().expect("a shelf");
    shelf.remove(keys::RESERVE).expect("a shelf");
    assert_eq!(shelf.keys(), Ok(Vec::new()));
}

#[test]
fn a_full_shelf_loses_nothing_and_catches_up_when_there_is_room() {
    let (shelf, id) = with_pair(CHUNK_EVENTS - 1);
    let all = touches(2 * CHUNK_EVENTS + 3);
    shelf.room.set(Some(1));
    for n in CHUNK_EVENTS..all.len() {
        assert_eq!(
            shelf.store().append_events(&id, &[(1, &all[..n])]),
            Err(StoreError::Full)
        );
    }
    assert_eq!(events(&shelf, &id), touches(CHUNK_EVENTS - 1));
    shelf.room.set(None);
    shelf
        .store()
        .append_events(&id, &[(1, &all)])
        .expect("room");
    assert_eq!(events(&shelf, &id), all);
}

#[test]
fn a_pair_that_finds_no_room_leaves_nothing_behind() {
    let shelf = Trying::default();
    shelf.room.set(Some(doc().len() + 60));
    assert_eq!(
        shelf.store().create_as(&id("a1"), "x", doc(), 5),
        Err(StoreError::Full)
    );
    assert_eq!(shelf.keys(), Ok(Vec::new()));
    shelf.room.set(None);
    let broken = StoreError::Damaged {
        what: StoredPart::Plan,
        kept: 0,
    };
    assert_eq!(
        shelf.store().create_as(&id("a1"), "x", "{}", 5),
        Err(broken)
    );
    assert_eq!(shelf.keys(), Ok(Vec::new()));
}

#[test]
fn setting_aside_needs_no_room_for_a_second_copy() {
    let shelf = Trying::default();
    shelf.put("evenloop:k", &"x".repeat(500)).expect("room");
    shelf.room.set(Some(600));
    shelf.store().quarantine("evenloop:k").expect("room");
    assert_eq!(
        shelf.store().quarantined().expect("a shelf")[0].text.len(),
        500
    );
    // Not even room for the longer key: it stays where it was.
    let shelf = Trying::default();
    shelf.put("evenloop:k", &"x".repeat(500)).expect("room");
    shelf.room.set(Some(510));
    assert_eq!(
        shelf.store().quarantine("evenloop:k"),
        Err(StoreError::Full)
    );
    assert_eq!(
        shelf.get("evenloop:k").expect("a shelf").map(|t| t.len()),
        Some(500)
    );
}

#[test]
fn where_storage_is_denied_everything_says_so() {
    let shelf = Trying::default();
    shelf.denied.set(true);
    let denied = StoreError::Denied;
    assert_eq!(shelf.store().pairs(), Err(denied.clone()));
    assert_eq!(
        shelf.store().create_as(&id("a1"), "x", doc(), 5),
        Err(denied.clone())
    );
    assert_eq!(shelf.store().open(&id("a1")), Err(denied.clone()));
    assert_eq!(
        shelf.store().append_events(&id("a1"), &[(1, &touches(1))]),
        Err(denied)
    );
    assert_eq!(shelf.store().current(), None);
    assert_eq!(shelf.store().settings(), super::Settings::default());
}

#[test]
fn settings_read_back_and_broken_ones_are_set_aside() {
    use evenloop_engine::text::{KnittingHand, WordForm};

    let shelf = Trying::default();
    let wanted = super::Settings {
        big_text: true,
        theme: super::Theme::Dark,
        hand: super::Handedness::Left,
        ..super::Settings::default()
    };
    shelf.store().save_settings(&wanted).expect("room");
    assert_eq!(shelf.store().settings(), wanted);
    shelf
        .put(keys::SETTINGS, r#"{"theme":"dark"}"#)
        .expect("room");
    assert_eq!(shelf.store().settings().theme, super::Theme::Dark);
    // before there was the choice, everybody knitted right-handed
    for (said, hand) in [
        ("", KnittingHand::Right),
        (r#","hand":"left""#, KnittingHand::Left),
    ] {
        let text = format!(r#"{{"style":{{"form":"short","reach":"counted"{said}}}}}"#);
        shelf.put(keys::SETTINGS, &text).expect("room");
        let style = shelf.store().settings().style;
        assert_eq!((style.form, style.hand), (WordForm::Short, hand));
    }
    shelf.put(keys::SETTINGS, "rubbish").expect("room");
    assert_eq!(shelf.store().settings(), super::Settings::default());
    assert_eq!(
        shelf.store().quarantined().expect("a shelf")[0].text,
        "rubbish"
    );
}

#[test]
fn a_second_name_and_a_place_are_kept_in_the_head() {
    let (shelf, id) = with_pair(3);
    shelf.store().rename(&id, "  ", 70).expect("room");
    assert_eq!(
        shelf.store().pairs().expect("a shelf")[0].name,
        "Unnamed pair"
    );
    shelf
        .store()
        .rename(&id, &"x".repeat(500), 70)
        .expect("room");
    let heads = shelf.store().pairs().expect("a shelf");
    assert_eq!(heads[0].name.chars().count(), super::NAME_LIMIT);
    let progress = PairProgress {
        sock: 2,
        done: 7,
        total: 9,
        section: "gusset".into(),
        finished: false,
        both: Some([9, 7]),
    };
    shelf.store().note_progress(&id, &progress).expect("room");
    assert_eq!(
        shelf.store().pairs().expect("a shelf")[0].progress,
        progress
    );
    assert_eq!(
        shelf.store().rename(&self::id("b2"), "x", 70),
        Err(StoreError::NotThere)
    );
}

fn file(shelf: &Trying) -> String {
    shelf.store().backup(99).expect("a shelf")
}

fn names(shelf: &Trying) -> Vec<(String, usize)> {
    let mut all: Vec<_> = shelf
        .store()
        .pairs()
        .expect("a shelf")
        .into_iter()
        .map(|head| (head.name, events(shelf, &head.id).len()))
        .collect();
    all.sort();
    all
}

#[test]
fn a_backup_brings_everything_to_an_empty_device() {
    let (shelf, id) = with_pair(150);
    shelf.store().set_current(&id).expect("room");
    shelf
        .store()
        .save_settings(&super::Settings {
            buzz: false,
            ..Default::default()
        })
        .expect("room");
    shelf
        .put("evenloop:aside:1:evenloop:pair:x:plan", "raw")
        .expect("room");
    let other = Trying::default();
    let report = other
        .store()
        .restore(&file(&shelf), &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(report.added, ["Blue ones"]);
    assert!(report.settings && report.stopped.is_none() && report.unreadable.is_empty());
    for key in shelf.keys().expect("a shelf") {
        if key != keys::head(&id) && key != keys::chunk(&id, 1, 2) {
            assert_eq!(shelf.get(&key), other.get(&key), "{key}");
        }
    }
    // The log says that it came from a backup, and what it is knitted by.
    let [here, there] = [&shelf, &other].map(|one| one.store().open(&id).expect("a pair"));
    assert_eq!(here.standing(), there.standing());
    let added = &there.journals[0].events()[150..];
    assert!(
        matches!(added, [Event::Planned(60, ..), Event::Restored(60, ..)]),
        "{added:?}"
    );
    // A second time nothing changes.
    let before = file(&other);
    let report = other
        .store()
        .restore(&before, &Choices::new(), 60)
        .expect("a backup");
    assert_eq!((report.kept.len(), report.added.len()), (1, 0));
    assert_eq!(file(&other), before);
}

#[test]
fn of_one_log_gone_on_with_the_longer_stays() {
    let (short, id) = with_pair(100);
    let (long, _) = with_pair(200);
    let report = short
        .store()
        .restore(&file(&long), &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(report.continued, ["Blue ones"]);
    assert_eq!(events(&short, &id), touches(200));
    let (short, _) = with_pair(100);
    let report = long
        .store()
        .restore(&file(&short), &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(report.kept, ["Blue ones"]);
    assert_eq!(events(&long, &id), touches(200));
    assert_eq!(long.store().pairs().expect("a shelf").len(), 1);
}

#[test]
fn of_two_logs_that_parted_both_stay() {
    let parted = |n: usize| {
        let (shelf, id) = with_pair(0);
        let mut log = touches(90);
        log.extend((0..n as u64).map(|i| Event::Undo(1_000_000 + i)));
        shelf.store().replace_log(&id, 1, &log).expect("room");
        (shelf, id)
    };
    for (file_has, beside) in [
        (100, "Blue ones, as it was on this device"),
        (20, "Blue ones, from the backup"),
    ] {
        let (shelf, id) = with_pair(150);
        let (other, _) = parted(file_has);
        let text = file(&other);
        let report = shelf
            .store()
            .restore(&text, &Choices::new(), 60)
            .expect("a backup");
        assert_eq!(report.beside, [beside]);
        let longer = 150.max(90 + file_has);
        assert_eq!(events(&shelf, &id).len(), longer);
        let shorter = 150.min(90 + file_has);
        assert_eq!(
            names(&shelf),
            [
                ("Blue ones".to_owned(), longer),
                (beside.to_owned(), shorter)
            ]
        );
        // The same file again adds nothing.
        let report = shelf
            .store()
            .restore(&text, &Choices::new(), 60)
            .expect("a backup");
        assert_eq!((report.beside.len(), names(&shelf).len()), (0, 2));
    }
}

#[test]
fn what_cannot_be_read_in_a_backup_is_kept_aside_and_named() {
    let (shelf, id) = with_pair(150);
    shelf
        .put(&keys::chunk(&id, 1, 1), "1 1 00000000 d1")
        .expect("room");
    let (broken, b2) = (Trying::default(), self::id("b2"));
    broken
        .store()
        .create_as(&b2, "Red ones", doc(), 5)
        .expect("room");
    broken.put(&keys::plan(&b2), "{}").expect("room");
    for key in broken.keys().expect("a shelf") {
        shelf
            .put(&key, &broken.get(&key).expect("a shelf").expect("a text"))
            .expect("room");
    }
    let other = Trying::default();
    let report = other
        .store()
        .restore(&file(&shelf), &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(report.added, ["Blue ones"]);
    assert_eq!(report.unreadable, ["Blue ones", "Red ones"]);
    assert_eq!(events(&other, &id), touches(CHUNK_EVENTS));
    // Two chunks of the one, head and plan of the other.
    assert_eq!(other.store().quarantined().expect("a shelf").len(), 4);
}

#[test]
fn a_file_that_is_no_backup_changes_nothing() {
    let (shelf, _) = with_pair(10);
    let before = file(&shelf);
    for text in [
        "",
        "[]",
        "{}",
        "not JSON",
        doc(),
        r#"{"evenloop":"backup","version":1}"#,
    ] {
        let refused = shelf.store().restore(text, &Choices::new(), 60);
        assert_eq!(refused, Err(BackupRefused::NotOurs), "{text:.40}");
    }
    let newer = before.replacen("\"version\":1", "\"version\":9", 1);
    assert_eq!(
        shelf.store().restore(&newer, &Choices::new(), 60),
        Err(BackupRefused::Newer)
    );
    let large = " ".repeat(super::FILE_LIMIT + 1);
    assert_eq!(
        shelf.store().restore(&large, &Choices::new(), 60),
        Err(BackupRefused::TooLarge)
    );
    assert_eq!(file(&shelf), before);
}

#[test]
fn a_restore_that_runs_out_of_room_says_so_and_leaves_whole_pairs() {
    let (from, id) = with_pair(500);
    let text = file(&from);
    let full_size = from.keys().expect("a shelf").len();
    assert!(full_size > 5);
    for room in (0..doc().len() + 3_000).step_by(97) {
        let (shelf, _) = with_pair(100);
        let here: usize = names(&shelf)[0].1;
        shelf.room.set(Some(room));
        let report = shelf
            .store()
            .restore(&text, &Choices::new(), 60)
            .expect("a backup");
        shelf.room.set(None);
        let now = events(&shelf, &id);
        assert!(
            now.len() >= here && touches(500).starts_with(&now),
            "room {room}"
        );
        assert_eq!(report.stopped.is_none(), now.len() == 500, "room {room}");
    }
}

/// The same sock with a longer leg: what comes before the leg's end is the same.
fn longer() -> String {
    let recipe = Recipe {
        leg: evenloop_engine::units::Length(Recipe::default().leg.0 + 300),
        ..Recipe::default()
    };
    plan_document(&write_recipe(&recipe)).expect("a sock")
}

fn plans(shelf: &Trying, id: &PairId) -> [String; 2] {
    let pair = shelf.store().open(id).expect("a pair");
    let [first, second] = &pair.patterns;
    [first, second].map(|pattern| evenloop_engine::wire::write_plan(&pattern.plan))
}

#[test]
fn both_socks_have_the_same_plan_until_one_has_its_own() {
    let (shelf, id) = with_pair(4);
    assert_eq!(plans(&shelf, &id), [doc(), doc()]);
    // The first sock was planned anew: the second follows it.
    own_plan_unsaid(&shelf, &id, 1, &longer());
    assert_eq!(plans(&shelf, &id), [longer(), longer()]);
    assert_eq!(events(&shelf, &id), touches(4), "what is knitted stays");
    own_plan_unsaid(&shelf, &id, 2, doc());
    assert_eq!(plans(&shelf, &id), [longer(), doc().to_owned()]);
    // The pair's own plan is what was cast on, and place and total follow the sock's.
    let stored = shelf.get(&keys::plan(&id)).expect("a shelf");
    assert_eq!(stored.as_deref(), Some(doc()));
    let progress = shelf.store().open(&id).expect("a pair").progress();
    assert!(progress.total as usize > trace().steps.len());
    assert_eq!(
        planned_anew(&shelf, &id, NewPlans::Both("{}".to_owned(), None)),
        Err(StoreError::Damaged {
            what: StoredPart::Plan,
            kept: 0
        })
    );
    assert_eq!(
        planned_anew(&shelf, &self::id("b2"), NewPlans::Second(longer())),
        Err(StoreError::NotThere)
    );
    shelf.store().take_out(&id).expect("a shelf");
    shelf.store().let_go().expect("a shelf");
    assert_eq!(shelf.keys().expect("a shelf"), [keys::RESERVE]);
}

/// A left and right pair: what the first is planned anew by, the second is knitted by in the mirror.
#[test]
fn the_second_of_a_left_and_right_pair_follows_the_first() {
    use evenloop_engine::plan::{Plan, SectionKind, make, replan, replan_second};
    use evenloop_engine::recipe::{LeftRight, Motif, MotifPlacement, Toe};
    use evenloop_engine::units::Length;
    use evenloop_engine::wire::write_plan;

    let left = Recipe {
        toe: Toe::Shaped {
            foot: LeftRight::Left,
        },
        ..Recipe::default()
    };
    let right = left.second_sock().expect("a mirror image");
    let [one, two] = [&left, &right].map(|recipe| make(recipe).expect("a sock"));
    let shelf = Trying::default();
    let id = id("shaped");
    shelf
        .store()
        .create_as(&id, "Left and right", &write_plan(&one), 0)
        .expect("room");
    own_plan_unsaid(&shelf, &id, 2, &write_plan(&two));

    let wish = Recipe {
        leg: Length(left.leg.0 + 300),
        ..left.clone()
    };
    let done = 30;
    let first = replan(&one, done, &wish).expect("a longer leg");
    let second = replan_second(&first, &two, done).expect("it follows");
    let both = NewPlans::Both(write_plan(&first), Some(write_plan(&second)));
    planned_anew(&shelf, &id, both).expect("room");
    let pair = shelf.store().open(&id).expect("a pair");
    let [a, b] = &pair.patterns;
    assert_eq!(b.plan.recipe.toe, right.toe);
    let rounds = |plan: &Plan, kind| {
        let section = plan.sections.iter().find(|s| s.kind == kind);
        section.expect("a section").counted()
    };
    for kind in [SectionKind::Leg, SectionKind::Foot, SectionKind::Toe] {
        assert_eq!(rounds(&a.plan, kind), rounds(&b.plan, kind), "{kind:?}");
    }
    assert!(rounds(&a.plan, SectionKind::Leg) > rounds(&one, SectionKind::Leg));
    let toe = |plan: &Plan| {
        plan.sections
            .iter()
            .find(|s| s.kind == SectionKind::Toe)
            .cloned()
    };
    assert_eq!(toe(&b.plan), toe(&two), "its toe is the other foot's");
    assert_ne!(toe(&a.plan), toe(&b.plan));

    // no room for both: both stay as they were
    let used = shelf.used_beside("").expect("a size");
    shelf.room.set(Some(used));
    let before = plans(&shelf, &id);
    let rows = ["k1 p3", "p2 k2", "k3 p1", "p1 k3", "k2 p2", "p3 k1"];
    let patterned = Recipe {
        motif: Some(Motif {
            rows: rows.map(|row| row.parse().expect("a round")).into(),
            place: MotifPlacement::AllRound,
            ..Motif::default()
        }),
        ..left.clone()
    };
    let long = make(&patterned).expect("a plan of more words");
    let both = NewPlans::Both(write_plan(&long), Some(write_plan(&two)));
    let stored = planned_anew(&shelf, &id, both);
    assert_eq!(stored, Err(StoreError::Full));
    assert_eq!(plans(&shelf, &id), before);
    shelf.room.set(None);

    // a toe that is the same for both feet needs no plan of its own any more
    let plain = replan(
        &one,
        done,
        &Recipe {
            toe: Toe::default(),
            ..left
        },
    )
    .expect("a sock");
    let follows = replan_second(&plain, &two, done).expect("a sock");
    assert_eq!(follows, plain);
    planned_anew(&shelf, &id, NewPlans::Both(write_plan(&plain), None)).expect("room");
    let [a, b] = plans(&shelf, &id);
    assert_eq!(a, b);
}

#[test]
fn a_backup_carries_a_socks_own_plan() {
    let (shelf, id) = with_pair(4);
    let before = shelf.store().backup(0).expect("a shelf");
    own_plan_unsaid(&shelf, &id, 1, &longer());
    let after = shelf.store().backup(0).expect("a shelf");

    let empty = Trying::default();
    empty
        .store()
        .restore(&after, &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(plans(&empty, &id), [longer(), longer()]);
    // What was planned anew goes on from what was not, and is not taken back by it.
    let report = shelf
        .store()
        .restore(&before, &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(report.kept, ["Blue ones"]);
    assert_eq!(plans(&shelf, &id), [longer(), longer()]);
    let (other, _) = with_pair(4);
    let report = other
        .store()
        .restore(&after, &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(report.continued, ["Blue ones"]);
    assert_eq!(plans(&other, &id), [longer(), longer()]);
    // Planned anew in two ways: both are kept.
    let (third, _) = with_pair(4);
    own_plan_unsaid(&third, &id, 1, doc());
    let report = third
        .store()
        .restore(&after, &Choices::new(), 60)
        .expect("a backup");
    assert_eq!(report.beside.len(), 1);
    let heads = third.store().pairs().expect("a shelf").into_iter();
    let mut both: Vec<_> = heads.map(|head| plans(&third, &head.id)).collect();
    both.sort();
    let mut either = [[doc().to_owned(), doc().to_owned()], [longer(), longer()]];
    either.sort();
    assert_eq!(both, either);
}

/// Another shelf with the same on it.
fn copy(shelf: &Trying) -> Trying {
    let other = Trying::default();
    for (key, text) in everything(shelf) {
        other.put(&key, &text.unwrap_or_default()).expect("room");
    }
    other
}

/// Another shelf on which what was written to one was written up to an instant.
fn written_to(before: &Trying, writes: &[(String, Option<String>)]) -> Trying {
    let shelf = copy(before);
    for (key, text) in writes {
        match text {
            Some(text) => shelf.put(key, text).expect("room"),
            None => shelf.remove(key).expect("a shelf"),
        }
    }
    shelf
}

/// Everything on a shelf.
fn everything(shelf: &Trying) -> Vec<(String, Option<String>)> {
    let mut keys = shelf.keys().expect("keys");
    keys.sort();
    keys.into_iter()
        .map(|key| (key.clone(), shelf.get(&key).expect("a text")))
        .collect()
}

#[test]
fn a_pair_taken_out_goes_back_as_it_was() {
    let (shelf, id) = with_pair(CHUNK_EVENTS * 2 + 3);
    shelf.store().keep_reserve();
    let before = everything(&shelf);
    assert_eq!(shelf.store().take_out(&id), Ok(true));
    assert!(shelf.store().pairs().expect("pairs").is_empty());
    assert!(shelf.store().taken_out().expect("a shelf").is_some());
    shelf.store().put_back().expect("it goes back");
    assert_eq!(everything(&shelf), before);
    assert_eq!(shelf.store().put_back(), Err(StoreError::NotThere));
}

#[test]
fn taking_out_makes_room_even_on_a_full_shelf() {
    let (shelf, id) = with_pair(CHUNK_EVENTS * 2);
    let used = shelf.used_beside("").expect("a size");
    shelf.room.set(Some(used));
    let kept = shelf.store().take_out(&id).expect("it is taken out");
    assert_eq!(shelf.store().taken_out().expect("a shelf").is_some(), kept);
    assert!(shelf.store().pairs().expect("pairs").is_empty());
}

/// How an older Evenloop kept a pair that was taken out: every text of it in one.
fn taken_out_in_one_text(shelf: &Trying, id: &PairId) {
    let mut entries = std::collections::BTreeMap::new();
    for (key, text) in everything(shelf) {
        if keys::read(&key).is_some_and(|(owner, _)| owner == *id) {
            shelf.remove(&key).expect("a shelf");
            entries.insert(key, text.unwrap_or_default());
        }
    }
    let out = serde_json::json!({ "id": id.to_string(), "name": "Blue ones", "entries": entries });
    shelf.put(keys::TAKEN_OUT, &out.to_string()).expect("room");
}

#[test]
fn what_an_older_evenloop_took_out_is_put_back_and_kept_while_it_does_not_fit() {
    let (shelf, id) = with_pair(CHUNK_EVENTS * 2);
    let before = everything(&shelf);
    taken_out_in_one_text(&shelf, &id);
    assert_eq!(shelf.store().taken_out(), Ok(Some("Blue ones".to_owned())));
    let used = shelf.used_beside("").expect("a size");
    shelf.room.set(Some(used + 100));
    assert_eq!(shelf.store().put_back(), Err(StoreError::Full));
    assert!(shelf.store().pairs().expect("pairs").is_empty());
    shelf.room.set(None);
    shelf.store().put_back().expect("now it fits");
    assert_eq!(everything(&shelf), before);
}

#[test]
fn with_the_room_kept_for_it_a_pair_on_a_full_shelf_can_be_put_back() {
    let (shelf, id) = with_pair(CHUNK_EVENTS * 2);
    shelf.store().keep_reserve();
    let used = shelf.used_beside("").expect("a size");
    shelf.room.set(Some(used));
    let before = shelf.store().open(&id).expect("a pair");
    assert_eq!(shelf.store().take_out(&id), Ok(true));
    shelf.store().put_back().expect("it goes back");
    assert_eq!(shelf.store().open(&id), Ok(before));
    assert_eq!(shelf.store().take_out(&id), Ok(true));
    shelf.store().let_go().expect("it goes for good");
    assert!(shelf.store().pairs().expect("pairs").is_empty());
    assert!(shelf.used_beside("").expect("a size") < used / 2);
}

#[test]
fn what_was_taken_out_and_cannot_be_read_is_set_aside() {
    let (shelf, _) = with_pair(1);
    shelf
        .put(keys::TAKEN_OUT, "{broken")
        .expect("there is room");
    assert_eq!(shelf.store().taken_out(), Ok(None));
    let kept = shelf.store().quarantined().expect("a shelf");
    assert_eq!((kept.len(), kept[0].text.as_str()), (1, "{broken"));
}

/// Both socks by other plans from where they are.
fn planned_anew(shelf: &Trying, id: &PairId, plans: NewPlans) -> Result<(), StoreError> {
    let standing = shelf.store().open(id)?.standing();
    let changed = shelf
        .store()
        .change_rest(id, &standing, Some(plans), None, 70);
    changed.map(|_| ())
}

/// How an older Evenloop gave a sock a plan of its own: without a word in its log.
fn own_plan_unsaid(shelf: &Trying, id: &PairId, sock: u8, plan_doc: &str) {
    shelf
        .put(&keys::own_plan(id, sock), plan_doc)
        .expect("room");
}

#[test]
fn a_reminder_of_a_backup_comes_though_a_finished_pair_left_the_basket() {
    let (shelf, finished) = with_pair(0);
    let store = shelf.store();
    let goes = [Event::Begin(1), Event::GoTo(2, trace().end())];
    store.append_events(&finished, &[(1, &goes)]).expect("room");
    let other = id("b2");
    store.create_as(&other, "Red ones", doc(), 9).expect("room");
    let since = |shelf: &Trying| {
        let pairs = shelf.store().pairs().expect("a shelf");
        for head in &pairs {
            shelf.store().open(&head.id).expect("a pair");
        }
        let pairs = shelf.store().pairs().expect("a shelf");
        shelf.store().since_backup(&pairs).expect("a shelf").0
    };
    assert!(since(&shelf) > 100);
    // as an older Evenloop noted it, and as it is noted now
    for older in [true, false] {
        let shelf = copy(&shelf);
        shelf.store().note_backup().expect("room");
        if older {
            let sum = shelf.store().open(&finished).expect("a pair");
            let sum = sum.progress().done_of_pair().to_string();
            shelf.put(keys::STEPS_AT_BACKUP, &sum).expect("room");
        }
        assert_eq!(since(&shelf), 0);
        shelf.store().take_out(&finished).expect("room");
        assert_eq!(since(&shelf), 0);
        shelf
            .store()
            .append_events(&other, &[(1, &touches(30))])
            .expect("room");
        let knitted = since(&shelf);
        assert!((20..=30).contains(&knitted), "{knitted}");
    }
}

#[test]
fn what_is_set_aside_can_be_let_go() {
    let (shelf, pair) = with_pair(10);
    for n in 1..4 {
        let key = format!("evenloop:aside:{n}:evenloop:pair:x:plan");
        shelf.put(&key, "raw").expect("room");
    }
    let before = shelf.store().open(&pair);
    shelf.store().let_quarantined_go().expect("room");
    assert_eq!(shelf.store().quarantined(), Ok(Vec::new()));
    assert_eq!(shelf.store().open(&pair), before);
}

#[test]
fn a_file_of_twenty_thousand_broken_pairs_is_read_in_no_time() {
    let (shelf, _) = with_pair(10);
    let broken = |many: usize| {
        let keys = (0..many).map(|n| (format!("evenloop:pair:x{n}:plan"), "{"));
        let entries: std::collections::BTreeMap<_, _> = keys.collect();
        serde_json::json!({ "evenloop": "backup", "version": 1, "made": 1, "entries": entries })
            .to_string()
    };
    let begin = std::time::Instant::now();
    let text = broken(20_000);
    let report = shelf
        .store()
        .restore(&text, &Choices::new(), 60)
        .expect("a backup");
    // What it takes grows with the file; before, with its square (over two minutes in a browser).
    assert!(begin.elapsed().as_secs() < 5, "{:?}", begin.elapsed());
    assert_eq!(report.unreadable.len(), 20_000);
    assert_eq!(report.stopped, None);
    // All of it is set aside, in one piece, and once only.
    for _ in 0..2 {
        let aside = shelf.store().quarantined().expect("a shelf");
        assert_eq!(aside.len(), 1);
        assert!(aside[0].text.contains("x19999"));
        shelf
            .store()
            .restore(&text, &Choices::new(), 60)
            .expect("a backup");
    }
}
