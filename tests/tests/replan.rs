//! Many socks replanned in the middle of their knitting: other needles, another seating, a round
//! gauge measured in the sock, other lengths, another heel or toe. `EVENLOOP_SWEEP` sets how many.

use std::collections::BTreeMap;
use std::thread;

use evenloop_engine::recipe::Recipe;
use evenloop_engine::wire::{plan_document, write_recipe};
use evenloop_tests::model::compare::Verdict;
use evenloop_tests::model::page;
use evenloop_tests::model::recipes::{numbered, wish_instead};
use evenloop_tests::model::replanned::after;

/// Some seconds' worth.
const DEFAULT: usize = 1_000;

/// Disagreements told at once.
const MOST_TOLD: usize = 12;

#[derive(Default)]
struct Tally {
    knitted: usize,
    moves: usize,
    refused: BTreeMap<String, usize>,
    wrong: Vec<String>,
}

/// The steps of a sock, if there is one.
fn steps(recipe: &Recipe) -> Option<usize> {
    let document = plan_document(&write_recipe(recipe)).ok()?;
    let page = page::read(&document).ok()?;
    Some(page.sections.iter().map(|s| s.steps.len()).sum())
}

impl Tally {
    fn look(&mut self, number: usize) {
        let recipe = numbered(number);
        let Some(all) = steps(&recipe) else {
            return;
        };
        let wish = wish_instead(number, &recipe);
        // Spread over the whole sock.
        let done = number * 7919 % (all + 1);
        match after(&recipe, done, &wish) {
            Ok(Verdict::Knitted { moves, .. }) => {
                self.knitted += 1;
                self.moves += moves;
            }
            Ok(Verdict::Refused(fields)) => {
                *self.refused.entry(fields.join(", ")).or_default() += 1;
            }
            Err(why) => self.wrong.push(format!(
                "{}\nafter {done} of {all}:\n{}\n  {why}",
                write_recipe(&recipe),
                write_recipe(&wish)
            )),
        }
    }

    fn with(mut self, other: Self) -> Self {
        self.knitted += other.knitted;
        self.moves += other.moves;
        for (fields, times) in other.refused {
            *self.refused.entry(fields).or_default() += times;
        }
        self.wrong.extend(other.wrong);
        self
    }
}

#[test]
fn what_is_knitted_stays_and_the_rest_is_what_is_wanted() {
    let asked = std::env::var("EVENLOOP_SWEEP").ok();
    let count = asked.map_or(DEFAULT, |n| n.parse().expect("EVENLOOP_SWEEP is a number"));
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let tally = thread::scope(|scope| {
        let workers: Vec<_> = (0..threads)
            .map(|i| {
                scope.spawn(move || {
                    let mut tally = Tally::default();
                    (i..count).step_by(threads).for_each(|n| tally.look(n));
                    tally
                })
            })
            .collect();
        workers
            .into_iter()
            .map(|worker| worker.join().expect("a worker panicked"))
            .fold(Tally::default(), Tally::with)
    });
    println!(
        "{} knitted ({} moves), refused {:?}, {} disagreements",
        tally.knitted,
        tally.moves,
        tally.refused,
        tally.wrong.len()
    );
    assert!(
        tally.wrong.is_empty(),
        "{} disagree, such as:\n{}",
        tally.wrong.len(),
        tally.wrong[..tally.wrong.len().min(MOST_TOLD)].join("\n")
    );
    assert!(tally.knitted * 3 > count, "too few to mean much");
}
