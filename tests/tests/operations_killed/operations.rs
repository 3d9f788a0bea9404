//! Everything a knitter does that is stored: what lies on the phone before it, the touches that lead to the last
//! one, that last one, and what has to be in the basket after it.

use std::time::{Duration, Instant};

use evenloop_engine::journal::{CHUNK_EVENTS, Digest, Event, Journal, write_chunk};
use evenloop_engine::plan::{Plan, SectionKind, make};
use evenloop_engine::recipe::{Method, Recipe, Seating};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::Length;
use evenloop_engine::wire::write_plan;
use evenloop_tests::laid::{THEN, fill_in, find};
use evenloop_tests::phone::Phone;
use evenloop_tests::touching::{ask_for_more_rounds, look_into, open_change};
use serde_json::{Map, Value, json};

use super::basket::{Basket, Pair};

/// Longest wait for the second copy: what the app asks of it is answered, or given up and asked once more.
const PATIENCE: Duration = Duration::from_mins(1);

/// The pair in hand, and the one that only lies in the basket.
pub(crate) const HAND: &str = "k1";
pub(crate) const OTHER: &str = "k2";
/// What a backup brings.
const BROUGHT: [&str; 2] = ["k3", "k4"];

/// What is stored in one wish of the knitter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Operation {
    CastOn,
    Begin,
    Touch,
    Undo,
    Jump,
    Note,
    Weigh,
    PlanAnew,
    TakePlanBack,
    SecondSock,
    TwoAtATime,
    TouchBoth,
    TakeOut,
    PutBack,
    LetGo,
    Rename,
    Restore,
}

pub(crate) const OPERATIONS: [Operation; 17] = [
    Operation::CastOn,
    Operation::Begin,
    Operation::Touch,
    Operation::Undo,
    Operation::Jump,
    Operation::Note,
    Operation::Weigh,
    Operation::PlanAnew,
    Operation::TakePlanBack,
    Operation::SecondSock,
    Operation::TwoAtATime,
    Operation::TouchBoth,
    Operation::TakeOut,
    Operation::PutBack,
    Operation::LetGo,
    Operation::Rename,
    Operation::Restore,
];

/// A pair as it is stored: what was done to its first sock, with all that the app itself notes between.
fn pair(entries: &mut Map<String, Value>, id: &str, name: &str, plan: &Plan, logs: [&[Event]; 2]) {
    let document = write_plan(plan);
    let trace = Trace::of(plan).expect("it can be knitted");
    let digest = Digest::of(&document);
    let head = json!({ "version": 1, "name": name, "created": THEN, "place": {
        "sock": 1, "done": 0, "total": trace.steps.len(), "section": "cuff", "finished": false,
    }});
    let key = |held: &str| format!("evenloop:pair:{id}:{held}");
    entries.insert(key("head"), head.to_string().into());
    entries.insert(key("plan"), document.into());
    for (sock, events) in (1..).zip(logs) {
        let mut journal = Journal::new();
        for event in events {
            journal.record(event.clone(), &trace, digest);
        }
        for (index, part) in (0..).zip(journal.events().chunks(CHUNK_EVENTS)) {
            entries.insert(
                key(&format!("log:{sock}:{index}")),
                write_chunk(index, part).into(),
            );
        }
    }
}

/// A sock with a leg that outlasts every log here, seated so that two of it hang on the needles or not.
fn sock(needles: Method) -> Plan {
    make(&Recipe {
        stitches: Some(64),
        leg: Length::cm(45),
        needles,
        ..Recipe::default()
    })
    .expect("a sock")
}

/// A sock gone to a place and knitted on from there, so many rounds.
fn knitted(from: Position, rounds: u64) -> Vec<Event> {
    let begun = [Event::Begin(THEN), Event::GoTo(THEN + 60, from)];
    let rounds = (0..rounds).map(|round| Event::Done(THEN + 100 + 90 * round));
    begun.into_iter().chain(rounds).collect()
}

