//! Browsers of three engines, killed with all their processes at a random instant of every operation: from its
//! touch to six seconds after it, by which time each browser has written everything by itself. What
//! the next start finds is what was there before, or what the operation makes of it; where the second copy had
//! confirmed it, nothing but the latter.
//!
//! A browser whose databases do not answer, not even a page without the app, cannot be killed in an
//! operation. That is tried again and reported in a column of its own; where a database of that page answers and the
//! app's does not, it is wrong.
//!
//! `EVENLOOP_KILLS=300` kills so many, each engine in turn and each of the operations with each engine;
//! `EVENLOOP_SEED=7` chooses the same operations and instants again; `EVENLOOP_ENGINE=Firefox` leaves the kills of
//! the other engines out, `EVENLOOP_OPERATION=Restore` those in other operations.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

mod basket;
mod operations;

use std::collections::BTreeMap;
use std::fmt::{self, Write as _};
use std::rc::Rc;
use std::time::{Duration, Instant, SystemTime};

use evenloop_engine::journal::Digest;
use evenloop_tests::engine::Engine;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::stored;
use serde_json::{Map, Value};
use tokio::task::{LocalSet, spawn_local};
use tokio::time::timeout_at;

use self::basket::Basket;
use self::operations::{HAND, NEW_DATABASE, OPERATIONS, OTHER, Operation, SILENT, until_whole};

const ENGINES: [Engine; 3] = [Engine::Chromium, Engine::Firefox, Engine::WebKit];
/// Longest wait for the copies to be brought together after a start.
const PATIENCE: Duration = Duration::from_secs(10);

/// A kill to come.
#[derive(Debug, Clone, Copy)]
struct Kill {
    operation: Operation,
    /// From the touch.
    after: Duration,
    /// Rounds in the log at hand.
    rounds: u64,
    /// Which one of the run it is.
    nth: usize,
}

impl Kill {
    /// The pairs' ids in the texts of an operation, and those that this kill has on the phone. Nothing that was
    /// counted is ever stored under the id of another pair, so no two kills may share one.
    fn ids(self) -> [(&'static str, String); 2] {
        [HAND, OTHER].map(|id| (id, format!("{id}x{}x", self.nth)))
    }

    /// The texts that lie on the phone before it.
    fn texts(self) -> Map<String, Value> {
        let mut texts = self.operation.texts(self.rounds);
        for (id, own) in self.ids() {
            let (quoted, quoted_own) = (format!("\"{id}\""), format!("\"{own}\""));
            let change = |(key, text): (String, Value)| {
                let key = key.replace(&format!(":{id}:"), &format!(":{own}:"));
                let text = match text {
                    Value::String(text) if text == id => own.clone().into(),
                    Value::String(text) => text.replace(&quoted, &quoted_own).into(),
                    text => text,
                };
                (key, text)
            };
            texts = texts.into_iter().map(change).collect();
        }
        texts
    }

    /// What is stored, under the ids of the operation's texts.
    async fn stored(self, phone: &Phone) -> Map<String, Value> {
        let mut texts = Value::Object(stored(phone).await).to_string();
        for (id, own) in self.ids() {
            texts = texts.replace(&own, id);
        }
        serde_json::from_str(&texts).expect("an id has no letter that JSON writes otherwise")
    }
}

/// So many kills of an operation come at enough instants that some find it done.
const OFTEN: usize = 15;
/// Browsers that are tried for one kill.
const TRIES: u32 = 3;

/// What came of a kill: what the next start found, or nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Outcome {
    /// Nothing of the operation.
    Before,
    /// All of it, as the browser's own storage had it.
    After,
    /// All of it, done at the start from the record of it.
    Finished,
    /// All of it, put back from the second copy.
    PutBack,
    /// The browser's databases did not answer.
    NotTried,
}

/// What is wrong with what was found.
#[derive(Debug)]
struct Wrong {
    engine: Engine,
    kill: Kill,
    why: String,
}

impl fmt::Display for Wrong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Kill {
            operation,
            after,
            rounds,
            nth: _,
        } = self.kill;
        write!(
            f,
            "{:?}, {operation:?} after {rounds} rounds, killed after {} ms: {}",
            self.engine,
            after.as_millis(),
            self.why
        )
    }
}

