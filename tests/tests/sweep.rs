//! Many made-up socks, three opinions on each: closed forms, naive knitter, engine.
//! `EVENLOOP_SWEEP` sets how many (run it in release for many), `EVENLOOP_SEED` which.

use std::collections::BTreeMap;
use std::thread;
use std::time::Instant;

use evenloop_engine::recipe::{
    BindOff, CastOn, Direction, Edge, FlapTexture, Heel, HeelOpening, HeelTurn, Method, Motif,
    MotifPlacement, Recipe, Toe, ToeCastOn,
};
use evenloop_engine::wire::write_recipe;
use evenloop_tests::model::closed::tubular_edge;
use evenloop_tests::model::compare::{Verdict, three_ways};
use evenloop_tests::model::recipes::{asked_for, numbered};

/// Enough to meet every construction some times, and done in some seconds.
const DEFAULT: usize = 1_000;

/// How often each construction has to be met among every thousand.
const LEAST: usize = 10;

/// Disagreements told at once.
const MOST_TOLD: usize = 12;

/// What came of many recipes.
#[derive(Default)]
struct Tally {
    knitted: usize,
    moves: usize,
    stitches: usize,
    refused: BTreeMap<String, usize>,
    /// How often each construction was knitted.
    met: BTreeMap<String, usize>,
    wrong: Vec<String>,
}