impl Operation {
    /// The texts that lie on the phone before it. The log at hand has so many rounds: the next touch may begin a
    /// new chunk of it.
    pub(crate) fn texts(self, rounds: u64) -> Map<String, Value> {
        let plan = sock(match self {
            Self::TouchBoth => Method::MagicLoop {
                seating: Seating::InstepAndSole,
            },
            _ => Recipe::default().needles,
        });
        let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[2];
        let end = Trace::of(&plan).expect("it can be knitted").end();
        let mut log = knitted(leg, rounds);
        let mut second = Vec::new();
        match self {
            Self::Begin | Self::TwoAtATime => log.clear(),
            Self::SecondSock => log.push(Event::GoTo(THEN + 50_000, end)),
            Self::TouchBoth => {
                log.insert(1, Event::Together(THEN + 1, true));
                second = knitted(leg, rounds);
            }
            _ => {}
        }
        let mut entries = Map::new();
        pair(&mut entries, HAND, "In hand", &plan, [&log, &second]);
        pair(
            &mut entries,
            OTHER,
            "Beside it",
            &plan,
            [&knitted(leg, 3), &[]],
        );
        let mut put = |key: &str, text: String| entries.insert(key.to_owned(), text.into());
        put("evenloop:current", HAND.to_owned());
        // the note about storage has been read, the walk through the screens declined
        put("evenloop:told", "1".to_owned());
        put("evenloop:install", "1".to_owned());
        put("evenloop:guide", "over".to_owned());
        if matches!(self, Self::PutBack | Self::LetGo) {
            let out = json!({ "id": OTHER, "name": "Beside it", "entries": {} });
            put("evenloop:out", out.to_string());
        }
        entries
    }