/// Number `index` of the numbers that a seed stands for.
fn chance(seed: u64, index: usize, what: &str) -> u64 {
    let digest = Digest::of(&format!("{seed} {index} {what}")).to_string();
    u64::from_str_radix(&digest, 16).expect("a digest is a number")
}

/// Kills for one engine. Of all engines together every operation comes once before one comes again.
fn kills(seed: u64, count: usize, engine: usize) -> Vec<Kill> {
    let mut order: Vec<(u64, Operation)> = OPERATIONS
        .into_iter()
        .enumerate()
        .map(|(index, operation)| (chance(seed, index, "order"), operation))
        .collect();
    order.sort_unstable();
    let only = std::env::var("EVENLOOP_OPERATION").ok();
    let mine = (0..count).filter(|index| index % ENGINES.len() == engine);
    let mine = mine.filter(|index| {
        let operation = format!("{:?}", order[index % order.len()].1);
        only.as_ref().is_none_or(|name| *name == operation)
    });
    mine.map(|index| {
        // Sooner instants are more telling: those in the middle of the operation, and of what the browser makes of it.
        let longest =
            [120, 1_200, 6_000][usize::try_from(chance(seed, index, "range") % 3).unwrap_or(0)];
        Kill {
            operation: order[index % order.len()].1,
            after: Duration::from_millis(chance(seed, index, "instant") % longest),
            // with what the log says of itself a chunk is full after 61 rounds
            rounds: [4, 59, 60, 61, 62]
                [usize::try_from(chance(seed, index, "rounds") % 5).unwrap_or(0)],
            nth: index,
        }
    })
    .collect()
}

/// Puts these texts on the phone in place of all others, and waits until the second copy has them. The page has
/// to be opened again after it.
async fn lay(phone: &Phone, texts: Map<String, Value>) -> Result<(), String> {
    let texts = Value::Object(texts);
    phone
        .ask(&format!(
            "for (const key of Object.keys(localStorage)) {{
                 if (!key.startsWith('evenloop:') || key === 'evenloop:number') continue;
                 localStorage.removeItem(key);
                 evenloopEcho.put(key, undefined, false);
             }}
             for (const [key, text] of Object.entries({texts})) {{
                 localStorage.setItem(key, text);
                 evenloopEcho.put(key, text, false);
             }}"
        ))
        .await;
    until_whole(phone).await
}

/// What was seen of an operation until the browser was killed.
#[derive(Default)]
struct Watched {
    /// The basket when it was seen last, where it was another than before.
    basket: Option<Basket>,
    /// Whether the second copy had confirmed that.
    confirmed: bool,
}

/// Watches the page until the instant of the kill.
async fn watch(phone: &Phone, kill: Kill, before: &Basket, until: tokio::time::Instant) -> Watched {
    let mut watched = Watched::default();
    let look = async || {
        let confirmed = phone.ask("return evenloopEcho.whole()").await == Value::Bool(true);
        (confirmed, kill.stored(phone).await)
    };
    while let Ok((confirmed, texts)) = timeout_at(until, look()).await {
        // Halves of an operation are never seen: a page is asked between two of its tasks.
        let basket = Basket::read(&texts).ok();
        if let Some(basket) = basket.filter(|basket| basket != before) {
            // It was there when the second copy had confirmed everything.
            let confirmed = confirmed && watched.basket.as_ref() == Some(&basket);
            watched = Watched {
                basket: Some(basket),
                confirmed,
            };
        }
        tokio::time::sleep(Duration::from_millis(60)).await;
    }
    watched
}

/// Lays out what the operation begins with, and does all of it but the last touch.
async fn ready(phone: &Phone, server: &Server, kill: Kill) -> Result<(), String> {
    let operation = kill.operation;
    lay(phone, kill.texts()).await?;
    phone.open(&server.url(operation.page())).await;
    operation.prepare(phone).await
}