impl Tally {
    fn of(recipes: impl Iterator<Item = Recipe>) -> Self {
        let mut tally = Self::default();
        for recipe in recipes {
            match three_ways(&recipe) {
                Ok(Verdict::Knitted { moves, stitches }) => {
                    tally.knitted += 1;
                    tally.moves += moves;
                    tally.stitches += stitches;
                    for construction in constructions(&recipe) {
                        *tally.met.entry(construction).or_default() += 1;
                    }
                }
                Ok(Verdict::Refused(fields)) => {
                    *tally.refused.entry(fields.join(", ")).or_default() += 1;
                }
                Err(why) => tally
                    .wrong
                    .push(format!("{}\n  {why}", write_recipe(&recipe))),
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
        for (construction, times) in other.met {
            *self.met.entry(construction).or_default() += times;
        }
        self.wrong.extend(other.wrong);
        self
    }
}

/// The needles, a short circular of any length as one.
fn needles_of(needles: Method) -> String {
    match needles {
        Method::ShortCircular { .. } => "ShortCircular".to_owned(),
        other => format!("{other:?}"),
    }
}

/// What a recipe is made of, by name.
fn constructions(recipe: &Recipe) -> Vec<String> {
    let mut all = vec![
        format!("{:?}", recipe.direction),
        format!("{:?}", recipe.cuff.edge),
        format!("{:?} {:?}", recipe.direction, recipe.toe),
        needles_of(recipe.needles),
    ];
    match (recipe.direction, recipe.cuff.edge) {
        (Direction::CuffDown, _) => all.push(format!("{:?} cast on", recipe.cast_on)),
        (Direction::ToeUp, Edge::Hem { .. }) => all.push("hem sewn down".into()),
        (Direction::ToeUp, _) => all.push(format!("{:?} bound off", recipe.bind_off)),
    }
    if recipe.direction == Direction::ToeUp {
        all.push(format!("{:?} toe", recipe.toe_cast_on));
    }
    if let Some(crossed) = tubular_edge(recipe) {
        all.push(format!("{:?} tubular, crossed {crossed}", recipe.direction));
    }
    let heel = match recipe.heel {
        Heel::FlapAndGusset {
            texture,
            turn,
            rows,
            height,
            corners,
        } => {
            let given = match (rows, height) {
                (None, None) => "usual flap",
                (Some(_), _) => "flap by rows",
                (None, Some(_)) => "flap by height",
            };
            all.extend([format!("{texture:?}"), given.into()]);
            if recipe.direction == Direction::CuffDown {
                all.push(format!("{turn:?} turn, corners {corners}"));
            }
            format!("{:?} flap", recipe.direction)
        }
        Heel::ShortRow { .. } => format!("{:?} short-row heel", recipe.direction),
        Heel::Afterthought { opening } => {
            format!("{:?} {opening:?} heel", recipe.direction)
        }
    };
    all.push(heel);
    let fit = recipe.fit;
    let chosen = [
        (fit.high_instep, "high instep"),
        (fit.wide_toes, "wide toes"),
        (fit.narrow_heel, "narrow heel"),
        (recipe.swatch.unwashed.is_some(), "unwashed swatch"),
        (recipe.yarns.is_some(), "stripes"),
        (fit.tender_legs, "tender legs"),
        (recipe.swatch.flap.is_some(), "measured flap"),
    ];
    all.extend(chosen.iter().filter(|c| c.0).map(|c| c.1.into()));
    if !recipe.calf.is_empty() {
        all.push(format!("{:?} calf", recipe.direction));
    }
    if let Some(motif) = &recipe.motif {
        all.push(format!("{:?} motif", motif.place));
        let front = motif.place == MotifPlacement::Front;
        let measured = recipe.swatch.pattern_rounds.is_some();
        let beside = [
            (front && motif.balance > 0, "balancing stitches".to_owned()),
            (front && motif.edge > 0, "edge stitches".into()),
            (recipe.swatch.pattern.is_some(), "pattern swatch".into()),
            (measured, format!("rounds by {:?}", motif.rounds_by)),
        ];
        all.extend(beside.into_iter().filter(|c| c.0).map(|c| c.1));
        all.extend(signs(motif));
    }
    all
}

/// Kinds of signs in a motif's rows as they are written.
fn signs(motif: &Motif) -> Vec<String> {
    let written = serde_json::to_string(motif).unwrap_or_default();
    [
        "k2tog", "ssk", "yo", "kt", " s1", "p", "cr", "crp", "cl", "clp",
    ]
    .into_iter()
    .filter(|sign| written.contains(sign))
    .map(|sign| format!("sign {}", sign.trim()))
    .collect()
}

/// The names of all that has to be met.
fn every_construction() -> Vec<String> {
    let mut all = Vec::new();
    for direction in [Direction::CuffDown, Direction::ToeUp] {
        all.push(format!("{direction:?}"));
        let toes = Toe::ALL.into_iter();
        all.extend(
            toes.filter(|toe| direction == Direction::CuffDown || *toe != Toe::Round)
                .map(|toe| format!("{direction:?} {toe:?}")),
        );
        for part in ["flap", "short-row heel", "calf"] {
            all.push(format!("{direction:?} {part}"));
        }
        all.extend(HeelOpening::ALL.map(|opening| format!("{direction:?} {opening:?} heel")));
        for crossed in [false, true] {
            all.push(format!("{direction:?} tubular, crossed {crossed}"));
        }
    }
    all.extend(Edge::ALL.map(|edge| format!("{edge:?}")));
    all.extend(Method::ALL.map(needles_of));
    all.push("hem sewn down".into());
    all.extend(CastOn::ALL.map(|cast_on| format!("{cast_on:?} cast on")));
    all.extend(BindOff::ALL.map(|bind_off| format!("{bind_off:?} bound off")));
    all.extend(ToeCastOn::ALL.map(|cast_on| format!("{cast_on:?} toe")));
    all.extend(FlapTexture::ALL.map(|texture| format!("{texture:?}")));
    for turn in HeelTurn::ALL {
        all.extend([false, true].map(|corners| format!("{turn:?} turn, corners {corners}")));
    }
    all.extend(
        [MotifPlacement::AllRound, MotifPlacement::Front].map(|place| format!("{place:?} motif")),
    );
    all.extend(
        [
            "usual flap",
            "flap by rows",
            "flap by height",
            "high instep",
            "wide toes",
            "narrow heel",
            "unwashed swatch",
            "stripes",
            "tender legs",
            "measured flap",
            "balancing stitches",
            "edge stitches",
            "pattern swatch",
            "rounds by Plain",
            "rounds by Between",
            "rounds by Pattern",
        ]
        .map(str::to_owned),
    );
    all.extend(
        [
            "k2tog", "ssk", "yo", "kt", "s1", "p", "cr", "crp", "cl", "clp",
        ]
        .map(|sign| format!("sign {sign}")),
    );
    all
}

#[test]
fn every_sock_of_the_sweep_is_planned_right_or_refused_with_a_field() {
    let count = asked_for("EVENLOOP_SWEEP").unwrap_or(DEFAULT);
    let begun = Instant::now();
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let tally = thread::scope(|scope| {
        let workers: Vec<_> = (0..threads)
            .map(|i| scope.spawn(move || Tally::of((i..count).step_by(threads).map(numbered))))
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
    assert_eq!(tally.knitted + refused, count);
    assert!(
        tally.knitted * 2 > count,
        "too few of the made-up socks can be knitted to mean much"
    );
    let rarest = tally.met.iter().min_by_key(|(_, times)| **times);
    println!("rarest of all that was knitted: {rarest:?}");
    let least = LEAST * count / DEFAULT;
    for construction in every_construction() {
        let times = tally.met.get(&construction).copied().unwrap_or(0);
        assert!(
            times >= least,
            "{construction} was knitted only {times} times"
        );
    }
}