    /// The page it is done on.
    pub(crate) const fn page(self) -> &'static str {
        match self {
            Self::CastOn => "/measure",
            Self::TakeOut | Self::PutBack | Self::LetGo | Self::Rename => "/",
            Self::Restore => "/keep",
            _ => "/now",
        }
    }

    /// All that comes before the last touch.
    ///
    /// # Errors
    /// When the second copy never confirms it.
    pub(crate) async fn prepare(self, phone: &Phone) -> Result<(), String> {
        match self {
            Self::CastOn => {
                fill_in(phone).await;
            }
            Self::Jump => {
                open_page(phone, 6).await;
                phone.tap(".stops .stop:first-child").await;
            }
            Self::Note => {
                open_page(phone, 3).await;
                phone.write("#note", "snug here").await;
            }
            Self::Weigh => {
                open_page(phone, 4).await;
                phone.write("#grams", "48").await;
            }
            Self::PlanAnew => plan_anew(phone).await,
            Self::TakePlanBack => {
                plan_anew(phone).await;
                phone.tap(".at-hand .button.lead").await;
                phone.find(".pad").await;
                until_whole(phone).await?;
            }
            Self::SecondSock => {
                phone.find(".finished .button.lead").await;
            }
            Self::TwoAtATime => {
                phone.find(".pad").await;
                phone.tap(".offer").await;
            }
            Self::TakeOut => unfold_card(phone, "Beside it").await,
            Self::Rename => {
                unfold_card(phone, "In hand").await;
                phone
                    .write(".card form.rename input", "Called so now")
                    .await;
            }
            Self::Restore => {
                let entries = backed_up();
                let file =
                    json!({ "evenloop": "backup", "version": 1, "made": THEN, "entries": entries });
                phone.find(".backup input[type=file]").await;
                look_into(phone, &file.to_string()).await;
            }
            Self::Begin
            | Self::Touch
            | Self::Undo
            | Self::TouchBoth
            | Self::PutBack
            | Self::LetGo => {}
        }
        phone.find(self.last()).await;
        until_whole(phone).await
    }

    /// What the last touch goes to.
    const fn last(self) -> &'static str {
        match self {
            Self::CastOn => ".at-hand button",
            Self::Begin | Self::Touch | Self::TouchBoth => ".pad",
            Self::Undo | Self::TakePlanBack => ".undo",
            Self::Jump => ".ask .button.lead",
            Self::Note | Self::Weigh | Self::TwoAtATime => ".pane .button.lead",
            Self::PlanAnew => ".at-hand .button.lead",
            Self::SecondSock => ".finished .button.lead",
            Self::TakeOut => ".card .button.wrong",
            Self::PutBack => ".taken-out .button:not(.bare)",
            Self::LetGo => ".taken-out .button.bare",
            Self::Rename => ".card form.rename .button",
            Self::Restore => ".bring-in .bring",
        }
    }

    /// The last touch.
    pub(crate) async fn act(self, phone: &Phone) {
        phone.tap(self.last()).await;
    }

    /// Whether this is what it makes of a basket.
    pub(crate) fn makes(self, before: &Basket, after: &Basket) -> bool {
        let mut wanted = before.clone();
        // What nobody can know beforehand is taken as it came: ids, digests of new plans and where a jump goes.
        let there = after.pairs.get(HAND);
        let last = |sock: usize| there.and_then(|pair| pair.events[sock].last()).cloned();
        let came = |begins: &str| last(0).filter(|last| last.starts_with(begins));
        let Some(hand) = wanted.pairs.get_mut(HAND) else {
            return false;
        };
        match self {
            Self::CastOn => {
                let mut new = after
                    .pairs
                    .iter()
                    .filter(|(id, _)| !before.pairs.contains_key(*id));
                let (Some((id, pair)), None) = (new.next(), new.next()) else {
                    return false;
                };
                if !is_cast_on(pair) {
                    return false;
                }
                wanted.pairs.insert(id.clone(), pair.clone());
                wanted.current = Some(id.clone());
            }
            Self::Begin => hand.events[0] = ["begun", "done"].map(str::to_owned).to_vec(),
            Self::Touch => hand.events[0].push("done".to_owned()),
            Self::TouchBoth => {
                for log in &mut hand.events {
                    log.push("done".to_owned());
                }
            }
            Self::Undo => hand.events[0].push("undone".to_owned()),
            Self::Jump | Self::PlanAnew | Self::TakePlanBack => {
                let begins = match self {
                    Self::Jump => "gone to ",
                    Self::PlanAnew => "planned anew ",
                    _ => "plan taken back ",
                };
                let Some(event) = came(begins) else {
                    return false;
                };
                let own = there.map(|pair| pair.own.clone()).unwrap_or_default();
                let goes_with_it = match self {
                    Self::Jump => own == hand.own,
                    Self::PlanAnew => own[0]
                        .as_ref()
                        .is_some_and(|plan| event.ends_with(plan.as_str())),
                    _ => own == [None, None] && event.ends_with(&hand.plan),
                };
                if !goes_with_it {
                    return false;
                }
                hand.own = own;
                hand.events[0].push(event);
            }
            Self::Note => hand.events[0].push("noted snug here".to_owned()),
            Self::Weigh => hand.events[0].push("weighed Some(480)".to_owned()),
            Self::SecondSock => hand.events[1].push("begun".to_owned()),
            Self::TwoAtATime => {
                let Some(pair) =
                    there.filter(|pair| pair.events[0].ends_with(&["together true".to_owned()]))
                else {
                    return false;
                };
                *hand = Pair {
                    name: hand.name.clone(),
                    plan: hand.plan.clone(),
                    ..pair.clone()
                };
            }
            Self::TakeOut => wanted.out = Some(OTHER.to_owned()),
            Self::PutBack => wanted.out = None,
            Self::LetGo => {
                wanted.out = None;
                wanted.pairs.remove(OTHER);
            }
            Self::Rename => "Called so now".clone_into(&mut hand.name),
            Self::Restore => {
                let Ok(brought) = Basket::read(&backed_up()) else {
                    return false;
                };
                wanted.pairs.extend(brought.pairs);
            }
        }
        wanted == *after
    }
}

