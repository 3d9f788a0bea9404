//! Many made-up socks, three opinions on each: closed forms, naive knitter, engine.
//! `EVENLOOP_SWEEP` sets how many (run it in release for many).

use std::collections::BTreeMap;
use std::thread;
use std::time::Instant;

use evenloop_engine::recipe::Recipe;
use evenloop_engine::wire::write_recipe;
use evenloop_tests::model::compare::{Verdict, three_ways};
use evenloop_tests::model::recipes::seeded;

/// Enough to meet every edge, flap, turn, toe and method many times, and done in some seconds.
const DEFAULT: usize = 500;

/// Disagreements told at once.
const MOST_TOLD: usize = 12;

/// What came of many recipes.
#[derive(Default)]
struct Tally {
    knitted: usize,
    moves: usize,
    stitches: usize,
    refused: BTreeMap<String, usize>,
    wrong: Vec<String>,
}

impl Tally {
    fn of<'a>(recipes: impl Iterator<Item = &'a Recipe>) -> Self {
        let mut tally = Self::default();
        for recipe in recipes {
            match three_ways(recipe) {
                Ok(Verdict::Knitted { moves, stitches }) => {
                    tally.knitted += 1;
                    tally.moves += moves;
                    tally.stitches += stitches;
                }
                Ok(Verdict::Refused(fields)) => {
                    *tally.refused.entry(fields.join(", ")).or_default() += 1;
                }
                Err(why) => tally
                    .wrong
                    .push(format!("{}\n  {why}", write_recipe(recipe))),
            }
        }
        tally
    }

    fn with(mut self, other: Self) -> Self {
        self.knitted += other.knitted;
        self.moves += other.moves;
        self.stitches += other.stitches;
        for (fields, times) in other.refused {
            *self.refused.entry(fields).or_default() += times;
        }
        self.wrong.extend(other.wrong);
        self
    }
}

#[test]
fn every_sock_of_the_sweep_is_planned_right_or_refused_with_a_field() {
    let asked = std::env::var("EVENLOOP_SWEEP").ok();
    let count = asked.map_or(DEFAULT, |n| n.parse().expect("EVENLOOP_SWEEP is a number"));
    let begun = Instant::now();
    let recipes: Vec<Recipe> = seeded(count).collect();
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let tally = thread::scope(|scope| {
        let workers: Vec<_> = (0..threads)
            .map(|i| {
                let mine = recipes.iter().skip(i).step_by(threads);
                scope.spawn(move || Tally::of(mine))
            })
            .collect();
        workers
            .into_iter()
            .map(|worker| worker.join().expect("a worker panicked"))
            .fold(Tally::default(), Tally::with)
    });
    let refused: usize = tally.refused.values().sum();
    println!(
        "{count} recipes in {:.1?} on {threads} threads: {} knitted ({} moves, {} stitches made \
         one by one), {refused} refused {:?}, {} disagreements",
        begun.elapsed(),
        tally.knitted,
        tally.moves,
        tally.stitches,
        tally.refused,
        tally.wrong.len()
    );
    assert!(
        tally.wrong.is_empty(),
        "{} of {count} disagree, such as:\n{}",
        tally.wrong.len(),
        tally.wrong[..tally.wrong.len().min(MOST_TOLD)].join("\n")
    );
    assert_eq!(recipes.len(), count, "some recipes could not be made up");
    assert_eq!(tally.knitted + refused, count);
    assert!(
        tally.knitted * 2 > count,
        "too few of the made-up socks can be knitted to mean much"
    );
}