/// Kills the browser in an operation and starts it again; says what the start made of it.
async fn killed(
    phone: Phone,
    server: &Server,
    kill: Kill,
) -> Result<(Option<Phone>, Outcome), String> {
    let Kill {
        operation, after, ..
    } = kill;
    let engine = phone.engine();
    if let Err(why) = ready(&phone, server, kill).await {
        // Past the app: a page without it, and a database that nobody has opened.
        phone.open_file(&server.url("/sw.js")).await;
        let own = phone.ask_later(NEW_DATABASE).await;
        println!("{engine:?}: {why}; of a new database, a page without the app {own}");
        return if own == SILENT {
            Ok((None, Outcome::NotTried))
        } else {
            Err(format!("{why}; a new one {own}"))
        };
    }
    let before = Basket::read(&kill.stored(&phone).await).expect("what was laid out is whole");

    let instant = tokio::time::Instant::now() + after;
    let done = timeout_at(instant, operation.act(&phone)).await;
    let watched = match done {
        Ok(()) => watch(&phone, kill, &before, instant).await,
        Err(_) => Watched::default(),
    };
    let phone = Phone::that_kept(engine, phone.kill()).await;

    // What the browser's own storage holds, looked at past the app.
    phone.open_file(&server.url("/sw.js")).await;
    let own = kill.stored(&phone).await;
    phone.open(&server.url("/")).await;
    let begin = Instant::now();
    let outcome = loop {
        let there = Basket::read(&kill.stored(&phone).await);
        let outcome = judged(operation, &before, &watched, there, &own);
        // A second copy that takes its time puts things back later.
        if outcome.is_ok() || begin.elapsed() > PATIENCE {
            break outcome;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    };
    let (outcome, basket) = outcome?;
    shows(&phone, &basket).await?;
    Ok((Some(phone), outcome))
}

/// Holds what is there against what was there before the operation and what it makes of it.
fn judged(
    operation: Operation,
    before: &Basket,
    watched: &Watched,
    there: Result<Basket, String>,
    own: &Map<String, Value>,
) -> Result<(Outcome, Basket), String> {
    let there = there?;
    if let Some(seen) = &watched.basket
        && !operation.makes(before, seen)
    {
        return Err(format!(
            "the app itself made something else of it: {}",
            before.difference(seen)
        ));
    }
    if there == *before {
        return if watched.confirmed {
            Err("what the second copy had confirmed is gone".to_owned())
        } else {
            Ok((Outcome::Before, there))
        };
    }
    let same = watched.basket.as_ref().is_none_or(|seen| *seen == there);
    if !same || !operation.makes(before, &there) {
        return Err(format!("torn: {}", before.difference(&there)));
    }
    let outcome = if own.contains_key("evenloop:operation") {
        Outcome::Finished
    } else if Basket::read(own).as_ref() == Ok(&there) {
        Outcome::After
    } else {
        Outcome::PutBack
    };
    Ok((outcome, there))
}

/// Waits until the basket shows what lies in it.
async fn shows(phone: &Phone, basket: &Basket) -> Result<(), String> {
    let begin = Instant::now();
    loop {
        let names = phone
            .ask("return [...document.querySelectorAll('.card .name')].map((one) => one.textContent).sort()")
            .await;
        let pairs = basket
            .pairs
            .iter()
            .filter(|(id, _)| basket.out.as_ref() != Some(id));
        let mut wanted: Vec<&str> = pairs.map(|(_, pair)| pair.name.as_str()).collect();
        wanted.sort_unstable();
        if names == Value::from(wanted.clone()) {
            return Ok(());
        }
        if begin.elapsed() > PATIENCE {
            return Err(format!("the basket shows {names}, not {wanted:?}"));
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
}

type Found = (Engine, Kill, Result<Outcome, String>);

/// Kills one engine's browser again and again. After something was wrong it goes on with a new one.
async fn with(engine: Engine, server: Rc<Server>, kills: Vec<Kill>) -> Vec<Found> {
    let mut used = None;
    let mut found = Vec::new();
    for kill in kills {
        let begin = Instant::now();
        let mut outcome = Ok(Outcome::NotTried);
        for _ in 0..TRIES {
            let (phone, on) = (used.take(), Rc::clone(&server));
            // For itself, so that one that stops is told like one that went wrong, and the others go on.
            let tried = spawn_local(async move {
                let phone = match phone {
                    Some(phone) => phone,
                    None => new_phone(engine, &on).await,
                };
                killed(phone, &on, kill).await
            });
            let tried = tried.await.unwrap_or_else(|panic| Err(panic.to_string()));
            outcome = tried.map(|(phone, outcome)| {
                used = phone;
                outcome
            });
            if outcome != Ok(Outcome::NotTried) {
                break;
            }
        }
        let took = begin.elapsed().as_secs_f32();
        println!("{engine:?} {kill:?}: {outcome:?} ({took:.1} s)");
        found.push((engine, kill, outcome));
    }
    found
}

async fn new_phone(engine: Engine, server: &Server) -> Phone {
    let phone = Phone::that_keeps(engine).await;
    phone.open(&server.url("/")).await;
    phone
}

/// How often each outcome came, by engine and operation.
fn table(found: &[Found]) -> String {
    let mut counts: BTreeMap<(Operation, usize), [usize; 6]> = BTreeMap::new();
    for (engine, kill, outcome) in found {
        let column = ENGINES.iter().position(|one| one == engine).unwrap_or(0);
        let outcome = match outcome {
            Ok(outcome) => *outcome as usize,
            Err(_) => 5,
        };
        counts.entry((kill.operation, column)).or_default()[outcome] += 1;
    }
    let mut told =
        "before / after / finished from the record / put back from the second copy / not tried / wrong"
            .to_owned();
    for operation in OPERATIONS {
        // A text has room for whatever is written to it.
        let _ = write!(told, "\n{:14}", format!("{operation:?}"));
        for (column, engine) in ENGINES.iter().enumerate() {
            let counts = counts
                .get(&(operation, column))
                .copied()
                .unwrap_or_default();
            let counts = counts.map(|count| count.to_string()).join(" / ");
            let _ = write!(told, "  {engine:?} {counts}");
        }
    }
    told
}

fn given(name: &str) -> Option<u64> {
    std::env::var(name)
        .ok()
        .map(|text| text.parse().expect("a number"))
}

#[tokio::test]
async fn an_operation_that_is_killed_is_done_whole_or_not_at_all() {
    let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
    let seed = given("EVENLOOP_SEED").unwrap_or_else(|| now.map_or(1, |now| now.as_secs()));
    let count = given("EVENLOOP_KILLS").unwrap_or(12);
    println!("{count} kills, seed {seed}");
    let count = usize::try_from(count).expect("a number of kills");
    let begin = Instant::now();
    let server = Rc::new(Server::start());
    let only = std::env::var("EVENLOOP_ENGINE").ok();
    let [one, two, three] = [0, 1, 2].map(|at| {
        let wanted = only
            .as_ref()
            .is_none_or(|name| *name == format!("{:?}", ENGINES[at]));
        let kills = if wanted {
            kills(seed, count, at)
        } else {
            Vec::new()
        };
        with(ENGINES[at], Rc::clone(&server), kills)
    });
    let side_by_side = async { tokio::join!(one, two, three) };
    let (one, two, three) = LocalSet::new().run_until(side_by_side).await;
    let found = [one, two, three].concat();
    println!(
        "{}\nin {:.0} s",
        table(&found),
        begin.elapsed().as_secs_f32()
    );
    let not_tried = found
        .iter()
        .filter(|(.., outcome)| *outcome == Ok(Outcome::NotTried))
        .count();
    assert!(
        4 * not_tried <= count,
        "seed {seed}: in {not_tried} of {count} no database answered"
    );
    // An operation that is never done would never be torn either.
    for operation in OPERATIONS {
        let came: Vec<_> = found
            .iter()
            .filter(|(_, kill, _)| kill.operation == operation)
            .collect();
        let is_before = |(.., outcome): &&Found| *outcome == Ok(Outcome::Before);
        assert!(
            came.len() < OFTEN || !came.iter().all(is_before),
            "seed {seed}: {operation:?} was not done once in {} kills",
            came.len()
        );
    }
    let wrong: Vec<String> = found
        .into_iter()
        .filter_map(|(engine, kill, outcome)| {
            let why = outcome.err()?;
            Some(Wrong { engine, kill, why }.to_string())
        })
        .collect();
    assert!(wrong.is_empty(), "seed {seed}\n{}", wrong.join("\n"));
}