/// Whether a pair is as it is when it was just cast on.
fn is_cast_on(pair: &Pair) -> bool {
    !pair.name.is_empty() && pair.name != "Unnamed pair" && pair.events.iter().all(Vec::is_empty)
}

/// What a backup holds: two pairs that are not on the phone.
fn backed_up() -> Map<String, Value> {
    let plan = sock(Recipe::default().needles);
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[2];
    let mut entries = Map::new();
    for (id, rounds) in BROUGHT.into_iter().zip([5, 80]) {
        pair(
            &mut entries,
            id,
            "From the file",
            &plan,
            [&knitted(leg, rounds), &[]],
        );
    }
    entries
}

/// Opens one of the pages that Now opens at rest, by its place in the list.
async fn open_page(phone: &Phone, number: usize) {
    phone.tap(".to-pause").await;
    phone
        .tap(&format!(".entries .entry:nth-of-type({number})"))
        .await;
    phone.find(".pane-head").await;
}

/// Asks for a longer foot, as far as the button that accepts it.
async fn plan_anew(phone: &Phone) {
    open_change(phone).await;
    ask_for_more_rounds(phone, "Foot", 1).await;
}

/// Unfolds what can be done with a pair.
async fn unfold_card(phone: &Phone, name: &str) {
    phone
        .until(
            "the card is there",
            &format!(
                "const card = [...document.querySelectorAll('.card')]
                     .find((card) => card.querySelector('.name').textContent === {name:?});
                 card?.querySelector('.more summary').click();
                 return card !== undefined"
            ),
        )
        .await;
}

/// What a database is said to do that does nothing.
pub(crate) const SILENT: &str = "does not answer";

/// What the second copy says of itself when it is asked past the app.
const SECOND_COPY: &str = "
    const opened = new Promise((done) => {
        const asked = indexedDB.open('evenloop');
        asked.onblocked = () => done('blocked');
        asked.onerror = () => done(String(asked.error));
        asked.onsuccess = () => {
            const all = asked.result.transaction('texts').objectStore('texts').count();
            all.onsuccess = () => done(`opens, ${all.result} texts`);
            all.onerror = () => done(String(all.error));
        };
    });
    const late = new Promise((done) => setTimeout(done, 10_000, 'does not answer'));
    return Promise.race([opened, late])";

/// What becomes of a database that is made, written to and read.
pub(crate) const NEW_DATABASE: &str = "
    const made = new Promise((done) => {
        const asked = indexedDB.open(`new-${Date.now()}`);
        asked.onupgradeneeded = () => asked.result.createObjectStore('one');
        asked.onerror = () => done(String(asked.error));
        asked.onsuccess = () => {
            const one = asked.result.transaction('one', 'readwrite').objectStore('one');
            one.put('text', 'key');
            const read = one.get('key');
            read.onsuccess = () => done('answers');
            read.onerror = () => done(String(read.error));
        };
    });
    const late = new Promise((done) => setTimeout(done, 10_000, 'does not answer'));
    return Promise.race([made, late])";

/// Waits until the second copy has confirmed all that it was told.
///
/// # Errors
/// When it never does, with what it says of itself.
pub(crate) async fn until_whole(phone: &Phone) -> Result<(), String> {
    let begin = Instant::now();
    while phone.ask("return evenloopEcho.whole()").await != Value::Bool(true) {
        if begin.elapsed() > PATIENCE {
            let said = phone.ask_later(SECOND_COPY).await;
            return Err(format!("the second copy is never whole; asked, it {said}"));
        }
        tokio::time::sleep(Duration::from_millis(25)).await;
    }
    Ok(())
}
